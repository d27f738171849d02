"""The dishwasher: near a sink, with room to stand beside its open door."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from shapely import Polygon

from enfilade.checks.beside import does_not_apply, lacks
from enfilade.checks.layout import PROUD_MM, RUN_KINDS, Layout, Spot, layout
from enfilade.checks.open_shapes import opened
from enfilade.checks.registry import check
from enfilade.checks.shown import both, called
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark, Point
from enfilade.geometry.boxes import Segment
from enfilade.geometry.points import angle_between_deg
from enfilade.geometry.swings import drop_down_sweep
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.appliances import Sink
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import Island, Peninsula
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["dishwasher_near_sink", "open_door", "standing_room", "working_front"]

_RIGHT_ANGLE_DEG: Final = 10.0
"""A front that is off a right angle by no more than this is at a right angle (our own choice)."""
_DIAGONAL_DEG: Final = (30.0, 60.0)
"""Turned this far to the sink, a dishwasher is set diagonally (our own choice, round 45 degrees)."""
_DRAWN_MM: Final = 150.0
"""How far before the front the measure is drawn, to be seen (our own choice)."""


def open_door(stand: Stand, front: Segment) -> tuple[Polygon, tuple[str, ...]]:
    """Return the floor that a dishwasher's open door covers, and what was assumed of it.

    A door that is not recorded folds down before `front` and is as high as the dishwasher.
    """
    found = [leaf.open_shape for leaf in opened([stand]) if leaf.leaf.side == "front"]
    if found:
        return max(found, key=lambda shape: float(shape.area)), ()
    return drop_down_sweep(front, max(stand.thing.top_mm - stand.thing.bottom_mm, 1.0)), (f"{stand.id}.opens",)


def working_front(found: Layout, stand: Stand) -> Segment:
    """Return the line at which a person stands before a thing: its front, or the edge of the top over it."""
    front = stand.box.front
    host = found.host_of(stand)
    if host is None:
        return front
    ahead = max(front.place(corner)[1] for corner in host.box.corners)
    # A top that turns a corner or crosses the front says nothing about the edge over it.
    return front.moved(ahead) if 0.0 < ahead < PROUD_MM else front


@check(reads=RUN_KINDS, uses={"kitchen"})
def dishwasher_near_sink(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure from each dishwasher to the nearest sink for cleaning or preparing, edge to edge along the run.

    Where both are on no run together, straight across the plan.
    """
    if not rules.has("K13"):
        return
    row, found, space = rules.row("K13"), layout(view), view.space.id
    dishwashers = view.things("dishwasher")
    sinks = [s for s in view.things("sink") if isinstance(s.thing, Sink) and s.thing.role != "auxiliary"]
    if not dishwashers:
        yield does_not_apply(view, row, "no dishwasher is recorded here")
        return
    if not sinks:
        yield lacks(view, row, "sink", "no sink for cleaning or preparing is recorded here")
        return
    for stand in dishwashers:
        away, words, sink = min((_away(found, stand, sink) for sink in sinks), key=lambda one: (one[0], one[2].id))
        yield row.finding(
            space=space,
            subjects=(stand.id, sink.id),
            measured=Quantity(away, "mm"),
            working=(words,),
            marks=(Mark("measure", (stand.box.front.midpoint, sink.box.front.midpoint), both(away)),),
            assumed=(*stand.thing.assumed("place", "width_mm"), *sink.thing.assumed("place", "width_mm")),
        )


def _away(found: Layout, stand: Stand, sink: Stand) -> tuple[float, str, Stand]:
    name, other = called(found.stands, stand.id, sink.id)
    along = [_gap(a, b) for a in found.spots(stand.id) for b in found.spots(sink.id) if a.run is b.run]
    if along:
        return min(along), f"along the run from {name} to {other}: {both(min(along))}", sink
    away = float(stand.box.polygon.distance(sink.box.polygon))
    return away, f"not on one run; straight from {name} to {other}: {both(away)}", sink


def _gap(a: Spot, b: Spot) -> float:
    first, last = sorted((a, b), key=lambda spot: spot.start_mm)
    gap = max(0.0, last.start_mm - first.end_mm)
    return min(gap, max(0.0, first.start_mm + a.run.length_mm - last.end_mm)) if a.run.closed else gap


