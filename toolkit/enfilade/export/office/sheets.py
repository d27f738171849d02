"""Sheets of a workbook: typed cells, heads that stay in sight and print, nothing that calculates."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any, Final, Literal

from enfilade.drawings.writing import folded, text_width
from enfilade.editing.tables.cells import CUT
from enfilade.editing.tables.grids import LONGEST_CELL
from enfilade.editing.tables.table_files import RISKY
from enfilade.export.office.text import plain, shortened
from enfilade.lengths import System, to_inches

__all__ = ["Book", "Column", "Sheet", "Value", "row_height"]

Value = str | int | float | Decimal | dt.date | None
Kind = Literal["text", "number", "length", "money", "day"]

_CODED: Final = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_NOT_IN_A_TITLE: Final = re.compile(r"[\[\]:*?/\\']")
_BREAKS: Final = re.compile("\r\n?|\u2028|\u2029|\x85|\x0b|\x0c")
_WIDEST, _NARROWEST = 38.0, 7.0
_LINE_PT, _MOST_LINES = 14.0, 28
_FOLDED_SIGNS = 2000
_LETTER, _TABLOID, _A3, _A4 = 1, 3, 8, 9
_WIDE_SHEET: Final = 190.0
"""A sheet with more letters across than this is set for the larger paper."""


@dataclass(frozen=True)
class Column:
    """One column: what it is called, and how its cells are typed; lengths come in millimetres."""

    head: str
    kind: Kind = "text"


@dataclass(frozen=True)
class Sheet:
    """One sheet: a table of typed cells, and a note under it."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Value, ...], ...]
    note: str = ""

    def filled(self) -> Sheet:
        """Return it without the columns in which nothing stands."""
        kept = [n for n in range(len(self.columns)) if any(row[n] not in (None, "") for row in self.rows)]
        rows = tuple(tuple(row[n] for n in kept) for row in self.rows)
        return Sheet(self.title, tuple(self.columns[n] for n in kept), rows, self.note)


class Book:
    """A workbook that is being filled.

    Args:
        system: Units of lengths.
        currency: Of amounts, said in their heads.
        family: Name of the type family.
        accent: Colour of what stands out, `#rrggbb`.
        footer: Left and right of what is printed under each page.
    """

    def __init__(self, *, system: System, currency: str, family: str, accent: str, footer: str) -> None:
        from openpyxl import Workbook
        from openpyxl.styles import Alignment, Border, Font, Side

        self.system, self.currency = system, currency
        self.book = Workbook()
        self.book.remove(self.book.worksheets[0])
        self._footer = footer
        name, ink = plain(family), "FF111111"
        self.fonts = {
            "plain": Font(name=name, size=10, color=ink, family=2),
            "bold": Font(name=name, size=10, color=ink, bold=True, family=2),
            "grey": Font(name=name, size=9, color="FF5A5A5A", family=2),
            "title": Font(name=name, size=20, color=ink, bold=True, family=2),
            "accent": Font(name=name, size=12, color=f"FF{accent.lstrip('#').upper()}", bold=True, family=2),
            "link": Font(name=name, size=10, color=f"FF{accent.lstrip('#').upper()}", family=2),
        }
        self._wrapped = Alignment(wrap_text=True, vertical="top")
        self.one_line = Alignment(vertical="top")
        self._left = Alignment(horizontal="left", vertical="top")
        self._right = Alignment(horizontal="right", vertical="top", indent=1)
        self._head = Border(bottom=Side(style="thin", color=ink), top=Side(style="medium", color=ink))
        self._rule = Border(bottom=Side(style="hair", color="FFB9B9B9"))
        self._styles: dict[tuple[Any, ...], Any] = {}

    def page(self, title: str) -> Any:
        """Return a new empty sheet, set for printing."""
        used = {sheet.title.casefold() for sheet in self.book.worksheets}
        name = base = shortened(_NOT_IN_A_TITLE.sub(" ", plain(title)).strip() or "Sheet", 28)
        number = 2
        while name.casefold() in used:
            name, number = f"{base} {number}"[:31], number + 1
        sheet = self.book.create_sheet(name)
        sheet.sheet_view.showGridLines = False
        sheet.page_setup.orientation = "landscape"
        sheet.page_setup.paperSize = _A4 if self.system == "metric" else _LETTER
        sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        sheet.page_margins.left = sheet.page_margins.right = 0.6
        sheet.page_margins.top, sheet.page_margins.bottom = 0.7, 0.8
        # `&` begins a code there.
        sheet.oddFooter.left.text = shortened(plain(self._footer), 100).replace("&", "&&")
        sheet.oddFooter.center.text = name.replace("&", "&&")
        sheet.oddFooter.right.text = "Page &P of &N"
        for part in (sheet.oddFooter.left, sheet.oddFooter.center, sheet.oddFooter.right):
            part.size = 8
        return sheet

    def put(self, place: Any, value: Value, kind: Kind = "text", *, font: str = "plain", ruled: bool = False) -> None:
        """Put a value into a cell, typed; a text is never taken for a formula, whatever it begins with."""
        shown, form = self._typed(value, kind)
        if isinstance(shown, str):
            text = _cell_text(shown)
            place.value = text
            place.data_type = "s"
            risky = bool(RISKY.match(text))
        else:
            place.value = shown
            risky = False
        key = (font, form, kind in ("number", "length", "money") and not isinstance(shown, str), ruled, risky)
        if key not in self._styles:
            place.font, place.number_format = self.fonts[font], form
            is_day = isinstance(shown, dt.date)
            place.alignment = self._right if key[2] else self._left if is_day else self._wrapped
            if ruled:
                place.border = self._rule
            place.quotePrefix = risky
            self._styles[key] = copy(place._style)
        else:
            place._style = copy(self._styles[key])

    def table(self, sheet: Sheet) -> Any:
        """Put a table on a sheet of its own and return it; columns in which nothing stands are left out."""
        from openpyxl.utils import get_column_letter

        told = sheet.filled()
        page = self.page(told.title)
        for n, column in enumerate(told.columns, 1):
            place = page.cell(1, n)
            self.put(place, self.head(column), font="bold")
            place.border = self._head
        widths = [
            _width(self.head(column), [self._seen(row[n], column.kind) for row in told.rows])
            for n, column in enumerate(told.columns)
        ]
        for n, width in enumerate(widths, 1):
            page.column_dimensions[get_column_letter(n)].width = width
        heads = [self.head(column) for column in told.columns]
        page.row_dimensions[1].height = _height(heads, widths, bold=True)
        for row_number, row in enumerate(told.rows, 2):
            for n, (column, value) in enumerate(zip(told.columns, row, strict=True), 1):
                self.put(page.cell(row_number, n), value, column.kind, ruled=True)
            texts = [value if isinstance(value, str) else "" for value in row]
            page.row_dimensions[row_number].height = _height(texts, widths)
        if sum(widths) > _WIDE_SHEET:
            page.page_setup.paperSize = _A3 if self.system == "metric" else _TABLOID
        if told.columns:
            page.freeze_panes = "B2"
            page.auto_filter.ref = f"A1:{get_column_letter(len(told.columns))}{len(told.rows) + 1}"
            page.print_title_rows = "1:1"
        if told.note:
            self.put(page.cell(len(told.rows) + 3, 1), told.note, font="grey")
            page.cell(len(told.rows) + 3, 1).alignment = self.one_line
        return page

    def head(self, column: Column) -> str:
        """Return what a column is called, with the unit of its numbers."""
        unit = ""
        if column.kind == "length":
            unit = "in" if self.system == "us" else "mm"
        elif column.kind == "money":
            unit = self.currency
        return f"{column.head} ({unit})" if unit else column.head

    def _typed(self, value: Value, kind: Kind) -> tuple[Value, str]:
        """Return a value as the cell holds it, and its number format."""
        if value is None or value == "" or isinstance(value, str):
            return value or None, "General" if value in (None, "") else "@"
        if isinstance(value, dt.date):
            return value, "yyyy-mm-dd"
        if kind == "money":
            return value, "#,##0.00"
        if kind == "length":
            shown = to_inches(float(value)) if self.system == "us" else float(value)
            return round(shown, 4), _length_format(shown, self.system)
        return value, "General"

    def _seen(self, value: Value, kind: Kind) -> str:
        shown, _ = self._typed(value, kind)
        if shown is None:
            return ""
        if isinstance(shown, dt.date):
            return "2026-00-00"
        if kind == "money":
            return f"{shown:,.2f}"
        return f"{shown:g} 00/00" if kind == "length" and isinstance(shown, float) else str(shown)


