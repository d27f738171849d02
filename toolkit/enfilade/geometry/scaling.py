"""A scanned plan set to scale by two points of known distance, and how its pixels lie on the plan of the house."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from enfilade.errors import OutOfRange, Refused, require_positive
from enfilade.geometry.points import Point, angle_between_deg, distance, minus, turned
from enfilade.lengths import LIMIT_MM

__all__ = ["LaidPicture", "PictureScale", "scale_by_two_points"]

Axis = Literal["x", "y", "nearest"]


@dataclass(frozen=True, slots=True)
class PictureScale:
    """The scale of a picture.

    Attributes:
        mm_per_px: Length of the side of a pixel in the house [mm].
        turn_deg: How far to turn the picture, counter-clockwise, so that the two points lie along the axis.
        apart_px: Distance of the two points on the picture [px].
    """

    mm_per_px: float
    turn_deg: float
    apart_px: float

    def slip_mm(self, length_mm: float) -> float:
        """Return how much a length read off the picture is out when one of the two points was 1 px off [mm].

        The slip lies along the line between them, which is the worst: the share is 1 in `apart_px`.
        """
        return length_mm / self.apart_px


@dataclass(frozen=True, slots=True)
class LaidPicture:
    """A picture that lies under the plan. Its pixels count from its upper left corner, downwards.

    Attributes:
        mm_per_px: Length of the side of a pixel in the house, above 0 [mm].
        x_mm, y_mm: Where its lower left corner lies [mm].
        turn_deg: Its turn about that corner, counter-clockwise.
        height_px: Height of the picture, above 0 [px].
    """

    mm_per_px: float
    x_mm: float
    y_mm: float
    turn_deg: float
    height_px: float

    def __post_init__(self) -> None:
        require_positive(mm_per_px=self.mm_per_px, height_px=self.height_px)

    def to_house(self, pixel: Point) -> Point:
        """Return the point of the house that a pixel shows [mm]."""
        x, y = turned((pixel[0] * self.mm_per_px, (self.height_px - pixel[1]) * self.mm_per_px), self.turn_deg)
        return (self.x_mm + x, self.y_mm + y)

    def to_picture(self, point: Point) -> Point:
        """Return the pixel that shows a point of the house."""
        x, y = turned(minus(point, (self.x_mm, self.y_mm)), -self.turn_deg)
        return (x / self.mm_per_px, self.height_px - y / self.mm_per_px)


def scale_by_two_points(first: Point, second: Point, distance_mm: float, axis: Axis | None = None) -> PictureScale:
    """Return the scale of a picture from two points on it and their distance in the house.

    Args:
        first: A point [px], from the upper left corner of the picture, downwards.
        second: Another.
        distance_mm: How far apart they are in the house, above 0 [mm].
        axis: Turn the picture so that the line between them runs along this axis of the plan, whichever way is
            nearer; None leaves it as it lies.
    Raises:
        OutOfRange: The distance is not above 0, or a point is not finite.
        Refused: The points are less than 2 px apart, where a slip of the hand is half the distance.

    >>> scale_by_two_points((100.0, 50.0), (500.0, 50.0), 4000.0).mm_per_px
    10.0
    """
    if not all(map(math.isfinite, (*first, *second))):
        raise OutOfRange(f"points {first} and {second}", expected="finite numbers")
    if not (math.isfinite(distance_mm) and 0 < distance_mm <= LIMIT_MM):
        raise OutOfRange(f"a distance of {distance_mm:g} mm", expected="a length above 0")
    apart = distance(first, second)
    if apart < 2.0:
        raise Refused(f"the two points are {apart:.1f} px apart", expected="two points far from each other")
    turn = 0.0
    if axis is not None:
        lies = angle_between_deg((1.0, 0.0), (second[0] - first[0], first[1] - second[1]))
        step, base = (90.0, 0.0) if axis == "nearest" else (180.0, 0.0 if axis == "x" else 90.0)
        turn = base + step * round((lies - base) / step) - lies
    return PictureScale(distance_mm / apart, turn, apart)
