"""Costs side by side, in all and by area."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from enfilade.archive.comparing.columns import Column
from enfilade.archive.comparing.rooms import NOTHING, USES, house_area_m2
from enfilade.checks.budget import Budget, Line, budget, over_words
from enfilade.lengths import System
from enfilade.project.amounts import money_words
from enfilade.project.project import Project
from enfilade.quantities import convert
from enfilade.walkthrough.pages import Table

__all__ = ["cost_table", "per_area"]

_HEADS = ("Set aside", "Quoted", "Ordered", "To be expected")


def cost_table(columns: Sequence[Column]) -> Table:
    """Return what is set aside, quoted and ordered, what is to be expected, and what that is by area."""
    units = columns[0].project.show.units
    each = [_figures(column.project, budget(column.project), units) for column in columns]
    names = dict.fromkeys(name for one in each for name in one)
    order = sorted(names, key=_place)
    rows = tuple((name, *(one.get(name) or NOTHING for one in each)) for name in order)
    note = (
        "Prices of products and finishes as recorded; of each, what is ordered is to be expected, else what was "
        "quoted, else what is set aside. Wages and what has no price are not in it. Against what is set aside "
        "count only the products and finishes that have an allowance: of the others nothing was set aside."
    )
    rows = rows if any(cell != NOTHING for row in rows for cell in row[1:]) else ()
    return Table("Costs", ("Cost", *(column.head for column in columns)), rows, tuple(range(1, len(columns) + 1)), note)


def per_area(expected: Decimal, area_m2: float, currency: str, units: System) -> str:
    """Write a cost by floor area: `EUR 1,250 a square metre`; empty where either is nothing."""
    if not expected or area_m2 <= 0:
        return ""
    area = convert(area_m2, "m2", "sq ft") if units == "us" else area_m2
    each = (expected / Decimal(str(area))).quantize(Decimal(1))
    return f"{money_words(each, currency)} {'a square foot' if units == 'us' else 'a square metre'}"


def _figures(project: Project, costs: Budget, units: System) -> dict[str, str]:
    total, currency = costs.total, costs.currency
    sums = (total.allowance, total.quoted, total.ordered, total.expected)
    found = {name: money_words(amount, currency) if amount else "" for name, amount in zip(_HEADS, sums, strict=True)}
    found["To be expected, of what has an allowance"] = (
        money_words(total.against, currency) if total.over is not None and total.against else ""
    )
    found["Against what is set aside"] = over_words(total.over, currency)
    found["By area, whole house"] = per_area(total.expected, house_area_m2(project), currency, units)
    for use, lines in _by_use(project, costs).items():
        expected = sum((line.expected for line in lines), Decimal(0))
        found[f"{use.capitalize()}: to be expected"] = money_words(expected, currency) if expected else ""
        found[f"{use.capitalize()}: by area"] = per_area(expected, house_area_m2(project, use), currency, units)
    for line in costs.lines:
        if not line.room and line.expected:
            found[f"{line.name}: to be expected"] = money_words(line.expected, currency)
    found["Without a price"] = str(total.unpriced) if total.unpriced else ""
    return found


def _by_use(project: Project, costs: Budget) -> dict[str, list[Line]]:
    uses: dict[str, str] = {space.id: space.use for space in project.spaces}
    found: dict[str, list[Line]] = {}
    for line in costs.lines:
        if line.room in uses:
            found.setdefault(uses[line.room], []).append(line)
    return found


def _place(name: str) -> tuple[int, int]:
    head = name.partition(":")[0]
    if head == name:
        return (2 if name == "Without a price" else 0), 0
    return 1, next((place for place, use in enumerate(USES) if use.capitalize() == head), len(USES))
