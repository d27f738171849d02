"""Storage as the kitchen guidelines of the 1990s counted it: runs of cabinets and drawers, and storage aids."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from enfilade.checks.beside import counted, lacks, point_mark
from enfilade.checks.layout import RUN_KINDS, layout, main_sink
from enfilade.checks.older_set import size_then
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.storage import sink_point
from enfilade.checks.storage_units import STORAGE
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.lengths import TOLERANCE_MM, show_inches
from enfilade.project.standing import Stand
from enfilade.project.storage import Storage
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.storage import share_within

__all__ = ["older_cabinet_runs", "older_drawers", "older_storage_aids", "older_wall_cabinets_near_sink"]

_AIDS: Final = ("turntable", "swing-out", "pull-out")


def _things(stands: Sequence[Stand]) -> list[tuple[Stand, Storage]]:
    return [(stand, stand.thing) for stand in stands if isinstance(stand.thing, Storage)]


def _width(thing: Storage) -> float:
    """Return the front of a cabinet that can be got at [mm]."""
    return min(thing.width_mm, thing.accessible_width_mm or thing.width_mm)


@check(reads={"base cabinet", "wall cabinet"}, uses={"kitchen"})
def older_cabinet_runs(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Add up the widths of base and of wall cabinets; of a blind corner only what can be got at."""
    size = size_then(view, rules)
    for rule, kind in (("KH2", "base cabinet"), ("KH3", "wall cabinet")):
        if not rules.has(rule, size):
            continue
        found = _things(view.things(kind))
        total = sum(_width(thing) for _, thing in found)
        yield rules.row(rule, size).finding(
            space=view.space.id,
            subjects=(view.space.id,),
            measured=Quantity(total, "mm"),
            working=(
                f"a {size} kitchen",
                f"{counted(len(found), kind)} side by side: {both(total)}",
                "tall cabinets, shelves and furniture are not among them",
            ),
            marks=tuple(Mark("measure", (s.box.front.a, s.box.front.b), show_inches(_width(t))) for s, t in found),
            assumed=tuple(name for _, thing in found for name in thing.assumed("width_mm", "accessible_width_mm")),
        )


@check(reads={*RUN_KINDS, "wall cabinet"}, uses={"kitchen"})
def older_wall_cabinets_near_sink(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Add up the wall cabinets 12 in deep and 30 in high within 72 in of the sink's centreline, by the share near it.

    The distance is taken in plan from the sink's centreline at the counter front, as for guideline 28.
    """
    if not all(rules.has("KH3", part) for part in ("near sink", "within", "depth", "height")):
        return
    row, found = rules.row("KH3", "near sink"), layout(view)
    sink = main_sink(found)
    if sink is None:
        yield lacks(view, row, "sink")
        return
    centre, radius_mm = sink_point(found, sink), rules.row("KH3", "within").value_mm
    deep_mm, high_mm = rules.row("KH3", "depth").value_mm, rules.row("KH3", "height").value_mm
    total, lines = 0.0, list[str]()
    for stand, thing in _things(view.things("wall cabinet")):
        share = share_within(stand.box.front.a, stand.box.front.b, centre=centre, radius_mm=radius_mm)
        if share <= 0:
            continue
        if thing.depth_mm < deep_mm - TOLERANCE_MM or thing.top_mm - thing.bottom_mm < high_mm - TOLERANCE_MM:
            high = thing.top_mm - thing.bottom_mm
            lines.append(f"{thing.called} does not count: {both(thing.depth_mm)} deep, {both(high)} high")
            continue
        total += share * _width(thing)
        lines.append(f"{thing.called}: {share:.0%} of {show_inches(_width(thing))}")
    yield row.finding(
        space=view.space.id,
        subjects=(sink.id,),
        measured=Quantity(total, "mm"),
        working=(*lines, f"within {show_inches(radius_mm)} of the sink: {both(total)}"),
        marks=(Mark("point", (centre,), f"{show_inches(radius_mm)} round the sink"),),
        assumed=sink.thing.assumed("place"),
    )


@check(reads=STORAGE, uses={"kitchen"})
def older_drawers(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Add up drawers and roll-outs, each by the width of its unit (our own reading of `drawer frontage`).

    Units of which it is not recorded how many they have make the sum a lower bound, judged only when it is enough.
    """
    size = size_then(view, rules)
    if not rules.has("KH4", size):
        return
    row, found = rules.row("KH4", size), _things(view.things(*STORAGE))
    drawn = [(stand, thing) for stand, thing in found if thing.drawers]
    total = sum(_width(thing) * (thing.drawers or 0) for _, thing in drawn)
    unknown = [thing for _, thing in found if thing.drawers is None and thing.shelves is None]
    working = [f"{t.called}: {t.drawers} x {show_inches(_width(t))}" for _, t in drawn]
    working.append(f"a {size} kitchen; drawers and roll-outs in all: {both(total)}")
    measured = Quantity(total, "mm")
    if unknown and not row.requirement.met_by(measured):
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="missing fact",
            needs=tuple(f"{thing.id}.drawers" for thing in unknown),
            working=working,
        )
        return
    yield row.finding(
        space=view.space.id,
        subjects=(view.space.id,),
        measured=measured,
        working=working,
        marks=point_mark(stand for stand, _ in drawn),
        assumed=tuple(name for _, thing in found for name in thing.assumed("drawers", "width_mm")),
    )


@check(reads=STORAGE, uses={"kitchen"})
def older_storage_aids(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count the storage aids that a record shows within reach; fewer than asked are no shortfall.

    The text that was read does not say what an aid is: corner devices, and racks, dividers and the like are
    counted. Others are not on record, so that the rule is met by enough of these and otherwise not judged.
    """
    if not (rules.has("KH4", "aids") and rules.has("KH4", "reach")):
        return
    row, reach = rules.row("KH4", "aids"), rules.row("KH4", "reach")
    low, high = reach.low_mm - TOLERANCE_MM, reach.high_mm + TOLERANCE_MM
    aids = [
        stand
        for stand, thing in _things(view.things(*STORAGE))
        if (thing.corner in _AIDS or thing.misc) and thing.bottom_mm <= high and thing.top_mm >= low
    ]
    line = f"corner devices, racks and the like between {both(reach.low_mm)} and {both(reach.high_mm)}: {len(aids)}"
    if len(aids) < row.number:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="source silent",
            working=(line, "the source that was read does not say what a storage aid is"),
            marks=point_mark(aids),
        )
        return
    yield row.finding(
        space=view.space.id,
        subjects=(view.space.id,),
        measured=Quantity(len(aids), "count"),
        working=(line,),
        marks=point_mark(aids),
    )
