"""The schedules as a workbook, opened again."""

from __future__ import annotations

import datetime as dt
import io
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import enfilade as ef
from building import door, free, house, on_wall, room, thing
from enfilade.export.office.schedule_sheets import typed_sheet
from enfilade.export.office.sheets import _length_format
from enfilade.walkthrough.pages import Table
from hostile import FORMULAS, MARKER, with_hostile_text
from office_files import demo_told, files_of, private_parts, relations_outside, texts_in, written


def opened(data: bytes) -> Any:
    return openpyxl.load_workbook(io.BytesIO(data))


@pytest.fixture(scope="module")
def data() -> bytes:
    return written("xlsx", demo_told())


@pytest.fixture(scope="module")
def book(data: bytes) -> Any:
    return opened(data)


def rows_of(sheet: Any) -> list[dict[str, Any]]:
    head = [cell.value for cell in sheet[1]]
    return [dict(zip(head, row, strict=True)) for row in sheet.iter_rows(min_row=2, values_only=True)]


def test_there_is_a_sheet_for_each_schedule_and_register(book: Any) -> None:
    assert book.sheetnames[0] == "This issue"
    assert {"Undecided", "Cabinets", "Openings", "Finishes by room", "Products", "Finishes bought", "Services",
            "Open points", "To verify", "Decisions", "Needs"} <= set(book.sheetnames)  # fmt: skip
    assert all(sheet.sheet_state == "visible" for sheet in book.worksheets)


def test_lengths_are_numbers_in_the_unit_of_the_head(book: Any) -> None:
    things = {one.called: one for one in ef.demo().things}
    rows = rows_of(book["Cabinets"])
    assert len(rows) > 30
    for row in rows:
        assert isinstance(row["Width (in)"], int | float)
        assert row["Width (in)"] == pytest.approx(things[row["Cabinet"]].width_mm / 25.4, abs=1e-3)  # 25.4 mm: exact
    metric = opened(written("xlsx", house([thing("base cabinet", "b", 24, 24, on_wall("kitchen-south", 0))],
                                          show={"units": "metric"})))  # fmt: skip
    (row,) = rows_of(metric["Cabinets"])
    assert row["Width (mm)"] == pytest.approx(24 * 25.4, abs=1e-3)


def test_inches_show_as_fractions_of_the_least_denominator() -> None:
    forms = {30.0: "0", 34.5: "# ?/2", 4.25: "# ?/4", 3.625: "# ?/8", 33.6875: "# ??/16"}
    assert {value: _length_format(value, "us") for value in forms} == forms


def test_money_is_a_number_with_two_decimals_and_the_currency_in_the_head(book: Any) -> None:
    sheet = book["Products"]
    heads = {cell.value: cell.column for cell in sheet[1]}
    products = {one.name: one.purchase for one in ef.demo().products}
    seen = 0
    for row in sheet.iter_rows(min_row=2):
        name, price = row[0].value, row[heads["Ordered price (USD)"] - 1]
        asked = products[name].ordered_price
        assert price.value == (None if asked is None else float(asked))
        seen += asked is not None
        assert asked is None or price.number_format == "#,##0.00"
    assert seen > 5
    over = {row["Name"]: row["Over allowance (USD)"] for row in rows_of(sheet) if row["Over allowance (USD)"]}
    assert over == {"hood, 36 in, fan on the roof": 280}  # quoted 3,480 against 3,200 set aside


def test_days_are_days(book: Any) -> None:
    for row in rows_of(book["Undecided"]):
        assert isinstance(row["By when"], dt.datetime | dt.date)
    assert book["Undecided"]["E2"].number_format == "yyyy-mm-dd"
    services = rows_of(book["Services"])
    assert sum(isinstance(row["Next due"], dt.datetime) for row in services) > len(services) / 2


def test_heads_stay_in_sight_filter_and_print_on_each_page(book: Any) -> None:
    for sheet in book.worksheets[1:]:
        assert sheet.freeze_panes == "B2"
        assert sheet.auto_filter.ref
        assert sheet.print_title_rows == "$1:$1"
        assert sheet.page_setup.orientation == "landscape"
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet["A1"].font.bold
        assert "version 4" in sheet.oddFooter.left.text
        assert "2026-03-16" in sheet.oddFooter.left.text
        assert all(cell.value for cell in sheet[1])


