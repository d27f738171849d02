"""The clear width from each side of a thing to what stands before it: what a hand sees while it moves it.

The rule, so that a page can work out the same: from each side a band as wide as the side, drawn in by `EDGE_MM` at
both ends so that what only touches it does not count, reaches `FARTHEST_MM` ahead. What lies nearest in it is told, a
wall or a thing. Walls seen at a grazing angle, chairs and stools, what hangs above, what is set in something, and what
stands over or under the thing itself do not count. A cabinet under a counter is told by the counter's name.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from enfilade.editing.things.house import House, opening_of
from enfilade.geometry.boxes import Box, Segment
from enfilade.geometry.points import Point, dot
from enfilade.lengths import TOLERANCE_MM
from enfilade.listing import the
from enfilade.project.placing import SetIn
from enfilade.project.project import Project
from enfilade.project.standing import Stand, opening_segment, side_of
from enfilade.project.surfaces import Seat
from enfilade.project.thing import Side, Thing

__all__ = ["EDGE_MM", "FARTHEST_MM", "SIDES", "TOPS", "ClearSide", "clear_widths_round", "counts_round", "hangs"]

SIDES: Final[tuple[Side, ...]] = ("front", "back", "left", "right")
FARTHEST_MM: Final = 6000.0
"""Nothing is measured to what stands farther away (own choice)."""
EDGE_MM: Final = 12.7
"""What reaches before a side by less than 1/2 in is beside it: rooms are never quite square (own choice)."""

_CUT_PLANE_MM: Final = 1219.2
"""Plans are cut 4 ft above the floor (drafting practice, no source); what begins higher hangs above what stands."""
_GRAZING: Final = math.sin(math.radians(15.0)) + 1e-9
_THIN: Final = {"rug", "light", "receptacle", "switch", "window treatment", "extinguisher"}
TOPS: Final = {"counter", "island", "peninsula", "table", "desk"}

_Ring = Sequence[Point]


@dataclass(frozen=True, slots=True)
class ClearSide:
    """What stands nearest before one side of a thing.

    Attributes:
        side: Of the thing; for an opening, `left` or `right` along its wall.
        distance_mm: Square to that side, 0 where the two touch or overlap.
        among: Whether it is one of the `things`, the `openings`, or the `walls`.
        id: Of what stands there.
        called: What people call it.
        here, there: Both ends of the line that was measured, in house coordinates [mm].
    """

    side: Side
    distance_mm: float
    among: Literal["things", "openings", "walls"]
    id: str
    called: str
    here: Point
    there: Point


def clear_widths_round(project: Project | House, id: str, space: str | None = None) -> dict[Side, ClearSide | None]:
    """Return for each side of a thing the nearest thing or wall before it; None when nothing stands within 6 m.

    For what is set in another thing, its neighbours there and the edges of its host are told; for an opening, what
    is nearest on its wall at its left and right.

    Args:
        space: Room from which an opening is seen; None for the one of its first wall.
    Raises:
        NotFound: No such thing or opening.
    """
    house = project if isinstance(project, House) else House(project)
    if id not in house.project.things_by_id:
        return _beside_opening(house, id, space)
    stand = house.stands[id]
    box, found = stand.box, {}
    met = [*_things_before(house, stand), *_walls_before(house, stand)]
    for side in SIDES:
        found[side] = _nearest(side, side_of(box, side), met)
    return found


def counts_round(thing: Thing) -> bool:
    """Tell whether the clear width to a thing is ever told."""
    if thing.kind in _THIN or thing.state == "removed":
        return False
    return not (isinstance(thing, Seat) and thing.what in ("chair", "stool"))


def hangs(thing: Thing) -> bool:
    """Tell whether a thing begins above the plane at which a plan is cut."""
    return thing.bottom_mm >= _CUT_PLANE_MM


@dataclass(frozen=True, slots=True)
class _Met:
    among: Literal["things", "openings", "walls"]
    id: str
    called: str
    ring: _Ring


def _things_before(house: House, stand: Stand) -> Iterator[_Met]:
    thing, host = stand.thing, _host(stand.thing)
    own = {stand.id, *(inner.id for inner in house.set_in(stand.id))}
    others = [
        other
        for other in house.things_in(*house.rooms[thing.space])
        if other.id not in own and counts_round(other.thing) and _host(other.thing) == host
    ]
    level = [other for other in others if _meets(thing, other.thing)]
    beside = [other for other in level if not _over_or_under(stand, other)]
    tops = [other for other in beside if other.thing.kind in TOPS]
    for other in beside:
        top = next((top for top in tops if top is not other and _carries(top, other)), other)
        yield _Met("things", top.id, top.thing.called, _ring(house, other))


def _host(thing: Thing) -> str | None:
    return thing.place.host if isinstance(thing.place, SetIn) else None


def _meets(thing: Thing, other: Thing) -> bool:
    """Tell whether two things are at one height: both stand under the cutting plane, or their heights overlap."""
    return (not hangs(thing) and not hangs(other)) or _share_height(thing, other)


def _share_height(a: Thing, b: Thing) -> bool:
    return min(a.top_mm, b.top_mm) - max(a.bottom_mm, b.bottom_mm) > TOLERANCE_MM


def _over_or_under(stand: Stand, other: Stand) -> bool:
    """Tell whether two things share floor because one belongs over the other, and not because they clash."""
    if not _overlap(stand.box, other.box):
        return False
    middle_in = _holds(stand.box, (other.box.x, other.box.y)) or _holds(other.box, (stand.box.x, stand.box.y))
    return middle_in or not _share_height(stand.thing, other.thing)


def _carries(top: Stand, other: Stand) -> bool:
    return _holds(top.box, (other.box.x, other.box.y)) and other.thing.top_mm <= top.thing.top_mm + TOLERANCE_MM


def _holds(box: Box, point: Point) -> bool:
    along, ahead = box.front.place(point)
    within = -TOLERANCE_MM <= along <= box.width_mm + TOLERANCE_MM
    return within and -box.depth_mm - TOLERANCE_MM <= ahead <= TOLERANCE_MM


def _overlap(a: Box, b: Box) -> bool:
    """Tell whether two footprints cover each other by more than a touch (separating axes)."""
    for one, other in ((a, b), (b, a)):
        places = [one.front.place(corner) for corner in other.corners]
        for values, low, high in (
            ([along for along, _ in places], 0.0, one.width_mm),
            ([-ahead for _, ahead in places], 0.0, one.depth_mm),
        ):
            if min(values) > high - TOLERANCE_MM or max(values) < low + TOLERANCE_MM:
                return False
    return True


def _ring(house: House, stand: Stand) -> _Ring:
    x, y = house.footprint(stand.id).exterior.coords.xy
    return list(zip(x[:-1], y[:-1], strict=True))


def _walls_before(house: House, stand: Stand) -> Iterator[_Met]:
    place = stand.thing.place
    if isinstance(place, SetIn):
        host = house.stands[place.host]
        for side in SIDES:
            edge = side_of(host.box, side)
            yield _Met("things", host.id, f"{side} edge of {the(host.thing.called)}", (edge.a, edge.b))
        return
    for space_id in sorted(house.rooms[stand.thing.space], key=lambda one: one != stand.thing.space):
        for wall in house.project.space(space_id).walls:
            line = house.lines[wall.id]
            if not wall.open:
                yield _Met("walls", wall.id, wall.name or "wall", (line.a, line.b))


def _nearest(side: Side, edge: Segment, met: Iterable[_Met]) -> ClearSide | None:
    best: tuple[float, _Met, float] | None = None
    inset = min(EDGE_MM, edge.length_mm / 4)
    for one in met:
        if len(one.ring) == 2 and _grazing(edge, one.ring):
            continue
        part = [edge.place(point) for point in one.ring]
        for axis, limit, above in ((0, inset, True), (0, edge.length_mm - inset, False), (1, -TOLERANCE_MM, True)):
            part = _clipped(part, axis, limit, above)
        if not part:
            continue
        near = min(ahead for _, ahead in part)
        if best is None or near < best[0] - 1e-6:
            level = [along for along, ahead in part if ahead <= near + 1e-3]
            best = (near, one, (min(level) + max(level)) / 2)
    if best is None or best[0] > FARTHEST_MM:
        return None
    distance_mm, one, along = max(0.0, best[0]), best[1], best[2]
    here, there = edge.at(along), edge.at(along, distance_mm)
    return ClearSide(side, distance_mm, one.among, one.id, one.called, here, there)


def _grazing(edge: Segment, ring: _Ring) -> bool:
    return abs(dot(Segment(ring[0], ring[1]).direction, edge.direction)) < _GRAZING


def _clipped(ring: Sequence[Point], axis: int, limit: float, above: bool) -> list[Point]:
    """Return the part of a convex ring on one side of a line square to an axis."""
    kept: list[Point] = []
    for i, p in enumerate(ring):
        q = ring[(i + 1) % len(ring)]
        a, b = (p[axis] - limit, q[axis] - limit) if above else (limit - p[axis], limit - q[axis])
        if a >= 0:
            kept.append(p)
        if (a >= 0) != (b >= 0):
            share = a / (a - b)
            kept.append((p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share))
    return kept


def _beside_opening(house: House, id: str, space: str | None) -> dict[Side, ClearSide | None]:
    opening = opening_of(house.project, id)
    seen_from = space if space is not None else house.owner(opening.wall).id
    doors = [door for door in house.doors.get(seen_from, ()) if door.opening is not None]
    own = next((door for door in doors if door.id == id), None)
    wall = own.wall if own is not None else opening.wall
    line = house.lines[wall]
    segment = own.segment if own is not None else opening_segment(opening, line)
    start, end = line.place(segment.a)[0], line.place(segment.b)[0]
    name = the(house.wall(wall).name or "wall")
    left = (start, _Met("walls", wall, f"left end of {name}", ()))
    right = (line.length_mm - end, _Met("walls", wall, f"right end of {name}", ()))
    for door in doors:
        if door.wall != wall or door.id == id or door.opening is None:
            continue
        near, far = line.place(door.segment.a)[0], line.place(door.segment.b)[0]
        met = _Met("openings", door.id, door.opening.name or door.opening.kind, ())
        if far <= start + TOLERANCE_MM:
            left = min(left, (max(0.0, start - far), met), key=_first)
        elif near >= end - TOLERANCE_MM:
            right = min(right, (max(0.0, near - end), met), key=_first)

    def told(side: Side, mm: float, met: _Met, here: float, there: float) -> ClearSide:
        return ClearSide(side, mm, met.among, met.id, met.called, line.at(here), line.at(there))

    return {
        "front": None,
        "back": None,
        "left": told("left", *left, start, start - left[0]),
        "right": told("right", *right, end, end + right[0]),
    }


def _first(one: tuple[float, _Met]) -> float:
    return one[0]
