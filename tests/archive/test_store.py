"""Versions come back as they were kept, from a file and from PostgreSQL."""

from __future__ import annotations

import datetime as dt

import pytest
from sqlalchemy import update

import enfilade as ef
from enfilade.archive import tables as t
from enfilade.archive.adding import add_version
from enfilade.archive.cutting import cut, digest
from enfilade.archive.figures import figures_of
from enfilade.archive.notes import notes_of
from enfilade.archive.store import Store
from enfilade.errors import BadRecord, Conflict, NotFound
from enfilade.project.project import Project
from enfilade.project.writing import project_text


def added(store: Store, project: Project, base: int | None, **more: bytes) -> int:
    files = {"project.json": project_text(project).encode(), **more}
    notes, figures = notes_of(project), figures_of(project)
    return add_version(
        store, project, files, who="the designer", why="for the file", base=base, notes=notes, figures=figures
    ).version.number


def test_every_version_comes_back_byte_for_byte(address: str) -> None:
    first = ef.demo()
    second = first.model_copy(update={"name": "The same house, later"})
    with Store(address) as store:
        assert added(store, first, None, **{"photos/a.jpg": bytes(range(256)) * 40}) == 1
        assert added(store, second, 1) == 2
        assert store.file(first.id, number=1) == project_text(first).encode()
        assert store.file(first.id, number=2) == project_text(second).encode()
        assert store.file(first.id, "photos/a.jpg", 1) == bytes(range(256)) * 40
        assert store.project(first.id) == second
        assert store.paths(first.id, 2) == {"project.json": len(project_text(second).encode())}
        kept = store.versions(first.id)
        assert [one.number for one in kept] == [1, 2]
        assert kept[0].who == "the designer"
        assert abs(kept[0].on - dt.datetime.now(dt.UTC)) < dt.timedelta(minutes=1)
    with Store(address, create=False) as again:
        assert again.project(first.id, 1) == first


def test_the_second_writer_is_told(address: str) -> None:
    house = ef.demo()
    with Store(address) as store:
        added(store, house, None)
        added(store, house.model_copy(update={"name": "Mine"}), 1)
        with pytest.raises(Conflict, match="version 2 was kept on"):
            added(store, house.model_copy(update={"name": "Theirs"}), 1)
        assert store.version(house.id).number == 2
        assert added(store, house.model_copy(update={"name": "Mine"}), 1) == 2  # the very same is there already
        with pytest.raises(NotFound, match="version 7"):
            store.file(house.id, number=7)


@pytest.mark.parametrize("bytes_there", [b"", b"\x01broken", b"\x00another record"])
def test_a_damaged_record_is_mended_by_whoever_keeps_it_again_whole(address: str, bytes_there: bytes) -> None:
    first = ef.demo()
    with Store(address) as store:
        added(store, first, None)
        damaged = max(cut(project_text(first).encode()), key=len)
        assert isinstance(damaged, bytes)
        where = t.pieces.c.digest == digest(damaged)
        done = store.writing(lambda to: to.execute(update(t.pieces).where(where).values(data=bytes_there)).rowcount)
        assert done == 1
        with pytest.raises(BadRecord):
            store.file(first.id, number=1)
        assert added(store, first.model_copy(update={"name": "Later"}), 1) == 2
        assert store.project(first.id).name == "Later"
        assert store.file(first.id, number=1) == project_text(first).encode()


def test_a_house_of_very_many_records_is_kept_again(address: str) -> None:
    """More records than a statement takes values (SQLite, `Implementation Limits`, section 9: 32,766; PostgreSQL's
    protocol: 65,535)."""
    house = Project(id="many", name="Many")
    lines = ",\n".join(f'{{"id": "{n:06d}", "note": "{n:080d}"}}' for n in range(70_000))
    with Store(address) as store:
        for number in (1, 2):
            files = {"project.json": project_text(house).encode(), "light/list.json": f"[\n{lines}\n{number}]".encode()}
            kept = add_version(store, house, files, who="", why="", base=number - 1 or None)
            assert kept.version.number == number
            assert store.file(house.id, "light/list.json", number) == files["light/list.json"]
