"""A comparison, ready to be shown: in a terminal, in a notebook, or as plain data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

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
    """

    columns: tuple[str, ...]
    tables: tuple[Table, ...]
    notes: tuple[str, ...]

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
        return {"columns": list(self.columns), "tables": tables, "notes": list(self.notes)}

    def as_text(self, width: int = 100) -> str:
        """Return it for a terminal of so many signs a line; cells wrap inside their columns."""
        return text_of(self.columns, self.tables, self.notes, width)

    def __str__(self) -> str:
        return self.as_text()

    def _repr_html_(self) -> str:
        return page_of(self.columns, self.tables, self.notes)
