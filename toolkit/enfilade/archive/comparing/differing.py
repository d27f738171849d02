"""What is the same in all columns of a comparison left out: rows, and in long cells the parts and lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from enfilade.walkthrough.pages import Table

__all__ = ["differing_tables"]

_PART = "\n\n"
_REST = "(else the same)"


def differing_tables(tables: Sequence[Table], columns: int) -> tuple[list[Table], list[str]]:
    """Return the tables with the rows that differ, and the titles of those in which none does.

    Args:
        tables: Their last cells of a row are those of the columns; a cell may hold parts with an empty line between.
        columns: How many are compared.
    """
    differ, same = [], []
    for table in tables:
        rows = [row for row in table.rows if len(set(row[-columns:])) > 1]
        if rows:
            differ.append(replace(table, rows=tuple((*row[:-columns], *_without_same(row[-columns:])) for row in rows)))
        else:
            same.append(table.title)
    return differ, same


def _without_same(cells: Sequence[str]) -> list[str]:
    """Return cells without the parts that stand in all of them, and of other parts without such lines.

    The first line of a part names it and stays.
    """
    parts = [cell.split(_PART) for cell in cells]
    in_all = set.intersection(*(set(one) for one in parts))
    lines = [{line for part in one for line in part.split("\n")[1:]} for one in parts]
    repeated = set.intersection(*lines)
    shown = []
    for one in parts:
        left = [_shortened(part, repeated) for part in one if part not in in_all]
        shown.append(_PART.join([*left, _REST] if len(left) < len(one) else left))
    return shown


def _shortened(part: str, repeated: set[str]) -> str:
    first, *more = part.split("\n")
    return "\n".join([first, *(line for line in more if line not in repeated)])
