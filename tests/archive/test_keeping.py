"""A folder kept: what belongs to it, which version it was made from, and who is told when another was quicker."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

import enfilade as ef
from enfilade.archive.archive import Archive
from enfilade.archive.keeping import REMEMBERED
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
