"""Archives and projects of every format: earlier ones open, newer ones and what is something else are left alone."""

from __future__ import annotations

import importlib.util
import json
import os
import signal
import sqlite3
from pathlib import Path
from types import ModuleType

import pytest
from sqlalchemy import Connection, text

import enfilade.archive.opening as opening
from enfilade.archive import tables
from enfilade.archive.adding import add_version
from enfilade.archive.cutting import digest
from enfilade.archive.store import Store
from enfilade.archive.versions import seal_of
from enfilade.errors import BadRecord, EnfiladeError, NotFound, Refused
from enfilade.project.store import load, project_bytes
from killing import Child, Say, fork_only
from project_folders import folder_state, good_project, put

FORMAT_1 = Path(__file__).parent / "format_1"


def maker() -> ModuleType:
    spec = importlib.util.spec_from_file_location("format_1_make", FORMAT_1 / "make.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def earlier(tmp_path: Path) -> Path:
    """An archive of format 1 as it was written then."""
    path = tmp_path / "archive.sqlite"
    connection = sqlite3.connect(path)
    connection.executescript((FORMAT_1 / "archive.sql").read_text(encoding="utf-8"))
    connection.close()
    return path


def test_an_archive_of_format_1_comes_back_byte_for_byte(earlier: Path) -> None:
    made = maker()
    with Store(str(earlier), create=False) as store:
        [project] = store.projects()
        versions = store.versions(project.id)
        assert [(one.number, one.who, one.why) for one in versions] == [
            (1, made.WHO, made.WHY[0]),
            (2, made.WHO, made.WHY[1]),
        ]
        assert versions[0].on.isoformat() == "2026-03-24T10:42:00+00:00"
        before = b""
        for version, files in zip(versions, made.states(), strict=True):
            assert set(store.paths(project.id, version.number)) == set(files)
            for path, data in files.items():
                assert store.file(project.id, path, version.number) == data
            assert seal_of(version, before, {path: digest(data) for path, data in files.items()}) == version.seal
            before = version.seal
        assert store.project(project.id).name.startswith("Later: ")
        # It can be written to as well.
        later = store.project(project.id).model_copy(update={"name": "Later still"})
        files = {"project.json": project_bytes(later)}
        assert add_version(store, later, files, who="x", why="", base=2).version.number == 3


def set_format(path: Path, number: str) -> None:
    connection = sqlite3.connect(path)
    connection.execute("UPDATE info SET value = ? WHERE key = 'format'", (number,))
    connection.commit()
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()


def test_a_newer_archive_is_refused_and_left_as_it_is(earlier: Path) -> None:
    set_format(earlier, "2")
    before = earlier.read_bytes()
    with pytest.raises(Refused, match=r"is of format 2, which is newer than this version reads; .* at most 1"):
        Store(str(earlier))
    assert earlier.read_bytes() == before
    for odd in ("", "one", "0", "-1", "1e9"):
        set_format(earlier, odd)
        with pytest.raises(Refused, match="no archive of enfilade"):
            Store(str(earlier))


def test_a_newer_project_is_refused_and_left_as_it_is(tmp_path: Path) -> None:
    plain = json.loads(project_bytes(good_project())) | {"format": 2}
    put(tmp_path, plain)
    before = folder_state(tmp_path)
    with pytest.raises(BadRecord, match="newer"):
        load(tmp_path)
    assert folder_state(tmp_path) == before


def something_else(path: Path) -> None:
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE songs (name TEXT)")
    connection.commit()
    connection.close()


def with_a_table_of_that_name(path: Path) -> None:
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE info (key TEXT, value TEXT)")
    connection.execute("INSERT INTO info VALUES ('colour', 'blue')")
    connection.commit()
    connection.close()


def of_other_columns(path: Path) -> None:
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE info (a, b)")
    connection.commit()
    connection.close()


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (something_else, "database of something else"),
        (with_a_table_of_that_name, "database of something else"),
        (of_other_columns, "database of something else"),
        (lambda path: path.write_text("Dear all,\n" * 500), "file of something else"),
        (lambda path: path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(5000)), "file of something else"),
        (lambda path: path.mkdir(), "is a folder"),
    ],
    ids=["other tables", "a table of that name", "other columns", "text", "a picture", "a folder"],
)
def test_what_is_something_else_is_refused_and_left_as_it_is(tmp_path: Path, make: object, words: str) -> None:
    path = tmp_path / "file"
    make(path)  # type: ignore[operator]
    before = folder_state(tmp_path)
    for create in (True, False):
        with pytest.raises(Refused, match=words):
            Store(str(path), create=create)
    assert {name: state for name, state in folder_state(tmp_path).items() if name != "."} == {
        name: state for name, state in before.items() if name != "."
    }


