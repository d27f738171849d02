"""A stranger's table brought into a schedule: looked at row by row first, and taken only as far as a person says."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final, Literal

from enfilade.editing.forms.offers import names_of_records
from enfilade.editing.forms.refusals import plain_words
from enfilade.editing.tables.cells import Cells
from enfilade.editing.tables.grids import Grid
from enfilade.editing.tables.headings import matched
from enfilade.editing.tables.imported_rows import RowDraft, RowReader, with_values
from enfilade.editing.tables.schedules import Schedule, records_of, schedule_named
from enfilade.errors import BadRecord, Fault, Refused
from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["Change", "Preview", "Refusal", "RowPreview", "preview", "taken"]

What = Literal["new", "changed", "unchanged", "refused"]

_MOST_ROUNDS: Final = 60
"""How often the house is put together anew while rows that do not fit into it are set aside."""


@dataclass(frozen=True, slots=True)
class Change:
    """One cell that would change: what is read there now, and what would be."""

    heading: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Refusal:
    """One cell that cannot be taken: its heading (empty for the row), what stands there, why, and what was expected."""

    heading: str
    typed: str
    what: str
    expected: str


@dataclass(frozen=True, slots=True)
class RowPreview:
    """What one row would do.

    Attributes:
        number: Its number in the file.
        what: `new`, `changed`, `unchanged` or `refused`; of a refused row nothing is taken.
        name: What people call its record.
        id: Of the record that it changes, or that it would be.
        changes: Cells that would change.
        refusals: Why it is refused.
        values: What is written, by the names that lead to each field; of a new record, all of it.
    """

    number: int
    what: What
    name: str
    id: str
    changes: tuple[Change, ...] = ()
    refusals: tuple[Refusal, ...] = ()
    values: Mapping[tuple[str, ...], Any] = field(default_factory=dict)
    record: Record | None = None


@dataclass(frozen=True, slots=True)
class Preview:
    """What a table would do to a schedule. Nothing is written by making it.

    Attributes:
        schedule: Name of the schedule.
        rows: Every row of the table, in its order.
        read: Headings that are read, as they stand in the table.
        unread: Headings that are not, each with the reason.
        notes: What else a person should know of how it was read.
    """

    schedule: str
    rows: tuple[RowPreview, ...]
    read: tuple[str, ...]
    unread: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]

    def counted(self, what: What) -> int:
        """Return how many rows are of one sort."""
        return sum(row.what == what for row in self.rows)


def preview(project: Project, schedule: Schedule, grid: Grid, *, clear: bool = False) -> Preview:
    """Return what a table would do to a schedule, row by row.

    A row is about the record whose id it bears, else the one whose name it bears, else a new one.

    Args:
        project: The house.
        schedule: The table that is read into.
        grid: The table as it was read.
        clear: Empty cells clear what is recorded; otherwise they leave it.
    Raises:
        Refused: None of its headings is understood.
    """
    headings = matched(schedule, grid.headings, project.show.currency)
    if not any(heading.column is not None for heading in headings):
        known = ", ".join(column.heading for column in schedule.columns[:8])
        raise Refused("none of the headings is understood", expected=f"a first row with headings such as {known}")
    cells = Cells(project, schedule)
    reader = RowReader(cells, headings, grid.rows, clear=clear)
    rows = [_row(cells, reader.draft(row)) for row in grid.rows]
    return Preview(
        schedule.name,
        tuple(_fitting(project, schedule, rows)),
        tuple(heading.text for heading in headings if heading.column is not None),
        tuple((heading.text or f"column {i}", heading.why) for i, heading in enumerate(headings, 1) if heading.why),
        grid.notes,
    )


def _row(cells: Cells, draft: RowDraft) -> RowPreview:
    """Return a row as it stands by itself: whether its record can be."""
    refusals = [Refusal(*one) for one in draft.refusals]
    if refusals:
        return RowPreview(draft.number, "refused", draft.name, draft.id, refusals=tuple(refusals))
    try:
        after = draft.made()
    except BadRecord as error:
        told = _refusals(cells, error)
        return RowPreview(draft.number, "refused", draft.name, draft.id, refusals=told)
    before = draft.record
    changes = tuple(
        Change(column.heading, cells.words(column, before) if before is not None else "", cells.words(column, after))
        for column in draft.columns
        if before is None or column.value(before) != column.value(after)
    )
    if before is None:
        assumed = tuple(
            Change(f"{column.heading}, assumed", "", cells.words(column, after))
            for column in cells.schedule.columns
            if column.kind == "length" and column.path in draft.values and column not in draft.columns
        )
        return RowPreview(draft.number, "new", draft.name, draft.id, changes + assumed, record=after)
    if after is before:
        return RowPreview(draft.number, "unchanged", draft.name, draft.id)
    return RowPreview(draft.number, "changed", draft.name, draft.id, changes, (), draft.values, after)


def _refusals(cells: Cells, error: BadRecord) -> tuple[Refusal, ...]:
    """Return what the records say against a row, at the columns that they say it of."""
    headings = {column.path: column.heading for column in cells.schedule.columns}
    told: list[Refusal] = []
    for fault in error.faults:
        steps = tuple(fault.place.split("/"))
        heading = next((words for path, words in headings.items() if steps[-1:] == path[-1:]), "")
        what, expected = (plain_words(words, cells.project) for words in (fault.what, fault.expected))
        told.append(Refusal(heading, "", what, expected))
    return tuple(told)


def _fitting(project: Project, schedule: Schedule, rows: list[RowPreview]) -> list[RowPreview]:
    """Refuse the rows that would not fit into the house together with the others."""
    cells = Cells(project, schedule)
    for _ in range(_MOST_ROUNDS):
        wanted = [row for row in rows if row.record is not None]
        try:
            if wanted:
                _with_rows(project, schedule, wanted)
            return rows
        except BadRecord as error:
            rows = _without_the_clashing(cells, rows, error)
    return rows


def _without_the_clashing(cells: Cells, rows: list[RowPreview], error: BadRecord) -> list[RowPreview]:
    by_id: dict[str, list[Fault]] = {}
    for fault in error.faults:
        steps = fault.place.split("/")
        by_id.setdefault(steps[1] if len(steps) > 1 and steps[0] == cells.schedule.list else "", []).append(fault)
    named = {row.id for row in rows if row.record is not None} & by_id.keys()
    # A clash that is told at a record that stands is one of the rows' doing, and it is not known which.
    everyone = () if named else tuple(error.faults)
    return [
        _refused(cells, row, faults)
        if row.record is not None and (faults := everyone or by_id.get(row.id, ()))
        else row
        for row in rows
    ]  # fmt: skip


def _refused(cells: Cells, row: RowPreview, faults: Sequence[Fault]) -> RowPreview:
    names = names_of_records(cells.project)
    told = []
    for fault in faults:
        about = fault.place.split("/")[1:2]
        other = f"{names[about[0]]}: " if about and about[0] != row.id and about[0] in names else ""
        told.append(Fault(fault.place, f"{other}{fault.what}", fault.expected))
    refusals = _refusals(cells, BadRecord(cells.schedule.list, told))
    return RowPreview(row.number, "refused", row.name, row.id, refusals=refusals)


def taken(project: Project, preview: Preview, rows: Collection[int] | None = None) -> Project:
    """Return the project with the rows of a preview that a person chose.

    Args:
        project: The house, which may have changed since the preview was made: only cells that the preview told are
            written.
        preview: What the table would do.
        rows: Numbers of the rows to take; None for all. Refused rows stay out.
    Returns:
        The project; the same one when nothing is taken.
    Raises:
        Refused: A record is gone that a row would change.
        BadRecord: The rows do not fit into the house as it is now.
    """
    schedule = schedule_named(preview.schedule)
    wanted = [row for row in preview.rows if row.record is not None and (rows is None or row.number in rows)]
    return _with_rows(project, schedule, wanted) if wanted else project


def _with_rows(project: Project, schedule: Schedule, rows: Sequence[RowPreview]) -> Project:
    records = list(getattr(project, schedule.list))
    places = {one.id: place for place, one in enumerate(records)}
    shown = {one.id for one in records_of(project, schedule)}
    for row in rows:
        if row.what == "new":
            if row.id in places:
                raise Refused(f"\u201c{row.name}\u201d has been added since", do="look at the table again")
            records.append(row.record)
        elif row.id not in shown:
            raise Refused(f"\u201c{row.name}\u201d is not there any more", do="look at the table again")
        else:
            records[places[row.id]] = with_values(records[places[row.id]], dict(row.values))
    return project.with_records(**{schedule.list: records})
