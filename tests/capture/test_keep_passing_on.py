"""The parts `comparison` and `handover`: houses side by side, boxes, copies for students, and a client forgotten."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.archive.archive import Archive
from enfilade.archive.store import Store
from enfilade.capture.desk import Desk
from enfilade.capture.page import Page
from keeping_pages import asked, changed, keep_page, looked


@pytest.fixture
def page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    for one in keep_page(ef.demo(), tmp_path, monkeypatch):
        asked(one, "keep version", who="W. Overmantle", why="as measured")
        yield one


def state_of(page: Page, part: str) -> dict[str, Any]:
    state: dict[str, Any] = getattr(page, part)
    assert json.loads(json.dumps(state)) == state  # plain JSON
    return state


def keep_others(folder: Path, count: int) -> None:
    house = ef.demo()
    with Archive() as archive:
        for number in range(count):
            other = house.model_copy(update={"id": f"house-{number:02}", "name": f"House <b>{number:02}</b>"})
            ef.save(other, folder / other.id)
            archive.keep(folder / other.id, why="")


# Side by side


def test_this_house_is_held_against_its_earlier_version_and_another(page: Page, tmp_path: Path) -> None:
    keep_others(tmp_path, 1)
    changed(page, "island", name="Long island")
    looked(page)
    state = state_of(page, "comparison")
    assert [one["key"] for one in state["versions"]] == ["long-shed@1"]
    assert [one["id"] for one in state["houses"]] == ["house-00"]
    asked(page, "compare houses", others=["long-shed@1", "house-00@1"])
    compared = state_of(page, "comparison")["compared"]
    assert len(compared["columns"]) == 3
    assert compared["tables"]
    assert all(len(row) == len(table["head"]) for table in compared["tables"] for row in table["rows"])
    assert not compared["stale"]
    changed(page, "island", name="Short island")
    assert state_of(page, "comparison")["compared"]["stale"]
    asked(page, "leave comparison")
    assert state_of(page, "comparison")["compared"] is None


def test_many_houses_are_found_by_a_part_of_their_name(page: Page, tmp_path: Path) -> None:
    keep_others(tmp_path, 12)
    looked(page)
    state = state_of(page, "comparison")
    assert (len(state["houses"]), state["many"], state["counted"]) == (
        8, True, "The first 8 of 12 houses are listed by name; type more of the name to find others."
    )  # fmt: skip
    asked(page, "name houses", named=" house <B>11 ")
    assert [one["id"] for one in state_of(page, "comparison")["houses"]] == ["house-11"]
    assert state_of(page, "comparison")["counted"] == "1 house is called so."
    asked(page, "name houses", named="nobody")
    assert state_of(page, "comparison")["houses"] == []
    assert state_of(page, "comparison")["counted"] == "No house is called so."


@pytest.mark.parametrize(
    "others",
    [None, [], [3], ["long-shed"], ["../demo@1"], ["/etc@1"], ["long-shed@9"], [f"house-{n}@1" for n in range(6)]],
)
def test_what_cannot_be_compared_is_refused(page: Page, others: Any) -> None:
    looked(page)
    answer = page.do({"do": "compare houses", "others": others})
    assert not answer["ok"]
    assert state_of(page, "comparison")["compared"] is None


# Boxes


def test_a_box_is_written_and_taken_in_elsewhere(page: Page, tmp_path: Path) -> None:
    said = asked(page, "write box", folder=str(tmp_path))["say"]
    path = tmp_path / "long-shed-box.zip"
    assert str(path) in said
    assert path.is_file()
    assert "already" in asked(page, "take in box", box=str(path))["say"]
    asked(page, "use archive", where=str(tmp_path / "other.sqlite"))
    assert "version 1 added" in asked(page, "take in box", box=str(path))["say"]
    assert [one["why"] for one in page.archive["versions"]] == ["as measured"]
    asked(page, "unpack box", box=str(path), folder=str(tmp_path / "unpacked"))
    assert ef.load(tmp_path / "unpacked").name == ef.demo().name
    assert "unpacked" in state_of(page, "passing")["said"]["in"]


@pytest.mark.parametrize(
    ("do", "message", "place"),
    [
        ("write box", {"folder": ""}, "box folder"),
        ("write box", {"folder": "here"}, "box folder"),
        ("write box", {"folder": "/no/such/folder"}, "box folder"),
        ("write box", {"folder": "/a\0b"}, "box folder"),
        ("take in box", {"box": "/no/such/box.zip"}, "box"),
        ("take in box", {"box": "box.zip"}, "box"),
        ("unpack box", {"box": "", "folder": "/tmp"}, "box"),
        ("release copy", {"to": "", "why": ""}, "students"),
        ("release copy", {"to": "students.sqlite", "why": ""}, "students"),
        ("release copy", {"to": "../students.sqlite", "why": ""}, "students"),
        ("release copy", {"to": "postgresql://a:secret99@b/c", "why": ""}, "students"),
        ("forget client", {"name": "Another house"}, "house name"),
    ],
)
def test_what_is_refused_is_told_at_its_field(page: Page, do: str, message: dict[str, Any], place: str) -> None:
    answer = page.do({"do": do, **message})
    assert not answer["ok"]
    assert [error["place"] for error in answer["errors"]] == [place]
    assert "secret99" not in json.dumps([answer, state_of(page, "passing")])


def test_a_damaged_box_is_refused_and_nothing_is_taken(page: Page, tmp_path: Path) -> None:
    asked(page, "write box", folder=str(tmp_path))
    path = tmp_path / "long-shed-box.zip"
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 0xFF
    path.write_bytes(data)
    asked(page, "use archive", where=str(tmp_path / "other.sqlite"))
    answer = page.do({"do": "take in box", "box": str(path)})
    assert not answer["ok"]
    assert answer["errors"][0]["place"] == "box"
    assert looked(page)["versions"] == []


@pytest.mark.parametrize(
    ("do", "field", "name"),
    [
        ("write box", "folder", "boxes"),
        ("take in box", "box", "long-shed-box.zip"),
        ("release copy", "to", "students.sqlite"),
        ("use archive", "where", "archive.sqlite"),
    ],
)
def test_a_path_from_nowhere_is_refused_with_one_from_the_root(
    page: Page, do: str, field: str, name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)  # as the page's program runs somewhere that nobody knows
    before = sorted(one.name for one in tmp_path.iterdir())
    answer = page.do({"do": do, field: name, "why": ""})
    assert not answer["ok"]
    assert "is no whole path" in answer["say"]
    assert str(Path.home() / name) in json.dumps(answer)
    assert sorted(one.name for one in tmp_path.iterdir()) == before


# Students


def test_a_copy_for_students_holds_no_name_of_the_client(page: Page, tmp_path: Path) -> None:
    assert page.desk is not None
    asked(page, "release copy", to=str(tmp_path / "students.sqlite"), why="for the second year")
    said = state_of(page, "passing")["said"]["released"]
    assert "Released for students as version 1" in said
    assert str(tmp_path / "students.sqlite") in said
    with Store(str(tmp_path / "students.sqlite"), create=False) as store:
        assert store.released
        (kept,) = store.projects()
        told = store.file(kept.id)
    for name in page.desk.project.client.names:
        assert name.encode() not in told


# Forgetting


def test_forgetting_is_shown_first_asks_for_the_name_and_leaves_none(page: Page) -> None:
    assert page.desk is not None
    names = page.desk.project.client.names
    assert names
    changed(page, "island", name="Long island")
    assert page.desk.undo_words
    refused = page.do({"do": "forget client", "name": page.desk.project.name})
    assert "look first" in refused["errors"][0]["expected"]
    asked(page, "tell forgetting")
    told = state_of(page, "forgetting")["told"]
    assert told["erased"]
    assert told["remains"]
    assert page.desk.project.client.names == names  # nothing is changed yet
    asked(page, "forget client", name=f" {page.desk.project.name} ")
    assert not page.desk.project.client.names
    assert state_of(page, "forgetting")["forgotten"]
    # Nothing on the page leads back.
    assert (page.desk.undo_words, page.desk.redo_words) == ("", "")
    for path in [*page.desk.folder.rglob("*"), *page.desk.folder.parent.glob("data/*")]:
        if path.is_file():
            data = path.read_bytes()
            assert not [name for name in names if name.encode() in data], path


def test_what_changed_is_told_again_after_forgetting(page: Page) -> None:
    assert page.desk is not None
    changed(page, "island", name="Long island")
    asked(page, "keep version", who="", why="")
    asked(page, "look at archive")
    before = state_of(page, "archive")["versions"]
    assert before[0]["changed"]
    asked(page, "tell forgetting")
    asked(page, "forget client", name=page.desk.project.name)
    after = state_of(page, "archive")["versions"]
    assert [one["note"] for one in after] == [one["note"] for one in before]
    assert after[0]["changed"]


def test_what_was_shown_is_past_once_the_house_changes_and_another_window_is_in_the_way(page: Page) -> None:
    assert page.desk is not None
    asked(page, "tell forgetting")
    changed(page, "island", name="Long island")
    assert state_of(page, "forgetting")["told"] is None
    asked(page, "tell forgetting")
    other = Desk.open(page.desk.folder)
    answer = page.do({"do": "forget client", "name": page.desk.project.name})
    assert not answer["ok"]
    assert "another window" in answer["say"]
    other.close()
    assert page.desk.project.client.names
