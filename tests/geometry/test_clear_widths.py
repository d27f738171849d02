"""Clear widths between fronts and straight ahead."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from shapely.geometry.base import BaseGeometry

from enfilade.errors import OutOfRange
from enfilade.geometry import Box, Segment, clear_ahead, clear_strip, clear_width_between, walls

from .placing import IN, Placing, inch_box, placings


def test_the_aisle_between_the_side_runs() -> None:
    # The published U-shaped kitchen: side runs with fronts at x = 24 and x = 162 in: 138 in
    fronts = [
        ("sink", inch_box(162, 60, 186, 96, -90).front),
        ("cold", inch_box(0, 60, 24, 96, 90).front),
        ("stove", inch_box(78, 0, 108, 24, 180).front),
    ]
    (found,) = clear_width_between(fronts)
    assert (found.a_id, found.b_id) == ("sink", "cold")
    assert found.width_mm == pytest.approx(138 * IN)
    assert found.overlap_mm == pytest.approx(36 * IN)
    assert found.a_point == pytest.approx((162 * IN, 78 * IN))
    assert found.b_point == pytest.approx((24 * IN, 78 * IN))


def test_what_stands_behind_an_island_does_not_count() -> None:
    island = Box(0, 0, 1000, 600)
    fronts = [
        ("south", Box(0, -2000, 3000, 600, 180).front),  # faces +y, front at y = -1700
        ("north", Box(0, 2000, 3000, 600, 0).front),  # faces -y, front at y = 1700
        ("island", island.front),
        ("island", island.back),
    ]
    found = {(w.a_id, w.b_id): (w.width_mm, w.overlap_mm) for w in clear_width_between(fronts)}
    assert found == {
        ("south", "island"): (1400.0, 1000.0),
        ("north", "island"): (1400.0, 1000.0),
        # on either side of the island, 1000 each, they still face each other
        ("south", "north"): (3400.0, 2000.0),
    }


def test_an_island_with_one_front_hides_the_run_behind_it() -> None:
    fronts = [
        ("south", Box(0, -2000, 1000, 600, 180).front),
        ("north", Box(0, 2000, 1000, 600, 0).front),
        ("island", Box(0, 0, 1000, 600).front),
    ]
    assert [(w.a_id, w.b_id) for w in clear_width_between(fronts)] == [("south", "island")]


def test_the_least_of_two_depths_counts_and_is_measured_there() -> None:
    fronts = [
        ("run", Box(0, 0, 2000, 600, 180).front),  # front at y = 300
        ("far", Box(-500, 2300, 1000, 600).front),  # front at y = 2000
        ("near", Box(500, 2250, 1000, 700).front),  # front at y = 1900
    ]
    assert [(w.b_id, w.width_mm, w.a_point) for w in clear_width_between(fronts)] == [
        ("near", 1600.0, (500.0, 300.0)),
        ("far", 1700.0, (-500.0, 300.0)),
    ]


def test_fronts_askew_by_more_than_a_degree_do_not_face_each_other() -> None:
    run = ("run", Segment((1000.0, 0.0), (0.0, 0.0)))
    for turn, count in ((0.9, 1), (1.1, 0)):
        assert len(clear_width_between([run, ("other", Box(500, 1500, 1000, 600, turn).front)])) == count


def test_straight_ahead_to_the_nearest() -> None:
    tub = Box(0, 300, 1524, 600)
    room = walls([(-2000.0, -3000.0), (2000.0, -3000.0), (2000.0, 600.0), (-2000.0, 600.0)])
    obstacles: dict[str, BaseGeometry | Segment] = {
        "tub": tub.polygon,
        "wall": room[0],
        "beside": Box(-1200, -500, 800, 3000).polygon,
    }
    ahead = clear_ahead(tub.front, obstacles, 5000)
    assert ahead is not None
    # the box beside reaches x = -800, beyond the tub's left end at -762: it stands before 0 mm of it
    assert (ahead.obstacle_id, ahead.distance_mm) == ("wall", 3000.0)
    assert ahead.edge_point == pytest.approx((0.0, 0.0))
    assert ahead.obstacle_point == pytest.approx((0.0, -3000.0))
    assert clear_ahead(tub.front, obstacles, 2999) is None


def test_a_neighbour_that_touches_is_not_ahead_and_one_that_leans_on_the_front_is() -> None:
    box = Box(0, 300, 600, 600)
    assert clear_ahead(box.front, {"self": box.polygon, "beside": Box(600, 0, 600, 1200).polygon}, 900) is None
    leaning = clear_ahead(box.front, {"chair": Box(0, -200, 400, 400).polygon}, 900)
    assert leaning is not None
    assert leaning.distance_mm == 0.0


def test_a_narrow_thing_may_be_left_out() -> None:
    post = {"post": Box(0, -500, 60, 60).polygon}
    front = Box(0, 300, 600, 600).front
    assert clear_ahead(front, post, 900, least_width_mm=100) is None
    found = clear_ahead(front, post, 900, least_width_mm=60)
    assert found is not None
    assert found.distance_mm == pytest.approx(470)


def test_before_the_tub_66_in_on_a_strip_32_in_wide() -> None:
    # A bathroom, constructed for this test: room 60 x 96 in, tub y 66-96, toilet 20 wide and 28 deep at x 0-28,
    # y 38-58, vanity y 0-30, 21 deep
    tub = inch_box(0, 66, 60, 96)
    obstacles: dict[str, BaseGeometry | Segment] = {
        "toilet": inch_box(0, 38, 28, 58, 90).polygon,
        "vanity": inch_box(0, 0, 21, 30, 90).polygon,
        "wall": Segment((60 * IN, 0.0), (0.0, 0.0)),
    }
    nearest = clear_ahead(tub.front, obstacles, 100 * IN)
    assert nearest is not None
    assert nearest.obstacle_id == "toilet"
    assert nearest.distance_mm == pytest.approx(8 * IN)
    strip = clear_strip(tub.front, obstacles, 100 * IN, 32 * IN)
    assert strip is not None
    distance, stretch = strip
    assert distance == pytest.approx(66 * IN)
    assert stretch.a[0] == pytest.approx(28 * IN)
    wider = clear_strip(tub.front, obstacles, 100 * IN, 33 * IN)
    assert wider is not None
    assert wider[0] == pytest.approx(8 * IN)
    assert clear_strip(tub.front, obstacles, 100 * IN, 61 * IN) is None


def test_reach_must_be_above_0() -> None:
    with pytest.raises(OutOfRange, match="reach_mm is 0"):
        clear_ahead(Segment((0.0, 0.0), (1.0, 0.0)), {"a": Box(0, 0, 1, 1).polygon}, 0)


@given(placings)
@settings(max_examples=25, deadline=None)
def test_moving_and_turning_changes_no_width(placing: Placing) -> None:
    boxes = [Box(0, -2000, 3000, 600, 180), Box(300, 2000, 3000, 600), Box(0, 0, 1000, 600), Box(0, 0, 1000, 600, 180)]
    names = ["south", "north", "front", "back"]
    still = clear_width_between([(n, b.front) for n, b in zip(names, boxes, strict=True)])
    moved = clear_width_between([(n, placing.box(b).front) for n, b in zip(names, boxes, strict=True)])
    assert [w.width_mm for w in still] == [1400.0, 1400.0, 3400.0]
    width = {(w.a_id, w.b_id): (w.width_mm, w.overlap_mm) for w in still}
    for w in moved:
        assert (w.width_mm, w.overlap_mm) == pytest.approx(width[w.a_id, w.b_id], abs=1e-6)
    assert len(moved) == len(still)
    post = Box(0, -1000, 60, 60, 30)
    ahead = clear_ahead(placing.box(boxes[2]).front, {"post": placing.box(post).polygon}, 3000)
    here = clear_ahead(boxes[2].front, {"post": post.polygon}, 3000)
    assert ahead is not None
    assert here is not None
    assert ahead.distance_mm == pytest.approx(here.distance_mm, abs=1e-6)