def test_the_first_sheet_says_what_this_is(book: Any) -> None:
    text = "\n".join(str(cell.value) for row in book["This issue"].iter_rows() for cell in row if cell.value)
    assert text.startswith("The Long Shed")
    assert "version 4" in text
    assert "Still to be decided" in text
    assert "What becomes of the fireplace" in text
    assert "local codes and licensed practice decide" in text


def hostile_house(texts: tuple[str, ...]) -> Any:
    return house(
        [thing("base cabinet", f"b{n}", 24, 24, free(20 + 14 * n, 60), name=text) for n, text in enumerate(texts)],
        openings=[door("door", "kitchen-south", 50, name=texts[0])],
        products=[{"id": f"p{n}", "name": text, "care": text} for n, text in enumerate(texts)],
        name=texts[0],
    )


def test_what_looks_like_a_formula_is_text_as_it_was_typed() -> None:
    texts = tuple(text for text in FORMULAS if text.strip() == text)
    data = written("xlsx", hostile_house(texts))
    book = opened(data)
    assert [row["Name"] for row in rows_of(book["Products"])] == list(texts)
    assert {row["Cabinet"] for row in rows_of(book["Cabinets"])} == set(texts)
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type != "f"
                if isinstance(cell.value, str) and cell.value in FORMULAS:
                    assert cell.quotePrefix
    parts = files_of(data)
    assert not any(b"<f>" in part or b"<f " in part for name, part in parts.items() if "worksheets" in name)
    assert list(relations_outside(parts)) == []


def test_signs_that_no_file_may_hold_are_seen_to_be_gone() -> None:
    book = opened(written("xlsx", house(products=[{"id": "p", "name": "la\u202erch", "care": "a_x0041_b"}])))
    (row,) = rows_of(book["Products"])
    assert row["Name"] == "la\ufffdrch"
    # ECMA-376 part 1, 22.4.2.4: `_x0041_` stands for A, unless its underscore is itself coded.
    assert row["Care"] in ("a_x005F_x0041_b", "a_x0041_b")


def test_a_cell_holds_what_a_cell_can_and_says_that_there_is_more() -> None:
    """32,767 signs: the specification limits of the common spreadsheet programs (recalled)."""
    book = opened(written("xlsx", house(products=[{"id": "p", "name": "tap", "care": "x" * 100_000}])))
    (row,) = rows_of(book["Products"])
    assert len(row["Care"]) == 32_767
    assert row["Care"].endswith("(the rest stands in the project)")


def test_an_empty_house_has_its_first_sheet_alone() -> None:
    assert opened(written("xlsx", house(spaces=[]))).sheetnames == ["This issue"]


def test_hostile_text_stays_text() -> None:
    data = written("xlsx", with_hostile_text(ef.demo())[0])
    parts = files_of(data)
    assert any(
        MARKER in texts_in(part) for name, part in parts.items() if name.startswith("xl/") and name.endswith(".xml")
    )
    opened(data)


def test_the_same_record_gives_the_same_bytes_and_tells_nothing_of_the_machine(data: bytes) -> None:
    assert written("xlsx", demo_told()) == data
    assert private_parts(files_of(data), demo_told().pages.studio) == []


@pytest.mark.parametrize("audience", ["public", "student"])
def test_who_may_not_be_named_is_not(audience: Any) -> None:
    parts = files_of(written("xlsx", demo_told(audience)))
    text = " ".join(texts_in(part) for name, part in parts.items() if name.startswith("xl/") and name.endswith(".xml"))
    for name in ef.demo().client.names:
        assert name not in text
    book = opened(written("xlsx", demo_told(audience)))
    assert not any("USD" in str(cell.value) for sheet in book.worksheets for cell in sheet[1])


def test_a_hundred_rooms() -> None:
    spaces = [room(100, 100, id=f"r{n}", use="study", at=(n * 120, 0)) for n in range(100)]
    things = [thing("base cabinet", f"b{n}", 24, 24, free(n * 120 + 50, 50), space=f"r{n}") for n in range(100)]
    assert len(rows_of(opened(written("xlsx", house(things, spaces=spaces)))["Cabinets"])) == 100


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.text(max_size=30), st.text(max_size=30)), min_size=1, max_size=8))
def test_a_table_of_words_stays_words(rows: list[tuple[str, str]]) -> None:
    sheet = typed_sheet(Table("Any", ("A", "B"), tuple(rows)))
    for asked, kept in zip(rows, sheet.rows, strict=True):
        assert tuple(one.isoformat() if isinstance(one, dt.date) else one for one in kept) == asked
