"""Versions brought back into folders, and folders whose file was damaged."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

import pytest

import enfilade as ef
from enfilade.archive import restoring
from enfilade.archive.archive import Archive
from enfilade.archive.restoring import bring_back
from enfilade.archive.versions import Version
from enfilade.errors import BadRecord, Conflict, NotFound, Refused
from enfilade.files import fingerprint
from enfilade.project.photos import keep_photograph
from enfilade.project.project import Project
from enfilade.project.showing import Photograph
from enfilade.project.store import kept_states, load, save
from enfilade.project.writing import project_text
from project_folders import folder_state, picture


def changed(folder: Path, **fields: object) -> Project:
    project = load(folder)
    later = project.model_copy(update=fields)
    later._loaded = project._loaded
    save(later, folder)
    return later


@pytest.fixture
def home(tmp_path: Path) -> Path:
    folder = tmp_path / "house"
    save(ef.demo(), folder)
    return folder


def test_a_version_comes_back_into_an_empty_folder(address: str, home: Path, tmp_path: Path) -> None:
    with Archive(address) as archive:
        archive.keep(home)
        later = changed(home, name="Later")
        archive.keep(home)
        back = bring_back(archive, later.id, 1, tmp_path / "first").folder
        assert (back / "project.json").read_bytes() == project_text(ef.demo()).encode()
        newest = bring_back(archive, later.id, None, tmp_path / "newest").folder
        assert load(newest) == later
        changed(newest, name="Later still")
        assert archive.keep(newest).version.number == 3  # it remembers which version it was made from
        changed(back, name="From the first")
        with pytest.raises(Conflict, match="version 3 was kept"):
            archive.keep(back)
        with pytest.raises(NotFound, match="version 9"):
            bring_back(archive, later.id, 9, tmp_path / "none")
        assert not (tmp_path / "none").exists()


def test_a_version_comes_back_into_its_own_folder(home: Path, tmp_path: Path) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        name = keep_photograph(home, picture())
        first = changed(home, photographs=(*load(home).photographs, Photograph(id="extra", file=name)))
        archive.keep(home)
        changed(home, photographs=first.photographs[:-1], name="Later")
        (home / "photos" / name).unlink()
        archive.keep(home)
        changed(home, name="Not kept yet")
        brought = bring_back(archive, first.id, 1, home)
        assert (brought.folder, brought.version.number, brought.made_from) == (home, 1, 2)
        assert brought.before == kept_states(home)[0]
        assert load(home) == first
        assert (home / "photos" / name).read_bytes() == picture()
        assert b"Not kept yet" in kept_states(home)[0].read_bytes()
        assert archive.keep(home).version.number == 3  # the way goes on from the newest version


def test_the_folder_remembers_which_version_was_brought_back(home: Path, tmp_path: Path) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        archive.keep(home)
        colleague = bring_back(archive, ef.demo().id, None, tmp_path / "colleague").folder
        for name in ("Second", "Third"):
            changed(home, name=name)
            archive.keep(home)
        # What the colleague's folder was kept as is earlier than what is brought: it goes on from that one.
        assert bring_back(archive, ef.demo().id, 2, colleague).made_from == 2
        changed(colleague, name="The colleague's")
        with pytest.raises(Conflict, match="made from version 2"):
            archive.keep(colleague)
        # One's own was kept as a later one: going back is a change to that, and is told where somebody was faster.
        brought = bring_back(archive, ef.demo().id, 1, home)
        assert (brought.version.number, brought.made_from) == (1, 3)
        archive.keep(colleague, onto=3)
        for _ in range(2):
            with pytest.raises(
                Conflict, match=r"made from version 3(.|\n)*Version 1 was brought back into this folder"
            ):
                archive.keep(home)


def test_a_strangers_folder_is_spared(home: Path, tmp_path: Path) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        archive.keep(home)
        other = tmp_path / "other"
        save(Project(id="other", name="Another house"), other)
        (tmp_path / "letters").mkdir()
        (tmp_path / "letters" / "mine.txt").write_text("mine")
        (tmp_path / "broken").mkdir()
        (tmp_path / "broken" / "project.json").write_text("{")
        before = folder_state(tmp_path)
        for name, kind, words in (
            ("other", Conflict, "another project"),
            ("letters", Refused, "holds no project"),
            ("broken", Refused, "nothing says that it was"),
        ):
            with pytest.raises(kind, match=words):
                bring_back(archive, "long-shed", 1, tmp_path / name)
        assert {n: w for n, w in folder_state(tmp_path).items() if "sqlite" not in n} == {
            n: w for n, w in before.items() if "sqlite" not in n
        }


@pytest.mark.parametrize("damage", [b"", b"\x00" * 4000, b'{"format": 1, "id": "long-sh', b"\xff\xfegarbage"])
def test_a_damaged_file_is_replaced_and_put_aside(damage: bytes, home: Path, tmp_path: Path) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        archive.keep(home)
        (home / "project.json").write_bytes(damage)
        bring_back(archive, "long-shed", None, home)
        assert load(home) == ef.demo()
        (aside,) = (home / "drafts").glob("unreadable-*")
        assert aside.read_bytes() == damage


def test_nothing_is_written_through_a_link(home: Path, tmp_path: Path) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        (home / "light").mkdir()
        (home / "light" / "lamp.csv").write_text("0")
        archive.keep(home)
        (home / "light" / "lamp.csv").unlink()
        (home / "light").rmdir()
        (tmp_path / "elsewhere").mkdir()
        (home / "light").symlink_to(tmp_path / "elsewhere")
        with pytest.raises((Refused, BadRecord), match="link"):
            bring_back(archive, "long-shed", 1, home)
        assert not any((tmp_path / "elsewhere").iterdir())


EXTRA = f"{fingerprint(picture())}.png"


@pytest.fixture
def fuller(home: Path) -> Path:
    """The same house with a photograph and a file of light."""
    assert keep_photograph(home, picture()) == EXTRA
    changed(home, photographs=(*load(home).photographs, Photograph(id="extra", file=EXTRA)))
    (home / "light").mkdir()
    (home / "light" / "lamp.csv").write_text("0")
    return home


def without_what_lies_beside(home: Path) -> None:
    (home / "photos" / EXTRA).unlink()
    (home / "light" / "lamp.csv").unlink()
    (home / "light").rmdir()


def seen(home: Path) -> dict[str, tuple[int, str]]:
    return {name: state for name, state in folder_state(home).items() if Path(name).name != ".lock"}


def test_who_is_refused_finds_nothing_there(fuller: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody saves just then: what the version holds beside its record goes again."""
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        archive.keep(fuller)
        changed(fuller, photographs=load(fuller).photographs[:-1])
        without_what_lies_beside(fuller)
        saves, stands = restoring.save_bytes, restoring._standing
        before: list[dict[str, tuple[int, str]]] = []

        def late(project: Project, data: bytes, folder: Path) -> Path:
            assert (fuller / "light" / "lamp.csv").exists()
            return saves(project, data, folder)

        def another(store: Archive, target: Path, version: Version) -> Project | None:
            standing = stands(store, target, version)
            changed(fuller, name="Of another window")
            before.append(seen(fuller))
            return standing

        monkeypatch.setattr(restoring, "_standing", another)
        monkeypatch.setattr(restoring, "save_bytes", late)
        with pytest.raises(Conflict, match="has changed since it was loaded"):
            bring_back(archive, "long-shed", 1, fuller)
    assert seen(fuller) == before[-1]
    assert load(fuller).name == "Of another window"


