"""A disk that fills up while projects are saved and kept: refused in words, nothing lost, and it goes on with room."""

from __future__ import annotations

import os
import random
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from enfilade.archive.keeping import keep
from enfilade.archive.store import FILE, Store
from enfilade.errors import Refused
from enfilade.files import fingerprint
from enfilade.project.store import kept_states, load, project_bytes, save
from kept_whole import assert_whole, keep_another, reworded
from killing import fork_only, how_many, small_disk
from project_folders import good_project, put

pytestmark = fork_only
TURNS = how_many("ENFILADE_FULL_DISKS", 100)
NOISE = random.Random(3)


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 3 MB."""
    with small_disk(tmp_path / "disk", "3m") as disk:
        yield disk


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A project's folder on another disk."""
    home = tmp_path / "house"
    put(home, project_bytes(good_project()))
    return home


def test_an_archive_on_a_full_disk(disk: Path, home: Path) -> None:
    id = good_project().id
    kept: list[str] = []
    refused = []
    ballast = disk / "ballast"
    ballast.write_bytes(bytes(800_000))
    with Store(str(disk / "archive.sqlite")) as store:
        for turn in range(60):
            try:
                keep_another(store, home, f"turn {turn}", lambda _: None)
            except Refused as error:
                refused.append(str(error))
                if len(refused) == 3:
                    break
            else:
                kept.append(fingerprint((home / FILE).read_bytes()))
        assert kept
        assert len(refused) == 3
        for words in refused:
            assert "the disk is full; make room and try again; nothing was written" in words
        # What was kept can still be read, on the full disk too.
        assert [one.number for one in store.versions(id)] == list(range(1, len(kept) + 1))
        for number, mark in enumerate(kept, 1):
            assert fingerprint(store.file(id, FILE, number)) == mark
    ballast.unlink()
    with Store(str(disk / "archive.sqlite"), create=False) as store:
        assert_whole(store, id)
        assert keep(store, home).version.number == len(kept) + 1
        assert_whole(store, id)


def test_an_archive_cannot_be_made_on_a_full_disk(disk: Path) -> None:
    ballast = disk / "ballast"
    with pytest.raises(OSError, match="No space left"):
        ballast.write_bytes(bytes(4_000_000))
    with pytest.raises(Refused, match=r"disk is full|cannot be opened"):
        Store(str(disk / "archive.sqlite"))
    ballast.unlink()
    with Store(str(disk / "archive.sqlite")) as store:
        assert store.projects() == []


def test_a_folder_on_a_full_disk(disk: Path) -> None:
    """Its earlier states fill the disk; the last state that was acknowledged stands, and stays among them."""
    home = disk / "house"
    put(home, project_bytes(good_project()))
    ballast = disk / "ballast"
    ballast.write_bytes(bytes(2_700_000))
    stands, refused = load(home).name, ""
    for turn in range(30):
        new = reworded(load(home), str(turn))
        new = new.model_copy(update={"brief": new.brief.model_copy(update={"text": NOISE.randbytes(9_000).hex()})})
        new._loaded = load(home)._loaded
        try:
            save(new, home)
        except Refused as error:
            refused = str(error)
            break
        stands = str(turn)
    assert "what stood there before is untouched; free some space" in refused
    assert load(home).name == stands
    assert not list(home.rglob("*.part"))
    ballast.unlink()
    save(reworded(load(home), "with room"), home)
    assert load(home).name == "with room"
    assert f'"name": "{stands}"' in kept_states(home)[0].read_text()


@contextmanager
def room_for(disk: Path, free: int) -> Iterator[None]:
    """Leave so many bytes free on a disk."""
    state = os.statvfs(disk)
    ballast = disk / "ballast"
    ballast.write_bytes(bytes(max(0, state.f_bavail * state.f_frsize - free)))
    try:
        yield
    finally:
        ballast.unlink()


def test_a_disk_that_is_full_at_any_byte_of_a_save(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    drawn = random.Random(11)
    refused: list[str] = []
    with small_disk(tmp_path / "disk", "12m") as disk:
        home = disk / "house"
        project = good_project()
        padded = project.brief.model_copy(update={"text": NOISE.randbytes(40_000).hex()})
        put(home, project_bytes(project.model_copy(update={"brief": padded})))
        for turn in range(TURNS):
            before = load(home)
            new = reworded(before, f"turn {turn}")
            with room_for(disk, drawn.randrange(0, 400_000, 4096)):
                try:
                    save(new, home)
                    stands = f"turn {turn}"
                except Refused as error:
                    refused.append(str(error))
                    stands = before.name
                assert load(home).name == stands
            assert not list(home.rglob("*.part"))
            assert load(home).brief.text == padded.text
    assert 0 < len(refused) < TURNS
    assert all("is untouched; free some space" in words for words in refused)
    with capsys.disabled():
        print(f"\nfull disk, saves: {TURNS - len(refused)} accepted, {len(refused)} refused")


def test_a_disk_that_is_full_at_any_byte_of_a_keep(
    tmp_path: Path, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drawn = random.Random(12)
    kept: list[str] = []
    refused: list[str] = []
    id = good_project().id
    with small_disk(tmp_path / "disk", "96m") as disk:
        address = str(disk / "archive.sqlite")
        with Store(address) as store:
            keep(store, home)
            kept.append(fingerprint((home / FILE).read_bytes()))
        for turn in range(TURNS):
            with room_for(disk, drawn.randrange(0, 1_200_000, 4096)):
                try:
                    with Store(address) as store:
                        keep_another(store, home, f"turn {turn}", lambda _: None)
                except Refused as error:
                    refused.append(str(error))
                else:
                    kept.append(fingerprint((home / FILE).read_bytes()))
            with Store(address, create=False) as store:
                assert len(store.versions(id)) == len(kept)
                assert fingerprint(store.file(id)) == kept[-1]
                if turn % 20 == 0 or turn == TURNS - 1:
                    assert_whole(store, id)
                    assert [fingerprint(store.file(id, FILE, n)) for n in range(1, len(kept) + 1)] == kept
    assert 0 < len(refused) < TURNS
    assert all("the disk is full; make room and try again; nothing was written" in words for words in refused)
    with capsys.disabled():
        print(f"\nfull disk, keeps: {TURNS - len(refused)} accepted, {len(refused)} refused")
