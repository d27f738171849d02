"""Storage within reach: what is often used, and the share of all shelf space."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from enfilade.checks.beside import inset, point_mark
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.storage_units import STORAGE, Unit, storage_units
from enfilade.checks.view import View
from enfilade.findings import Finding
from enfilade.lengths import TOLERANCE_MM, show_inches
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["counter_depth_below", "often_used_within_reach", "shelf_space_within_reach"]

TOPS: Final = ("counter", "island", "peninsula")


def counter_depth_below(stand: Stand, tops: list[Stand]) -> float | None:
    """Return the depth of the counter that one reaches over to a thing [mm]; None when there is none below it."""
    below = [
        top
        for top in tops
        if top.thing.top_mm <= stand.thing.bottom_mm + TOLERANCE_MM and inset(stand.box).intersects(top.box.polygon)
    ]
    return max((top.box.depth_mm for top in below), default=None)


@check(reads={*STORAGE, *TOPS, "sink"}, uses={"kitchen"})
def often_used_within_reach(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the shelf or drawer of each often used unit that lies furthest out against the reach.

    A shelf and a drawer are taken at their bottom; heights that are not recorded are spread evenly.
    Over a counter 20 to 25 in deep the reach is lower. Over a deeper one the source gives none: what is
    too high over 25 in is too high there too, and the rest is not assessed.
    """
    if not (rules.has("K27a", "reach") and rules.has("K27a", "high reach over counter")):
        return
    plain, over = rules.row("K27a", "reach"), rules.row("K27a", "high reach over counter")
    units = [unit for unit in storage_units(view, rules) if unit.thing.frequently_used]
    if not units:
        yield plain.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("no storage here is recorded as often used",),
        )
    for unit in units:
        depth_mm = counter_depth_below(unit.stand, view.things(*TOPS))
        row = plain if depth_mm is None or _shallow(depth_mm, rules) else over
        yield _reach(view, rules, unit, row, depth_mm)


def _shallow(depth_mm: float, rules: Yardstick) -> bool:
    return depth_mm < rules.row("K27a", "counter depth").low_mm - TOLERANCE_MM


def _reach(view: View, rules: Yardstick, unit: Unit, row: Row, depth_mm: float | None) -> Finding:
    subjects, marks = (unit.stand.id,), point_mark([unit.stand])
    lines = [] if depth_mm is None else [f"over a counter {both(depth_mm)} deep"]
    if not unit.layers:
        missing = bool(unit.needs)
        return row.not_assessed(
            space=view.space.id,
            subjects=subjects,
            because="missing fact" if missing else "does not apply",
            needs=unit.needs,
            working=(*lines, "" if missing else "it has neither shelf nor drawer")[: len(lines) + (not missing)],
            marks=marks,
        )
    heights = [Quantity(layer.height_mm, "mm") for layer in unit.layers]
    within = sum(row.requirement.met_by(height) for height in heights)
    worst = min(heights, key=row.requirement.margin)
    lines.append(f"{within} of {len(heights)} shelves and drawers within reach; furthest out at {both(worst.value)}")
    deepest_mm = rules.row("K27a", "counter depth").high_mm
    if depth_mm is not None and depth_mm > deepest_mm + TOLERANCE_MM and within == len(heights):
        lines.append(f"the source gives no reach over a counter deeper than {show_inches(deepest_mm)}")
        return row.not_assessed(
            space=view.space.id, subjects=subjects, because="source silent", working=lines, marks=marks
        )
    return row.finding(
        space=view.space.id,
        subjects=subjects,
        measured=worst,
        working=lines,
        marks=marks,
        assumed=(*unit.assumed, *unit.thing.assumed("bottom_mm", "top_mm")),
    )


@check(reads={*STORAGE, *TOPS, "sink"}, uses={"kitchen"})
def shelf_space_within_reach(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the share of shelf and drawer frontage within a forward reach against the half that is asked."""
    parts = (("A3082", "low"), ("A3082", "high"), ("A3082b", "over 20 in"), ("A3082b", "over 25 in"), ("A8045", ""))
    if not all(rules.has(rule, part) for rule, part in parts):
        return
    row, units = rules.row("A8045"), storage_units(view, rules)
    here, tops = (view.space.id,), view.things(*TOPS)
    unknown = [unit for unit in units if unit.frontage is None]
    total_mm = sum(layer.frontage_mm for unit in units for layer in unit.layers)
    if unknown or not total_mm:
        yield row.not_assessed(
            space=view.space.id,
            subjects=here,
            because="missing fact" if unknown else "does not apply",
            needs=tuple(need for unit in unknown for need in unit.needs),
            working=() if unknown else ("no shelf or drawer is recorded here",),
        )
        return
    low_mm = rules.row("A3082", "low").value_mm
    within_mm = 0.0
    for unit in units:
        high_mm = _high_mm(counter_depth_below(unit.stand, tops), rules)
        within_mm += sum(
            layer.frontage_mm
            for layer in unit.layers
            if high_mm is not None and low_mm - TOLERANCE_MM <= layer.height_mm <= high_mm + TOLERANCE_MM
        )
    yield row.finding(
        space=view.space.id,
        subjects=here,
        measured=Quantity(round(100 * within_mm / total_mm, 6), "%"),
        working=(f"{show_inches(within_mm)} of {show_inches(total_mm)} of shelf and drawer frontage within reach",),
        assumed=tuple(name for unit in units for name in unit.assumed),
    )


def _high_mm(depth_mm: float | None, rules: Yardstick) -> float | None:
    """Return the highest forward reach [mm], over a counter where there is one; None where it is too deep."""
    if depth_mm is None:
        return rules.row("A3082", "high").value_mm
    for part in ("over 20 in", "over 25 in"):
        row = rules.row("A3082b", part)
        if row.key_mm is not None and depth_mm <= row.key_mm + TOLERANCE_MM:
            return row.value_mm
    return None
