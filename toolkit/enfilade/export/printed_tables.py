"""Tables for the printed page: how wide each column is, by what stands in it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, Final

from enfilade.walkthrough.pages import Row, Table

__all__ = ["table_data", "tables_data"]

_SHORT: Final = 18
"""A column with nothing longer in it is as wide as what stands in it (own choice); longer ones share the rest."""
_LEAST: Final = 8.0
_LESS_THAN_PROPORTIONAL: Final = 0.7
"""Ten times the text takes five times the width: the rest of it goes down the page (own choice)."""


def table_data(
    title: str, head: Sequence[str], rows: Sequence[Row], numeric: Iterable[int] = (), note: str = ""
) -> Any:
    """Return a table as the template sets it; columns that are empty throughout are left out.

    Args:
        title, head, rows, note: As they are shown.
        numeric: Columns that are set to the right.
    """
    kept = [n for n in range(len(head)) if any(n < len(row) and row[n] for row in rows)] or [0]
    numbers = set(numeric)
    return {
        "title": title,
        "head": [head[n] for n in kept],
        "rows": [[row[n] if n < len(row) else "" for n in kept] for row in rows],
        "numeric": [n in numbers for n in kept],
        "shares": _shares([[head[n], *(row[n] for row in rows if n < len(row))] for n in kept]),
        "note": note,
    }


def tables_data(tables: Iterable[Table]) -> list[Any]:
    """Return those tables that hold something."""
    return [table_data(one.title, one.head, one.rows, one.numeric, one.note) for one in tables if one.rows]


def _shares(columns: Sequence[Sequence[str]]) -> list[float]:
    """Return for each column its share of the width; 0 for one that is as wide as what stands in it."""
    lengths = [[len(cell) for cell in cells] for cells in columns]
    shares = [
        0.0 if max(one, default=0) <= _SHORT else max(_usual(one), _LEAST) ** _LESS_THAN_PROPORTIONAL for one in lengths
    ]
    if shares and not any(shares):
        shares[max(range(len(shares)), key=lambda n: max(lengths[n], default=0))] = 1.0
    return shares


def _usual(lengths: Sequence[int]) -> float:
    """Return how long the text of a column usually is, empty places counted half."""
    filled = [one for one in lengths if one]
    return sum(lengths) / (len(filled) + (len(lengths) - len(filled)) / 2)
