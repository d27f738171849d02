"""The floor behind people who sit at a counter or table."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from shapely.geometry.base import BaseGeometry

from enfilade.checks.floor import AHEAD_MM, FLOOR_KINDS, footprint, is_obstacle
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.checks.ways import through_length, ways
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment, shared_mm2
from enfilade.geometry.clear_widths import clear_ahead
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import Seat, SeatRow, Surface
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

_SURFACES: Final = ("counter", "island", "peninsula", "table", "desk")
_KITCHENS: Final = {"kitchen", "breakfast"}
# Whoever walks further than this from the edge passes behind a free floor, not behind the chairs: 60 in.
_BEHIND_MM: Final = 1524.0
# What covers less of a row of seats stands beside it, not behind it (our own choice).
_LEAST_MM: Final = 50.0
# Share of a plan from which a thing stands under the surface, not behind its seats (our own choice).
_MOSTLY: Final = 0.5


@dataclass(frozen=True)
class _Seats:
    stand: Stand
    row: SeatRow
    edge: Segment

    def part(self, row: Row) -> str:
        """Return the middle of a finding's id: the rule's part, and which row of seats."""
        return f"{row.part}, {self.row.id}"


@check(reads={*FLOOR_KINDS, "openings"})
def behind_diners(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure from the edge at which people sit straight back to what stands behind them.

    Who passes is as recorded, or read off the shortest walks between the openings of the space. Tables of
    other rooms than the kitchen are held to practice where somebody passes, and to the guideline where nobody does.
    """
    kitchen = view.space.use in _KITCHENS
    tables = [s for s in view.things("table") if isinstance(s.thing, Surface)]
    surfaces = [s for s in view.things(*_SURFACES) if kitchen or s.thing.kind == "table"]
    judged = 0
    for stand in surfaces:
        thing = stand.thing
        if isinstance(thing, Surface):
            for row in thing.seating:
                judged += 1
                yield from _seat_row(view, rules, stand, row)
    for stand in tables:
        if isinstance(stand.thing, Surface) and not stand.thing.seating:
            judged += 1
            yield from _without_seats(view, rules, stand, kitchen)
    if view.space.use == "kitchen" and not judged:
        for unasked in (*rules.rows("K8"), *rules.rows("K8a")):
            yield unasked.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="does not apply",
                working=("Nobody sits at a counter or table of this kitchen.",),
            )


def _without_seats(view: View, rules: Yardstick, stand: Stand, kitchen: bool) -> Iterator[Finding]:
    rule, part = ("K8", "no traffic") if kitchen else ("P3", "edge past")
    if rules.has(rule, part):
        yield rules.row(rule, part).not_assessed(
            space=view.space.id, subjects=(stand.id,), because="missing fact", needs=(f"{stand.id}.seating",)
        )


def _seat_row(view: View, rules: Yardstick, stand: Stand, seat: SeatRow) -> Iterator[Finding]:
    side = side_of(stand.box, seat.side)
    start = min(max(seat.from_left_mm, 0.0), side.length_mm - 1.0)
    end = side.length_mm if seat.length_mm is None else min(side.length_mm, start + seat.length_mm)
    seats = _Seats(stand, seat, side.part(start, max(end, start + 1.0)))
    passing, why = _passing(view, seats)
    practice = view.space.use not in _KITCHENS
    rule, part = _asked(passing, practice)
    if rules.has(rule, part):
        bench = _bench(view, seats)
        if bench is not None:
            asked = rules.row(rule, part)
            yield asked.not_assessed(
                space=view.space.id,
                subjects=(stand.id,),
                part=seats.part(asked),
                because="does not apply",
                working=(f"They sit on {names(view).one(bench)}, which stands behind the edge.",),
            )
            return
        yield _measured(rules.row(rule, part), view, seats, why)
    yield from _wheelchair(view, rules, seats, passing, why)


