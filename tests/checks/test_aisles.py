"""Work aisles and walkways, Kitchen guidelines 6 and 7, and the kitchen shapes of ADA 804.2."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import door, findings, free, house, on_wall, one, room, set_in, thing
from enfilade.project.project import Project

WIDE = 240.0


def galley(clear: float, *, cooks: int | None = 1, work: bool = True, more: tuple[dict[str, Any], ...] = ()) -> Project:
    """Two runs of counters 24 in deep along the north and south walls, `clear` in between."""
    things = [
        thing("counter", "north", 80, 24, on_wall("kitchen-north", 0)),
        thing("range", "range", 30, 24, on_wall("kitchen-north", 80)),
        thing("counter", "south", 110, 24, on_wall("kitchen-south", 0, from_end="right")),
    ]
    if not work:
        things = [thing for thing in things if thing["kind"] == "counter"]
    household = {"cooks_together": cooks} if cooks else {}
    return house([*things, *more], spaces=[room(WIDE, 48 + clear)], household=household)


# Guideline 6: 42 in for one cook, 48 in for two or more.
@pytest.mark.parametrize(
    ("clear", "cooks", "verdict"), [(42, 1, "met"), (41, 1, "falls short"), (48, 2, "met"), (47, 3, "falls short")]
)
def test_work_aisle(clear: float, cooks: int, verdict: str) -> None:
    found = one(galley(clear, cooks=cooks), "K6")
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(clear)
    assert ("two-cooks" in found.id) is (cooks > 1)


def test_an_unknown_number_of_cooks_is_asked_for() -> None:
    found = findings(galley(45, cooks=None), "K6")
    assert [(f.verdict, f.needs) for f in found] == [("met", ()), ("not assessed", ("household.cooks_together",))]


def test_one_aisle_is_one_finding_at_its_narrowest() -> None:
    # A refrigerator stands 6 in further into the same aisle.
    cold = thing("refrigerator", "cold", 36, 30, on_wall("kitchen-north", 110))
    more = thing("counter", "south-2", 60, 24, on_wall("kitchen-south", 110, from_end="right"))
    found = one(galley(48, more=(cold, more)), "K6")
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(42)
    assert "cold" in found.subjects


def test_a_kitchen_of_one_wall_has_no_aisle() -> None:
    project = house([thing("range", "range", 30, 24, on_wall("kitchen-north", 40))], household={"cooks_together": 1})
    found = one(project, "K6")
    assert found.because == "does not apply"
    assert any("120" in line for line in found.working)  # 144 - 24 in to the wall opposite


def test_the_published_u_shape_has_an_aisle_of_138_in() -> None:
    # The one published plan with all cabinet widths: side runs 24 in deep in a room 186 in wide.
    found = one(u_shape(138), "K6")
    assert found.verdict == "met"
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(138)


def u_shape(clear: float, cooking: bool = True) -> Project:
    """Counters on three walls, 24 in deep; the stove on the north wall, the sink on the east wall."""
    width = clear + 48
    things = [
        thing("counter", "north-a", clear / 2 + 9, 24, on_wall("kitchen-north", 0)),
        thing("counter", "north-b", clear / 2 + 9, 24, on_wall("kitchen-north", 0, from_end="right")),
        thing("counter", "east", 120, 24, on_wall("kitchen-east", 24)),
        thing("sink", "sink", 30, 20, set_in("east", 42)),
        thing("counter", "west", 120, 24, on_wall("kitchen-west", 24, from_end="right")),
    ]
    kind = "range" if cooking else "counter"
    things.append(thing(kind, "range", 30, 24, on_wall("kitchen-north", clear / 2 + 9)))
    return house(things, spaces=[room(width, 200)], household={"cooks_together": 1})


# ADA 804.2.2: 60 in between facing sides of a U.
@pytest.mark.parametrize(("clear", "verdict"), [(138, "met"), (60, "met"), (59, "falls short")])
def test_u_shape(clear: float, verdict: str) -> None:
    project = u_shape(clear)
    assert one(project, "A8042", yardstick="us-access").verdict == verdict
    assert {f.because for f in findings(project, "A8041", yardstick="us-access")} == {"does not apply"}


def test_a_diagonal_corner_is_one_corner() -> None:
    # An L with its sink set across the corner turns twice by 45 degrees: it is no U (ADA 804.2.2).
    things = [
        thing("counter", "north", 102, 25, on_wall("kitchen-north", 0)),
        thing("counter", "east", 80, 25, on_wall("kitchen-east", 42)),
        thing("counter", "across", 24, 30, free(121.1, 121.1, -45)),
        thing("sink", "sink", 20, 18, set_in("across", 2)),
        thing("cooktop", "hob", 30, 20, set_in("north", 40)),
    ]
    assert one(house(things), "A8042", yardstick="us-access").because == "does not apply"
    assert one(house(things), "A8041", yardstick="us-access", containing="A8041::").verdict == "met"


# ADA 804.2.1: 40 in, and two ways in.
@pytest.mark.parametrize(("clear", "verdict"), [(40, "met"), (39, "falls short")])
def test_pass_through(clear: float, verdict: str) -> None:
    project = galley(clear)
    assert one(project, "A8041", yardstick="us-access", containing="A8041::").verdict == verdict
    assert one(project, "A8042", yardstick="us-access").because == "does not apply"


@pytest.mark.parametrize(("doors", "verdict"), [(2, "met"), (1, "falls short"), (0, "not assessed")])
def test_ways_into_a_pass_through_kitchen(doors: int, verdict: str) -> None:
    base = galley(48)
    all_doors = [door("east", "kitchen-east", 30), door("west", "kitchen-west", 30)][:doors]
    things = [t.model_dump(exclude_defaults=True, mode="json") | {"kind": t.kind, "id": t.id} for t in base.things]
    project = house(things, spaces=[room(WIDE, 96)], openings=all_doors)
    assert one(project, "A8041", yardstick="us-access", containing="entries").verdict == verdict


def test_without_a_cooking_surface_no_width_is_asked() -> None:
    # ADA 804.2, exception.
    for rule in ("A8041", "A8042", "A8042x"):
        assert {f.because for f in findings(u_shape(59, cooking=False), rule, yardstick="us-access")} == {
            "does not apply"
        }


# Guideline 7: 36 in where no work centre fronts on the way.
@pytest.mark.parametrize(("clear", "verdict"), [(36, "met"), (35, "falls short")])
def test_walkway_between_counters(clear: float, verdict: str) -> None:
    project = galley(clear, work=False)
    assert one(project, "K7", containing=":north+south").verdict == verdict
    assert one(project, "K6").because == "does not apply"


def island_in_room(west: float, south: float) -> Project:
    """An island 60 x 36 in, `west` in from the west wall and `south` in from the south wall, in 240 x 240 in."""
    island = thing("island", "island", 60, 36, free(west + 30, south + 18))
    return house([island], spaces=[room(240, 240)])


# Guideline 7: also between an island and a wall.
@pytest.mark.parametrize(("gap", "verdict"), [(36, "met"), (35, "falls short")])
def test_walkway_between_an_island_and_a_wall(gap: float, verdict: str) -> None:
    found = one(island_in_room(gap, 90), "K7", containing="kitchen-west")
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(gap)


def test_open_floor_is_no_walkway() -> None:
    assert one(house(), "K7").because == "does not apply"


# Guideline 7, access part: where two walkways meet at a right angle one is 42 in wide.
@pytest.mark.parametrize(("west", "south", "verdict"), [(36, 42, "met"), (36, 41, "falls short")])
def test_two_walkways_at_a_right_angle(west: float, south: float, verdict: str) -> None:
    project = island_in_room(west, south)
    assert one(project, "K7a", yardstick="us-access").verdict == verdict


def test_walkways_that_do_not_meet() -> None:
    assert one(house(), "K7a", yardstick="us-access").because == "does not apply"


def test_a_side_with_seats_that_faces_a_wall_is_left_to_the_rule_on_seats() -> None:
    seated = thing("island", "island", 60, 36, free(66, 58), seating=[{"id": "row", "side": "back", "count": 2}])
    project = house([seated], spaces=[room(240, 110)])
    assert not findings(project, "K7", containing="kitchen-north")
    assert findings(project, "K7", containing="kitchen-south")


def test_a_table_before_the_counter_narrows_the_aisle() -> None:
    table = thing("table", "table", 40, 30, free(100, 60))
    project = house(
        [thing("range", "range", 30, 24, on_wall("kitchen-north", 85)), table],
        spaces=[room(240, 144)],
        household={"cooks_together": 1},
    )
    # Range front at y = 120, table's north side at 75: 45 in.
    found = one(project, "K6")
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(45)


def past_the_end(gap: float, *, way_out: bool = True) -> Project:
    """A run along the north wall that ends `gap` in before the east wall; there a way leads out beside it."""
    run = thing("counter", "run", 144 - gap, 24, on_wall("kitchen-north", 0))
    out = [door("out", "kitchen-north", 1, gap - 2, from_end="right", kind="cased opening")] if way_out else []
    return house([run], openings=out)


# Guideline 7: the end of a run of cabinets is a side of the way that leads past it.
@pytest.mark.parametrize(("gap", "verdict"), [(36, "met"), (35, "falls short")])
def test_a_way_past_the_end_of_a_run(gap: float, verdict: str) -> None:
    found = one(past_the_end(gap), "K7")
    assert (found.subjects, found.verdict) == (("kitchen-east", "run"), verdict)
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(gap)


def test_a_niche_beside_a_run_or_a_dresser_is_no_way() -> None:
    assert one(past_the_end(20, way_out=False), "K7").because == "does not apply"
    dresser = thing("furniture piece", "dresser", 60, 20, on_wall("kitchen-north", 20))
    assert one(house([dresser]), "K7").because == "does not apply"


# Guideline 7: two walls are fixed obstacles too. A leg of the room, `neck` in wide, leads to a way out.
@pytest.mark.parametrize(("neck", "verdict"), [(36, "met"), (35, "falls short")])
def test_a_way_between_two_walls(neck: float, verdict: str) -> None:
    space = room(144, 144)
    corners = [(0, 0), (144, 0), (144, 144), (neck, 144), (neck, 220), (0, 220)]
    space["outline"] = [[x * 25.4, y * 25.4] for x, y in corners]
    space["walls"] = [{"id": name} for name in ("south", "east", "north", "leg-east", "leg-end", "west")]
    found = one(house(spaces=[space], openings=[door("out", "leg-end", 1, neck - 2, kind="cased opening")]), "K7")
    assert (found.subjects, found.verdict) == (("leg-east", "west"), verdict)


# Guideline 6: measured between counter fronts, tall units and appliances. A pantry against the west wall stands with
# its side before the range, which fronts on it over 20 in; the range's front lies at y = 120.
@pytest.mark.parametrize(("clear", "verdict"), [(42, "met"), (41, "falls short")])
def test_the_side_of_a_tall_unit_before_the_range(clear: float, verdict: str) -> None:
    things = [
        thing("range", "range", 30, 24, on_wall("kitchen-north", 4)),
        thing("tall cabinet", "pantry", 30, 24, on_wall("kitchen-west", 120 - clear - 30)),
    ]
    found = one(house(things, household={"cooks_together": 1}), "K6")
    assert (found.subjects, found.verdict) == (("pantry", "range"), verdict)


def test_of_a_range_that_faces_a_wall_the_guideline_says_nothing() -> None:
    # 84 in deep: 60 in between the range, 24 in deep, and the wall opposite.
    project = house(
        [thing("range", "range", 30, 24, on_wall("kitchen-north", 40))],
        spaces=[room(144, 84)],
        household={"cooks_together": 1},
    )
    found = one(project, "K6")
    assert found.because == "source silent"
    assert any('60"' in line for line in found.working)


def test_an_aisle_and_a_walkway_between_the_same_two_things() -> None:
    # A table pushed against the long counter parts what lies between it and the island: the sink fronts on one part.
    things = [
        thing("counter", "long", 200, 24, on_wall("kitchen-north", 0)),
        thing("sink", "sink", 30, 20, set_in("long", 20)),
        thing("table", "table", 20, 20, free(100, 110)),
        thing("island", "island", 180, 30, free(100, 60)),
    ]
    project = house(things, spaces=[room(240, 144)], household={"cooks_together": 1})
    assert one(project, "K6", containing="island+long").working[1] == "working there: sink"
    assert one(project, "K7", containing="island+long").verdict == "met"


def test_an_oven_built_in_higher_up_is_a_front_without_the_cabinet_round_it() -> None:
    oven = thing("oven", "oven", 30, 24, on_wall("kitchen-north", 60), bottom=30, top=58)
    things = [oven, thing("counter", "south", 110, 24, on_wall("kitchen-south", 0, from_end="right"))]
    project = house(things, spaces=[room(WIDE, 89)], household={"cooks_together": 1})
    assert one(project, "K6", containing="oven+south").verdict == "falls short"  # 89 - 48 = 41 in


def test_a_work_aisle_that_meets_a_walkway_is_told_and_left_to_guideline_6() -> None:
    # 36 in between the island and the west wall; its other sides have more than 8 ft before them.
    things = [
        thing("counter", "left", 60, 24, on_wall("kitchen-north", 0)),
        thing("range", "range", 30, 24, on_wall("kitchen-north", 60)),
        thing("counter", "right", 150, 24, on_wall("kitchen-north", 90)),
        thing("island", "island", 60, 36, free(36 + 30, 276 - 42 - 18)),
    ]
    found = one(house(things, spaces=[room(240, 300)]), "K7a", yardstick="us-access")
    assert found.because == "does not apply"
    assert [line for line in found.working if "meets a work aisle" in line and '42" (1067 mm)' in line]


@settings(max_examples=15, deadline=None)
@given(st.floats(30, 60), st.floats(0.5, 20))
def test_a_wider_aisle_never_falls_short_where_a_narrower_one_is_met(clear: float, more: float) -> None:
    narrow, wide = one(galley(clear), "K6"), one(galley(clear + more), "K6")
    assert not (narrow.verdict == "met" and wide.verdict == "falls short")


@settings(max_examples=12, deadline=None)
@given(st.sampled_from([17.0, 45.0, 90.0, 123.4]))
def test_turning_the_kitchen_changes_no_width(turn: float) -> None:
    def turned(angle: float) -> Project:
        things = [
            thing("island", "island", 60, 36, free(0, 0, angle)),
            thing("range", "range", 30, 24, free(*_round(0, -63, angle), angle + 180)),
        ]
        return house(things, spaces=[room(600, 600, at=(-300, -300))], household={"cooks_together": 1})

    # The island's front at -18, the range's at -51: 33 in.
    found = one(turned(turn), "K6")
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(33, abs=1e-4)


def _round(x: float, y: float, angle: float) -> tuple[float, float]:
    import math

    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return x * c - y * s, x * s + y * c
