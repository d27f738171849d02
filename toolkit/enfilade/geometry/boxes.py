"""Boxes that stand on the plan, and the straight edges by which they are measured."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import Final, cast

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.errors import OutOfRange, require_positive
from enfilade.geometry.points import Point, along, angle_between_deg, turned

__all__ = ["Box", "Segment", "box_from_front", "common_part", "ellipse", "polygons_of", "shared_mm2"]


@dataclass(frozen=True)
class Segment:
    """A straight edge on the plan, from left to right as seen by a person who stands before it and faces it.

    Attributes:
        a: Left end [mm].
        b: Right end [mm].
        length_mm: The length.
        direction: The unit vector from left to right.
    Raises:
        OutOfRange: An end is not finite, or both are the same point.
    """

    a: Point
    b: Point
    length_mm: float = field(init=False, repr=False, compare=False)
    direction: Point = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        (ax, ay), (bx, by) = self.a, self.b
        x, y = bx - ax, by - ay
        length = math.hypot(x, y)
        if not (math.isfinite(length) and length > 0):
            raise OutOfRange(f"an edge from {self.a} to {self.b}", expected="two different, finite points")
        object.__setattr__(self, "length_mm", length)
        object.__setattr__(self, "direction", (x / length, y / length))

    @cached_property
    def line(self) -> LineString:
        """Return the edge as a shape."""
        return LineString([self.a, self.b])

    @property
    def midpoint(self) -> Point:
        """Return the point halfway."""
        return ((self.a[0] + self.b[0]) / 2, (self.a[1] + self.b[1]) / 2)

    @cached_property
    def outward(self) -> Point:
        """Return the unit vector towards the person who faces the edge."""
        x, y = self.direction
        return (y, -x)

    def at(self, distance_mm: float, ahead_mm: float = 0.0) -> Point:
        """Return the point so far from the left end, and so far before the edge [mm]."""
        # Written out, and in `place` too: every measure goes through these two.
        (x, y), (dx, dy) = self.a, self.direction
        return (x + dx * distance_mm + dy * ahead_mm, y + dy * distance_mm - dx * ahead_mm)

    def place(self, point: Point) -> tuple[float, float]:
        """Return how far a point lies along the edge from its left end, and how far before it [mm]."""
        (x, y), (x0, y0), (dx, dy) = point, self.a, self.direction
        x, y = x - x0, y - y0
        return (x * dx + y * dy, x * dy - y * dx)

    def reversed(self) -> Segment:
        """Return the same edge as seen from the other side."""
        return Segment(self.b, self.a)

    def part(self, from_mm: float, to_mm: float) -> Segment:
        """Return the stretch between two distances from the left end [mm]; beyond the ends it goes on straight."""
        start = self.a if from_mm == 0 else self.at(from_mm)
        end = self.b if to_mm == self.length_mm else self.at(to_mm)
        return Segment(start, end)

    def moved(self, ahead_mm: float) -> Segment:
        """Return the same edge moved towards the person [mm]."""
        return Segment(along(self.a, self.outward, ahead_mm), along(self.b, self.outward, ahead_mm))

    def strip(self, depth_mm: float, from_mm: float | None = None, to_mm: float | None = None) -> Polygon:
        """Return the floor before the edge, `depth_mm` deep, between two distances from its left end [mm]."""
        start = 0.0 if from_mm is None else from_mm
        return _strip(self, depth_mm, start, self.length_mm if to_mm is None else to_mm)


# Strips and shared areas are remembered: from one look at a house to the next, few things move.
@lru_cache(maxsize=512)
def _strip(edge: Segment, depth_mm: float, start: float, end: float) -> Polygon:
    return _polygon([edge.at(start), edge.at(start, depth_mm), edge.at(end, depth_mm), edge.at(end)])


def _polygon(points: Sequence[Point]) -> Polygon:
    # Straight to the library: `Polygon(points)` takes half as long again to look at what it was given.
    return cast("Polygon", shapely.polygons(np.array(points)))


@dataclass(frozen=True)
class Box:
    """A rectangle on the plan with a front.

    At turn 0 the front faces -y: u (to the right, seen facing the front) is +x and v (to the back) is +y.

    Attributes:
        x, y: Centre [mm].
        width_mm: Side to side along the front, above 0.
        depth_mm: Front to back, above 0.
        turn_deg: Turned about its centre, counter-clockwise.
    Raises:
        OutOfRange: A size is not above 0, or a number is not finite.
    """

    x: float
    y: float
    width_mm: float
    depth_mm: float
    turn_deg: float = 0.0

    def __post_init__(self) -> None:
        require_positive(width_mm=self.width_mm, depth_mm=self.depth_mm)
        if not all(map(math.isfinite, (self.x, self.y, self.turn_deg))):
            raise OutOfRange(f"a box at ({self.x}, {self.y}), turned {self.turn_deg}", expected="finite numbers")

    @cached_property
    def _axes(self) -> tuple[Point, Point]:
        return turned((1.0, 0.0), self.turn_deg), turned((0.0, 1.0), self.turn_deg)

    def at(self, u_mm: float, v_mm: float) -> Point:
        """Return the point `u_mm` to the right of the centre and `v_mm` towards the back."""
        u, v = self._axes
        return (self.x + u[0] * u_mm + v[0] * v_mm, self.y + u[1] * u_mm + v[1] * v_mm)

    @cached_property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Return front left, front right, back right, back left: counter-clockwise."""
        w, d = self.width_mm / 2, self.depth_mm / 2
        return self.at(-w, -d), self.at(w, -d), self.at(w, d), self.at(-w, d)

    @cached_property
    def front(self) -> Segment:
        """Return the front edge."""
        return Segment(self.corners[0], self.corners[1])

    @cached_property
    def right(self) -> Segment:
        """Return the edge on the right of a person who faces the front, as seen from that side."""
        return Segment(self.corners[1], self.corners[2])

    @cached_property
    def back(self) -> Segment:
        """Return the back edge, as seen from behind."""
        return Segment(self.corners[2], self.corners[3])

    @cached_property
    def left(self) -> Segment:
        """Return the edge on the left of a person who faces the front, as seen from that side."""
        return Segment(self.corners[3], self.corners[0])

    def holds(self, point: Point, margin_mm: float = 0.0) -> bool:
        """Tell whether a point lies in the box, or so near to it."""
        (u, v), x, y = self._axes, point[0] - self.x, point[1] - self.y
        across, back = abs(x * u[0] + y * u[1]), abs(x * v[0] + y * v[1])
        return across <= self.width_mm / 2 + margin_mm and back <= self.depth_mm / 2 + margin_mm

    @property
    def outward(self) -> Point:
        """Return the unit vector in which the front faces."""
        v = self._axes[1]
        return (-v[0], -v[1])

    @cached_property
    def polygon(self) -> Polygon:
        """Return the footprint."""
        return _polygon(self.corners)

    def grown(self, by_mm: float) -> Box:
        """Return the box with each edge moved out by `by_mm` (inwards when below 0)."""
        return Box(self.x, self.y, self.width_mm + 2 * by_mm, self.depth_mm + 2 * by_mm, self.turn_deg)

    def front_strip(self, depth_mm: float, width_mm: float | None = None) -> Polygon:
        """Return the floor before the front, centred on it; as wide as the box when no width is given."""
        require_positive(depth_mm=depth_mm)
        spare = 0.0 if width_mm is None else (width_mm - self.width_mm) / 2
        return self.front.strip(depth_mm, -spare, self.width_mm + spare)


