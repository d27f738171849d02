"""The schedules and registers of a house as sheets: numbers as numbers, days as days."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from enfilade.drawings.schedule import cabinet_schedule, opening_schedule
from enfilade.editing.tables.cells import Cells
from enfilade.editing.tables.schedules import SCHEDULES, records_of
from enfilade.export.document import Document
from enfilade.export.office.sheets import Column, Sheet, Value
from enfilade.project.choices import Decision, Finish, Product
from enfilade.project.project import Project
from enfilade.walkthrough.pages import Table

__all__ = ["sheets_of", "typed_sheet"]

_DAY: Final = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_STUDIO_ALONE: Final = frozenset({"note", "may_be_credited"})


def sheets_of(document: Document) -> Iterator[Sheet]:
    """Yield the sheets of a house in the order of the workbook; those without rows are left out."""
    for sheet in _all(document):
        if sheet.rows:
            yield sheet


def _all(document: Document) -> Iterator[Sheet]:
    pages, project = document.pages, document.telling.project
    yield Sheet(
        "Undecided",
        (Column("No.", "number"), Column("What"), Column("Room"), Column("By whom"), Column("By when", "day")),
        tuple((one.number, one.title, one.room, one.by, _day(one.due)) for one in pages.undecided),
    )
    yield _cabinets(document)
    yield _openings(project)
    yield _finishes_by_room(document)
    yield _bought(document, "products", "Products")
    yield _bought(document, "finishes", "Finishes bought")
    yield _bought(document, "furniture", "Furniture")
    yield from (typed_sheet(table, f"Register, {table.title.lower()}") for table in pages.handover.register)
    yield typed_sheet(pages.handover.services)
    yield typed_sheet(pages.handover.points)
    yield _counts(document)
    yield Sheet("To verify", tuple(map(Column, ("What", "Room", "Value", "Assumed"))), pages.to_verify)
    yield _decisions(project)
    yield _needs(document)


def _day(text: str) -> Value:
    try:
        return dt.date.fromisoformat(text) if _DAY.fullmatch(text) else text
    except ValueError:
        return text


def typed_sheet(table: Table, title: str = "") -> Sheet:
    """Return a table of words as a sheet: in a column of days they are days, in one of numbers numbers."""
    columns, cells = [], []
    for n, head in enumerate(table.head):
        column = [row[n] if n < len(row) else "" for row in table.rows]
        said = [text for text in column if text]
        if 2 * sum(map(bool, map(_DAY.fullmatch, said))) > len(said):
            columns.append(Column(head, "day"))
            cells.append([_day(text) for text in column])
        elif said and (n in table.numeric or head == "No.") and all(_number(text) is not None for text in said):
            columns.append(Column(head, "number"))
            cells.append([_number(text) for text in column])
        else:
            columns.append(Column(head))
            cells.append(list(column))
    rows = tuple(tuple(column[n] for column in cells) for n in range(len(table.rows)))
    return Sheet(title or table.title or "Table", tuple(columns), rows, table.note)


def _number(text: str) -> Value:
    plain = text.replace(",", "")
    return Decimal(plain) if re.fullmatch(r"-?[0-9]{1,15}(\.[0-9]{1,6})?", plain) else None


def _cabinets(document: Document) -> Sheet:
    heads = (
        Column("No."), Column("Room"), Column("Cabinet"), Column("Kind"), Column("Width", "length"),
        Column("Depth", "length"), Column("Height", "length"), Column("Above the floor", "length"), Column("Opens"),
        Column("Hinge"), Column("Finished ends"), Column("Fillers"), Column("Finish"), Column("Product"),
        Column("State"), Column("Sizes are"),
    )  # fmt: skip
    rows = tuple(
        (
            row.number, page.name, row.name, row.kind, row.width_mm, row.depth_mm, row.height_mm, row.bottom_mm,
            row.leaves, row.hinge, row.finished_ends, row.fillers, row.finish, row.product, row.state,
            "assumed" if row.assumed else "",
        )
        for page in document.pages.rooms
        for row in cabinet_schedule(document.telling.project, page.id)
    )  # fmt: skip
    return Sheet("Cabinets", heads, rows)


def _openings(project: Project) -> Sheet:
    heads = (
        Column("Opening"), Column("Kind"), Column("Room"), Column("To"), Column("Width", "length"),
        Column("Height", "length"), Column("Sill", "length"), Column("Swing"), Column("State"), Column("Sizes are"),
    )  # fmt: skip
    rows = tuple(
        (
            row.name, row.kind, row.space, row.to, row.width_mm, row.height_mm, row.sill_mm, row.swing, row.state,
            "assumed" if row.assumed else "",
        )
        for row in opening_schedule(project)
    )  # fmt: skip
    return Sheet("Openings", heads, rows)


def _finishes_by_room(document: Document) -> Sheet:
    rows = tuple(
        (page.name, *row)
        for page in document.pages.rooms
        for table in page.schedules
        if table.title == "Finishes"
        for row in table.rows
    )
    return Sheet("Finishes by room", tuple(map(Column, ("Room", "Where", "Finish", "Material"))), rows)


def _bought(document: Document, name: str, title: str) -> Sheet:
    """Return what is bought, its columns read off the records as in the studio's own tables."""
    project, schedule = document.telling.project, SCHEDULES[name]
    cells = Cells(project, schedule)
    left_out = frozenset() if document.telling.audience == "studio" else _STUDIO_ALONE
    kept = [one for one in schedule.columns if one.kind != "id" and one.key not in left_out]
    columns = [
        # Lengths and other figures come in the unit that their head names.
        Column(one.heading, "money")
        if one.kind == "money"
        else Column(
            cells.heading(one), "number" if one.numeric else "day" if one.kind in ("day", "derived") else "text"
        )
        for one in kept
    ]
    records = records_of(project, schedule)
    rows = [[_plain(cells.filed(one, record)) for one in kept] for record in records]
    ordered = next((n for n, one in enumerate(kept) if one.key == "purchase.ordered_price"), None)
    if ordered is not None:
        columns.insert(ordered + 1, Column("Over allowance", "money"))
        for record, row in zip(records, rows, strict=True):
            row.insert(ordered + 1, _over(record))
    return Sheet(title, tuple(columns), tuple(map(tuple, rows)))


