"""Broken projects: each is refused with the file and the place, and nothing on disk is changed."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import pytest

from breaking import WHOLE, Broken
from broken import BROKEN
from enfilade.checks.run import project_yardstick
from enfilade.cli import main
from enfilade.errors import EnfiladeError
from enfilade.project.store import load
from project_folders import as_nobody, folder_state, good_plain, put

EACH = pytest.mark.parametrize("broken", BROKEN, ids=lambda broken: broken.name)
needs_posix = pytest.mark.skipif(os.name == "nt", reason="links and pipes of POSIX")


def test_the_project_that_is_broken_here_is_good(tmp_path: Path) -> None:
    put(tmp_path, good_plain())
    assert len(load(tmp_path).things) == 7
    (tmp_path / "project.json").write_bytes(b"\xef\xbb\xbf" + WHOLE.encode())
    assert load(tmp_path / "project.json").id == "test-house"  # an editor's byte order mark does no harm


def test_every_case_has_its_own_name() -> None:
    assert len({broken.name for broken in BROKEN}) == len(BROKEN) > 45


@EACH
@needs_posix
def test_it_is_refused_with_its_place_and_nothing_is_changed(tmp_path: Path, broken: Broken) -> None:
    folder = tmp_path / "house"
    broken.make(folder)
    before = folder_state(folder)
    with pytest.raises(EnfiladeError) as refusal:
        project_yardstick(load(folder))
    message = str(refusal.value)
    for words in broken.words:
        assert words in message
    assert str(folder) in message
    assert all(line.isprintable() for line in message.splitlines())
    assert len(message) < 40_000
    assert folder_state(folder) == before


@EACH
@needs_posix
def test_the_command_refuses_it_with_exit_code_2(
    tmp_path: Path, broken: Broken, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "house"
    broken.make(folder)
    before = folder_state(folder)
    assert main(["check", str(folder)]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    for words in broken.words:
        assert words in told.err
    assert "Traceback" not in told.err
    assert folder_state(folder) == before


def test_a_file_that_may_not_be_read_is_refused() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        put(folder, good_plain())
        (folder / "project.json").chmod(0)

        def refused() -> str:
            try:
                load(folder)
            except EnfiladeError as error:
                return str(error)
            return "it was read"

        assert "project.json' cannot be read (Permission denied)" in as_nobody(refused)
        (folder / "project.json").chmod(0o644)
        folder.chmod(0o700)
        assert "is not there, or cannot be read" in as_nobody(refused)


def test_paths_that_cannot_be_are_refused(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    for path in (tmp_path / "none", tmp_path / "file", tmp_path / "a\0b", tmp_path / ("n" * 300), Path("/proc/none/x")):
        with pytest.raises(EnfiladeError):
            load(path)


def test_every_fault_of_a_file_is_told_at_once(tmp_path: Path) -> None:
    plain = good_plain()
    plain["things"][0]["width_mm"] = -1
    plain["spaces"][0]["use"] = "ballroom"
    plain["colour"] = 1
    put(tmp_path, plain)
    with pytest.raises(EnfiladeError) as refusal:
        load(tmp_path)
    assert len(str(refusal.value).splitlines()) == 3
