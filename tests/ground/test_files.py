"""The one place that writes files: whole or not at all, one writer at a time."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from enfilade import files
from enfilade.errors import Conflict, NotFound, Refused
from enfilade.files import LOCK, fingerprint, locked, read_bytes, sweep_parts, write_bytes, write_text

posix = pytest.mark.skipif(os.name == "nt", reason="POSIX files")


def test_a_fingerprint_is_the_sha_256_of_the_content() -> None:
    # FIPS 180-4 example of the one-block message "abc".
    assert fingerprint(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_what_was_written_is_read(tmp_path: Path) -> None:
    target = tmp_path / "new" / "folder" / "file.txt"
    write_text(target, "as measured: 3′ 6″\n")
    assert read_bytes(target) == "as measured: 3′ 6″\n".encode()
    write_bytes(target, b"second")
    assert read_bytes(target) == b"second"
    assert [path.name for path in target.parent.iterdir()] == ["file.txt"]


@posix
def test_a_new_file_follows_the_umask_and_an_old_one_keeps_its_mode(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        write_bytes(tmp_path / "new", b"1")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o640
    (tmp_path / "new").chmod(0o604)
    write_bytes(tmp_path / "new", b"2")
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o604


@posix
def test_what_is_no_plain_file_is_refused_and_does_not_hang(tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "file").write_bytes(b"x")
    (tmp_path / "link").symlink_to(tmp_path / "file")
    (tmp_path / "dangling").symlink_to(tmp_path / "nowhere")
    os.mkfifo(tmp_path / "pipe")
    for name, words in (
        ("folder", "plain file"),
        ("link", "is a link"),
        ("dangling", "is a link"),
        ("pipe", "plain file"),
    ):
        with pytest.raises(Refused, match=words):
            read_bytes(tmp_path / name)
    open_before = len(os.listdir("/proc/self/fd")) if os.path.isdir("/proc/self/fd") else 0
    for _ in range(5):
        with pytest.raises(Refused):
            read_bytes(tmp_path / "folder")
    if open_before:
        assert len(os.listdir("/proc/self/fd")) == open_before


def test_missing_oversize_and_impossible_names(tmp_path: Path) -> None:
    with pytest.raises(NotFound, match="does not exist"):
        read_bytes(tmp_path / "none")
    (tmp_path / "file").write_bytes(b"12345")
    with pytest.raises(NotFound):
        read_bytes(tmp_path / "file" / "below")
    with pytest.raises(Refused, match="holds 5 bytes; expected at most 4"):
        read_bytes(tmp_path / "file", largest=4)
    assert read_bytes(tmp_path / "file", largest=5) == b"12345"
    for name in ("a\0b", "n" * 300):
        with pytest.raises((Refused, NotFound)):
            read_bytes(tmp_path / name)
        with pytest.raises(Refused):
            write_bytes(tmp_path / name, b"")
        with pytest.raises(Refused), locked(tmp_path / name):
            pass


def test_a_write_that_fails_leaves_the_old_file_and_no_crumbs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "file"
    target.write_bytes(b"old")

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refused, match=r"No space left on device.*untouched"):
        write_bytes(target, b"new")
    assert target.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["file"]

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.undo()
    monkeypatch.setattr(os, "replace", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_bytes(target, b"new")
    assert target.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_a_folder_that_cannot_be_synced_is_no_failure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.fsync
    monkeypatch.setattr(os, "fsync", lambda handle: real(handle) if stat.S_ISREG(os.fstat(handle).st_mode) else _fail())
    write_bytes(tmp_path / "file", b"new")
    assert (tmp_path / "file").read_bytes() == b"new"


def _fail() -> None:
    raise OSError(22, "Invalid argument")


def test_only_half_written_files_are_swept(tmp_path: Path) -> None:
    names = {
        ".project.json.0123456789ab.part",
        ".project.json",
        "notes.part",
        ".x.part",
        "project.json",
        ".a.0123456789ab.part~",
    }
    for name in names:
        (tmp_path / name).touch()
    sweep_parts(tmp_path)
    assert {path.name for path in tmp_path.iterdir()} == names - {".project.json.0123456789ab.part"}
    sweep_parts(tmp_path / "none")


def test_a_second_writer_waits_and_is_then_told(tmp_path: Path) -> None:
    with locked(tmp_path):
        started = time.monotonic()
        with pytest.raises(Conflict, match="another window"), locked(tmp_path, wait_s=0.1):
            pass
        assert time.monotonic() - started >= 0.1
    with locked(tmp_path, wait_s=0):
        pass


def test_the_lock_goes_when_the_work_fails(tmp_path: Path) -> None:
    with pytest.raises(ZeroDivisionError), locked(tmp_path):
        _ = 1 / 0
    with locked(tmp_path, wait_s=0):
        pass


def test_threads_hold_the_lock_one_at_a_time(tmp_path: Path) -> None:
    inside, most = [0], [0]

    def work() -> None:
        for _ in range(10):
            with locked(tmp_path, wait_s=30):
                inside[0] += 1
                most[0] = max(most[0], inside[0])
                time.sleep(0.001)
                inside[0] -= 1

    workers = [threading.Thread(target=work) for _ in range(4)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert most[0] == 1


def test_a_lock_left_by_a_dead_process_does_not_block(tmp_path: Path) -> None:
    code = (
        "import os, pathlib, sys; from enfilade.files import locked\n"
        "with locked(pathlib.Path(sys.argv[1])):\n    os._exit(3)"
    )
    environment = {**os.environ, "PYTHONPATH": str(Path(files.__file__).parents[1])}
    ended = subprocess.run([sys.executable, "-c", code, str(tmp_path)], env=environment, check=False)
    assert ended.returncode == 3
    assert (tmp_path / LOCK).exists()
    with locked(tmp_path, wait_s=0):
        pass


@posix
def test_a_lock_that_is_a_link_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / LOCK).symlink_to(tmp_path / "elsewhere")
    with pytest.raises(Refused), locked(tmp_path / "in"):
        pass
    assert not (tmp_path / "elsewhere").exists()


def test_a_file_in_the_place_of_the_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(Refused, match="cannot be written"), locked(tmp_path / "file"):
        pass
