"""Schedules of what is bought and of openings: tables that are typed into, and brought in and out as files."""

from __future__ import annotations

import base64
import re
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.effects import last_effect
from enfilade.capture.schedule_view import View, columns_seen, new_path, plain_table, put_view, rows_seen, view_of
from enfilade.capture.sight import Sight, number_of, text_of
from enfilade.capture.table_look import begin_look, counted, end_look, plain_look, put_look, take_look
from enfilade.capture.uploads import PIECE_BYTES, Uploads
from enfilade.editing.quoting import quoted
from enfilade.editing.tables.grids import LARGEST_BYTES, Grid, GridRow
from enfilade.editing.tables.importing import preview, taken
from enfilade.editing.tables.pasting import grid_of_block
from enfilade.editing.tables.schedules import SCHEDULES, Schedule, schedule_named
from enfilade.editing.tables.table_files import grid_of_file, schedule_csv, schedule_workbook
from enfilade.errors import BadRecord, Fault, Refused

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "schedules"
_LONGEST_BLOCK: Final = 2_000_000
_MOST_LEFT_OUT: Final = 5000
_UPLOADS: Final = "schedule uploads"
_TYPES: Final = {
    "csv": "text/csv;charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the schedule that is looked at, the table that is looked at before it is taken, and the last effect."""
    return plain_table(desk, sight) | {
        "look": plain_look(desk, sight),
        "effect": last_effect(desk, sight),
        "piece": PIECE_BYTES,
        "largest": LARGEST_BYTES,
        "largest_words": f"{LARGEST_BYTES // 1_048_576} MB",
    }


def _show(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Look at another schedule, page, or selection of its rows."""
    view = view_of(sight)
    if (
        "schedule" in message
        and (name := schedule_named(text_of(message, "schedule", longest=40)).name) != view.schedule
    ):
        put_view(sight, schedule=name, words="", page=0)
    if "filter" in message:
        put_view(sight, words=text_of(message, "filter", longest=400), page=0)
    if "page" in message:
        put_view(sight, page=int(number_of(message, "page")))
    if "every" in message:
        put_view(sight, every=message["every"] is True)
    return _place(desk, sight, view_of(sight))


def _place(desk: Desk, sight: Sight, view: View) -> str:
    count = len(rows_seen(desk, sight))
    title = schedule_named(view.schedule).title
    return f"{title}: {count} {'row' if count == 1 else 'rows'}"


def _paste(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Look at a pasted block; `row` and `key` say in which cell it was pasted."""
    schedule = _schedule(message)
    text = text_of(message, "text", longest=_LONGEST_BLOCK)
    keys, ids = [column.key for column in columns_seen(sight)], [one.id for one in rows_seen(desk, sight)]
    row, key = message.get("row"), message.get("key")
    if view_of(sight).schedule == schedule.name and isinstance(key, str) and key in keys and row in ids:
        keys, ids = keys[keys.index(key) :], ids[ids.index(row) :]
    else:
        keys, ids = [], []
    grid = grid_of_block(desk.project, schedule, text, keys, ids)
    return f"{schedule.title}: {counted(begin_look(desk, sight, 'what was pasted', schedule.name, grid))}"


def _file(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Look at a file, whose pieces come one after the other."""
    schedule, name = _schedule(message), text_of(message, "name", longest=400)
    uploads = sight.kept.setdefault(_UPLOADS, Uploads(LARGEST_BYTES))
    data = uploads.taken(message)
    if data is None:
        return ""
    found = begin_look(desk, sight, name, schedule.name, grid_of_file(data, schedule))
    return f"{schedule.title}: {counted(found)}"


def _turn(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Look at another page of the table, or at what its empty cells would clear."""
    if "clear" in message:
        return counted(put_look(desk, sight, clear=message["clear"] is True).preview)
    put_look(desk, sight, page=int(number_of(message, "page")))
    return ""


def _take(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    without = message.get("without", [])
    good = isinstance(without, list) and len(without) <= _MOST_LEFT_OUT
    if not good or not all(isinstance(one, int) for one in without):
        raise Refused("the page sent no rows", do="load the page again")
    try:
        project, words = take_look(desk, sight, without)
    except BadRecord as error:
        raise Refused("these rows do not fit into the house together", do="choose fewer of them") from error
    desk.change(words, project)
    end_look(sight)
    return words[:1].upper() + words[1:]


def _leave(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    end_look(sight)
    return "Left; nothing was changed"


def _add(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Add a row of what was typed for it."""
    schedule = _schedule(message)
    values = message.get("values")
    if not isinstance(values, dict) or not all(isinstance(one, str) for one in values.values()):
        raise Refused("the page sent no row", do="load the page again")
    columns = [schedule.column(key) for key in values if isinstance(key, str)]
    cells = tuple(str(values[column.key]) for column in columns)
    grid = Grid(tuple(column.heading for column in columns), (GridRow(1, cells),))
    found = preview(desk.project, schedule, Grid((*grid.headings, "Id"), grid.rows))
    row = found.rows[0]
    if row.what in ("changed", "unchanged"):
        raise Refused(f"one is called \u201c{row.name}\u201d already", expected="another name")
    if row.refusals:
        keys = {column.heading: column.key for column in schedule.columns}
        raise BadRecord(
            "project", [Fault(keys.get(one.heading, ""), f"{one.heading} {one.what}".strip(), one.expected)
                        for one in row.refusals]
        )  # fmt: skip
    desk.change(f"added {row.name}", taken(desk.project, found))
    for column in schedule.columns:
        desk.drafts.drop(new_path(schedule, column))
    put_view(sight, words="", page=10**6)
    return {"say": f"{row.name} added", "id": row.id}


def _export(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return a schedule, or all of them, as a file."""
    kind, every = text_of(message, "as", longest=10), message.get("every") is True
    if kind not in _TYPES:
        raise Refused(f"a file of the kind {quoted(kind)}", expected="csv or xlsx")
    schedule = _schedule(message)
    wanted = list(SCHEDULES.values()) if every and kind == "xlsx" else [schedule]
    data = schedule_csv(desk.project, schedule) if kind == "csv" else schedule_workbook(desk.project, wanted)
    about = re.sub(r"[^\w -]", "", desk.project.name).strip()[:60] or "house"
    name = f"{about}, {'schedules' if len(wanted) > 1 else schedule.title.lower()}.{kind}"
    return {"say": f"{name} is on its way", "name": name, "type": _TYPES[kind],
            "base64": base64.b64encode(data).decode("ascii")}  # fmt: skip


def _schedule(message: dict[str, Any]) -> Schedule:
    return schedule_named(text_of(message, "schedule", longest=40))


HANDLERS: Final = {
    "schedule show": _show,
    "schedule paste": _paste,
    "schedule file": _file,
    "schedule turn": _turn,
    "schedule take": _take,
    "schedule leave": _leave,
    "schedule add": _add,
    "schedule export": _export,
}
