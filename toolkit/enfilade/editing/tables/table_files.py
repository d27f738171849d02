"""Schedules as files for spreadsheets, and files as grids.

Text that a spreadsheet would take for a formula is never written as one. In a workbook its cell is of the type
text, and marked so that it stays text when it is edited. A CSV file knows no types: there an apostrophe is put before
it, which spreadsheets show or hide, and which is taken off again when the file is read here.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Any, Final

from enfilade.editing.tables.cells import Cells, plain_text
from enfilade.editing.tables.grids import Cell, Grid, GridRow, grid_of_text
from enfilade.editing.tables.schedules import Column, Schedule, records_of
from enfilade.editing.tables.workbooks import grid_of_workbook, is_workbook
from enfilade.project.project import Project

__all__ = ["RISKY", "grid_of_file", "guarded", "schedule_csv", "schedule_workbook", "unguarded"]

RISKY: Final = re.compile(r"'*(?:[\t\r\n]|\s*[=+\-@\uff1d\uff0b\uff0d\uff20])")
"""How a text begins that spreadsheets take for a formula, or that their guard would be taken off."""
_WIDEST: Final = 60
_TOO_ODD: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f]")


def guarded(text: str) -> str:
    """Return a text as a CSV file holds it: with an apostrophe before what would be taken for a formula.

    >>> guarded("=1+1"), guarded("larch")
    ("'=1+1", 'larch')
    """
    return f"'{text}" if RISKY.match(text) else text


def unguarded(text: str) -> str:
    """Return a text as it was before it was guarded.

    >>> unguarded("'=1+1"), unguarded("'larch'")
    ('=1+1', "'larch'")
    """
    return text[1:] if text.startswith("'") and RISKY.match(text[1:]) else text


def grid_of_file(data: bytes, schedule: Schedule) -> Grid:
    """Return the grid of a file: a workbook, or a text table.

    Args:
        data: Its bytes.
        schedule: The table that is read into; of a workbook the sheet of that title is read.
    Raises:
        Refused: It is neither, or must not be read.
    """
    return grid_of_workbook(data, schedule.title) if is_workbook(data) else _unguarded(grid_of_text(data))


def _unguarded(grid: Grid) -> Grid:
    def plain(cell: Cell) -> Cell:
        return unguarded(cell) if isinstance(cell, str) else cell

    rows = tuple(GridRow(row.number, tuple(plain(cell) for cell in row.cells)) for row in grid.rows)
    return Grid(tuple(unguarded(text) for text in grid.headings), rows, grid.notes)


def schedule_csv(project: Project, schedule: Schedule) -> bytes:
    """Return a schedule as a CSV file in UTF-8 with its mark, commas between cells."""
    cells = Cells(project, schedule)
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow([guarded(cells.heading(column)) for column in schedule.columns])
    for record in _rows(cells, schedule):
        writer.writerow([guarded(cell) if isinstance(cell, str) else plain_text(cell) for cell in record])
    return stream.getvalue().encode("utf-8-sig")


def _rows(cells: Cells, schedule: Schedule) -> Iterator[list[Cell]]:
    for record in records_of(cells.project, schedule):
        yield [cells.filed(column, record) for column in schedule.columns]


def schedule_workbook(project: Project, schedules: Sequence[Schedule]) -> bytes:
    """Return schedules as a workbook, a sheet each, with typed cells and headings that stay in sight and print."""
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.worksheets[0])
    for schedule in schedules:
        _fill(book.create_sheet(schedule.title), Cells(project, schedule), schedule)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _fill(sheet: Any, cells: Cells, schedule: Schedule) -> None:
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    widths = []
    for place, column in enumerate(schedule.columns, 1):
        heading = sheet.cell(1, place)
        _put(heading, cells.heading(column))
        heading.font = Font(bold=True)
        heading.alignment = Alignment(wrap_text=True, vertical="top")
        widths.append(len(cells.heading(column)) // 2)
    for number, row in enumerate(_rows(cells, schedule), 2):
        for place, (column, cell) in enumerate(zip(schedule.columns, row, strict=True), 1):
            if cell is not None:
                _put(sheet.cell(number, place), cell)
                _dress(sheet.cell(number, place), column)
                widths[place - 1] = max(widths[place - 1], max(map(len, plain_text(cell).split("\n"))))
    for place, width in enumerate(widths, 1):
        sheet.column_dimensions[get_column_letter(place)].width = min(max(width + 2, 8), _WIDEST)
    sheet.freeze_panes = "B2"
    sheet.print_title_rows = "1:1"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True


def _put(place: Any, cell: Cell) -> None:
    if isinstance(cell, str):
        text = _TOO_ODD.sub("", cell)
        place.value = text
        place.data_type = "s"
        place.quotePrefix = bool(RISKY.match(text))
    else:
        place.value = cell


def _dress(place: Any, column: Column) -> None:
    from openpyxl.styles import Alignment

    if column.kind == "money":
        place.number_format = "#,##0.00"
    elif column.kind in ("day", "derived") and isinstance(place.value, dt.date):
        place.number_format = "yyyy-mm-dd"
    elif isinstance(place.value, str):
        place.alignment = Alignment(wrap_text=True, vertical="top")
    elif isinstance(place.value, Decimal):
        place.alignment = Alignment(vertical="top")
