"""What is seen from where."""

from __future__ import annotations

import math
import random

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from enfilade.errors import OutOfRange
from enfilade.geometry import Box, Point, sees, visible_region

from .placing import Placing, placings

ROOM = [(0.0, 0.0), (6000.0, 0.0), (6000.0, 4000.0), (0.0, 4000.0)]
L_ROOM = [(0.0, 0.0), (5000.0, 0.0), (5000.0, 2000.0), (2000.0, 2000.0), (2000.0, 4000.0), (0.0, 4000.0)]


def test_seeing_past_and_along_an_edge() -> None:
    post = [Box(1000, 0, 400, 400).polygon]
    assert not sees((0.0, 0.0), (2000.0, 0.0), post)
    assert sees((0.0, 200.0), (2000.0, 200.0), post)
    assert sees((0.0, 0.0), (700.0, 0.0), post)
    assert sees((0.0, 0.0), (2000.0, 0.0), [])


def test_an_empty_room_is_seen_whole_from_anywhere() -> None:
    for eye in ((1000.0, 1000.0), (0.0, 0.0), (3000.0, 0.0), (6000.0, 4000.0)):
        assert visible_region(eye, ROOM).symmetric_difference(Polygon(ROOM)).area < 1e-3


def test_round_the_corner_of_an_l_shaped_room() -> None:
    # from (5000, 0) past the corner (2000, 2000): the line meets x = 0 at y = 5000 * 2/3 = 3333.3
    seen = visible_region((5000.0, 0.0), L_ROOM)
    hidden = (4000 - 10000 / 3 + 4000 - 2000) / 2 * 2000
    assert seen.area == pytest.approx(14e6 - hidden, abs=1e-3)
    assert seen.is_valid


def test_a_post_hides_the_trapezium_behind_it() -> None:
    # eye 1000 before a face 400 wide; 400 further behind it lies the wall side, 4000 from the eye 1600 wide
    seen = visible_region((2000.0, 2000.0), ROOM, [Box(3200, 2000, 400, 400).polygon])
    shadow = (400 + 1600) / 2 * 3000  # from x = 3000 to the wall at x = 6000
    assert seen.area == pytest.approx(24e6 - shadow, abs=1e-3)


def test_what_one_sits_on_does_not_hide_the_room() -> None:
    assert visible_region((2000.0, 2000.0), ROOM, [Box(2000, 2000, 900, 900).polygon]).area == pytest.approx(24e6)


def test_an_eye_outside_is_refused() -> None:
    with pytest.raises(OutOfRange, match="outside the room"):
        visible_region((-10.0, 0.0), ROOM)


things = st.lists(
    st.tuples(st.floats(300, 5700), st.floats(300, 3700), st.floats(100, 1200), st.floats(0, 90)), max_size=6
)


@given(things, st.tuples(st.floats(10, 5990), st.floats(10, 3990)), placings, st.randoms(use_true_random=False))
@settings(max_examples=30, deadline=None)
def test_a_point_is_in_the_region_when_it_is_seen(
    rows: list[tuple[float, float, float, float]], eye: Point, placing: Placing, luck: random.Random
) -> None:
    boxes = [Box(x, y, size, size / 2, turn) for x, y, size, turn in rows]
    blocks = [b.polygon for b in boxes if b.polygon.distance(shapely.Point(eye)) > 1]
    seen = visible_region(eye, ROOM, blocks)
    for _ in range(20):
        other = (luck.uniform(0, 6000), luck.uniform(0, 4000))
        if seen.boundary.distance(shapely.Point(other)) > 2:
            assert seen.contains(shapely.Point(other)) == sees(eye, other, blocks)
    moved = [placing.box(b).polygon for b in boxes if b.polygon.distance(shapely.Point(eye)) > 1]
    there = visible_region(placing.point(eye), placing.points(ROOM), moved)
    assert math.sqrt(there.area) == pytest.approx(math.sqrt(seen.area), abs=1e-3)


@given(placings)
@settings(max_examples=25, deadline=None)
def test_cabinets_side_by_side_against_a_wall_hide_the_same_in_a_turned_house(placing: Placing) -> None:
    row = [Box(x + 250, 300, 500, 600, 180) for x in range(0, 3000, 500)]
    island = Box(3500, 2500, 1000, 1000)
    eye = (3500.0, 3500.0)
    here = visible_region(eye, ROOM, [b.polygon for b in [*row, island]])
    there = visible_region(placing.point(eye), placing.points(ROOM), [placing.box(b).polygon for b in [*row, island]])
    assert there.area == pytest.approx(here.area, abs=1e-1)
    # past (3000, 3000) the view falls 1 in 1 and meets the row's front, y = 600, at x = 600; past (4000, 3000)
    # it meets the east wall at y = 1000
    seen_left = Polygon([eye, (3500, 4000), (0, 4000), (0, 600), (600, 600), (3000, 3000)]).area
    seen_right = Polygon([eye, (4000, 3000), (6000, 1000), (6000, 4000), (3500, 4000)]).area
    front = Polygon([eye, (3000, 3000), (4000, 3000)]).area
    assert here.area == pytest.approx(seen_left + seen_right + front, abs=1e-1)


def test_agrees_with_an_independent_visibility_library() -> None:
    pyvispoly = pytest.importorskip("pyvispoly")
    post, bench = Box(2500, 1500, 400, 300, 20), Box(4200, 2600, 1500, 500, -35)

    def ring(points: list[Point]) -> list[object]:
        return [pyvispoly.Point(x, y) for x, y in points]

    outline = ring(ROOM)
    holes = [pyvispoly.Polygon(ring(list(b.corners)[::-1])) for b in (post, bench)]
    room = pyvispoly.PolygonWithHoles(pyvispoly.Polygon(outline), holes)
    computer = pyvispoly.VisibilityPolygonCalculator(room)
    for eye in ((700.0, 900.0), (3300.0, 3300.0), (5600.0, 500.0), (2500.0, 2100.0)):
        theirs = computer.compute_visibility_polygon(pyvispoly.Point(*eye))
        other = Polygon([(float(p.x()), float(p.y())) for p in theirs.boundary()])
        ours = visible_region(eye, ROOM, [post.polygon, bench.polygon])
        assert ours.symmetric_difference(other).area < 1.0
        assert ours.area < 24e6 - 1e5
