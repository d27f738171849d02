"""Damage of an archive is found, named by project, version, file and record, and what is whole is said."""

from __future__ import annotations

import sqlite3
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Connection, delete, select, update

import enfilade as ef
from enfilade.archive import tables as t
from enfilade.archive.adding import add_version
from enfilade.archive.cutting import digest
from enfilade.archive.store import Store
from enfilade.archive.verifying import verify
from enfilade.errors import BadRecord, EnfiladeError
from enfilade.project.project import Project
from enfilade.project.writing import project_text


def filled(store: Store) -> Project:
    """Put three versions of the demo house into an archive; the second renames one thing."""
    first = ef.demo()
    things = [one.model_copy(update={"note": "moved"}) if n == 3 else one for n, one in enumerate(first.things)]
    second = first.model_copy(update={"things": tuple(things)})
    for base, project in enumerate((first, second, second.model_copy(update={"name": "Third"}))):
        files = {"project.json": project_text(project).encode(), "photos/a.jpg": bytes(range(256)) * 9}
        add_version(store, project, files, who="the designer", why="", base=base or None)
    return second


def changed_piece(store: Store, holds: bytes, change: Callable[[bytes], bytes]) -> None:
    """Change the piece whose content holds some bytes."""

    def work(connection: Connection) -> None:
        for row, data in connection.execute(select(t.pieces.c.id, t.pieces.c.data)).all():
            plain = data[1:] if data[:1] == b"\x00" else zlib.decompress(data[1:])
            if holds in plain:
                connection.execute(update(t.pieces).where(t.pieces.c.id == row).values(data=change(bytes(data))))
                return
        raise AssertionError("no such piece")

    store.writing(work)


def test_a_whole_archive_is_found_whole(address: str) -> None:
    said: list[str] = []
    with Store(address) as store:
        assert verify(store) == ()
        filled(store)
        assert verify(store, said.append) == ()
    assert any("project 1 of 1" in words for words in said)


def test_a_damaged_record_is_named(address: str) -> None:
    """The changed record of the second and third version: the first is whole, as it stood before."""
    with Store(address) as store:
        thing = filled(store).things[3].id
        # The record still unpacks, to something else: its id can be told.
        changed_piece(store, b'"note": "moved"', lambda data: b"\x00" + plain_of(data).replace(b"moved", b"mowed"))
        found = verify(store)
        assert [(one.project, one.version, one.file, one.record, one.last_good) for one in found] == [
            ("long-shed", 2, "project.json", f"things/{thing}", 1),
            ("long-shed", 3, "project.json", f"things/{thing}", 1),
        ]
        assert "version 1 is the newest that is whole" in str(found[0])
        with pytest.raises(BadRecord, match=r"long-shed/3/project\.json.*\n.*version 1 is the last before it"):
            store.file("long-shed")
        assert store.project("long-shed", 1) == ef.demo()


def plain_of(data: bytes) -> bytes:
    return data[1:] if data[:1] == b"\x00" else zlib.decompress(data[1:])


def test_a_record_that_cannot_be_unpacked_is_named_by_its_number(address: str) -> None:
    with Store(address) as store:
        filled(store)
        changed_piece(store, b'"note": "moved"', lambda data: b"\x07" + data[1:])
        assert {one.record for one in verify(store)} == {"things/4"}  # the fourth, counted from 1


PHOTO = digest(bytes(range(256)) * 9)


def _another_path(connection: Connection) -> None:
    third = select(t.versions.c.id).where(t.versions.c.number == 3).scalar_subquery()
    at = t.version_files.c
    change = update(t.version_files).where(at.version == third, at.path == "photos/a.jpg").values(path="photos/b.jpg")
    connection.execute(change)


def _no_second(connection: Connection) -> None:
    second = connection.execute(select(t.versions.c.id).where(t.versions.c.number == 2)).scalar_one()
    connection.execute(delete(t.version_files).where(t.version_files.c.version == second))
    connection.execute(delete(t.versions).where(t.versions.c.id == second))


def _no_list(connection: Connection) -> None:
    connection.execute(update(t.files).where(t.files.c.digest == PHOTO).values(manifest=b"\x00[77777]"))


def _of_second(connection: Connection, **values: Any) -> None:
    connection.execute(update(t.versions).where(t.versions.c.number == 2).values(**values))


DAMAGE: dict[str, tuple[Callable[[Connection], Any], str]] = {
    "who": (lambda connection: _of_second(connection, who="nobody"), "long-shed/2: its seal"),
    "on": (lambda connection: _of_second(connection, on="2001-01-01T00:00:00Z"), "long-shed/2: its seal"),
    "seal": (lambda connection: _of_second(connection, seal=bytes(32)), "long-shed/3: its seal"),
    "path": (_another_path, "long-shed/3: its seal"),
    "a file's list": (_no_list, "long-shed/1/photos/a.jpg: is damaged: piece 77777"),
    "a version": (_no_second, "these are missing: 2"),
}


@pytest.mark.parametrize("kind", DAMAGE)
def test_other_damage_is_named(kind: str, address: str) -> None:
    work, words = DAMAGE[kind]
    with Store(address) as store:
        filled(store)
        store.writing(work)
        found = [str(one) for one in verify(store)]
        assert any(words in one for one in found), found
        assert all(one.startswith("long-shed") for one in found)


def test_bytes_of_the_file_turned_over_are_found(tmp_path: Path) -> None:
    """Wherever a page is overwritten, either it is damage, or every version still comes back byte for byte."""
    path = tmp_path / "archive.sqlite"
    with Store(str(path)) as store:
        house = filled(store)
        whole = {n: store.file(house.id, number=n) for n in (1, 2, 3)}
    with sqlite3.connect(path) as connection:
        connection.execute("PRAGMA journal_mode = DELETE")
    connection.close()
    good = path.read_bytes()
    found = 0
    for at in range(4096, len(good), max(4096, len(good) // 4096 // 25 * 4096)):
        path.write_bytes(good[: at + 500] + bytes(range(256)) * 8 + good[at + 2548 :])
        found += _is_found(path, house.id, whole)
    assert found > 5


def _is_found(path: Path, house: str, whole: dict[int, bytes]) -> bool:
    """Tell whether damage was found; where none was, every version is to come back as it was."""
    try:
        with Store(str(path)) as store:
            if verify(store):
                return True
            assert {number: store.file(house, number=number) for number in whole} == whole
    except EnfiladeError:  # The archive could not be opened at all, and said so.
        return True
    return False