def _cell_text(text: str) -> str:
    lines = _BREAKS.sub("\n", text).split("\n")
    # An underscore before `x0041_` would be read as the sign of that number (ECMA-376 part 1, 22.4.2.4).
    whole = _CODED.sub("_x005F_", "\n".join(plain(line) for line in lines))
    return whole if len(whole) <= LONGEST_CELL else whole[: LONGEST_CELL - len(CUT)] + CUT


def _length_format(shown: float, system: System) -> str:
    """Return the format of a length: inches in fractions of the denominator that drawings would show, or millimetres.

    >>> _length_format(33.6875, "us"), _length_format(84.0, "us"), _length_format(600.0, "metric")
    ('# ??/16', '0', '0')
    """
    if system != "us":
        return "0" if abs(shown - round(shown)) < 0.05 else "0.0"
    below = Fraction(round(shown * 16), 16).denominator
    return "0" if below == 1 else f"# {'??' if below == 16 else '?'}/{below}"


def _width(head: str, texts: Sequence[str]) -> float:
    """Return the width of a column in letters: of its longest line, within bounds; a head may take two lines."""
    digit = text_width("0", 10.0)
    lines = [line[:120] for text in texts for line in text[:_FOLDED_SIGNS].split("\n")]
    longest = max((text_width(line, 10.0) / digit for line in lines), default=0.0)
    words = max((text_width(word, 10.0, True) / digit for word in head.split()), default=0.0)
    wanted = 1.1 * max(longest, words, text_width(head, 10.0, True) / digit / 2) + 3.0
    return round(min(max(wanted, _NARROWEST), _WIDEST), 1)


def _height(texts: Sequence[str], widths: Sequence[float], *, bold: bool = False) -> float:
    """Return the height of a row whose texts are broken into the widths of its columns [pt].

    Programs that open the file do not all work it out themselves.
    """
    digit = text_width("0", 10.0) / (1.2 if bold else 1.1)
    most = 1
    for text, width in zip(texts, widths, strict=True):
        lines = [line for part in text[:_FOLDED_SIGNS].split("\n") for line in folded(part, (width - 1) * digit, 10.0)]
        most = max(most, len(lines))
    return min(most, _MOST_LINES) * _LINE_PT + 2.0


def row_height(text: str, width: float) -> float:
    """Return the height of a row with one text that matters [pt]."""
    return _height([text], [width])
