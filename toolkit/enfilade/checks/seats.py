"""Places to sit at counters and tables: width, knee depth, and places for a wheelchair."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from enfilade.checks.beside import does_not_apply
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.errors import OutOfRange
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import SeatRow, Surface, Table
from enfilade.project.thing import KneeSpace
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.seating import KneeRule, knee_rule

__all__ = ["SEATING", "Places", "knee_depth", "places", "ruled_knee", "seat_width", "wheelchair_seat"]

SEATING: Final = ("counter", "island", "peninsula", "table", "desk")
_USES: Final = frozenset({"kitchen", "breakfast", "dining"})
_ON_CABINETS: Final = ("counter", "island", "peninsula")


@dataclass(frozen=True)
class Places:
    """One row of people at one side of a surface, with the edge that is theirs."""

    stand: Stand
    surface: Surface
    row: SeatRow
    edge: Segment
    edge_mm: float
    note: str

    @property
    def subjects(self) -> tuple[str, str]:
        """Return the surface's id and the row's, which is unique on that surface."""
        return (self.stand.id, self.row.id)

    @property
    def each_mm(self) -> float:
        """Return the edge that each person gets, legs deducted [mm]."""
        return max(0.0, self.edge_mm - self.row.legs_mm) / self.row.count

    @property
    def working(self) -> tuple[str, ...]:
        """Return how the width came about."""
        less = f" less {both(self.row.legs_mm)} for legs" if self.row.legs_mm else ""
        return (f"{self.note}: {both(self.edge_mm)}{less}, for {self.row.count}: {both(self.each_mm)} each",)

    @property
    def mark(self) -> Mark:
        """Return the edge, to be drawn."""
        return Mark("measure", (self.edge.a, self.edge.b), both(self.edge_mm))

    @property
    def knee_mm(self) -> float | None:
        """Return the clear knee depth [mm]; None when it is unknown: a table says nothing by its overhang of 0."""
        recorded = self.row.knee_depth_mm
        if recorded == "none":
            return 0.0
        if recorded is not None:
            return float(recorded)
        overhang = self.surface.overhang.on(self.row.side)
        if overhang > 0 or self.surface.kind not in ("table", "desk"):
            return overhang
        return self.surface.knee_space.depth_mm if isinstance(self.surface.knee_space, KneeSpace) else None


def places(stands: list[Stand]) -> list[Places]:
    """Return every row of people at the given surfaces, in the order of the record."""
    return [_places(s, s.thing, row) for s in stands if isinstance(s.thing, Surface) for row in s.thing.seating]


def _places(stand: Stand, surface: Surface, row: SeatRow) -> Places:
    side = side_of(stand.box, row.side)
    if isinstance(surface, Table) and surface.round and row.length_mm is None:
        share = _perimeter_mm(surface.width_mm, surface.depth_mm) / 4
        return Places(stand, surface, row, side, share, "a quarter of the edge of a round table")
    length = row.length_mm if row.length_mm is not None else max(side.length_mm - row.from_left_mm, 1.0)
    edge = side.part(row.from_left_mm, row.from_left_mm + length)
    note = f"edge kept for seats on the {row.side} of {surface.called}"
    return Places(stand, surface, row, edge, length, note)


def _perimeter_mm(width_mm: float, depth_mm: float) -> float:
    """Return the length of an ellipse (Ramanujan's approximation, 1914; exact for circles)."""
    a, b = width_mm / 2, depth_mm / 2
    return math.pi * (3 * (a + b) - math.sqrt((3 * a + b) * (a + 3 * b)))


def ruled_knee(places: Places, rules: Yardstick) -> KneeRule | None:
    """Return the knee-depth row for a surface's height, None where the source gives none."""
    try:
        return knee_rule(places.surface.top_mm, by=rules)
    except OutOfRange:
        return None


@check(reads=SEATING, uses=_USES)
def seat_width(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Divide the edge kept for each row of seats, legs deducted, by the people who sit there.

    The comfortable width of practice is that of a counter, and is not asked of tables.
    """
    found = places(view.things(*SEATING))
    rows = [rules.row(*name) for name in (("K9", "seat width"), ("P1", ""), ("P2", "")) if rules.has(*name)]
    for row in rows:
        if not found and view.space.use == "kitchen":
            yield does_not_apply(view, row, "no seats are recorded here")
        for one in found:
            if words := _asks_no(row, one):
                yield row.not_assessed(
                    space=view.space.id, subjects=one.subjects, because="does not apply", working=(words,)
                )
                continue
            yield row.finding(
                space=view.space.id,
                subjects=one.subjects,
                measured=Quantity(one.each_mm, "mm"),
                working=one.working,
                marks=(one.mark,),
                assumed=_assumed(one),
            )


def _asks_no(row: Row, one: Places) -> str:
    """Return why a width of practice is not asked of these seats; empty when it is."""
    if row.rule == "P2":
        return "" if one.row.arms else "chairs without arms"
    if row.rule == "P1" and one.row.arms:
        return "chairs with arms"
    if row.rule == "P1" and one.surface.kind not in _ON_CABINETS:
        return f"people sit at a {one.surface.kind} here; the figure is for a counter"
    return ""


def _assumed(one: Places) -> tuple[str, ...]:
    return one.surface.assumed("width_mm", "depth_mm", "seating", "overhang", "top_mm")


@check(reads=SEATING, uses=_USES)
def knee_depth(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the clear knee depth of each row of seats against the row of the nearest printed surface height.

    The depth is the recorded one, or the overhang on that side; heights further than 3 in from a printed
    one are left to the source's silence.
    """
    keyed = [row for row in rules.rows("K9") if row.key is not None]
    if len(keyed) < 2:
        return
    found = places(view.things(*SEATING))
    if not found and view.space.use == "kitchen":
        yield from (does_not_apply(view, row, "no seats are recorded here") for row in keyed)
    for one in found:
        ruled = ruled_knee(one, rules)
        height = f"surface at {both(one.surface.top_mm)}"
        if ruled is None:
            near = min(keyed, key=lambda row: abs((row.key_mm or 0.0) - one.surface.top_mm))
            yield near.not_assessed(
                space=view.space.id,
                subjects=one.subjects,
                because="source silent",
                working=(f"{height}: not near a printed height",),
            )
            continue
        words = (height, *((ruled.note,) if ruled.note else ()))
        if one.knee_mm is None:
            needs = (f"{one.stand.id}.seating.{one.row.id}.knee_depth_mm",)
            yield ruled.row.not_assessed(
                space=view.space.id, subjects=one.subjects, because="missing fact", needs=needs, working=words
            )
            continue
        middle = one.edge.midpoint
        inner = one.edge.at(one.edge.length_mm / 2, -one.knee_mm)
        yield ruled.row.finding(
            space=view.space.id,
            subjects=one.subjects,
            measured=Quantity(one.knee_mm, "mm"),
            working=(*words, f"clear knee depth on the {one.row.side}: {both(one.knee_mm)}"),
            marks=(Mark("measure", (middle, inner), both(one.knee_mm)),) if one.knee_mm else (),
            assumed=_assumed(one),
            also=_brackets(one, ruled.row, rules),
        )


def _brackets(one: Places, row: Row, rules: Yardstick) -> tuple[str, ...]:
    """Return what practice says of a stone top over these knees: two rules that meet only with brackets."""
    if one.surface.kind not in _ON_CABINETS or not rules.has("P6"):
        return ()
    free, over_mm = rules.row("P6"), one.surface.overhang.on(one.row.side)
    limit = f"common practice leaves stone 30 mm thick free over at most {both(free.value_mm)}, thinner stone less"
    if over_mm > free.value_mm + TOLERANCE_MM:
        words = f"The top hangs over by {both(over_mm)} here; {limit}: if it is stone, brackets or a panel carry it."
    elif row.value_mm > free.value_mm and not row.requirement.met_by(Quantity(one.knee_mm or 0.0, "mm")):
        words = f"For {row.printed} of knee depth brackets or a panel carry a stone top: {limit}."
    else:
        return ()
    return (f"{words} {free.caution}",)


@check(reads=SEATING, uses=_USES)
def wheelchair_seat(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure height, width and knee space of each row of seats that is kept for a person in a wheelchair."""
    found = [one for one in places(view.things(*SEATING)) if one.row.wheelchair]
    for part in ("surface height", "seat width", "knee depth", "knee width", "knee height"):
        if not rules.has("K9a", part):
            continue
        row = rules.row("K9a", part)
        if not found and view.space.use == "kitchen":
            yield does_not_apply(view, row, "no seat is recorded for a person in a wheelchair")
        for one in found:
            measured = _for_wheelchair(one, part)
            if measured is None:
                need = f"seating.{one.row.id}.knee_depth_mm" if part == "knee depth" else "knee_space"
                yield row.not_assessed(
                    space=view.space.id,
                    subjects=one.subjects,
                    because="missing fact",
                    needs=(f"{one.stand.id}.{need}",),
                )
                continue
            working = one.working if part == "seat width" else (f"{part}: {both(measured)}",)
            yield row.finding(
                space=view.space.id,
                subjects=one.subjects,
                measured=Quantity(measured, "mm"),
                working=working,
                marks=(one.mark,),
                assumed=_assumed(one),
            )


def _for_wheelchair(one: Places, part: str) -> float | None:
    if part == "surface height":
        return one.surface.top_mm
    if part == "seat width":
        return one.each_mm
    if part == "knee depth":
        return one.knee_mm
    knees = one.surface.knee_space
    if knees == "none":
        return 0.0
    if knees is None:
        return None
    return knees.width_mm if part == "knee width" else knees.height_mm
