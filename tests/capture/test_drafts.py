"""Typed text that could not be taken yet: kept beside the project, whatever happens to the window."""

from __future__ import annotations

import json
import os
import threading
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from enfilade.capture import drafts as module
from enfilade.capture.drafts import FILE, Draft, Drafts
from enfilade.capture.windows import Window
from enfilade.errors import Refused
from enfilade.project.project import Project
from enfilade.project.store import load, save

WIDTH = ("things", "island", "width_mm")
NOTE = ("things", "island", "note")


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("ENFILADE_DATA", str(tmp_path / "data"))
    save(Project(id="small", name="Small"), tmp_path / "house")
    return tmp_path / "house"


def opened(home: Path) -> tuple[Drafts, Window]:
    window = Window()
    return Drafts(home, window), window


def on_disk(home: Path) -> list[dict[str, Any]]:
    entries: list[dict[str, Any]] = json.loads((home / "drafts" / FILE).read_text(encoding="utf-8"))["typed"]
    return entries


def test_what_was_typed_is_there_after_a_reload(home: Path) -> None:
    drafts, window = opened(home)
    assert drafts.get(WIDTH) is None
    drafts.keep(WIDTH, "36 x", "is not a length")
    drafts.keep(NOTE, ["one", {"two": 3}])
    drafts.keep(WIDTH, "36 xy", "is not a length")
    assert drafts.get(WIDTH) == Draft("36 xy", "is not a length")
    window.close()
    again, _ = opened(home)
    assert again.get(WIDTH) == Draft("36 xy", "is not a length")
    assert again.get(NOTE) == Draft(["one", {"two": 3}], "")
    again.drop(WIDTH)
    again.drop(WIDTH)
    assert again.get(WIDTH) is None
    assert [one["at"] for one in on_disk(home)] == [list(NOTE)]
    assert load(home) == Project(id="small", name="Small")  # loading never looks there


def test_windows_share_the_file_and_change_their_own_alone(home: Path) -> None:
    (one, first), (other, second) = opened(home), opened(home)
    one.keep(WIDTH, "36 x")
    other.keep(WIDTH, "42 y")
    other.keep(NOTE, "half")
    assert one.get(WIDTH) == Draft("36 x")
    assert one.get(NOTE) is None  # that window is open, and in the midst of it
    assert other.get(WIDTH) == Draft("42 y")
    assert len(on_disk(home)) == 3
    one.drop(WIDTH)
    assert other.get(WIDTH) == Draft("42 y")
    assert one.adopt() is False
    second.close()
    assert one.adopt() is True
    assert one.adopt() is False
    assert one.get(WIDTH) == Draft("42 y")
    assert one.get(NOTE) == Draft("half")
    assert {entry["by"] for entry in on_disk(home)} == {first.id}


def test_own_text_stays_where_another_window_left_some_too(home: Path) -> None:
    (one, _), (other, second) = opened(home), opened(home)
    other.keep(WIDTH, "42 y")
    one.keep(WIDTH, "36 x")
    second.close()
    one.adopt()
    assert one.get(WIDTH) == Draft("36 x")


def test_of_two_windows_that_are_closed_the_later_text_is_taken(home: Path) -> None:
    (one, first), (other, second) = opened(home), opened(home)
    other.keep(WIDTH, "42 y")
    one.keep(WIDTH, "36 x")
    first.close()
    second.close()
    assert opened(home)[0].get(WIDTH) == Draft("36 x")


GARBAGE = (
    b"", b"[]", b"\xff\xfe", b"[" * 50_000,
    b'{"format": 2, "typed": []}', b'{"format": 1}', b'{"format": 1, "typed": [1]}',
    b'{"format": 1, "typed": [{"at": ["a"], "typed": NaN, "error": "", "by": "x", "when": ""}]}',
    b'{"format": 1, "typed": [{"at": [], "typed": "x", "error": "", "by": "x", "when": ""}]}',
    b'{"format": 1, "typed": [{"at": [1], "typed": "x", "error": "", "by": "x", "when": ""}]}',
    b'{"format": 1, "typed": [{"at": ["a"], "typed": "x", "error": 1, "by": "x", "when": ""}]}',
)  # fmt: skip


