"""Shortest walks, and how much of a straight line things stand in."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from enfilade.geometry import Box, WalkNet, free_floor, length_inside

from .placing import Placing, placings

ROOM = [(0.0, 0.0), (6000.0, 0.0), (6000.0, 4000.0), (0.0, 4000.0)]
ISLAND = Box(3000, 2000, 2000, 1000)


def test_round_an_island() -> None:
    net = WalkNet(free_floor(ROOM, [ISLAND.polygon]))
    walk = net.walk((3000.0, 1000.0), (3000.0, 3000.0))
    assert walk is not None
    # to the corner (2000, 1500), along its end, and back: 2 sqrt(1000^2 + 500^2) + 1000
    assert walk.length_mm == pytest.approx(2 * math.hypot(1000, 500) + 1000, abs=1e-6)
    assert len(walk.points) == 4


def test_round_the_corner_of_an_l_shaped_room_drawn_either_way() -> None:
    ring = [(0.0, 0.0), (5000.0, 0.0), (5000.0, 2000.0), (2000.0, 2000.0), (2000.0, 4000.0), (0.0, 4000.0)]
    for outline in (ring, ring[::-1]):
        for floor in (Polygon(outline), free_floor(outline, [])):
            walk = WalkNet(floor).walk((5000.0, 1000.0), (1000.0, 4000.0))
            assert walk is not None
            assert walk.length_mm == pytest.approx(math.hypot(3000, 1000) + math.hypot(1000, 2000), abs=1e-6)


def test_a_free_line_is_the_walk() -> None:
    net = WalkNet(free_floor(ROOM, [ISLAND.polygon]))
    walk = net.walk((500.0, 500.0), (5500.0, 500.0))
    assert walk is not None
    assert walk.points == ((500.0, 500.0), (5500.0, 500.0))
    assert walk.length_mm == 5000.0


def test_a_wide_body_keeps_off_the_corners_and_out_of_narrow_gaps() -> None:
    free = free_floor(ROOM, [ISLAND.polygon])
    walk = WalkNet(free, 600).walk((3000.0, 1000.0), (3000.0, 3000.0))
    assert walk is not None
    # 300 round each corner: two tangents from 1000 x 500 away, two arcs, and the end of 1000;
    # arcs are polygons of 15 degrees a side, 0.3 % short, and the body 0.8 mm slimmer
    tangent = math.sqrt(1000**2 + 500**2 - 300**2)
    turn = math.pi / 2 - (math.atan2(500, 1000) - math.asin(300 / math.hypot(1000, 500)))
    assert walk.length_mm == pytest.approx(2 * tangent + 1000 + 2 * 300 * turn, abs=3.5)
    gap = free_floor(ROOM, [Box(3000, 900, 100, 1800).polygon, Box(3000, 3250, 100, 1500).polygon])  # 700 between
    assert WalkNet(gap, 699).walk((500.0, 500.0), (5500.0, 500.0)) is not None
    assert WalkNet(gap, 700).walk((500.0, 500.0), (5500.0, 500.0)) is not None
    assert WalkNet(gap, 702).walk((500.0, 500.0), (5500.0, 500.0)) is None


def test_no_walk_through_a_closed_wall_nor_between_touching_things() -> None:
    wall = [Box(3000, 1000, 100, 2000).polygon, Box(3000, 3000, 100, 2000).polygon]
    net = WalkNet(free_floor(ROOM, wall))
    assert net.walk((500.0, 500.0), (5500.0, 500.0)) is None
    assert net.walk((500.0, 500.0), (2500.0, 3900.0)) is not None


def test_ends_off_the_floor_are_put_on_it_or_refused() -> None:
    net = WalkNet(free_floor(ROOM, [ISLAND.polygon]))
    walk = net.walk((3000.0, 1520.0), (3000.0, 500.0))  # 20 inside the island's front
    assert walk is not None
    assert walk.length_mm == pytest.approx(1000.0)
    assert net.walk((3000.0, 1800.0), (3000.0, 500.0)) is None
    assert WalkNet(free_floor(ROOM, [Box(3000, 2000, 9000, 9000).polygon])).walk((0.0, 0.0), (1.0, 1.0)) is None


things = st.lists(
    st.tuples(st.floats(500, 5500), st.floats(500, 3500), st.floats(100, 1500), st.floats(0, 90)), max_size=8
)


@given(things, placings)
@settings(max_examples=30, deadline=None)
def test_a_walk_is_never_shorter_than_the_line_stays_free_and_turns_with_the_house(
    rows: list[tuple[float, float, float, float]], placing: Placing
) -> None:
    boxes = [Box(x, y, size, size / 2, turn) for x, y, size, turn in rows]
    free = free_floor(ROOM, [b.polygon for b in boxes])
    net = WalkNet(free)
    a, b = net.snapped((100.0, 100.0)), net.snapped((5900.0, 3900.0))
    if a is None or b is None:
        return
    walk = net.walk(a, b)
    moved = WalkNet(free_floor(placing.points(ROOM), [placing.box(x).polygon for x in boxes]))
    there = moved.walk(placing.point(a), placing.point(b))
    assert (walk is None) == (there is None)
    if walk is None or there is None:
        return
    assert walk.length_mm >= math.dist(a, b) - 1e-9
    assert there.length_mm == pytest.approx(walk.length_mm, abs=1e-2)
    blocked = length_inside(a, b, [x.polygon for x in boxes])
    if blocked == 0.0:
        assert walk.length_mm == pytest.approx(math.dist(a, b), abs=1e-2)
    for p, q in zip(walk.points, walk.points[1:], strict=False):
        assert length_inside(p, q, [x.grown(-1).polygon for x in boxes if x.depth_mm > 4]) == 0.0
    back = net.walk(b, a)
    assert back is not None
    assert back.length_mm == pytest.approx(walk.length_mm, abs=1e-6)


def test_length_inside_counts_once_and_not_along_an_edge() -> None:
    a, b = (0.0, 0.0), (3000.0, 0.0)
    first, second = Box(500, 0, 400, 200).polygon, Box(600, 0, 400, 200).polygon
    assert length_inside(a, b, [first]) == pytest.approx(400)
    assert length_inside(a, b, [first, second]) == pytest.approx(500)
    assert length_inside(a, b, [Box(500, 100, 400, 200).polygon]) == 0.0
    assert length_inside(a, b, [Box(500, 100, 400, 200).polygon, Box(1500, -100, 400, 200).polygon]) == 0.0
    assert length_inside(a, b, []) == 0.0
    # between two that touch, the line runs inside what they make up
    assert length_inside(a, b, [Box(500, 100, 400, 200).polygon, Box(500, -100, 400, 200).polygon]) == pytest.approx(
        400
    )


@given(placings)
@settings(max_examples=25, deadline=None)
def test_length_inside_turns_with_the_house(placing: Placing) -> None:
    shapes = [Box(500, 0, 400, 200), Box(1500, 100, 400, 200), Box(2000, 20, 300, 300, 33)]
    here = length_inside((0.0, 0.0), (3000.0, 0.0), [b.polygon for b in shapes])
    there = length_inside(
        placing.point((0.0, 0.0)), placing.point((3000.0, 0.0)), [placing.box(b).polygon for b in shapes]
    )
    assert there == pytest.approx(here, abs=1e-6)
