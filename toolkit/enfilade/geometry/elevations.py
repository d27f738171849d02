"""Things as they show on the elevation of a wall."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from enfilade.errors import OutOfRange
from enfilade.geometry.boxes import Box, Segment
from enfilade.geometry.points import angle_between_deg

__all__ = ["Face", "WallShape", "on_wall"]

Face = Literal["front", "back", "left", "right", "angled"]


@dataclass(frozen=True)
class WallShape:
    """A thing on the elevation of a wall.

    Attributes:
        left_mm, right_mm: From the wall's left end as seen from inside; beyond the wall below 0 or above
            its length.
        bottom_mm, top_mm: Above the floor.
        distance_mm: From the wall to the nearest point of the thing; below 0 when it stands in the wall.
        facing: Which of its sides one sees when facing the wall; `angled` when none is parallel to it
            within 1 degree.
    """

    left_mm: float
    right_mm: float
    bottom_mm: float
    top_mm: float
    distance_mm: float
    facing: Face

    @property
    def width_mm(self) -> float:
        """Return the width as it shows [mm]."""
        return self.right_mm - self.left_mm


def on_wall(wall: Segment, box: Box, bottom_mm: float, top_mm: float) -> WallShape:
    """Return what a thing shows on the elevation of a wall.

    Args:
        wall: The wall, from left to right as seen from inside.
        box: Footprint of the thing.
        bottom_mm, top_mm: Its height range above the floor; the top is not below the bottom.
    Raises:
        OutOfRange: The top is below the bottom.

    >>> on_wall(Segment((4000.0, 0.0), (0.0, 0.0)), Box(1000.0, 300.0, 600.0, 600.0, 180.0), 0.0, 900.0)
    WallShape(left_mm=2700.0, right_mm=3300.0, bottom_mm=0.0, top_mm=900.0, distance_mm=0.0, facing='front')
    """
    if top_mm < bottom_mm:
        raise OutOfRange(f"from {bottom_mm} up to {top_mm} mm", expected="a top that is not below the bottom")
    return _on_wall(wall, box, bottom_mm, top_mm)


# Remembered: from one look at a house to the next, few things move.
@lru_cache(maxsize=512)
def _on_wall(wall: Segment, box: Box, bottom_mm: float, top_mm: float) -> WallShape:
    places = [wall.place(corner) for corner in box.corners]
    left, right = min(p for p, _ in places), max(p for p, _ in places)
    return WallShape(left, right, bottom_mm, top_mm, min(off for _, off in places), _facing(wall, box))


def _facing(wall: Segment, box: Box) -> Face:
    sides: tuple[tuple[Face, Segment], ...] = (
        ("front", box.front),
        ("right", box.right),
        ("back", box.back),
        ("left", box.left),
    )
    for name, side in sides:
        if abs(angle_between_deg(side.outward, wall.outward)) <= 1.0:
            return name
    return "angled"
