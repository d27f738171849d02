"""Storage counted: volume by what it keeps and by reach, with the frontage of its shelves and drawers beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, get_args

from enfilade.checks.beside import point_mark
from enfilade.checks.count_records import Asked, Counted, StorageCount, Volume, asked_by
from enfilade.checks.household_size import household_size
from enfilade.checks.registry import check
from enfilade.checks.storage_units import STORAGE, Unit, storage_units
from enfilade.checks.view import View
from enfilade.findings import Finding, Requirement
from enfilade.geometry.boxes import shared_mm2
from enfilade.lengths import show_inches
from enfilade.project.standing import Stand
from enfilade.project.storage import Storage
from enfilade.quantities import Quantity, convert
from enfilade.standards.yardsticks import Yardstick, yardstick
from enfilade.trade.household import cabinet_runs
from enfilade.trade.storage import volume_l

__all__ = ["INSIDE", "storage_count", "storage_for_household"]

INSIDE: Final = ("sink", "oven", "microwave", "refrigerator", "dishwasher", "cooktop", "waste")
"""Kinds that take their place out of a cabinet in which they stand."""

_METHOD: Final = (
    "Outer width, depth and height of each unit, less what is built into it; cases, doors and toe space are not taken "
    "off."
)
_NOT_SAID: Final = "not recorded"
_OTHER: Final = "other things"


@check(reads={*STORAGE, *INSIDE, "household"}, uses={"kitchen"})
def storage_for_household(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold cabinet runs and shelf area of a kitchen against what old studies give a household of this size.

    A run is the sum of widths of base or of wall cabinets. Shelf area is frontage in inches divided by
    12. The studies are retold and disagree with the guidelines' frontage, which is judged by itself.
    """
    size = household_size(view, rules)
    people = size.people
    parts = (("Q5", _group(people, "base")), ("Q5", _group(people, "wall")), ("Q16", "per person"))
    counts = _runs(view, rules)
    for (rule, part), count in zip(parts, counts, strict=True):
        if not rules.has(rule, part):
            continue
        row = rules.row(rule, part)
        if people is None or count.there is None or not count.asked:
            needs = count.needs if people is not None else ("household.people", *count.needs)
            yield row.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="missing fact",
                needs=needs,
                working=count.working,
            )
            continue
        asked = count.asked[0]
        yield row.finding(
            space=view.space.id,
            subjects=(view.space.id,),
            measured=count.there,
            required=Requirement("at least", asked.low.value, asked.low.unit),
            title="Shelf area for the household" if rule == "Q16" else None,
            working=(*size.working, *count.working, *asked.working),
            assumed=size.assumed,
            marks=point_mark(stand for stand in view.things(*STORAGE) if stand.id in count.subjects),
        )


def storage_count(view: View, rules: Yardstick) -> StorageCount | None:
    """Return the storage of a space by zone and by reach; None when it has none.

    Args:
        view: Reads STORAGE, INSIDE and `household`.
        rules: Where what is asked comes from; the bands of reach are those of the access parts.
    """
    units = storage_units(view, rules)
    if not units:
        return None
    inside = view.things(*INSIDE)
    words = [*get_args(get_args(Storage.model_fields["keeps"].annotation)[0]), _NOT_SAID]
    zones = {word: [0.0, 0.0, 0.0] for word in words}
    bands = _bands()
    reach = {name: [0.0, 0.0, 0.0] for name, _, _ in bands}
    for unit in units:
        zone = zones[unit.thing.keeps or _NOT_SAID]
        for name, low_mm, high_mm in bands:
            litres = _litres(unit, inside, low_mm, high_mm)
            zone[0] += litres
            reach[name][0] += litres
        for layer in unit.layers:
            name = next(name for name, low, high in bands if low <= layer.height_mm <= high)
            for total in (zone, reach[name]):
                total[1 if layer.what == "shelf" else 2] += layer.frontage_mm
    return StorageCount(
        zones=tuple(_volume(_OTHER if name == "other" else name, zones[name]) for name in words if any(zones[name])),
        reach=tuple(_volume(name, reach[name]) for name, _, _ in bands),
        runs=_runs(view, rules),
        unknown=tuple(unit.stand.id for unit in units if unit.frontage is None),
        method=_METHOD,
    )


