"""A folder kept: what belongs to it, which version it was made from, and who is told when another was quicker."""

from __future__ import annotations

import json
import shutil
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.archive import keeping
from enfilade.archive.archive import Archive
from enfilade.archive.keeping import REMEMBERED
from enfilade.archive.merging import keep_merged
from enfilade.errors import Conflict


def renamed(folder: Path, name: str) -> None:
    project = ef.load(folder)
    changed = project.model_copy(update={"name": name})
    changed._loaded = project._loaded
    ef.save(changed, folder)


def test_a_folder_is_kept_with_all_that_belongs_to_it(address: str, tmp_path: Path) -> None:
    home = tmp_path / "house"
    ef.save(ef.demo(), home)
    with Archive(address) as archive:
        kept = archive.keep(home, why="before the tender")
        assert kept.new
        assert kept.version.why == "before the tender"
        project = ef.load(home)
        assert archive.file(project.id) == (home / "project.json").read_bytes()
        for photograph in project.photographs:
            path = f"photos/{photograph.file}"
            assert archive.file(project.id, path) == (home / path).read_bytes()
        found = json.loads(archive.file(project.id, "findings.json"))
        assert [one["id"] for one in found] == [one.id for one in ef.check(project)]
        assert not archive.keep(home).new
        renamed(home, "Later")
        assert archive.keep(home).version.number == 2
        assert archive.project(project.id, 1) == project


def test_of_two_copies_the_second_is_told(address: str, tmp_path: Path) -> None:
    mine, theirs = tmp_path / "mine", tmp_path / "theirs"
    ef.save(ef.demo(), mine)
    with Archive(address) as archive:
        archive.keep(mine)
        shutil.copytree(mine, theirs)
        renamed(theirs, "Theirs")
        archive.keep(theirs, who="the colleague")
        renamed(mine, "Mine")
        with pytest.raises(Conflict, match=r"version 2 was kept on .* by the colleague"):
            archive.keep(mine)
        # A folder that lost what it remembers is known by a state that it held before.
        (theirs / REMEMBERED).unlink()
        renamed(theirs, "Theirs, later")
        assert archive.keep(theirs).version.number == 3


def test_of_two_who_keep_the_very_same_at_once_only_one_is_told_that_it_is_new(
    address: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine, theirs = tmp_path / "mine", tmp_path / "theirs"
    ef.save(ef.demo(), mine)
    with Archive(address) as archive:
        archive.keep(mine)
    renamed(mine, "Later")
    shutil.copytree(mine, theirs)
    # Both have seen which version is the newest before either writes.
    both, trying = threading.Barrier(2, timeout=60), keeping._remember_trying

    def met(*given: Any) -> None:
        both.wait()
        trying(*given)

    monkeypatch.setattr(keeping, "_remember_trying", met)

    def kept(folder: Path) -> tuple[bool, int, str]:
        with Archive(address) as archive:
            done = archive.keep(folder, who=folder.name)
            return done.new, done.version.number, done.version.who

    with ThreadPoolExecutor(2) as pool:
        first, second = sorted(pool.map(kept, (mine, theirs)))
    assert (first[0], second[0]) == (False, True)
    assert first[1:] == second[1:]  # the other is told whose version it stands in
    with Archive(address) as archive:
        assert [one.number for one in archive.versions(ef.demo().id)] == [1, 2]


def test_an_archive_put_back_from_before_the_first_version_says_how_to_go_on(address: str, tmp_path: Path) -> None:
    home = tmp_path / "house"
    ef.save(ef.demo(), home)
    with Archive(address) as archive:
        (home / REMEMBERED).write_text(json.dumps({archive.id: {"project": ef.demo().id, "version": 5}}))
        with pytest.raises(Conflict, match=r"put back from an earlier copy, `enfilade keep --onto 0`"):
            archive.keep(home)
        assert archive.keep(home, onto=0).version.number == 1
        (home / REMEMBERED).write_text(json.dumps({archive.id: {"project": ef.demo().id, "version": 5}}))
        for keep in (archive.keep, lambda folder: keep_merged(archive, folder)):
            renamed(home, "Later")
            with pytest.raises(Conflict, match=r"made from version 5, and the archive ends with version 1.*--onto 1"):
                keep(home)
        assert archive.keep(home, onto=1).version.number == 2
