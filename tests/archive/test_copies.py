"""The copy beside an archive's file: made once a day, whole, never through a link, and gone when it must be."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
import sqlite3
import time
from pathlib import Path
from types import SimpleNamespace

import pytest
from sqlalchemy import Table, update

from enfilade.archive import copies
from enfilade.archive import tables as t
from enfilade.archive.adding import add_version
from enfilade.archive.copies import copy_daily, copy_of, renew_copy, restore_copy
from enfilade.archive.copy_whole import damaged_parts
from enfilade.archive.store import Store
from enfilade.archive.verifying import verify
from enfilade.errors import Conflict, NotFound, Refused
from enfilade.project.project import Project
from enfilade.project.writing import project_text
from killing import Child, Say, fork_only


def kept(store: Store, name: str, base: int | None = None) -> None:
    project = Project(id="small", name=name)
    add_version(store, project, {"project.json": project_text(project).encode()}, who="", why="", base=base)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """An archive of one version."""
    found = tmp_path / "studio #1 ?.sqlite"
    with Store(str(found)) as store:
        kept(store, "First")
    return found


def age(file: Path, days: float) -> None:
    then = dt.datetime.now(dt.UTC).timestamp() - days * 86400
    os.utime(file, (then, then))


def test_it_is_made_once_a_day(path: Path) -> None:
    with Store(str(path)) as store:
        assert copy_daily(store) == copy_of(path)
        kept(store, "Second", 1)
        assert copy_daily(store) is None
        with Store(str(copy_of(path))) as copy:
            assert copy.version("small").number == 1
        age(copy_of(path), 2)
        assert copy_daily(store) == copy_of(path)
    with Store(str(copy_of(path))) as copy:
        assert copy.version("small").number == 2
        assert verify(copy) == ()


def test_an_empty_or_shared_archive_has_none(address: str, tmp_path: Path) -> None:
    with Store(address) as store:
        assert copy_daily(store) is None
        assert renew_copy(store) is None


def test_a_large_archive_has_none_and_it_is_said(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(copies, "LARGEST_BYTES", 1000)
    said: list[str] = []
    with Store(str(path)) as store:
        assert copy_daily(store, said.append) is None
    assert any("no copy of the archive was made today" in words and "at most 1000" in words for words in said)
    assert not copy_of(path).exists()


def test_a_damaged_archive_does_not_take_the_place_of_a_good_copy(path: Path) -> None:
    with Store(str(path)) as store:
        copy_daily(store)
    good = copy_of(path).read_bytes()
    age(copy_of(path), 2)
    data = path.read_bytes()
    with Store(str(path)) as store:
        said: list[str] = []
        path.write_bytes(data[:4096] + b"\xff" * (len(data) - 4096))
        for beside in ("-wal", "-shm"):
            path.with_name(path.name + beside).unlink(missing_ok=True)
        with contextlib.suppress(Refused):
            assert copy_daily(store, said.append) is None
    assert copy_of(path).read_bytes() == good


def test_a_damaged_archive_is_put_aside_and_the_copy_takes_its_place(path: Path) -> None:
    with Store(str(path)) as store:
        copy_daily(store)
        kept(store, "Second", 1)
    path.write_bytes(b"damaged")
    aside = restore_copy(path)
    assert aside.read_bytes() == b"damaged"
    assert aside.name.startswith(f"{path.name}.damaged-")
    with Store(str(path), create=False) as store:
        assert store.version("small").number == 1
        assert verify(store) == ()
        kept(store, "Second again", 1)
    assert copy_of(path).exists()
    assert not [entry for entry in path.parent.iterdir() if ".part" in entry.name]


def test_a_damaged_copy_or_none_is_refused(path: Path) -> None:
    with pytest.raises(NotFound):
        restore_copy(path)
    before = path.read_bytes()
    copy_of(path).write_bytes(b"damaged")
    with pytest.raises(Refused, match="cannot be copied"):
        restore_copy(path)
    assert path.read_bytes() == before


def test_no_link_is_followed(path: Path, tmp_path: Path) -> None:
    victim = tmp_path / "victim.txt"
    victim.write_text("mine")
    copy_of(path).symlink_to(victim)
    age(victim, 2)
    os.utime(copy_of(path), (0, 0), follow_symlinks=False)
    said: list[str] = []
    with Store(str(path)) as store:
        assert copy_daily(store, said.append) is None
    assert any("is a link" in words for words in said)
    with pytest.raises(Refused, match="is a link"):
        restore_copy(path)
    with Store(str(path)) as store:
        renew_copy(store)  # The link itself goes.
    assert victim.read_text() == "mine"
    assert not copy_of(path).is_symlink()


def test_what_was_forgotten_is_in_no_copy(path: Path) -> None:
    with Store(str(path)) as store:
        kept(store, "Ida Quill of Mudflat Row", 1)
        copy_daily(store)
        assert b"Mudflat Row" in copy_of(path).read_bytes()
        store.writing(lambda connection: connection.exec_driver_sql("UPDATE projects SET name = 'x'"))
        store.writing(lambda connection: connection.exec_driver_sql("UPDATE pieces SET data = x'00'"))
        store.writing(lambda connection: connection.exec_driver_sql("UPDATE files SET manifest = x'00'"))
        assert renew_copy(store) == copy_of(path)
        assert b"Mudflat Row" not in copy_of(path).read_bytes()


@pytest.mark.parametrize(("table", "column"), [(t.pieces, "data"), (t.files, "manifest")])
def test_what_is_not_as_it_was_kept_does_not_reach_the_copy(path: Path, table: Table, column: str) -> None:
    """SQLite's own check passes over it: the page is well formed, and only the digest knows better."""
    with Store(str(path)) as store:
        large = Project(id="large", name="Large")
        files = {"project.json": project_text(large).encode(), "scan.bin": bytes(range(256))}
        add_version(store, large, files, who="", why="", base=None)
        copy_daily(store)
        good = copy_of(path).read_bytes()
        age(copy_of(path), 2)
        store.writing(lambda to: to.execute(update(table).values({column: b"\x00another"})) and None)
        said: list[str] = []
        assert copy_daily(store, said.append) is None
    assert any("of its parts are not what was kept" in words for words in said)
    assert copy_of(path).read_bytes() == good


