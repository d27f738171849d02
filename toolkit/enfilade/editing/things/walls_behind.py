"""The wall of the next room that lies behind a stretch of wall."""

from __future__ import annotations

import math
from typing import Final

from enfilade.editing.things.house import House
from enfilade.geometry.points import dot
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.project import Project
from enfilade.project.spaces import Opening
from enfilade.project.standing import opening_segment

__all__ = ["THICKEST_MM", "beyond_kept", "wall_behind"]

THICKEST_MM: Final = 400.0
"""A wall no thicker than this parts two rooms; what lies farther is another room's (own choice)."""
_FACING: Final = math.cos(math.radians(10.0))


def wall_behind(house: House, wall: str, from_mm: float, to_mm: float) -> tuple[str, float] | None:
    """Return the wall that lies behind a stretch, and how far behind, None when no room is near.

    Args:
        wall: The wall on this side.
        from_mm, to_mm: The stretch, from the wall's left end.
    Returns:
        The id of the nearest wall that faces the other way and lies behind the middle of the stretch, within
        `THICKEST_MM`; and the thickness between [mm].
    """
    line, space = house.line(wall), house.owner(wall).id
    middle = line.at((from_mm + to_mm) / 2)
    found = []
    for other, far in house.lines.items():
        if house.owner(other).id == space or dot(line.outward, far.outward) > -_FACING:
            continue
        along, ahead = far.place(middle)
        behind_mm = -ahead
        if -TOLERANCE_MM <= along <= far.length_mm + TOLERANCE_MM and -TOLERANCE_MM <= behind_mm <= THICKEST_MM:
            found.append((round(max(0.0, behind_mm), 6), other))
    if not found:
        return None
    thick_mm, other = min(found)
    return other, thick_mm


def beyond_kept(project: Project, opening: Opening) -> Opening:
    """Return an opening joined to the wall that is behind it where it stands now.

    What leads outdoors, or nowhere that is known, stays so; what led to a wall that is no longer behind it leads to the
    one that is, or to none that is known.
    """
    if opening.beyond is None or opening.beyond == "none" or opening.kind == "skylight":
        return opening
    house = House(project)
    line = house.line(opening.wall)
    near = opening_segment(opening, line)
    if opening.beyond in house.lines and _covers(house, opening.beyond, near.midpoint):
        return opening
    found = wall_behind(house, opening.wall, line.place(near.a)[0], line.place(near.b)[0])
    return opening.model_copy(update={"beyond": found[0] if found else None})


def _covers(house: House, wall: str, point: tuple[float, float]) -> bool:
    far = house.lines[wall]
    return -TOLERANCE_MM <= far.place(point)[0] <= far.length_mm + TOLERANCE_MM
