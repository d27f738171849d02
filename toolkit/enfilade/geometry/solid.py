"""Upright bodies and wall faces with openings: the house in three dimensions, as plain shapes. No project."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from enfilade.errors import OutOfRange
from enfilade.geometry.points import Point

__all__ = ["Hole", "Panel", "Prism"]


@dataclass(frozen=True)
class Prism:
    """An upright body: a footprint from one height to another.

    Attributes:
        id: Of what it belongs to; one thing may be made of several.
        footprint: Its corners in order, either way round, convex or not [mm].
        bottom_mm, top_mm: Above the finished floor [mm].
    Raises:
        OutOfRange: Fewer than 3 corners, a number that is not finite, or a top below the bottom.
    """

    id: str
    footprint: tuple[Point, ...]
    bottom_mm: float
    top_mm: float

    def __post_init__(self) -> None:
        _in_order(self.id, self.footprint, self.bottom_mm, self.top_mm)
        if len(self.footprint) < 3:
            raise OutOfRange(f"a footprint of {len(self.footprint)} corners", expected="at least 3 corners")


@dataclass(frozen=True)
class Hole:
    """A rectangular opening in a panel: how far from the panel's `a` it begins and ends, and its heights [mm]."""

    from_mm: float
    to_mm: float
    bottom_mm: float
    top_mm: float


@dataclass(frozen=True)
class Panel:
    """An upright wall face with openings.

    Attributes:
        id: Of the wall.
        a, b: Its left and right end, as seen by a person who faces it [mm].
        bottom_mm, top_mm: Above the finished floor [mm].
        holes: What one looks through; they may reach beyond the panel, which ends them.
    Raises:
        OutOfRange: A number that is not finite, both ends at one point, or a top below the bottom.
    """

    id: str
    a: Point
    b: Point
    bottom_mm: float
    top_mm: float
    holes: tuple[Hole, ...] = ()

    def __post_init__(self) -> None:
        _in_order(self.id, (self.a, self.b), self.bottom_mm, self.top_mm)
        if self.length_mm <= 0:
            raise OutOfRange(f"panel {self.id!r} from {self.a} to {self.b}", expected="two different ends")

    @property
    def length_mm(self) -> float:
        """Return the distance from end to end [mm]."""
        return math.hypot(self.b[0] - self.a[0], self.b[1] - self.a[1])


def _in_order(id: str, points: Iterable[Point], bottom_mm: float, top_mm: float) -> None:
    numbers = (bottom_mm, top_mm, *(coordinate for point in points for coordinate in point))
    if not all(map(math.isfinite, numbers)):
        raise OutOfRange(f"{id!r} has a coordinate that is not a number", expected="finite lengths")
    if top_mm < bottom_mm:
        raise OutOfRange(f"the top of {id!r} is at {top_mm} mm, below its bottom at {bottom_mm} mm")
