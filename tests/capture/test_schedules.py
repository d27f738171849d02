"""The schedules of a page: what is shown, typed, pasted, brought in, taken and exported."""

from __future__ import annotations

import base64
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from building import free, house, room, thing
from enfilade.capture.desk import Desk
from enfilade.capture.parts import handlers, parts
from enfilade.capture.schedule_view import ON_A_PAGE
from enfilade.capture.sight import Sight
from enfilade.editing.tables.schedules import schedule_named
from enfilade.editing.tables.table_files import grid_of_file, schedule_csv
from enfilade.errors import BadRecord, EnfiladeError, Refused
from enfilade.project.store import load, save

OLD_WORKBOOK = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    project = house(
        [thing("seat", "stool-1", 17, 17, free(40, 40), top=25, name="stool by the sink", product="stool")],
        spaces=[room(144, 144)],
        products=[
            {"id": "range", "name": "range", "purchase": {"quote": "6400", "lead_time_days": 90,
                                                          "needed_on_site": "2026-06-15"}},
            {"id": "stool", "name": "stool", "purchase": {"allowance": "880"}},
        ],
        show={"currency": "EUR"},
    )  # fmt: skip
    save(project, tmp_path / "house")
    return Desk.open(tmp_path / "house")


@pytest.fixture
def sight() -> Sight:
    return Sight(room="kitchen")


def do(desk: Desk, sight: Sight, what: str, **more: Any) -> Any:
    return handlers()[what](desk, sight, {"do": what, **more})


def table(desk: Desk, sight: Sight) -> dict[str, Any]:
    shown: dict[str, Any] = parts()["schedules"].shown(desk, sight)
    return shown


def cell(desk: Desk, sight: Sight, row: str, key: str) -> dict[str, Any]:
    state = table(desk, sight)
    place = [column["key"] for column in state["columns"]].index(key)
    cells: list[dict[str, Any]] = next(one["cells"] for one in state["rows"] if one["id"] == row)
    return cells[place]


def sent(desk: Desk, sight: Sight, data: bytes, schedule: str = "products", name: str = "table.csv") -> Any:
    half = len(data) // 2
    first = {"schedule": schedule, "name": name, "upload": "u"}
    assert do(desk, sight, "schedule file", **first, index=0, last=False, buffers=[data[:half]]) == ""
    return do(desk, sight, "schedule file", **first, index=1, last=True, buffers=[data[half:]])


def test_a_table_shows_its_cells_as_they_are_typed(desk: Desk, sight: Sight) -> None:
    state = table(desk, sight)
    assert [one["title"] for one in state["names"]] == ["Products", "Finishes", "Furniture", "Openings"]
    assert [row["title"] for row in state["rows"]] == ["range", "stool"]
    assert cell(desk, sight, "range", "purchase.quote") == {"typed": "6,400"}
    assert cell(desk, sight, "range", "order_by") == {"typed": "2026-03-17"}
    assert "id" not in [column["key"] for column in state["columns"]]
    quote = next(column for column in state["columns"] if column["key"] == "purchase.quote")
    assert (quote["heading"], quote["unit"], quote["numeric"]) == ("Quote", "EUR", True)


def test_what_is_typed_in_a_cell_is_taken_and_what_cannot_be_stays_there(desk: Desk, sight: Sight) -> None:
    path = ["products", "range", "purchase", "quote"]
    do(desk, sight, "set", path=path, typed="6150")
    assert load(desk.folder).products[0].purchase.quote == Decimal(6150)
    with pytest.raises(BadRecord):
        do(desk, sight, "set", path=path, typed="dear")
    found = cell(desk, sight, "range", "purchase.quote")
    assert (found["typed"], found["draft"]) == ("6,150", "dear")
    assert found["error"]
    do(desk, sight, "set", path=path, typed="6100")
    assert cell(desk, sight, "range", "purchase.quote") == {"typed": "6,100"}


def test_the_effect_of_typing_is_told_against_the_house_before_the_field_was_begun(desk: Desk, sight: Sight) -> None:
    assert table(desk, sight)["effect"] == []
    for typed in ("6", "65", "650", "6500"):
        do(desk, sight, "set", path=["products", "range", "purchase", "quote"], typed=typed)
        told = table(desk, sight)["effect"]
    assert told == ["Quoted total up 100 to EUR\u00a06,500.", "Expected total up 100 to EUR\u00a07,380."]
    do(desk, sight, "set", path=["products", "range", "purchase", "lead_time_days"], typed="105")
    assert table(desk, sight)["effect"] == ["\u201crange\u201d must be ordered by 2026-03-02, was 2026-03-17."]
    do(desk, sight, "set", path=["products", "range", "note"], typed="seen")
    assert table(desk, sight)["effect"] == []
    assert parts()["budget"].shown(desk, sight)["effect"] == []