@check(reads=RUN_KINDS, uses={"kitchen"})
def standing_room(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure from each dishwasher's edge to the nearest front at a right angle beside its open door.

    A dishwasher set diagonally is measured from the middle of the sink to the edge of its open door, along the
    front of the sink.
    """
    if not rules.has("K13b"):
        return
    row, found, space = rules.row("K13b"), layout(view), view.space.id
    stands = view.things("dishwasher")
    if not stands:
        yield does_not_apply(view, row, "no dishwasher is recorded here")
    for stand in stands:
        door, assumed = open_door(stand, working_front(found, stand))
        diagonal = _diagonal_sink(found, stand)
        measured = _from_sink(diagonal, stand, door) if diagonal else _to_right_angle(found, stand, door)
        if measured is None:
            yield row.not_assessed(
                space=space,
                subjects=(stand.id,),
                because="does not apply",
                working=("no front stands at a right angle beside its open door",),
            )
            continue
        other, room, words, mark = measured
        yield row.finding(
            space=space,
            subjects=(stand.id, other),
            measured=Quantity(room, "mm"),
            working=(words,),
            marks=(mark, Mark("area", tuple(_ring(door)))),
            assumed=(*stand.thing.assumed("place", "width_mm"), *assumed),
        )


def _ring(shape: Polygon) -> list[Point]:
    return [(x, y) for x, y in shape.exterior.coords][:-1]


_Room = tuple[str, float, str, Mark]


def _diagonal_sink(found: Layout, stand: Stand) -> Stand | None:
    """Return the nearest sink when it and the dishwasher stand diagonally to each other."""
    sinks = [centre.stand for centre in found.centres_of("sink")]
    near = min(sinks, key=lambda sink: float(sink.box.polygon.distance(stand.box.polygon)), default=None)
    if near is None:
        return None
    turn = abs(angle_between_deg(near.box.front.direction, stand.box.front.direction))
    return near if _DIAGONAL_DEG[0] <= turn <= _DIAGONAL_DEG[1] else None


def _from_sink(sink: Stand, stand: Stand, door: Polygon) -> _Room:
    front = sink.box.front
    middle = front.length_mm / 2
    ring = _ring(door)
    ahead = [point for point in ring if front.place(point)[1] > -TOLERANCE_MM] or ring
    near = min(ahead, key=lambda point: abs(front.place(point)[0] - middle))
    places = [front.place(point)[0] - middle for point in ahead]
    room = 0.0 if min(places) <= 0.0 <= max(places) else min(map(abs, places))
    words = f"set diagonally: middle of {sink.thing.called} to the edge of the open door, along its front: {both(room)}"
    return sink.id, room, words, Mark("measure", (front.midpoint, near), both(room))


def _to_right_angle(found: Layout, stand: Stand, door: Polygon) -> _Room | None:
    front = stand.box.front
    reach = max(front.place(point)[1] for point in _ring(door))
    rooms: list[_Room] = []
    for name, face in _faces(found):
        if name == stand.id:
            continue
        turn = angle_between_deg(front.direction, face.direction)
        if abs(abs(turn) - 90.0) > _RIGHT_ANGLE_DEG:
            continue
        ends = [front.place(face.a), front.place(face.b)]
        ahead = (min(a for _, a in ends), max(a for _, a in ends))
        if ahead[1] <= TOLERANCE_MM or ahead[0] >= reach - TOLERANCE_MM:
            continue
        places = [place for place, _ in ends]
        # A face on the left looks to the right, towards the door, and one on the right to the left.
        looks_right = face.outward[0] * front.direction[0] + face.outward[1] * front.direction[1] > 0
        room = -max(places) if looks_right else min(places) - front.length_mm
        if room < -TOLERANCE_MM:
            continue
        edge = 0.0 if looks_right else front.length_mm
        height = min(max(ahead[0], 0.0) + _DRAWN_MM, ahead[1])
        side = "left" if looks_right else "right"
        own, other = called(found.stands, stand.id, name)
        words = f"{side} edge of {own} to {other} at a right angle: {both(max(room, 0.0))}"
        far = edge - room if looks_right else edge + room
        mark = Mark("measure", (front.at(edge, height), front.at(far, height)), both(max(room, 0.0)))
        rooms.append((name, max(room, 0.0), words, mark))
    return min(rooms, key=lambda one: (round(one[1], 3), one[0]), default=None)


def _faces(found: Layout) -> Iterator[tuple[str, Segment]]:
    """Yield the fronts of the runs, and all sides of islands and peninsulas."""
    for run in found.runs:
        yield from ((piece.station_id, piece.front) for piece in run.pieces)
    for top in found.tops:
        if isinstance(top.thing, Island | Peninsula):
            yield from ((top.id, side_of(top.box, side)) for side in ("front", "back", "left", "right"))
