"""Plain arithmetic on points and directions of the plan."""

from __future__ import annotations

import math
from typing import Final

from enfilade.findings import Point

__all__ = [
    "NOISE_MM",
    "Point",
    "along",
    "angle_between_deg",
    "cosine_and_sine",
    "cross",
    "distance",
    "dot",
    "minus",
    "turned",
    "unit",
]

NOISE_MM: Final = 1e-6
"""What coordinates lose when a house is turned or moved; nothing that is measured is this small."""

_QUARTERS: Final = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}


def dot(a: Point, b: Point) -> float:
    """Return the scalar product of two vectors."""
    return a[0] * b[0] + a[1] * b[1]


def cross(a: Point, b: Point) -> float:
    """Return the z part of the vector product: above 0 when `b` lies counter-clockwise of `a`."""
    return a[0] * b[1] - a[1] * b[0]


def minus(a: Point, b: Point) -> Point:
    """Return the vector from `b` to `a`."""
    return (a[0] - b[0], a[1] - b[1])


def along(start: Point, direction: Point, distance_mm: float) -> Point:
    """Return the point `distance_mm` from `start` along a unit vector."""
    return (start[0] + direction[0] * distance_mm, start[1] + direction[1] * distance_mm)


def distance(a: Point, b: Point) -> float:
    """Return the straight distance between two points [mm]."""
    return math.hypot(a[0] - b[0], a[1] - b[1])


def unit(vector: Point) -> Point:
    """Return a vector of length 1 that points the same way; its length must be above 0."""
    length = math.hypot(*vector)
    return (vector[0] / length, vector[1] / length)


def turned(vector: Point, turn_deg: float) -> Point:
    """Return a vector turned counter-clockwise; quarter turns are exact."""
    c, s = cosine_and_sine(turn_deg)
    return (vector[0] * c - vector[1] * s, vector[0] * s + vector[1] * c)


def cosine_and_sine(turn_deg: float) -> tuple[float, float]:
    """Return both of an angle; those of quarter turns are exact."""
    quarter = _QUARTERS.get(int(turn_deg % 360)) if turn_deg % 90 == 0 else None
    return quarter or (math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg)))


def angle_between_deg(a: Point, b: Point) -> float:
    """Return the angle from `a` to `b`, counter-clockwise above 0, within -180 to 180 [deg]."""
    return math.degrees(math.atan2(cross(a, b), dot(a, b)))
