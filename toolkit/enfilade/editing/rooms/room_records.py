"""What rooms are made of: names and ids of their walls, and changes told in people's words when they cannot stand."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any, Final

import shapely
from shapely import Polygon

from enfilade.errors import BadRecord, Fault, Refused
from enfilade.geometry.outlines import polygon_of, walls
from enfilade.geometry.points import Point
from enfilade.project.project import Project
from enfilade.project.spaces import Opening, Space

__all__ = ["overlapping", "put", "usual_wall_names", "wall_called", "with_outline"]

_COMPASS: Final = ("east wall", "north wall", "west wall", "south wall")
_GRID_MM: Final = 0.001
_SLIVER_MM2: Final = 10_000.0
"""Rooms that share less floor than this (4 x 4 in) meet; more, and one of them was set in the wrong place."""


def usual_wall_names(outline: Sequence[Point]) -> tuple[str, ...]:
    """Return plain names for walls: by compass where each points its own way, else `wall 1` and so on.

    Plan north is +y. A wall on the north side of the room is its north wall.
    """
    names = []
    for wall in walls(outline):
        x, y = wall.outward
        names.append(_COMPASS[round(math.degrees(math.atan2(-y, -x)) / 90.0) % 4])
    if len(set(names)) == len(names):
        return tuple(names)
    return tuple(f"wall {number}" for number in range(1, len(outline) + 1))


def wall_called(space: Space, index: int) -> str:
    """Return what people call a wall: its name, or its number in the room."""
    return space.walls[index].name or f"wall {index + 1}"


def with_outline(space: Space, outline: Sequence[Point]) -> dict[str, Any]:
    """Return a space as plain data with other corners, to be checked again; usual names of walls follow the compass."""
    plain = {name: getattr(space, name) for name in type(space).model_fields} | {"outline": tuple(outline)}
    names = tuple(wall.name for wall in space.walls)
    if names == usual_wall_names(space.outline) and names != (new := usual_wall_names(outline)):
        plain["walls"] = tuple(
            wall.model_copy(update={"name": name}) for wall, name in zip(space.walls, new, strict=True)
        )
    return plain


def overlapping(project: Project, space_id: str) -> tuple[str, ...]:
    """Return the names of the rooms that stand on the floor of another one."""
    floor = polygon_of(project.space(space_id).outline)
    others = (space for space in project.spaces if space.id != space_id)
    return tuple(one.name for one in others if _shared_mm2(floor, polygon_of(one.outline)) > _SLIVER_MM2)


def _shared_mm2(floor: Polygon, other: Polygon) -> float:
    # Without a grid, floors that are all but the same come back from the library as sharing nothing.
    return float(shapely.intersection(floor, other, grid_size=_GRID_MM).area)


def put(project: Project, do: str = "", **lists: Iterable[Any]) -> Project:
    """Return the project with whole lists replaced; openings and things that no longer fit are told by name.

    Args:
        do: What the person can do about it.
    Raises:
        Refused: An opening or a thing has no place any more.
        BadRecord: A record cannot stand so for another reason.
    """
    try:
        return project.with_records(**lists)
    except BadRecord as error:
        told = [words for fault in error.faults if (words := _in_words(project, fault))]
        if not told:
            raise
        raise Refused("; ".join(told[:4]), expected="a place for each", do=do) from error


def _in_words(project: Project, fault: Fault) -> str:
    records, _, rest = fault.place.partition("/")
    id, _, field = rest.partition("/")
    if records == "things" and id in project.things_by_id:
        return f"{project.thing(id).called} would stand outside its room"
    opening = next((one for one in project.openings if one.id == id), None) if records == "openings" else None
    if opening is None:
        return ""
    if field == "beyond":
        return f"{_called(opening)} would no longer lead to {_room_beyond(project, opening)}"
    return f"{_called(opening)} would no longer fit its wall"


def _called(opening: Opening) -> str:
    return opening.name or opening.kind


def _room_beyond(project: Project, opening: Opening) -> str:
    owner = project.walls_by_id.get(opening.beyond or "")
    return owner[0].name if owner else "the room beyond"
