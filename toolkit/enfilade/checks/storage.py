"""Shelf and drawer frontage of a kitchen, in all and near the sink, and devices in its corners."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final, get_args

import shapely

from enfilade.checks.beside import counted, lacks, point_mark
from enfilade.checks.layout import RUN_KINDS, Layout, layout, main_sink
from enfilade.checks.registry import check
from enfilade.checks.shown import names
from enfilade.checks.storage_units import STORAGE, Group, Unit, storage_units
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark, Point
from enfilade.geometry.outlines import area_m2
from enfilade.lengths import inches, show_inches
from enfilade.project.standing import Stand
from enfilade.project.storage import BaseCabinet, Storage
from enfilade.quantities import Quantity, convert
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.storage import (
    KitchenSize,
    frontage_needed,
    kitchen_size,
    other_storage_counted,
    share_within,
    split_of_frontage,
)

__all__ = ["corner_devices", "frontage_near_sink", "sink_point", "split_of_total", "total_frontage"]

_READS: Final = {*STORAGE, *RUN_KINDS}
_CORNER_MM: Final = inches(3)
"""A cabinet this near to where the fronts of two runs meet stands in the corner: a filler between (our own choice)."""
# Rooms under about 2.5 by 2.5 m, for which Kitchen guideline 28 is out of reach; see its row.
_TOO_SMALL_M2: Final = 6.25


@check(reads={*STORAGE, "sink"}, uses={"kitchen"})
def total_frontage(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Add up shelf and drawer frontage and hold it against what a kitchen of this floor area is asked.

    Boxes count with their nominal depth; what is misc, furniture or above 84 in only up to its share.
    Units of which neither shelves nor drawers are recorded are left out: the total is then a lower
    bound, and judged only when it is already enough.
    """
    size = kitchen_size(area_m2(view.space.outline), by=rules)
    if not rules.has("K27", size):
        return
    row, units = rules.row("K27", size), storage_units(view, rules)
    unknown = [unit for unit in units if unit.frontage is None]
    parts = _parts(units)
    misc_mm = other_storage_counted(parts["misc"], size, by=rules)
    total_mm = _total_mm(parts, misc_mm)
    working = [
        _size_line(view, size),
        *(f"{group} {show_inches(length)}" for group, length in parts.items() if group != "misc"),
        f"other storage {show_inches(parts['misc'])}, of which {show_inches(misc_mm)} counts",
        f"in all {show_inches(total_mm)}",
    ]
    also = [_split_line(parts, size, rules)]
    yield _bounded(view, row, (view.space.id,), total_mm, unknown, working, also, units)


