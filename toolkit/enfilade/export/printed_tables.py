"""Tables for the printed page: how wide each column is, by what stands in it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import permutations
from typing import Any, Final

from enfilade.walkthrough.pages import Row, Table

__all__ = ["table_data", "tables_data"]

_SHORT: Final = 18
"""A column with nothing longer in it is as wide as what stands in it (own choice); longer ones share the rest."""
_LEAST: Final = 8
"""Signs across that any longer column has (own choice)."""
_ACROSS: Final = 132
_AROUND: Final = 2
"""Signs across a page of the book in the type of its tables, and between two columns (measured)."""
_ROWS: Final = 60
"""Rows by which a table is fitted: a longer one is taken to go on as it begins."""
_STEPS: Final = (8, 4, 2)


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
    longest = [max(one, default=0) for one in lengths]
    long = [n for n, most in enumerate(longest) if most > _SHORT]
    if not long and columns:
        long = [longest.index(max(longest))]
    taken = sum(most + _AROUND for n, most in enumerate(longest) if n not in long)
    widths = dict(zip(long, _fitted([lengths[n][:_ROWS] for n in long], _ACROSS - taken), strict=True))
    return [float(widths.get(n, 0)) for n in range(len(columns))]


def _fitted(columns: Sequence[Sequence[int]], across: int) -> list[int]:
    """Return the widths [signs] at which texts of these lengths take the fewest lines, in columns side by side.

    Found by giving of one column's width to another as long as that makes the table lower.
    """
    count = len(columns)
    widths = [max(across // max(count, 1) - _AROUND, _LEAST)] * count
    rows = list(zip(*columns, strict=True))

    def lines(tried: Sequence[int]) -> int:
        return sum(max(-(-length // width) for length, width in zip(row, tried, strict=True)) for row in rows)

    lowest = lines(widths)
    for step in _STEPS:
        found = True
        while found:
            found = False
            for giver, taker in permutations(range(count), 2):
                if widths[giver] - step < _LEAST:
                    continue
                tried = list(widths)
                tried[giver] -= step
                tried[taker] += step
                if (now := lines(tried)) < lowest:
                    widths, lowest, found = tried, now, True
    return widths
