"""Rows of a stranger's table: which record each is about, and what it would write there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from pydantic import ValidationError

from enfilade.editing.forms.field_shape import field_shapes
from enfilade.editing.forms.paths import with_fields
from enfilade.editing.ids import new_id
from enfilade.editing.tables.cells import Cells, plain_text
from enfilade.editing.tables.grids import Cell, GridRow, Unreadable
from enfilade.editing.tables.headings import HEIGHT, Heading
from enfilade.editing.tables.imported_cells import CellReader
from enfilade.editing.tables.new_records import filled_in
from enfilade.editing.tables.schedules import Column, records_of
from enfilade.errors import BadRecord, EnfiladeError
from enfilade.project.faults import faults_of
from enfilade.project.fields import Record

__all__ = ["RowDraft", "RowReader", "with_values"]

_SHOWN: Final = 60

Values = dict[tuple[str, ...], Any]


@dataclass(slots=True)
class RowDraft:
    """A row that is being read.

    Attributes:
        record: That it is about; None for a new one.
        kind: Class of its record.
        height: From its bottom to its top [mm], where the table says that in place of the top.
        values: What it writes, by the names that lead to each field.
        columns: That it says something new in.
        refusals: Heading, what stands there, why it cannot be taken, what was expected.
    """

    number: int
    record: Record | None = None
    kind: type[Record] | None = None
    id: str = ""
    name: str = ""
    height: float | None = None
    values: Values = field(default_factory=dict)
    columns: list[Column] = field(default_factory=list)
    refusals: list[tuple[str, str, str, str]] = field(default_factory=list)

    def refuse(self, heading: str, cell: Cell, what: str, expected: str = "") -> None:
        """Note why a cell, or the row, cannot be taken."""
        self.refusals.append((heading, plain_text(cell)[:_SHOWN], what, expected))

    def made(self) -> Record:
        """Return the record as the row would have it.

        Raises:
            BadRecord: It cannot stand so.
        """
        if self.record is not None:
            return with_values(self.record, self.values)
        assert self.kind is not None
        plain: dict[str, Any] = {"id": self.id}
        for path, value in self.values.items():
            inner = plain if len(path) == 1 else plain.setdefault(path[0], {})
            inner[path[-1]] = value
        try:
            return self.kind.model_validate(plain)
        except ValidationError as error:
            raise BadRecord("project", faults_of(error, plain, self.kind)) from error


class RowReader:
    """Reads the rows of one table, in their order.

    Args:
        cells: The schedule that is read into.
        headings: What each column of the table means.
        rows: The rows.
        clear: Empty cells clear what is recorded.
    """

    def __init__(self, cells: Cells, headings: Sequence[Heading], rows: Iterable[GridRow], *, clear: bool) -> None:
        self._cells = cells
        self._headings = headings
        self._reader = CellReader(cells, headings, rows)
        self._clear = clear
        records = records_of(cells.project, cells.schedule)
        self._by_id = {one.id: one for one in records}
        self._by_name: dict[str, list[Any]] = {}
        for one in records:
            if name := _folded(getattr(one, "name", "")):
                self._by_name.setdefault(name, []).append(one)
        self._taken = {one.id for one in getattr(cells.project, cells.schedule.list)}
        self._seen: dict[str, int] = {}

    def draft(self, row: GridRow) -> RowDraft:
        """Return what a row would write."""
        draft = RowDraft(row.number)
        given: dict[str, tuple[Heading, Cell]] = {}
        for place, heading in enumerate(self._headings):
            if heading.column is not None:
                given[heading.column.key] = (heading, row.cells[place] if place < len(row.cells) else None)
        self._find(draft, given)
        if draft.kind is None:
            return draft
        for key, (heading, cell) in given.items():
            if key not in ("id", "kind") or (key == "kind" and not self._cells.schedule.kinds):
                self._read(draft, heading, cell)
        if draft.record is None:
            self._begin(draft)
        elif draft.height is not None:
            bottom: float = draft.values.get(("bottom_mm",), getattr(draft.record, "bottom_mm", 0.0))
            draft.values[("top_mm",)] = bottom + draft.height
            draft.columns.append(self._cells.schedule.column("top_mm"))
        return draft

    def _find(self, draft: RowDraft, given: dict[str, tuple[Heading, Cell]]) -> None:
        """Find the record that a row is about, by its id or else its name; or the kind of a new one."""
        id, name, kind = (plain_text(given[key][1]).strip() if key in given else "" for key in ("id", "name", "kind"))
        draft.name = name[:_SHOWN]
        record = self._by_id.get(id)
        if record is None and name:
            alike = self._by_name.get(_folded(name), [])
            if len(alike) > 1:
                draft.refuse("Name", name, f"{len(alike)} are called so", "the Id column, as it is exported")
            record = alike[0] if len(alike) == 1 else None
        if record is None:
            self._new(draft, kind)
            return
        draft.record, draft.kind, draft.id, draft.name = record, type(record), record.id, self._cells.title(record)
        if record.id in self._seen:
            draft.refuse("", "", f"row {self._seen[record.id]} is about the same {self._cells.schedule.one}", "one row")
        self._seen.setdefault(record.id, draft.number)
        own = self._cells.schedule.kinds
        if kind and own and own.get(kind.casefold()) is not type(record):
            draft.refuse("Kind", kind, "a piece cannot become one of another kind", getattr(record, "kind", ""))

    def _new(self, draft: RowDraft, kind: str) -> None:
        schedule = self._cells.schedule
        word = (kind or "furniture").casefold() if schedule.kinds else ""
        draft.kind = schedule.class_of(word)
        if draft.kind is None:
            draft.refuse("Kind", kind, "there is no such kind of furniture", ", ".join(schedule.kinds))
        elif schedule.kinds:
            draft.values[("kind",)] = word

    def _read(self, draft: RowDraft, heading: Heading, cell: Cell) -> None:
        column, record = heading.column, draft.record
        assert column is not None
        assert draft.kind is not None
        nothing = not isinstance(cell, Unreadable) and not plain_text(cell).strip()
        if nothing and (record is None or not self._clear or column.key == HEIGHT):
            return
        if record is not None and column.key != HEIGHT and self._says_the_same(column, record, cell):
            return
        try:
            if column.key == HEIGHT:
                now = record.top_mm - record.bottom_mm if record is not None else None  # type: ignore[attr-defined]
                height = self._reader.value(heading, column, draft.kind, cell, now)
                draft.height = None if height == now else height
                return
            now = column.value(record) if record is not None else None
            draft.values[column.path] = self._reader.value(heading, column, draft.kind, cell, now)
            draft.columns.append(column)
        except EnfiladeError as error:
            draft.refuse(heading.text, cell, error.what, error.expected or error.do)

    def _says_the_same(self, column: Column, record: Record, cell: Cell) -> bool:
        if isinstance(cell, Unreadable):
            return False
        text = plain_text(cell)
        return text in (plain_text(self._cells.filed(column, record)), plain_text(self._cells.words(column, record)))

    def _begin(self, draft: RowDraft) -> None:
        """Give a new record its id and what it needs beside what the row says."""
        assert draft.kind is not None
        missing = filled_in(self._cells.project, draft.kind, draft.values, draft.height)
        for column in self._cells.schedule.columns:
            shape = column.shape(draft.kind)
            refused = any(heading == column.heading for heading, *_ in draft.refusals)
            if not refused and shape is not None and (column.path in missing):
                draft.refuse(column.heading, None, "is missing", f"a value: a new {self._cells.schedule.one} needs it")
        draft.id = new_id(draft.name or str(draft.values.get(("kind",), self._cells.schedule.one)), self._taken)
        draft.name = draft.name or str(draft.values.get(("kind",), self._cells.schedule.one))
        self._taken.add(draft.id)
        if folded := _folded(str(draft.values.get(("name",), ""))):
            if folded in self._seen:
                draft.refuse("", "", f"row {self._seen[folded]} has the same name", "another name")
            self._seen.setdefault(folded, draft.number)


def with_values(record: Record, values: Values) -> Record:
    """Return a record with other values, each by the names that lead to its field.

    Raises:
        BadRecord: It cannot stand so.
    """
    own: dict[str, Any] = {}
    inner: dict[str, dict[str, Any]] = {}
    for path, value in values.items():
        if len(path) == 1:
            own[path[0]] = value
        else:
            inner.setdefault(path[0], {})[path[1]] = value
    for name, fields in inner.items():
        own[name] = _inner(record, name, fields)
    return with_fields(record, own)


def _inner(record: Record, name: str, fields: dict[str, Any]) -> Any:
    """Return a record inside another with other values; one that is absent stays so until it says something."""
    now = getattr(record, name)
    standing = now if isinstance(now, Record) else field_shapes(type(record))[name].records[0]()
    changed = with_fields(standing, fields)
    return now if changed is standing else changed


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())
