"""A file that can be kept comes back: what is too large for that is refused before anything is kept."""

from __future__ import annotations

from pathlib import Path

import pytest

import enfilade as ef
from enfilade.archive.adding import add_version
from enfilade.archive.cutting import LARGEST_BYTES
from enfilade.archive.keeping import keep
from enfilade.archive.restoring import bring_back
from enfilade.archive.store import Store
from enfilade.archive.verifying import verify
from enfilade.errors import NotFound, Refused
from enfilade.project.writing import project_text

TOO_LARGE = 70 * 1024 * 1024


def test_the_largest_file_comes_back_and_a_larger_one_is_refused(address: str) -> None:
    house = ef.demo()
    record = {"project.json": project_text(house).encode()}
    largest = b"0123456789abcdef" * (LARGEST_BYTES // 16)
    with Store(address) as store:
        with pytest.raises(Refused, match=f"light/scan.csv.* has {TOO_LARGE} bytes; expected at most {LARGEST_BYTES}"):
            add_version(store, house, {**record, "light/scan.csv": bytes(TOO_LARGE)}, who="", why="", base=None)
        with pytest.raises(NotFound):
            store.version(house.id)
        add_version(store, house, {**record, "light/scan.csv": largest}, who="", why="", base=None)
        assert store.file(house.id, "light/scan.csv") == largest
        assert verify(store) == ()


def test_a_folder_with_one_is_refused_and_one_with_the_largest_comes_back(tmp_path: Path) -> None:
    home = tmp_path / "house"
    ef.save(ef.demo(), home)
    (home / "light").mkdir()
    with Store(str(tmp_path / "a.sqlite")) as store:
        (home / "light" / "scan.csv").write_bytes(bytes(TOO_LARGE))
        with pytest.raises(Refused, match=r"scan\.csv holds"):
            keep(store, home)
        assert not store.projects()
        (home / "light" / "scan.csv").write_bytes(bytes(LARGEST_BYTES))
        keep(store, home)
        back = bring_back(store, ef.demo().id, None, tmp_path / "back").folder
    assert (back / "light" / "scan.csv").read_bytes() == bytes(LARGEST_BYTES)
