"""Where a thing stands once a hand lets it go: against a wall, free on a step, or along its host's side."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from enfilade.editing.things.house import House
from enfilade.editing.things.steps import on_step, within
from enfilade.errors import Refused
from enfilade.geometry.boxes import Box, Segment
from enfilade.geometry.points import Point, angle_between_deg, turned
from enfilade.lengths import LIMIT_MM
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.thing import Thing

__all__ = ["SNAP_DEG", "SNAP_MM", "Pose", "box_at", "near_wall", "on_host", "on_wall", "place_for", "turn_kept"]

SNAP_MM: Final = 25.4
"""A back so near to a wall stands against it (own choice)."""
SNAP_DEG: Final = 5.0
"""A back that is so nearly parallel to a wall is meant to be (own choice)."""


@dataclass(frozen=True, slots=True)
class Pose:
    """The middle of a thing in house coordinates [mm], and its turn, counter-clockwise [deg]."""

    x_mm: float
    y_mm: float
    turn_deg: float

    @property
    def point(self) -> Point:
        """Return the middle."""
        return (self.x_mm, self.y_mm)


def box_at(thing: Thing, pose: Pose) -> Box:
    """Return the footprint of a thing at a pose."""
    return Box(pose.x_mm, pose.y_mm, thing.width_mm, thing.depth_mm, pose.turn_deg)


def turn_kept(turn_deg: float) -> float:
    """Return a turn within 0 to 360, without the noise of arithmetic.

    >>> turn_kept(-90.0), turn_kept(359.9999999)
    (270.0, 0.0)
    """
    kept = round(turn_deg % 360, 6)
    return 0.0 if kept >= 360 else kept + 0.0


def place_for(
    house: House, thing: Thing, pose: Pose, wall: str | None, step_mm: float, *, snap: bool = True
) -> AgainstWall | Free | SetIn:
    """Return the place of a thing at the pose that a hand gave.

    Args:
        wall: The wall that it is meant to stand against; None when the pose alone decides.
        step_mm: What offsets and coordinates land on, above 0.
        snap: Whether a back near a wall goes to it when no wall is named.
    Raises:
        NotFound: No such wall.
        Refused: No wall stands there, or it is further off than a house is wide.
    """
    if isinstance(thing.place, SetIn):
        return on_host(house, thing, thing.place, pose.point, step_mm)
    before = thing.place.wall if isinstance(thing.place, AgainstWall) else None
    if wall is not None:
        if house.wall(wall).open and wall != before:
            raise Refused("no wall stands on this side of the room", expected="a side with a wall")
        return on_wall(house, thing, wall, pose.point, step_mm)
    near = near_wall(house, thing, pose) if snap else None
    if near is not None:
        return on_wall(house, thing, near, pose.point, step_mm)
    was = (thing.place.x_mm, thing.place.y_mm) if isinstance(thing.place, Free) else (None, None)
    # An axis along which it was not moved keeps what was typed, off the steps or not.
    x_mm, y_mm = (
        before if before is not None and abs(value - before) < 1e-6 else on_step(value, step_mm)
        for value, before in zip(pose.point, was, strict=True)
    )
    if max(abs(x_mm), abs(y_mm)) > LIMIT_MM:
        raise Refused(f"{thing.called} would stand outside every room", expected="a place inside a room")
    return Free(x_mm=x_mm, y_mm=y_mm, turn_deg=turn_kept(pose.turn_deg))


def on_wall(house: House, thing: Thing, wall: str, point: Point, step_mm: float) -> AgainstWall:
    """Return the place against a wall whose middle is nearest to a point, on the wall from end to end.

    The end that it was measured from stays, and so does its gap when it stood against the same wall.
    """
    line = house.line(wall)
    before = thing.place if isinstance(thing.place, AgainstWall) else None
    from_end = before.from_end if before is not None else "left"
    room_mm = line.length_mm - thing.width_mm
    left_mm = line.place(point)[0] - thing.width_mm / 2
    offset_mm = within(left_mm if from_end == "left" else room_mm - left_mm, room_mm, step_mm)
    gap_mm = before.gap_mm if before is not None and before.wall == wall else 0.0
    return AgainstWall(wall=wall, from_end=from_end, offset_mm=offset_mm, gap_mm=gap_mm)


def on_host(house: House, thing: Thing, place: SetIn, point: Point, step_mm: float) -> SetIn:
    """Return the place in its host whose middle is nearest to a point: along its side and back from it, never past."""
    side, host = house.host_side_of(place), house.stands[place.host].box
    along, ahead = side.place(point)
    deep_mm = host.depth_mm if place.side in ("front", "back") else host.width_mm
    offset_mm = within(along - thing.width_mm / 2, side.length_mm - thing.width_mm, step_mm)
    setback_mm = within(-ahead - thing.depth_mm / 2, deep_mm - thing.depth_mm, step_mm)
    return place.model_copy(update={"offset_mm": offset_mm, "setback_mm": setback_mm})


def near_wall(house: House, thing: Thing, pose: Pose) -> str | None:
    """Return the wall that the back of a thing is at, within `SNAP_MM` and `SNAP_DEG`; the nearest of several."""
    space = house.space_at(pose.point, thing.space)
    if space is None:
        return None
    back = box_at(thing, pose).back
    facing = turned((0.0, -1.0), pose.turn_deg)
    found = [
        (abs(house.lines[wall.id].place(back.midpoint)[1]), wall.id)
        for wall in house.project.space(space).walls
        if not wall.open and _at(house.lines[wall.id], back, facing)
    ]
    return min(found)[1] if found else None


def _at(line: Segment, back: Segment, facing: Point) -> bool:
    along, ahead = line.place(back.midpoint)
    parallel = abs(angle_between_deg(line.outward, facing)) <= SNAP_DEG
    beside = min(line.length_mm, along + back.length_mm / 2) - max(0.0, along - back.length_mm / 2) > 0
    return parallel and beside and math.fabs(ahead) <= SNAP_MM