def test_an_import_is_looked_at_then_taken_in_one_step(desk: Desk, sight: Sight) -> None:
    before = desk.project
    data = "Name;Quote;Colour\nrange;6150;red\nhood;3480;\nstool;dear;\n".encode("utf-16")
    assert sent(desk, sight, data) == "Products: 1 new, 1 changed, 1 not taken"
    assert desk.project is before
    look = table(desk, sight)["look"]
    assert (look["source"], look["takes"], look["unread"]) == ("table.csv", 2, [["Colour", "not understood"]])
    assert [(row["number"], row["what"], row["name"]) for row in look["rows"]] == [
        (2, "changed", "range"), (3, "new", "hood"), (4, "refused", "stool"),
    ]  # fmt: skip
    assert look["rows"][0]["changes"] == [["Quote", "6,400", "6,150"]]
    assert look["rows"][2]["refusals"][0][:2] == ["Quote", "dear"]
    assert do(desk, sight, "schedule take", without=[3]) == "Took 1 row into products"
    assert [one.purchase.quote for one in desk.project.products] == [Decimal(6150), None]
    assert table(desk, sight)["look"] is None
    assert desk.undo() == "took 1 row into products"
    assert desk.project == before


def test_a_table_that_is_left_changes_nothing(desk: Desk, sight: Sight) -> None:
    before = desk.project
    do(desk, sight, "schedule paste", schedule="products", text="Name\tQuote\nrange\t1\n")
    do(desk, sight, "schedule leave")
    assert desk.project is before
    assert table(desk, sight)["look"] is None
    with pytest.raises(Refused, match="no table"):
        do(desk, sight, "schedule take", without=[])


def test_a_block_is_pasted_at_a_cell(desk: Desk, sight: Sight) -> None:
    do(desk, sight, "schedule paste", schedule="products", text="7\t8\n9\t\n", row="range", key="purchase.quote")
    do(desk, sight, "schedule take", without=[])
    assert [(one.purchase.quote, one.purchase.ordered_price) for one in desk.project.products] == [
        (Decimal(7), Decimal(8)), (Decimal(9), None),
    ]  # fmt: skip


def test_a_table_that_is_looked_at_follows_the_house(desk: Desk, sight: Sight) -> None:
    do(desk, sight, "schedule paste", schedule="products", text="Name\tQuote\nrange\t1\nhood\t2\n")
    do(desk, sight, "schedule add", schedule="products", values={"name": "hood"})
    assert [row["what"] for row in table(desk, sight)["look"]["rows"]] == ["changed", "changed"]
    do(desk, sight, "schedule take", without=[])
    assert len(desk.project.products) == 3


def test_empty_cells_clear_when_they_are_told_to(desk: Desk, sight: Sight) -> None:
    do(desk, sight, "schedule paste", schedule="products", text="Name\tQuote\nrange\t\n")
    assert table(desk, sight)["look"]["takes"] == 0
    with pytest.raises(Refused, match="no row is chosen"):
        do(desk, sight, "schedule take", without=[])
    do(desk, sight, "schedule turn", clear=True)
    do(desk, sight, "schedule take", without=[])
    assert desk.project.products[0].purchase.quote is None


@pytest.mark.parametrize(
    ("data", "words"),
    [(OLD_WORKBOOK, "old format"), (b"PK\x03\x04" + b"\0" * 60, "no workbook"), (b"", "empty"), (b"a\nb", "headings")],
)  # fmt: skip
def test_a_file_that_cannot_be_read_is_refused_and_nothing_is_looked_at(
    desk: Desk, sight: Sight, data: bytes, words: str
) -> None:
    with pytest.raises(Refused, match=words):
        sent(desk, sight, data)
    assert table(desk, sight)["look"] is None


def test_a_row_is_added_from_what_was_typed_and_kept_until_then(desk: Desk, sight: Sight) -> None:
    path = ["schedules", "furniture", "new", "name"]
    do(desk, sight, "schedule show", schedule="furniture")
    do(desk, sight, "set", path=path, typed="daybed")
    assert next(one["draft"] for one in table(desk, sight)["adding"] if one["key"] == "name") == "daybed"
    with pytest.raises(BadRecord) as refused:
        do(desk, sight, "schedule add", schedule="furniture", values={"name": "daybed", "kind": "bed"})
    assert [fault.place for fault in refused.value.faults] == ["space"]
    said = do(desk, sight, "schedule add", schedule="furniture",
              values={"name": "daybed", "kind": "bed", "space": "kitchen"})  # fmt: skip
    assert said == {"say": "daybed added", "id": "daybed"}
    assert load(desk.folder).thing("daybed").basis == "assumed"
    assert next(one["draft"] for one in table(desk, sight)["adding"] if one["key"] == "name") == ""
    with pytest.raises(Refused, match="already"):
        do(desk, sight, "schedule add", schedule="products", values={"name": "range"})


