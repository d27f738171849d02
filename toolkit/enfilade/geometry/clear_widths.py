"""Clear widths: between fronts that face each other, and straight ahead of an edge."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.errors import require_positive
from enfilade.geometry.boxes import Segment
from enfilade.geometry.fronts import places_within
from enfilade.geometry.outlines import PARALLEL
from enfilade.geometry.points import NOISE_MM, Point
from enfilade.lengths import TOLERANCE_MM

__all__ = ["ClearAhead", "ClearWidth", "clear_ahead", "clear_ahead_of_each", "clear_strip", "clear_width_between"]

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class ClearWidth:
    """The least width between two fronts that face each other.

    Attributes:
        a_id, b_id: The two fronts.
        width_mm: Square to the first front.
        a_point, b_point: Where it was measured: the middle of the longest stretch of that width.
        overlap_mm: Sideways length over which the two face each other with nothing listed between.
    """

    a_id: str
    b_id: str
    width_mm: float
    a_point: Point
    b_point: Point
    overlap_mm: float


@dataclass(frozen=True)
class ClearAhead:
    """What stands nearest straight ahead of an edge: how far, which, and the line that was measured."""

    obstacle_id: str
    distance_mm: float
    edge_point: Point
    obstacle_point: Point


class _Facing(NamedTuple):
    """Another front as met from one: between two places along it, at a distance that changes evenly."""

    other: int
    start: float
    end: float
    start_ahead: float
    end_ahead: float

    def ahead(self, place: float) -> float:
        return self.start_ahead + (self.end_ahead - self.start_ahead) * (place - self.start) / (self.end - self.start)


def clear_width_between(fronts: Sequence[tuple[str, Segment]]) -> list[ClearWidth]:
    """Measure between all fronts that face each other with no other front between.

    Two fronts face each other when they look opposite ways within 1 degree and overlap sideways by
    more than 0.8 mm. Where a third one stands between, on either side, what lies behind it does not count.

    Args:
        fronts: Each with its id; several fronts may share an id, and are then not measured against
            each other.
    Returns:
        One width for each pair of fronts, narrowest first.
    """
    seen = _seen([front for _, front in fronts])
    found = []
    for i, (a_id, front) in enumerate(fronts):
        for j in sorted({facing.other for facing in seen[i] if facing.other > i}):
            parts = [part for part in _mutual(front, fronts[j][1], i, j, seen) if part.end - part.start > TOLERANCE_MM]
            if parts and a_id != fronts[j][0]:
                found.append(_measured(a_id, fronts[j][0], front, parts))
    return sorted(found, key=lambda width: (width.width_mm, width.a_id, width.b_id))


def _seen(fronts: Sequence[Segment]) -> list[list[_Facing]]:
    """Return for each front its stretches, each with the nearest front that faces it there."""
    if not fronts:
        return []
    # Each front (row) against each other one (column) at once, in the arithmetic of `opposed` and `Segment.place`.
    rows = np.array([(*front.a, *front.direction, *front.outward, front.length_mm) for front in fronts])
    x0, y0, dx, dy, nx, ny, length = rows.T[:, :, None]

    def placed(points: Sequence[Point]) -> tuple[Floats, Floats]:
        x, y = np.array(points).T
        return (x - x0) * dx + (y - y0) * dy, (x - x0) * nx + (y - y0) * ny

    left, left_ahead = placed([front.b for front in fronts])
    right, right_ahead = placed([front.a for front in fronts])
    faces = nx * nx.T + ny * ny.T < -PARALLEL
    over = np.minimum(length, right) - np.maximum(0.0, left) > NOISE_MM
    met = faces & over & (np.maximum(left_ahead, right_ahead) > NOISE_MM)
    facing_it: list[dict[int, list[float]]] = [{} for _ in fronts]
    places = np.stack([left, right, left_ahead, right_ahead], axis=-1)[met].tolist()
    for i, j, place in zip(*(half.tolist() for half in np.nonzero(met)), places, strict=True):
        facing_it[i][j] = place
    return [_nearest(front, others) for front, others in zip(fronts, facing_it, strict=True)]


def _nearest(front: Segment, facing_it: Mapping[int, Sequence[float]]) -> list[_Facing]:
    """Return the stretches of a front, each with the nearest of what faces it there."""
    met = []
    for j, (left, right, left_ahead, right_ahead) in facing_it.items():
        whole = _Facing(j, left, right, left_ahead, right_ahead)
        start, end = max(0.0, left), min(front.length_mm, right)
        start_ahead, end_ahead = whole.ahead(start), whole.ahead(end)
        if min(start_ahead, end_ahead) > NOISE_MM:
            met.append(_Facing(j, start, end, start_ahead, end_ahead))
    if len(met) < 2:
        return [one for one in met if one.end - one.start > NOISE_MM]
    cuts = sorted({place for facing in met for place in (facing.start, facing.end)})
    nearest: list[_Facing] = []
    for start, end in pairwise(cuts):
        middle = (start + end) / 2
        over = [facing for facing in met if facing.start < middle < facing.end]
        if end - start > NOISE_MM and over:
            best = min(over, key=lambda facing: facing.ahead(middle))
            nearest.append(_Facing(best.other, start, end, best.ahead(start), best.ahead(end)))
    return nearest


def _mutual(front: Segment, other: Segment, i: int, j: int, seen: Sequence[Sequence[_Facing]]) -> list[_Facing]:
    """Return the stretches of front `i` on which `i` and `j` are each the nearest to the other, merged."""
    back = sorted(
        (front.place(other.at(facing.end))[0], front.place(other.at(facing.start))[0])
        for facing in seen[j]
        if facing.other == i
    )
    parts: list[_Facing] = []
    for facing in (facing for facing in seen[i] if facing.other == j):
        for left, right in back:
            start, end = max(facing.start, left), min(facing.end, right)
            if end - start <= NOISE_MM:
                continue
            if parts and start - parts[-1].end <= NOISE_MM:
                last = parts.pop()
                parts.append(_Facing(j, last.start, end, last.start_ahead, facing.ahead(end)))
            else:
                parts.append(_Facing(j, start, end, facing.ahead(start), facing.ahead(end)))
    return parts


def _measured(a_id: str, b_id: str, front: Segment, parts: Sequence[_Facing]) -> ClearWidth:
    width = min(min(part.start_ahead, part.end_ahead) for part in parts)
    narrow = [part for part in parts if min(part.start_ahead, part.end_ahead) <= width + NOISE_MM]
    part = max(narrow, key=lambda facing: facing.end - facing.start)
    if abs(part.start_ahead - part.end_ahead) <= NOISE_MM:
        place = (part.start + part.end) / 2
    else:
        place = part.start if part.start_ahead < part.end_ahead else part.end
    overlap = sum(p.end - p.start for p in parts)
    return ClearWidth(a_id, b_id, width, front.at(place), front.at(place, width), overlap)


def clear_ahead(
    edge: Segment,
    obstacles: Mapping[str, BaseGeometry | Segment],
    reach_mm: float,
    least_width_mm: float = 0.0,
) -> ClearAhead | None:
    """Return the nearest obstacle straight ahead of an edge.

    Args:
        edge: The edge, with the person in front of it.
        obstacles: Footprints, or wall faces, by id. What lies beside or behind the edge does not count,
            so the thing itself and its neighbours may be among them.
        reach_mm: How far ahead is looked, above 0.
        least_width_mm: What covers less of the swath than this sideways does not count.
    Returns:
        The nearest, or None when nothing stands within reach.
    """
    return clear_ahead_of_each([(edge, ())], obstacles, reach_mm, least_width_mm)[0]


def clear_ahead_of_each(
    edges: Sequence[tuple[Segment, Collection[str]]],
    obstacles: Mapping[str, BaseGeometry | Segment],
    reach_mm: float,
    least_width_mm: float = 0.0,
) -> list[ClearAhead | None]:
    """Return the nearest obstacle straight ahead of each of several edges, looked for all at once.

    Args:
        edges: Each with the ids of the obstacles that do not count for it.
        obstacles, reach_mm, least_width_mm: As for `clear_ahead`.
    """
    require_positive(reach_mm=reach_mm)
    met = _met([edge for edge, _ in edges], obstacles, reach_mm)
    return [
        _nearest_ahead(edge, reach_mm, [one for one in before if one[1] not in passed], least_width_mm)
        for (edge, passed), before in zip(edges, met, strict=True)
    ]


_Met = tuple[float, str, BaseGeometry]
"""What reaches into a swath: a distance than which no part of it in there is nearer, its id, its shape."""


def _nearest_ahead(edge: Segment, reach_mm: float, met: Sequence[_Met], least_width_mm: float) -> ClearAhead | None:
    nearest: tuple[float, str, float] | None = None
    for least_mm, obstacle_id, shape in met:
        if nearest is not None and least_mm > nearest[0] + NOISE_MM:
            break
        for points in _swath_parts(edge, reach_mm, shape):
            places = [place for place, _ in points]
            if max(places) - min(places) >= max(least_width_mm, 0.0) - NOISE_MM:
                near = min(ahead for _, ahead in points)
                at_near = [place for place, ahead in points if ahead <= near + NOISE_MM]
                found = (near, obstacle_id, (min(at_near) + max(at_near)) / 2)
                nearest = found if nearest is None else min(nearest, found)
    if nearest is None:
        return None
    near, obstacle_id, place = nearest
    return ClearAhead(obstacle_id, near, edge.at(place), edge.at(place, near))


def _met(
    edges: Sequence[Segment], obstacles: Mapping[str, BaseGeometry | Segment], reach_mm: float
) -> list[list[_Met]]:
    """Return for each edge what reaches into the floor straight ahead of it, as wide as the edge; nearest first."""
    found: list[list[_Met]] = [[] for _ in edges]
    if not edges or not obstacles:
        return found
    names = list(obstacles)
    shapes = np.array([s.line if isinstance(s, Segment) else s for s in obstacles.values()], dtype=object)
    areas = np.array([_swath_area(edge, reach_mm) for edge in edges], dtype=object)
    edge_of, shape_of = np.nonzero(shapely.intersects(areas[:, None], shapes[None]))
    points, of = shapely.get_coordinates(shapes[shape_of], return_index=True)
    x, y, nx, ny = np.array([(*edge.a, *edge.outward) for edge in edges])[edge_of[of]].T
    least = np.full(len(edge_of), np.inf)
    np.minimum.at(least, of, (points[:, 0] - x) * nx + (points[:, 1] - y) * ny)
    for ahead, j, i in sorted(zip(least.tolist(), shape_of.tolist(), edge_of.tolist(), strict=True)):
        found[i].append((ahead, names[j], shapes[j]))
    return found


def _inset_mm(edge: Segment) -> float:
    """Return by how much a swath is drawn in, so that what only touches its sides or the edge is not in it."""
    return min(1e3 * NOISE_MM, edge.length_mm / 4)


# Swaths and what they meet are remembered: from one look at a house to the next, few edges and shapes move.
@lru_cache(maxsize=512)
def _swath_area(edge: Segment, reach_mm: float) -> Polygon:
    inset = _inset_mm(edge)
    area = edge.moved(inset).strip(reach_mm - inset, inset, edge.length_mm - inset)
    shapely.prepare(area)
    return area


@lru_cache(maxsize=512)
def _swath_parts(edge: Segment, reach_mm: float, shape: BaseGeometry) -> tuple[tuple[Point, ...], ...]:
    """Return each part of a shape in a swath, as places along the edge and distances ahead."""
    inset = _inset_mm(edge)
    noise = 2 * inset

    def without_inset(place: float, ahead: float) -> Point:
        if place <= noise:
            place = 0.0
        elif place >= edge.length_mm - noise:
            place = edge.length_mm
        return place, 0.0 if ahead <= noise else ahead

    parts = places_within(
        edge, (inset, edge.length_mm - inset), (inset, reach_mm), shape, lambda: _swath_area(edge, reach_mm)
    )
    return tuple(tuple(without_inset(*point) for point in part) for part in parts)


def clear_strip(
    edge: Segment, obstacles: Mapping[str, BaseGeometry | Segment], reach_mm: float, width_mm: float
) -> tuple[float, Segment] | None:
    """Return how far ahead the floor is clear before some stretch of an edge of the given width.

    It answers where an obstacle covers only part of what lies ahead. An obstacle's nearest point is
    taken for all its width, so beside a slanted one the true figure may be larger.

    Args:
        edge, obstacles, reach_mm: As for `clear_ahead`.
        width_mm: Width of the stretch, above 0.
    Returns:
        The greatest distance (at most `reach_mm`) and the stretch of the edge, in its middle when there
        is room to spare; None when the edge is shorter than the width.
    """
    require_positive(width_mm=width_mm, reach_mm=reach_mm)
    if edge.length_mm < width_mm - NOISE_MM:
        return None
    met = [
        (min(p for p, _ in points), max(p for p, _ in points), min(a for _, a in points))
        for _, _, shape in _met([edge], obstacles, reach_mm)[0]
        for points in _swath_parts(edge, reach_mm, shape)
    ]
    for clear_mm in [reach_mm, *sorted({near for _, _, near in met}, reverse=True)]:
        start, widest = 0.0, (0.0, 0.0)
        taken = sorted((a, b) for a, b, near in met if near < clear_mm - NOISE_MM)
        for a, b in [*taken, (edge.length_mm, edge.length_mm)]:
            if a - start > widest[1] - widest[0]:
                widest = (start, a)
            start = max(start, b)
        if widest[1] - widest[0] >= width_mm - NOISE_MM:
            middle = (widest[0] + widest[1]) / 2
            return clear_mm, edge.part(max(0.0, middle - width_mm / 2), min(edge.length_mm, middle + width_mm / 2))
    return None
