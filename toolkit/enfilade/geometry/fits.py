"""What fits on a free floor: circles, rectangles, and the T in which a wheelchair turns.

Each answer allows half of 1/16 in (0.8 mm) on the size, as two lengths that close are one on site.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Point as ShapelyPoint
from shapely import Polygon, affinity
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from enfilade.errors import OutOfRange, require_positive
from enfilade.geometry.boxes import Box, polygons_of
from enfilade.geometry.points import Point, turned
from enfilade.lengths import TOLERANCE_MM

__all__ = ["Circle", "circle_fits", "largest_circle", "rectangle_fits", "t_turn_fits"]

Vectors = npt.NDArray[np.float64]

_ARC_STEPS = 64
_SLIVER_MM = 1e-4


@dataclass(frozen=True)
class Circle:
    """A circle on the floor."""

    centre: Point
    diameter_mm: float

    @property
    def polygon(self) -> Polygon:
        """Return the circle as a polygon of 256 corners."""
        return ShapelyPoint(self.centre).buffer(self.diameter_mm / 2, quad_segs=_ARC_STEPS)


def largest_circle(free: BaseGeometry, tolerance_mm: float = 0.1) -> Circle | None:
    """Return the largest circle on a floor, its diameter low by at most twice `tolerance_mm`; None without floor."""
    require_positive(tolerance_mm=tolerance_mm)
    found = [shapely.maximum_inscribed_circle(part, tolerance=tolerance_mm) for part in polygons_of(free)]
    if not found:
        return None
    best = max(found, key=lambda line: float(line.length))
    x, y = best.coords[0]
    return Circle((x, y), 2 * best.length)


def circle_fits(free: BaseGeometry, diameter_mm: float) -> Point | None:
    """Return where a circle of the given diameter fits on a floor (its centre), or None.

    Round corners of the search are polygons of 256 sides: within 0.01 % of the diameter.
    """
    require_positive(diameter_mm=diameter_mm)
    places = free.buffer(-(diameter_mm - TOLERANCE_MM) / 2, quad_segs=_ARC_STEPS)
    return _place_in(places)


def _place_in(places: BaseGeometry) -> Point | None:
    """Return the point nearest the centroid of the largest part: it turns and moves with the house."""
    parts = polygons_of(places)
    if not parts:
        return None
    largest = max(parts, key=lambda part: float(part.area))
    point = nearest_points(largest, largest.centroid)[0]
    return (point.x, point.y)


def rectangle_fits(free: BaseGeometry, width_mm: float, depth_mm: float, turn_deg: float) -> Box | None:
    """Return where a rectangle fits on a floor at a given turn, or None.

    Args:
        free: The floor.
        width_mm: Its width at turn 0 along x, above 0.
        depth_mm: Its depth, above 0.
        turn_deg: Its turn, counter-clockwise.
    """
    require_positive(width_mm=width_mm, depth_mm=depth_mm)
    place = _place_in(_places_for(free, width_mm, depth_mm, turn_deg))
    return None if place is None else Box(place[0], place[1], width_mm, depth_mm, turn_deg)


def _places_for(free: BaseGeometry, width_mm: float, depth_mm: float, turn_deg: float) -> BaseGeometry:
    """Return where the centre of a rectangle may be: the floor eroded by its width, then by its depth."""
    across = np.array(turned((1.0, 0.0), turn_deg)) * max(width_mm - TOLERANCE_MM, 0.0)
    back = np.array(turned((0.0, 1.0), turn_deg)) * max(depth_mm - TOLERANCE_MM, 0.0)
    return _eroded(_eroded(free, across), back)


def _eroded(free: BaseGeometry, sweep: Vectors) -> BaseGeometry:
    """Return the points about which a line of length and direction `sweep`, centred, stays on the floor.

    The line leaves the floor where it meets an edge, so each edge swept along it is taken away: a
    parallelogram. This is exact but for slivers.
    """
    blocked = []
    for part in polygons_of(free):
        for ring in (part.exterior, *part.interiors):
            corners = shapely.get_coordinates(ring)
            a, b = corners[:-1], corners[1:]
            area = (b - a)[:, 0] * sweep[1] - (b - a)[:, 1] * sweep[0]
            half = sweep / 2
            # An edge along the sweep takes nothing away, and its hair-thin quad would spoil the union.
            crosses = np.abs(area) > _SLIVER_MM / 10 * np.hypot(*sweep)
            quads = np.stack([a - half, b - half, b + half, a + half], axis=1)[crosses]
            blocked.extend(shapely.polygons(quads).tolist())
    left = free.difference(shapely.union_all(blocked))
    # Turned coordinates leave slivers along edges that should cancel.
    return left.buffer(-_SLIVER_MM, join_style="mitre")


def t_turn_fits(
    free: BaseGeometry, turn_degs: Iterable[float], *, square_mm: float, arm_mm: float, block_mm: tuple[float, float]
) -> Polygon | None:
    """Return a T in which a wheelchair turns, where it fits, or None.

    The T is a square without two blocks at the ends of one side; at turn 0 its stem points to -y.

    Args:
        free: The floor.
        turn_degs: Turns to try, each also with 90, 180 and 270 added: those of the walls.
        square_mm: Side of the square.
        arm_mm: Width of arms and stem.
        block_mm: Width (across the stem) and depth (along it) of each block; together with the arms they
            make up the square.
    Raises:
        OutOfRange: Arms and blocks do not add up to the square.
    """
    across, depth = block_mm
    if abs(2 * across + arm_mm - square_mm) > TOLERANCE_MM or abs(depth + arm_mm - square_mm) > TOLERANCE_MM:
        raise OutOfRange(
            f"blocks of {across} x {depth} mm and arms of {arm_mm} mm in a square of {square_mm} mm",
            expected="2 block widths + arm = square, and block depth + arm = square",
        )
    for turn_deg in sorted({round((turn + quarter) % 360, 9) for turn in turn_degs for quarter in (0, 90, 180, 270)}):
        stem = _places_for(free, arm_mm, square_mm, turn_deg)
        bar_x, bar_y = turned((0.0, (square_mm - arm_mm) / 2), turn_deg)
        bar = affinity.translate(_places_for(free, square_mm, arm_mm, turn_deg), -bar_x, -bar_y)
        place = _place_in(stem.intersection(bar))
        if place is not None:
            return _t_shape(Box(place[0], place[1], square_mm, square_mm, turn_deg), across, depth)
    return None


def _t_shape(square: Box, across: float, depth: float) -> Polygon:
    half = square.width_mm / 2
    inner, low = half - across, -half + depth
    ring = [(-inner, -half), (inner, -half), (inner, low), (half, low)]
    ring += [(half, half), (-half, half), (-half, low), (-inner, low)]
    return Polygon([square.at(u, v) for u, v in ring])