def _plain(cell: object) -> Value:
    return cell if cell is None or isinstance(cell, str | int | float | Decimal | dt.date) else str(cell)


def _over(record: Product | Finish) -> Value:
    agreed, allowance = record.purchase.agreed, record.purchase.allowance
    if allowance is None or agreed is None or agreed <= allowance:
        return None
    return agreed - allowance


def _counts(document: Document) -> Sheet:
    """Return what is there and what is asked, room by room: appliances, places, the island, storage."""
    rows = []
    for page in document.pages.rooms:
        for table in page.counts:
            if table.head[:3] == ("What", "There", "Asked"):
                rows += [(page.name, table.title, *(*row, "", "")[:5]) for row in table.rows]
    heads = ("Room", "Count of", "What", "There", "Asked", "By", "How")
    return Sheet("Counts", tuple(map(Column, heads)), tuple(rows))


def _decisions(project: Project) -> Sheet:
    heads = (
        Column("No.", "number"), Column("Decision"), Column("Rooms"), Column("Status"), Column("Chosen"),
        Column("Cost", "money"), Column("Over"), Column("Why"), Column("Changed on site"), Column("By whom"),
        Column("Decided", "day"), Column("Due", "day"), Column("Approved by the client", "day"), Column("Next time"),
    )  # fmt: skip
    names = {space.id: space.name for space in project.spaces}
    ordered = sorted(project.decisions, key=lambda one: one.number)
    return Sheet("Decisions", heads, tuple(_decision(one, names) for one in ordered))


def _decision(one: Decision, names: dict[str, str]) -> tuple[Value, ...]:
    chosen = one.chosen
    others = [
        option.text + (f" Why not: {option.why_not}" if option.why_not else "")
        for option in one.options
        if option.id != one.choice
    ]
    return (
        one.number,
        one.title,
        ", ".join(names.get(id, id) for id in one.spaces) or "whole house",
        one.status,
        chosen.text if chosen else "",
        chosen.cost if chosen else None,
        "\n".join(others),
        one.reason,
        one.changed,
        one.by,
        one.on,
        one.due,
        one.approved_on,
        one.hindsight,
    )


def _needs(document: Document) -> Sheet:
    heads = (Column("No.", "number"), Column("Need"), Column("Answered by decision"))
    rows = tuple((_number(number) or number, text, decided) for number, text, decided in document.pages.needs)
    return Sheet("Needs", heads, rows)
