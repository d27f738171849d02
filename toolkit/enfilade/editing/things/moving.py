"""Things and openings moved by hand, by steps and by turns: project in, project out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, Literal

from enfilade.editing.things.clear_round import clear_widths_round
from enfilade.editing.things.house import House, opening_of
from enfilade.editing.things.place_words import clear_words, place_words
from enfilade.editing.things.snapping import Pose, box_at, place_for, turn_kept
from enfilade.editing.things.steps import STEPS_MM, Fineness, step_of, within
from enfilade.editing.things.walls_behind import beyond_kept
from enfilade.errors import NotFound, Refused
from enfilade.geometry.boxes import Box
from enfilade.geometry.points import Point
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.project import Project
from enfilade.project.spaces import Opening
from enfilade.project.standing import box_of, opening_segment
from enfilade.project.surfaces import Seat
from enfilade.project.thing import Side, Thing

__all__ = [
    "Pose",
    "clear_widths_round",
    "clear_words",
    "goes_along",
    "moved",
    "nudged",
    "place_words",
    "put",
    "slid",
    "turned",
    "where_it_stands",
]

Among = Literal["things", "openings"]

_ROUND: Final[tuple[Side, ...]] = ("front", "right", "back", "left")


def where_it_stands(project: Project, id: str, among: Among | None = None) -> Pose:
    """Return the middle and the turn of a thing, or of an opening on its first wall.

    Args:
        among: The list that `id` is of; when None, an opening only where no thing has the id.
    Raises:
        NotFound: No such thing or opening.
    """
    house = House(project)
    if _is_thing(project, id, among):
        box = house.box(id)
        return Pose(box.x, box.y, box.turn_deg)
    opening = opening_of(project, id)
    line = opening_segment(opening, house.lines[opening.wall])
    turn_deg = math.degrees(math.atan2(line.direction[1], line.direction[0]))
    return Pose(*line.midpoint, turn_deg)


def moved(
    project: Project,
    id: str,
    x_mm: float,
    y_mm: float,
    turn_deg: float,
    wall: str | None = None,
    *,
    step: Fineness = "fine",
    among: Among | None = None,
) -> Project:
    """Return the project with a thing at the pose that a hand gave, landed on a step.

    It stands against `wall` when one is named, or against the wall that its back is at; what is set in another thing
    moves within its host, and an opening along its wall. What is set in it, and seats that belong to it, come along.

    Args:
        x_mm, y_mm: Its middle in house coordinates.
        turn_deg: Counter-clockwise; the wall or host decides where there is one.
        wall: Id of the wall; None when the pose alone decides.
    Raises:
        NotFound: No such thing, opening or wall.
        Refused: It would stand outside every room, or no wall stands there.
    """
    step_mm = STEPS_MM[project.show.units][step]
    if not _is_thing(project, id, among):
        return slid(project, opening_of(project, id), (x_mm, y_mm), step_mm)
    house, thing = House(project), project.thing(id)
    return put(house, thing, place_for(house, thing, Pose(x_mm, y_mm, turn_deg), wall, step_mm))


def nudged(
    project: Project, id: str, dx_mm: float, dy_mm: float, *, step: Fineness | None = None, among: Among | None = None
) -> Project:
    """Return the project with a thing moved a little in plan, landed on a step.

    Against a wall the way that it mostly goes decides: along the wall, or off it and back to it. In a host it goes
    along and across, an opening only along its wall.

    Args:
        step: What it lands on; None takes the coarse step when the move is at least as long.
    Raises:
        NotFound: No such thing or opening.
        Refused: It would stand outside every room.
    """
    fineness = step or step_of(project.show.units, dx_mm, dy_mm)
    step_mm = STEPS_MM[project.show.units][fineness]
    pose = where_it_stands(project, id, among)
    if not _is_thing(project, id, among):
        opening = opening_of(project, id)
        x, y = House(project).lines[opening.wall].direction
        by_mm = math.copysign(math.hypot(dx_mm, dy_mm), dx_mm * x + dy_mm * y)
        return slid(project, opening, (pose.x_mm + x * by_mm, pose.y_mm + y * by_mm), step_mm)
    house, thing = House(project), project.thing(id)
    to = Pose(pose.x_mm + dx_mm, pose.y_mm + dy_mm, pose.turn_deg)
    if not isinstance(thing.place, AgainstWall):
        return put(house, thing, place_for(house, thing, to, None, step_mm, snap=False))
    line = house.lines[thing.place.wall]
    along = dx_mm * line.direction[0] + dy_mm * line.direction[1]
    out = dx_mm * line.outward[0] + dy_mm * line.outward[1]
    size_mm = math.hypot(dx_mm, dy_mm)
    if abs(along) >= abs(out) - 1e-6:
        by = math.copysign(size_mm, along)
        point = (pose.x_mm + line.direction[0] * by, pose.y_mm + line.direction[1] * by)
        return put(house, thing, place_for(house, thing, Pose(*point, 0.0), thing.place.wall, step_mm))
    gap_mm = within(max(0.0, thing.place.gap_mm + math.copysign(size_mm, out)), math.inf, step_mm)
    return put(house, thing, thing.place.model_copy(update={"gap_mm": gap_mm}))


def turned(project: Project, id: str, degrees: float) -> Project:
    """Return the project with a thing turned about its middle, counter-clockwise.

    What stood against a wall is moved off it so far that no corner stands in it, and stands against it again once its
    back does. What is set in another thing is turned by quarters, to be used from the next side.

    Raises:
        NotFound: No such thing.
        Refused: An opening, or no quarter turn in a host.
    """
    if id not in project.things_by_id:
        opening = opening_of(project, id)
        raise Refused(f"{opening.name or opening.kind} stands in its wall and cannot be turned", do="say its swing")
    house, thing, pose = House(project), project.thing(id), where_it_stands(project, id)
    if isinstance(thing.place, SetIn):
        return put(house, thing, _next_side(house, thing, thing.place, degrees))
    to = Pose(pose.x_mm, pose.y_mm, turn_kept(pose.turn_deg + degrees))
    if isinstance(thing.place, AgainstWall):
        line = house.lines[thing.place.wall]
        behind_mm = max(0.0, *(-line.place(corner)[1] for corner in box_at(thing, to).corners))
        to = Pose(to.x_mm + line.outward[0] * behind_mm, to.y_mm + line.outward[1] * behind_mm, to.turn_deg)
    return put(house, thing, place_for(house, thing, to, None, STEPS_MM[project.show.units]["fine"]))


def goes_along(project: Project, id: str) -> tuple[str, ...]:
    """Return the ids of what moves with a thing: what is set in it, and the free seats that belong to it."""
    house = House(project)
    return (*(thing.id for thing in house.set_in(id)), *(seat.id for seat in _seats_of(project, id)))


def put(house: House, thing: Thing, place: AgainstWall | Free | SetIn) -> Project:
    """Return the project with a thing at a place, in the room where its middle then stands; others come along.

    Raises:
        Refused: Its middle would stand outside every room.
    """
    if place == thing.place:
        return house.project
    box = box_of(thing.model_copy(update={"place": place}), house.lines, house.stands)
    first = house.owner(place.wall).id if isinstance(place, AgainstWall) else thing.space
    space = house.space_at((box.x, box.y), first)
    if space is None:
        raise Refused(f"{thing.called} would stand outside every room", expected="a place inside a room")
    new: dict[str, Thing] = {thing.id: thing.model_copy(update={"place": place, "space": space})}
    before = house.stands[thing.id].box
    for seat in _seats_of(house.project, thing.id):
        x, y, turn_deg = _carried(house.stands[seat.id].box, before, box)
        # A seat that finds no floor there stays where it is.
        if (under := house.space_at((x, y), space)) is not None:
            pose = Free(x_mm=round(x, 6), y_mm=round(y, 6), turn_deg=turn_kept(turn_deg))
            new[seat.id] = seat.model_copy(update={"place": pose, "space": under})
    stands = dict(house.stands)
    stands[thing.id] = type(stands[thing.id])(new[thing.id], box)
    for inner in house.set_in(thing.id):
        inner_box = box_of(inner, house.lines, stands)
        stands[inner.id] = type(stands[inner.id])(inner, inner_box)
        here = house.space_at((inner_box.x, inner_box.y), space) or space
        if here != inner.space:
            new[inner.id] = inner.model_copy(update={"space": here})
    return house.project.with_records(things=[new.get(one.id, one) for one in house.project.things])


def slid(project: Project, opening: Opening, point: Point, step_mm: float) -> Project:
    """Return the project with an opening where a point lies along its wall, never past its ends."""
    line = House(project).lines[opening.wall]
    room_mm = line.length_mm - opening.width_mm
    left_mm = line.place(point)[0] - opening.width_mm / 2
    offset_mm = within(left_mm if opening.from_end == "left" else room_mm - left_mm, max(0.0, room_mm), step_mm)
    return with_opening(project, opening.model_copy(update={"offset_mm": offset_mm}))


def with_opening(project: Project, opening: Opening) -> Project:
    """Return the project with an opening in place of the one of its id, joined to what is then behind it.

    It is the same project when the opening is what it was.
    """
    joined = beyond_kept(project, opening)
    if joined == opening_of(project, opening.id):
        return project
    return project.with_records(openings=[joined if one.id == opening.id else one for one in project.openings])


def _is_thing(project: Project, id: str, among: Among | None) -> bool:
    if among == "openings" or (among is None and id not in project.things_by_id):
        return False
    if id not in project.things_by_id:
        raise NotFound("this thing is not in the project any more")
    return True


def _seats_of(project: Project, id: str) -> Sequence[Seat]:
    return [
        thing
        for thing in project.things
        if isinstance(thing, Seat) and thing.at == id and isinstance(thing.place, Free) and thing.id != id
    ]


def _carried(box: Box, before: Box, after: Box) -> tuple[float, float, float]:
    """Return the middle and turn of a box that keeps its place to another, which moves."""
    along, ahead = before.front.place((box.x, box.y))
    x, y = after.at(along - before.width_mm / 2, -ahead - before.depth_mm / 2)
    return x, y, box.turn_deg + after.turn_deg - before.turn_deg


def _next_side(house: House, thing: Thing, place: SetIn, degrees: float) -> SetIn:
    quarters = degrees / 90
    if abs(quarters - round(quarters)) > 1e-6:
        raise Refused(f"{thing.called} is set in a thing and is used from one of its sides", expected="quarter turns")
    side = _ROUND[(_ROUND.index(place.side) + round(quarters)) % 4]
    box = house.stands[thing.id].box
    onto = place.model_copy(update={"side": side})
    edge = house.host_side_of(onto)
    offset_mm = within(
        edge.place((box.x, box.y))[0] - thing.width_mm / 2,
        edge.length_mm - thing.width_mm,
        STEPS_MM[house.project.show.units]["fine"],
    )
    return onto.model_copy(update={"offset_mm": offset_mm})
