"""Doors, drawers and what is in their way."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity

from enfilade.errors import OutOfRange
from enfilade.geometry import (
    Box,
    Segment,
    clearing_shift,
    drawer_sweep,
    drop_down_sweep,
    free_opening_angle,
    hinged_sweep,
    open_leaf,
    overlap_mm2,
)

from .placing import Placing, placings

HINGE, END = (0.0, 0.0), (800.0, 0.0)


def test_a_quarter_sweep() -> None:
    sweep = hinged_sweep(HINGE, END, 90, clockwise=False)
    assert sweep.area == pytest.approx(math.pi * 800**2 / 4, rel=1e-4)
    assert sweep.bounds == pytest.approx((0, 0, 800, 800))
    assert hinged_sweep(HINGE, END, 90, clockwise=True).bounds == pytest.approx((0, -800, 800, 0))
    with pytest.raises(OutOfRange, match="opening angle 0"):
        hinged_sweep(HINGE, END, 0, clockwise=False)


def test_an_open_leaf_stands_where_it_was_turned() -> None:
    leaf = open_leaf(HINGE, END, 90, clockwise=False, thickness_mm=40)
    assert leaf.bounds == pytest.approx((-20, 0, 20, 800))
    assert open_leaf(HINGE, END, 90, clockwise=True, thickness_mm=40).bounds == pytest.approx((-20, -800, 20, 0))


def test_drawers_and_drop_down_fronts_sweep_straight_ahead() -> None:
    front = Segment((0.0, 0.0), (600.0, 0.0))
    assert drawer_sweep(front, 500).bounds == (0, -500, 600, 0)
    assert drop_down_sweep(front, 700).bounds == (0, -700, 600, 0)


def test_a_door_beside_a_wall_opens_until_its_end_or_face_meets_it() -> None:
    ease = 0.8  # the free end is taken 0.8 mm short
    # wall face at x = -100: the end meets it where 800 sin(angle - 90) = 100
    wall = Box(-150, 1000, 100, 4000).polygon
    expected = 90 + math.degrees(math.asin(100 / (800 - ease)))
    assert free_opening_angle(HINGE, END, False, [wall]) == pytest.approx(expected, abs=1e-9)
    # a corner at (200, 300) is met by the face
    post = Polygon([(200, 300), (200, 500), (100, 500)])
    corner = math.degrees(math.atan2(300, 200))
    assert free_opening_angle(HINGE, END, False, [post]) == pytest.approx(corner, abs=1e-9)
    # 40 thick: its face is 20 ahead of its middle
    thick = corner - math.degrees(math.asin(20 / math.hypot(200, 300)))
    assert free_opening_angle(HINGE, END, False, [post], 40) == pytest.approx(thick, abs=1e-9)
    assert free_opening_angle(HINGE, END, True, [post]) == 180.0
    assert free_opening_angle(HINGE, END, True, [post], limit_deg=110) == 110.0
    assert free_opening_angle(HINGE, END, False, []) == 180.0


def test_an_edge_across_the_swing_is_met_by_the_free_end() -> None:
    bar = Box(0, 500, 4000, 100).polygon  # its near edge at y = 450
    expected = math.degrees(math.asin(450 / 799.2))
    assert free_opening_angle(HINGE, END, False, [bar]) == pytest.approx(expected, abs=1e-9)


def test_what_the_closed_leaf_touches_does_not_hold_it_and_what_covers_it_does() -> None:
    jambs = [Box(-500, 0, 1000, 100).polygon, Box(1300, 0, 1000, 100).polygon]
    face_hinge, face_end = (0.0, 50.0), (800.0, 50.0)
    assert free_opening_angle(face_hinge, face_end, False, jambs) == pytest.approx(180.0, abs=1e-6)
    against = Box(400, 150, 200, 200).polygon
    assert free_opening_angle(face_hinge, face_end, False, [against]) == 0.0
    assert free_opening_angle(face_hinge, face_end, False, [Box(400, -50, 200, 200).polygon]) == 180.0


@given(
    placings,
    st.lists(
        st.tuples(st.floats(-900, 900), st.floats(150, 900), st.floats(20, 200), st.floats(0, 90)),
        min_size=1,
        max_size=4,
    ),
    st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_the_free_angle_is_where_the_sweep_first_overlaps(
    placing: Placing, things: list[tuple[float, float, float, float]], clockwise: bool
) -> None:
    sign = -1 if clockwise else 1
    boxes = [Box(x, sign * y, size, size, turn) for x, y, size, turn in things]
    boxes = [b for b in boxes if min(sign * c[1] for c in b.corners) > 5]
    here = free_opening_angle(HINGE, END, clockwise, [b.polygon for b in boxes])
    for b in boxes:
        if here > 0.2:
            assert hinged_sweep(HINGE, (799.2, 0.0), here - 0.1, clockwise).intersection(b.polygon).area < 2.0
    if here < 179:
        leaf = hinged_sweep(HINGE, END, here + 0.5, clockwise)
        assert any(leaf.intersects(b.polygon) for b in boxes)
    moved = [placing.box(b).polygon for b in boxes]
    there = free_opening_angle(placing.point(HINGE), placing.point(END), clockwise, moved)
    assert there == pytest.approx(here, abs=1e-6)


def test_shapes_that_touch_do_not_overlap() -> None:
    a = Box(0, 0, 600, 600).polygon
    assert overlap_mm2(a, Box(600, 0, 600, 600).polygon) == 0.0
    assert overlap_mm2(a, Box(599.5, 0, 600, 600).polygon) == 0.0
    assert overlap_mm2(a, Box(590, 0, 600, 600).polygon) == pytest.approx(6000)
    assert overlap_mm2(a, Box(5000, 0, 600, 600).polygon) == 0.0


def test_the_filler_that_frees_a_drawer() -> None:
    drawer = drawer_sweep(Segment((0.0, 0.0), (600.0, 0.0)), 500)
    handle = Box(-20, -200, 100, 100).polygon  # reaches x = 30
    assert clearing_shift(drawer, handle, (2, 0)) == pytest.approx(30)
    assert clearing_shift(drawer, handle, (0, 1)) == pytest.approx(350)  # its far edge must clear y = -150
    assert clearing_shift(drawer, Box(-50, -200, 100, 100).polygon, (1, 0)) == 0.0


@given(placings)
@settings(max_examples=20, deadline=None)
def test_a_clearing_shift_ends_the_overlap_and_less_does_not(placing: Placing) -> None:
    sweep = hinged_sweep(placing.point(HINGE), placing.point(END), 90, clockwise=False)
    other = placing.box(Box(500, 500, 300, 300, 15)).polygon
    x, y = placing.point((1.0, 0.0))
    step = (x - placing.shift[0], y - placing.shift[1])
    shift = clearing_shift(sweep, other, (-step[0], -step[1]))
    at = hinged_sweep(HINGE, END, 90, clockwise=False)
    assert shift == pytest.approx(clearing_shift(at, Box(500, 500, 300, 300, 15).polygon, (-1, 0)), abs=1e-5)
    less = affinity.translate(sweep, -step[0] * (shift - 1), -step[1] * (shift - 1))
    assert less.intersection(other).area > 0
