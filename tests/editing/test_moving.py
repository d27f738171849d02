"""Moving by hand: where a thing lands, what comes along, and laws that hold wherever it is let go."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from building import door, free, house, on_wall, room, set_in, thing, window
from enfilade.checks.run import check
from enfilade.editing.things.moving import goes_along, moved, nudged, turned, where_it_stands
from enfilade.editing.things.offsets import clear_typed, offset_typed
from enfilade.editing.things.steps import STEPS_MM
from enfilade.errors import EnfiladeError, NotFound, OutOfRange, Refused
from enfilade.lengths import inches, to_inches
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.project import Project
from laws.houses import houses


def two_rooms(*more: dict[str, Any], **extra: Any) -> Project:
    """Return a kitchen of 15 x 12 ft and a hall beyond its east wall, which is 5 in thick."""
    things = [
        thing("counter", "top", 60, 25, on_wall("kitchen-north", 30), bottom=34.5, top=36),
        thing("sink", "sink", 24, 18, set_in("top", 10, 3)),
        thing("range", "range", 30, 25, on_wall("kitchen-north", 0, from_end="right")),
        thing("island", "island", 60, 36, free(90, 60, 180), seating=[{"id": "row", "count": 2, "side": "back"}]),
        thing("sink", "prep", 15, 15, set_in("island", 5, 3)),
        thing("seat", "stool", 16, 16, free(80, 34), at="island", what="stool"),
        *more,
    ]
    openings = [
        door("way", "kitchen-east", 20, 36, beyond="hall-west"), window("view", "kitchen-west", 30, 40),
        door("out", "hall-east", 20, 36, beyond="none"),
    ]  # fmt: skip
    rooms = [room(180, 144), room(100, 144, id="hall", at=(185, 0))]
    return house(things, spaces=rooms, openings=openings, **extra)


def at(x: float, y: float) -> dict[str, float]:
    """Return a point in inches as the arguments of a move."""
    return {"x_mm": inches(x), "y_mm": inches(y)}


def place(project: Project, id: str) -> Any:
    return project.thing(id).place


def offset(project: Project, id: str) -> float:
    """Return the offset of a thing or opening in inches."""
    records = {**project.things_by_id, **{one.id: one for one in project.openings}}
    record: Any = records[id]
    return round(to_inches((record.place if id in project.things_by_id else record).offset_mm), 4)


def test_a_pose_is_where_the_thing_stands() -> None:
    pose = where_it_stands(two_rooms(), "range")
    # North wall at y = 144, looked at from inside its right end is in the east: the range reaches from 150 to 180.
    assert (round(to_inches(pose.x_mm), 3), round(to_inches(pose.y_mm), 3), pose.turn_deg) == (165, 131.5, 0)
    island = where_it_stands(two_rooms(), "island")
    assert (island.x_mm, island.y_mm, island.turn_deg) == (inches(90), inches(60), 180)
    assert where_it_stands(two_rooms(), "way").x_mm == pytest.approx(inches(180))


def test_a_free_thing_goes_where_the_hand_puts_it_on_a_step_and_the_rest_stays_the_same() -> None:
    before = two_rooms()
    after = moved(before, "island", inches(100) + 0.7, inches(70) - 0.7, 90)
    assert place(after, "island") == Free(x_mm=inches(100), y_mm=inches(70), turn_deg=90)
    coarse = moved(before, "island", inches(100.4), inches(69.7), 90, step="coarse")
    assert place(coarse, "island") == place(after, "island")
    same = {id for id in before.things_by_id if after.thing(id) is before.thing(id)}
    assert same == {"top", "sink", "range", "prep"}
    assert after.openings is before.openings


def test_what_belongs_to_a_thing_comes_along() -> None:
    before = two_rooms()
    assert goes_along(before, "island") == ("prep", "stool")
    after = moved(before, "island", **at(100, 66), turn_deg=180)
    stool = place(after, "stool")
    assert (to_inches(stool.x_mm), to_inches(stool.y_mm)) == (pytest.approx(90), pytest.approx(40))
    # Turned a quarter about its middle at (90, 60): 10 in to the west and 26 in to the south become 26 in to the east
    # and 10 in to the south.
    quarter = turned(before, "island", 90)
    stool = place(quarter, "stool")
    assert (to_inches(stool.x_mm), to_inches(stool.y_mm)) == (pytest.approx(116), pytest.approx(50))
    assert stool.turn_deg == 90


def test_a_thing_takes_the_room_in_which_its_middle_stands_with_what_is_set_in_it() -> None:
    after = moved(two_rooms(), "island", **at(235, 72), turn_deg=90)
    assert {after.thing(id).space for id in ("island", "prep", "stool")} == {"hall"}
    back = moved(after, "island", **at(90, 60), turn_deg=180)
    assert {back.thing(id).space for id in ("island", "prep", "stool")} == {"kitchen"}
    assert place(back, "stool") == place(two_rooms(), "stool")


def test_nothing_is_put_outside_every_room() -> None:
    with pytest.raises(Refused, match="island would stand outside every room"):
        moved(two_rooms(), "island", **at(400, 60), turn_deg=0)


def test_against_a_wall_that_is_named_the_wall_decides_turn_and_depth() -> None:
    after = moved(two_rooms(), "island", **at(40, 90), turn_deg=13, wall="kitchen-west")
    # Facing west from inside, the left end is in the south: the middle at y = 90 leaves 60 in to the left edge.
    assert place(after, "island") == AgainstWall(wall="kitchen-west", offset_mm=inches(60))
    assert where_it_stands(after, "island").x_mm == pytest.approx(inches(18))


def test_it_never_goes_past_the_ends_of_a_wall() -> None:
    for y, expected in ((200, 84), (-20, 0)):
        assert offset(moved(two_rooms(), "island", **at(10, y), turn_deg=0, wall="kitchen-west"), "island") == expected


def test_the_end_it_is_measured_from_and_its_gap_stay() -> None:
    project = two_rooms(thing("tall cabinet", "case", 30, 24, on_wall("kitchen-west", 0, from_end="right", gap=1)))
    after = moved(project, "case", **at(13, 79), turn_deg=0, wall="kitchen-west")
    # Facing west, the right end is in the north, at y = 144: an upper edge at 94 is 50 in from it.
    expected = {"wall": "kitchen-west", "from_end": "right", "offset_mm": inches(50), "gap_mm": inches(1)}
    assert place(after, "case").model_dump() == {"how": "wall", **expected}
    other = moved(project, "case", **at(90, 13), turn_deg=0, wall="kitchen-south")
    assert place(other, "case").gap_mm == 0
    assert place(other, "case").from_end == "right"


def test_a_back_that_is_at_a_wall_goes_to_it() -> None:
    near = moved(two_rooms(), "island", **at(90, 18.8), turn_deg=183)
    # The south wall is seen from inside with its left end in the east: 180 - 120 = 60 in.
    assert place(near, "island") == AgainstWall(wall="kitchen-south", offset_mm=inches(60))
    assert isinstance(place(moved(two_rooms(), "island", **at(90, 20), turn_deg=180), "island"), Free)
    assert isinstance(place(moved(two_rooms(), "island", **at(90, 18.8), turn_deg=190), "island"), Free)
    assert isinstance(place(moved(two_rooms(), "island", **at(90, 18.8), turn_deg=0), "island"), Free)


def test_an_open_side_is_no_wall() -> None:
    rooms = [room(180, 144, open_sides=["south"])]
    project = house([thing("island", "island", 60, 36, free(90, 60))], spaces=rooms)
    with pytest.raises(Refused, match="no wall stands"):
        moved(project, "island", **at(90, 10), turn_deg=0, wall="kitchen-south")
    assert isinstance(place(moved(project, "island", **at(90, 18), turn_deg=180), "island"), Free)
    with pytest.raises(NotFound):
        moved(project, "island", **at(90, 10), turn_deg=0, wall="kitchen-up")


def test_what_is_set_in_a_counter_slides_in_it_and_stays_on_it() -> None:
    project = two_rooms()
    # The counter reaches from 30 to 90 in, its front at 119; a middle at 72 leaves 30 in to the left edge.
    after = moved(project, "sink", **at(72, 129), turn_deg=0)
    assert place(after, "sink") == SetIn(host="top", offset_mm=inches(30), setback_mm=inches(1))
    far = moved(project, "sink", **at(500, 500), turn_deg=0)
    assert place(far, "sink") == SetIn(host="top", offset_mm=inches(36), setback_mm=inches(7))


def test_an_opening_slides_along_its_wall_and_keeps_what_is_beyond() -> None:
    project = two_rooms()
    # Facing east, the left end is in the north: a middle at y = 60 is 84 in from it, its left edge 66.
    after = moved(project, "way", **at(180, 60), turn_deg=0)
    assert offset(after, "way") == 66
    assert after.openings[0].beyond == "hall-west"
    assert offset(moved(project, "way", **at(180, 500), turn_deg=0), "way") == 0
    assert offset(moved(project, "way", **at(180, -500), turn_deg=0), "way") == 108
    assert after.things == project.things


def test_an_opening_that_slides_past_the_next_room_leads_nowhere_known() -> None:
    rooms = [room(180, 144), room(100, 60, id="hall", at=(185, 84)), room(100, 80, id="study", at=(185, 0))]
    project = house(spaces=rooms, openings=[door("way", "kitchen-east", 10, 36, beyond="hall-west")])
    assert moved(project, "way", **at(180, 30), turn_deg=0).openings[0].beyond == "study-west"
    alone = house(spaces=rooms[:2], openings=[door("way", "kitchen-east", 10, 36, beyond="hall-west")])
    assert moved(alone, "way", **at(180, 30), turn_deg=0).openings[0].beyond is None


def test_things_and_openings_may_share_an_id() -> None:
    project = two_rooms(thing("island", "way", 30, 30, free(40, 30)))
    assert moved(project, "way", **at(50, 40), turn_deg=0).openings == project.openings
    slid = moved(project, "way", **at(180, 60), turn_deg=0, among="openings")
    assert slid.things == project.things
    assert to_inches(slid.openings[0].offset_mm) == pytest.approx(66)
    with pytest.raises(NotFound):
        moved(project, "view", **at(1, 1), turn_deg=0, among="things")


def test_a_nudge_goes_along_the_wall_or_off_it() -> None:
    project = two_rooms()
    one = inches(1)
    assert offset(nudged(project, "top", one, 0), "top") == 31
    assert offset(nudged(project, "range", one, 0), "range") == 0  # it stands in the corner
    assert offset(nudged(project, "range", -one, 0), "range") == 1
    off = nudged(project, "top", 0, -one)
    assert place(off, "top").gap_mm == one
    assert place(nudged(off, "top", 0, 2 * one), "top").gap_mm == 0
    assert nudged(project, "top", 0, one) is project
    assert offset(nudged(project, "way", 0, one), "way") == 19
    assert offset(nudged(project, "sink", one, 0), "sink") == 11
    free_one = place(nudged(project, "island", one / 16, -one), "island")
    # A move as long as the coarse step lands on it.
    assert (to_inches(free_one.x_mm), to_inches(free_one.y_mm)) == (90, 59)
    assert to_inches(place(nudged(project, "island", one / 16, 0), "island").x_mm) == 90.0625


def test_a_turn_takes_a_thing_off_its_wall_clear_of_it() -> None:
    project = two_rooms(thing("tall cabinet", "case", 36, 24, on_wall("kitchen-west", 50)))
    after = turned(project, "case", 90)
    pose = where_it_stands(after, "case")
    assert isinstance(place(after, "case"), Free)
    # 36 in wide and turned a quarter, it reaches 18 in either way: its middle stands 18 in off the wall.
    assert to_inches(pose.x_mm) == pytest.approx(18, abs=0.04)
    assert place(turned(project, "case", 0), "case") == place(project, "case")
    # Turned on, its back comes to the wall again where it is near enough: 24 in deep, it is 6 in off.
    whole = turned(turned(after, "case", 90), "case", 180)
    assert where_it_stands(whole, "case").turn_deg == pytest.approx(where_it_stands(project, "case").turn_deg % 360)
    assert isinstance(place(whole, "case"), Free)
    square = two_rooms(thing("tall cabinet", "case", 24, 24, on_wall("kitchen-west", 50)))
    round_ = turned(turned(square, "case", 90), "case", -90)
    assert place(round_, "case").wall == "kitchen-west"


def test_what_is_set_in_a_thing_turns_by_quarters_to_the_next_side() -> None:
    project = two_rooms()
    after = turned(project, "prep", 180)
    assert place(after, "prep").side == "back"
    pose, before = where_it_stands(after, "prep"), where_it_stands(project, "prep")
    assert pose.x_mm == pytest.approx(before.x_mm, abs=1)  # it stays as far along the island
    assert place(turned(project, "prep", 90), "prep").side == "right"
    with pytest.raises(Refused, match="quarter"):
        turned(project, "prep", 45)
    with pytest.raises(Refused, match="swing"):
        turned(project, "way", 90)


def test_an_exact_offset_is_from_the_end_that_is_named() -> None:
    project = two_rooms()
    from_right = offset_typed(project, "top", "right", inches(40.25))
    assert place(from_right, "top") == AgainstWall(wall="kitchen-north", from_end="right", offset_mm=inches(40.25))
    only_end = offset_typed(project, "top", "right")
    # 180 in less 60 in wide less 30 in from the left.
    assert offset(only_end, "top") == 90
    assert where_it_stands(only_end, "top").x_mm == pytest.approx(where_it_stands(project, "top").x_mm)
    assert offset(offset_typed(project, "sink", "right", inches(6)), "sink") == 30
    assert offset_typed(project, "sink", "right") is project
    way = offset_typed(project, "way", "right", inches(1)).openings[0]
    assert (way.from_end, way.offset_mm, way.beyond) == ("right", inches(1), "hall-west")
    with pytest.raises(OutOfRange, match="past an end"):
        offset_typed(project, "top", "left", inches(121))
    with pytest.raises(OutOfRange, match=r"0 to 10' 0"):
        offset_typed(project, "top", "left", -inches(1))
    with pytest.raises(Refused, match="stands free"):
        offset_typed(project, "island", "left", 0.0)


def test_an_exact_clear_width_moves_a_thing_square_to_its_side() -> None:
    project = two_rooms()
    # The island's front is at 78 in, the counter's at 119: 41 in; for 48 it moves 7 in south.
    after = clear_typed(project, "island", "front", inches(48))
    assert place(after, "island").y_mm == pytest.approx(inches(53))
    assert offset(clear_typed(project, "top", "left", inches(12.5)), "top") == 12.5
    # The range is measured from the right end; 60 in from the counter to its left leave 0.
    assert offset(clear_typed(project, "range", "left", inches(50)), "range") == 10
    out = clear_typed(project, "top", "front", inches(30))
    # The counter stands 41 in from the island: 11 in off its wall, and 11 in off it behind is the same.
    assert place(out, "top").gap_mm == pytest.approx(inches(11))
    assert place(clear_typed(project, "top", "back", inches(11)), "top").gap_mm == pytest.approx(inches(11))
    assert clear_typed(project, "island", "front", inches(41)) is project
    with pytest.raises(OutOfRange):
        clear_typed(project, "island", "front", -1.0)
    with pytest.raises(OutOfRange, match="wall behind"):
        clear_typed(project, "top", "front", inches(60))
    with pytest.raises(Refused, match="set in"):
        clear_typed(project, "sink", "left", inches(1))
    with pytest.raises(OutOfRange, match="past an end"):
        clear_typed(project, "top", "left", inches(150))


def test_an_aisle_that_falls_short_is_mended_by_typing_it() -> None:
    # Kitchen guideline 6: a work aisle is at least 42 in (one cook).
    project = two_rooms(household={"cooks_together": 1})
    short = [f for f in check(project, "kitchen") if f.rule == "K6" and f.verdict == "falls short"]
    assert short
    mended = clear_typed(project, "island", "front", inches(42))
    assert not [f for f in check(mended, "kitchen") if f.rule == "K6" and f.verdict == "falls short"]


points = st.floats(-8000, 14_000)


@given(houses(), points, points, st.floats(-360, 360), st.sampled_from(["fine", "coarse"]), st.data())
def test_wherever_it_is_let_go_the_house_holds_and_it_lands_on_a_step(
    project: Project, x: float, y: float, turn: float, step: Any, data: st.DataObject
) -> None:
    if not project.things:
        return
    thing_ = data.draw(st.sampled_from(project.things))
    walls = [None, *(wall.id for space in project.spaces for wall in space.walls)]
    wall = data.draw(st.sampled_from(walls))
    try:
        after = moved(project, thing_.id, x, y, turn, wall, step=step)
    except EnfiladeError:
        return
    after.verified()
    step_mm = STEPS_MM[project.show.units][step]
    landed = after.thing(thing_.id).place
    if isinstance(landed, Free):
        for value in (landed.x_mm, landed.y_mm):
            assert value / step_mm == pytest.approx(round(value / step_mm), abs=1e-3)
        assert abs(landed.x_mm - x) <= step_mm / 2 + 1e-3
        assert abs(landed.y_mm - y) <= step_mm / 2 + 1e-3
    elif isinstance(landed, AgainstWall) and landed != thing_.place:
        from enfilade.editing.things.house import House

        room_mm = House(after).lines[landed.wall].length_mm - thing_.width_mm
        if room_mm >= 0:
            assert -1e-6 <= landed.offset_mm <= room_mm + 1e-6
            on_a_step = landed.offset_mm / step_mm == pytest.approx(round(landed.offset_mm / step_mm), abs=1e-3)
            assert on_a_step or landed.offset_mm == pytest.approx(room_mm, abs=1e-5)
    along = set(goes_along(project, thing_.id))
    for other in project.things:
        if other.id != thing_.id and other.id not in along:
            assert after.thing(other.id) is other


@given(houses(), st.data())
def test_a_thing_that_is_put_where_it_stands_stays_within_a_step(project: Project, data: st.DataObject) -> None:
    if not project.things:
        return
    thing_ = data.draw(st.sampled_from(project.things))
    if isinstance(thing_.place, AgainstWall):
        return  # drawn houses let things stand past the ends of their walls
    pose = where_it_stands(project, thing_.id)
    try:
        after = moved(project, thing_.id, pose.x_mm, pose.y_mm, pose.turn_deg)
    except EnfiladeError:
        return
    if isinstance(after.thing(thing_.id).place, Free):
        there = where_it_stands(after, thing_.id)
        step_mm = STEPS_MM[project.show.units]["fine"]
        assert abs(there.x_mm - pose.x_mm) <= step_mm / 2 + 1e-3
        assert abs(there.y_mm - pose.y_mm) <= step_mm / 2 + 1e-3


@given(houses(), st.floats(-400, 400), st.floats(-400, 400), st.data())
def test_nudges_turns_and_typed_offsets_never_break_a_house(
    project: Project, dx: float, dy: float, data: st.DataObject
) -> None:
    if not project.things:
        return
    thing_ = data.draw(st.sampled_from(project.things))
    side = data.draw(st.sampled_from(["front", "back", "left", "right"]))
    for change in (
        lambda: nudged(project, thing_.id, dx, dy),
        lambda: nudged(project, "window", dx, dy),
        lambda: turned(project, thing_.id, data.draw(st.sampled_from([15, 90, -90, 180]))),
        lambda: offset_typed(project, thing_.id, "right", abs(dx)),
        lambda: offset_typed(project, thing_.id, "right"),
        lambda: clear_typed(project, thing_.id, side, abs(dy)),
    ):
        try:
            after = change()
        except EnfiladeError:
            continue  # refused in words, and never with another error
        after.verified()


@given(houses(), st.floats(0, 900), st.sampled_from(["front", "back", "left", "right"]), st.data())
def test_a_typed_clear_width_is_what_is_then_measured_for_a_free_thing(
    project: Project, wanted: float, side: Any, data: st.DataObject
) -> None:
    from enfilade.editing.things.clear_round import clear_widths_round

    loose = [one for one in project.things if isinstance(one.place, Free)]
    if not loose:
        return
    thing_ = data.draw(st.sampled_from(loose))
    before = clear_widths_round(project, thing_.id)[side]
    try:
        after = clear_typed(project, thing_.id, side, wanted)
    except EnfiladeError:
        return
    found = clear_widths_round(after, thing_.id)[side]
    # What it is measured to may change: it may come over or under another thing, or into another room.
    if before is not None and before.distance_mm > 1 and found is not None and found.id == before.id:
        assert found.distance_mm == pytest.approx(wanted, abs=1e-3)
