"""The kitchen guidelines of the 1990s: counter, landings, preparation and seats, beside those of today."""

from __future__ import annotations

import re
from collections.abc import Iterator

from enfilade.checks.behind_seats import behind_diners
from enfilade.checks.beside import lacks
from enfilade.checks.counter import ABOVE_COUNTER, counted_counter
from enfilade.checks.demands import holds_food, within
from enfilade.checks.floor import FLOOR_KINDS
from enfilade.checks.landings import LANDING_KINDS, SIDES, Kitchen, Landing, kitchen
from enfilade.checks.layout import layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment
from enfilade.geometry.counters import counter_stretches
from enfilade.geometry.outlines import area_m2
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.storage import kitchen_size

__all__ = ["older_counter", "older_landing", "older_preparation", "older_seats", "size_then"]

_LANDS = {"refrigerator": "K16", "oven": "K23", "microwave": ""}


def size_then(view: View, rules: Yardstick) -> str:
    """Return the part of a row that holds for the size of a kitchen: the older set knew two sizes."""
    return "small" if kitchen_size(area_m2(view.space.outline), by=rules) == "small" else "larger"


@check(reads={*LANDING_KINDS, *ABOVE_COUNTER}, uses={"kitchen"})
def older_counter(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Add up the counter front from 16 in deep with 15 in clear above it; before an appliance garage too.

    Corners, sinks and cooking surfaces are left out, as for the total of today.
    """
    size = size_then(view, rules)
    if not all(rules.has("KH1", part) for part in (size, "depth", "clear above")):
        return
    row, depth, clear = rules.row("KH1", size), rules.row("KH1", "depth"), rules.row("KH1", "clear above")
    above = view.things(*ABOVE_COUNTER, "appliance garage")
    counted = counted_counter(layout(view), above, depth.value_mm, clear.value_mm)
    yield row.finding(
        space=view.space.id,
        subjects=(view.space.id,),
        measured=Quantity(counted.total_mm, "mm"),
        working=(f"a {size} kitchen; counter counts from {both(depth.value_mm)} deep", *counted.working),
        marks=counted.marks,
        assumed=counted.assumed,
    )


@check(reads=LANDING_KINDS, uses={"kitchen"})
def older_landing(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the longest counter beside, above, below or across from each refrigerator, oven and microwave.

    The older text, as it was read, does not say on which side it lies: the longest is taken, and one across
    as far away as today's guidelines let it be.
    """
    if not (rules.has("KH6", "width") and rules.has("KH6", "depth")):
        return
    found = kitchen(view, rules)
    stands = [stand for stand in view.things(*_LANDS) if holds_food(stand)]
    rows = (rules.row("KH6", "width"), rules.row("KH6", "depth"))
    for row in rows:
        if not stands:
            yield lacks(view, row, "cold", "no refrigerator, oven or microwave is recorded here")
        for stand in stands:
            yield _landing(view, found, stand, row, rows[0].value_mm)


def _landing(view: View, found: Kitchen, stand: Stand, row: Row, asked_mm: float) -> Finding:
    landing = max(_ways(found, stand, asked_mm), key=lambda one: (round(one.length_mm, 3), one.whole_mm))
    enough = landing.length_mm >= asked_mm - TOLERANCE_MM
    deep = [piece.depth_mm for piece in (landing.serving if enough else landing.pieces)]
    depth = min(deep, default=0.0)
    measured = landing.length_mm if row.part == "width" else depth
    return row.finding(
        space=view.space.id,
        subjects=(stand.id,),
        measured=Quantity(measured, "mm"),
        working=landing.working if row.part == "width" else (*landing.working[:1], f"its depth: {both(depth)}"),
        marks=landing.marks,
        assumed=(*stand.thing.assumed("place", "width_mm"), *found.found.assumed_tops()),
    )


def _ways(found: Kitchen, stand: Stand, asked_mm: float) -> Iterator[Landing]:
    yield from (found.beside(stand, side) for side in SIDES)
    if over := found.over(stand):
        yield over
    rule = _LANDS[stand.thing.kind]
    if rule and found.rules.has(rule, "across"):
        yield from within(found, stand, asked_mm, found.rules.row(rule, "across").value_mm)


@check(reads=LANDING_KINDS, uses={"kitchen"})
def older_preparation(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the longest unbroken counter of a kitchen; the older text, as it was read, says no place for it."""
    if not rules.has("KH7"):
        return
    row, found = rules.row("KH7"), kitchen(view, rules)
    longest: Segment | None = None
    for run in found.found.runs:
        for stretch in counter_stretches(run):
            whole = Segment(stretch.pieces[0].front.a, stretch.pieces[-1].front.b)
            for a, b in found.usable(stretch.pieces)[0]:
                start = a - stretch.pieces[0].start_mm
                if longest is None or b - a > longest.length_mm + TOLERANCE_MM:
                    longest = whole.part(start, start + b - a)
    length = 0.0 if longest is None else longest.length_mm
    yield row.finding(
        space=view.space.id,
        subjects=(view.space.id,),
        measured=Quantity(length, "mm"),
        working=(f"longest unbroken counter: {both(length)}",),
        marks=() if longest is None else (Mark("measure", (longest.a, longest.b), both(length)),),
        assumed=found.found.assumed_tops(),
    )


@check(reads={*FLOOR_KINDS, "openings"}, uses={"kitchen"})
def older_seats(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the floor behind seats, as measured for guideline 8, against the older figures.

    Wherever somebody passes, even to edge past, the figure with a walkway is asked: the older set had no third.
    """
    rows = {part: rules.row("KH5", part) for part in ("no traffic", "with walkway") if rules.has("KH5", part)}
    if len(rows) < 2 or not rules.has("K8", "no traffic"):
        return
    for today in behind_diners(view, rules):
        if today.rule != "K8":
            continue
        seats = re.sub(r"^(no-traffic|edge-past|walk-past)-?", "", today.id.split(":")[1])
        row = rows["no traffic" if today.id.startswith("K8:no-traffic") else "with walkway"]
        part = f"{row.part}, {seats}" if seats else ""
        if today.measured is not None:
            yield row.finding(
                space=today.space,
                subjects=today.subjects,
                part=part,
                measured=today.measured,
                working=today.working,
                marks=today.marks,
                assumed=today.assumed,
            )
        elif today.because is not None:
            yield row.not_assessed(
                space=today.space,
                subjects=today.subjects,
                part=part,
                because=today.because,
                needs=today.needs,
                working=today.working,
            )
