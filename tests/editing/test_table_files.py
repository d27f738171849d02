"""Schedules as files, and back: what was exported changes nothing when it is brought in again."""

from __future__ import annotations

import csv
import datetime as dt
import io
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

import enfilade
from building import door, free, house, on_wall, room, thing, window
from enfilade.editing.tables.cells import CUT
from enfilade.editing.tables.grids import LONGEST_CELL
from enfilade.editing.tables.importing import preview, taken
from enfilade.editing.tables.schedules import SCHEDULES, schedule_named
from enfilade.editing.tables.table_files import grid_of_file, guarded, schedule_csv, schedule_workbook, unguarded
from enfilade.project.project import Project

RISKY = ["=1+1", "+49 30", "-", "@home", "\tcmd", "'=x", "''=x", " =1", "\n=1", "\uff1d1", '=HYPERLINK("x")']


def files(project: Project, name: str) -> list[bytes]:
    schedule = schedule_named(name)
    return [schedule_csv(project, schedule), schedule_workbook(project, [schedule])]


def changes_nothing(project: Project, name: str, *, clear: bool) -> None:
    for data in files(project, name):
        found = preview(project, schedule_named(name), grid_of_file(data, schedule_named(name)), clear=clear)
        assert [(row.what, row.changes, row.refusals) for row in found.rows if row.what != "unchanged"] == []
        assert taken(project, found) is project
        assert {heading for heading, _ in found.unread} <= {"Order by"}


@pytest.mark.parametrize("name", SCHEDULES)
@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_demo_house_comes_back_as_it_went(name: str, units: str) -> None:
    project = enfilade.demo()
    project = project.model_copy(update={"show": project.show.model_copy(update={"units": units})})
    changes_nothing(project, name, clear=True)


@pytest.mark.parametrize("name", SCHEDULES)
def test_an_empty_house_has_empty_tables(name: str) -> None:
    for data in files(house(), name):
        assert grid_of_file(data, schedule_named(name)).rows == ()


TEXT = st.one_of(
    st.sampled_from(RISKY),
    st.text(st.characters(exclude_characters="\ufffe\uffff", exclude_categories=("Cs", "Cc")), max_size=12),
    st.text(st.sampled_from("a=' \"\n\r,;\t"), max_size=6),
    st.just("_x000D_\n"),
)
NAME = TEXT.filter(lambda text: text.strip())
AMOUNT = st.none() | st.decimals(0, 10**12 - 1, places=2)
PURCHASE = st.fixed_dictionaries(
    {},
    optional={
        "allowance": AMOUNT,
        "quote": AMOUNT,
        "ordered_price": AMOUNT,
        "quantity": st.none() | st.floats(1e-6, 1e6),
        "quantity_unit": TEXT,
        "lead_time_days": st.none() | st.integers(0, 3650),
        "needed_on_site": st.none() | st.dates(dt.date(1900, 3, 1), dt.date(9999, 12, 31)),
    },
)
PRODUCT = st.fixed_dictionaries(
    {"name": TEXT, "maker": TEXT, "may_be_credited": st.booleans(), "care": TEXT, "note": TEXT, "purchase": PURCHASE}
)
FINISH = st.fixed_dictionaries(
    {"name": NAME, "material": TEXT, "colour": st.none() | st.from_regex("#[0-9a-f]{6}", fullmatch=True), "note": TEXT}
)
LAWS = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@LAWS
@given(st.lists(PRODUCT, max_size=4), st.sampled_from(["", "EUR", "kr"]), st.booleans())
def test_products_that_were_exported_change_nothing(products: list[Any], currency: str, clear: bool) -> None:
    records = [{"id": f"p-{i}", **one} for i, one in enumerate(products)]
    changes_nothing(house(products=records, show={"currency": currency}), "products", clear=clear)


@LAWS
@given(st.lists(FINISH, max_size=4), st.booleans())
def test_finishes_that_were_exported_change_nothing(finishes: list[Any], clear: bool) -> None:
    changes_nothing(
        house(finishes=[{"id": f"f-{i}", **one} for i, one in enumerate(finishes)]), "finishes", clear=clear
    )


SIZE = st.floats(0.1, 100)


@LAWS
@given(st.lists(st.tuples(NAME | st.just(""), SIZE, SIZE, SIZE), max_size=4), st.sampled_from(["us", "metric"]))
def test_furniture_that_was_exported_changes_nothing(pieces: list[tuple[str, float, float, float]], units: str) -> None:
    kinds = ("seat", "rug", "furniture", "screen")
    things = [
        thing(kinds[i], f"t-{i}", width, depth, free(72, 72), bottom=height / 3, top=height, name=name)
        for i, (name, width, depth, height) in enumerate(pieces)
    ]
    changes_nothing(house(things, show={"units": units}), "furniture", clear=True)


