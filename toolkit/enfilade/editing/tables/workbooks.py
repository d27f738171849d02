"""Workbooks of strangers: looked at as an archive before they are opened, and never calculated."""

from __future__ import annotations

import datetime as dt
import io
import warnings
import zipfile
from collections.abc import Iterator
from decimal import Decimal
from typing import Any, Final
from xml.parsers import expat

from enfilade.editing.tables.grids import LARGEST_BYTES, MOST_COLUMNS, MOST_ROWS, Cell, Grid, Unreadable, gridded
from enfilade.errors import Refused

__all__ = ["MOST_ELEMENTS", "MOST_ENTRIES", "MOST_UNPACKED", "grid_of_workbook", "is_workbook"]

MOST_ENTRIES: Final = 1000
MOST_UNPACKED: Final = 48 * 1024 * 1024
MOST_TIMES: Final = 200
"""A part that unpacks to over a megabyte and to more times its packed size than this was made to."""
MOST_ELEMENTS: Final = 1_500_000
DEEPEST: Final = 64

_ZIP: Final = b"PK\x03\x04"
_OLE: Final = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_SAVE_AS: Final = "save it as .xlsx without a password, or as CSV"
_LAST_COLUMN: Final = "CV"
_NO_WORKBOOK: Final = "the file is no workbook that can be read"


def is_workbook(data: bytes) -> bool:
    """Tell whether a file begins as a workbook does, an old or a locked one too."""
    return data.startswith((_ZIP, _OLE))


def grid_of_workbook(data: bytes, sheet: str = "") -> Grid:
    """Return one sheet of a workbook in the Office Open XML format.

    Formulas are never worked out: their kept values are read, and a cell that has none is unreadable.

    Args:
        data: The bytes of the file.
        sheet: Title of the sheet to read, when there is one of that title; else the first that is shown.
    Raises:
        Refused: It is an old, locked, macro-carrying, damaged or oversized workbook, or made to be one.
    """
    if data.startswith(_OLE):
        raise Refused("the workbook is in an old format or locked with a password", do=_SAVE_AS)
    if len(data) > LARGEST_BYTES:
        raise Refused(f"the workbook holds {len(data):,} bytes", expected=f"at most {LARGEST_BYTES:,}")
    seen = _look_inside(data)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of styles and extensions, which are not read
            return _read(data, sheet, seen)
    except Refused:
        raise
    except Exception as error:  # A reader can fail in any way on bytes that were made to break it.
        raise Refused(_NO_WORKBOOK, do=_SAVE_AS) from error


def _look_inside(data: bytes) -> _Seen:
    """Refuse what must not be unpacked or parsed; return what was met."""
    seen = _Seen()
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = archive.infolist()
            _refuse_entries(entries)
            for entry in entries:
                seen.look_at(entry.filename.lower(), archive.read(entry))
    except Refused:
        raise
    except Exception as error:  # As below: an archive can point anywhere, even before its own beginning.
        raise Refused(_NO_WORKBOOK, do=_SAVE_AS) from error
    return seen


def _refuse_entries(entries: list[zipfile.ZipInfo]) -> None:
    names = [entry.filename.lower() for entry in entries]
    if len(entries) > MOST_ENTRIES or len(set(names)) != len(names):
        raise Refused(f"the workbook is packed in an odd way ({len(entries):,} parts)", do=_SAVE_AS)
    if "xl/workbook.xml" not in names:
        raise Refused(_NO_WORKBOOK, do=_SAVE_AS)
    if any("vbaproject" in name or (name.endswith(".bin") and "macro" in name) for name in names):
        raise Refused("the workbook carries macros", do=_SAVE_AS)
    unpacked = sum(entry.file_size for entry in entries)
    if unpacked > MOST_UNPACKED:
        raise Refused(f"the workbook unpacks to {unpacked:,} bytes", expected=f"at most {MOST_UNPACKED:,}")
    for entry in entries:
        if entry.flag_bits & 0x1:
            raise Refused("the workbook is locked with a password", do=_SAVE_AS)
        if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise Refused("the workbook is packed in an odd way", do=_SAVE_AS)
        if entry.file_size > 1_000_000 and entry.file_size > MOST_TIMES * max(entry.compress_size, 1):
            raise Refused("the workbook unpacks to far more than it should", do=_SAVE_AS)


