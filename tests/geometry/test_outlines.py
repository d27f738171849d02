"""Outlines: what is refused, areas, walls, what rooms share, the floor left free."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings

from enfilade.errors import OutOfRange, Refused
from enfilade.geometry import Box, area_m2, check_outline, free_floor, shared_edge, shared_edges, walls
from enfilade.geometry.outlines import polygon_of

from .placing import Placing, placings

ROOM = [(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)]
L_ROOM = [(0.0, 0.0), (5000.0, 0.0), (5000.0, 2000.0), (2000.0, 2000.0), (2000.0, 4000.0), (0.0, 4000.0)]


@pytest.mark.parametrize(
    ("points", "error", "words"),
    [
        (ROOM[:2], Refused, "outline of 2 corners"),
        ([*ROOM, ROOM[0]], Refused, "last corner, 5, repeats the first"),
        ([ROOM[0], ROOM[1], ROOM[2], ROOM[1], ROOM[3]], Refused, r"corners 2 and 4 are both at \(4000, 0\)"),
        ([ROOM[0], ROOM[2], ROOM[1], (0.0, 2000.0)], Refused, r"corners 1-2 and 3-4 cross near \(1600, 1200\)"),
        ([(0.0, 0.0), (1000.0, 0.0), (2000.0, 0.0)], Refused, "has no area"),
        ([(0.0, 0.0), (2000.0, 2000.0), (1000.0, 1000.0)], Refused, "has no area"),
        # The two halves of a bow-tie take each other's area away; what is wrong is the order of its corners.
        ([ROOM[0], ROOM[2], ROOM[1], ROOM[3]], Refused, r"corners 1-2 and 3-4 cross near \(2000, 1500\)"),
        ([(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (2000.0, 0.0), (0.0, 3000.0)], Refused, "cross near"),
        ([(0.0, 0.0), (math.nan, 0.0), (1.0, 1.0)], OutOfRange, "corner 2 is at"),
        ([(0.0, 0.0), (1.0, math.inf), (1.0, 1.0)], OutOfRange, "finite"),
    ],
)
def test_an_outline_that_cannot_be_a_floor_is_refused(
    points: list[tuple[float, float]], error: type[Exception], words: str
) -> None:
    with pytest.raises(error, match=words):
        check_outline(points)


@pytest.mark.parametrize("outline", [ROOM, ROOM[::-1], L_ROOM, L_ROOM[::-1]])
def test_walls_face_into_the_room_whichever_way_it_was_drawn(outline: list[tuple[float, float]]) -> None:
    check_outline(outline)
    floor = polygon_of(outline)
    found = walls(outline)
    for i, wall in enumerate(found):
        assert {wall.a, wall.b} == {outline[i], outline[(i + 1) % len(outline)]}
        x, y = wall.at(wall.length_mm / 2, 10)
        assert floor.contains(Box(x, y, 1, 1).polygon)


def test_the_south_wall_seen_from_inside_runs_from_east_to_west() -> None:
    south = walls(ROOM)[0]
    assert (south.a, south.b) == ((4000.0, 0.0), (0.0, 0.0))
    assert south.outward == (0.0, 1.0)


def test_areas() -> None:
    assert area_m2(ROOM) == 12.0
    assert area_m2(L_ROOM) == 5 * 2 + 2 * 2


def test_rooms_share_what_overlaps_within_the_wall() -> None:
    beyond = [(4100.0, 1000.0), (7000.0, 1000.0), (7000.0, 5000.0), (4100.0, 5000.0)]
    assert shared_edge(ROOM, beyond) is None
    edge = shared_edge(ROOM, beyond, 100.0)
    assert edge is not None
    assert edge.length_mm == 2000.0
    assert edge.outward == (-1.0, 0.0)
    assert {p[1] for p in (edge.a, edge.b)} == {1000.0, 3000.0}
    assert shared_edge(ROOM, [(x, y + 5000) for x, y in beyond], 100.0) is None


def test_two_walls_shared_with_a_room_in_the_corner_come_longest_first() -> None:
    nook = [(2000.0, 2000.0), (5000.0, 2000.0), (5000.0, 4000.0), (2000.0, 4000.0)]
    assert [edge.length_mm for edge in shared_edges(L_ROOM, nook)] == [3000.0, 2000.0]


def test_free_floor_closes_gaps_that_are_no_floor() -> None:
    left, right = Box(1000, 300, 600, 600), Box(1600.3, 300, 600, 600)
    free = free_floor(ROOM, [left.polygon, right.polygon])
    # the 0.3 mm between the two is no floor: 12 m2 - 600 mm x 1200.3 mm
    assert free.area == pytest.approx(12e6 - 600 * 1200.3, abs=1.0)
    assert free.geom_type == "Polygon"


def test_free_floor_falls_apart_where_things_part_it() -> None:
    free = free_floor(ROOM, [Box(2000, 1500, 500, 3000).polygon])
    assert sorted(round(part.area) for part in shapely.get_parts(free).tolist()) == [1750 * 3000, 1750 * 3000]


@given(placings)
@settings(max_examples=25, deadline=None)
def test_moving_and_turning_the_house_changes_no_length(placing: Placing) -> None:
    outline = placing.points(L_ROOM)
    check_outline(outline)
    assert area_m2(outline) == pytest.approx(area_m2(L_ROOM), abs=1e-6)
    for moved, wall in zip(walls(outline), walls(L_ROOM), strict=True):
        assert moved.length_mm == pytest.approx(wall.length_mm, abs=1e-6)
    nook = [(2000.0, 2000.0), (5000.0, 2000.0), (5000.0, 4000.0), (2000.0, 4000.0)]
    lengths = [edge.length_mm for edge in shared_edges(outline, placing.points(nook))]
    assert lengths == pytest.approx([3000.0, 2000.0], abs=1e-6)
    box = placing.box(Box(1000, 300, 600, 600))
    assert free_floor(outline, [box.polygon]).area == pytest.approx(14e6 - 360_000, abs=1e-2)


@given(placings)
@settings(max_examples=25, deadline=None)
def test_cabinets_side_by_side_against_a_wall_leave_the_same_floor_in_a_turned_house(placing: Placing) -> None:
    row = [Box(x + 200, 300, 400, 600, 180) for x in range(0, 2000, 400)]
    free = free_floor(placing.points(ROOM), [placing.box(b).polygon for b in row])
    assert free.geom_type == "Polygon"
    assert free.area == pytest.approx(12e6 - 2000 * 600, abs=1e-2)
    assert free.length == pytest.approx(14_000, abs=1e-5)
