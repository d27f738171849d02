"""Tables on a terminal: columns that are aligned, cells that wrap inside them."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from typing import Final

from enfilade.walkthrough.pages import Table

__all__ = ["cells_wide", "plain", "text_of", "wrapped"]

_GAP: Final = 2
_NARROWEST: Final = 13
"""Columns narrower than this are set one below the other instead."""
_LEAST_WIDTH: Final = 20


def text_of(
    columns: Sequence[str], tables: Sequence[Table], notes: Sequence[str], width: int,
    first: tuple[str, Sequence[str]] = ("", ()),
) -> str:  # fmt: skip
    """Return a comparison as lines of at most `width` signs; a terminal narrower than 20 is taken as one of 20."""
    width = max(width, _LEAST_WIDTH)
    blocks = [_numbered(columns, width)]
    title, changes = first
    if changes:
        blocks.append([*wrapped(f"{title}:", width), *(line for one in changes for line in _hung("  ", one, width))])
    blocks += [*(_of_table(table, len(columns), width) for table in tables)]
    blocks += [wrapped(note, width) for note in notes]
    return "\n\n".join("\n".join(line.rstrip() for line in block) for block in blocks) + "\n"


def _numbered(columns: Sequence[str], width: int) -> list[str]:
    return [line for n, head in enumerate(columns, 1) for line in _hung(f"{n}  ", head, width)]


def _of_table(table: Table, count: int, width: int) -> list[str]:
    names = len(table.head) - count
    heads = [*table.head[:names], *(str(n) for n in range(1, count + 1))]
    each = int((width - _GAP * (len(heads) - 1)) / (len(heads) + 0.4))
    lines = [*wrapped(table.title.upper(), width), "\u2500" * width]
    if each < _NARROWEST:
        lines += _stacked(table, names, width)
    else:
        first = width - (each + _GAP) * (len(heads) - 1)
        widths = [first, *[each] * (len(heads) - 1)]
        lines += _row(heads, widths, table.numeric)
        for row in table.rows:
            lines += _row(row, widths, table.numeric)
            if any("\n" in cell for cell in row):
                lines.append("")
        lines = lines[:-1] if lines[-1] == "" else lines
    return [*lines, *(["", *wrapped(table.note, width)] if table.note else [])]


def _row(row: Sequence[str], widths: Sequence[int], numeric: Sequence[int]) -> Iterator[str]:
    cells = [wrapped(cell, width) or [""] for cell, width in zip(row, widths, strict=True)]
    for n in range(max(map(len, cells))):
        parts = []
        for place, (lines, width) in enumerate(zip(cells, widths, strict=True)):
            line = lines[n] if n < len(lines) else ""
            blank = " " * (width - cells_wide(line))
            parts.append(blank + line if place in numeric else line + blank)
        yield (" " * _GAP).join(parts)


def _stacked(table: Table, names: int, width: int) -> Iterator[str]:
    """Yield each row as its name with a line a column below it, for terminals that are too narrow."""
    for row in table.rows:
        yield from wrapped(", ".join(row[:names]), width)
        for n, cell in enumerate(row[names:], 1):
            yield from _hung(f"  {n}  ", cell, width)


def _hung(lead: str, text: str, width: int) -> Iterator[str]:
    lines = wrapped(text, width - len(lead)) or [""]
    for n, line in enumerate(lines):
        yield (lead if n == 0 else " " * len(lead)) + line


def plain(text: str) -> str:
    """Return a text that a terminal shows as it is: what would steer it is written out."""
    if text.isprintable():
        return text
    return "".join(
        sign if sign.isprintable() or unicodedata.combining(sign) else " " if sign.isspace() else repr(sign)[1:-1]
        for sign in text
    )


def cells_wide(text: str) -> int:
    """Return how many places a text takes on a terminal; signs of East Asia take two.

    >>> cells_wide("oak"), cells_wide("楢")
    (3, 2)
    """
    if text.isascii():
        return len(text)
    return sum(_wide(sign) for sign in text)


def _wide(sign: str) -> int:
    if unicodedata.combining(sign):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1


def wrapped(text: str, width: int) -> list[str]:
    """Return a text as lines of at most `width` places, broken between words, and inside those that are too long."""
    lines: list[str] = []
    for part in text.split("\n"):
        line: list[str] = []
        taken = 0
        for word in plain(part).split(" "):
            for piece in _pieces(word, width):
                wide = cells_wide(piece)
                if line and taken + 1 + wide > width:
                    lines.append(" ".join(line))
                    line, taken = [], 0
                taken += wide + (1 if line else 0)
                line.append(piece)
        lines.append(" ".join(line))
    return lines if any(lines) else []


def _pieces(word: str, width: int) -> Iterator[str]:
    if cells_wide(word) <= width:
        yield word
        return
    piece: list[str] = []
    taken = 0
    for sign in word:
        if taken + _wide(sign) > width:
            yield "".join(piece)
            piece, taken = [], 0
        piece.append(sign)
        taken += _wide(sign)
    yield "".join(piece)
