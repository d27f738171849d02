"""The one place that writes files: whole or not at all, one writer at a time."""

from __future__ import annotations

import contextlib
import hashlib
import os
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from enfilade.errors import Conflict, NotFound, Refused

__all__ = ["fingerprint", "locked", "read_bytes", "write_bytes", "write_text"]

LARGEST_BYTES = 64 * 1024 * 1024


def fingerprint(data: bytes) -> str:
    """Return the content name of `data`: its SHA-256 in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def read_bytes(path: Path, *, largest: int = LARGEST_BYTES) -> bytes:
    """Read a plain file, refusing links, folders, devices and oversize.

    Raises:
        NotFound: There is no such file.
        Refused: It is not a plain file, cannot be read, or is over `largest` bytes.
    """
    if path.is_symlink():
        raise Refused(f"{path.name} is a link", expected="a plain file inside the project")
    try:
        # Opened without blocking, so that a pipe put in a file's place cannot hang the reader.
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    except FileNotFoundError as error:
        raise NotFound(f"{path} does not exist", do="check the path") from error
    except OSError as error:
        raise Refused(f"{path} cannot be read ({error.strerror})", do="check who may read it") from error
    with os.fdopen(handle, "rb") as stream:
        if not path.is_file():
            raise Refused(f"{path} is not a plain file", expected="a plain file")
        size = os.fstat(stream.fileno()).st_size
        if size > largest:
            raise Refused(f"{path.name} holds {size} bytes", expected=f"at most {largest}")
        return stream.read(largest + 1)


def write_bytes(path: Path, data: bytes) -> None:
    """Put `data` at `path` so that a reader, or a power cut, sees the old file or the new one whole.

    Raises:
        Refused: The folder cannot be written, or the disk is full; the old file stands.
    """
    name = ""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(name, path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~_umask())
        os.replace(name, path)
    except OSError as error:
        if name:
            with contextlib.suppress(OSError):
                os.unlink(name)
        raise Refused(
            f"{path} could not be written ({error.strerror})",
            do="what stood there before is untouched; free some space or choose another folder",
        ) from error
    _sync_folder(path.parent)


def write_text(path: Path, text: str) -> None:
    """Write `text` as UTF-8 with plain line ends; see `write_bytes`."""
    write_bytes(path, text.encode("utf-8"))


@contextlib.contextmanager
def locked(folder: Path, *, wait_s: float = 5.0) -> Iterator[None]:
    """Hold the folder's lock; a second writer waits, then is told.

    The lock belongs to the open file, so that it goes when the process does.

    Raises:
        Conflict: Another process held the lock for `wait_s` seconds.
        Refused: The folder cannot be written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle = os.open(folder / ".lock", os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
    except OSError as error:
        raise Refused(f"{folder} cannot be written ({error.strerror})", do="choose another folder") from error
    try:
        deadline = time.monotonic() + wait_s
        while not _try_lock(handle):
            if time.monotonic() > deadline:
                raise Conflict(f"{folder} is being saved by another window", do="try again in a moment")
            time.sleep(0.02)
        yield
    finally:
        os.close(handle)


def _try_lock(handle: int) -> bool:
    try:
        if os.name == "nt":  # pragma: no cover
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _sync_folder(folder: Path) -> None:
    if os.name == "nt":  # pragma: no cover
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
