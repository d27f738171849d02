"""Shortest walks on the free floor, and straight lines that things stand in."""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString
from shapely import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from enfilade.geometry.boxes import polygons_of
from enfilade.geometry.points import NOISE_MM, Point, distance
from enfilade.lengths import TOLERANCE_MM

__all__ = ["Walk", "WalkNet", "length_inside"]

Floats = npt.NDArray[np.float64]

_GRAZE_MM: Final = 0.01
_REFLEX_SINE: Final = 1e-6
_ROUND_STEPS: Final = 6
_SNAP_MM: Final = 50.0


@dataclass(frozen=True)
class Walk:
    """A way on foot: its corners from start to end, and its length [mm]."""

    points: tuple[Point, ...]
    length_mm: float


class WalkNet:
    """The ways round what stands on a floor: built once, asked often.

    A shortest way turns only at corners that stand out into the floor, so those are joined by all the
    lines that stay on it and bend round both ends.

    Args:
        free: The free floor.
        body_mm: Width of the person (or chair) that must pass; 0 walks along the edges. Round corners are
            polygons: within 1 % of half the width.
        snap_mm: How far off the floor a start or end may lie; when not given, 50 mm and what a person of
            that width needs to stand before a front, also in a corner.
    """

    def __init__(self, free: BaseGeometry, body_mm: float = 0.0, *, snap_mm: float | None = None) -> None:
        slim_mm = max(0.0, body_mm - TOLERANCE_MM)
        slim = free.buffer(-slim_mm / 2, quad_segs=_ROUND_STEPS) if slim_mm else free
        self.floor = shapely.remove_repeated_points(slim, NOISE_MM)
        self._snap_mm = _SNAP_MM + 0.75 * body_mm if snap_mm is None else snap_mm
        # Lines along an edge stay on the floor although turned coordinates are noisy.
        self._wide = self.floor.buffer(_GRAZE_MM, join_style="mitre")
        shapely.prepare(self._wide)
        shapely.prepare(self.floor)
        self._seen: dict[Point, list[int]] = {}

    @cached_property
    def _net(self) -> tuple[Floats, list[list[tuple[int, float]]]]:
        nodes, before, after = _reflex_corners(self.floor)
        neighbours: list[list[tuple[int, float]]] = [[] for _ in nodes]
        if len(nodes) > 1:
            taut = _bends_round(nodes, before, after)
            i, j = np.nonzero(np.triu(taut & taut.T, 1))
            clear = self._clear(nodes[i], nodes[j])
            for a, b in zip(i[clear].tolist(), j[clear].tolist(), strict=True):
                length = math.dist(nodes[a], nodes[b])
                neighbours[a].append((b, length))
                neighbours[b].append((a, length))
        return nodes, neighbours

    def _clear(self, starts: Floats, ends: Floats) -> npt.NDArray[np.bool_]:
        lines = shapely.linestrings(np.stack([starts, ends], axis=1))
        return np.asarray(shapely.covers(self._wide, lines), dtype=np.bool_)

    def _in_sight(self, point: Point) -> list[int]:
        """Return the corners to which one can walk straight from a point; a point is asked for with many others."""
        if point not in self._seen:
            nodes, _ = self._net
            seen = np.flatnonzero(self._clear(np.broadcast_to(point, nodes.shape), nodes))
            self._seen[point] = seen.tolist()
        return self._seen[point]

    def snapped(self, point: Point) -> Point | None:
        """Return the nearest point of the floor, or None when it is too far off."""
        place = ShapelyPoint(point)
        if self.floor.is_empty:
            return None
        if self.floor.covers(place):
            return point
        near = nearest_points(self.floor, place)[0]
        return (near.x, near.y) if near.distance(place) <= self._snap_mm else None

    def walk(self, a: Point, b: Point) -> Walk | None:
        """Return the shortest way from `a` to `b`, or None when there is none.

        It starts and ends where a person can stand; the way from there to a point off the floor is not counted.
        """
        start, end = self.snapped(a), self.snapped(b)
        if start is None or end is None:
            return None
        if bool(self._clear(np.array([start]), np.array([end]))[0]):
            return Walk((start, end), distance(start, end))
        nodes, neighbours = self._net
        if not len(nodes):
            return None
        path = _shortest(nodes, neighbours, start, end, self._in_sight(start), set(self._in_sight(end)))
        if path is None:
            return None
        points = (start, *((float(nodes[i, 0]), float(nodes[i, 1])) for i in path), end)
        return Walk(points, sum(distance(p, q) for p, q in pairwise(points)))


