"""What faces what across the floor of a room: counters, tall units, islands, tables and walls."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final, Literal

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.checks.floor import FLOOR_KINDS, footprint, is_obstacle, room_floor
from enfilade.checks.layout import COUNTERS, RUN_KINDS, Layout, layout
from enfilade.checks.view import View
from enfilade.geometry.boxes import Segment
from enfilade.geometry.clear_widths import ClearWidth, clear_width_between
from enfilade.geometry.fronts import free_front, standing_before
from enfilade.geometry.points import angle_between_deg
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import Island, Peninsula, Surface
from enfilade.project.thing import Side

__all__ = ["Facing", "facings", "floor_between", "room_stands"]

WORK: Final = ("sink", "cooktop", "range", "refrigerator", "dishwasher", "oven", "microwave")
"""Kinds at which one works; what they front on is a work aisle."""

_ALL_SIDES: Final[tuple[Side, ...]] = ("front", "right", "back", "left")
# Own choices. Fronts in one line: a tall unit stands up to so far before a counter, and gaps are scribed.
_IN_LINE_MM: Final = 305.0
_GAP_MM: Final = 50.0
_SAME_WAY_DEG: Final = 1.0
_USED_FROM_DEG: Final = 50.0
# What juts out sideways less than this (a refrigerator before the counter beside it) makes no aisle: 12 in.
_JUTS_MM: Final = 304.8
# Narrower than 4 in is a joint between two things, not a way.
_JOINT_MM: Final = 101.6
# What stands nearer than 1 in before a side leaves no way there.
_PROBE_MM: Final = 25.4
# Whether a way leads on is looked at 2 in past its ends.
_PAST_MM: Final = 50.8

Role = Literal["front", "side", "wall"]


@dataclass(frozen=True)
class _Face:
    name: str
    id: str
    side: Side
    role: Role
    free_standing: bool
    segment: Segment
    work: tuple[tuple[str, float, float], ...] = ()


@dataclass(frozen=True)
class Facing:
    """Two straight sides that face each other, where they come nearest.

    Attributes:
        a, b: Ids of the things (or the wall) where it is narrowest.
        a_side, b_side: Which side of each.
        a_role, b_role: `front` (worked at, or a side of an island), `side` (an end of a run, a side of a table),
            or `wall`.
        width_mm: The least clear width.
        line: Where it was measured.
        work: Sinks and appliances that front on it, along the stretch on which the two face each other.
        strips: The floor between the two, one rectangle a pair of things.
        along: The direction of the aisle.
        seats: Ids of surfaces with people who sit on it.
        ours: Whether one of the two things (between two walls, one of them) is of the space that is judged.
    """

    a: str
    b: str
    a_side: Side
    b_side: Side
    a_role: Role
    b_role: Role
    width_mm: float
    line: tuple[tuple[float, float], tuple[float, float]]
    work: tuple[str, ...]
    strips: tuple[Polygon, ...]
    along: tuple[float, float]
    seats: tuple[str, ...]
    ours: bool

    @property
    def ids(self) -> tuple[str, str]:
        """Return both ids in the order of the alphabet."""
        return (self.a, self.b) if self.a <= self.b else (self.b, self.a)

    @property
    def wall(self) -> bool:
        """Tell whether one of the two is a wall."""
        return "wall" in (self.a_role, self.b_role)


def room_stands(view: View) -> list[Stand]:
    """Return what stands on the floor of the whole room, of the kinds that a check reads."""
    return [stand for stand in view.room_things(*(view.reads & set(FLOOR_KINDS))) if is_obstacle(stand)]


def facings(view: View) -> tuple[Facing, ...]:
    """Return all straight sides of a room that face each other, narrowest first, worked out once.

    Fronts in one line are one side, so that an aisle between two runs is met once. Walls, and the ends of
    runs and of furniture, make a way only where one walks on at both ends of it: a niche is none. A check that
    asks reads `FLOOR_KINDS`, and the openings where it wants to know of ways that lead on through them.
    """
    key = ("facings", view.reads & {*FLOOR_KINDS, "openings"})
    if key not in view.memo:
        view.memo[key] = tuple(_facings(view))
    found: tuple[Facing, ...] = view.memo[key]
    return found


def _facings(view: View) -> list[Facing]:
    stands = room_stands(view)
    faces = {face.name: face for face in _faces(view, stands)}
    sides = _straight_sides([face for face in faces.values() if face.role == "front"])
    groups: dict[tuple[str, str], list[ClearWidth]] = {}
    leads_on = _LeadsOn(view)
    for width in clear_width_between([(face.name, face.segment) for face in faces.values()]):
        a, b = faces[width.a_id], faces[width.b_id]
        if _is_way(a, b, width, leads_on):
            first, second = sorted((sides.get(a.name, a.name), sides.get(b.name, b.name)))
            groups.setdefault((first, second), []).append(width)
    ours = {stand.id for stand in view.things(*(view.reads & set(FLOOR_KINDS)))}
    seated = _seated(stands)
    found: dict[tuple[tuple[str, str], bool], Facing] = {}
    all_of_them = (_facing(widths, faces, (ours, view.walls.keys()), seated) for widths in groups.values())
    for facing in sorted(all_of_them, key=lambda f: (round(f.width_mm, 2), f.ids, f.work)):
        key = (facing.ids, bool(facing.work))
        found[key] = _joined(found[key], facing) if key in found else facing
    return list(found.values())


def _joined(narrow: Facing, other: Facing) -> Facing:
    """Return two ways between the same two things as one, as wide as the narrower."""
    return replace(
        narrow,
        work=tuple(sorted({*narrow.work, *other.work})),
        strips=narrow.strips + other.strips,
        seats=tuple(sorted({*narrow.seats, *other.seats})),
        ours=narrow.ours or other.ours,
    )


def _is_way(a: _Face, b: _Face, width: ClearWidth, leads_on: _LeadsOn) -> bool:
    if width.width_mm < _JOINT_MM:
        return False
    roles = {a.role, b.role}
    if "front" in roles and "side" not in roles:
        return True
    if width.overlap_mm < _JUTS_MM - TOLERANCE_MM:
        return False
    if "front" not in roles:
        return leads_on.at_both_ends(a.segment, b.segment, width.width_mm)
    # The flank of a unit in a run closes a corner, unless somebody works before it or walks past it.
    free = any(face.free_standing for face in (a, b))
    worked_at = any(True for pair in ((a, b), (b, a)) for _ in _worked(*pair))
    return free or worked_at or leads_on.at_both_ends(a.segment, b.segment, width.width_mm)


class _LeadsOn:
    """Tells where one can walk on: over the free floor of a room, and through its openings."""

    def __init__(self, view: View) -> None:
        self._view = view

    @cached_property
    def _floor(self) -> BaseGeometry:
        doors = self._view.room_doorways() if "openings" in self._view.reads else ()
        through = [d.segment.reversed().moved(-1.0).strip(2 * _PAST_MM) for d in doors if d.passage]
        floor = shapely.union_all([room_floor(self._view), *through])
        shapely.prepare(floor)
        return floor

    def at_both_ends(self, a: Segment, b: Segment, width_mm: float) -> bool:
        """Tell whether past both ends of the stretch on which two edges face each other half its width is free."""
        start, end = _stretch(a, b)
        for place in (start - _PAST_MM, end + _PAST_MM):
            across = LineString([a.at(place), a.at(place, width_mm)])
            if self._floor.covers(across):  # quickly told of a prepared shape, and so mostly
                continue
            if across.intersection(self._floor).length < width_mm / 2 - TOLERANCE_MM:
                return False
        return True


def _stretch(one: Segment, other: Segment) -> tuple[float, float]:
    """Return from where to where along an edge another one faces it [mm]."""
    (right, _), (left, _) = one.place(other.a), one.place(other.b)
    return max(0.0, min(left, right)), min(one.length_mm, max(left, right))


def _worked(one: _Face, other: _Face) -> Iterator[str]:
    """Yield what one works at from a face, along the stretch that another faces."""
    start, end = _stretch(one.segment, other.segment)
    yield from (name for name, low, high in one.work if min(high, end) - max(low, start) > TOLERANCE_MM)


def _faces(view: View, stands: list[Stand]) -> Iterator[_Face]:
    found = layout(view)
    work = [(other, shapely.Point(other.box.x, other.box.y)) for other in view.room_things(*WORK)]
    sides = list(_straight_edges(found, stands))
    shapes = [footprint(stand) for stand in stands]
    before = standing_before([segment for _, _, segment in sides], shapes, _PROBE_MM)
    for (stand, side, segment), near in zip(sides, before, strict=True):
        role, free = _role(stand, side), _stands_free(stand)
        served = tuple(_served(stand, segment, work)) if role == "front" else ()
        for number, part in enumerate(free_front(segment, [shapes[j] for j in near], _PROBE_MM)):
            offset = segment.place(part.a)[0]
            spans = tuple((name, low - offset, high - offset) for name, low, high in served)
            yield _Face(f"{stand.id}|{side}|{number}", stand.id, side, role, free, part, spans)
    for name, line in view.room_walls.items():
        yield _Face(f"{name}|wall", name, "front", "wall", False, line)


def _straight_edges(found: Layout, stands: list[Stand]) -> Iterator[tuple[Stand, Side, Segment]]:
    """Yield the sides of what stands for itself, and not under a top or inside a tall cabinet."""
    for stand in stands:
        thing = stand.thing
        if thing.kind not in COUNTERS and found.covered(stand) and not _proud(found, stand):
            continue
        if thing.kind == "oven" and found.built_in(stand):
            continue
        for side in _sides(stand):
            yield stand, side, side_of(stand.box, side)


def _proud(found: Layout, stand: Stand) -> bool:
    """Tell whether what stands under a top comes out before its edge."""
    host, middle = found.host_of(stand), stand.box.front.midpoint
    return host is None or not host.box.holds(middle, TOLERANCE_MM)


def _sides(stand: Stand) -> tuple[Side, ...]:
    thing = stand.thing
    if isinstance(thing, Peninsula):
        return tuple(side for side in _ALL_SIDES if side != thing.joined)
    return _ALL_SIDES


def _role(stand: Stand, side: Side) -> Role:
    thing = stand.thing
    if isinstance(thing, Island | Peninsula) or (thing.kind in RUN_KINDS and side == "front"):
        return "front"
    return "side"


def _stands_free(stand: Stand) -> bool:
    return stand.thing.kind not in RUN_KINDS or isinstance(stand.thing, Island | Peninsula)


def _served(
    stand: Stand, segment: Segment, work: Iterable[tuple[Stand, shapely.Point]]
) -> Iterator[tuple[str, float, float]]:
    """Yield what one works at from a side of a thing: itself, or what is set in it or under it."""
    shape = stand.box.polygon
    for other, middle in work:
        inside = other.id == stand.id or shape.covers(middle)
        front = other.box.front
        if inside and abs(angle_between_deg(front.outward, segment.outward)) <= _USED_FROM_DEG:
            places = [segment.place(front.a)[0], segment.place(front.b)[0]]
            yield other.id, min(places), max(places)


def _straight_sides(faces: list[_Face]) -> dict[str, str]:
    """Return for each face the name of its side: the first of the faces that follow each other in one line."""
    first = {face.name: face.name for face in faces}

    def root(name: str) -> str:
        while first[name] != name:
            name = first[name]
        return name

    lines = [face.segment.line for face in faces]
    if not lines:
        return {}
    reach = _IN_LINE_MM + _GAP_MM
    left, right = shapely.STRtree(lines).query(lines, predicate="dwithin", distance=reach)
    for i, j in sorted(zip(left.tolist(), right.tolist(), strict=True)):
        if i < j and _in_line(faces[i].segment, faces[j].segment):
            a, b = sorted((root(faces[i].name), root(faces[j].name)))
            first[b] = a
    return {face.name: root(face.name) for face in faces}


def _in_line(a: Segment, b: Segment) -> bool:
    if abs(angle_between_deg(a.direction, b.direction)) > _SAME_WAY_DEG:
        return False
    (start, ahead), (end, _) = a.place(b.a), a.place(b.b)
    return abs(ahead) <= _IN_LINE_MM and min(end, a.length_mm) - max(start, 0.0) >= -_GAP_MM


def _seated(stands: Iterable[Stand]) -> set[tuple[str, str]]:
    return {(stand.id, row.side) for stand in stands if isinstance(stand.thing, Surface) for row in stand.thing.seating}


def _facing(
    widths: list[ClearWidth],
    faces: dict[str, _Face],
    ours: tuple[Collection[str], Collection[str]],
    seated: set[tuple[str, str]],
) -> Facing:
    # Rounded, so that of two that are equally narrow the longer one is shown wherever the house stands.
    least = min(widths, key=lambda w: (round(w.width_mm, 2), -round(w.overlap_mm, 1), w.a_id, w.b_id))
    a, b = faces[least.a_id], faces[least.b_id]
    # A stretch between two walls is ours when one of the walls is; else one of the things has to be.
    whose = ours[1] if a.role == b.role == "wall" else ours[0]
    work: set[str] = set()
    strips, seats = [], set()
    for width in widths:
        first, second = faces[width.a_id], faces[width.b_id]
        strips.append(first.segment.strip(width.width_mm, *_stretch(first.segment, second.segment)))
        for one, other in ((first, second), (second, first)):
            work.update(_worked(one, other))
            if (one.id, one.side) in seated:
                seats.add(one.id)
    return Facing(
        a=a.id, b=b.id, a_side=a.side, b_side=b.side, a_role=a.role, b_role=b.role, width_mm=least.width_mm,
        line=(least.a_point, least.b_point), work=tuple(sorted(work)), strips=tuple(strips),
        along=a.segment.direction, seats=tuple(sorted(seats)),
        ours=any(face.id in whose for w in widths for face in (faces[w.a_id], faces[w.b_id])),
    )  # fmt: skip


def floor_between(facing: Facing) -> BaseGeometry:
    """Return the floor between the two sides."""
    return shapely.union_all(list(facing.strips))
