"""Pages of rooms are made when they are read, once, and not at all for forms that show none."""

from __future__ import annotations

from importlib import import_module

import pytest

import enfilade as ef
from building import house, room
from enfilade.checks.run import project_yardstick
from enfilade.export.document import Document
from enfilade.export.tell import told
from enfilade.walkthrough import room_pages
from enfilade.walkthrough.compose import compose, telling_of
from enfilade.walkthrough.telling import Telling


def three_rooms() -> Telling:
    project = house([], spaces=[room(100, 100, id=f"r{n}", use="living", at=(n * 110, 0)) for n in range(3)])
    return telling_of(project, (), project_yardstick(project, None), audience="studio")


def test_each_page_is_made_once_and_only_when_it_is_read() -> None:
    said: list[str] = []
    rooms = compose(three_rooms(), progress=said.append).rooms
    assert len(rooms) == 3
    assert not said
    second = rooms[1]
    assert len(said) == 1
    assert said[0].startswith("room 2 of 3")
    assert rooms[1] is second
    assert len(said) == 1
    assert [page.number for page in rooms] == [1, 2, 3]
    assert len(said) == 3


def test_they_are_read_as_any_sequence() -> None:
    rooms = compose(three_rooms()).rooms
    assert rooms[-1] is rooms[2]
    assert list(rooms[1:]) == [rooms[1], rooms[2]]
    assert [page.number for page in reversed(rooms)] == [3, 2, 1]
    with pytest.raises(IndexError):
        rooms[3]


@pytest.mark.parametrize("module", ["prompt", "captions", "cards", "calendar"])
def test_forms_without_rooms_make_none(module: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object) -> None:
        raise AssertionError("a page was made")

    document: Document = told(ef.demo())
    monkeypatch.setattr(room_pages, "room_page", never)
    assert import_module(f"enfilade.export.{module}").write(document)