class _Seen:
    """What was met in the parts of a workbook so far.

    Attributes:
        formulas: Some cell holds a formula.
        far: Some cell stands to the right of what is read.
    """

    def __init__(self) -> None:
        self.formulas = False
        self.far = False
        self._elements = 0
        self._depth = 0

    def look_at(self, name: str, part: bytes) -> None:
        """Go through one part without building anything of it; a part may be XML whatever it is called."""
        parser = expat.ParserCreate()
        parser.StartDoctypeDeclHandler = self._doctype
        parser.StartElementHandler = self._begins
        parser.EndElementHandler = self._ends
        self._depth = 0
        try:
            parser.Parse(part, True)
        except expat.ExpatError:
            if name.endswith((".xml", ".rels")):
                raise

    def _doctype(self, *_: Any) -> None:
        raise Refused("the workbook declares entities, which no spreadsheet does", do=_SAVE_AS)

    def _begins(self, name: str, attributes: dict[str, str]) -> None:
        self._elements += 1
        self._depth += 1
        if self._elements > MOST_ELEMENTS or self._depth > DEEPEST:
            raise Refused("the workbook holds more than a table should", expected=f"at most {MOST_ROWS:,} rows")
        if name == "c":
            column = attributes.get("r", "").rstrip("0123456789")
            self.far = self.far or len(column) > 2 or (len(column) == 2 and column > _LAST_COLUMN)
        elif name == "f":
            self.formulas = True
        elif "macroEnabled" in attributes.get("ContentType", ""):
            raise Refused("the workbook carries macros", do=_SAVE_AS)

    def _ends(self, _: str) -> None:
        self._depth -= 1


def _read(data: bytes, title: str, seen: _Seen) -> Grid:
    from openpyxl import load_workbook

    values = load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
    written = None
    try:
        shown = [one for one in values.worksheets if one.sheet_state == "visible"]
        if not shown:
            raise Refused("the workbook shows no sheet", expected="a sheet with a table")
        chosen = next((one for one in shown if one.title.casefold() == title.casefold()), shown[0])
        notes = []
        if len(shown) > 1:
            notes.append(f"The sheet \u201c{chosen.title[:60]}\u201d is read; the others are left.")
        if seen.far:
            notes.append(f"Cells to the right of column {MOST_COLUMNS} are left.")
        rows = _rows(chosen)
        if seen.formulas:
            written = load_workbook(io.BytesIO(data), read_only=True, data_only=False, keep_links=False)
            rows = _with_formulas(rows, _rows(written.worksheets[values.worksheets.index(chosen)]))
        return gridded(rows, notes)
    finally:
        values.close()
        if written is not None:
            written.close()


def _rows(sheet: Any) -> Iterator[tuple[int, list[Cell]]]:
    # The size that a sheet declares may be anything, and so may the number of a row.
    sheet.reset_dimensions()
    empty = 0
    for number, row in enumerate(sheet.iter_rows(max_col=MOST_COLUMNS), 1):
        cells = [_cell(cell) for cell in row]
        empty = 0 if any(cell is not None for cell in cells) else empty + 1
        if empty > MOST_ROWS:
            return
        yield number, cells


def _with_formulas(
    kept: Iterator[tuple[int, list[Cell]]], written: Iterator[tuple[int, list[Cell]]]
) -> Iterator[tuple[int, list[Cell]]]:
    """Put a note in the place of each formula that has no kept value."""
    for (number, values), (_, formulas) in zip(kept, written, strict=False):
        cells = list(values) + [None] * (len(formulas) - len(values))
        for place, formula in enumerate(formulas):
            if isinstance(formula, Unreadable) and cells[place] in (None, ""):
                cells[place] = formula
        yield number, cells


def _cell(cell: Any) -> Cell:
    value = cell.value
    if value is None:
        return None
    if cell.data_type == "f":
        return Unreadable("a formula without a kept value", "a value, or a workbook saved by a spreadsheet")
    if cell.data_type == "e":
        return Unreadable(f"the spreadsheet's error {str(value)[:20]}", "a value")
    if isinstance(value, bool | str):
        return value
    if isinstance(value, int | float):
        return _number(value)
    if isinstance(value, dt.datetime):
        return value.date() if value.time() == dt.time() else value.isoformat(" ")
    if isinstance(value, dt.date):
        return value
    return str(value)


def _number(value: float) -> Cell:
    # Spreadsheets show and keep 15 digits; what a float carries beyond them is no one's figure.
    number = Decimal(f"{value:.15g}")
    return number if number.is_finite() else Unreadable("no finite number", "a number")
