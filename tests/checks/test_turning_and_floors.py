"""Turning spaces, clear floors and knee spaces: access parts of Kitchen guidelines 6 and 10, ADA 304."""

from __future__ import annotations

from typing import Any

import pytest

from building import findings, free, house, on_wall, one, room, set_in, thing
from enfilade.lengths import inches
from enfilade.project.project import Project
from enfilade.standards.yardsticks import yardstick

ACCESS = "us-access"


def narrow(width: float, *more: dict[str, Any], use: str = "kitchen") -> Project:
    """A room `width` in wide and 200 in long."""
    return house(more, spaces=[room(width, 200, use=use)])


# Guideline 6, access part, and ADA 304.3.1: a circle 60 in across.
@pytest.mark.parametrize(("use", "rule", "part"), [("kitchen", "K6a", "circle"), ("bath", "A3041", "A3041::")])
@pytest.mark.parametrize(("width", "verdict"), [(60, "met"), (59, "falls short")])
def test_a_circle_of_60_in(use: str, rule: str, part: str, width: float, verdict: str) -> None:
    found = one(narrow(width, use=use), rule, yardstick=ACCESS, containing=part)
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(width, abs=0.02)


def tee(arm: float) -> Project:
    """Three blocks leave a T: a passage `arm` in wide along the north wall and one in its middle, 60 in square."""
    side = (60 - arm) / 2
    blocks = [
        thing("tall cabinet", "west", side, 60 - arm, free(side / 2, (60 - arm) / 2)),
        thing("tall cabinet", "east", side, 60 - arm, free(60 - side / 2, (60 - arm) / 2)),
    ]
    return house(blocks, spaces=[room(60, 60)])


# Guideline 6, access part, and ADA 304.3.2: a 60 in square, arms and base of 36 in.
def test_a_t_takes_the_place_of_the_circle() -> None:
    project = tee(36)
    found = {f.id.split(":")[1]: f for f in findings(project, "K6a", yardstick=ACCESS)}
    assert (found["square"].verdict, found["arm"].verdict) == ("met", "met")
    assert found["circle"].because == "does not apply"


def test_a_t_with_narrower_arms_falls_short() -> None:
    found = {f.id.split(":")[1]: f for f in findings(tee(34), "K6a", yardstick=ACCESS)}
    assert {f.verdict for f in found.values()} == {"falls short"}
    assert found["arm"].measured is not None
    assert found["arm"].measured.to("in").value == pytest.approx(34, abs=0.2)


def test_a_short_square_falls_short_with_its_size() -> None:
    found = one(narrow(50), "K6a", yardstick=ACCESS, containing="square")
    assert found.verdict == "falls short"
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(50, abs=0.2)


def test_the_parts_of_the_t_in_other_rooms() -> None:
    plan = tee(36).model_dump(mode="json", exclude_defaults=True)
    plan["spaces"][0]["use"] = "bath"
    for t in plan["things"]:
        t["place"]["how"] = "free"
    bath = Project.model_validate({**plan, "format": 1})
    assert {f.verdict for f in findings(bath, "A3042", yardstick=ACCESS)} == {"met"}


# ADA 304.3.2: 12 in clear beside the arms and 24 in before the base. A square of S leaves (S - 36) / 2 and S - 36.
@pytest.mark.parametrize(("size", "verdict"), [(60, "met"), (58, "falls short")])
@pytest.mark.parametrize(("part", "share"), [("arm-clear", 0.5), ("base-clear", 1.0)])
def test_what_is_clear_beside_the_arms_and_before_the_base(part: str, share: float, size: float, verdict: str) -> None:
    # A T-shaped floor in a square of `size`: arms and base 36 in wide, so that no circle of 60 in fits.
    side, deep = (size - 36) / 2, size - 36
    blocks = [
        thing("tall cabinet", "west", side, deep, free(side / 2, deep / 2)),
        thing("tall cabinet", "east", side, deep, free(size - side / 2, deep / 2)),
    ]
    found = one(house(blocks, spaces=[room(size, size, use="bath")]), "A3042", yardstick=ACCESS, containing=f":{part}:")
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx((size - 36) * share, abs=0.2)


def test_only_the_circle_counts_when_that_is_chosen() -> None:
    from enfilade.checks.run import check

    rules = yardstick(ACCESS).with_options({"wheelchair_turn": "circle"})
    found = {f.id.split(":")[1]: f for f in check(tee(36), yardstick=rules) if f.rule == "K6a"}
    assert found["circle"].verdict == "falls short"
    assert found["square"].because == "does not apply"