def box_from_front(front: Segment, depth_mm: float) -> Box:
    """Return the box that stands behind a front edge.

    >>> box_from_front(Segment((0.0, 0.0), (900.0, 0.0)), 600.0)
    Box(x=450.0, y=300.0, width_mm=900.0, depth_mm=600.0, turn_deg=0.0)
    """
    centre = along(front.midpoint, front.outward, -depth_mm / 2)
    turn_deg = angle_between_deg((1.0, 0.0), front.direction)
    return Box(centre[0], centre[1], front.length_mm, depth_mm, turn_deg)


def ellipse(box: Box, points: int = 128) -> Polygon:
    """Return the ellipse that touches the four edges of a box: a round or oval table.

    It is a polygon of `points` corners that lie on the ellipse, so it is smaller by at most
    0.04 % of the half width with 128.
    """
    return _ellipse(box, points)


@lru_cache(maxsize=256)
def _ellipse(box: Box, points: int) -> Polygon:
    steps = (2 * math.pi * i / points for i in range(points))
    ring = [box.at(box.width_mm / 2 * math.cos(t), box.depth_mm / 2 * math.sin(t)) for t in steps]
    return Polygon(ring)


def polygons_of(shapes: BaseGeometry) -> list[Polygon]:
    """Return the polygons inside any geometry, without what has no area."""
    return [part for part in shapely.get_parts(shapes) if isinstance(part, Polygon) and not part.is_empty]


_GRID_MM: Final = 1e-6
"""Far finer than anything that is measured, and coarser than the noise of a turn."""


def shared_mm2(a: BaseGeometry, b: BaseGeometry) -> float:
    """Return the area that two shapes have in common [mm2]."""
    return _shared_mm2(a, b) if a.intersects(b) else 0.0


@lru_cache(maxsize=512)
def _shared_mm2(a: BaseGeometry, b: BaseGeometry) -> float:
    return float(common_part(a, b).area)


def common_part(a: BaseGeometry, b: BaseGeometry) -> BaseGeometry:
    """Return what two shapes have in common.

    The library answers now and then that two shapes have only corners in common, though their insides overlap, where
    edges that should lie on each other are apart by the noise of a turn. It is then asked again on a fine grid.
    """
    found: BaseGeometry = a.intersection(b)
    if found.area == 0 and a.area > 0 and b.area > 0 and a.relate_pattern(b, "2********"):
        return shapely.intersection(a, b, grid_size=_GRID_MM)
    return found
