"""Where a new thing goes at first: against a wall, in or under a counter, above what cooks, on the floor."""

from __future__ import annotations

import math
from dataclasses import replace

from enfilade.editing.things.counter_places import First, in_top, on_top, under_top
from enfilade.editing.things.default_sizes import Size, Stands, default_size
from enfilade.editing.things.free_spots import free_spot
from enfilade.editing.things.house import House
from enfilade.editing.things.snapping import turn_kept
from enfilade.editing.things.steps import STEPS_MM, on_step, within
from enfilade.editing.things.stretches import Stretch, free_stretches
from enfilade.errors import Refused
from enfilade.geometry.points import Point, distance
from enfilade.lengths import TOLERANCE_MM
from enfilade.listing import the
from enfilade.project.furnishings import WindowTreatment
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.standing import Stand

__all__ = ["first_place"]


def first_place(
    house: House,
    space: str,
    kind: str,
    stands: Stands,
    size: Size,
    *,
    at: Point | None = None,
    wall: str | None = None,
    host: str | None = None,
) -> First:
    """Return where a new thing goes at first.

    Args:
        space: Id of the room.
        stands: As `stands_at_first` of its kind says; `wall` and `floor` may be asked for any kind.
        at: A point near which it is wanted, in house coordinates [mm].
        wall: Wall that it is wanted against.
        host: Thing that it is wanted in, under or above.
    Raises:
        NotFound: No such space, wall or host.
        Refused: There is nothing to set it in, or no window.
    """
    if wall is not None and stands not in ("out from a wall", "ceiling"):
        return First(size, _against(house, [wall], size, at))
    if stands == "in a counter":
        return in_top(house, space, kind, size, at, host)
    if stands == "on a counter":
        return on_top(house, space, kind, size, at, host)
    if stands == "under a counter":
        found = under_top(house, space, size, at, host)
        return First(size, found) if found else first_place(house, space, kind, "wall", size, at=at)
    if stands == "in a tall cabinet":
        return _in_tall(house, space, kind, size, at, host)
    if stands == "above cooking":
        return _above_cooking(house, space, size, at, host)
    if stands == "at a window":
        return _at_window(house, space, size, at)
    if stands == "out from a wall":
        return First(size, _out_from_wall(house, space, size, at, wall))
    if stands == "ceiling":
        return First(_under_ceiling(house, space, size), _free(house, space, kind, size, at))
    if stands == "wall" and (walls := [one.id for one in house.project.space(space).walls if not one.open]):
        return First(size, _against(house, walls, size, at))
    return First(size, _free(house, space, kind, size, at))


def _free(house: House, space: str, kind: str, size: Size, at: Point | None) -> Free:
    step_mm = STEPS_MM[house.project.show.units]["fine"]
    if at is not None:
        return Free(x_mm=on_step(at[0], step_mm), y_mm=on_step(at[1], step_mm))
    # What lies on the floor or hangs from the ceiling only keeps clear of its own kind.
    flat = kind in ("rug", "light")
    others = [one.id for one in house.things_in(*house.rooms[space]) if one.thing.kind != kind] if flat else []
    pose = free_spot(house, space, size.width_mm, size.depth_mm, without=others)
    return Free(x_mm=on_step(pose.x_mm, step_mm), y_mm=on_step(pose.y_mm, step_mm), turn_deg=pose.turn_deg)


def _against(house: House, walls: list[str], size: Size, at: Point | None) -> AgainstWall:
    step_mm = STEPS_MM[house.project.show.units]["fine"]
    if at is not None:
        wall = min(walls, key=lambda one: _away(house, one, at))
        line = house.line(wall)
        left_mm = line.place(at)[0] - size.width_mm / 2
        return AgainstWall(wall=wall, offset_mm=within(left_mm, line.length_mm - size.width_mm, step_mm))
    stretches = [one for wall in walls for one in _stretches(house, wall, size)]
    wide = [one for one in stretches if one.length_mm >= size.width_mm - TOLERANCE_MM]
    if not wide:
        wall = max(walls, key=lambda one: house.line(one).length_mm)
        room_mm = house.line(wall).length_mm - size.width_mm
        return AgainstWall(wall=wall, offset_mm=within(room_mm / 2, room_mm, step_mm))
    best = max(wide, key=lambda one: round(one.length_mm, 3))
    return _at_end(house, best, size.width_mm)


def _stretches(house: House, wall: str, size: Size) -> list[Stretch]:
    depth_mm, low, high = size.depth_mm, size.bottom_mm, size.top_mm
    return free_stretches(house, wall, depth_mm=depth_mm, bottom_mm=low, top_mm=high)


def _at_end(house: House, stretch: Stretch, width_mm: float) -> AgainstWall:
    """Return a place at the end of a stretch that is a corner or a neighbour, and no door; the left one first."""
    if stretch.left_what == "opening" and stretch.right_what != "opening":
        offset_mm = round(max(0.0, house.lines[stretch.wall].length_mm - stretch.end_mm), 6)
        return AgainstWall(wall=stretch.wall, from_end="right", offset_mm=offset_mm)
    offset_mm = min(stretch.start_mm, house.lines[stretch.wall].length_mm - width_mm)
    return AgainstWall(wall=stretch.wall, offset_mm=round(max(0.0, offset_mm), 6))


def _away(house: House, wall: str, point: Point) -> float:
    along, ahead = house.line(wall).place(point)
    return math.hypot(max(0.0, -along, along - house.lines[wall].length_mm), ahead)