@pytest.mark.parametrize(
    "damage",
    [
        "UPDATE versions SET why = 'another reason'",
        "UPDATE version_files SET path = 'project2.json' WHERE path = 'scan.bin'",
        "DELETE FROM version_files WHERE path = 'scan.bin'",
        "DELETE FROM version_files; DELETE FROM versions",
        "UPDATE files SET manifest = (SELECT manifest FROM files ORDER BY id LIMIT 1)",
        'UPDATE versions SET "on" = 7',
    ],
)
def test_words_and_lists_that_were_changed_do_not_reach_the_copy(path: Path, damage: str) -> None:
    with Store(str(path)) as store:
        files = {"project.json": project_text(Project(id="b", name="B")).encode(), "scan.bin": bytes(range(256))}
        add_version(store, Project(id="b", name="B"), files, who="", why="", base=None)
        copy_daily(store)
        good = copy_of(path).read_bytes()
        assert damaged_parts(copy_of(path)) == 0
        age(copy_of(path), 2)
        with contextlib.closing(sqlite3.connect(path)) as other:
            other.executescript(damage)
            other.commit()
        assert copy_daily(store) is None
    assert copy_of(path).read_bytes() == good


def test_the_newest_files_are_looked_at_first_and_not_for_ever(path: Path) -> None:
    with Store(str(path)) as store:
        kept(store, "Second", 1)
    for newest, found in ((True, 1), (False, 0)):
        with contextlib.closing(sqlite3.connect(path)) as other:
            held = other.execute("SELECT id, manifest FROM files ORDER BY id").fetchall()
            row = held[-1 if newest else 0]
            other.execute("UPDATE files SET manifest = ? WHERE id = ?", (b"\x00[]", row[0]))
            other.commit()
            assert damaged_parts(path, longest_s=-1) == found
            assert damaged_parts(path) == 1
            other.execute("UPDATE files SET manifest = ? WHERE id = ?", (row[1], row[0]))
            other.commit()
    assert damaged_parts(path) == 0


def test_a_copy_is_not_put_in_the_place_of_an_archive_that_somebody_has_open(path: Path) -> None:
    with Store(str(path)) as store:
        copy_daily(store)
        before = path.stat().st_ino

        def work(_: object) -> None:
            with pytest.raises(Conflict, match="somebody has the archive open"):
                restore_copy(path)

        store.writing(work)
        with pytest.raises(Conflict, match="close it in every window"):
            restore_copy(path)  # What this one writes next would go into the file that was put aside.
        kept(store, "Second", 1)
    assert path.stat().st_ino == before
    restore_copy(path)
    assert path.stat().st_ino != before


@fork_only
def test_nobody_comes_in_while_the_copy_is_put_in_its_place(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another process tries to keep at that very moment: it waits, and what it keeps stands in the restored archive."""
    with Store(str(path)) as store:
        copy_daily(store)
        kept(store, "Second", 1)
    replace = os.replace
    go = path.with_name("go")

    def another(say: Say) -> None:
        while not go.exists():
            time.sleep(0.01)
        say("begun")
        with Store(str(path)) as store:
            kept(store, "Of another", store.version("small").number)
        say("kept")

    child = Child(another)

    def slowly(part: Path, to: Path) -> None:
        go.touch()
        child.wait_for("begun", 1)
        time.sleep(0.5)
        replace(part, to)

    monkeypatch.setattr(copies, "os", SimpleNamespace(**{**vars(os), "replace": slowly}))
    aside = restore_copy(path)
    assert child.ended() == ["begun", "kept"]
    names = {}
    for file in (path, aside):
        with Store(str(file), create=False) as store:
            names[file] = [store.project("small", one.number).name for one in store.versions("small")]
            assert verify(store) == ()
    assert names == {path: ["First", "Of another"], aside: ["First", "Second"]}


def test_a_damaged_file_is_put_aside_byte_for_byte_with_its_journal(path: Path, tmp_path: Path) -> None:
    with Store(str(path)) as store:
        copy_daily(store)
        kept(store, "Second", 1)
        left = {end: path.with_name(path.name + end).read_bytes() for end in ("", "-wal")}
    for end, data in left.items():  # as a process leaves them that is killed
        path.with_name(path.name + end).write_bytes(data)
    aside = restore_copy(path)
    assert {end: aside.with_name(aside.name + end).read_bytes() for end in left} == left
    assert sorted(one.name for one in tmp_path.iterdir() if not one.name.startswith(".")) == sorted(
        [path.name, copy_of(path).name, aside.name, f"{aside.name}-wal"]
    )


def test_what_cannot_be_put_aside_stays_whole(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Store(str(path)) as store:
        copy_daily(store)
    path.write_bytes(b"damaged")
    path.with_name(path.name + "-wal").write_bytes(b"its journal")
    before = {one.name: one.read_bytes() for one in path.parent.iterdir()}

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(copies, "os", SimpleNamespace(**{**vars(os), "replace": full}))
    with pytest.raises(Refused, match="No space"):
        restore_copy(path)
    after = {one.name: one.read_bytes() for one in path.parent.iterdir()}
    assert {name: data for name, data in after.items() if name in before} == before
    assert not [name for name in after if ".damaged-" in name or ".part" in name]
