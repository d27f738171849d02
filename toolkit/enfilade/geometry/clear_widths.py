"""Clear widths: between fronts that face each other, and straight ahead of an edge."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from enfilade.errors import require_positive
from enfilade.geometry.boxes import Segment
from enfilade.geometry.fronts import parts_within
from enfilade.geometry.outlines import opposed
from enfilade.geometry.points import NOISE_MM, Point
from enfilade.lengths import TOLERANCE_MM

__all__ = ["ClearAhead", "ClearWidth", "clear_ahead", "clear_strip", "clear_width_between"]


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


@dataclass(frozen=True)
class _Facing:
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
    # All ends at once, in the same arithmetic as `Segment.place`.
    ends = [np.array([getattr(front, end) for front in fronts]) for end in ("b", "a")]
    outward = np.array([front.outward for front in fronts])
    found = []
    for front in fronts:
        # Roughly first, so that few pairs are left for the exact question.
        rough = np.flatnonzero(outward @ np.array(front.outward) < -0.99).tolist()
        opposite = np.array([j for j in rough if opposed(front, fronts[j])], dtype=int)
        (left, left_ahead), (right, right_ahead) = (_places(front, end[opposite]) for end in ends)
        over = np.minimum(front.length_mm, right) - np.maximum(0.0, left) > NOISE_MM
        before = over & (np.maximum(left_ahead, right_ahead) > NOISE_MM)
        rows = np.column_stack([left, right, left_ahead, right_ahead])[before].tolist()
        found.append(_nearest(front, dict(zip(opposite[before].tolist(), rows, strict=True))))
    return found


def _places(edge: Segment, points: npt.NDArray[np.float64]) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    x, y = points[:, 0] - edge.a[0], points[:, 1] - edge.a[1]
    (dx, dy), (nx, ny) = edge.direction, edge.outward
    return x * dx + y * dy, x * nx + y * ny


def _nearest(front: Segment, facing_it: Mapping[int, Sequence[float]]) -> list[_Facing]:
    """Return the stretches of a front, each with the nearest of what faces it there."""
    met = []
    for j, (left, right, left_ahead, right_ahead) in facing_it.items():
        whole = _Facing(j, left, right, left_ahead, right_ahead)
        start, end = max(0.0, left), min(front.length_mm, right)
        if min(whole.ahead(start), whole.ahead(end)) > NOISE_MM:
            met.append(_Facing(j, start, end, whole.ahead(start), whole.ahead(end)))
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
    nearest: tuple[float, str, float] | None = None
    swath = _Swath(edge, reach_mm)
    for least_mm, obstacle_id, shape in swath.met(obstacles):
        if nearest is not None and least_mm > nearest[0] + NOISE_MM:
            break
        for points in swath.parts(shape):
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


class _Swath:
    """The floor straight ahead of an edge, as wide as the edge."""

    def __init__(self, edge: Segment, reach_mm: float) -> None:
        require_positive(reach_mm=reach_mm)
        self.edge = edge
        # It is drawn in by noise, so that what only touches its sides or the edge is not in it.
        self._inset = min(1e3 * NOISE_MM, edge.length_mm / 4)
        self._area = edge.moved(self._inset).strip(reach_mm - self._inset, self._inset, edge.length_mm - self._inset)

    def met(self, obstacles: Mapping[str, BaseGeometry | Segment]) -> list[tuple[float, str, BaseGeometry]]:
        """Return what reaches into it, with a distance than which no part of it in here is nearer; nearest first."""
        names = list(obstacles)
        shapes = [LineString([s.a, s.b]) if isinstance(s, Segment) else s for s in obstacles.values()]
        if not names:
            return []
        (nx, ny), (x, y) = self.edge.outward, self.edge.a
        found = []
        for number in np.flatnonzero(shapely.intersects(self._area, np.array(shapes, dtype=object))).tolist():
            points = shapely.get_coordinates(shapes[number])
            found.append((float(((points[:, 0] - x) * nx + (points[:, 1] - y) * ny).min()), number))
        return [(least, names[number], shapes[number]) for least, number in sorted(found)]

    def parts(self, shape: BaseGeometry) -> Iterator[list[tuple[float, float]]]:
        """Yield each part of a shape in here, as places along the edge and distances ahead."""
        for part in parts_within(self._area, [shape]):
            points = (self.edge.place((x, y)) for x, y in shapely.get_coordinates(part).tolist())
            yield [self._without_inset(point) for point in points]

    def _without_inset(self, point: tuple[float, float]) -> tuple[float, float]:
        place, ahead = point
        if place <= 2 * self._inset:
            place = 0.0
        elif place >= self.edge.length_mm - 2 * self._inset:
            place = self.edge.length_mm
        return place, 0.0 if ahead <= 2 * self._inset else ahead


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
    require_positive(width_mm=width_mm)
    if edge.length_mm < width_mm - NOISE_MM:
        return None
    swath = _Swath(edge, reach_mm)
    met = [
        (min(p for p, _ in points), max(p for p, _ in points), min(a for _, a in points))
        for _, _, shape in swath.met(obstacles)
        for points in swath.parts(shape)
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
