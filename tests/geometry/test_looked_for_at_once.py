"""What is looked for at many edges at once, or in a quicker way, against the same one by one from the library."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString

from enfilade.geometry import (
    Box,
    Segment,
    clear_ahead,
    clear_ahead_of_each,
    free_front,
    length_inside,
    shared_mm2,
)
from enfilade.geometry.fronts import places_within, standing_before

from .placing import Placing, placings

sizes = st.floats(20, 2000)
turns = st.one_of(st.sampled_from([0.0, 90.0, 180.0, 270.0]), st.floats(0, 360))
boxes = st.builds(Box, st.floats(-2000, 2000), st.floats(-2000, 2000), sizes, sizes, turns)
EDGE = Segment((800.0, 0.0), (-800.0, 0.0))  # faces +y


@given(boxes, placings)
@settings(max_examples=200)
def test_what_lies_in_a_rectangle_before_an_edge_is_what_the_library_cuts(box: Box, placing: Placing) -> None:
    edge, shape = placing.segment(EDGE), placing.box(box).polygon
    area = edge.moved(5.0).strip(995.0, 100.0, 1500.0)
    found = places_within(edge, (100.0, 1500.0), (5.0, 1000.0), shape, lambda: area)
    expected = shape.intersection(area)
    cut = shapely.union_all([shapely.Polygon([edge.at(*point) for point in part]) for part in found if len(part) > 3])
    assert cut.symmetric_difference(expected).area == pytest.approx(0.0, abs=0.1)


def test_a_wall_in_the_rectangle_is_cut_to_it() -> None:
    wall = LineString([(-3000.0, 400.0), (3000.0, 400.0)])
    area = EDGE.strip(1000.0)
    (part,) = places_within(EDGE, (0.0, 1600.0), (0.0, 1000.0), wall, lambda: area)
    assert sorted(part) == [(0.0, 400.0), (1600.0, 400.0)]


@given(st.lists(boxes, max_size=6), st.lists(boxes, min_size=1, max_size=4))
@settings(max_examples=60)
def test_many_edges_at_once_meet_what_each_meets_alone(around: list[Box], own: list[Box]) -> None:
    obstacles = {f"thing-{i}": box.polygon for i, box in enumerate(around)}
    edges = [(box.front, {f"thing-{i}"}) for i, box in enumerate(own)]
    alone = [
        clear_ahead(edge, {name: shape for name, shape in obstacles.items() if name not in passed}, 3000.0)
        for edge, passed in edges
    ]
    assert clear_ahead_of_each(edges, obstacles, 3000.0) == alone


@given(st.lists(boxes, min_size=1, max_size=6), st.lists(boxes, min_size=1, max_size=4))
@settings(max_examples=60)
def test_what_stands_before_many_fronts_takes_from_each_what_all_take(around: list[Box], own: list[Box]) -> None:
    shapes, fronts = [box.polygon for box in around], [box.front for box in own]
    for front, near in zip(fronts, standing_before(fronts, shapes, 30.0), strict=True):
        assert free_front(front, [shapes[j] for j in near], 30.0) == free_front(front, shapes, 30.0)


def test_no_edges_meet_nothing() -> None:
    assert clear_ahead_of_each([], {"a": EDGE}, 100.0) == []
    assert clear_ahead_of_each([(EDGE, ())], {}, 100.0) == [None]
    assert standing_before([], [Box(0, 0, 10, 10).polygon]) == []
    assert standing_before([EDGE], []) == [[]]


@given(boxes, boxes)
def test_shared_area_is_that_of_the_intersection(a: Box, b: Box) -> None:
    assert shared_mm2(a.polygon, b.polygon) == pytest.approx(a.polygon.intersection(b.polygon).area)


@given(boxes, st.tuples(st.floats(-3000, 3000), st.floats(-3000, 3000)), st.floats(0, 50))
def test_a_box_holds_what_its_grown_plan_covers(box: Box, point: tuple[float, float], margin: float) -> None:
    plan = box.grown(margin).polygon
    if abs(plan.exterior.distance(shapely.Point(point))) > 1e-6:  # on the very edge noise decides
        assert box.holds(point, margin) == plan.covers(shapely.Point(point))


def test_a_line_along_a_seam_is_inside_and_along_an_edge_is_not() -> None:
    # Two boxes side by side, each 600 by 600, touching at x = 600.
    pair = [Box(300, 300, 600, 600).polygon, Box(900, 300, 600, 600).polygon]
    assert length_inside((600, -100), (600, 700), pair) == pytest.approx(600)
    assert length_inside((600, -100), (600, 700), pair[:1]) == 0.0
    assert length_inside((-100, 0), (1300, 0), pair) == 0.0
    assert length_inside((-100, 300), (1300, 300), pair) == pytest.approx(1200)
