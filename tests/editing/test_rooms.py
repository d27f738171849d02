"""Rooms drawn, moved, joined, taped again and taken out; what stands in them goes along, and nothing else changes."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import door, free, house, on_wall, room, thing, window
from enfilade.editing.rooms import (
    USUAL_LINING_MM,
    corner_moved,
    in_the_way,
    outline_by_points,
    overlapping,
    room_from_outline,
    room_from_traverse,
    room_joined,
    room_lined,
    room_moved,
    space_removed,
    wall_lengths,
    wall_re_measured,
)
from enfilade.errors import BadRecord, NotFound, OutOfRange, Refused
from enfilade.geometry.outlines import area_m2
from enfilade.geometry.points import distance
from enfilade.geometry.traverse import Leg
from enfilade.lengths import inches
from enfilade.project.project import Project
from enfilade.project.spaces import Swing
from enfilade.project.standing import opening_segment, stands, wall_segments

EMPTY = Project(id="new", name="New house")
FOUR = [Leg(3600), Leg(4200), Leg(3600), Leg(4200)]


def drawn(name: str = "Kitchen", project: Project = EMPTY, **more) -> tuple[Project, str]:  # type: ignore[no-untyped-def]
    return room_from_traverse(project, name, "kitchen", FOUR, **more)


def two_rooms() -> Project:
    """A kitchen, a hall to the south of it behind a wall of 4 in, and a door between them."""
    return house(
        [thing("island", "island", 60, 30, free(72, 72)),
         thing("base cabinet", "base", 24, 24, on_wall("kitchen-east", 0)),
         thing("table", "bench", 30, 15, free(72, -30), space="hall")],
        spaces=[room(144, 144), room(144, 60, id="hall", use="hall", at=(0, -64))],
        openings=[door("way", "kitchen-south", 50, beyond="hall-north", swing={"hinge": "left", "into": "this side"}),
                  window("look-out", "kitchen-west", 50)],
    )  # fmt: skip


# Drawing


def test_the_first_room_stands_at_the_origin_with_walls_by_the_compass() -> None:
    project, id = drawn(ceiling_mm=2400)
    space = project.space(id)
    assert (id, space.name, space.use, space.ceiling_mm) == ("kitchen", "Kitchen", "kitchen", 2400)
    assert space.outline == ((0, 0), (0, 3600), (4200, 3600), (4200, 0))
    assert [wall.name for wall in space.walls] == ["west wall", "north wall", "east wall", "south wall"]
    assert [wall.id for wall in space.walls] == ["kitchen-west", "kitchen-north", "kitchen-east", "kitchen-south"]
    assert (space.measured_to, space.lining_mm, space.basis) == ("finish", 0, "measured")


def test_further_rooms_stand_beside_the_others_under_names_of_their_own() -> None:
    project, _ = drawn()
    project, second = drawn(project=project)
    project, third = drawn("Hall", project)
    assert second == "kitchen-2"
    assert not any(overlapping(project, space.id) for space in project.spaces)
    assert len(set(project.walls_by_id)) == 12
    assert project.space(third).outline[0][0] > max(x for x, _ in project.space(second).outline)


def test_a_room_may_be_put_where_it_stands() -> None:
    project, id = drawn(start=(500, -200), heading_deg=0)
    assert project.space(id).outline == ((500, -200), (4100, -200), (4100, -4400), (500, -4400))


def test_a_room_taped_to_its_framing_is_smaller_by_the_lining() -> None:
    project, id = drawn(measured_to="framing", lining_mm=12.7)
    space = project.space(id)
    assert wall_lengths(space) == pytest.approx((3574.6, 4174.6, 3574.6, 4174.6))
    assert (space.measured_to, space.lining_mm, space.lining_basis) == ("framing", 12.7, "assumed")
    assert min(min(point) for point in space.outline) == 0
    unread, id = drawn(measured_to="finish", lining_mm=12.7)
    assert unread.space(id).lining_mm == 0


def test_walls_that_are_not_four_are_numbered() -> None:
    legs = [Leg(4000), Leg(3000), Leg(2000, 90), Leg(2000), Leg(2000), Leg(5000)]
    project, id = room_from_traverse(EMPTY, "L", "other", legs)
    assert [wall.name for wall in project.space(id).walls] == [f"wall {n}" for n in range(1, 7)]
    assert project.space(id).walls[0].id == "l-wall-1"


def test_the_error_is_taken_up_by_the_last_wall_or_spread() -> None:
    legs = [Leg(3600), Leg(4200), Leg(3588), Leg(4200)]
    plain, id = room_from_traverse(EMPTY, "Kitchen", "kitchen", legs)
    assert wall_lengths(plain.space(id))[:3] == pytest.approx((3600, 4200, 3588))
    even, id = room_from_traverse(EMPTY, "Kitchen", "kitchen", legs, spread=True)
    west, north, east, south = wall_lengths(even.space(id))
    assert west == pytest.approx(east)
    assert west == pytest.approx(3600 - 12 * 3600 / 7188)  # transit rule: shared by length along the axis
    assert (north, south) == pytest.approx((4200, 4200))


def test_walls_that_do_not_come_round_make_no_room() -> None:
    with pytest.raises(Refused, match="do not come back to where they began: 4200 mm are missing"):
        room_from_traverse(EMPTY, "Kitchen", "kitchen", FOUR[:3])
    project, _ = room_from_traverse(EMPTY, "Kitchen", "kitchen", [*FOUR[:3], Leg(None)])
    assert area_m2(project.spaces[0].outline) == pytest.approx(15.12)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"name": "  "}, "has no name"),
        ({"use": "ballroom"}, "ballroom"),
        ({"ceiling_mm": -1}, "ceiling_mm"),
        ({"measured_to": "framing", "lining_mm": -1}, "a lining of -1 mm"),
        ({"measured_to": "framing", "lining_mm": math.nan}, "a lining of nan mm"),
        ({"measured_to": "framing", "lining_mm": 1800}, "no room is left"),
    ],
)
def test_a_room_that_cannot_stand_is_refused(more: dict[str, object], words: str) -> None:
    given = {"name": "Kitchen", "use": "kitchen", "legs": FOUR} | more
    with pytest.raises((Refused, BadRecord), match=words):
        room_from_traverse(EMPTY, **given)  # type: ignore[arg-type]


def test_rooms_that_stand_already_stay_the_same_objects() -> None:
    before = two_rooms()
    after, _ = drawn("Study", before)
    assert [a is b for a, b in zip(before.spaces, after.spaces[:2], strict=True)] == [True, True]
    assert after.things is before.things


# Over a scanned plan


def test_walls_that_were_drawn_nearly_square_become_square() -> None:
    outline = outline_by_points(EMPTY, [(3, 0), (4002, 10), (3998, 3005), (0, 2996), (3, 0)])
    assert len(outline) == 4
    for a, b in zip(outline, [*outline[1:], outline[0]], strict=True):
        assert min(abs(a[0] - b[0]), abs(a[1] - b[1])) < 1e-6
    assert max(distance(a, b) for a, b in zip(outline, [(3, 0), (4002, 10), (3998, 3005), (0, 2996)], strict=True)) < 15


def test_walls_that_are_not_square_stay_as_they_were_drawn() -> None:
    bay = [(0.0, 0.0), (3000.0, 0.0), (3500.0, 800.0), (3000.0, 2000.0), (0.0, 2000.0)]
    assert outline_by_points(EMPTY, bay) == tuple(bay)
    slanting = [(0.0, 0.0), (4000.0, 20.0), (3990.0, 3000.0), (0.0, 3000.0)]
    assert outline_by_points(EMPTY, slanting, square=False) == tuple(slanting)


def test_a_turned_house_tells_which_way_is_square() -> None:
    c, s = math.cos(math.radians(30)), math.sin(math.radians(30))
    turned = [(c * x - s * y, s * x + c * y) for x, y in [(0, 0), (6000, 0), (6000, 4000), (0, 4000)]]
    project, _ = room_from_outline(EMPTY, "Barn", "other", turned)
    nearly = [(c * x - s * y + dx, s * x + c * y + dx) for (x, y), dx in
              zip([(9000, 0), (12000, 0), (12000, 2000), (9000, 2000)], (0, 8, -5, 3), strict=True)]  # fmt: skip
    a, b, *_ = outline_by_points(project, nearly)
    assert math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) == pytest.approx(30)


def test_corners_that_cross_are_refused() -> None:
    with pytest.raises(Refused, match="cross near"):
        outline_by_points(EMPTY, [(0, 0), (1000, 1000), (1000, 0), (0, 1000)])
    with pytest.raises(Refused, match="at least 3 corners"):
        outline_by_points(EMPTY, [(0, 0), (1000, 1000)])


# Moving and joining


def test_a_room_moves_with_all_that_stands_in_it() -> None:
    before = house(
        [
            thing("island", "island", 60, 30, free(72, 72)),
            thing("base cabinet", "base", 24, 24, on_wall("kitchen-east", 0)),
        ]
    )
    after = room_moved(before, "kitchen", 1000, -500)
    for id, stand in stands(before.things, wall_segments(before.spaces)).items():
        new = stands(after.things, wall_segments(after.spaces))[id].box
        assert (new.x - stand.box.x, new.y - stand.box.y) == pytest.approx((1000, -500))


def test_a_room_is_not_moved_away_from_its_door() -> None:
    with pytest.raises(Refused, match="door would no longer lead to Hall"):
        room_moved(two_rooms(), "kitchen", 10_000, 0)
    with pytest.raises(OutOfRange):
        room_moved(two_rooms(), "kitchen", math.inf, 0)
    with pytest.raises(NotFound):
        room_moved(two_rooms(), "attic", 0, 0)


def test_a_room_is_joined_so_that_a_door_can_be_put_between() -> None:
    project, _ = drawn()
    project, hall = room_from_traverse(project, "Hall", "hall", [Leg(1500), Leg(3000), Leg(1500), Leg(3000)])
    joined = room_joined(project, hall, "hall-west", "kitchen-east", offset_mm=600, thickness_mm=120)
    # The kitchen's east wall, seen from inside, begins on the left at its north end.
    assert joined.space(hall).outline[0] == pytest.approx((4320, 3000 - 1500))
    assert joined.space(hall).outline[1] == pytest.approx((4320, 3000))
    assert not overlapping(joined, hall)
    with_door = joined.with_records(openings=[door("way", "kitchen-east", inches(0) + 30, beyond="hall-west")])
    assert with_door.openings


def test_a_room_is_turned_when_its_wall_looks_the_same_way() -> None:
    project, _ = drawn()
    project, hall = room_from_traverse(project, "Hall", "hall", [Leg(1500), Leg(3000), Leg(1500), Leg(3000)])
    table = {
        **thing("table", "table", 20, 10, free(0, 0, 30), space=hall),
        "place": {"how": "free", "x_mm": 5500.0, "y_mm": 500.0, "turn_deg": 30.0},
    }
    project = project.with_records(things=[table])
    joined = room_joined(project, hall, "hall-east", "kitchen-east", offset_mm=0, thickness_mm=100)
    space = joined.space(hall)
    assert min(x for x, _ in space.outline) == pytest.approx(4300)
    assert max(y for _, y in space.outline) == pytest.approx(3600)
    assert [wall.name for wall in space.walls] == ["east wall", "south wall", "west wall", "north wall"]
    assert joined.things[0].place.turn_deg == pytest.approx(210)  # type: ignore[union-attr]
    lines = wall_segments(joined.spaces)
    assert lines["hall-east"].direction == pytest.approx((0, 1))
    assert lines["kitchen-east"].direction == pytest.approx((0, -1))


def test_what_cannot_be_joined_is_refused() -> None:
    project, hall = drawn("Hall", drawn()[0])
    for wall, beyond in (("kitchen-east", "kitchen-west"), ("hall-east", "hall-west"), ("kitchen-east", "hall-west")):
        with pytest.raises(Refused, match="joined to itself"):
            room_joined(project, hall, wall, beyond)
    with pytest.raises(Refused, match="do not stand behind each other"):
        room_joined(project, hall, "hall-west", "kitchen-east", offset_mm=3600)
    with pytest.raises(OutOfRange, match="-5 mm thick"):
        room_joined(project, hall, "hall-west", "kitchen-east", thickness_mm=-5)
    with pytest.raises(NotFound):
        room_joined(project, hall, "hall-west", "attic-east")


# Taping a wall again


def test_the_wall_across_takes_the_new_length_too_and_things_go_along() -> None:
    before = two_rooms()
    after = wall_re_measured(before, "kitchen-west", inches(150), keeps="left")
    assert wall_lengths(after.space("kitchen")) == pytest.approx([inches(144), inches(150), inches(144), inches(150)])
    assert (
        after.space("kitchen").outline[0] == before.space("kitchen").outline[0]
    )  # its left end, the south-west corner
    box = stands(after.things, wall_segments(after.spaces))["base"].box
    was = stands(before.things, wall_segments(before.spaces))["base"].box
    assert (box.x, box.y) == pytest.approx((was.x, was.y + inches(6)))  # its offset is from the left end, which moved
    assert after.space("hall") is before.space("hall")


def test_either_end_may_be_the_one_that_stays() -> None:
    before = two_rooms()
    right = wall_re_measured(before, "kitchen-south", inches(150), keeps="right")
    assert right.space("kitchen").outline[0] == pytest.approx((0, 0))  # seen from inside, the right end is the west one
    assert right.space("kitchen").outline[1] == pytest.approx((inches(150), 0))
    left = wall_re_measured(before, "kitchen-south", inches(150), keeps="left")
    assert left.space("kitchen").outline[1] == pytest.approx((inches(144), 0))
    assert left.space("kitchen").outline[0] == pytest.approx((inches(-6), 0))


def test_a_room_beyond_the_wall_that_moves_goes_along_with_what_stands_in_it() -> None:
    before = two_rooms()
    after = wall_re_measured(before, "kitchen-west", inches(150), keeps="right")  # the south wall moves down by 6 in
    assert after.space("kitchen").outline[0] == pytest.approx((0, inches(-6)))
    assert after.space("hall").outline[0] == pytest.approx((0, inches(-70)))
    bench = stands(after.things, wall_segments(after.spaces))["bench"].box
    assert (bench.x, bench.y) == pytest.approx((inches(72), inches(-36)))
    alone = wall_re_measured(before, "kitchen-west", inches(150), keeps="right", neighbours=False)
    assert alone.space("hall") is before.space("hall")
    assert overlapping(alone, "kitchen") == ("Hall",)


def test_a_room_that_other_walls_hold_stays() -> None:
    before = house(
        spaces=[
            room(144, 144),
            room(144, 60, id="hall", use="hall", at=(0, -64)),
            room(60, 208, id="study", use="study", at=(148, -64)),
        ]
    )
    after = wall_re_measured(before, "kitchen-west", inches(150), keeps="right")
    assert after.space("hall") is before.space("hall")
    assert after.space("study") is before.space("study")


def test_what_would_lose_its_place_is_told_by_name() -> None:
    with pytest.raises(Refused, match="island would stand outside its room"):
        wall_re_measured(two_rooms(), "kitchen-south", inches(60), keeps="right")
    narrow = house(openings=[window("look-out", "kitchen-west", 100, name="river window")])
    with pytest.raises(Refused, match="river window would no longer fit its wall"):
        wall_re_measured(narrow, "kitchen-west", inches(120))
    with pytest.raises(OutOfRange, match="of 0 mm"):
        wall_re_measured(narrow, "kitchen-west", 0)
    with pytest.raises(NotFound):
        wall_re_measured(narrow, "attic-west", 1000)


def test_a_wall_cannot_push_another_one_away() -> None:
    legs = [Leg(4000), Leg(3000), Leg(2000, 90), Leg(2000), Leg(2000), Leg(5000)]
    project, id = room_from_traverse(EMPTY, "L", "other", legs)
    longer = wall_re_measured(project, "l-wall-2", 3500, keeps="left")
    assert wall_lengths(longer.space(id)) == pytest.approx((4000, 3500, 2000, 1500, 2000, 5000))
    with pytest.raises(Refused, match="another wall of L would vanish"):
        wall_re_measured(project, "l-wall-2", 5100, keeps="left")


sides = st.integers(1000, 9000)


@settings(max_examples=60)
@given(
    sides,
    sides,
    st.integers(0, 3),
    st.integers(500, 12_000),
    st.sampled_from(["left", "right"]),
    st.sampled_from([-90, 90]),
    st.integers(0, 359),
)
def test_a_wall_taped_again_has_its_length_and_every_corner_its_angle(
    width, depth, wall, length, keeps, turn, heading
) -> None:  # type: ignore[no-untyped-def]
    legs = [Leg(width, turn), Leg(depth, turn), Leg(width, turn), Leg(depth, turn)]
    project, id = room_from_traverse(EMPTY, "Room", "other", legs, (0, 0), heading)
    space = project.space(id)
    after = wall_re_measured(project, space.walls[wall].id, length, keeps).space(id)
    lengths = wall_lengths(after)
    assert lengths[wall] == pytest.approx(length)
    assert lengths[(wall + 2) % 4] == pytest.approx(length)
    assert lengths[(wall + 1) % 4] == pytest.approx(wall_lengths(space)[(wall + 1) % 4])
    assert area_m2(after.outline) == pytest.approx(length * lengths[(wall + 1) % 4] / 1e6)
    before_line, line = wall_segments([space])[space.walls[wall].id], wall_segments([after])[space.walls[wall].id]
    assert line.direction == pytest.approx(before_line.direction)
    kept = (before_line.a, line.a) if keeps == "left" else (before_line.b, line.b)
    assert distance(*kept) < 1e-6


def test_a_wall_under_two_names_moves_as_one() -> None:
    split = [(0, 0), (2000, 0), (4000, 0), (4000, 3000), (0, 3000)]
    project, id = room_from_outline(EMPTY, "Room", "other", split)
    first = project.space(id).walls[0].id
    after = wall_re_measured(project, first, 2500, keeps="right")
    assert after.space(id).outline[:3] == ((0, 0), (2500, 0), (4500, 0))
    grown = wall_re_measured(project, first, 2500, keeps="left")
    assert grown.space(id).outline[0] == pytest.approx((-500, 0))
    tall = wall_re_measured(project, project.space(id).walls[4].id, 3300, keeps="right")
    assert tall.space(id).outline[:3] == ((0, -300), (2000, -300), (4000, -300))


# Corners and linings


def test_a_corner_may_be_moved_alone() -> None:
    project, id = drawn()
    after = corner_moved(project, id, 2, (4300, 3650))
    assert after.space(id).outline == ((0, 0), (0, 3600), (4300, 3650), (4200, 0))
    with pytest.raises(Refused, match="cross"):
        corner_moved(project, id, 2, (-500, 1000))
    with pytest.raises(NotFound, match="corner 5"):
        corner_moved(project, id, 4, (0, 0))
    assert corner_moved(project, id, 2, (4200, 3600)) is project


def test_another_lining_moves_the_finished_faces_and_not_the_framing() -> None:
    project, id = drawn(start=(0, 0), measured_to="framing", lining_mm=USUAL_LINING_MM)
    after = room_lined(project, id, 30)
    assert after.space(id).outline == tuple(
        pytest.approx(point) for point in ((30, 30), (30, 3570), (4170, 3570), (4170, 30))
    )
    assert (after.space(id).lining_mm, after.space(id).lining_basis) == (30, "measured")
    with pytest.raises(Refused, match="finished faces"):
        room_lined(drawn()[0], "kitchen", 10)


# Taking a room out


def test_a_room_that_is_not_empty_is_kept_unless_asked() -> None:
    with pytest.raises(Refused, match="Kitchen is not empty: 2 things, 1 opening"):
        space_removed(two_rooms(), "kitchen")
    assert in_the_way(two_rooms(), "hall") == ("1 thing",)


def test_a_door_stays_with_the_other_room() -> None:
    before = two_rooms()
    after = space_removed(before, "kitchen", with_all=True)
    assert [space.id for space in after.spaces] == ["hall"]
    assert [one.id for one in after.things] == ["bench"]
    (way,) = after.openings
    assert (way.wall, way.beyond) == ("hall-north", None)
    assert way.swing == Swing(hinge="right", into="other side")
    here = opening_segment(before.openings[0], wall_segments(before.spaces)["kitchen-south"])
    there = opening_segment(way, wall_segments(after.spaces)["hall-north"])
    assert there.midpoint[0] == pytest.approx(here.midpoint[0])


def test_what_named_the_room_names_it_no_longer() -> None:
    before = house(
        [thing("light", "lamp", 10, 10, free(72, 72)),
         thing("switch", "switch", 4, 1, on_wall("hall-north", 10), space="hall", controls=["lamp"])],
        spaces=[room(144, 144), room(144, 60, id="hall", use="hall", at=(0, -64))],
        brief={"text": "", "needs": [{"id": "sink", "number": 1, "text": "A sink.", "spaces": ["kitchen", "hall"]}]},
        decisions=[{"id": "d", "number": 1, "title": "Light", "spaces": ["kitchen"], "things": ["lamp", "switch"]}],
        script=[{"id": "stop", "space": "kitchen", "lines": ["Here."]}],
    )  # fmt: skip
    after = space_removed(before, "kitchen", with_all=True)
    assert after.thing("switch").controls == ()  # type: ignore[attr-defined]
    assert after.decisions[0].spaces == ()
    assert after.decisions[0].things == ("switch",)
    assert after.brief.needs[0].spaces == ("hall",)
    assert after.script == ()


def test_an_empty_room_goes_without_asking() -> None:
    project, id = drawn()
    assert space_removed(project, id).spaces == ()
    with pytest.raises(NotFound):
        space_removed(project, "attic")
