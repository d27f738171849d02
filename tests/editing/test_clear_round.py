"""Clear widths round a thing: cases in inches, and laws: nothing depends on where north is."""

from __future__ import annotations

import math
from typing import Any

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from building import door, free, house, on_wall, room, set_in, thing, window
from enfilade.editing.things.clear_round import EDGE_MM, FARTHEST_MM, SIDES, ClearSide, clear_widths_round
from enfilade.editing.things.place_words import clear_words, place_words
from enfilade.errors import NotFound
from enfilade.lengths import inches, to_inches
from enfilade.project.project import Project
from enfilade.project.thing import Side
from laws.moving import moved as house_moved
from laws.moving import shifted


def seen(project: Project, id: str) -> dict[str, tuple[float, str] | None]:
    """Return the clear widths in inches, with the names."""
    return {
        side: (round(to_inches(one.distance_mm), 3), one.called) if one else None
        for side, one in clear_widths_round(project, id).items()
    }


def kitchen(*more: dict[str, Any], **extra: Any) -> Project:
    """Return a kitchen of 15 x 12 ft: a run along the north wall, a range at its west end, an island before it."""
    spaces = [room(180, 144)]
    spaces[0]["walls"] = [
        {"id": f"kitchen-{name}", "name": f"{name} wall"} for name in ("south", "east", "north", "west")
    ]
    things = [
        thing("base cabinet", "base", 60, 24, on_wall("kitchen-north", 30)),
        thing("counter", "top", 60, 25, on_wall("kitchen-north", 30), name="river counter"),
        thing("wall cabinet", "upper", 60, 12, on_wall("kitchen-north", 30)),
        thing("range", "range", 30, 25, on_wall("kitchen-north", 0)),
        # At turn 180 the front faces north.
        thing("island", "island", 60, 36, free(90, 60, 180)),
        *more,
    ]
    return house(things, spaces=spaces, **extra)


def test_an_island_sees_counter_range_and_walls() -> None:
    # North: wall at 144, counter 25 deep: 119; the island's front stands at 78. East and west 60 in, south 42 in.
    assert seen(kitchen(), "island") == {
        "front": (41, "river counter"), "back": (42, "south wall"),
        "left": (60, "east wall"), "right": (60, "west wall"),
    }  # fmt: skip
    assert clear_words(kitchen(), "island") == (
        'Island: 41" to the river counter in front, 42" to the south wall behind, 60" to the east wall to its left, '
        '60" to the west wall to its right'
    )


def test_the_points_lie_on_both_sides_of_the_width() -> None:
    front = clear_widths_round(kitchen(), "island")["front"]
    assert front is not None
    assert front.here[1] == pytest.approx(inches(78))
    assert front.there[1] == pytest.approx(inches(119))
    # The counter reaches from 30 to 90 in, the island from 60 to 120: their common stretch has its middle at 75.
    assert front.here[0] == front.there[0] == pytest.approx(inches((60 + EDGE_MM / 25.4 + 90) / 2))


def test_counter_and_cabinets_under_it_are_one_body() -> None:
    with_deep_cabinet = kitchen(thing("base cabinet", "deep", 20, 30, on_wall("kitchen-north", 60)))
    # The cabinet stands 5 in proud of the counter: it is nearest, and told by the counter's name.
    assert seen(with_deep_cabinet, "island")["front"] == (36, "river counter")


def test_a_cabinet_sees_past_its_own_counter() -> None:
    project = kitchen()
    assert seen(project, "base")["front"] == (42, "island")
    assert seen(project, "base")["right"] == (90, "east wall")
    assert seen(project, "base")["left"] == (0, "range")


def test_what_hangs_does_not_count_on_the_floor_and_sees_what_is_as_high() -> None:
    project = kitchen(thing("tall cabinet", "pantry", 24, 24, on_wall("kitchen-north", 120)))
    # The hung cabinet ends at 90 in from the left, the pantry begins at 120; the range is lower than it hangs.
    assert seen(project, "upper")["right"] == (30, "tall cabinet")
    assert seen(project, "upper")["left"] == (30, "west wall")
    assert seen(project, "range")["right"] == (0, "river counter")


@pytest.mark.parametrize(
    "loose",
    [
        thing("seat", "chair", 18, 18, free(90, 100)),
        thing("rug", "rug", 60, 20, free(90, 100)),
        thing("light", "light", 12, 12, free(90, 100)),
        thing("table", "table", 30, 20, free(90, 100), state="removed"),
    ],
)
def test_chairs_and_what_is_thin_or_gone_do_not_count(loose: dict[str, Any]) -> None:
    assert seen(kitchen(loose), "island") == seen(kitchen(), "island")


