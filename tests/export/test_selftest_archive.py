"""What `selftest` says of the archive; it makes nothing."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from enfilade.archive.address import VARIABLE
from enfilade.archive.store import Store
from enfilade.export.selftest import selftest_lines
from enfilade.export.selftest_archive import archive_tried
from postgres import started


def archive_line() -> str:
    return " ".join(map(str, archive_tried()[-1]))


def test_every_library_that_is_needed_is_named() -> None:
    named = {line.what for line in selftest_lines()}
    assert {"sqlalchemy", "rapidfuzz", "typst", "python-docx", "python-pptx", "resvg-py", "psycopg"} <= named


def test_a_file_is_not_made_and_its_state_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "deep" / "archive.sqlite"
    monkeypatch.setenv(VARIABLE, str(path))
    assert "not made yet, and can be" in archive_line()
    assert not path.parent.exists()
    Store().close()
    assert "0 projects, can be written" in archive_line()
    path.unlink()
    path.write_bytes(b"nothing of ours, and long enough to be looked at as a database file" * 20)
    tried = archive_tried()[-1]
    assert (tried.works, tried.needed) == (False, True)


def test_where_nothing_is_said_the_archive_is_not_needed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(VARIABLE, raising=False)
    monkeypatch.setenv("ENFILADE_DATA", str(tmp_path))
    assert not archive_tried()[-1].needed


def test_a_folder_that_cannot_be_written_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, str(tmp_path / "archive.sqlite"))
    real = os.access
    monkeypatch.setattr(os, "access", lambda path, mode: mode != os.W_OK and real(path, mode))
    assert "cannot be written" in archive_line()
    assert not archive_tried()[-1].works


def test_a_shared_one_is_reached_and_not_made(monkeypatch: pytest.MonkeyPatch) -> None:
    with started() as server:
        _shared(server.address(server.new_database()), monkeypatch)


def _shared(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, address)
    assert "holds no archive yet" in archive_line()
    assert "holds no archive yet" in archive_line()  # still
    Store().close()
    assert "0 projects, can be written" in archive_line()
    monkeypatch.setenv(VARIABLE, "postgresql://studio@127.0.0.1:1/nowhere")
    assert "cannot be reached" in archive_line()
