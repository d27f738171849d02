"""Tables of strangers - a pasted block, a text file, a workbook - as rows of plain cells."""

from __future__ import annotations

import contextlib
import csv
import datetime as dt
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from enfilade.errors import Refused

__all__ = ["LARGEST_BYTES", "LONGEST_CELL", "MOST_COLUMNS", "MOST_ROWS", "Cell", "Grid", "GridRow", "Unreadable",
           "grid_of_text", "gridded", "rows_of_text"]  # fmt: skip

LARGEST_BYTES: Final = 8 * 1024 * 1024
MOST_ROWS: Final = 5000
MOST_COLUMNS: Final = 100
LONGEST_CELL: Final = 32_767
"""Signs that one cell of a common spreadsheet holds."""

_DELIMITERS: Final = ("\t", ";", ",")
_LOOKED_AT: Final = 50
_UTF16: Final = (b"\xff\xfe", b"\xfe\xff")


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A cell that stands there and cannot be taken: why, and what was expected."""

    what: str
    expected: str = ""


Cell = str | Decimal | dt.date | bool | Unreadable | None
"""What one cell holds; None and an empty text say nothing."""


@dataclass(frozen=True, slots=True)
class GridRow:
    """One row, with the number that it bears in the file."""

    number: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """A table as it was read: the headings, and the rows below them.

    Attributes:
        headings: Text of the first row that says anything.
        rows: The others that say anything.
        notes: What a person should know of how it was read.
    """

    headings: tuple[str, ...]
    rows: tuple[GridRow, ...]
    notes: tuple[str, ...] = ()


def gridded(rows: Iterable[tuple[int, Sequence[Cell]]], notes: Sequence[str] = ()) -> Grid:
    """Return numbered rows as a grid.

    Raises:
        Refused: There are no headings, or more rows or columns than are taken.
    """
    headings: tuple[str, ...] | None = None
    kept: list[GridRow] = []
    for number, cells in rows:
        said = _cut(cells)
        if not said:
            continue
        if len(said) > MOST_COLUMNS:
            raise Refused(f"row {number} has {len(said)} columns", expected=f"at most {MOST_COLUMNS}")
        if headings is None:
            headings = tuple(_heading(cell) for cell in said)
            continue
        if len(kept) == MOST_ROWS:
            raise Refused(f"the table has more than {MOST_ROWS:,} rows", do="bring it in in parts")
        kept.append(GridRow(number, tuple(_short(cell) for cell in said)))
    if headings is None:
        raise Refused("the table is empty", expected="a row of headings, and rows below it")
    return Grid(headings, tuple(kept), tuple(notes))


def _cut(cells: Sequence[Cell]) -> Sequence[Cell]:
    """Leave out the cells behind the last one that says anything."""
    end = len(cells)
    while end and (cells[end - 1] is None or (isinstance(one := cells[end - 1], str) and not one.strip())):
        end -= 1
    return cells[:end]


def _heading(cell: Cell) -> str:
    return "" if cell is None or isinstance(cell, Unreadable) else str(cell)[:400].strip()


def _short(cell: Cell) -> Cell:
    if isinstance(cell, str) and len(cell) > LONGEST_CELL:
        return Unreadable(f"the cell holds {len(cell):,} signs", f"at most {LONGEST_CELL:,}")
    return cell


def grid_of_text(data: bytes | str) -> Grid:
    """Return the grid of a text table: parted by tabs, semicolons or commas; quoted cells may hold line ends.

    Args:
        data: A pasted block as text; or a file's bytes, in UTF-8, in UTF-16 with its mark, or in Windows-1252.
    Raises:
        Refused: It is too large, no text, or its quotes do not close.
    """
    return gridded(rows_of_text(data))


def rows_of_text(data: bytes | str) -> list[tuple[int, list[Cell]]]:
    """Return the rows of a text table as they stand, each with the number of the line that it begins in; see above."""
    if len(data) > LARGEST_BYTES:
        raise Refused(f"the table holds {len(data):,} signs", expected=f"at most {LARGEST_BYTES:,}")
    text = data if isinstance(data, str) else _decoded(data)
    if "\x00" in text:
        raise Refused("this is no text", expected="a table as CSV or XLSX")
    return _lines(*_delimiter(text))


def _decoded(data: bytes) -> str:
    if data.startswith(_UTF16):
        try:
            return data.decode("utf-16")
        except UnicodeDecodeError as error:
            raise Refused("the file says that it is UTF-16 and is not", do="save it as CSV in UTF-8") from error
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise Refused("the file is in no encoding that is known", expected="UTF-8, UTF-16 or Windows-1252")


def _delimiter(text: str) -> tuple[str, str]:
    """Return the text to read, and the sign that parts its cells."""
    first, _, rest = text.partition("\n")
    if (said := first.strip().lower()).startswith("sep=") and len(said) == 5:  # a line that spreadsheets write
        return rest, said[4]
    best, delimiter = (0.0, 0), ","
    for candidate in _DELIMITERS:
        counts = _counts(text, candidate)
        if counts and counts[0] > 1:
            score = (sum(count == counts[0] for count in counts) / len(counts), counts[0])
            if score > best:
                best, delimiter = score, candidate
    return text, delimiter


def _counts(text: str, delimiter: str) -> list[int]:
    """Return how many cells each of the first rows would have."""
    counts: list[int] = []
    with contextlib.suppress(csv.Error):  # which is told when the table is read
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
            if any(row):
                counts.append(len(row))
            if len(counts) == _LOOKED_AT:
                break
    return counts


def _lines(text: str, delimiter: str) -> list[tuple[int, list[Cell]]]:
    try:
        return _quoted(text, delimiter)
    except csv.Error as error:
        if delimiter == "\t" and '"' in text:
            # A copied cell that begins with a quote of its own is not quoted: 1" pipe and "A" grade stand as they are.
            return [(number, list(line.split("\t"))) for number, line in enumerate(_split(text), 1)]
        raise Refused(
            f"the table cannot be read ({error})", do="look for a quotation mark that is not closed"
        ) from error


def _split(text: str) -> list[str]:
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _quoted(text: str, delimiter: str) -> list[tuple[int, list[Cell]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows: list[tuple[int, list[Cell]]] = []
    begins = 1
    for row in reader:
        rows.append((begins, list(row)))
        begins = reader.line_num + 1
        if len(rows) > MOST_ROWS * 2:
            raise Refused(f"the table has more than {MOST_ROWS:,} rows", do="bring it in in parts")
    return rows