def test_a_sofa_counts() -> None:
    assert seen(kitchen(thing("seat", "sofa", 30, 20, free(90, 100), what="sofa")), "island")["front"] == (12, "seat")


def test_what_reaches_in_by_less_than_half_an_inch_stands_beside() -> None:
    # The island reaches from 60 to 120 in; a post whose edge lies 0.4 in inside of it is beside, 0.6 in is before.
    for reach, counts in ((0.4, False), (0.6, True)):
        post = thing("column", "post", 10, 10, free(120 - reach + 5, 100), top=96)
        found = seen(kitchen(post), "island")["front"]
        assert found == ((17, "column") if counts else (41, "river counter"))


def test_what_lies_farther_than_six_metres_is_not_told() -> None:
    far = FARTHEST_MM / 25.4
    hall = house([thing("island", "island", 40, 40, free(20, 60, 0))], spaces=[room(far + 41, 120)])
    assert seen(hall, "island")["right"] is None
    near = house([thing("island", "island", 40, 40, free(20, 60, 0))], spaces=[room(far + 39.9, 120)])
    assert seen(near, "island")["right"] is not None


def test_a_wall_askew_beside_a_thing_is_not_before_it() -> None:
    # The east wall leans in by 1 in over 12 ft, as taped rooms do; a cabinet stands flush in its corner.
    space = room(144, 144) | {"outline": [[0, 0], [inches(143), 0], [inches(144), inches(144)], [0, inches(144)]]}
    cabinet = thing("base cabinet", "base", 36, 24, on_wall("kitchen-north", 0, from_end="right"))
    found = seen(house([cabinet], spaces=[space]), "base")
    assert found["front"] == (120, "wall")


def test_things_that_overlap_have_no_width_between_them() -> None:
    assert seen(kitchen(thing("table", "table", 30, 30, free(90, 88))), "island")["front"] == (0, "table")


def test_an_open_side_lets_the_next_room_be_seen() -> None:
    rooms = [room(144, 144, open_sides=["east"]), room(100, 144, id="dining", at=(144, 0), open_sides=["west"])]
    table = thing("table", "table", 40, 40, free(200, 60), space="dining")
    project = house([thing("island", "island", 40, 40, free(72, 60)), table], spaces=rooms)
    assert seen(project, "island")["right"] == (88, "table")
    assert seen(project, "table")["left"] == (88, "island")


def test_a_round_table_is_measured_to_its_edge() -> None:
    # A circle of radius 20 in at (130, 60): straight ahead of the island's right side it is nearest at 110.
    table = thing("table", "table", 40, 40, free(130, 60), round=True)
    project = house([thing("island", "island", 40, 20, free(72, 60)), table], spaces=[room(180, 120)])
    assert seen(project, "island")["right"] == (pytest.approx(18, abs=0.01), "table")
    beside = thing("table", "table", 40, 40, free(130, 78), round=True)
    moved_up = house([thing("island", "island", 40, 20, free(72, 60)), beside], spaces=[room(180, 120)])
    # Only its lower part, up to 9.5 in from the island's middle line, is before the side: 78 - 69.5 = 8.5 in below
    # its middle the half chord is sqrt(20^2 - 8.5^2) = 18.1 in.
    assert seen(moved_up, "island")["right"] == (pytest.approx(130 - math.sqrt(400 - 8.5**2) - 92, abs=0.02), "table")


def test_what_is_set_in_a_counter_sees_its_neighbours_and_the_edges() -> None:
    sink = thing("sink", "sink", 24, 18, set_in("top", 3, 3))
    project = kitchen(sink, thing("cooktop", "hob", 20, 20, set_in("top", 36, 2)))
    assert seen(project, "sink") == {
        "front": (3, "front edge of the river counter"), "back": (4, "back edge of the river counter"),
        "left": (3, "left edge of the river counter"), "right": (9, "cooktop"),
    }  # fmt: skip
    assert seen(project, "hob")["right"] == (4, "right edge of the river counter")
    # To a thing on the floor, what is set in its counter is one with it.
    assert seen(project, "island")["front"] == (41, "river counter")


def test_an_opening_sees_its_neighbours_along_the_wall() -> None:
    openings = [door("door", "kitchen-south", 20, 36), window("view", "kitchen-south", 80, 40, name="river window")]
    project = kitchen(openings=openings)
    assert seen(project, "door") == {
        "front": None, "back": None, "left": (20, "left end of the south wall"), "right": (24, "river window"),
    }  # fmt: skip
    assert place_words(project, "view") == (
        'In the south wall, 6\' 8" from its left end. Clear: 24" to the door to its left, '
        '60" to the right end of the south wall to its right.'
    )