@pytest.mark.parametrize("garbage", GARBAGE, ids=range(len(GARBAGE)))
def test_a_file_that_cannot_be_read_is_kept_aside(home: Path, garbage: bytes) -> None:
    (home / "drafts").mkdir()
    (home / "drafts" / FILE).write_bytes(garbage)
    drafts, window = opened(home)
    assert drafts.paths() == ()
    drafts.keep(WIDTH, "36 x")
    assert drafts.trouble == ""
    window.close()
    assert opened(home)[0].get(WIDTH) == Draft("36 x")
    (aside,) = (home / "drafts").glob("typed-unreadable-*.json")
    assert aside.read_bytes() == garbage


@pytest.mark.skipif(os.name == "nt", reason="needs links and pipes of POSIX")
@pytest.mark.parametrize("what", ["link", "pipe", "folder"])
def test_something_else_in_its_place(home: Path, tmp_path: Path, what: str) -> None:
    place = home / "drafts"
    place.mkdir()
    if what == "link":
        (tmp_path / "outside").write_text("mine")
        (place / FILE).symlink_to(tmp_path / "outside")
    elif what == "pipe":
        os.mkfifo(place / FILE)
    else:
        (place / FILE).mkdir()
    drafts, window = opened(home)
    drafts.keep(WIDTH, "36 x")
    assert drafts.trouble == ""
    if what == "link":
        assert (tmp_path / "outside").read_text() == "mine"
    window.close()
    assert opened(home)[0].get(WIDTH) == Draft("36 x")


def test_a_writer_named_by_a_path_opens_no_other_file(home: Path, tmp_path: Path) -> None:
    (home / "drafts").mkdir()
    entry = {"at": list(WIDTH), "typed": "36", "error": "", "by": "x/../../../outside", "when": ""}
    (home / "drafts" / FILE).write_text(json.dumps({"format": 1, "typed": [entry]}))
    assert opened(home)[0].get(WIDTH) == Draft("36")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["house"]


@pytest.mark.parametrize(
    ("path", "typed"),
    [
        (WIDTH, "x" * 600_000),
        (WIDTH, float("nan")),
        (WIDTH, object()),
        ((), "x"),
        (("a",) * 20, "x"),
        (("a" * 3000,), "x"),
    ],
)
def test_what_is_no_typed_text_is_refused(home: Path, path: tuple[str, ...], typed: Any) -> None:
    drafts, _ = opened(home)
    with pytest.raises(Refused):
        drafts.keep(path, typed)
    assert drafts.paths() == ()
    assert not (home / "drafts" / FILE).exists()


def test_there_is_an_end_to_how_many(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_MOST", 5)
    drafts, _ = opened(home)
    for number in range(9):
        drafts.keep(("things", str(number)), "x")
    assert [path[1] for path in drafts.paths()] == ["4", "5", "6", "7", "8"]  # the newest
    assert len(on_disk(home)) == 5


@given(typed=st.recursive(st.none() | st.booleans() | st.integers() | st.text(), lambda one: st.lists(one, max_size=3)))
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_typed_text_comes_back(home: Path, typed: Any) -> None:
    drafts, window = opened(home)
    drafts.keep(WIDTH, typed, "no")
    window.close()
    again, second = opened(home)
    assert again.get(WIDTH) == Draft(typed, "no")
    again.drop(WIDTH)
    second.close()


def test_windows_that_type_at_once_lose_nothing(home: Path) -> None:
    def type_many(number: int) -> None:
        drafts, _ = windows[number]
        for turn in range(12):
            drafts.keep(("things", f"{number}-{turn}"), f"typed {turn}")

    windows = [opened(home) for _ in range(3)]
    threads = [threading.Thread(target=type_many, args=(number,)) for number in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(on_disk(home)) == 36
    for _, window in windows:
        window.close()
    assert len(opened(home)[0].paths()) == 36
