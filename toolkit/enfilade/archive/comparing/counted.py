"""Things, seats, appliances and storage side by side, as they are counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from enfilade.archive.comparing.columns import Column
from enfilade.archive.comparing.rooms import NOTHING
from enfilade.checks.counts import counts
from enfilade.checks.view import House
from enfilade.lengths import System
from enfilade.project.project import Project
from enfilade.project.things import KINDS
from enfilade.quantities import Quantity, show_quantity
from enfilade.walkthrough.pages import Table

__all__ = ["count_tables", "kinds_counted", "seats_counted"]


def count_tables(columns: Sequence[Column]) -> tuple[Table, ...]:
    """Return how many things of each kind there are, and seats, appliances and storage."""
    units = columns[0].project.show.units
    heads = tuple(column.head for column in columns)
    kinds = [kinds_counted(column.project) for column in columns]
    rows = [
        (kind.capitalize(), *(str(one[kind]) if one[kind] else NOTHING for one in kinds))
        for kind in KINDS
        if any(one[kind] for one in kinds)
    ]
    numeric = tuple(range(1, len(columns) + 1))
    note = "What is to be removed is not counted."
    things = Table("What stands there", ("Kind", *heads), tuple(rows), numeric, note)
    figures = [_figures(column, units) for column in columns]
    names = dict.fromkeys(name for one in figures for name in one)
    more = tuple((name, *(one.get(name, NOTHING) for one in figures)) for name in names)
    note = "Seats are people at counters, islands and tables on record. Storage is the volume of its units as recorded."
    return things, Table("Seats, appliances and storage", ("What", *heads), more, numeric, note)


def kinds_counted(project: Project) -> Counter[str]:
    """Return how many things of each kind there are, without those that are to be removed."""
    return Counter(thing.kind for thing in project.things if thing.state != "removed")


def seats_counted(project: Project) -> Counter[str]:
    """Return how many people are seated, by the kind of what they sit at."""
    seats: Counter[str] = Counter()
    for thing in project.things:
        if thing.state != "removed":
            seats[thing.kind] += sum(row.count for row in getattr(thing, "seating", ()))
    return +seats


def _figures(column: Column, units: System) -> dict[str, str]:
    seats = seats_counted(column.project)
    found = {f"Seats at {kind}s" if kind != "desk" else "Seats at desks": str(n) for kind, n in sorted(seats.items())}
    if seats:
        found["Seats in all"] = str(seats.total())
    house = House(column.project)
    litres: Counter[str] = Counter()
    for space in column.project.spaces:
        room = counts(house, space.id, column.state.rules)
        for one in room.appliances:
            found[one.name] = show_quantity(one.there, units) if one.there is not None else "not recorded"
        if room.storage is not None:
            litres[space.use] += room.storage.litres  # type: ignore[assignment] # a Counter adds any number
    for use, volume in litres.items():
        found[f"Storage, {use}"] = show_quantity(Quantity(float(volume), "l"), units)
    if litres:
        found["Storage in all"] = show_quantity(Quantity(float(sum(litres.values())), "l"), units)
    return found