def test_an_opening_is_seen_from_either_room() -> None:
    rooms = [room(144, 144), room(100, 144, id="hall", at=(149, 0))]
    project = house(spaces=rooms, openings=[door("way", "kitchen-east", 20, 36, beyond="hall-west")])
    # What is left from the kitchen is right from the hall.
    for space, left, right in (("kitchen", 20, 88), ("hall", 88, 20), (None, 20, 88)):
        found = clear_widths_round(project, "way", space)
        widths = [to_inches(one.distance_mm) if one else None for one in (found["left"], found["right"])]
        assert widths == [pytest.approx(left), pytest.approx(right)]


def test_words_say_where_a_thing_stands() -> None:
    project = kitchen(thing("sink", "sink", 24, 18, set_in("top", 3, 3)))
    assert place_words(project, "range").startswith('Against the north wall, 0" from its left end. Clear: ')
    assert "touches the river counter to its right" in place_words(project, "range")
    assert place_words(project, "island").startswith("Stands free, turned 180 degrees. Clear: ")
    assert place_words(project, "sink").startswith('Set in the river counter, 3" from the left end of its front.')
    metric = kitchen(show={"units": "metric"})
    assert "1041 mm to the river counter in front" in clear_words(metric, "island")


def test_an_unknown_id_is_refused() -> None:
    with pytest.raises(NotFound):
        clear_widths_round(kitchen(), "dragon")


turns = st.floats(0, 360)
shifts = st.tuples(st.floats(-30_000, 30_000), st.floats(-30_000, 30_000))


@given(turns, shifts)
def test_no_width_depends_on_where_the_house_lies(turn: float, shift: tuple[float, float]) -> None:
    table = thing("table", "table", 30, 30, free(140, 40, 25), round=True)
    project = kitchen(table, thing("sink", "sink", 24, 18, set_in("top", 3, 3)))
    elsewhere = house_moved(project, shift, turn)
    for id in ("island", "base", "range", "table", "sink"):
        before, after = clear_widths_round(project, id), clear_widths_round(elsewhere, id)
        for side in SIDES:
            one, other = before[side], after[side]
            assert (one is None) == (other is None)
            if one is not None and other is not None:
                assert other.distance_mm == pytest.approx(one.distance_mm, abs=1e-3)
                assert (other.id, other.called) == (one.id, one.called)
                assert other.here == pytest.approx(shifted(one.here, shift, turn), abs=1e-2)
                assert other.there == pytest.approx(shifted(one.there, shift, turn), abs=1e-2)


inch = st.integers(4, 60)


@given(inch, inch, inch, inch, st.integers(-30, 30), st.integers(2, 60), turns)
def test_between_parallel_boxes_it_is_the_distance_of_the_boxes(
    w: int, d: int, w2: int, d2: int, aside: int, gap: int, turn: float
) -> None:
    # Two boxes whose fronts and backs face each other, overlapping sideways by more than what stands beside.
    assume((w + w2) / 2 - abs(aside) > 2)
    spread = 200.0
    one = thing("furniture", "one", w, d, free(spread, spread))
    other = thing("furniture", "other", w2, d2, free(spread + aside, spread + d / 2 + gap + d2 / 2))
    project = house_moved(house([one, other], spaces=[room(2 * spread, 2 * spread)]), (0, 0), turn)
    found: ClearSide | None = clear_widths_round(project, "one")["back"]
    assert found is not None
    assert found.id == "other"
    shapes = _polygons(project)
    assert found.distance_mm == pytest.approx(shapes["one"].distance(shapes["other"]), abs=1e-4)
    line = shapely.LineString([found.here, found.there])
    assert line.length == pytest.approx(found.distance_mm, abs=1e-4)
    assert shapes["one"].distance(shapely.Point(found.here)) < 1e-4
    assert shapes["other"].distance(shapely.Point(found.there)) < 1e-4


@given(inch, inch, inch, inch, st.integers(-100, 100), st.integers(-100, 100), turns)
def test_no_width_is_shorter_than_the_distance_of_the_footprints(
    w: int, d: int, w2: int, d2: int, x: int, y: int, turn: float
) -> None:
    spread = 200.0
    one = thing("furniture", "one", w, d, free(spread, spread))
    other = thing("furniture", "other", w2, d2, free(spread + x, spread + y, turn))
    project = house([one, other], spaces=[room(2 * spread, 2 * spread)])
    shapes = _polygons(project)
    least = shapes["one"].distance(shapes["other"])
    sides: dict[Side, ClearSide | None] = clear_widths_round(project, "one")
    for found in sides.values():
        if found is not None and found.id == "other":
            assert found.distance_mm >= least - 1e-6


def _polygons(project: Project) -> dict[str, shapely.Polygon]:
    from enfilade.project.standing import stands, wall_segments

    lines = wall_segments(project.spaces)
    return {id: stand.box.polygon for id, stand in stands(project.things, lines).items()}
