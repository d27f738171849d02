"""Things put into a room, copied and taken out: project in, project out."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from enfilade.editing.forms.lines_showing import lines_showing
from enfilade.editing.forms.removing import what_leads_to, with_row_removed
from enfilade.editing.ids import new_id
from enfilade.editing.quoting import quoted
from enfilade.editing.things.default_sizes import Size, default_size, stands_at_first, variants
from enfilade.editing.things.first_places import first_place
from enfilade.editing.things.free_spots import middle_of
from enfilade.editing.things.house import House, all_ids, opening_of
from enfilade.editing.things.snapping import turn_kept
from enfilade.editing.things.stretches import free_stretches
from enfilade.errors import BadRecord, NotFound, OutOfRange
from enfilade.geometry.points import Point
from enfilade.lengths import LIMIT_MM, TOLERANCE_MM, System
from enfilade.listing import capital
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.project import Project
from enfilade.project.things import KINDS, Thing
from enfilade.trade.seating import edge_for, knee_rule

__all__ = ["SEATED_BY_EDGE", "seated_size", "thing_added", "thing_copied", "things_removed"]

SEATED_BY_EDGE = ("island", "peninsula", "counter")
"""Kinds whose length and depth grow with the people who sit along their back."""

_MOST_SEATS = 12


def thing_added(
    project: Project,
    space: str,
    kind: str,
    at: Point | None = None,
    wall: str | None = None,
    *,
    host: str | None = None,
    width_mm: float | None = None,
    what: str = "",
    seats: int = 0,
    free: bool = False,
) -> tuple[Project, str]:
    """Return the project with a new thing of generic size, marked as assumed, and its id.

    What stands free goes where there is most room round it; what stands at walls, to the longest free stretch of
    wall; sinks and cooktops into a counter, dishwashers under one beside the sink, hoods above what cooks.

    Args:
        space: Id of the room.
        kind: As the records name it.
        at: A point at which it is wanted, in house coordinates [mm].
        wall: A wall against which it is wanted.
        host: A thing in, under or above which it is wanted.
        width_mm: Its width, when it is known.
        what: Which seat or fixture: `stool`, `tub` ...
        seats: People who are to sit at it (tables, islands, peninsulas and counters).
        free: On the floor, wherever its kind usually stands.
    Raises:
        NotFound: No such room, kind, wall or host.
        OutOfRange: A width that no thing has, or more seats than one such thing takes.
        Refused: There is no counter to set it in, or no window for it.
        BadRecord: It cannot stand there.
    """
    house, system = House(project), project.show.units
    size, more = seated_size(kind, system, seats) if seats else (_size(kind, system, what), {})
    if width_mm is not None:
        if not 0 < width_mm <= LIMIT_MM:
            raise OutOfRange(f"a {kind} of this width cannot be", expected="a width above 0")
        size = Size(width_mm, size.depth_mm, size.bottom_mm, size.top_mm, size.source)
    stands = "floor" if free else stands_at_first(kind)
    first = first_place(house, space, kind, stands, size, at=at, wall=wall, host=host)
    id = new_id(what or kind, all_ids(project))
    owner = house.owner(first.place.wall).id if isinstance(first.place, AgainstWall) else None
    if isinstance(first.place, SetIn):
        owner = project.thing(first.place.host).space
    elif isinstance(first.place, Free):
        owner = house.space_at((first.place.x_mm, first.place.y_mm), space)
    sizes = {
        "width_mm": first.size.width_mm, "depth_mm": first.size.depth_mm,
        "bottom_mm": first.size.bottom_mm, "top_mm": first.size.top_mm,
    }  # fmt: skip
    # A width that was typed is known; all else is assumed.
    basis: dict[str, Any] = {"basis": "assumed"}
    if width_mm is not None:
        basis = {"bases": {name: "assumed" for name in sizes if name != "width_mm"}}
    record = {
        "id": id, "kind": kind, "space": owner or space, "place": first.place, **sizes, "state": "new",
        **basis, **_needed(kind, what, first.opening), **more,
    }  # fmt: skip
    try:
        return project.with_records(things=[*project.things, record]), id
    except BadRecord:
        # It is larger than the room, so that its middle would stand outside.
        x_mm, y_mm = middle_of(house, space)
        record |= {"space": space, "place": Free(x_mm=x_mm, y_mm=y_mm)}
        return project.with_records(things=[*project.things, record]), id


def seated_size(kind: str, system: System, seats: int) -> tuple[Size, dict[str, Any]]:
    """Return the size of a table or top for so many people, and the fields that seat them.

    Tables have sizes of their own; an island, a peninsula or a counter gets the edge that they need at its back and,
    under it, the depth for their knees.

    Raises:
        NotFound: No such kind.
        OutOfRange: Fewer than one, or more than one such thing takes.
    Source: Kitchen guideline 9 for width and knee depth at islands and counters.
    """
    if kind not in SEATED_BY_EDGE:
        size = default_size(kind, system, seats=seats)
        across = {"front": (seats + 1) // 2, "back": seats // 2}
        rows = [{"id": side, "side": side, "count": count} for side, count in across.items() if count]
        return size, {"seating": rows}
    if not 1 <= seats <= _MOST_SEATS:
        raise OutOfRange(f"{seats} people at one {kind}", expected=f"1 to {_MOST_SEATS}")
    usual, base = default_size(kind, system), default_size("base cabinet", system)
    counter = default_size("counter", system)
    knees_mm = knee_rule(usual.top_mm).row.value_mm
    width_mm = max(usual.width_mm, edge_for(seats))
    depth_mm = max(usual.depth_mm, counter.depth_mm + knees_mm)
    size = Size(width_mm, round(depth_mm, 6), usual.bottom_mm, usual.top_mm, usual.source)
    overhang = {"front_mm": round(counter.depth_mm - base.depth_mm, 6), "back_mm": round(knees_mm, 6)}
    return size, {"seating": [{"id": "back", "side": "back", "count": seats}], "overhang": overhang}


def thing_copied(project: Project, id: str) -> tuple[Project, str]:
    """Return the project with a copy of a thing beside it, and the copy's id; what is set in it is copied too.

    A copy has no name, remark or note of its own: those were about the other.

    Raises:
        NotFound: No such thing.
        BadRecord: There is no room for it beside the other, in any room.
    """
    house, thing = House(project), project.thing(id)
    new = new_id(thing.kind, all_ids(project))
    copies: list[Thing] = [_copy(thing, new, _beside(house, thing))]
    ids, taken = {id: new}, {*all_ids(project), new}
    for inner in house.set_in(id):
        ids[inner.id] = new_id(inner.kind, taken)
        taken.add(ids[inner.id])
        assert isinstance(inner.place, SetIn)
        host = {"host": ids[inner.place.host]}
        copies.append(_copy(inner, ids[inner.id], inner.place.model_copy(update=host)))
    return project.with_records(things=[*project.things, *copies]), new


def things_removed(project: Project, ids: Iterable[str]) -> tuple[Project, str]:
    """Return the project without some things or openings, and what went or changed with them, in words.

    What is set in them goes too, and so do the window treatments of an opening; decisions, photographs, switches and
    seats that named them name them no more; lines that showed them are told by their room and beginning.

    Raises:
        NotFound: One of them is not in the project.
    """
    words: list[str] = []
    for id in list(ids):
        if id not in all_ids(project) and words:
            continue  # It went with another of them.
        among = "things" if id in project.things_by_id else "openings"
        record = project.thing(id) if among == "things" else opening_of(project, id)
        leads = what_leads_to(project, (among, id))
        called = record.called if isinstance(record, Thing) else record.name or record.kind
        gone = [one.words for one in leads if one.goes]
        # Lines are told one by one: who takes a thing out must look at what they say.
        named = [one.words for one in leads if not one.goes and one.path[0] not in ("script", "show")]
        shows = lines_showing(project, {id, *(one.path[1] for one in leads if one.goes)})
        said = f"{capital(called)} taken out"
        said += f", with {', '.join(gone)}" if gone else ""
        said += f"; no longer named by {', '.join(named)}" if named else ""
        said += f". {shows.rstrip('.')}" if shows else ""
        words.append(said)
        project = with_row_removed(project, (among, id), along=True)
    if not words:
        raise NotFound("nothing was named that could be taken out")
    return project, ". ".join(words)


def _size(kind: str, system: System, what: str) -> Size:
    known = variants(kind)
    if what and what not in known and what not in ("chair", "basin"):
        raise NotFound(f"{quoted(what)} is no {kind}", expected=", ".join(known) or "nothing more than its kind")
    return default_size(kind, system, what=what)


def _needed(kind: str, what: str, opening: str | None) -> dict[str, Any]:
    """Return the fields that a kind cannot be without, beside those of every thing."""
    if kind not in KINDS:
        raise NotFound(f"{quoted(kind)} is no kind of thing", expected=", ".join(KINDS))
    if kind == "fixture":
        return {"what": what or "basin"}
    if kind == "peninsula":
        return {"joined": "left"}
    if kind == "window treatment":
        return {"opening": opening}
    return {"what": what} if what else {}


def _copy(thing: Thing, id: str, place: AgainstWall | Free | SetIn) -> Thing:
    update = {"id": id, "place": place, "name": "", "note": "", "remark": "", "state": "new"}
    return thing.model_copy(update=update)


def _beside(house: House, thing: Thing) -> AgainstWall | Free | SetIn:
    """Return a place beside a thing: on its right where there is room, else on its left, else where there is room."""
    place, width_mm = thing.place, thing.width_mm
    if isinstance(place, AgainstWall):
        line = house.lines[place.wall]
        room_mm = line.length_mm - width_mm
        left_mm = place.offset_mm if place.from_end == "left" else room_mm - place.offset_mm
        stretches = free_stretches(
            house, place.wall, depth_mm=thing.depth_mm, bottom_mm=thing.bottom_mm, top_mm=thing.top_mm
        )
        for start in (left_mm + width_mm, left_mm - width_mm):
            if any(_fits(one.start_mm, one.end_mm, start, width_mm) for one in stretches):
                return _measured(place, start, room_mm)
        wide = [one for one in stretches if one.length_mm >= width_mm - TOLERANCE_MM]
        start = wide[0].start_mm if wide else min(max(left_mm + width_mm, 0.0), max(room_mm, 0.0))
        return _measured(place, start, room_mm)
    if isinstance(place, SetIn):
        room_mm = max(0.0, house.host_side_of(place).length_mm - width_mm)
        right = place.offset_mm + width_mm
        offset_mm = right if right <= room_mm + TOLERANCE_MM else max(0.0, place.offset_mm - width_mm)
        return place.model_copy(update={"offset_mm": round(min(offset_mm, room_mm), 6)})
    box = house.stands[thing.id].box
    for sign in (1, -1):
        x, y = box.at(sign * (width_mm + _BETWEEN_MM), 0.0)
        if house.space_at((x, y), thing.space) == thing.space:
            return Free(x_mm=round(x, 6), y_mm=round(y, 6), turn_deg=turn_kept(box.turn_deg))
    return place


_BETWEEN_MM = 50.8
"""Between a free thing and its copy (own choice): so much that both can be taken hold of."""


def _fits(start_mm: float, end_mm: float, left_mm: float, width_mm: float) -> bool:
    return start_mm - TOLERANCE_MM <= left_mm and left_mm + width_mm <= end_mm + TOLERANCE_MM


def _measured(place: AgainstWall, left_mm: float, room_mm: float) -> AgainstWall:
    offset_mm = left_mm if place.from_end == "left" else room_mm - left_mm
    return place.model_copy(update={"offset_mm": round(max(0.0, offset_mm), 6)})
