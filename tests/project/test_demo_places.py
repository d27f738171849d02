"""What stands in the demo house could stand there, and one can walk through it."""

from __future__ import annotations

from collections import deque
from itertools import pairwise

import pytest
import shapely

from enfilade.checks.view import House
from enfilade.lengths import inches
from enfilade.project.demo import demo
from enfilade.project.standing import Stand

RIVER_ROOMS = ["entry", "dining", "kitchen", "hearth", "bedroom"]


@pytest.fixture(scope="module")
def house() -> House:
    return House(demo())


def test_one_can_walk_from_the_front_door_to_every_space(house: House) -> None:
    (front_door,) = [door for door in house.doorways["entry"] if door.opening is not None and door.opening.entry]
    assert front_door.passage
    reached, ahead = {"entry"}, deque(["entry"])
    while ahead:
        for door in house.doorways[ahead.popleft()]:
            if door.passage and door.beyond is not None and door.beyond not in reached:
                reached.add(door.beyond)
                ahead.append(door.beyond)
    assert reached == {space.id for space in demo().spaces}


def test_the_doors_of_the_river_rooms_line_up(house: House) -> None:
    seen = []
    for near, far in pairwise(RIVER_ROOMS):
        (door,) = [door for door in house.doorways[near] if door.passage and door.beyond == far]
        seen.append(sorted(point[1] for point in (door.segment.a, door.segment.b)))
    front = next(door for door in house.doorways["entry"] if door.id == "front-door")
    seen.append(sorted(point[1] for point in (front.segment.a, front.segment.b)))
    left = max(low for low, _ in seen)
    right = min(high for _, high in seen)
    # One looks through all five doors over the whole width of the narrowest, which is 36 in.
    assert right - left == pytest.approx(inches(36))
    # and nothing that stands as high as an eye is in the way
    view = shapely.box(0, left, max(x for x, _ in demo().space("bedroom").outline), right)
    in_the_way = [
        stand.id
        for stand in house.standing.values()
        if stand.thing.bottom_mm < 1500 < stand.thing.top_mm
        and stand.thing.space != "bedroom"
        and stand.box.polygon.intersection(view).area > 1.0
    ]
    assert in_the_way == []


def test_both_sides_of_an_opening_face_each_other_across_a_wall(house: House) -> None:
    thicknesses = []
    for space, doors in house.doorways.items():
        for door in doors:
            if door.opening is None or door.beyond is None or door.opening.wall != door.wall:
                continue
            (far,) = [d for d in house.doorways[door.beyond] if d.id == door.id]
            assert door.segment.length_mm == pytest.approx(far.segment.length_mm), (space, door.id)
            near_middle, far_middle = door.segment.midpoint, far.segment.midpoint
            thicknesses.append(shapely.Point(near_middle).distance(shapely.Point(far_middle)))
    assert len(thicknesses) == 7
    assert all(thickness == pytest.approx(inches(5)) for thickness in thicknesses)


def _related(a: Stand, b: Stand) -> bool:
    """Tell whether two things may share a place: one set in the other, a basin in its cabinet, what stands on a rug."""
    if getattr(a.thing.place, "host", None) == b.id or getattr(b.thing.place, "host", None) == a.id:
        return True
    kinds = {a.thing.kind, b.thing.kind}
    return kinds == {"sink", "base cabinet"} or "rug" in kinds


def test_no_two_solid_things_share_a_place(house: House) -> None:
    stands = list(house.standing.values())
    shapes = [stand.box.polygon for stand in stands]
    first, second = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    clashes = []
    for i, j in zip(first.tolist(), second.tolist(), strict=True):
        a, b = stands[i], stands[j]
        high = min(a.thing.top_mm, b.thing.top_mm) - max(a.thing.bottom_mm, b.thing.bottom_mm)
        if i < j and high > 1.0 and not _related(a, b) and shapes[i].intersection(shapes[j]).area > 100.0:
            clashes.append((a.id, b.id))
    assert clashes == []


def test_everything_stands_inside_its_room_below_its_ceiling(house: House) -> None:
    for space in demo().spaces:
        # Bay bench and window stools may touch a face; a millimetre is for rounding.
        floor = shapely.Polygon(space.outline).buffer(1.0, join_style="mitre")
        for stand in house.by_space[space.id]:
            outside = stand.box.polygon.difference(floor).area
            assert outside < 100.0, (stand.id, outside)
            assert stand.thing.top_mm <= (space.ceiling_mm or 0.0), stand.id


def test_sizes_are_whole_sixteenths_of_an_inch() -> None:
    for thing in demo().things:
        for size in (thing.width_mm, thing.depth_mm, thing.bottom_mm, thing.top_mm):
            sixteenths = size / 25.4 * 16
            assert sixteenths == pytest.approx(round(sixteenths), abs=1e-3), (thing.id, size)
