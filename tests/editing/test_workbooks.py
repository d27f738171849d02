"""Workbooks as spreadsheets write them, and as somebody with bad intent would."""

from __future__ import annotations

import datetime as dt
import io
import time
import zipfile
from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from enfilade.editing.tables.grids import MOST_ROWS, Unreadable
from enfilade.editing.tables.workbooks import MOST_ENTRIES, MOST_UNPACKED, grid_of_workbook, is_workbook
from enfilade.errors import Refused

BOMB = b"""<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>
<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1"
t="inlineStr"><is><t>&b;</t></is></c></row></sheetData></worksheet>"""
SHEET = "xl/worksheets/sheet1.xml"


def book(*rows: list[Any], more: Callable[[Workbook], object] | None = None) -> bytes:
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    sheet.title = "Products"
    for row in rows:
        sheet.append(row)
    if more is not None:
        more(workbook)
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


def repacked(data: bytes, parts: dict[str, bytes | None], compression: int = zipfile.ZIP_DEFLATED) -> bytes:
    """Return a workbook with other parts; None takes one out."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(stream, "w", compression) as new:
        for name in [*(one for one in old.namelist() if one not in parts), *parts]:
            content = parts.get(name, old.read(name) if name in old.namelist() else None)
            if content is not None:
                new.writestr(name, content)
    return stream.getvalue()


def sheet_of(cells: str) -> bytes:
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    return f'<worksheet xmlns="{main}"><sheetData>{cells}</sheetData></worksheet>'.encode()


def test_cells_come_as_what_they_are() -> None:
    day = dt.date(2026, 6, 15)
    rows = ["Name", "Quote", "Day", "Yes"], ["range", 6400.1, day, True], ["hood", 3480, None, None]
    grid = grid_of_workbook(book(*rows))
    assert grid.headings == ("Name", "Quote", "Day", "Yes")
    assert [row.cells for row in grid.rows] == [("range", Decimal("6400.1"), day, True), ("hood", Decimal(3480))]
    assert [row.number for row in grid.rows] == [2, 3]


def test_figures_are_those_that_the_spreadsheet_shows() -> None:
    grid = grid_of_workbook(book(["Quote"], [0.1 + 0.2], [1e15], [dt.datetime(2026, 6, 15, 8, 30)]))
    assert [row.cells[0] for row in grid.rows] == [Decimal("0.3"), Decimal("1E+15"), "2026-06-15 08:30:00"]


def test_formulas_are_never_worked_out() -> None:
    grid = grid_of_workbook(book(["Name", "Quote"], ["range", "=1+1"], ["hood", '=HYPERLINK("x","y")']))
    for row in grid.rows:
        assert isinstance(row.cells[1], Unreadable)
        assert "formula" in row.cells[1].what


def test_the_kept_value_of_a_formula_is_read() -> None:
    kept = sheet_of(
        '<row r="1"><c r="A1" t="inlineStr"><is><t>Quote</t></is></c></row>'
        '<row r="2"><c r="A2"><f>40+2</f><v>42</v></c></row><row r="3"><c r="A3"><f>40+2</f></c></row>'
        '<row r="4"><c r="A4" t="e"><f>1/0</f><v>#DIV/0!</v></c></row>'
    )
    rows = grid_of_workbook(repacked(book(["Quote"]), {SHEET: kept})).rows
    assert rows[0].cells == (Decimal(42),)
    assert [isinstance(row.cells[0], Unreadable) for row in rows] == [False, True, True]


def test_the_sheet_of_the_title_is_read_and_else_the_first_that_is_shown() -> None:
    def more(workbook: Workbook) -> None:
        workbook.worksheets[0].sheet_state = "hidden"
        workbook.create_sheet("Notes").append(["Note"])
        workbook.create_sheet("Finishes").append(["Material"])

    data = book(["Name"], more=more)
    assert grid_of_workbook(data, "finishes").headings == ("Material",)
    found = grid_of_workbook(data, "Products")
    assert found.headings == ("Note",)
    assert "Notes" in found.notes[0]


def test_gaps_and_far_cells_do_not_take_time() -> None:
    gap = sheet_of(
        '<row r="1"><c r="A1"><v>1</v></c></row><row r="900000000000"><c r="XFD900000000000"><v>2</v></c></row>'
    )
    started = time.perf_counter()
    grid = grid_of_workbook(repacked(book(["x"]), {SHEET: gap}))
    assert time.perf_counter() - started < 5
    assert grid.headings == ("1",)
    assert "to the right" in grid.notes[0]


def many(count: int) -> bytes:
    rows = "".join(f'<row r="{i}"><c r="A{i}"><v>{i}</v></c></row>' for i in range(1, count + 1))
    return repacked(book(["x"]), {SHEET: sheet_of(rows)}, zipfile.ZIP_STORED)


def locked() -> bytes:
    data = bytearray(book(["Name"]))
    place = data.find(b"PK\x01\x02")
    while place >= 0:
        data[place + 8] |= 1
        place = data.find(b"PK\x01\x02", place + 4)
    return bytes(data)


GOOD = book(["Name"], ["range"])
MACRO_TYPES = b"""<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Override
PartName="/xl/workbook.xml" ContentType="application/vnd.ms-excel.sheet.macroEnabled.main+xml"/></Types>"""


def hidden() -> bytes:
    with zipfile.ZipFile(io.BytesIO(GOOD)) as archive:
        part = archive.read("xl/workbook.xml")
    return repacked(GOOD, {"xl/workbook.xml": part.replace(b'state="visible"', b'state="hidden"')})


def media(count: int, size: int) -> bytes:
    return repacked(GOOD, {f"xl/media/{i}.bin": bytes(size) for i in range(count)})


UTF_16_BOMB = BOMB.decode().replace('1.0"', '1.0" encoding="utf-16"').encode("utf-16")
BAD: dict[str, tuple[Callable[[], bytes], str]] = {
    "old": (lambda: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "old format or locked"),
    "cut short": (lambda: GOOD[:900], "no workbook"),
    "a head alone": (lambda: b"PK\x03\x04" + b"\0" * 50, "no workbook"),
    "another archive": (lambda: repacked(GOOD, {"xl/workbook.xml": None}), "no workbook"),
    "macros": (lambda: repacked(GOOD, {"xl/vbaProject.bin": b"x"}), "macros"),
    "macros by its type": (lambda: repacked(GOOD, {"[Content_Types].xml": MACRO_TYPES}), "macros"),
    "entities": (lambda: repacked(GOOD, {SHEET: BOMB}), "entities"),
    "entities in another encoding": (lambda: repacked(GOOD, {SHEET: UTF_16_BOMB}), "entities"),
    "entities under another name": (lambda: repacked(GOOD, {"xl/other.png": BOMB}), "entities"),
    "broken XML": (lambda: repacked(GOOD, {SHEET: b"<worksheet>"}), "no workbook"),
    "deep XML": (lambda: repacked(GOOD, {SHEET: sheet_of("<x>" * 200 + "</x>" * 200)}), "more than a table"),
    "much XML": (lambda: repacked(GOOD, {SHEET: sheet_of("<x/>" * 1_500_001)}, zipfile.ZIP_STORED), "more than a"),
    "a large part of nothing": (lambda: media(1, 20_000_000), "far more"),
    "many parts of nothing": (lambda: media(MOST_UNPACKED // 990_000 + 1, 990_000), "unpacks to"),
    "too many parts": (lambda: media(MOST_ENTRIES, 1), "odd way"),
    "odd packing": (lambda: repacked(GOOD, {"xl/media/a.bin": b"x"}, zipfile.ZIP_LZMA), "odd way"),
    "a password": (locked, "password"),
    "too many rows": (lambda: many(MOST_ROWS + 2), "rows"),
    "nothing to see": (hidden, "no sheet"),
    "too large": (lambda: GOOD + b"\0" * (9 * 1024 * 1024), "bytes"),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD)
def test_a_workbook_that_must_not_be_opened_is_refused_with_words(name: str) -> None:
    make, words = BAD[name]
    data = make()
    assert is_workbook(data)
    started = time.perf_counter()
    with pytest.raises(Refused, match=words):
        grid_of_workbook(data)
    assert time.perf_counter() - started < 5


def test_two_parts_of_one_name_are_refused() -> None:
    stream = io.BytesIO(GOOD)
    with zipfile.ZipFile(stream, "a") as archive, pytest.warns(UserWarning, match="Duplicate"):
        archive.writestr(SHEET, sheet_of(""))
    with pytest.raises(Refused, match="odd way"):
        grid_of_workbook(stream.getvalue())


def test_a_size_that_lies_unpacks_no_more_than_it_says() -> None:
    data = bytearray(repacked(GOOD, {"xl/media/zeros.bin": b"\0" * 3_000_000}))
    place = data.rfind(b"PK\x01\x02")
    data[place + 24 : place + 28] = (1000).to_bytes(4, "little")
    with pytest.raises(Refused, match="no workbook"):
        grid_of_workbook(bytes(data))


@settings(suppress_health_check=[HealthCheck.too_slow], max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, len(GOOD) - 1), st.integers(0, 255)), min_size=1, max_size=12))
def test_any_damage_is_read_or_refused(damage: list[tuple[int, int]]) -> None:
    data = bytearray(GOOD)
    for place, value in damage:
        data[place] = value
    try:
        grid_of_workbook(bytes(data))
    except Refused:
        return