@pytest.mark.parametrize(("kind", "every", "name"), [("csv", False, "products.csv"), ("xlsx", True, "schedules.xlsx")])
def test_a_schedule_is_exported_as_a_file_that_changes_nothing(
    desk: Desk, sight: Sight, kind: str, every: bool, name: str
) -> None:
    said = do(desk, sight, "schedule export", schedule="products", **{"as": kind, "every": every})
    assert said["name"] == f"Test house, {name}"
    sent(desk, sight, base64.b64decode(said["base64"]))
    assert table(desk, sight)["look"]["takes"] == 0
    assert table(desk, sight)["look"]["words"] == "2 as they are"


def test_a_long_table_has_pages_and_a_filter(desk: Desk, sight: Sight) -> None:
    assert not table(desk, sight)["long"]
    more = [{"id": f"p-{i}", "name": f"tile {i}", "maker": f"maker {i % 7}"} for i in range(250)]
    desk.change("added tiles", desk.project.with_records(products=[*desk.project.products, *more]))
    state = table(desk, sight)
    assert (state["long"], state["pages"], len(state["rows"])) == (True, 3, ON_A_PAGE)
    do(desk, sight, "schedule show", page=2)
    assert len(table(desk, sight)["rows"]) == 252 - 2 * ON_A_PAGE
    assert do(desk, sight, "schedule show", filter="TILE  241") == "Products: 1 row"
    assert [row["title"] for row in table(desk, sight)["rows"]] == ["tile 241"]
    do(desk, sight, "schedule show", filter="maker 6")
    assert table(desk, sight)["seen"] >= len(range(6, 250, 7))


def test_no_id_stands_on_the_page_where_a_name_could(desk: Desk, sight: Sight) -> None:
    do(desk, sight, "schedule show", schedule="furniture", every=True)
    found = cell(desk, sight, "stool-1", "product")
    assert (found["typed"], found["label"]) == ("stool", "stool")
    assert dict(table(desk, sight)["choices"]["spaces"]["options"]) == {"kitchen": "Kitchen"}
    assert schedule_csv(desk.project, schedule_named("furniture")).decode("utf-8-sig").splitlines()[0].endswith(",Id")


ODD: list[dict[str, Any]] = [
    {"do": "schedule show", "schedule": "walls"},
    {"do": "schedule show", "page": "first"},
    {"do": "schedule show", "filter": 7},
    {"do": "schedule paste", "schedule": "products"},
    {"do": "schedule paste", "schedule": "products", "text": "\x00"},
    {"do": "schedule paste", "schedule": "products", "text": "x" * 2_000_001},
    {"do": "schedule file", "schedule": "products", "name": "a", "upload": "u", "index": 1, "buffers": [b"a"]},
    {"do": "schedule file", "schedule": "products", "name": "a", "upload": "u", "index": 0, "buffers": []},
    {"do": "schedule take", "without": "all"},
    {"do": "schedule take", "without": ["a"]},
    {"do": "schedule turn", "page": None},
    {"do": "schedule add", "schedule": "products"},
    {"do": "schedule add", "schedule": "products", "values": {"name": 3}},
    {"do": "schedule add", "schedule": "products", "values": {"width_mm": "3"}},
    {"do": "schedule export", "schedule": "products", "as": "exe"},
    {"do": "schedule export", "as": "csv"},
]


@pytest.mark.parametrize("message", ODD)
def test_odd_messages_are_refused_and_change_nothing(desk: Desk, sight: Sight, message: dict[str, Any]) -> None:
    before = desk.project
    with pytest.raises(EnfiladeError):
        handlers()[message["do"]](desk, sight, message)
    assert desk.project is before


def test_rows_of_a_preview_that_name_strange_cells_are_left_alone(desk: Desk, sight: Sight) -> None:
    for row, key in ((["range"], "name"), ("range", {"a": 1}), (None, 7), ("gone", "name")):
        do(desk, sight, "schedule paste", schedule="products", text="Name\nrange\n", row=row, key=key)
        assert table(desk, sight)["look"]["words"] == "1 as they are"


def test_a_grid_of_an_export_has_every_row(desk: Desk) -> None:
    schedule = schedule_named("products")
    assert len(grid_of_file(schedule_csv(desk.project, schedule), schedule).rows) == 2
