"""Islands. Figures: island practice (rules of thumb) and derivations from Kitchen guidelines 9, 11, 17 and 24."""

from __future__ import annotations

from typing import Any

import pytest

from building import findings, free, one, set_in, thing
from enfilade.project.project import Project
from lines import inches_of, kitchen, line

IN = 25.4


def island(width: float, depth: float = 36, *more: dict[str, Any], **record: Any) -> Project:
    return kitchen(thing("island", "island", width, depth, free(180, 120), **record), list(more))


def asked(project: Project, rule: str, containing: str = "") -> float:
    found = one(project, rule, containing=containing)
    assert found.required is not None
    assert isinstance(found.required.value, float | int)
    return float(found.required.value)


def test_smallest_island() -> None:
    # Rule of thumb: 48 by 24 in.
    good = island(24, 48)  # the longer side is the length, whichever way it stands
    assert [one(good, "N4", containing=p).verdict for p in (":length", ":width")] == ["met", "met"]
    small = island(47, 23)
    assert [one(small, "N4", containing=p).verdict for p in (":length", ":width")] == ["falls short"] * 2
    assert {f.because for f in findings(kitchen(), "N4")} == {"does not apply"}


@pytest.mark.parametrize(
    ("width", "count", "verdict"),
    [(72, 3, "met"), (96, 4, "met"), (95, 4, "falls short"), (120, 5, "met")],
)
def test_seats_along_an_edge(width: float, count: int, verdict: str) -> None:
    # 3 seats on 72 in, 4 on 96, 5 on 120: 24 in each.
    found = one(island(width, seating=[{"id": "row", "count": count}]), "N1")
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.value == count


@pytest.mark.parametrize(("overhang", "verdict"), [(14, "falls short"), (15, "met"), (18, "met"), (19, "falls short")])
def test_overhang_at_36(overhang: float, verdict: str) -> None:
    # Rule of thumb: 15 to 18 in at 36 in high.
    found = one(island(72, seating=[{"id": "row", "count": 2}], overhang={"back_mm": overhang * IN}), "N3")
    assert found.verdict == verdict


def test_overhang_at_another_height() -> None:
    project = island(72, seating=[{"id": "row", "count": 2}], top=42)
    assert one(project, "N3").because == "does not apply"


def cooktop(setback: float = 3, offset: float = 12, host: str = "island") -> dict[str, Any]:
    return thing("cooktop", "fire", 30, 21, set_in(host, offset, setback))


def sink(offset: float = 24, width: float = 33) -> dict[str, Any]:
    return thing("sink", "sink", width, 20, set_in("island", offset))


def test_island_with_cooking() -> None:
    # 12 + 30 + 15 = 57 in long; 21 + 9 = 30 in and the setback deep.
    project = island(57, 33, cooktop())
    assert asked(project, "N7", ":length") == pytest.approx(57)
    assert one(project, "N7", containing=":length").verdict == "met"
    assert one(island(56, 33, cooktop()), "N7", containing=":length").verdict == "falls short"
    assert asked(project, "N7", ":depth") == pytest.approx(33)
    assert one(project, "N7", containing=":depth").verdict == "met"
    assert one(island(57, 32, cooktop()), "N7", containing=":depth").verdict == "falls short"
    assert one(project, "N8").because == "does not apply"
    assert one(project, "N9").because == "does not apply"


def test_island_with_the_only_sink() -> None:
    # 24 + 33 + 18 = 75 in.
    project = island(75, 36, sink())
    assert (asked(project, "N8"), one(project, "N8").verdict) == (pytest.approx(75), "met")
    assert one(island(74, 36, sink()), "N8").verdict == "falls short"
    # With another sink in the kitchen it is not the only one.
    second = line(("counter", "", 30), ("sink", "other", 30))
    both = kitchen(thing("island", "island", 74, 36, free(180, 120)), sink(), second)
    assert one(both, "N8").because == "does not apply"


def test_island_with_both() -> None:
    # The least over all orders: 24 + 33 + 30 + 30 + 12 = 129 in (landings 18 and 12 or 15 between share 30).
    project = island(129, 36, sink(24), cooktop(offset=87))
    assert (asked(project, "N9"), one(project, "N9").verdict) == (pytest.approx(129), "met")
    assert one(island(128, 36, sink(24), cooktop(offset=86)), "N9").verdict == "falls short"
    assert one(project, "N7", containing=":length").because == "does not apply"


def two_rows(top: float, knees: float) -> Project:
    rows = [{"id": "a", "side": "front", "count": 2}, {"id": "b", "side": "back", "count": 2}]
    overhang = {"front_mm": knees / 2 * IN, "back_mm": knees / 2 * IN}
    return island(72, 60, seating=rows, overhang=overhang, top=top)


@pytest.mark.parametrize(("top", "needed"), [(30, 36), (36, 30), (42, 24)])
def test_two_rows_of_seats(top: float, needed: float) -> None:
    # 18 + 18 in at 30 in high, 15 + 15 at 36, 12 + 12 at 42.
    good, short = one(two_rows(top, needed), "N10"), one(two_rows(top, needed - 1), "N10")
    assert (inches_of(good), good.verdict, short.verdict) == (pytest.approx(needed), "met", "falls short")


def test_rows_that_do_not_face() -> None:
    rows = [{"id": "a", "side": "left", "count": 1}, {"id": "b", "side": "back", "count": 2}]
    assert {f.because for f in findings(island(72, 60, seating=rows), "N10")} == {"does not apply"}
    assert {f.because for f in findings(kitchen(), "N1")} == {"does not apply"}
