"""Which rooms stand on the far side of a wall, and go with it when it moves."""

from __future__ import annotations

from collections.abc import Container
from typing import Final

from enfilade.geometry.boxes import Segment
from enfilade.geometry.outlines import opposed, walls
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.project import Project
from enfilade.project.spaces import Space

__all__ = ["those_beyond"]

_THICKEST_MM: Final = 400.0
"""Rooms whose faces are nearer than this have one wall between them (own choice)."""


def those_beyond(project: Project, space: Space, walls_moved: Container[int]) -> frozenset[str]:
    """Return the rooms that go along when walls of a room move: all that hang together behind them.

    None, when they also hang together with a wall of the room that stays: then something else has to give.

    Args:
        project: The house.
        space: The room.
        walls_moved: Numbers of its walls that move, from 0.
    """
    behind: set[str] = set()
    held: set[str] = set()
    for index, wall in enumerate(space.walls):
        line = walls(space.outline)[index]
        (behind if index in walls_moved else held).update(_beyond_wall(project, space.id, wall.id, line))
    going = list(behind)
    for id in going:
        other = project.space(id)
        for wall, line in zip(other.walls, walls(other.outline), strict=True):
            near = _beyond_wall(project, id, wall.id, line) - {space.id}
            going += [one for one in sorted(near) if one not in behind]
            behind |= near
    return frozenset() if behind & held else frozenset(behind)


def _beyond_wall(project: Project, space_id: str, wall: str, line: Segment) -> set[str]:
    found = set()
    for one in project.openings:
        other = {one.wall: one.beyond, one.beyond: one.wall}.get(wall)
        if other is not None and other in project.walls_by_id:
            found.add(project.walls_by_id[other][0].id)
    for space in project.spaces:
        if space.id != space_id and any(_back_to_back(line, other) for other in walls(space.outline)):
            found.add(space.id)
    return found - {space_id}


def _back_to_back(line: Segment, other: Segment) -> bool:
    """Tell whether two faces may be the two sides of one wall."""
    if not opposed(line, other):
        return False
    (right, ahead), (left, _) = line.place(other.a), line.place(other.b)
    overlap = min(right, line.length_mm) - max(left, 0.0)
    return overlap > TOLERANCE_MM and -_THICKEST_MM <= ahead <= TOLERANCE_MM