def _reflex_corners(floor: BaseGeometry) -> tuple[Floats, Floats, Floats]:
    """Return the corners that stand out into the floor, with the corners before and after each."""
    found = []
    for part in polygons_of(floor):
        for ring, is_hole in ((part.exterior, False), *((ring, True) for ring in part.interiors)):
            corners = shapely.get_coordinates(ring)[:-1]
            # The floor lies on the left of an outline drawn counter-clockwise, and of a hole drawn clockwise.
            if ring.is_ccw is is_hole:
                corners = corners[::-1]
            before, after = np.roll(corners, 1, axis=0), np.roll(corners, -1, axis=0)
            into, out = corners - before, after - corners
            sine = _cross(into, out) / (np.hypot(*into.T) * np.hypot(*out.T))
            reflex = sine < -_REFLEX_SINE
            found.append((corners[reflex], before[reflex], after[reflex]))
    if not found:
        return np.empty((0, 2)), np.empty((0, 2)), np.empty((0, 2))
    nodes, before, after = (np.concatenate(group) for group in zip(*found, strict=True))
    return nodes, before, after


def _cross(a: Floats, b: Floats) -> Floats:
    product: Floats = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return product


def _bends_round(nodes: Floats, before: Floats, after: Floats) -> npt.NDArray[np.bool_]:
    """Tell which lines from a corner (row) to another (column) pass the first with both its edges on one side."""
    x, y = nodes.T
    line_x, line_y = x - x[:, None], y - y[:, None]
    noise = 1e-6 * np.sqrt(line_x * line_x + line_y * line_y)
    sides = [line_x * edge[:, 1:] - line_y * edge[:, :1] for edge in (before - nodes, after - nodes)]
    low, high = np.minimum(*sides), np.maximum(*sides)
    taut: npt.NDArray[np.bool_] = (low >= -noise) | (high <= noise)
    return taut


def _shortest(
    nodes: Floats,
    neighbours: list[list[tuple[int, float]]],
    start: Point,
    end: Point,
    first: list[int],
    last: set[int],
) -> list[int] | None:
    """Search from the start towards the end, nearest estimate first."""
    left = np.hypot(nodes[:, 0] - end[0], nodes[:, 1] - end[1]).tolist()
    best = {i: math.dist(nodes[i], start) for i in first}
    came: dict[int, int] = {}
    queue = [(length + left[i], i) for i, length in best.items()]
    heapq.heapify(queue)
    done: set[int] = set()
    goal = -1
    reached = math.inf
    while queue:
        estimate, i = heapq.heappop(queue)
        if estimate >= reached:
            break
        if i in done:
            continue
        done.add(i)
        if i in last:
            reached, goal = estimate, i
            continue
        for j, step in neighbours[i]:
            length = best[i] + step
            if length < best.get(j, math.inf):
                best[j], came[j] = length, i
                heapq.heappush(queue, (length + left[j], j))
    if goal < 0:
        return None
    path = [goal]
    while path[-1] in came:
        path.append(came[path[-1]])
    return path[::-1]


def length_inside(a: Point, b: Point, polygons: Iterable[BaseGeometry]) -> float:
    """Return how much of the straight line from `a` to `b` lies inside shapes [mm].

    What runs along an edge is not inside; what lies in two shapes counts once.
    """
    line = LineString([a, b])
    near = tuple(shape for shape in polygons if shape.intersects(line))
    return _length_inside(a, b, near) if near and a != b else 0.0


@lru_cache(maxsize=512)
def _length_inside(a: Point, b: Point, near: tuple[BaseGeometry, ...]) -> float:
    line = LineString([a, b])
    # Cut where it meets an edge, then ask at the middle of each part: noise along an edge then decides nothing.
    meetings = shapely.intersection(line, shapely.boundary(np.array(near, dtype=object)))
    points = shapely.get_coordinates(meetings).tolist()
    places = sorted([0.0, line.length, *(distance(a, (x, y)) for x, y in points)])
    inside = ((p, q) for p, q in pairwise(places) if _inside(line.interpolate((p + q) / 2), near))
    return float(sum(q - p for p, q in inside))


def _inside(point: ShapelyPoint, shapes: tuple[BaseGeometry, ...]) -> bool:
    """Tell whether a point lies in shapes taken together: on the seam of two that touch it does, on an edge not."""
    if any(_core((shape,)).intersects(point) for shape in shapes):
        return True
    at_edge = tuple(shape for shape in shapes if shape.dwithin(point, 10 * _GRAZE_MM))
    return len(at_edge) > 1 and bool(_core(at_edge).intersects(point))


# Remembered, as the lengths are: from one look at a house to the next, few things move.
@lru_cache(maxsize=512)
def _core(shapes: tuple[BaseGeometry, ...]) -> BaseGeometry:
    """Return what lies inside shapes by more than noise; grown first, so that shapes that touch become one."""
    grown = shapely.union_all([shape.buffer(_GRAZE_MM, join_style="mitre") for shape in shapes])
    return grown.buffer(-1.5 * _GRAZE_MM, join_style="mitre")
