"""The copy beside an archive's file: made once a day, whole, never through a link, and gone when it must be."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
from pathlib import Path

import pytest
from sqlalchemy import Table, update

from enfilade.archive import copies
from enfilade.archive import tables as t
from enfilade.archive.adding import add_version
from enfilade.archive.copies import copy_daily, copy_of, renew_copy, restore_copy
from enfilade.archive.store import Store
from enfilade.archive.verifying import verify
from enfilade.errors import Conflict, NotFound, Refused
from enfilade.project.project import Project
from enfilade.project.writing import project_text


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


def test_a_copy_is_not_put_in_the_place_of_an_archive_that_somebody_writes_to(path: Path) -> None:
    with Store(str(path)) as store:
        copy_daily(store)
        before = path.stat().st_ino

        def work(_: object) -> None:
            with pytest.raises(Conflict, match="somebody writes to the archive"):
                restore_copy(path)

        store.writing(work)
    assert path.stat().st_ino == before
    restore_copy(path)
    assert path.stat().st_ino != before