def _in_tall(house: House, space: str, kind: str, size: Size, at: Point | None, host: str | None) -> First:
    talls = [
        one for one in house.things_in(space) if one.thing.kind == "tall cabinet" and one.thing.top_mm >= size.top_mm
    ]
    empty = [one for one in talls if not _clash_inside(house, one, size)]
    asked = [one for one in talls if one.id == host]
    if not (asked or empty):
        return first_place(house, space, kind, "wall", size, at=at)
    chosen = (asked or sorted(empty, key=lambda one: distance((one.box.x, one.box.y), at or (0.0, 0.0))))[0]
    sized = replace(
        size,
        width_mm=min(size.width_mm, chosen.box.width_mm),
        depth_mm=min(size.depth_mm, chosen.box.depth_mm),
    )
    return First(sized, SetIn(host=chosen.id, offset_mm=round((chosen.box.width_mm - sized.width_mm) / 2, 6)))


def _clash_inside(house: House, tall: Stand, size: Size) -> bool:
    return any(
        min(inner.top_mm, size.top_mm) - max(inner.bottom_mm, size.bottom_mm) > TOLERANCE_MM
        for inner in house.set_in(tall.id)
    )


def _above_cooking(house: House, space: str, size: Size, at: Point | None, host: str | None) -> First:
    cooking = [one for one in house.things_in(*house.rooms[space]) if one.thing.kind in ("range", "cooktop")]
    hoods = [one for one in house.things_in(*house.rooms[space]) if one.thing.kind == "hood"]
    bare = [one for one in cooking if not any(_covers(hood, one) for hood in hoods)]
    chosen = next((one for one in cooking if one.id == host), None) or next(iter(bare or cooking), None)
    if chosen is None:
        return first_place(house, space, "hood", "wall", size, at=at)
    usual = default_size("range", house.project.show.units).top_mm
    by_mm = chosen.thing.top_mm - usual
    sized = replace(
        size,
        width_mm=max(size.width_mm, chosen.box.width_mm),
        bottom_mm=size.bottom_mm + by_mm,
        top_mm=size.top_mm + max(0.0, by_mm),
    )
    wall = _wall_of(house, chosen)
    if wall is None:
        return First(sized, Free(x_mm=chosen.box.x, y_mm=chosen.box.y, turn_deg=turn_kept(chosen.box.turn_deg)))
    line = house.lines[wall]
    left_mm = line.place((chosen.box.x, chosen.box.y))[0] - sized.width_mm / 2
    return First(sized, AgainstWall(wall=wall, offset_mm=round(left_mm, 6)))


def _covers(over: Stand, under: Stand) -> bool:
    along, ahead = over.box.front.place((under.box.x, under.box.y))
    return 0 <= along <= over.box.width_mm and -over.box.depth_mm <= ahead <= over.box.depth_mm


def _wall_of(house: House, stand: Stand) -> str | None:
    place = stand.thing.place
    while isinstance(place, SetIn):
        place = house.project.thing(place.host).place
    return place.wall if isinstance(place, AgainstWall) else None


def _at_window(house: House, space: str, size: Size, at: Point | None) -> First:
    dressed = {one.opening for one in house.project.things if isinstance(one, WindowTreatment)}
    windows = [
        door for door in house.doors[house.project.space(space).id] if door.opening and door.opening.kind == "window"
    ]
    if not windows:
        raise Refused(f"{the(house.project.space(space).name)} has no window", do="add a window first")
    bare = [door for door in windows if door.id not in dressed] or windows
    if at is not None:
        bare = sorted(bare, key=lambda door: distance(door.segment.midpoint, at))
    door, opening = bare[0], bare[0].opening
    assert opening is not None
    sized = replace(
        size, width_mm=opening.width_mm, bottom_mm=opening.sill_mm, top_mm=opening.sill_mm + opening.height_mm
    )
    offset_mm = round(max(0.0, house.lines[door.wall].place(door.segment.a)[0]), 6)
    return First(sized, AgainstWall(wall=door.wall, offset_mm=offset_mm), opening=door.id)


def _out_from_wall(house: House, space: str, size: Size, at: Point | None, wall: str | None) -> Free:
    """Return a place with the left end at a wall, in the middle of its longest free stretch, pointing into the room."""
    walls = [wall] if wall else [one.id for one in house.project.space(space).walls if not one.open]
    if not walls:
        return _free(house, space, "peninsula", size, at)
    if at is not None:
        walls = [min(walls, key=lambda one: _away(house, one, at))]
    turned = replace(size, width_mm=size.depth_mm, depth_mm=size.width_mm)
    stretches = [one for each in walls for one in _stretches(house, each, turned)]
    best = max(stretches, key=lambda one: round(one.length_mm, 3), default=None)
    line = house.line(best.wall if best else walls[0])
    along = line.place(at)[0] if at is not None else (best.start_mm + best.end_mm) / 2 if best else line.length_mm / 2
    x, y = line.at(along, size.width_mm / 2)
    out_x, out_y = line.outward
    turn_deg = turn_kept(math.degrees(math.atan2(out_y, out_x)))
    return Free(x_mm=round(x, 6), y_mm=round(y, 6), turn_deg=turn_deg)


def _under_ceiling(house: House, space: str, size: Size) -> Size:
    ceiling_mm = house.project.space(space).ceiling_mm
    if ceiling_mm is None:
        return size
    return replace(size, bottom_mm=max(0.0, ceiling_mm - (size.top_mm - size.bottom_mm)), top_mm=ceiling_mm)