@LAWS
@given(st.floats(0, 60), st.floats(1, 40), NAME, st.none() | st.floats(0.01, 100), st.sampled_from(["us", "metric"]))
def test_openings_that_were_exported_change_nothing(
    offset: float, width: float, name: str, glass: float | None, units: str
) -> None:
    rooms = [room(144, 144), room(144, 144, id="dining", at=(149, 0))]
    openings = [
        door("d", "kitchen-east", offset, width, name=name, beyond="dining-west", entry=False),
        window("w", "kitchen-north", offset, width, glazing={"area_m2": glass, "safety_glass": True}, beyond="none"),
        window("v", "kitchen-west", offset, width, glazing="none"),
    ]
    changes_nothing(house(spaces=rooms, openings=openings, show={"units": units}), "openings", clear=True)


def test_a_text_too_long_for_a_cell_is_cut_and_stays_whole_in_the_project() -> None:
    project = house(products=[{"id": "a", "name": "a", "care": "x" * 40_000, "note": "y" * LONGEST_CELL}])
    changes_nothing(project, "products", clear=True)
    rows = grid_of_file(files(project, "products")[0], schedule_named("products")).rows
    assert any(isinstance(cell, str) and cell.endswith(CUT) for cell in rows[0].cells)


@pytest.mark.parametrize("text", RISKY)
def test_what_a_spreadsheet_would_take_for_a_formula_is_written_as_text(text: str) -> None:
    project = house(products=[{"id": "a", "name": text, "maker": text}])
    csv_file, workbook = files(project, "products")
    row = list(csv.reader(io.StringIO(csv_file.decode("utf-8-sig"), newline="")))[1]
    assert row[0] == guarded(text) == f"'{text}"
    assert row[0][0] not in "=+-@\t\r"
    cell = load_workbook(io.BytesIO(workbook)).worksheets[0]["A2"]
    assert (cell.data_type, cell.quotePrefix) == ("s", True)


@given(st.text(max_size=8) | st.sampled_from(RISKY))
def test_the_guard_comes_off_again(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert guarded(text).lstrip()[:1] not in ("=", "+", "-", "@")


def test_a_workbook_has_typed_cells_and_a_head_that_stays() -> None:
    project = house(
        [thing("seat", "s", 18.5, 20, on_wall("kitchen-north", 20), name="bench", product="a")],
        products=[{"id": "a", "name": "range", "purchase": {"quote": "6400.50", "needed_on_site": "2026-06-15"}}],
        show={"currency": "EUR"},
    )
    book = load_workbook(io.BytesIO(schedule_workbook(project, list(SCHEDULES.values()))))
    assert book.sheetnames == ["Products", "Finishes", "Furniture", "Openings"]
    sheet = book["Products"]
    head = [cell.value for cell in sheet[1]]
    row = dict(zip(head, sheet[2], strict=True))
    assert row["Quote (EUR)"].value == 6400.5
    assert row["Quote (EUR)"].number_format == "#,##0.00"
    assert row["Needed on site"].value == dt.datetime(2026, 6, 15)
    assert head[-1] == "Id"
    assert (sheet.freeze_panes, sheet.print_title_rows) == ("B2", "$1:$1")
    assert book["Furniture"]["D2"].value == 18.5
    assert book["Furniture"]["D1"].value == "Width (in)"


def test_amounts_and_lengths_survive_to_the_cent_and_the_tenth_of_a_millimetre() -> None:
    # 0.0001 in is 0.00254 mm: a length that is brought into another house is off by no more.
    there = house([thing("seat", "s", 18.51234, 20, free(72, 72), name="bench")])
    here = house()
    for data in files(there, "furniture"):
        schedule = schedule_named("furniture")
        made = taken(here, preview(here, schedule, grid_of_file(data, schedule))).things[0]
        assert made.width_mm == pytest.approx(18.51234 * 25.4, abs=0.00254)
    prices = house(products=[{"id": "a", "name": "a", "purchase": {"quote": "999999999999.99"}}])
    for data in files(prices, "products"):
        schedule = schedule_named("products")
        assert taken(here, preview(here, schedule, grid_of_file(data, schedule))).products[0].purchase.quote == Decimal(
            "999999999999.99"
        )
