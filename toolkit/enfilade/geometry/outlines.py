"""Outlines of rooms: checked, measured, taken apart into walls, and freed of what stands inside."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import combinations, pairwise
from typing import Final

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.errors import OutOfRange, Refused
from enfilade.geometry.boxes import Segment
from enfilade.geometry.points import NOISE_MM, Point, cross, distance, dot, minus
from enfilade.lengths import TOLERANCE_MM

__all__ = [
    "area_m2",
    "check_outline",
    "counter_clockwise",
    "free_floor",
    "is_convex",
    "joined_floors",
    "opposed",
    "polygon_of",
    "shared_edge",
    "shared_edges",
    "signed_area_mm2",
    "walls",
]

_MITRE: Final = 20.0
PARALLEL: Final = math.cos(math.radians(1.0))
"""Edges whose directions have at least this cosine go the same way: within 1 degree."""


def check_outline(points: Sequence[Point]) -> None:
    """Refuse an outline that is not the edge of one floor. Corners are counted from 1.

    Args:
        points: Corners in order, either way round, the first not repeated at the end [mm].
    Raises:
        OutOfRange: A coordinate is not finite.
        Refused: Fewer than 3 corners, a corner repeated, edges that cross or touch, or no area.
    """
    for number, point in enumerate(points, 1):
        if not all(map(math.isfinite, point)):
            raise OutOfRange(f"corner {number} is at {point}", expected="finite coordinates")
    if len(points) < 3:
        raise Refused(f"an outline of {len(points)} corners", expected="at least 3 corners")
    if distance(points[0], points[-1]) < TOLERANCE_MM:
        raise Refused(
            f"the last corner, {len(points)}, repeats the first",
            expected="each corner once",
            do="leave the last one out",
        )
    for (i, a), (j, b) in combinations(enumerate(points, 1), 2):
        if distance(a, b) < TOLERANCE_MM:
            raise Refused(f"corners {i} and {j} are both at {_shown(a)}", expected="each corner once")
    polygon = Polygon(points)
    no_area = Refused(f"the outline of {len(points)} corners has no area", expected="corners that enclose a floor")
    if shapely.MultiPoint(points).convex_hull.area < 1.0:
        raise no_area  # All in one line, where edges cannot but lie on each other.
    _refuse_crossing(points)
    if polygon.area < 1.0:
        raise no_area
    if not polygon.is_valid:
        raise Refused(
            f"the outline crosses itself: {shapely.is_valid_reason(polygon)}", expected="edges that only meet"
        )


def _shown(point: Point) -> str:
    return f"({point[0]:.0f}, {point[1]:.0f})"


def _refuse_crossing(points: Sequence[Point]) -> None:
    count = len(points)
    edges = [shapely.LineString([points[i], points[(i + 1) % count]]) for i in range(count)]
    for i in range(count):
        for j in range(i + 1, count):
            meeting = edges[i].intersection(edges[j])
            neighbours = j == i + 1 or (i == 0 and j == count - 1)
            if meeting.is_empty or (neighbours and meeting.length < NOISE_MM):
                continue
            near = meeting.centroid
            names = f"{i + 1}-{i + 2} and {j + 1}-{(j + 1) % count + 1}"
            raise Refused(
                f"the edges between corners {names} cross near {_shown((near.x, near.y))}",
                expected="an outline that does not cross itself",
                do="put the corners in the order in which one walks round the room",
            )


def polygon_of(points: Sequence[Point]) -> Polygon:
    """Return the floor inside a checked outline."""
    return _polygon(tuple(map(tuple, points)))


@lru_cache(maxsize=512)
def _polygon(points: tuple[Point, ...]) -> Polygon:
    return Polygon(points)


def area_m2(points: Sequence[Point]) -> float:
    """Return the floor area [m2].

    >>> area_m2([(0, 0), (4000, 0), (4000, 3000), (0, 3000)])
    12.0
    """
    return float(polygon_of(points).area) / 1e6


def signed_area_mm2(points: Sequence[Point]) -> float:
    """Return the area of an outline, below 0 when it is drawn clockwise."""
    base = points[0]
    return sum(cross(minus(p, base), minus(q, base)) for p, q in pairwise(points[1:])) / 2


def counter_clockwise(points: Sequence[Point]) -> tuple[Point, ...]:
    """Return the corners of an outline in counter-clockwise order."""
    return tuple(points if signed_area_mm2(points) >= 0 else points[::-1])


def is_convex(points: Sequence[Point]) -> bool:
    """Tell whether an outline, either way round, bulges in nowhere and does not cross itself."""
    ring = counter_clockwise(points)
    edges = [minus(q, p) for p, q in zip(ring, (*ring[1:], ring[0]), strict=True)]
    turns = [math.atan2(cross(a, b), dot(a, b)) for a, b in zip(edges, (*edges[1:], edges[0]), strict=True)]
    return min(turns) >= -1e-6 and sum(turns) < 2 * math.pi + 1e-3


def walls(points: Sequence[Point]) -> tuple[Segment, ...]:
    """Return the walls; number i stands between corners i and i + 1 (from 0).

    Each runs from left to right as seen from inside the room, and faces into it, whichever way
    round the outline was drawn.
    """
    clockwise = signed_area_mm2(points) < 0
    pairs = [(points[i], points[(i + 1) % len(points)]) for i in range(len(points))]
    return tuple(Segment(p, q) if clockwise else Segment(q, p) for p, q in pairs)


def opposed(a: Segment, b: Segment) -> bool:
    """Tell whether two edges face opposite ways, within 1 degree."""
    return dot(a.outward, b.outward) < -PARALLEL


def shared_edges(
    outline_a: Sequence[Point], outline_b: Sequence[Point], tolerance_mm: float = TOLERANCE_MM
) -> tuple[Segment, ...]:
    """Return the stretches of wall that stand between two rooms.

    Args:
        outline_a: Corners of the first room [mm].
        outline_b: Corners of the second room [mm].
        tolerance_mm: How far apart the two faces may be: the thickness of the wall where outlines run
            along wall faces.
    Returns:
        Stretches on the walls of the first room, longest first.
    """
    found = []
    for wall in walls(outline_a):
        for other in walls(outline_b):
            if not opposed(wall, other):
                continue
            (right, depth_a), (left, depth_b) = wall.place(other.a), wall.place(other.b)
            if max(abs(depth_a), abs(depth_b)) > tolerance_mm + NOISE_MM:
                continue
            start, end = max(0.0, left), min(wall.length_mm, right)
            if end - start > TOLERANCE_MM:
                found.append(wall.part(start, end))
    return tuple(sorted(found, key=lambda part: -part.length_mm))


def shared_edge(
    outline_a: Sequence[Point], outline_b: Sequence[Point], tolerance_mm: float = TOLERANCE_MM
) -> Segment | None:
    """Return the longest stretch of wall between two rooms (see `shared_edges`), or None."""
    return next(iter(shared_edges(outline_a, outline_b, tolerance_mm)), None)


def joined_floors(floors: Iterable[Polygon]) -> BaseGeometry:
    """Return the floor of spaces that run on into each other as one; a hair between their outlines is closed."""
    whole: BaseGeometry = shapely.union_all([*floors], grid_size=0)
    return whole.buffer(0.5, join_style="mitre").buffer(-0.5, join_style="mitre")


def free_floor(outline: Sequence[Point] | Polygon, obstacles: Iterable[BaseGeometry]) -> BaseGeometry:
    """Return the floor on which nothing stands.

    Gaps narrower than 0.8 mm, such as between two cabinets side by side, are not floor.

    Args:
        outline: Corners of the room, or its floor [mm].
        obstacles: Footprints of what stands in it.
    Returns:
        A polygon, or several, or an empty geometry.
    """
    floor = outline if isinstance(outline, Polygon) else polygon_of(outline)
    half = TOLERANCE_MM / 2
    # Walls and things are drawn in by half the tolerance first, so that what touches overlaps whatever
    # the noise of turned coordinates; mitred corners then come back exactly, and thin gaps do not.
    inner = floor.buffer(-half, join_style="mitre", mitre_limit=_MITRE)
    grown = [_grown(shape) for shape in obstacles]
    free = inner.difference(shapely.union_all(grown)).buffer(half, join_style="mitre", mitre_limit=_MITRE)
    return shapely.remove_repeated_points(free, NOISE_MM)


@lru_cache(maxsize=512)
def _grown(shape: BaseGeometry) -> BaseGeometry:
    # Remembered: from one look at a house to the next, few things move.
    return shape.buffer(TOLERANCE_MM / 2, join_style="mitre", mitre_limit=_MITRE)
