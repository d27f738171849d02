"""Walls and corners of a room taped again: what moves with them, and what stays."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Final, Literal

from enfilade.editing.rooms.room_neighbours import those_beyond
from enfilade.editing.rooms.room_places import carried, space_of_wall
from enfilade.editing.rooms.room_records import put, wall_called, with_outline
from enfilade.errors import NotFound, OutOfRange, Refused
from enfilade.geometry.insets import inset
from enfilade.geometry.outlines import check_outline, walls
from enfilade.geometry.points import NOISE_MM, Point, distance
from enfilade.geometry.pushing import pushed
from enfilade.lengths import LIMIT_MM
from enfilade.project.fields import Basis
from enfilade.project.project import Project
from enfilade.project.spaces import Space

__all__ = ["corner_moved", "room_lined", "wall_lengths", "wall_re_measured"]

_DO: Final = "move or take away first what stands in the way"


def wall_lengths(space: Space) -> tuple[float, ...]:
    """Return the length of each wall, in the order of the record [mm]."""
    return tuple(wall.length_mm for wall in walls(space.outline))


def wall_re_measured(
    project: Project, wall: str, length_mm: float, keeps: Literal["left", "right"] = "left", *, neighbours: bool = True
) -> Project:
    """Return the project with one wall as long as it was taped.

    The end that is kept stays; the wall beyond the other end moves parallel to itself, and the one after that takes
    up the difference. No corner changes its angle. What stands against a wall that moves, moves with it.

    Args:
        project: The house.
        wall: Id of the wall.
        length_mm: Its length, above 0 [mm].
        keeps: The end that stays, as seen from inside.
        neighbours: Rooms on the far side of a wall that moves go along with it, unless other walls hold them.
    Raises:
        NotFound: There is no such wall.
        OutOfRange: The length is not above 0.
        Refused: Another wall would vanish, or an opening or thing would have no place any more.
    """
    space = space_of_wall(project, wall)
    index = project.walls_by_id[wall][1]
    called = wall_called(space, index)
    if not (math.isfinite(length_mm) and 0 < length_mm <= LIMIT_MM):
        raise OutOfRange(f"{called} of {length_mm:g} mm", expected="a length above 0")
    if abs(length_mm - wall_lengths(space)[index]) < NOISE_MM:
        return project
    # The wall runs from its left end to its right as the outline goes, or the other way.
    with_outline_goes = walls(space.outline)[index].a == space.outline[index]
    push = pushed(space.outline, index, length_mm, at_end=(keeps == "left") == with_outline_goes)
    if push is None:
        raise Refused(
            f"with {called} at {length_mm:.0f} mm another wall of {space.name} would vanish",
            expected="a length that leaves every wall standing",
            do="tape the wall across from it too, or walk the room again",
        )
    followers = those_beyond(project, space, push.walls) if neighbours else frozenset()
    (dx, dy) = push.shift
    spaces, things = carried(project, followers, lambda point: (point[0] + dx, point[1] + dy))
    return put(project, _DO, spaces=_replaced(spaces, space, push.corners), things=things)


def corner_moved(project: Project, space_id: str, corner: int, to: Point) -> Project:
    """Return the project with one corner of a room put elsewhere; its two walls follow.

    Args:
        corner: Its place in the outline, from 0.
        to: Where it goes [mm].
    Raises:
        NotFound: There is no such room or corner.
        Refused: Walls would cross, or an opening or thing would have no place any more.
    """
    space = project.space(space_id)
    if not 0 <= corner < len(space.outline):
        raise NotFound(f"corner {corner + 1} is not in {space.name}", expected=f"1 to {len(space.outline)}")
    if distance(to, space.outline[corner]) < NOISE_MM:
        return project
    outline = [*space.outline[:corner], to, *space.outline[corner + 1 :]]
    check_outline(outline)
    return put(project, _DO, spaces=_replaced(project.spaces, space, outline))


def room_lined(project: Project, space_id: str, lining_mm: float, basis: Basis = "measured") -> Project:
    """Return the project with another lining on the framing of a room: its finished walls move, the framing stays.

    Args:
        lining_mm: Thickness on each framed wall, 0 or more [mm].
        basis: Where that thickness comes from.
    Raises:
        Refused: The room was not measured to framing, or no room would be left.
    """
    space = project.space(space_id)
    if space.measured_to != "framing":
        raise Refused(f"{space.name} was measured to its finished faces", expected="a room measured to framing")
    if not (math.isfinite(lining_mm) and 0 <= lining_mm <= LIMIT_MM):
        raise OutOfRange(f"a lining of {lining_mm:g} mm", expected="a thickness of 0 or more")
    change = lining_mm - space.lining_mm
    # Where no wall stands nothing is lined.
    outline = inset(space.outline, [0.0 if wall.open else change for wall in space.walls])
    new = with_outline(space, outline) | {"lining_mm": lining_mm, "lining_basis": basis}
    return put(project, _DO, spaces=[new if one is space else one for one in project.spaces])


def _replaced(spaces: Sequence[Any], space: Space, outline: Sequence[Point]) -> list[Any]:
    check_outline(outline)
    return [with_outline(space, outline) if one is space else one for one in spaces]
