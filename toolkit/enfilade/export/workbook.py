"""Schedules and registers as a workbook: one sheet each, and a first one that says what this is."""

from __future__ import annotations

import io
from typing import Any, Final

from enfilade.export.document import Document
from enfilade.export.issue import UNDECIDED, changed_heading, changed_sentences
from enfilade.export.office.naming import about_of, designer_of, family_of, for_whom, issue_of, studio_of
from enfilade.export.office.package import packed
from enfilade.export.office.schedule_sheets import sheets_of
from enfilade.export.office.sheets import Book, Sheet, Value, row_height
from enfilade.export.office.text import plain, shortened

__all__ = ["write"]

_FIRST: Final = "This issue"
_WIDE: Final = 84.0
_DECIDES: Final = "Sizes are as recorded; local codes and licensed practice decide."


def write(document: Document) -> dict[str, bytes]:
    """Return `schedules.xlsx`."""
    show = document.telling.project.show
    title = shortened(plain(document.pages.title), 50)
    book = Book(
        system=show.units,
        currency=plain(show.currency),
        family=family_of(document),
        accent=document.look.accent,
        footer=" \u00b7 ".join(part for part in (title, issue_of(document)) if part),
    )
    sheets = list(sheets_of(document))
    first = book.page(_FIRST)
    titles = [(book.table(sheet).title, sheet) for sheet in sheets]
    _first_sheet(book, first, document, titles)
    stream = io.BytesIO()
    book.book.save(stream)
    return {"schedules.xlsx": packed(stream.getvalue(), about_of(document, "schedules"))}


def _first_sheet(book: Book, page: Any, document: Document, titles: list[tuple[str, Sheet]]) -> None:
    """Say what this is: title and issue, what changed, what is undecided, which sheets follow."""
    from openpyxl.worksheet.hyperlink import Hyperlink

    pages = document.pages
    page.column_dimensions["A"].width, page.column_dimensions["B"].width = 26.0, _WIDE
    page.page_setup.orientation = "portrait"
    book.put(page.cell(1, 1), pages.title or "Schedules", font="title")
    page.cell(1, 1).alignment = book.one_line
    row = 3
    facts: list[tuple[str, Value]] = [
        ("Issue", issue_of(document)),
        ("For", for_whom(document).removeprefix("For ")),
        ("Studio", studio_of(document)),
        ("Designer", designer_of(document)),
        ("Lengths", "inches, in fractions" if document.telling.project.show.units == "us" else "millimetres"),
        ("Amounts", document.telling.project.show.currency),
        ("Held against", pages.yardstick),
    ]
    for label, value in facts:
        if value:
            row = _pair(book, page, row, label, value)
    row = _pair(book, page, row, "", _DECIDES)
    row = _part(book, page, row, changed_heading(pages))
    for line in changed_sentences(pages):
        row = _pair(book, page, row, "", line)
    if pages.undecided:
        row = _part(book, page, row, UNDECIDED)
        for one in pages.undecided:
            due = f"due {one.due}" if one.due else ""
            words = ", ".join(part for part in (one.room, one.by, due) if part)
            row = _pair(book, page, row, f"No. {one.number}", f"{one.title} ({words})")
    if titles:
        row = _part(book, page, row, "Sheets")
    for name, sheet in titles:
        rows = len(sheet.rows)
        _pair(book, page, row, name, f"{rows} {'row' if rows == 1 else 'rows'}")
        place = page.cell(row, 1)
        place.hyperlink = Hyperlink(ref=place.coordinate, location=f"'{name}'!A1")
        place.font = book.fonts["link"]
        row += 1


def _part(book: Book, page: Any, row: int, title: str) -> int:
    book.put(page.cell(row + 1, 1), title, font="accent")
    page.cell(row + 1, 1).alignment = book.one_line
    return row + 2


def _pair(book: Book, page: Any, row: int, label: str, value: Value) -> int:
    book.put(page.cell(row, 1), label, font="bold")
    book.put(page.cell(row, 2), value)
    page.row_dimensions[row].height = row_height(str(value or ""), _WIDE)
    return row + 1
