"""Messages that no page sends by itself, each of which once broke something: see also `laws/test_any_message.py`."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

from enfilade.capture.desk import Desk
from enfilade.capture.page import Page
from enfilade.capture.parts import parts
from enfilade.capture.plain_data import plain_data
from enfilade.editing.quoting import told_back
from enfilade.errors import Refused
from enfilade.lengths import parse_length
from enfilade.project.demo import demo
from enfilade.project.store import load, save

HALF = "\ud83d"
NESTED = json.loads("[" * 300 + "]" * 300)


@pytest.fixture
def page(tmp_path: Path) -> Page:
    save(demo(), tmp_path / "house")
    return Page(Desk.open(tmp_path / "house"), sections=[name for name in parts() if name != "start"], room="kitchen")


def desk_of(page: Page) -> Desk:
    assert page.desk is not None
    return page.desk


def refused(page: Page, **message: Any) -> str:
    """Return what is said to a message that is refused and changes nothing, with all that is expected at the fields."""
    before = desk_of(page).project
    answer = page.do(message)
    assert not answer["ok"]
    assert "could not be done" not in answer["say"]
    assert desk_of(page).project is before
    return "; ".join([answer["say"], *(one["expected"] for one in answer["errors"])])


@pytest.mark.parametrize("typed", [HALF, [HALF], {"a": [HALF]}])
def test_half_a_sign_is_kept_and_shown_as_any_text_that_is_sent(page: Page, typed: Any) -> None:
    answer = page.do({"do": "set", "path": ["decisions", "new", "title"], "typed": typed})
    shown = [getattr(page, name) for name in page.sections]
    assert "\ufffd" in json.dumps([answer, shown], ensure_ascii=False).encode().decode()


@pytest.mark.parametrize("value", [NESTED, {"a": NESTED}, float("nan"), float("inf"), {"a": -float("inf")}, object()])
def test_what_no_page_can_show_is_not_kept(page: Page, value: Any) -> None:
    assert "load the page again" in refused(page, do="set", path=["decisions", "new", "title"], typed=value)
    assert desk_of(page).drafts.paths() == ()
    with pytest.raises(Refused):
        plain_data(value)


@pytest.mark.parametrize("do", [None, 1, [], {}, "", "fly"])
def test_a_message_of_no_name_is_refused(page: Page, do: Any) -> None:
    assert "not known" in refused(page, do=do)


def test_nothing_is_done_to_a_house_that_is_not_open() -> None:
    answer = Page(sections=["head"]).do({"do": "undo"})
    assert answer["say"] == "no house is open on this page; open one first"


@pytest.mark.parametrize("far", [1e8, -1e8, 2e6])
def test_a_thing_is_moved_into_the_house_alone(page: Page, far: float) -> None:
    assert "outside every room" in refused(page, do="move", id="island", x=far, y=0, turn=0)
    page.hand = {"id": "island", "x": far, "y": 0, "turn": 0, "wall": None, "seq": 7}
    assert (page.live["seq"], page.live["changes"]) == (7, [])


@pytest.mark.parametrize(
    "odd", [{"x": float("nan")}, {"x": NESTED}, {"seq": HALF}, {"id": HALF}, {"id": None}, {"turn": "x"}]
)
def test_an_odd_hand_changes_nothing(page: Page, odd: dict[str, Any]) -> None:
    page.hand = {"id": "island", "x": 0, "y": 0, "turn": 0, "wall": None, "seq": 1, **odd}
    assert json.dumps(page.live, allow_nan=False, ensure_ascii=False).encode()


@pytest.mark.parametrize("typed", [[], "", None, "none"])
@pytest.mark.parametrize("path", [["things"], ["decisions"], ["spaces"], ["things", "island", "seating"]])
def test_a_whole_list_is_not_cleared_at_once(page: Page, path: list[str], typed: Any) -> None:
    assert "each removed on its own" in refused(page, do="set", path=path, typed=typed)


def test_a_step_that_changes_nothing_is_not_remembered(page: Page) -> None:
    desk = desk_of(page)
    window = desk.project.openings[0]
    page.do({"do": "nudge", "list": "openings", "id": window.id, "dx": 1e5, "dy": 1e5, "step": "fine"})
    steps, there = desk.undo_words, desk.project
    answer = page.do({"do": "nudge", "list": "openings", "id": window.id, "dx": 1e5, "dy": 1e5, "step": "fine"})
    assert "stays where it is" in answer["say"]
    desk.change("nothing", there.with_records(things=[one.model_copy() for one in there.things]))
    assert (desk.project, desk.undo_words) == (there, steps)


def test_a_record_called_new_is_typed_into_like_any_other(page: Page) -> None:
    added = page.do({"do": "add row", "path": ["products"], "values": {"name": "New"}})
    answer = page.do({"do": "set", "path": [*added["path"], "name"], "typed": "Tap"})
    assert answer["ok"]
    assert "Tap" in [one.name for one in load(desk_of(page).folder).products]


def test_a_workbook_that_points_before_its_beginning_is_no_workbook(page: Page) -> None:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        archive.writestr("xl/workbook.xml", "<a/>")
        archive.writestr("xl/other.xml", "<a/>")
    data = stream.getvalue()[:-22] + stream.getvalue()[-22:-6] + (10**6).to_bytes(4, "little") + b"\0\0"
    sent = {"schedule": "products", "name": "t", "upload": "u", "index": 0, "last": True, "buffers": [data]}
    assert "no workbook that can be read" in refused(page, do="schedule file", **sent)


def test_a_folder_that_cannot_be_is_refused_at_its_field(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("ENFILADE_DATA", str(tmp_path / "data"))
    page = Page(sections=["head"])
    for folder in ("\0", "a" * 3000, str(tmp_path / ("a" * 300))):
        for message in ({"do": "start project", "name": "House", "units": "us"}, {"do": "open project"}):
            answer = page.do({**message, "folder": folder})
            assert not answer["ok"]
            assert answer["errors"][0]["place"] in ("folder", "open")
    assert not list(tmp_path.rglob("project.json"))


@pytest.mark.parametrize(
    ("path", "typed", "said"),
    [
        (["things", "island", "width_mm"], "5\\6\0", "“5\\6�” is not a length"),
        (["things", "island", "width_mm"], "x" * 50, "“xxxxxxxxxxxxxxxxxxxx…” is not a length"),
        (["things", "island", "place"], "x" * 5000, f"“{'x' * 39}…” is no way to stand"),
        (["things", "island", "space"], "attic\n", "“attic” is not among the rooms"),
        (["show", "date"], "soon", "“soon” is not a day"),
        (["spaces", "kitchen", "outline"], [["0", "0"], ["9", "9"]], "2 where at least 3 are wanted"),
        (["client", "names"], ["x"] * 6000, "6,000 are too many; at most 5,000"),
    ],
)
def test_what_was_typed_is_told_back_as_people_write(page: Page, path: list[str], typed: Any, said: str) -> None:
    assert said in refused(page, do="set", path=path, typed=typed)


def test_words_of_a_length_that_was_typed_are_kept() -> None:
    with pytest.raises(Refused) as error:
        parse_length("3 feat")
    assert told_back(error.value.what, "3 feat") == "“3 feat” is not a length"
    assert told_back("out of range", 4) == "out of range"
