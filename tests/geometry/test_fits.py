"""Circles, rectangles and the wheelchair's T on a free floor."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from enfilade.errors import OutOfRange
from enfilade.geometry import Box, circle_fits, free_floor, largest_circle, rectangle_fits, t_turn_fits

from .placing import Placing, placings

# 2010 ADA Standards 304.3.2: T in a 60 in square, arms and base 36 wide, clear 12 each way and 24 at the base.
SQUARE, ARM, BLOCK = 1524.0, 914.4, (304.8, 609.6)


def room(width: float, depth: float) -> list[tuple[float, float]]:
    return [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]


@pytest.mark.parametrize(("width", "fits"), [(1524.0, True), (1523.3, True), (1523.1, False), (1600.0, True)])
def test_a_circle_fits_within_the_tolerance(width: float, fits: bool) -> None:
    assert (circle_fits(Polygon(room(width, 3000)), 1524.0) is not None) is fits


def test_the_circle_is_put_where_there_is_room() -> None:
    free = free_floor(room(3000, 2000), [Box(600, 1000, 1200, 2000).polygon])
    centre = circle_fits(free, 1524.0)
    assert centre is not None
    assert 1200 + 762 - 0.5 <= centre[0] <= 3000 - 762 + 0.5


def test_the_largest_circle_of_a_square_and_beside_a_post() -> None:
    square = largest_circle(Polygon(room(2000, 2000)))
    assert square is not None
    assert square.diameter_mm == pytest.approx(2000, abs=0.2)
    assert square.centre == pytest.approx((1000, 1000), abs=1)
    # free corner (0, 0), a square post's corner at (1500, 1500): r (1 + 1/sqrt 2) sqrt 2 = 1500 sqrt 2
    free = Polygon(room(2000, 2000)).difference(Polygon([(1500, 1500), (2000, 1500), (2000, 2000), (1500, 2000)]))
    post = largest_circle(free)
    assert post is not None
    assert post.diameter_mm == pytest.approx(2 * 1500 * math.sqrt(2) / (1 + math.sqrt(2)), abs=0.2)
    assert largest_circle(Polygon()) is None


@given(
    st.lists(st.tuples(st.floats(0, 4000), st.floats(0, 3000), st.floats(100, 900), st.floats(0, 90)), max_size=6),
    st.floats(200, 2500),
)
@settings(max_examples=30, deadline=None)
def test_circle_fits_agrees_with_the_largest_inscribed_circle(
    things: list[tuple[float, float, float, float]], diameter: float
) -> None:
    free = free_floor(room(4000, 3000), [Box(x, y, size, size / 2, turn).polygon for x, y, size, turn in things])
    largest = max(
        (2 * shapely.maximum_inscribed_circle(part, tolerance=0.05).length for part in shapely.get_parts(free)),
        default=0.0,
    )
    if abs(largest - diameter) > 2.0:
        centre = circle_fits(free, diameter)
        assert (centre is not None) is (largest > diameter)
        if centre is not None:
            assert free.boundary.distance(shapely.Point(centre)) >= diameter / 2 - 0.6


def test_a_rectangle_turned_fits_where_an_upright_one_does_not() -> None:
    # a strip 800 wide at 45 deg
    strip = Box(0, 0, 4000, 800, 45).polygon
    assert rectangle_fits(strip, 1219.2, 762.0, 0) is None
    found = rectangle_fits(strip, 1219.2, 762.0, 45)
    assert found is not None
    assert strip.buffer(0.5).covers(found.polygon)
    assert rectangle_fits(strip, 762.0, 1219.2, 45) is None
    assert rectangle_fits(strip, 1219.2, 800.7, 45) is not None
    assert rectangle_fits(strip, 1219.2, 801.0, 45) is None


def test_a_small_thing_in_the_middle_counts_although_it_is_no_corner_of_the_room() -> None:
    free = free_floor(room(1000, 1500), [Box(500, 750, 50, 50).polygon])
    assert rectangle_fits(free, 762.0, 1219.2, 0) is None
    assert rectangle_fits(free, 474.0, 1219.2, 0) is not None  # 500 - 25 = 475 beside it
    assert rectangle_fits(free, 476.0, 1219.2, 0) is None


@given(placings)
@settings(max_examples=15, deadline=None)
def test_fits_move_and_turn_with_the_house(placing: Placing) -> None:
    post = Box(2000, 1500, 300, 300, 20)
    free = free_floor(room(4000, 3000), [post.polygon])
    moved = free_floor(placing.points(room(4000, 3000)), [placing.box(post).polygon])
    for width, depth, turn, fits in ((1800, 2990, 0, True), (1830, 2990, 0, False), (900, 2000, 20, True)):
        here = rectangle_fits(free, width, depth, turn)
        there = rectangle_fits(moved, width, depth, turn + placing.turn_deg)
        assert (here is not None) is fits
        assert (there is not None) is fits
        if there is not None:
            assert moved.buffer(1.2).covers(there.polygon)
    assert circle_fits(moved, 1790.0) is not None
    assert circle_fits(moved, 2500.0) is None


def t_floor() -> Polygon:
    """The T alone: bar 1524 x 914.4 at the top, stem 914.4 wide below it."""
    left, right = BLOCK[0], SQUARE - BLOCK[0]
    low = BLOCK[1]
    ring = [(left, 0), (right, 0), (right, low), (SQUARE, low), (SQUARE, SQUARE), (0, SQUARE), (0, low), (left, low)]
    return Polygon(ring)


def test_the_t_fits_in_its_own_shape_and_not_in_less() -> None:
    found = t_turn_fits(t_floor(), [0], square_mm=SQUARE, arm_mm=ARM, block_mm=BLOCK)
    assert found is not None
    assert found.symmetric_difference(t_floor()).area < 2 * t_floor().length
    assert found.area == pytest.approx(SQUARE * ARM + BLOCK[1] * ARM)
    pinched = t_floor().difference(Box(BLOCK[0], 100, 10, 10).polygon)
    assert t_turn_fits(pinched, [0], square_mm=SQUARE, arm_mm=ARM, block_mm=BLOCK) is None


@pytest.mark.parametrize("turn", [90, 180, 270, 37])
def test_the_t_is_tried_at_quarter_turns(turn: float) -> None:
    floor = shapely.affinity.rotate(t_floor(), turn, origin=(0, 0))
    tried = 37 if turn == 37 else 0
    found = t_turn_fits(floor, [tried], square_mm=SQUARE, arm_mm=ARM, block_mm=BLOCK)
    assert found is not None
    assert floor.buffer(1).covers(found)


def test_a_t_that_does_not_add_up_is_refused() -> None:
    with pytest.raises(OutOfRange, match="block widths"):
        t_turn_fits(t_floor(), [0], square_mm=SQUARE, arm_mm=ARM, block_mm=(300.0, 500.0))
