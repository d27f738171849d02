"""Marks of the plan as they show on the elevation of a wall."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from enfilade.drawings.items import Point
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment
from enfilade.geometry.elevations import WallShape
from enfilade.lengths import TOLERANCE_MM

__all__ = ["NEAR_MM", "projected"]

NEAR_MM: Final = 760.0
"""What begins within 30 in of the wall shows on its elevation; the rest belongs to the room (own choice)."""

_ON_MM: Final = 25.0
"""A measured line shows only where both its ends lie this near the wall; others lie on the floor (own choice)."""


def projected(finding: Finding, line: Segment, wall_id: str, shown: Mapping[str, WallShape]) -> tuple[Mark, ...]:
    """Return the marks of a finding on the plan that lie at a wall, moved into its plane.

    They stand at their place along the wall, at the height of the top of the first subject that shows; a point in its
    middle stands for the whole of it, and shows there.

    Args:
        line: The wall, from left to right as seen from inside.
        wall_id: Id of the wall.
        shown: What its elevation shows.
    """
    subject = next((shown[one] for one in finding.subjects if one in shown), None)
    if subject is None:
        return ()
    middle, half = (subject.left_mm + subject.right_mm) / 2, (subject.bottom_mm + subject.top_mm) / 2
    found = []
    for mark in finding.marks:
        reach = {"point": NEAR_MM, "measure": _ON_MM}.get(mark.role)
        if mark.plane != "plan" or not mark.points or reach is None:
            continue
        places = [line.place(point) for point in mark.points]
        if all(-_ON_MM <= at <= line.length_mm + _ON_MM and -_ON_MM <= off <= reach for at, off in places):
            whole = mark.role == "point" and abs(places[0][0] - middle) <= TOLERANCE_MM
            height = half if whole else subject.top_mm
            points: tuple[Point, ...] = tuple((at, height) for at, _ in places)
            found.append(Mark(mark.role, points, mark.text, wall_id))
    return tuple(found)
