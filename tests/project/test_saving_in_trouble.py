"""Saving when several do it at once, the disk is full, or the folder may not be written. Kills: `tests/hard`."""

from __future__ import annotations

import multiprocessing
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from enfilade.errors import Conflict, Refused
from enfilade.project.project import Project
from enfilade.project.store import kept_states, load, save
from killing import small_disk
from project_folders import as_nobody, folder_state, good_project

pytestmark = pytest.mark.skipif(os.name == "nt", reason="needs fork, signals and mounts of POSIX")


def named(project: Project, name: str) -> Project:
    return project.model_copy(update={"name": name})


def padded(name: str) -> Project:
    """Return a project of a few hundred kilobytes, so that writing takes a while."""
    return Project.model_validate(
        {"id": "long", "name": name, "finishes": [{"id": f"f{i}", "name": "x" * 300} for i in range(500)]}
    )


def _write_many(folder: Path, worker: int, done: multiprocessing.Queue[tuple[str, bool]]) -> None:
    for turn in range(3):
        name = f"{worker}-{turn}"
        try:
            save(named(load(folder), name), folder)
        except Conflict:
            done.put((name, False))
        else:
            done.put((name, True))


def test_processes_lose_no_accepted_save(tmp_path: Path) -> None:
    save(good_project().with_records(photographs=()), tmp_path)
    context = multiprocessing.get_context("fork")
    done: multiprocessing.Queue[tuple[str, bool]] = context.Queue()
    workers = [context.Process(target=_write_many, args=(tmp_path, number, done)) for number in range(3)]
    for worker in workers:
        worker.start()
    said = dict(done.get(timeout=60) for _ in range(9))
    for worker in workers:
        worker.join(timeout=60)
        assert worker.exitcode == 0
    everywhere = (tmp_path / "project.json").read_text() + "".join(path.read_text() for path in kept_states(tmp_path))
    assert any(said.values())
    for name, accepted in said.items():
        assert (f'"name": "{name}"' in everywhere) == accepted


@pytest.fixture
def tiny_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 128 kB."""
    with small_disk(tmp_path / "disk", "128k") as disk:
        yield disk


def test_a_full_disk_leaves_the_old_file(tiny_disk: Path) -> None:
    project = Project(id="small", name="Small")
    save(project, tiny_disk)
    before = folder_state(tiny_disk)
    long = padded("Long").model_copy()
    long._loaded = project._loaded
    for large in (long, long):  # also the second time
        with pytest.raises(Refused, match=r"No space left on device.*untouched.*free some space"):
            save(large, tiny_disk)
        assert load(tiny_disk) == project
        kept = {name for name in folder_state(tiny_disk) if not name.startswith("history")}
        assert kept == set(before)
    assert len(kept_states(tiny_disk)) <= 1  # the state was kept once, before the file was to be written
    save(named(project, "Still small"), tiny_disk)
    assert load(tiny_disk).name == "Still small"


def test_a_folder_that_may_not_be_written_is_refused() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "house"
        save(Project(id="small", name="Small"), folder)
        for path in (Path(name), folder):
            path.chmod(0o755)
        before = folder_state(folder)
        project = load(folder)

        def refused() -> str:
            try:
                save(named(project, "New"), folder)
            except Refused as error:
                return str(error)
            return "it was written"

        def refused_new() -> str:
            try:
                save(Project(id="b", name="B"), Path(name) / "other")
            except Refused as error:
                return str(error)
            return "it was written"

        assert "cannot be written (Permission denied); choose another folder" in as_nobody(refused)
        assert "cannot be written (Permission denied)" in as_nobody(refused_new)
        assert folder_state(folder) == before
