"""The counts of a room as tables to read: islands, appliances and storage beside the household."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from enfilade.checks.count_records import Asked, Counted, IslandCount, StorageCount, Volume
from enfilade.checks.counts import counts
from enfilade.checks.floor import AHEAD_MM
from enfilade.checks.shown import Names
from enfilade.checks.view import House
from enfilade.lengths import System, show_size
from enfilade.project.project import Project
from enfilade.quantities import Quantity, show_quantity
from enfilade.standards.yardsticks import Yardstick
from enfilade.walkthrough.pages import Row, Table

__all__ = ["count_tables"]

_NOTHING: Final = "\u2013"
"""Stands in a column of figures where no source asks anything."""


def count_tables(project: Project | House, space_id: str, rules: Yardstick | None = None) -> tuple[Table, ...]:
    """Return the counts of one room as tables to read, in the units that the project shows; none when it has none."""
    house = project if isinstance(project, House) else House(project)
    project = house.project
    found, system = counts(house, space_id, rules), project.show.units
    names = {thing.id: thing.called for thing in project.things}
    names |= {wall.id: wall.name or "a wall" for space in project.spaces for wall in space.walls}
    tables = [_island_table(island, names, system) for island in found.islands]
    if found.appliances:
        note = "A dash: no published source says how many a household needs."
        head = ("What", "There", "Asked", "By", "How")
        rows = tuple(row for one in found.appliances for row in _counted_rows(one, system))
        tables.append(Table("Appliances and places beside the household", head, rows, (1, 2), note))
    if found.storage is not None:
        tables += _storage_tables(found.storage, names, system, with_runs=bool(found.appliances))
    return tuple(tables)


def _island_table(island: IslandCount, names: dict[str, str], system: System) -> Table:
    rows: list[Row] = []
    for seat in island.seats:
        there = f"{seat.count} seats, {show_size(seat.edge_mm, system)} of edge"
        rows.append((f"{seat.side}: seats", there, f"room for {seat.fits}", seat.asked.source.label))
    for side in island.sides:
        clear = "joined" if side.what == "joined" else f"over {show_size(AHEAD_MM, system)}"
        if side.clear_mm is not None:
            clear = f"{show_size(side.clear_mm, system)} to {names.get(side.to or '', side.to or '')}"
        rows.append((f"{side.side}: {side.what}", clear, _range(side.asked, system), _labels(side.asked)))
    size = f"{show_size(island.length_mm, system)} by {show_size(island.width_mm, system)}"
    rows.insert(0, ("Size of the top", size, _each(island.asked, system), _labels(island.asked)))
    return Table(f"{island.name.capitalize()}: size, seats and floor around it", ("What", "There", "Asked", "By"),
                      tuple(rows))  # fmt: skip


def _counted_rows(one: Counted, system: System) -> list[Row]:
    there = "not recorded" if one.there is None else show_quantity(one.there, system)
    note = "; ".join(one.working)
    if not one.asked:
        return [(one.name, there, _NOTHING, "", note)]
    # Two machines of one size ask the same: told once.
    asked = dict.fromkeys((_range((one,), system), one.source.label, one.what) for one in one.asked)
    return [(one.name if i == 0 else "", there if i == 0 else "", *row) for i, row in enumerate(asked)]


def _storage_tables(storage: StorageCount, names: dict[str, str], system: System, *, with_runs: bool) -> list[Table]:
    def rows(volumes: Iterable[Volume]) -> tuple[Row, ...]:
        return tuple(
            (
                v.name,
                show_quantity(Quantity(v.litres, "l"), system),
                show_size(v.shelves_mm, system),
                show_size(v.drawers_mm, system),
            )
            for v in volumes
        )

    without = ", ".join(Names(names).of(*storage.unknown))
    unknown = f" Without shelves and drawers on record: {without}." if without else ""
    head = ("Volume", "Shelves", "Drawers")
    note = storage.method + unknown
    tables = [
        Table("Storage by what it keeps", ("Zone", *head), rows(storage.zones), (1, 2, 3), note),
        Table("Storage by reach", ("Height above the floor", *head), rows(storage.reach), (1, 2, 3), note),
    ]
    if with_runs:
        runs = tuple(row for one in storage.runs for row in _counted_rows(one, system))
        tables.append(Table("Storage beside the household", ("What", "There", "Asked", "By", "How"), runs, (1, 2)))
    return tables


def _range(asked: Iterable[Asked], system: System) -> str:
    figures = [q for one in asked for q in (one.low, one.high)]
    if not figures:
        return _NOTHING
    unit = figures[0].unit
    low, high = (pick(q.to(unit).value for q in figures) for pick in (min, max))
    shown = show_quantity(Quantity(low, unit), system)
    shown = shown if low == high else f"{shown} to {show_quantity(Quantity(high, unit), system)}"
    return f"{shown} ({low:,.0f} mm)" if unit == "mm" and low == high and system == "us" else shown


def _each(asked: Iterable[Asked], system: System) -> str:
    return " by ".join(show_quantity(one.low, system) for one in asked) or _NOTHING


def _labels(asked: Iterable[Asked]) -> str:
    return ", ".join(dict.fromkeys(one.source.label for one in asked))
