"""What can be seen from where, on the plan."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Point as ShapelyPoint
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.errors import OutOfRange
from enfilade.geometry.boxes import polygons_of
from enfilade.geometry.outlines import free_floor, polygon_of
from enfilade.geometry.points import NOISE_MM, Point, distance
from enfilade.geometry.walks import length_inside
from enfilade.lengths import TOLERANCE_MM

__all__ = ["sees", "visible_region"]

Floats = npt.NDArray[np.float64]

_SAME_RAY: Final = 1e-11
_ON_EDGE_MM: Final = 1e-3


def sees(a: Point, b: Point, obstacles: Iterable[BaseGeometry]) -> bool:
    """Tell whether the straight line between two points stays out of all obstacles; along an edge it does."""
    return length_inside(a, b, obstacles) <= TOLERANCE_MM


def visible_region(point: Point, outline: Sequence[Point] | Polygon, obstacles: Iterable[BaseGeometry] = ()) -> Polygon:
    """Return all the floor that is seen from a point, looking all round.

    Between two corners that follow each other around the point, one edge is nearest: the region is the
    triangles up to it, so nothing is sampled.

    Args:
        point: Where the eye is, inside the outline or on its edge [mm].
        outline: Corners of the room, or its floor.
        obstacles: Footprints that block the view; one that holds the point does not block its own view.
            Nothing is seen through gaps narrower than 0.8 mm.
    Raises:
        OutOfRange: The point lies outside the outline.
    """
    floor = outline if isinstance(outline, Polygon) else polygon_of(outline)
    eye = ShapelyPoint(point)
    if floor.distance(eye) > TOLERANCE_MM:
        raise OutOfRange(f"the eye at {point} is outside the room", expected="a point inside the outline")
    blocking = [shape for shape in obstacles if not shape.contains(eye)]
    parts = polygons_of(free_floor(floor, blocking))
    if not parts:
        return Polygon()
    part = min(parts, key=lambda shape: float(shape.distance(eye)))
    return _swept(point, part)


def _swept(point: Point, part: Polygon) -> Polygon:
    rings = [shapely.get_coordinates(ring) - point for ring in (part.exterior, *part.interiors)]
    a, b = np.concatenate([r[:-1] for r in rings]), np.concatenate([r[1:] for r in rings])
    long = np.hypot(*(b - a).T) > 0
    a, b = a[long], b[long]
    run = b - a
    # Corners at the eye itself have no direction; edges through it hide nothing.
    size = np.hypot(*run.T)
    off = np.abs(a[:, 0] * run[:, 1] - a[:, 1] * run[:, 0]) / size
    far = np.hypot(*a.T) > _ON_EDGE_MM
    angles = np.unique(np.arctan2(a[far, 1], a[far, 0]))
    starts, ends = angles, np.append(angles[1:], angles[0] + 2 * math.pi)
    wide = ends - starts > _SAME_RAY
    starts, ends = starts[wide], ends[wide]
    middles = (starts + ends) / 2
    on_edge = part.boundary.distance(ShapelyPoint(point)) <= _ON_EDGE_MM
    if on_edge:
        probes = np.array(point) + 2 * _ON_EDGE_MM * np.stack([np.cos(middles), np.sin(middles)], axis=1)
        inside = shapely.intersects_xy(part, probes)
        starts, ends, middles = starts[inside], ends[inside], middles[inside]
    edges = off > _ON_EDGE_MM / 10 if on_edge else np.full(len(a), True)
    nearest = np.argmin(_reaches(a[edges], run[edges], middles), axis=1)
    a, run = a[edges][nearest], run[edges][nearest]
    return _joined(_met(a, run, starts) + point, _met(a, run, ends) + point, starts, ends, point)


def _reaches(a: Floats, run: Floats, angles: Floats) -> Floats:
    """Return how far each ray (row) goes to each edge (column); infinite when it misses."""
    ray = np.stack([np.cos(angles), np.sin(angles)], axis=1)[:, None, :]
    turn = ray[..., 0] * run[:, 1] - ray[..., 1] * run[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        reach = (a[:, 0] * run[:, 1] - a[:, 1] * run[:, 0]) / turn
        share = (a[:, 0] * ray[..., 1] - a[:, 1] * ray[..., 0]) / turn
    noise = 1e-9
    hits = (reach > 0) & (share >= -noise) & (share <= 1 + noise)
    found: Floats = np.where(hits, reach, np.inf)
    return found


def _met(a: Floats, run: Floats, angles: Floats) -> Floats:
    """Return where each ray meets its own edge; a ray along the edge meets its nearer end."""
    ray = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    turn = ray[:, 0] * run[:, 1] - ray[:, 1] * run[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (a[:, 0] * ray[:, 1] - a[:, 1] * ray[:, 0]) / turn
    share = np.clip(np.nan_to_num(share, nan=0.0, posinf=1.0, neginf=0.0), 0.0, 1.0)
    points: Floats = a + run * share[:, None]
    return points


def _joined(lefts: Floats, rights: Floats, starts: Floats, ends: Floats, point: Point) -> Polygon:
    """Return the triangles from the eye, which follow each other round it, as one polygon."""
    ring: list[Point] = []
    for i in range(len(starts)):
        # After a stretch that looks out of the room (the eye is on its edge) the outline passes the eye.
        if abs(math.remainder(starts[i] - ends[i - 1], 2 * math.pi)) > _SAME_RAY:
            ring.append(point)
        ring += [(float(x), float(y)) for x, y in (lefts[i], rights[i])]
    # Noise splits one corner into two, in the wrong order as often as not.
    ring = [p for i, p in enumerate(ring) if distance(p, ring[i - 1]) > NOISE_MM]
    if len(ring) < 3:
        return Polygon()
    region = Polygon(ring)
    if region.is_valid:
        return region
    parts = polygons_of(shapely.make_valid(region, method="structure"))
    return max(parts, key=lambda part: float(part.area)) if parts else Polygon()
