"""Killed in the midst of forgetting: everything is there as it was, or nothing is; and it can be brought to its end."""

from __future__ import annotations

import os
import random
import shutil
import signal
import sys
import time
from pathlib import Path

import pytest
from sqlalchemy import select

from enfilade.archive import tables as t
from enfilade.archive.archive import Archive
from enfilade.archive.forgetting import finish, forget
from enfilade.archive.forgetting.cleaning import mark_unclean, unclean
from forgetting import Planted, holding, planted_archive

TIMES = 6

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="a process cannot be forked there")


def test_killed_at_any_instant_it_is_done_or_not_and_never_half(tmp_path: Path) -> None:
    with Archive(str(tmp_path / "first" / "archive.sqlite")) as archive:
        planted = planted_archive(archive, tmp_path)
    took = time.perf_counter()
    _forgotten_in_child(_copied(tmp_path, 0), planted, after_s=None)
    took = time.perf_counter() - took
    chance = random.Random(7)
    seen = set()
    for n in range(1, TIMES + 1):
        file = _copied(tmp_path, n)
        _forgotten_in_child(file, planted, after_s=took * (n - chance.random()) / TIMES)
        with Archive(str(file)) as archive:
            id = next(one.id for one in archive.projects() if one.id != planted.other)
            texts = [archive.file(id, path, version.number)
                     for version in archive.versions(id) for path in archive.paths(id, version.number)]  # fmt: skip
            whole = [bool(holding(text)) for text in texts if text[:1] in b"{["]
            assert len(set(whole)) == 1, "some versions know the client, and some do not"
            seen.add(whole[0])
            assert (id == planted.project) == whole[0]
            if not whole[0]:
                finish(archive)
            assert (file.parent / "archive.sqlite").read_bytes()[:6] == b"SQLite"
            if not whole[0]:
                for path in file.parent.iterdir():
                    assert (path.name, holding(path.read_bytes())) == (path.name, [])
            else:
                assert forget(archive, id, erase=True).versions == 3
    assert True in seen  # it was killed early enough at least once; how late it came depends on the machine


def test_what_a_dead_process_did_not_clean_is_cleaned_later(tmp_path: Path) -> None:
    with Archive(str(tmp_path / "archive.sqlite")) as archive:
        archive.writing(mark_unclean)
        with archive.reading() as connection:
            assert unclean(connection)
        assert finish(archive) == ()
        with archive.reading() as connection:
            assert connection.execute(select(t.info.c.key).where(t.info.c.key.like("%clean%"))).all() == []


def _copied(tmp_path: Path, n: int) -> Path:
    folder = tmp_path / f"copy-{n}"
    shutil.copytree(tmp_path / "first", folder)
    return folder / "archive.sqlite"


def _forgotten_in_child(file: Path, planted: Planted, *, after_s: float | None) -> None:
    child = os.fork()
    if child == 0:
        try:
            with Archive(str(file)) as archive:
                forget(archive, planted.project, erase=True)
            os._exit(0)
        except BaseException:
            os._exit(1)
    if after_s is None:
        assert os.waitpid(child, 0)[1] == 0
        return
    time.sleep(after_s)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
