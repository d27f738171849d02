"""Places of new things at counters: set in a top, standing on it, under it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import shapely

from enfilade.editing.things.default_sizes import Size, default_size
from enfilade.editing.things.house import House
from enfilade.editing.things.steps import STEPS_MM, within
from enfilade.errors import Refused
from enfilade.geometry.fronts import open_spans
from enfilade.geometry.points import Point, distance
from enfilade.lengths import TOLERANCE_MM
from enfilade.listing import the
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.standing import Stand

__all__ = ["HOSTS", "First", "in_top", "on_top", "under_top"]

HOSTS: Final = ("counter", "island", "peninsula")
"""Kinds in which sinks and cooktops are set."""
_SUNK: Final = {"sink", "cooktop", "appliance garage", "fixture"}
_SLIVER: Final = Size(1.0, 1.0, 0.0, 1.0)
_PROUD_MM: Final = 25.4
"""How far a top stands out over what is under it (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class First:
    """A size and a place for a new thing, and for a window treatment the opening it belongs to."""

    size: Size
    place: Free | AgainstWall | SetIn
    opening: str | None = None


def _tops(house: House, space: str, host: str | None, at: Point | None) -> list[Stand]:
    """Return the tops of a room, the one that was asked for, or is nearest, first."""
    tops = [one for one in house.things_in(*house.rooms[space]) if one.thing.kind in HOSTS]
    if host is not None:
        tops = [one for one in tops if one.id == _top_of(house, tops, host)] or tops
    if at is not None:
        return sorted(tops, key=lambda one: distance((one.box.x, one.box.y), at))
    return tops


def _top_of(house: House, tops: list[Stand], host: str) -> str:
    """Return the top that a thing is, is set in, or stands under."""
    thing = house.project.thing(host)
    if thing.kind in HOSTS:
        return host
    if isinstance(thing.place, SetIn):
        return _top_of(house, tops, thing.place.host)
    x, y = house.stands[host].box.x, house.stands[host].box.y
    return next((top.id for top in tops if _holds(top, (x, y))), host)


def in_top(house: House, space: str, kind: str, size: Size, at: Point | None, host: str | None) -> First:
    tops = _tops(house, space, host, at)
    if not tops:
        room = the(house.project.space(space).name)
        raise Refused(f"{room} has no counter or island to set a {kind} in", do="add a counter first")
    top = tops[0] if host is not None or at is not None else max(tops, key=lambda one: _longest(house, one))
    sized = _sunk(house, top, kind, size)
    spans = list(_gaps(house, top, sized))
    front_mm, width_mm = top.box.width_mm, sized.width_mm
    if at is not None:
        left_mm = top.box.front.place(at)[0] - width_mm / 2
    else:
        start, end = max(spans, key=lambda span: round(span[1] - span[0], 3), default=(0.0, front_mm))
        left_mm = (start + end) / 2 - width_mm / 2
    step_mm = STEPS_MM[house.project.show.units]["fine"]
    setback_mm = within((_deep(house, top) - sized.depth_mm) / 2, top.box.depth_mm - sized.depth_mm, step_mm)
    place = SetIn(host=top.id, offset_mm=within(left_mm, front_mm - width_mm, step_mm), setback_mm=setback_mm)
    return First(sized, place)


def _deep(house: House, top: Stand) -> float:
    """Return the depth of a top as far as a run is deep: sinks of an island are set in its working side."""
    return min(top.box.depth_mm, default_size("counter", house.project.show.units).depth_mm)


def _sunk(house: House, top: Stand, kind: str, size: Size) -> Size:
    """Return a size for what is set in a top: its rim at the height of the top, no wider than it."""
    by_mm = top.thing.top_mm - size.top_mm
    wide, deep = min(size.width_mm, top.box.width_mm), min(size.depth_mm, top.box.depth_mm)
    low = max(0.0, size.bottom_mm + by_mm)
    return replace(size, width_mm=wide, depth_mm=deep, bottom_mm=low, top_mm=top.thing.top_mm)


def _gaps(house: House, top: Stand, size: Size) -> Iterator[tuple[float, float]]:
    """Yield the stretches of the front of a top in which nothing is set."""
    taken = []
    for inner in house.set_in(top.id):
        if inner.state == "removed" or inner.top_mm <= top.thing.bottom_mm + TOLERANCE_MM or inner.kind not in _SUNK:
            continue
        places = [top.box.front.place(corner)[0] for corner in house.stands[inner.id].box.corners]
        taken.append((min(places), max(places)))
    yield from open_spans((0.0, top.box.width_mm), taken, min(size.width_mm, top.box.width_mm) - TOLERANCE_MM)


def _longest(house: House, top: Stand) -> tuple[bool, float]:
    gaps = [end - start for start, end in _gaps(house, top, _SLIVER)]
    return top.thing.kind == "counter", round(max(gaps, default=0.0), 3)


def on_top(house: House, space: str, kind: str, size: Size, at: Point | None, host: str | None) -> First:
    found = in_top(house, space, kind, size, at, host)
    place = found.place
    assert isinstance(place, SetIn)
    top = house.stands[place.host]
    high = size.top_mm - size.bottom_mm
    raised = replace(found.size, bottom_mm=top.thing.top_mm, top_mm=top.thing.top_mm + high)
    back_mm = round(max(0.0, top.box.depth_mm - raised.depth_mm), 6)
    return First(raised, place.model_copy(update={"setback_mm": back_mm}))


def under_top(house: House, space: str, size: Size, at: Point | None, host: str | None) -> AgainstWall | SetIn | None:
    """Return a place under a counter where nothing stands yet, beside a sink where there is one; None without."""
    sinks = [one.box.front.midpoint for one in house.things_in(space) if one.thing.kind == "sink"]
    near = [at] if at is not None else sinks
    found: list[tuple[int, float, AgainstWall | SetIn]] = []
    for order, top in enumerate(_tops(house, space, host, at)):
        front = top.box.front
        for start, end in _free_under(house, top, size):
            for left in (start, end - size.width_mm):
                middle = front.at(left + size.width_mm / 2)
                away = min((distance(middle, point) for point in near), default=0.0)
                rank = order if host is not None else 0
                found.append((rank, round(away, 3), _below(house, top, left, size)))
    return min(found, key=lambda one: one[:2])[2] if found else None


def _free_under(house: House, top: Stand, size: Size) -> list[tuple[float, float]]:
    front = top.box.front
    strip = (
        front.reversed()
        .moved(TOLERANCE_MM)
        .strip(min(size.depth_mm, top.box.depth_mm) - 2 * TOLERANCE_MM, TOLERANCE_MM, front.length_mm - TOLERANCE_MM)
    )
    taken = []
    for stand in house.things_in(*house.rooms[top.thing.space]):
        thing = stand.thing
        if stand.id == top.id or thing.bottom_mm >= top.thing.bottom_mm or thing.kind == "rug":
            continue
        part = stand.box.polygon.intersection(strip)
        if part.area > TOLERANCE_MM * size.depth_mm:
            places = [front.place((x, y))[0] for x, y in shapely.get_coordinates(part).tolist()]
            taken.append((min(places) - TOLERANCE_MM, max(places) + TOLERANCE_MM))
    spans = open_spans((0.0, front.length_mm), taken, size.width_mm - 2 * TOLERANCE_MM)
    # What was widened against noise comes back, so that neighbours touch.
    return [
        (start - TOLERANCE_MM if start > 0 else start, end + TOLERANCE_MM if end < front.length_mm else end)
        for start, end in spans
    ]


def _below(house: House, top: Stand, left_mm: float, size: Size) -> AgainstWall | SetIn:
    place = top.thing.place
    if isinstance(place, AgainstWall):
        line = house.lines[place.wall]
        along = line.place(top.box.front.at(left_mm))[0]
        return AgainstWall(wall=place.wall, offset_mm=round(max(0.0, along), 6))
    setback_mm = round(max(0.0, min(_PROUD_MM, top.box.depth_mm - size.depth_mm)), 6)
    return SetIn(host=top.id, offset_mm=round(left_mm, 6), setback_mm=setback_mm)


def _holds(over: Stand, point: Point) -> bool:
    along, ahead = over.box.front.place(point)
    return 0 <= along <= over.box.width_mm and -over.box.depth_mm <= ahead <= 0
