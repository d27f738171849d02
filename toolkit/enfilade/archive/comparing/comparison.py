"""A comparison, ready to be shown: in a terminal, in a notebook, or as plain data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from enfilade.archive.comparing.differing import differing_tables
from enfilade.archive.comparing.on_a_page import page_of
from enfilade.archive.comparing.on_a_terminal import text_of
from enfilade.walkthrough.pages import Table

__all__ = ["Comparison"]


@dataclass(frozen=True)
class Comparison:
    """Projects or versions side by side.

    Attributes:
        columns: What each is called.
        tables: One a subject. The last columns of each are those of `columns`; what stands before them names the row.
            A cell may hold several lines.
        notes: What is to be known before figures are compared, as sentences.
        changes: Of states of one house, what changed from the oldest to the newest, the most important first.
        between: Heading of `changes`; empty where there are none.
    """

    columns: tuple[str, ...]
    tables: tuple[Table, ...]
    notes: tuple[str, ...]
    changes: tuple[str, ...] = ()
    between: str = ""

    def table(self, title: str) -> Table | None:
        """Return a table by its title, None where there is none."""
        return next((table for table in self.tables if table.title == title), None)

    def as_json(self) -> dict[str, Any]:
        """Return plain data for JSON."""
        tables = [
            {"title": one.title, "head": list(one.head), "rows": [list(row) for row in one.rows],
             "numeric": list(one.numeric), "note": one.note}
            for one in self.tables
        ]  # fmt: skip
        said = {"notes": list(self.notes), "changes": list(self.changes), "between": self.between}
        return {"columns": list(self.columns), "tables": tables, **said}

    def as_text(self, width: int = 100, *, differing: bool = False) -> str:
        """Return it for a terminal of so many signs a line; cells wrap inside their columns.

        Args:
            width: Of a line.
            differing: Without the rows that are the same in all columns; which tables are, is said.
        """
        if not differing:
            return text_of(self.columns, self.tables, self.notes, width, self._first())
        tables, same = differing_tables(self.tables, len(self.columns))
        alike = (f"The same in all: {'; '.join(same)}.",) if same else ()
        return text_of(self.columns, tables, (*alike, *self.notes), width, self._first())

    def _first(self) -> tuple[str, tuple[str, ...]]:
        return self.between, self.changes

    def __str__(self) -> str:
        return self.as_text()

    def _repr_html_(self) -> str:
        return page_of(self.columns, self.tables, self.notes, self._first())
