"""The copy beside an archive takes its place where the archive is damaged, and what is lost by it is named."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import update

from enfilade.archive import tables as t
from enfilade.archive.adding import add_version
from enfilade.archive.copies import copy_daily, copy_of
from enfilade.archive.copy_taken import take_copy
from enfilade.archive.store import Store
from enfilade.archive.verifying import verify
from enfilade.errors import NotFound, Refused
from enfilade.project.project import Project
from enfilade.project.writing import project_text


def kept(store: Store, name: str, base: int | None = None) -> None:
    project = Project(id="small", name=name)
    add_version(store, project, {"project.json": project_text(project).encode()}, who="", why="", base=base)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """An archive of three versions; its copy holds the first."""
    found = tmp_path / "studio.sqlite"
    with Store(str(found)) as store:
        kept(store, "First")
        copy_daily(store)
        kept(store, "Second", 1)
        kept(store, "Third", 2)
    return found


def hurt(path: Path, number: int) -> None:
    """Change why a version was kept, which its seal does not fit any more."""
    with Store(str(path)) as store:
        store.writing(lambda one: one.execute(update(t.versions).where(t.versions.c.number == number).values(why="?")))


def everything(path: Path) -> dict[str, bytes]:
    """Return each file's bytes; a journal comes and goes with who reads."""
    found = {one.name: one.read_bytes() for one in path.parent.iterdir()}
    return {name: data for name, data in found.items() if not name.endswith(("-wal", "-shm"))}


def test_a_whole_archive_is_left_alone(path: Path) -> None:
    before = everything(path)
    with pytest.raises(Refused, match=r"is whole.*nothing was changed"):
        take_copy(path)
    assert everything(path) == before


def test_what_only_the_file_put_aside_holds_is_named(path: Path) -> None:
    hurt(path, 2)
    taken = take_copy(path)
    assert taken.lost == {"small": (2, 3)}
    assert taken.aside is not None
    assert taken.aside.name.startswith("studio.sqlite.before-copy-")
    assert any("small: versions 2 to 3" in one for one in taken.sentences)
    with Store(str(path), create=False) as store:
        assert verify(store) == ()
        assert [one.number for one in store.versions("small")] == [1]
    before = everything(path)
    with pytest.raises(Refused, match="is whole"):  # and the same copy does not take its place again
        take_copy(path)
    assert everything(path) == before


@pytest.mark.parametrize("data", [b"damaged", b"", b"SQLite format 3\x00" + b"\xff" * 8000])
def test_a_file_that_cannot_be_read_is_put_aside_as_damaged(path: Path, data: bytes) -> None:
    path.write_bytes(data)
    for beside in ("-wal", "-shm"):
        path.with_name(path.name + beside).unlink(missing_ok=True)
    taken = take_copy(path)
    assert taken.aside is not None
    assert taken.aside.name.startswith("studio.sqlite.damaged-")
    assert taken.aside.read_bytes() == data
    assert not taken.readable
    assert any("cannot be listed" in one for one in taken.sentences)


def test_a_file_that_is_gone_comes_back(path: Path) -> None:
    path.unlink()
    taken = take_copy(path)
    assert taken.aside is None
    with Store(str(path), create=False) as store:
        assert store.version("small").number == 1


def test_a_copy_that_is_damaged_too_does_not_displace_what_can_be_read(path: Path) -> None:
    hurt(path, 2)
    hurt(copy_of(path), 1)
    before = path.read_bytes()
    with pytest.raises(Refused, match=r"damaged too.*nothing was changed"):
        take_copy(path)
    assert path.read_bytes() == before


def test_without_a_copy_nothing_happens(path: Path) -> None:
    copy_of(path).unlink()
    hurt(path, 2)
    with pytest.raises(NotFound, match="no copy"):
        take_copy(path)


def test_a_newer_archive_is_no_damaged_one(path: Path) -> None:
    with Store(str(path)) as store:
        store.writing(lambda one: one.execute(update(t.info).where(t.info.c.key == "format").values(value="9999")))
    before = path.read_bytes()
    with pytest.raises(Refused, match="newer"):
        take_copy(path)
    assert path.read_bytes() == before


def test_a_damaged_archive_names_how_the_copy_takes_its_place(path: Path, tmp_path: Path) -> None:
    path.write_bytes(b"damaged")
    with pytest.raises(Refused, match=r"damaged.*verify --take-copy --archive .*studio.sqlite"):
        Store(str(path), create=False)
    copy_of(path).unlink()
    with pytest.raises(Refused, match="something else"):
        Store(str(path), create=False)
