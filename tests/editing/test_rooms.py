"""Rooms drawn, moved, joined, taped again and taken out; what stands in them goes along, and nothing else changes."""

from __future__ import annotations

import math

import pytest
import shapely

from building import door, free, house, on_wall, room, thing, window
from enfilade.editing.rooms.room_records import _shared_mm2
from enfilade.editing.rooms.rooms import (
    outline_by_points,
    overlapping,
    room_from_outline,
    room_from_traverse,
    room_joined,
    room_moved,
    wall_lengths,
)
from enfilade.errors import BadRecord, NotFound, OutOfRange, Refused
from enfilade.geometry.insets import inset
from enfilade.geometry.outlines import area_m2
from enfilade.geometry.points import distance
from enfilade.geometry.traverse import Leg
from enfilade.lengths import inches
from enfilade.project.project import Project
from enfilade.project.standing import stands, wall_segments

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


def test_floors_that_are_all_but_the_same_share_their_floor() -> None:
    ways = [2.0 + math.pi * i / 4 for i in range(8)]
    tower = [(3000 * math.cos(way), 3000 * math.sin(way)) for way in ways]
    # The same octagon twice, by two ways of working it out; without a grid the library finds nothing that they share.
    lined = shapely.Polygon(inset(tower, 2.0))
    again = shapely.Polygon(tower).buffer(-2.0, join_style="mitre", mitre_limit=100)
    assert _shared_mm2(lined, again) == pytest.approx(again.area)