def _volume(name: str, figures: Sequence[float]) -> Volume:
    litres, shelves, drawers = (round(figure, 6) for figure in figures)
    return Volume(name, litres, shelves, drawers)


def _bands() -> tuple[tuple[str, float, float], ...]:
    """Return the bands of height: name, from, to [mm]. The reach is that of the access parts in any yardstick."""
    access = yardstick("us-access")
    reach, high = access.row("K27a", "reach"), access.row("K27c")
    low_in, top_in, high_in = f"{reach.low:g} in", f"{reach.high:g} in", f"{high.number:g} in"
    return (
        (f"below {low_in}", -1.0, reach.low_mm - 1e-6),
        (f"{low_in} to {top_in}, within reach", reach.low_mm - 1e-6, reach.high_mm + 1e-6),
        (f"{top_in} to {high_in}", reach.high_mm + 1e-6, high.value_mm - 1e-6),
        (f"above {high_in}", high.value_mm - 1e-6, float("inf")),
    )


def _litres(unit: Unit, inside: Sequence[Stand], low_mm: float, high_mm: float) -> float:
    """Return the volume of a unit between two heights [l], less what is built into it."""
    thing = unit.thing
    bottom, top = max(thing.bottom_mm, low_mm), min(thing.top_mm, high_mm)
    if top - bottom < 1e-3:
        return 0.0
    width_mm = min(thing.width_mm, thing.accessible_width_mm or thing.width_mm)
    litres = volume_l(width_mm, thing.depth_mm, top - bottom)
    shape = unit.stand.box.polygon
    for other in inside:
        height_mm = min(other.thing.top_mm, top) - max(other.thing.bottom_mm, bottom)
        if height_mm > 0:
            litres -= shared_mm2(shape, other.box.polygon) * height_mm / 1e6
    return max(0.0, litres)


def _group(people: int | None, kind: str) -> str:
    return f"{'three or more' if people is not None and people > 2 else 'two people'}, {kind}"


def _runs(view: View, rules: Yardstick) -> tuple[Counted, Counted, Counted]:
    """Return the runs of base and of wall cabinets, and the shelf area, beside what the studies give."""
    people, units = household_size(view, rules).people, storage_units(view, rules)
    asked = cabinet_runs(people, by=rules) if people is not None and rules.has("Q5", _group(people, "base")) else None
    found = []
    for index, kind in enumerate(("base", "wall")):
        chosen = [unit for unit in units if unit.thing.kind == f"{kind} cabinet"]
        total = sum(unit.thing.width_mm for unit in chosen)
        line = f"{kind} cabinets side by side: {show_inches(total)} ({total:.0f} mm)"
        want: tuple[Asked, ...] = ()
        if asked is not None:
            estimate = asked[index]
            want = (asked_by(rules.row("Q5", _group(people, kind)), low=estimate.value, working=estimate.working),)
        ids = tuple(unit.stand.id for unit in chosen)
        found.append(Counted(f"{kind.title()} cabinet run", Quantity(total, "mm"), want, (line,), (), ids))
    return found[0], found[1], _shelf_area(units, people, rules)


def _shelf_area(units: Sequence[Unit], people: int | None, rules: Yardstick) -> Counted:
    needs = tuple(need for unit in units for need in unit.needs)
    total_mm = sum(unit.frontage.total_mm for unit in units if unit.frontage is not None)
    # Frontage counts each foot of depth once, so that 12 in of it are a square foot of shelf.
    area = Quantity(round(convert(total_mm, "mm", "in") / 12, 6), "sq ft")
    line = f"shelf and drawer frontage {show_inches(total_mm)} / 12 = {area.value:.1f} sq ft"
    want: tuple[Asked, ...] = ()
    if people is not None and rules.has("Q16", "per person") and rules.has("Q16", "guests and stock"):
        each, more = rules.row("Q16", "per person"), rules.row("Q16", "guests and stock")
        value = people * each.number + more.number
        working = f"{people} x {each.printed} + {more.printed} for guests and stock = {value:g} sq ft"
        want = (asked_by(each, "Shelf area for the household", low=value, working=(working,)),)
    there = None if needs else area
    return Counted("Shelf area", there, want, (line,), needs, tuple(unit.stand.id for unit in units))