def test_a_file_that_was_mended_meanwhile_is_not_written_over(
    fuller: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        archive.keep(fuller)
        good = (fuller / "project.json").read_bytes()
        (fuller / "project.json").write_bytes(b"{")
        without_what_lies_beside(fuller)
        locks = restoring.locked

        @contextlib.contextmanager
        def late(folder: Path) -> Iterator[None]:
            (fuller / "project.json").write_bytes(mended)
            with locks(folder):
                yield

        mended = project_text(ef.demo().model_copy(update={"name": "Mended"})).encode()
        before = {**seen(fuller), "project.json": ()}
        monkeypatch.setattr(restoring, "locked", late)
        with pytest.raises(Conflict, match="was saved meanwhile"):
            bring_back(archive, "long-shed", 1, fuller)
        assert (fuller / "project.json").read_bytes() == mended
        assert {**seen(fuller), "project.json": ()} == before
        monkeypatch.undo()
        (fuller / "project.json").write_bytes(b"{")
        bring_back(archive, "long-shed", 1, fuller)
    assert (fuller / "project.json").read_bytes() == good
    assert (fuller / "light" / "lamp.csv").read_text() == "0"


def test_a_folder_that_takes_the_photographs_and_not_the_record_is_as_it_was(
    fuller: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        archive.keep(fuller)
        without_what_lies_beside(fuller)
        for data in (project_text(ef.demo()).encode(), b"{"):
            (fuller / "project.json").write_bytes(data)
            before = seen(fuller)

            def full(*_: object) -> None:
                raise Refused("no room")

            monkeypatch.setattr(restoring, "save_bytes", full)
            monkeypatch.setattr(restoring, "put_aside", full)
            with pytest.raises(Refused, match="no room"):
                bring_back(archive, "long-shed", 1, fuller)
            assert seen(fuller) == before


def test_a_photograph_that_another_window_needs_meanwhile_stays(
    fuller: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        archive.keep(fuller)
        whole = load(fuller).photographs
        changed(fuller, photographs=whole[:-1])
        without_what_lies_beside(fuller)
        saves = restoring.save_bytes

        def late(project: Project, data: bytes, folder: Path) -> Path:
            changed(fuller, photographs=whole)  # It finds the photograph where it was laid.
            return saves(project, data, folder)

        monkeypatch.setattr(restoring, "save_bytes", late)
        with pytest.raises(Conflict):
            bring_back(archive, "long-shed", 1, fuller)
    assert load(fuller).photographs == whole
    assert not (fuller / "light").exists()
