"""Rooms moved about the plan with all that stands in them, and joined wall to wall."""

from __future__ import annotations

import math
from collections.abc import Callable, Container
from typing import Any

from enfilade.editing.rooms.room_records import put, with_outline
from enfilade.errors import NotFound, OutOfRange, Refused
from enfilade.geometry.boxes import Segment
from enfilade.geometry.points import Point, angle_between_deg, minus, turned
from enfilade.lengths import LIMIT_MM, TOLERANCE_MM
from enfilade.project.placing import Free
from enfilade.project.project import Project
from enfilade.project.spaces import Space
from enfilade.project.standing import wall_segments

__all__ = ["carried", "room_joined", "room_moved", "space_of_wall"]

_DO = "move both rooms, or take the door away first"


def room_moved(project: Project, space_id: str, dx_mm: float, dy_mm: float) -> Project:
    """Return the project with a room moved by a vector, with all that stands in it.

    Raises:
        NotFound: There is no such room.
        OutOfRange: It would be moved out of all bounds.
        Refused: A door to another room would lead nowhere.
    """
    project.space(space_id)
    if not (math.isfinite(dx_mm) and math.isfinite(dy_mm) and max(abs(dx_mm), abs(dy_mm)) <= LIMIT_MM):
        raise OutOfRange(f"a room moved by {dx_mm:g}, {dy_mm:g} mm", expected="a finite distance")
    return _put(project, carried(project, {space_id}, lambda point: (point[0] + dx_mm, point[1] + dy_mm)))


def room_joined(
    project: Project, space_id: str, wall: str, beyond: str, offset_mm: float = 0.0, thickness_mm: float = 0.0
) -> Project:
    """Return the project with a room set behind a wall of another, so that one wall parts them.

    The room is moved, and turned where its wall does not look the other way already.

    Args:
        project: The house.
        space_id: The room that is moved.
        wall: Its wall.
        beyond: The wall of another room that is to be the other face of the same wall.
        offset_mm: From the left end of `beyond`, seen from inside that room, to the near end of `wall`; below 0
            when it begins before that end [mm].
        thickness_mm: From finished face to finished face, 0 or more [mm].
    Raises:
        NotFound: There is no such room or wall.
        Refused: The walls belong to one room, would not stand behind each other, or a door would lead nowhere.
    """
    space = project.space(space_id)
    own, other = space_of_wall(project, wall), space_of_wall(project, beyond)
    if own.id != space_id or other.id == space_id:
        raise Refused(f"{space.name} cannot be joined to itself", expected="a wall of it, and a wall of another room")
    if not (math.isfinite(thickness_mm) and 0 <= thickness_mm <= LIMIT_MM):
        raise OutOfRange(f"a wall {thickness_mm:g} mm thick", expected="0 or more")
    lines = wall_segments(project.spaces)
    near, far = lines[wall], lines[beyond]
    if not (math.isfinite(offset_mm) and -near.length_mm < offset_mm - TOLERANCE_MM and offset_mm < far.length_mm):
        raise Refused(
            f"at {offset_mm:g} mm the two walls do not stand behind each other",
            expected=f"less than {far.length_mm:.0f} mm, the length of the wall that it is set behind",
        )
    return _put(project, carried(project, {space_id}, *_behind(near, far, offset_mm, thickness_mm)))


def _behind(
    near: Segment, far: Segment, offset_mm: float, thickness_mm: float
) -> tuple[Callable[[Point], Point], float]:
    """Return the move that lays one wall behind another, and its turn."""
    turn = angle_between_deg(near.direction, far.reversed().direction)
    if abs(turn - 90.0 * round(turn / 90.0)) < 1e-9:
        turn = 90.0 * round(turn / 90.0)  # a quarter turn is exact, and leaves no noise in the corners
    target = far.at(offset_mm, -thickness_mm)

    def move(point: Point) -> Point:
        x, y = turned(minus(point, near.b), turn)
        return (target[0] + x, target[1] + y)

    return move, turn


def carried(
    project: Project, space_ids: Container[str], move: Callable[[Point], Point], turn_deg: float = 0.0
) -> tuple[list[Any], list[Any]]:
    """Return spaces and things, to be checked again, with some rooms moved as they are.

    What stands freely in them is moved along; what stands against a wall, or is set in a thing, goes by itself.

    Args:
        space_ids: The rooms that move.
        move: Where a point of these rooms goes [mm].
        turn_deg: How far the move turns, counter-clockwise.
    """
    spaces: list[Any] = [_carried_space(one, move) if one.id in space_ids else one for one in project.spaces]
    things: list[Any] = list(project.things)
    for index, thing in enumerate(project.things):
        if thing.space in space_ids and isinstance(place := thing.place, Free):
            x, y = (round(value, 6) for value in move((place.x_mm, place.y_mm)))
            turn = round((place.turn_deg + turn_deg) % 360.0, 6) % 360.0 if turn_deg else place.turn_deg
            moved = place.model_copy(update={"x_mm": x, "y_mm": y, "turn_deg": turn})
            things[index] = thing.model_copy(update={"place": moved})
    return spaces, things


def _put(project: Project, lists: tuple[list[Any], list[Any]]) -> Project:
    spaces, things = lists
    return put(project, _DO, spaces=spaces, things=things)


def _carried_space(space: Space, move: Callable[[Point], Point]) -> dict[str, Any]:
    plain = with_outline(space, [move(point) for point in space.outline])
    plain["dropped"] = tuple(
        one.model_copy(update={"outline": tuple((round(x, 6), round(y, 6)) for x, y in map(move, one.outline))})
        for one in space.dropped
    )
    return plain


def space_of_wall(project: Project, wall: str) -> Space:
    """Return the room that a wall belongs to, or raise NotFound."""
    found = project.walls_by_id.get(wall)
    if found is None:
        raise NotFound("this wall is not in the project any more", do="load the page again")
    return found[0]