def _asked(passing: str, practice: bool) -> tuple[str, str]:
    if passing == "none":
        return "K8", "no traffic"
    return ("P3" if practice else "K8"), ("edge past" if passing == "edge past" else "walk past")


def _wheelchair(view: View, rules: Yardstick, seats: _Seats, passing: str, why: str) -> Iterator[Finding]:
    applies = {
        "wheelchair past": passing in ("walk past", "wheelchair"),
        "no traffic": passing == "none" and seats.row.wheelchair,
    }
    reasons = {
        "wheelchair past": "No wheelchair passes behind these seats.",
        "no traffic": "Asked where a wheelchair user sits and nobody passes behind.",
    }
    for part, asked in applies.items():
        if not rules.has("K8a", part):
            continue
        row = rules.row("K8a", part)
        if asked:
            yield _measured(row, view, seats, why)
        else:
            yield row.not_assessed(
                space=view.space.id,
                subjects=(seats.stand.id,),
                part=seats.part(row),
                because="does not apply",
                working=(why, reasons[part]),
            )


def _passing(view: View, seats: _Seats) -> tuple[str, str]:
    if seats.row.passing is not None:
        return seats.row.passing, f"who passes behind is recorded: {seats.row.passing}"
    strip = seats.edge.strip(_BEHIND_MM)
    for way in ways(view):
        if through_length(way, strip) > _LEAST_MM:
            a, b = names(view).of(way.a, way.b)
            return "walk past", f"the shortest walk from “{a}” to “{b}” leads behind these seats"
    return "none", "no shortest walk between two openings leads behind these seats"


def _behind(view: View, seats: _Seats) -> dict[str, BaseGeometry | Segment]:
    """Return what may stand behind the seats: all but the surface itself and what is under it, and walls."""
    own = footprint(seats.stand)
    found: dict[str, BaseGeometry | Segment] = {}
    for stand in view.room_things(*FLOOR_KINDS):
        if stand.id == seats.stand.id or not is_obstacle(stand) or _sits_at(stand, seats):
            continue
        shape = footprint(stand)
        if shared_mm2(shape, own) < _MOSTLY * shape.area:
            found[stand.id] = shape
    return {**found, **view.room_walls}


def _sits_at(stand: Stand, seats: _Seats) -> bool:
    return isinstance(stand.thing, Seat) and stand.thing.at == seats.stand.id


def _bench(view: View, seats: _Seats) -> str | None:
    """Return the bench or sofa of this surface on which these people sit, None when they sit on chairs."""
    strip = seats.edge.strip(305.0)
    for stand in view.room_things("seat"):
        seat = stand.thing
        bench = isinstance(seat, Seat) and seat.what in ("bench", "sofa") and _sits_at(stand, seats)
        if bench and shared_mm2(strip, stand.box.polygon) > 0.25 * strip.area:
            return stand.id
    return None


def _measured(row: Row, view: View, seats: _Seats, why: str) -> Finding:
    behind: Mapping[str, BaseGeometry | Segment] = _behind(view, seats)
    met = clear_ahead(seats.edge, behind, AHEAD_MM)
    middle = seats.edge.midpoint
    place = seats.edge.place(middle)[0]
    free = AHEAD_MM if met is None else met.distance_mm
    line = (middle, seats.edge.at(place, free)) if met is None else (met.edge_point, met.obstacle_point)
    edge, *behind_it = names(view).of(seats.stand.id, *(() if met is None else (met.obstacle_id,)))
    what = f"to {behind_it[0]}, the nearest behind:" if behind_it else "nothing stands nearer than"
    assumed = seats.stand.thing.assumed("width_mm", "depth_mm")
    return row.finding(
        space=view.space.id,
        subjects=(seats.stand.id,),
        part=seats.part(row),
        measured=Quantity(free, "mm"),
        working=(why, f"from the edge of {edge} at which they sit, {what} {both(free)}"),
        marks=(Mark("measure", line, both(free)),),
        assumed=assumed,
    )
