"""Behind seated people: Kitchen guideline 8, its access part, and practice at tables."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import door, findings, free, house, one, room, thing
from enfilade.project.project import Project


def seated(behind: float, *, use: str = "kitchen", kind: str = "table", more: tuple[dict[str, Any], ...] = (),
           doors: tuple[dict[str, Any], ...] = (), **row: Any) -> Project:  # fmt: skip
    """People at the back (north) side of a surface 60 x 36 in, `behind` in from the north wall."""
    place = free(120, 240 - behind - 18)
    surface = thing(kind, "top", 60, 36, place, seating=[{"id": "row", "side": "back", "count": 2, **row}])
    return house([surface, *more], spaces=[room(240, 240, use=use)], openings=doors)


# Guideline 8: 32 in with no traffic, 36 to edge past, 44 to walk past.
@pytest.mark.parametrize(
    ("passing", "behind", "verdict"),
    [
        ("none", 32, "met"), ("none", 31, "falls short"),
        ("edge past", 36, "met"), ("edge past", 35, "falls short"),
        ("walk past", 44, "met"), ("walk past", 43, "falls short"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("kind", ["table", "island"])
def test_behind_a_seated_diner(passing: str, behind: float, verdict: str, kind: str) -> None:
    found = one(seated(behind, kind=kind, passing=passing), "K8")
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(behind)
    assert passing.replace(" ", "-").replace("none", "no-traffic") in found.id


def test_who_passes_is_read_off_the_walks() -> None:
    # Doors in the east and west walls, close to the north wall: the walk between them leads behind the seats.
    north = (door("east", "kitchen-east", 2), door("west", "kitchen-west", 202))
    found = one(seated(44, doors=north), "K8")
    assert "walk-past" in found.id
    assert "leads behind" in found.working[0]
    south = (door("east", "kitchen-east", 202), door("west", "kitchen-west", 2))
    assert "no-traffic" in one(seated(44, doors=south), "K8").id


def test_the_chairs_themselves_are_not_in_the_way_and_a_bench_is_sat_on() -> None:
    chair = thing("seat", "chair", 18, 18, free(120, 210), what="chair", at="top")
    assert one(seated(40, more=(chair,)), "K8").verdict == "met"
    bench = thing("seat", "bench", 60, 18, free(120, 209), what="bench", at="top", top=18)
    assert one(seated(40, more=(bench,)), "K8").because == "does not apply"


# Access part: 60 in where a wheelchair passes; 36 in behind a wheelchair user with no traffic.
@pytest.mark.parametrize(("behind", "verdict"), [(60, "met"), (59, "falls short")])
def test_a_wheelchair_passes(behind: float, verdict: str) -> None:
    project = seated(behind, passing="wheelchair")
    assert one(project, "K8a", yardstick="us-access", containing="wheelchair-past").verdict == verdict
    assert one(project, "K8a", yardstick="us-access", containing="no-traffic").because == "does not apply"


@pytest.mark.parametrize(("behind", "verdict"), [(36, "met"), (35, "falls short")])
def test_behind_a_wheelchair_user(behind: float, verdict: str) -> None:
    project = seated(behind, passing="none", wheelchair=True)
    assert one(project, "K8a", yardstick="us-access", containing="no-traffic").verdict == verdict


# Practice today at tables: 36 in to edge past, 44 in to walk past (recalled).
@pytest.mark.parametrize(
    ("passing", "behind", "verdict"),
    [
        ("edge past", 36, "met"),
        ("edge past", 35, "falls short"),
        ("walk past", 44, "met"),
        ("walk past", 43, "falls short"),
    ],
)
def test_tables_of_other_rooms(passing: str, behind: float, verdict: str) -> None:
    project = seated(behind, use="dining", passing=passing)
    assert one(project, "P3").verdict == verdict
    assert findings(project, "K8") == []


def test_a_table_whose_seats_are_not_recorded() -> None:
    table = thing("table", "table", 60, 36, free(70, 70))
    assert one(house([table]), "K8").needs == ("table.seating",)
    dining = house([table], spaces=[room(240, 240, use="dining", id="kitchen")])
    assert one(dining, "P3").needs == ("table.seating",)


def test_a_kitchen_without_seats() -> None:
    assert {f.because for f in findings(house(), "K8")} == {"does not apply"}


@settings(max_examples=15, deadline=None)
@given(st.floats(20, 70), st.floats(0.5, 20))
def test_more_room_never_falls_short_where_less_is_met(behind: float, more: float) -> None:
    tight, roomy = one(seated(behind, passing="none"), "K8"), one(seated(behind + more, passing="none"), "K8")
    assert not (tight.verdict == "met" and roomy.verdict == "falls short")
