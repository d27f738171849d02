"""Schedules and lists, as tables of strings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from enfilade.checks.sentences import field_words
from enfilade.drawings.schedule import cabinet_schedule, opening_schedule
from enfilade.lengths import System, show_length, show_size
from enfilade.listing import listed
from enfilade.project.amounts import money_words
from enfilade.project.choices import Finish, Product
from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.walkthrough.pages import Row, Table

__all__ = ["assumed_values", "care_table", "each_once", "finish_table", "product_table", "remarks", "room_tables"]


def room_tables(project: Project, space: str) -> tuple[Table, ...]:
    """Return a room's schedules: cabinets, openings, finishes."""
    tables = (_cabinets(project, space), _openings(project, space), _surfaces(project, space))
    return tuple(table for table in tables if table.rows)


def _cabinets(project: Project, space: str) -> Table:
    system = project.show.units
    rows = tuple(
        (
            row.number,
            row.name,
            *(show_length(size, system) for size in (row.width_mm, row.depth_mm, row.height_mm)),
            row.hinge,
            row.finished_ends,
            row.fillers,
            row.finish,
        )
        for row in cabinet_schedule(project, space)
    )
    head = ("No.", "Cabinet", "Width", "Depth", "Height", "Hinge", "Finished ends", "Fillers", "Finish")
    return Table("Cabinets", head, rows, numeric=(2, 3, 4))


def _openings(project: Project, space: str) -> Table:
    system = project.show.units
    rows = tuple(
        (
            row.name,
            row.kind,
            show_length(row.width_mm, system),
            show_length(row.height_mm, system),
            row.swing,
            row.state,
        )
        for row in opening_schedule(project, space)
    )
    return Table("Openings", ("Opening", "Kind", "Width", "Height", "Swing", "State"), rows, numeric=(2, 3))


def _surfaces(project: Project, space_id: str) -> Table:
    space = project.space(space_id)
    names = {finish.id: finish for finish in project.finishes}
    rows: list[Row] = []

    def add(what: str, finish: str | None) -> None:
        if finish in names:
            rows.append((what, names[finish].name, names[finish].material))

    add("Floor", space.floor_finish)
    add("Ceiling", space.ceiling_finish)
    for wall in space.walls:
        add((wall.name or wall.id).capitalize(), wall.finish)
    by_finish: dict[str, list[str]] = {}
    for thing in project.things:
        if thing.space == space_id and thing.finish and thing.state != "removed":
            by_finish.setdefault(thing.finish, []).append(thing.called)
    for finish, called in by_finish.items():
        add(each_once(called), finish)
    return Table("Finishes", ("Where", "Finish", "Material"), tuple(rows))


def remarks(project: Project, space_id: str) -> tuple[Row, ...]:
    """Return what is remarked of the things and openings of a room: name and sentence."""
    walls = {wall.id for wall in project.space(space_id).walls}
    openings = [one for one in project.openings if one.remark and walls & {one.wall, one.beyond}]
    things = [one for one in project.things if one.remark and one.space == space_id and one.state != "removed"]
    named = [(one.name or one.kind, one.remark) for one in openings]
    return tuple(named + [(one.called, one.remark) for one in things])


def care_table(project: Project) -> Table:
    """Return how products and finishes are cared for, as far as it is recorded."""
    products = tuple((one.name, one.care) for one in project.products if one.care)
    finishes = tuple((one.name, one.care) for one in project.finishes if one.care)
    return Table("Care", ("What", "How"), products + finishes)


def each_once(names: Sequence[str], most: int = 6) -> str:
    """Return names as one text, each once; the first few where they are many."""
    return listed(list(dict.fromkeys(names)), most)


def product_table(project: Project, audience: Audience) -> Table:
    """Return what is bought: prices against allowance, and the last day to order."""
    return _bought("Products", project, project.products, audience)


def finish_table(project: Project, audience: Audience) -> Table:
    """Return the finishes, likewise."""
    return _bought("Finishes", project, project.finishes, audience)


def _bought(
    title: str, project: Project, records: tuple[Product, ...] | tuple[Finish, ...], audience: Audience
) -> Table:
    currency = project.show.currency
    if audience not in ("client", "studio"):
        return Table(title, ("What",), tuple((record.name,) for record in records))
    rows = []
    over = 0
    for record in records:
        bought = record.purchase
        agreed, allowance = bought.agreed, bought.allowance
        by = agreed - allowance if allowance is not None and agreed is not None else Decimal(0)
        over += by > 0
        unit = bought.quantity_unit.removesuffix("s") if bought.quantity == 1 else bought.quantity_unit
        amount = f"{bought.quantity:g} {unit}".strip() if bought.quantity else ""
        rows.append(
            (
                record.name,
                record.maker,
                amount,
                money_words(bought.allowance, currency),
                money_words(bought.quote, currency),
                money_words(bought.ordered_price, currency),
                money_words(by, currency) if by > 0 else "",
                f"{bought.lead_time_days} days" if bought.lead_time_days is not None else "",
                bought.needed_on_site.isoformat() if bought.needed_on_site else "",
                bought.order_by.isoformat() if bought.order_by else "",
            )
        )
    head = (
        "What", "Maker", "Quantity", "Allowance", "Quoted", "Ordered", "Over by", "Lead time", "Needed on site",
        "Order by",
    )  # fmt: skip
    note = f"{over} over allowance." if over else ""
    return Table(title, head, tuple(rows), numeric=(3, 4, 5, 6), note=note)


def assumed_values(project: Project) -> tuple[Row, ...]:
    """Return every value that rests on an assumption: what, in which room, which value, and what was assumed."""
    return tuple(_assumed(project))


def _assumed(project: Project) -> Iterator[Row]:
    system = project.show.units
    rooms = {space.id: space.name for space in project.spaces}
    walls = {wall.id: space.name for space in project.spaces for wall in space.walls}
    for space in project.spaces:
        if space.basis == "assumed":
            yield space.name, space.name, "outline and ceiling", "as drawn"
        if space.measured_to == "framing" and space.lining_basis == "assumed":
            lining = show_size(space.lining_mm, system)
            yield space.name, space.name, "lining taken off the framing", lining
    for opening in project.openings:
        if opening.basis == "assumed":
            size = f"{show_length(opening.width_mm, system)} x {show_length(opening.height_mm, system)}"
            yield opening.name or opening.kind, walls.get(opening.wall, ""), "size and place", size
    for thing in project.things:
        if thing.state == "removed":
            continue
        if thing.basis == "assumed":
            sizes = (thing.width_mm, thing.depth_mm, thing.top_mm - thing.bottom_mm)
            size = " x ".join(show_length(size, system) for size in sizes)
            yield thing.called, rooms.get(thing.space, ""), "width x depth x height", size
        for field, basis in thing.bases.items():
            if basis == "assumed":
                yield (
                    thing.called,
                    rooms.get(thing.space, ""),
                    field_words(field),
                    _value(getattr(thing, field), field, system),
                )


def _value(value: object, field: str, system: System) -> str:
    if isinstance(value, float) and field.endswith("_mm"):
        return show_length(value, system)
    return "unknown" if value is None else str(value)
