"""Boxes and edges: sides, frames, round tables."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings

from enfilade.errors import OutOfRange
from enfilade.geometry import Box, Segment, box_from_front, common_part, ellipse, shared_mm2

from .placing import Placing, placings


def close(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return math.dist(a, b) < 1e-6


def test_a_box_at_turn_0_faces_south() -> None:
    box = Box(1000, 2000, 600, 400)
    assert box.corners == ((700, 1800), (1300, 1800), (1300, 2200), (700, 2200))
    assert box.front == Segment((700, 1800), (1300, 1800))
    assert box.outward == (0, -1) == box.front.outward
    assert box.right.outward == (1, 0)
    assert box.left.outward == (-1, 0)
    assert box.back.outward == (0, 1)
    assert box.polygon.area == 600 * 400


def test_a_quarter_turn_counter_clockwise_faces_east_exactly() -> None:
    box = Box(0, 0, 600, 400, 90)
    assert box.outward == (1, 0)
    assert box.front == Segment((200, -300), (200, 300))
    assert Box(0, 0, 600, 400, -270).corners == box.corners


def test_the_strip_before_a_front_is_centred_and_takes_a_width() -> None:
    strip = Box(0, 0, 600, 400).front_strip(1000, 900)
    assert strip.bounds == (-450, -1200, 450, -200)
    assert Box(0, 0, 600, 400).front_strip(1000).bounds == (-300, -1200, 300, -200)


def test_growing_moves_each_edge_out() -> None:
    assert Box(5, 6, 600, 400, 30).grown(50) == Box(5, 6, 700, 500, 30)


def test_an_edge_measures_from_its_left_end_as_the_person_before_it_sees_it() -> None:
    edge = Segment((0, 0), (1000, 0))
    assert edge.outward == (0, -1)
    assert edge.at(300) == (300, 0)
    assert edge.at(300, 50) == (300, -50)
    assert edge.place((300, -50)) == (300, 50)
    assert edge.midpoint == (500, 0)
    assert edge.part(200, 700) == Segment((200, 0), (700, 0))
    assert edge.reversed().outward == (0, 1)
    assert edge.moved(20) == Segment((0, -20), (1000, -20))


def test_a_box_comes_back_from_its_front() -> None:
    box = Box(1234, -567, 900, 600, 37)
    again = box_from_front(box.front, 600)
    assert all(close(p, q) for p, q in zip(again.corners, box.corners, strict=True))


def test_an_ellipse_stays_in_its_box_and_nearly_fills_it() -> None:
    shape = ellipse(Box(100, 200, 1200, 800, 30))
    # area of an ellipse: pi a b; a polygon of 128 corners on it has 64 sin(2 pi / 128) a b
    assert shape.area == pytest.approx(math.pi * 600 * 400, rel=5e-4)
    assert Box(100, 200, 1200, 800, 30).grown(1e-6).polygon.covers(shape)


def test_what_cannot_exist_is_refused() -> None:
    with pytest.raises(OutOfRange, match="depth_mm is 0"):
        Box(0, 0, 600, 0)
    with pytest.raises(OutOfRange, match="finite"):
        Box(math.nan, 0, 600, 600)
    with pytest.raises(OutOfRange, match="two different"):
        Segment((1, 1), (1, 1))


@given(placings)
@settings(max_examples=25, deadline=None)
def test_turning_the_house_turns_all_four_sides(placing: Placing) -> None:
    box = Box(300, -200, 762, 610, 20)
    moved = placing.box(box)
    assert all(close(placing.point(p), q) for p, q in zip(box.corners, moved.corners, strict=True))
    for side in ("front", "back", "left", "right"):
        assert getattr(moved, side).length_mm == pytest.approx(getattr(box, side).length_mm, abs=1e-6)
    assert close(moved.front.outward, moved.outward)


def test_what_overlaps_is_never_lost_in_the_noise_of_a_turn() -> None:
    """A cabinet under its counter, the house turned by 247.57 degrees: by hand, all of the cabinet is shared."""
    counter = shapely.Polygon(
        [
            (3210.238101648847, 4338.58619570004),
            (2047.260243927052, 1521.1784328001033),
            (2634.2201945312054, 1278.891379108063),
            (3797.1980522530002, 4096.299142008),
        ]
    )
    cabinet = shapely.Polygon(
        [
            (3233.7164996730125, 4328.8947135523595),
            (2070.7386419512177, 1511.486950652422),
            (2634.2201945312054, 1278.8913791080631),
            (3797.1980522530002, 4096.299142008),
        ]
    )
    for one, other in ((counter, cabinet), (cabinet, counter)):
        assert shared_mm2(one, other) == pytest.approx(3048.0 * 609.6, abs=0.01)
        assert common_part(one, other).area == pytest.approx(3048.0 * 609.6, abs=0.01)
    beside = shapely.box(0, 0, 10, 10), shapely.box(10, 0, 20, 10)
    assert common_part(*beside).area == 0
