"""The only sink of a kitchen: whether it is beside or across from the cooking surface and the refrigerator."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from enfilade.checks.beside import CENTRES, lacks
from enfilade.checks.floor_before import standing_edge
from enfilade.checks.landings import LANDING_KINDS
from enfilade.checks.layout import Layout, layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment
from enfilade.geometry.clear_widths import clear_width_between
from enfilade.geometry.points import Point, angle_between_deg, distance, dot
from enfilade.geometry.runs import Run
from enfilade.geometry.walks import length_inside
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import Island, Peninsula
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["only_sink"]

_SIDES_OF_ISLAND: Final = ("front", "back", "left", "right")
_OPPOSED_DEG: Final = 1.0
"""Fronts this near to opposed face each other square (our own choice, above what a survey is off by)."""
_TURNED: Final = 0.5 - 1e-9
"""Cosine of 60 degrees, less the noise of turned coordinates: how far off straight ahead still is across (our own
choice; see `only_sink`)."""
_AIR_MM: Final = 1.0
"""A line that lies no longer than this in a body only touches it: noise of turned coordinates."""
_CENTRES: Final = ("sink", "cooking", "cold")


@check(reads=LANDING_KINDS, uses={"kitchen"})
def only_sink(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count to which of the cooking surface and the refrigerator the only sink of a kitchen is beside or across.

    Beside: on the same run with no other centre between. Across: on a front that faces the sink's own,
    straight across or further along it, with no other centre between and nothing in the way. Of an island set
    at a slant: fronts turned towards each other, each within 60 degrees of straight ahead of the other (our own
    reading; the source says no more than `across`).
    """
    if not rules.has("K10"):
        return
    row, found = rules.row("K10"), layout(view)
    sinks, space = [centre.stand for centre in found.centres_of("sink")], view.space.id
    if not sinks:
        yield lacks(view, row, "sink")
        return
    if len(sinks) != 1:
        yield row.not_assessed(
            space=space,
            subjects=(space,),
            because="does not apply",
            working=(f"{len(sinks)} sinks are recorded; the rule is for kitchens with one",),
        )
        return
    others = [(CENTRES["cooking"], found.centres_of("cooking")), (CENTRES["cold"], found.centres_of("cold"))]
    missing = tuple(f"{space}: {what}" for what, centres in others if not centres)
    if missing:
        yield row.not_assessed(space=space, subjects=(sinks[0].id,), because="missing fact", needs=missing)
        return
    near, working, marks = 0, list[str](), list[Mark]()
    for _, centres in others:
        other = centres[0].stand
        words = _relation(found, sinks[0], other)
        near += words is not None
        working.append(f"{other.thing.called}: {words or 'neither beside nor across from the sink'}")
        marks.append(Mark("measure", (sinks[0].box.front.midpoint, other.box.front.midpoint)))
    yield row.finding(
        space=space,
        subjects=(sinks[0].id, *(centres[0].stand.id for _, centres in others)),
        measured=Quantity(near, "count"),
        working=working,
        marks=marks,
    )


def _relation(found: Layout, sink: Stand, other: Stand) -> str | None:
    """Return how another centre stands to the sink, in words; None when neither beside nor across."""
    for run in found.runs:
        for a in run.find(sink.id):
            for b in run.find(other.id):
                if _neighbours(run, a, b):
                    return "beside the sink on its run"
    for width in clear_width_between(list(_fronts(found))):
        if {width.a_id, width.b_id} == {sink.id, other.id}:
            return f"across from the sink, {both(width.width_mm)} away"
    return _further_along(found, sink, other) or _slanting(found, sink, other)


def _slanting(found: Layout, sink: Stand, other: Stand) -> str | None:
    """Return in words how far apart two fronts are that look at each other at a slant; None when they do not."""
    a, b = sink.box.front, other.box.front
    if _opposed(a, b) or dot(a.outward, b.outward) > -_TURNED:
        return None
    edges = [standing_edge(stand, found.tops).midpoint for stand in (sink, other)]
    away_mm = distance(*edges)
    if away_mm <= TOLERANCE_MM:
        return None
    look = ((edges[1][0] - edges[0][0]) / away_mm, (edges[1][1] - edges[0][1]) / away_mm)
    if min(dot(look, a.outward), -dot(look, b.outward)) < _TURNED or _in_the_way(found, sink, other, edges):
        return None
    return f"across from the sink at a slant, {both(away_mm)} from middle to middle"


def _further_along(found: Layout, sink: Stand, other: Stand) -> str | None:
    """Return in words how far along the facing front another centre stands; None when it does not face the sink."""
    own, facing = sink.box.front, other.box.front
    if not _opposed(own, facing) or own.place(facing.midpoint)[1] <= 0 or facing.place(own.midpoint)[1] <= 0:
        return None
    start, end = _extent(own, facing)
    aside = max(start - own.length_mm, -end, 0.0)
    low, high = (own.length_mm, start) if start > 0 else (end, 0.0)
    for centre in found.centres:
        front = centre.stand.box.front
        along, ahead = own.place(front.midpoint)
        if centre.stand.id not in (sink.id, other.id) and _opposed(own, front) and ahead > 0 and low < along < high:
            return None
    edges = [standing_edge(stand, found.tops).midpoint for stand in (sink, other)]
    if _in_the_way(found, sink, other, edges):
        return None
    return f"on the front that faces the sink, {both(aside)} further along"


def _in_the_way(found: Layout, sink: Stand, other: Stand, edges: Sequence[Point]) -> bool:
    hosts = {host.id for stand in (sink, other) if (host := found.host_of(stand)) is not None}
    bodies = [
        stand.box.polygon
        for stand in found.stands.values()
        if stand.id not in (sink.id, other.id, *hosts) and (stand in found.tops or not found.covered(stand))
    ]
    return length_inside(edges[0], edges[1], bodies) > _AIR_MM


def _opposed(a: Segment, b: Segment) -> bool:
    return abs(abs(angle_between_deg(a.direction, b.direction)) - 180.0) <= _OPPOSED_DEG


def _extent(line: Segment, front: Segment) -> tuple[float, float]:
    """Return between which places along a line another front lies [mm]."""
    first, last = sorted((line.place(front.a)[0], line.place(front.b)[0]))
    return first, last


def _fronts(found: Layout) -> Iterator[tuple[str, Segment]]:
    """Yield what can face a sink or stand between: the pieces of the runs, and the other sides of islands."""
    for run in found.runs:
        yield from ((piece.station_id, piece.front) for piece in run.pieces)
    for stand in found.tops:
        if isinstance(stand.thing, Island | Peninsula):
            others = (side for side in _SIDES_OF_ISLAND if side not in stand.thing.working_sides)
            yield from ((stand.id, side_of(stand.box, side)) for side in others)


def _neighbours(run: Run, a: int, b: int) -> bool:
    """Tell whether no other centre stands between two pieces of a run, one way or the other."""
    first, last = sorted((a, b))
    ways = [run.pieces[first + 1 : last]]
    if run.closed:
        ways.append((*run.pieces[last + 1 :], *run.pieces[:first]))
    return any(not any(piece.role in _CENTRES for piece in way) for way in ways)