def test_a_knee_space_takes_part() -> None:
    # 52 in are free before a counter 24 in deep; its knee space adds 19 in.
    def counter(knee: dict[str, float] | str) -> dict[str, Any]:
        return thing("counter", "top", 200, 24, on_wall("kitchen-west", 0), knee_space=knee)

    knee = {"width_mm": inches(60), "height_mm": inches(27), "depth_mm": inches(19)}
    assert one(narrow(76, counter("none")), "K6a", yardstick=ACCESS, containing="circle").verdict == "falls short"
    assert one(narrow(76, counter(knee)), "K6a", yardstick=ACCESS, containing="circle").verdict != "falls short"


# Guideline 6, access part: a clear floor of 30 x 48 in at each work centre.
@pytest.mark.parametrize(("ahead", "verdict"), [(30, "met"), (29, "falls short")])
def test_clear_floor_alongside(ahead: float, verdict: str) -> None:
    project = narrow(24 + ahead, thing("range", "range", 30, 24, on_wall("kitchen-west", 85)))
    found = one(project, "K6c", yardstick=ACCESS, containing="width")
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(ahead)


@pytest.mark.parametrize(("wide", "verdict"), [(48, "met"), (47, "falls short")])
def test_clear_floor_is_48_in_long(wide: float, verdict: str) -> None:
    # Between two blocks that stand `wide` in apart, 30 in deep before the range: only alongside would fit.
    half = wide / 2
    things = [
        thing("range", "range", 30, 24, on_wall("kitchen-west", 85)),
        thing("tall cabinet", "a", 40, 30, free(39, 100 + half + 20, 90)),
        thing("tall cabinet", "b", 40, 30, free(39, 100 - half - 20, 90)),
    ]
    assert one(narrow(54, *things), "K6c", yardstick=ACCESS, containing="length:range").verdict == verdict


def test_a_sink_set_back_in_its_counter_has_the_floor_before_the_counter() -> None:
    things = [
        thing("counter", "top", 120, 25, on_wall("kitchen-north", 0)),
        thing("sink", "sink", 30, 20, set_in("top", 45)),
    ]
    assert {f.verdict for f in findings(house(things), "K6c", yardstick=ACCESS)} == {"met"}


def test_a_kitchen_without_centres_says_what_is_missing() -> None:
    assert "kitchen: a sink" in one(house(), "K6c", yardstick=ACCESS, containing="width").needs


# Guideline 10, access part: 36 in wide, 27 in high, 8 in deep at the top, 17 in at the toe, toe 9 in high.
ENOUGH = {"width_mm": 36.0, "height_mm": 27.0, "depth_mm": 8.0, "toe_depth_mm": 17.0, "toe_height_mm": 9.0}


def kneed(**changes: float | None) -> Project:
    knee = {name: inches(value) for name, value in {**ENOUGH, **changes}.items() if value is not None}
    return house([thing("sink", "sink", 30, 20, free(70, 70), knee_space=knee)])


def test_a_knee_space_of_the_printed_sizes_is_met() -> None:
    assert [f.verdict for f in findings(kneed(), "K6b", yardstick=ACCESS)] == ["met"] * 5


@pytest.mark.parametrize(
    ("field", "part"),
    [
        ("width_mm", "knee-width"), ("height_mm", "knee-height"), ("depth_mm", "knee-depth"),
        ("toe_depth_mm", "toe-depth"), ("toe_height_mm", "toe-height"),
    ],
)  # fmt: skip
def test_an_inch_less_falls_short(field: str, part: str) -> None:
    short = kneed(**{field: ENOUGH[field] - 1})
    found = findings(short, "K6b", yardstick=ACCESS)
    assert [f.id.split(":")[1] for f in found if f.verdict == "falls short"] == [part]


def test_unknown_toe_depth_and_unknown_knee_space() -> None:
    assert one(kneed(toe_depth_mm=None), "K6b", yardstick=ACCESS, containing="toe-depth").because == "missing fact"
    bare = house([thing("sink", "sink", 30, 20, free(70, 70))])
    assert {f.needs for f in findings(bare, "K6b", yardstick=ACCESS)} == {("sink.knee_space",)}