@check(reads={*STORAGE, "sink"}, uses={"kitchen"})
def split_of_total(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold each group's frontage against the usual split, where the total falls short.

    The split is guidance: it is not asked as long as the total holds.
    """
    size = kitchen_size(area_m2(view.space.outline), by=rules)
    if not rules.has("K27", size):
        return
    units = storage_units(view, rules)
    parts, unknown = _parts(units), [unit for unit in units if unit.frontage is None]
    total_mm = _total_mm(parts, other_storage_counted(parts["misc"], size, by=rules))
    enough = rules.row("K27", size).requirement.met_by(Quantity(total_mm, "mm"))
    for group, length_mm in parts.items():
        if group == "misc" or not rules.has("K27b", f"{size} {group}"):
            continue
        row = rules.row("K27b", f"{size} {group}")
        working = [_size_line(view, size), f"{group} {show_inches(length_mm)}"]
        if enough:
            yield row.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="does not apply",
                working=(*working, "the split is not asked as long as the total holds"),
            )
        else:
            yield _bounded(view, row, (view.space.id,), length_mm, unknown, working, [], units)


@check(reads=_READS, uses={"kitchen"})
def frontage_near_sink(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Add up the frontage within 72 in of the main sink, unit by unit, by the share of its front that is near.

    The distance is taken in plan from the sink's centreline at the counter front.
    """
    size = kitchen_size(area_m2(view.space.outline), by=rules)
    if not rules.has("K28", size):
        return
    row, found = frontage_needed(size, by=rules)[1], layout(view)
    sink = main_sink(found)
    if sink is None:
        yield lacks(view, row, "sink")
        return
    centre, radius_mm = sink_point(found, sink), rules.row("K28", "within").value_mm
    near_mm, other_mm, working, reached = 0.0, 0.0, [], []
    unknown = []
    units = storage_units(view, rules)
    ids = [unit.stand.id for unit in units]
    called = dict(zip(ids, names(view).of(*ids), strict=True))
    for unit in units:
        front = unit.stand.box.front
        share = share_within(front.a, front.b, centre=centre, radius_mm=radius_mm)
        if share <= 0:
            continue
        reached.append(unit)
        if unit.frontage is None:
            unknown.append(unit)
            continue
        other_mm += share * unit.in_group("misc")
        near_mm += share * (unit.frontage.total_mm - unit.in_group("misc"))
        working.append(f"{called[unit.stand.id]}: {share:.0%} of {show_inches(unit.frontage.total_mm)}")
    near_mm += other_storage_counted(other_mm, size, by=rules)
    working.append(f"within {show_inches(radius_mm)} of the sink: {show_inches(near_mm)}")
    also = []
    if area_m2(view.space.outline) < _TOO_SMALL_M2:
        also.append("This room is smaller than about 2.5 by 2.5 m: the figure is out of reach here rather than missed.")
    circle = Mark("point", (centre,), f"{show_inches(radius_mm)} round the sink")
    yield _bounded(view, row, (sink.id,), near_mm, unknown, working, also, reached, circle)


@check(reads=_READS, uses={"kitchen"})
def corner_devices(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count corner cabinets with a device; a kitchen without corner cabinets is not judged.

    A cabinet at an inside corner of the counters of which it is not recorded how its corner is used
    may be one.
    """
    if not rules.has("K29"):
        return
    row, stands = rules.row("K29"), view.things(*STORAGE)
    corners = [s for s in stands if isinstance(s.thing, Storage) and s.thing.corner not in (None, "none")]
    devices = [s for s in corners if isinstance(s.thing, Storage) and s.thing.corner != "blind"]
    unknown = list(_at_corners(layout(view), stands))
    here = (view.space.id,)
    if unknown and not devices:
        needs = tuple(f"{stand.id}.corner" for stand in unknown)
        yield row.not_assessed(
            space=view.space.id, subjects=here, because="missing fact", needs=needs, marks=point_mark(unknown)
        )
    elif not corners:
        yield row.not_assessed(
            space=view.space.id,
            subjects=here,
            because="does not apply",
            working=("no corner cabinet is recorded here",),
        )
    else:
        yield row.finding(
            space=view.space.id,
            subjects=here,
            measured=Quantity(len(devices), "count"),
            working=(f"{counted(len(corners), 'corner cabinet')}, {len(devices)} with a device",),
            marks=point_mark(corners),
        )


def sink_point(found: Layout, sink: Stand) -> Point:
    """Return the centreline of a sink at the front of the counter that it is set in."""
    host = found.host_of(sink)
    if host is None:
        return sink.box.front.midpoint
    edge = min(
        (host.box.front, host.box.back, host.box.left, host.box.right),
        key=lambda side: shapely.Point(sink.box.front.midpoint).distance(side.line),
    )
    return edge.at(edge.place((sink.box.x, sink.box.y))[0])


def _parts(units: Iterable[Unit]) -> dict[Group, float]:
    units = list(units)
    return {group: sum(unit.in_group(group) for unit in units) for group in get_args(Group)}


def _total_mm(parts: dict[Group, float], misc_mm: float) -> float:
    return sum(parts.values()) - parts["misc"] + misc_mm


def _size_line(view: View, size: str) -> str:
    floor = area_m2(view.space.outline)
    return f"floor {convert(floor, 'm2', 'sq ft'):.1f} sq ft ({floor:.2f} m²): a {size} kitchen"


def _split_line(parts: dict[Group, float], size: KitchenSize, rules: Yardstick) -> str:
    usual = split_of_frontage(size, by=rules)
    shown = ", ".join(f"{group} {show_inches(usual[group])} (here {show_inches(parts[group])})" for group in parts)
    return f"A usual split, for guidance only: {shown}."


def _bounded(
    view: View,
    row: Row,
    subjects: tuple[str, ...],
    total_mm: float,
    unknown: Sequence[Unit],
    working: list[str],
    also: list[str],
    units: Sequence[Unit],
    *marks: Mark,
) -> Finding:
    """Return the finding of a total that may be a lower bound."""
    measured = Quantity(total_mm, "mm")
    if unknown:
        listed = names(view).listed(unit.stand.id for unit in unknown)
        working = [*working, f"a lower bound: shelves and drawers of {listed} are not recorded"]
    if unknown and not row.requirement.met_by(measured):
        return row.not_assessed(
            space=view.space.id,
            subjects=subjects,
            because="missing fact",
            needs=tuple(need for unit in unknown for need in unit.needs),
            working=working,
            also=also,
            marks=marks,
        )
    return row.finding(
        space=view.space.id,
        subjects=subjects,
        measured=measured,
        working=working,
        also=also,
        marks=marks,
        assumed=tuple(name for unit in units for name in unit.assumed),
    )


def _at_corners(found: Layout, stands: Sequence[Stand]) -> Iterator[Stand]:
    """Yield base cabinets at an inside corner of the counters, where no cabinet's corner is recorded."""
    bases = [(s, s.thing) for s in stands if isinstance(s.thing, BaseCabinet)]
    seen: set[str] = set()
    for point in (shapely.Point(p.front.b) for run in found.runs for p in run.pieces if p.corner_after):
        near = [(stand, thing) for stand, thing in bases if stand.box.polygon.distance(point) <= _CORNER_MM]
        if any(thing.corner not in (None, "none") for _, thing in near):
            continue
        for stand, thing in near:
            if thing.corner is None and stand.id not in seen:
                seen.add(stand.id)
                yield stand
