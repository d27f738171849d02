"""A schedule as a page shows it: the columns and rows that are looked at, each cell as it is typed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.editing.forms.field_shape import Shape
from enfilade.editing.forms.shown import unit_words
from enfilade.editing.tables.cells import Cells
from enfilade.editing.tables.schedules import SCHEDULES, Column, Schedule, records_of, schedule_named
from enfilade.project.fields import Record

__all__ = ["ON_A_PAGE", "View", "plain_table", "put_view", "rows_seen", "view_of"]

ON_A_PAGE: Final = 100
"""Rows on one page; a table with fewer has neither pages nor a filter."""
_MOST_CHOICES: Final = 1500
"""Names offered in all cells of a column; beyond them they are offered once for the table, and typed into a cell."""
_KEPT: Final = "schedule"


@dataclass(frozen=True)
class View:
    """What a page looks at: which schedule, rows that hold which words, which page of them, and all columns or few."""

    schedule: str = "products"
    words: str = ""
    page: int = 0
    every: bool = False


def view_of(sight: Sight) -> View:
    """Return what a page looks at now."""
    view = sight.kept.get(_KEPT)
    return view if isinstance(view, View) else View()


def put_view(sight: Sight, **changes: Any) -> View:
    """Look at something else."""
    sight.kept[_KEPT] = view = replace(view_of(sight), **changes)
    return view


def rows_seen(desk: Desk, sight: Sight) -> list[Any]:
    """Return the records that hold the words that are looked for, on whatever page."""
    schedule, words = schedule_named(view_of(sight).schedule), view_of(sight).words.casefold().split()
    records = list(records_of(desk.project, schedule))
    if not words:
        return records
    cells = Cells(desk.project, schedule)
    columns = [column for column in schedule.columns if column.kind in ("text", "choice", "tag", "ref", "day")]
    return [one for one in records if _holds(cells, columns, one, words)]


def _holds(cells: Cells, columns: list[Column], record: Record, words: list[str]) -> bool:
    text = " ".join(cells.words(column, record) for column in columns).casefold()
    return all(word in text for word in words)


def columns_seen(sight: Sight) -> list[Column]:
    """Return the columns that are looked at."""
    view = view_of(sight)
    columns = schedule_named(view.schedule).columns
    return [column for column in columns if column.kind != "id" and (view.every or column.brief)]


def plain_table(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the table as plain data: `names` of the schedules, `columns`, `rows`, `choices`, and where one stands."""
    view, project = view_of(sight), desk.project
    schedule = schedule_named(view.schedule)
    cells = Cells(project, schedule)
    seen = rows_seen(desk, sight)
    pages = max(1, -(-len(seen) // ON_A_PAGE))
    page = min(max(view.page, 0), pages - 1)
    columns = columns_seen(sight)
    shown = seen[page * ON_A_PAGE : (page + 1) * ON_A_PAGE]
    total = len(records_of(project, schedule))
    return {
        "names": [{"name": one.name, "title": one.title, "count": len(records_of(project, one))}
                  for one in SCHEDULES.values()],
        "schedule": schedule.name,
        "list": schedule.list,
        "title": schedule.title,
        "one": schedule.one,
        "columns": [_column(cells, column) for column in columns],
        "more": len(schedule.columns) - 1 - len(columns),
        "every": view.every,
        "rows": [_row(desk, cells, columns, record) for record in shown],
        "choices": _choices(cells, [*columns, *_asked(schedule)], len(shown)),
        "filter": view.words,
        "long": total >= ON_A_PAGE,
        "page": page,
        "pages": pages,
        "seen": len(seen),
        "total": total,
        "adding": _adding(desk, cells, schedule),
    }  # fmt: skip


def _column(cells: Cells, column: Column) -> dict[str, Any]:
    shape = next(iter(column.shapes.values()), None)
    unit = unit_words(column.field, shape, cells.system) if shape is not None else ""
    return {
        "key": column.key,
        "heading": column.heading,
        "help": column.help,
        "kind": column.kind,
        "numeric": column.numeric,
        "editable": column.editable,
        "path": list(column.path),
        "target": column.target,
        "unit": cells.unit(column) if column.kind == "money" else unit,
        "words": _words(shape) if shape is not None else None,
    }


def _words(shape: Shape) -> list[str] | None:
    """Return the words that a cell is chosen among, the empty one where it may be unknown; None where it is typed."""
    if shape.kind not in ("choice", "yes-no"):
        return None
    words = list(shape.words) if shape.kind == "choice" else ["yes", "no"]
    return [*([""] if shape.unknown else []), *words, *(["none"] if shape.none else [])]


def _row(desk: Desk, cells: Cells, columns: list[Column], record: Any) -> dict[str, Any]:
    path = (cells.schedule.list, record.id)
    return {
        "id": record.id,
        "title": cells.title(record),
        "cells": [_cell(desk, cells, column, record, (*path, *column.path)) for column in columns],
    }


def _cell(desk: Desk, cells: Cells, column: Column, record: Any, path: tuple[str, ...]) -> dict[str, Any] | None:
    """Return a cell: `typed`, and `draft` and `error` where something was typed that cannot be taken; None: no such."""
    if not column.editable:
        return {"typed": cells.words(column, record)}
    shape = column.shape(type(record))
    if shape is None or cells.closed(column, record):
        return None
    cell: dict[str, Any] = {"typed": cells.typed(column, record)}
    if column.target and cell["typed"]:
        cell["label"] = cells.words(column, record)
    if shape.kind != column.kind and (words := _words(shape)) is not None:
        cell["words"] = words
    if (draft := desk.drafts.get(path)) is not None and isinstance(draft.typed, str):
        cell |= {"draft": draft.typed, "error": draft.error}
    return cell


def _choices(cells: Cells, columns: list[Column], rows: int) -> dict[str, Any]:
    """Return what the cells of columns are chosen among, by the list that they lead to."""
    told: dict[str, Any] = {}
    for target in dict.fromkeys(column.target for column in columns if column.target):
        labels = cells.labels(target)
        told[target] = {"options": list(labels.items()), "listed": len(labels) * rows > _MOST_CHOICES}
    return told


def _asked(schedule: Schedule) -> list[Column]:
    """Return what is asked of a new row: what a record must have and nothing can be assumed of."""
    return [
        column
        for column in schedule.columns
        if column.key in ("name", "kind", "space", "wall", "offset_mm", "opening")
    ]  # fmt: skip


def _adding(desk: Desk, cells: Cells, schedule: Schedule) -> list[dict[str, Any]]:
    asked = []
    for column in _asked(schedule):
        draft = desk.drafts.get(new_path(schedule, column))
        field = _column(cells, column)
        if column.kind == "tag":
            field["words"] = list(schedule.kinds)
        elif column.kind == "choice":
            field["words"] = list(next(iter(column.shapes.values())).words)
        elif len(column.shapes) < len(schedule.classes):
            field["only"] = [kind for kind, one in schedule.kinds.items() if one in column.shapes]
        asked.append(field | {"draft": draft.typed if draft is not None and isinstance(draft.typed, str) else ""})
    return asked


def new_path(schedule: Schedule, column: Column) -> tuple[str, ...]:
    """Return where what is typed of a new row is kept until it is added."""
    return ("schedules", schedule.name, "new", column.key)
