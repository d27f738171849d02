"""Exact distances, typed: from an end of the wall or host, or clear before one side."""

from __future__ import annotations

from typing import Literal

from enfilade.editing.things.clear_round import clear_widths_round
from enfilade.editing.things.house import House, opening_of
from enfilade.editing.things.moving import put, where_it_stands, with_opening
from enfilade.errors import OutOfRange, Refused
from enfilade.lengths import LIMIT_MM, TOLERANCE_MM, show_length
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.project import Project
from enfilade.project.standing import side_of
from enfilade.project.thing import Side, Thing

__all__ = ["clear_typed", "offset_typed"]


def offset_typed(project: Project, id: str, end: Literal["left", "right"], mm: float | None = None) -> Project:
    """Return the project with a thing or an opening at an exact distance from one end of its wall or host.

    From then on it is measured from that end, so that it keeps its distance when the wall is measured again.

    Args:
        end: As seen from inside the room, or facing the side of the host.
        mm: From that end to its near edge; None leaves it where it stands and only changes the end.
    Raises:
        NotFound: No such thing or opening.
        Refused: It stands free, and has no end to be measured from.
        OutOfRange: It would reach past the other end.
    """
    house = House(project)
    if id not in project.things_by_id:
        opening = opening_of(project, id)
        room_mm = house.lines[opening.wall].length_mm - opening.width_mm
        now = opening.offset_mm if opening.from_end == end else room_mm - opening.offset_mm
        offset_mm = _fits(house, now if mm is None else mm, room_mm, opening.name or opening.kind)
        update = {"from_end": end, "offset_mm": offset_mm}
        return with_opening(project, opening.model_copy(update=update))
    thing = project.thing(id)
    place = thing.place
    if isinstance(place, AgainstWall):
        room_mm = house.lines[place.wall].length_mm - thing.width_mm
        now = place.offset_mm if place.from_end == end else room_mm - place.offset_mm
        offset_mm = round(now, 6) if mm is None else _fits(house, mm, room_mm, thing.called)
        return put(house, thing, place.model_copy(update={"from_end": end, "offset_mm": offset_mm}))
    if isinstance(place, SetIn):
        room_mm = house.host_side_of(place).length_mm - thing.width_mm
        if mm is None:
            return project
        offset_mm = _fits(house, mm, room_mm, thing.called)
        left_mm = offset_mm if end == "left" else round(room_mm - offset_mm, 6)
        return put(house, thing, place.model_copy(update={"offset_mm": left_mm}))
    raise Refused(
        f"{thing.called} stands free",
        expected="a thing against a wall or set in another",
        do="type the clear width before one of its sides instead",
    )


def clear_typed(project: Project, id: str, side: Side, mm: float) -> Project:
    """Return the project with a thing moved square to one side, so that what stands before it is exactly so far.

    Against a wall it moves along the wall (left, right) or off it (front, back); free, in the way the side faces.

    Args:
        side: Of the thing, as seen facing its front.
        mm: The clear width wanted before that side, 0 or more.
    Raises:
        NotFound: No such thing.
        Refused: Nothing stands before that side within 6 m, or it is set in another thing.
        OutOfRange: The width is below 0, or its middle would leave every room.
    """
    house, thing = House(project), project.thing(id)
    before = clear_widths_round(house, id)[side]
    if before is None:
        raise Refused(f"nothing stands before this side of {thing.called} within 6 m", expected="a side with something")
    if not 0 <= mm <= LIMIT_MM:
        raise OutOfRange("this clear width cannot be", expected="a length of 0 or more")
    by_mm = before.distance_mm - mm
    if abs(by_mm) < 1e-9:
        return project
    project = _moved_by(house, thing, side, by_mm)
    after = clear_widths_round(project, id)[side]
    # What overlapped before is measured as touching; once apart, the rest is seen.
    if before.distance_mm < TOLERANCE_MM and after is not None and abs(after.distance_mm - mm) > 1e-6:
        return _moved_by(House(project), project.thing(id), side, after.distance_mm - mm)
    return project


def _moved_by(house: House, thing: Thing, side: Side, by_mm: float) -> Project:
    """Return the project with a thing moved so far towards one side."""
    project, id = house.project, thing.id
    x, y = side_of(house.stands[id].box, side).outward
    pose, place = where_it_stands(project, id, "things"), thing.place
    if isinstance(place, SetIn):
        raise Refused(f"{thing.called} is set in a thing", do="type its distance from an end of it")
    if isinstance(place, Free):
        to = {"x_mm": round(pose.x_mm + x * by_mm, 6), "y_mm": round(pose.y_mm + y * by_mm, 6)}
        return put(house, thing, place.model_copy(update=to))
    if side in ("front", "back"):
        gap_mm = place.gap_mm + (by_mm if side == "front" else -by_mm)
        if gap_mm < -TOLERANCE_MM:
            raise OutOfRange(f"{thing.called} would stand in the wall behind it", expected="a smaller clear width")
        return put(house, thing, place.model_copy(update={"gap_mm": round(max(0.0, gap_mm), 6)}))
    # The left of a thing, as seen facing it, is towards the left end of its wall.
    towards = -by_mm if side == place.from_end else by_mm
    room_mm = house.lines[place.wall].length_mm - thing.width_mm
    offset_mm = _fits(house, place.offset_mm + towards, room_mm, thing.called)
    return put(house, thing, place.model_copy(update={"offset_mm": offset_mm}))


def _fits(house: House, offset_mm: float, room_mm: float, name: str) -> float:
    if -TOLERANCE_MM <= offset_mm <= room_mm + TOLERANCE_MM:
        return round(min(max(offset_mm, 0.0), max(0.0, room_mm)), 6)
    most = show_length(max(0.0, room_mm), house.project.show.units)
    raise OutOfRange(f"{name} would reach past an end", expected=f"0 to {most}")