def test_an_empty_file_becomes_an_archive_only_when_one_may_be_made(tmp_path: Path) -> None:
    path = tmp_path / "archive.sqlite"
    path.touch()
    with pytest.raises(NotFound, match="holds no archive yet"):
        Store(str(path), create=False)
    with Store(str(path)) as store:
        assert store.projects() == []


def test_a_file_that_was_cut_off_is_named_and_never_read_as_something_else(earlier: Path, tmp_path: Path) -> None:
    """Cut at any place: it is refused in words, or what it still gives back is what was kept."""
    whole = earlier.read_bytes()
    made = maker()
    told = []
    for size in [*range(1, len(whole), max(1, len(whole) // 40)), len(whole) - 1]:
        path = tmp_path / "cut.sqlite"
        path.write_bytes(whole[:size])
        try:
            with Store(str(path), create=False) as store:
                [project] = store.projects()
                for number, files in enumerate(made.states(), 1):
                    for name, data in files.items():
                        assert store.file(project.id, name, number) == data
        except EnfiladeError as error:
            told.append(str(error))
        for left in tmp_path.glob("cut.sqlite*"):
            left.unlink()
    assert len(told) > 20
    assert all(str(tmp_path / "cut.sqlite") in words for words in told)


def upgrade(connection: Connection) -> None:
    connection.execute(text("ALTER TABLE projects ADD COLUMN colour TEXT"))
    connection.execute(text("UPDATE projects SET colour = 'blue'"))


@pytest.fixture
def next_format(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """A format after this one, with a step that counts how often it was taken."""
    taken: list[int] = []

    def step(connection: Connection) -> None:
        taken.append(1)
        upgrade(connection)

    monkeypatch.setattr(tables, "FORMAT", 2)
    monkeypatch.setitem(opening.UPGRADES, 1, step)
    return taken


def colours(address: str) -> list[str]:
    with Store(address) as store, store.reading() as connection:
        assert connection.execute(text("SELECT value FROM info WHERE key = 'format'")).scalar() == "2"
        return list(connection.execute(text("SELECT colour FROM projects")).scalars())


def kept_in(address: str) -> None:
    project = good_project()
    with Store(address) as store:
        add_version(store, project, {"project.json": project_bytes(project)}, who="x", why="", base=None)


def test_an_upgrade_is_made_once(address: str, request: pytest.FixtureRequest) -> None:
    kept_in(address)
    taken = request.getfixturevalue("next_format")
    assert colours(address) == ["blue"]
    assert colours(address) == ["blue"]
    assert len(taken) == 1


def test_an_upgrade_that_fails_leaves_the_archive_as_it_was(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    kept_in(address)

    def failing(connection: Connection) -> None:
        upgrade(connection)
        raise Refused("the step cannot be taken")

    with monkeypatch.context() as patch:
        patch.setattr(tables, "FORMAT", 2)
        patch.setitem(opening.UPGRADES, 1, failing)
        with pytest.raises(Refused, match="the step cannot be taken"):
            Store(address)
    with Store(address) as store:
        assert store.project(good_project().id) == good_project()
        with store.reading() as connection:
            assert connection.execute(text("SELECT value FROM info WHERE key = 'format'")).scalar() == "1"


@fork_only
def test_an_upgrade_that_is_killed_leaves_the_archive_as_it_was(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    kept_in(address)

    def killed(connection: Connection) -> None:
        upgrade(connection)
        os.kill(os.getpid(), signal.SIGKILL)

    def work(say: Say) -> None:
        tables.FORMAT = 2  # type: ignore[misc]
        opening.UPGRADES[1] = killed
        say("begin")
        Store(address).close()
        say("end")

    assert Child(work).ended() == ["begin"]
    with Store(address) as store:
        assert store.project(good_project().id) == good_project()
    monkeypatch.setattr(tables, "FORMAT", 2)
    monkeypatch.setitem(opening.UPGRADES, 1, upgrade)
    assert colours(address) == ["blue"]
    with Store(address) as store:
        assert store.file(good_project().id) == project_bytes(good_project())


def test_two_who_open_an_earlier_one_at_once_upgrade_it_once(address: str, next_format: list[int]) -> None:
    """Whoever waited for the other finds it done."""
    monkey = pytest.MonkeyPatch()
    with monkey.context() as patch:
        patch.setattr(tables, "FORMAT", 1)
        kept_in(address)
    children = [Child(lambda say: (Store(address).close(), say("end"))[1]) for _ in range(4)]
    assert [child.ended() for child in children] == [["end"]] * 4
    assert colours(address) == ["blue"]
