"""Places to sit. Figures: Kitchen guideline 9 with its access part; comfort rows are common practice, no document."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import findings, free, house, one, room, thing
from enfilade.project.project import Project
from lines import inches_of, kitchen

IN = 25.4


def seated(
    width: float = 72, count: int = 3, *, top: float = 36, overhang: float = 15, kind: str = "island",
    surface: dict[str, Any] | None = None, **row: Any,
) -> Project:  # fmt: skip
    record: dict[str, Any] = {"id": "row", "count": count, **row}
    overhangs = {"back_mm": overhang * IN} if overhang else {}
    return kitchen(
        thing(kind, "top", width, 42, free(180, 120), top=top, seating=[record], overhang=overhangs, **(surface or {}))
    )


@pytest.mark.parametrize(
    ("width", "legs", "verdict"),
    [(72, 0, "met"), (71, 0, "falls short"), (75, 3, "met"), (74, 3, "falls short")],
)
def test_width(width: float, legs: float, verdict: str) -> None:
    # Guideline 9: 3 seats x 24 in = 72 in; legs and waterfall ends are deducted (common practice).
    found = one(seated(width, legs_mm=legs * IN), "K9", containing=":seat-width")
    assert (inches_of(found), found.verdict) == (pytest.approx((width - legs) / 3), verdict)


def test_recorded_length() -> None:
    assert inches_of(one(seated(120, 2, length_mm=50 * IN), "K9", containing=":seat-width")) == pytest.approx(25)
    assert inches_of(one(seated(120, 2, from_left_mm=60 * IN), "K9", containing=":seat-width")) == pytest.approx(30)


@pytest.mark.parametrize(("top", "asked"), [(30, 18), (36, 15), (42, 12)])
def test_knee_depth(top: float, asked: float) -> None:
    # Guideline 9: 18 in at 30 in high, 15 at 36, 12 at 42.
    good = one(seated(top=top, overhang=asked), "K9", containing=f":{top}-in-high")
    short = one(seated(top=top, overhang=asked - 1), "K9", containing=f":{top}-in-high")
    assert (inches_of(good), good.verdict, short.verdict) == (pytest.approx(asked), "met", "falls short")


def test_height_that_is_not_printed() -> None:
    assert one(seated(top=50), "K9", containing="-in-high").because == "source silent"
    near = one(seated(top=37.5), "K9", containing="-in-high")  # read as 36 in
    assert near.verdict == "met"
    assert any("not printed" in text for text in near.working)


def test_recorded_knee_depth_comes_first() -> None:
    assert inches_of(one(seated(knee_depth_mm=10 * IN), "K9", containing="-in-high")) == pytest.approx(10)
    assert inches_of(one(seated(knee_depth_mm="none"), "K9", containing="-in-high")) == 0


def test_table_says_nothing_by_its_overhang() -> None:
    found = one(seated(kind="table", top=30, overhang=0), "K9", containing="-in-high")
    assert (found.because, found.needs) == ("missing fact", ("top.seating.row.knee_depth_mm",))


def test_round_table() -> None:
    # A circle of 48 in: a quarter of its edge is 48 pi / 4 = 37.70 in.
    table = thing("table", "table", 48, 48, free(180, 120), round=True, seating=[{"id": "row", "count": 1}])
    assert inches_of(one(kitchen(table), "K9", containing=":seat-width")) == pytest.approx(37.70, abs=0.01)


def test_no_seats() -> None:
    project = kitchen()
    for rule in ("K9", "P1", "P2"):
        assert {f.because for f in findings(project, rule)} == {"does not apply"}, rule


def test_comfort() -> None:
    # Common practice: 27 in, with arms 30 in.
    assert one(seated(81), "P1").verdict == "met"
    assert one(seated(78), "P1").verdict == "falls short"
    assert one(seated(81), "P2").because == "does not apply"
    assert one(seated(90, arms=True), "P2").verdict == "met"
    assert one(seated(84, arms=True), "P2").verdict == "falls short"
    assert one(seated(90, arms=True), "P1").because == "does not apply"


def test_dining_table_in_its_own_room() -> None:
    table = thing("table", "table", 72, 40, free(80, 80), space="dining", seating=[{"id": "row", "count": 3}])
    project = house([table], spaces=[room(160, 160, id="dining", use="dining")])
    assert one(project, "K9", containing=":seat-width").space == "dining"


def wheelchair(part: str, **more: Any) -> Any:
    surface = more.pop("surface", {"knee_space": {"width_mm": 36 * IN, "height_mm": 27 * IN, "depth_mm": 19 * IN}})
    values: dict[str, Any] = {"width": 36, "count": 1, "top": 34, "overhang": 19, "wheelchair": True, **more}
    project = seated(**values, surface=surface)
    return one(project, "K9a", yardstick="us-access", containing=f":{part}")


def test_place_for_a_wheelchair() -> None:
    # Guideline 9, access part: 28 to 34 in high, 30 in wide, knee space 36 in wide, 27 high, 19 deep.
    for part in ("surface-height", "seat-width", "knee-depth", "knee-width", "knee-height"):
        assert wheelchair(part).verdict == "met", part
    assert wheelchair("surface-height", top=35).verdict == "falls short"
    assert wheelchair("seat-width", width=29).verdict == "falls short"
    assert wheelchair("knee-depth", overhang=18).verdict == "falls short"
    low: dict[str, Any] = {"knee_space": {"width_mm": 35 * IN, "height_mm": 26 * IN, "depth_mm": 19 * IN}}
    assert wheelchair("knee-width", surface=low).verdict == "falls short"
    assert wheelchair("knee-height", surface=low).verdict == "falls short"
    found = wheelchair("knee-width", surface={})
    assert (found.because, found.needs) == ("missing fact", ("top.knee_space",))
    assert wheelchair("knee-height", surface={"knee_space": "none"}).verdict == "falls short"


def test_no_place_for_a_wheelchair() -> None:
    assert {f.because for f in findings(seated(), "K9a", yardstick="us-access")} == {"does not apply"}
    assert not findings(seated(), "K9a")


@settings(max_examples=20, deadline=None)
@given(width=st.floats(20, 200), count=st.integers(1, 6), more=st.floats(0, 60))
def test_a_longer_edge_never_seats_worse(width: float, count: int, more: float) -> None:
    first = one(seated(width, count), "K9", containing=":seat-width")
    second = one(seated(width + more, count), "K9", containing=":seat-width")
    assert not (first.verdict == "met" and second.verdict == "falls short")


def test_comfort_at_a_counter_is_not_asked_of_a_table() -> None:
    found = one(seated(72, kind="table", top=30), "P1")
    assert found.because == "does not apply"
    assert found.working == ("people sit at a table here; the figure is for a counter",)


def brackets(**more: Any) -> list[str]:
    found = one(seated(**more), "K9", containing="-in-high")
    return [text for text in found.also if "bracket" in text]


def test_stone_over_the_knees_takes_brackets() -> None:
    # Common practice: 30 mm stone is left free over at most 250 mm (9 13/16 in); 15 in of knees are more.
    (over,) = brackets(overhang=15)
    assert '15" (381 mm)' in over
    assert "(250 mm)" in over
    assert "licensed engineer" in over
    (short,) = brackets(overhang=9)
    assert "For 15 in of knee depth brackets" in short
    assert not brackets(overhang=9, knee_depth_mm=16 * IN)  # knees reach under, the top is not left free
    assert not brackets(kind="table", top=30, overhang=18)
