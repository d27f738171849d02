"""Walls taped again, corners moved, another lining, a room taken out: what stands there goes along or is told."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import door, free, house, on_wall, room, thing, window
from enfilade.editing.rooms.rooms import (
    USUAL_LINING_MM,
    corner_moved,
    in_the_way,
    overlapping,
    room_from_outline,
    room_from_traverse,
    room_lined,
    space_removed,
    wall_lengths,
    wall_re_measured,
)
from enfilade.errors import NotFound, OutOfRange, Refused
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
