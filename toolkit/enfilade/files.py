"""The one place that writes files: whole or not at all, one writer at a time."""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
import stat
import time
import weakref
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO, Final

from enfilade.errors import Conflict, EnfiladeError, NotFound, Refused

__all__ = ["LARGEST_BYTES", "LOCK", "Held", "fingerprint", "hold", "locked", "read_bytes", "sweep_parts", "write_bytes",
           "write_text", "written_whole"]  # fmt: skip

LARGEST_BYTES: Final = 64 * 1024 * 1024
LOCK: Final = ".lock"
_PART: Final = re.compile(r"\..+\.[0-9a-f]{12}\.part")

# Without blocking, so that a pipe put in a file's place cannot hang the reader; never through a link.
_READ: Final = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)


def fingerprint(data: bytes) -> str:
    """Return the content name of `data`: its SHA-256 in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def read_bytes(path: Path, *, largest: int = LARGEST_BYTES) -> bytes:
    """Read a plain file, refusing links, folders, devices and oversize.

    Raises:
        NotFound: There is no such file.
        Refused: It is not a plain file, cannot be read, or is over `largest` bytes.
    """
    if os.path.islink(path):
        raise Refused(f"{path} is a link", expected="a plain file inside the project")
    try:
        handle = os.open(path, _READ)
    except (FileNotFoundError, NotADirectoryError) as error:
        raise NotFound(f"{path} does not exist", do="check the path") from error
    except (OSError, ValueError) as error:
        what = f"{str(path)!r} cannot be read ({_why(error)})"
        raise Refused(what, do="check the name, and who may read it") from error
    try:
        state = os.fstat(handle)
        if not stat.S_ISREG(state.st_mode):
            raise Refused(f"{path} is not a plain file", expected="a plain file")
        if state.st_size > largest:
            raise Refused(f"{path} holds {state.st_size} bytes", expected=f"at most {largest}")
        with os.fdopen(handle, "rb", closefd=False) as stream:
            data = stream.read(largest + 1)
    except OSError as error:
        raise Refused(f"{path} cannot be read ({_why(error)})", do="check the disk") from error
    finally:
        os.close(handle)
    if len(data) > largest:
        raise Refused(f"{path} grew while it was read", expected=f"at most {largest} bytes")
    return data


def write_bytes(path: Path, data: bytes) -> None:
    """Put `data` at `path` so that a reader, or a power cut, sees the old file or the new one whole.

    Raises:
        Refused: The folder cannot be written, or the disk is full; the old file stands.
    """
    with written_whole(path) as stream:
        stream.write(data)


@contextlib.contextmanager
def written_whole(path: Path) -> Iterator[BinaryIO]:
    """Give a file to write to that takes its place at `path` when the block ends well, and goes otherwise.

    Raises:
        Refused: The folder cannot be written, or the disk is full; the old file stands.
    """
    part = path.with_name(f".{path.name}.{os.urandom(6).hex()}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle = os.open(part, os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        with os.fdopen(handle, "w+b") as stream:
            yield stream
            stream.flush()
            os.fsync(stream.fileno())
        with contextlib.suppress(FileNotFoundError):
            os.chmod(part, path.stat().st_mode & 0o777)
        os.replace(part, path)
    except EnfiladeError:
        raise
    except (OSError, ValueError) as error:
        raise Refused(
            f"{str(path)!r} could not be written ({_why(error)})",
            do="what stood there before is untouched; free some space or choose another folder",
        ) from error
    finally:
        with contextlib.suppress(OSError, ValueError):
            os.unlink(part)
    _sync_folder(path.parent)


def sweep_parts(folder: Path) -> None:
    """Remove the half-written files of a writer that died; to be called by who holds the folder's lock."""
    with contextlib.suppress(OSError):
        for entry in folder.iterdir():
            if _PART.fullmatch(entry.name):
                entry.unlink()


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
        handle = os.open(folder / LOCK, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
    except (OSError, ValueError) as error:
        raise Refused(f"{str(folder)!r} cannot be written ({_why(error)})", do="choose another folder") from error
    try:
        deadline = time.monotonic() + wait_s
        while not _try_lock(handle):
            if time.monotonic() > deadline:
                raise Conflict(f"{folder} is being saved by another window", do="try again in a moment")
            time.sleep(0.02)
        try:
            yield
        finally:
            _unlock(handle)
    finally:
        os.close(handle)


class Held:
    """A file that this process holds, until it lets go or ends."""

    def __init__(self, path: Path, handle: int) -> None:
        self.path = path
        self._let_go = weakref.finalize(self, _let_go, path, handle, os.getpid())

    def let_go(self) -> None:
        """Let go of the file and remove it."""
        self._let_go()


def _let_go(path: Path, handle: int, owner: int) -> None:
    if os.getpid() != owner:
        os.close(handle)  # A process that was forked has the file open too, but does not hold it.
        return
    if os.name != "nt":  # While it is held, so that nobody else's is removed.
        with contextlib.suppress(OSError):
            path.unlink()
    _unlock(handle)
    os.close(handle)
    if os.name == "nt":  # pragma: no cover - a file that is open cannot be removed there
        with contextlib.suppress(OSError):
            path.unlink()


def hold(path: Path, *, tries: int = 1) -> Held | None:
    """Hold a file that says by its lock that this process lives; made when it is not there.

    Args:
        path: The file, in a folder that is there.
        tries: How often to try where another holds it for a moment, to see whether it is held.
    Returns:
        What is held; None when another holds it, or the folder cannot be written.
    """
    for turn in range(tries):
        if turn:
            time.sleep(0.01)
        try:
            handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o600)
        except (OSError, ValueError):
            return None
        if _try_lock(handle) and _is_at(handle, path):
            return Held(path, handle)
        os.close(handle)  # Another holds it, or found it loose and removed it before it was locked here.
    return None


def _is_at(handle: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(handle), os.lstat(path))
    except OSError:
        return False


def _unlock(handle: int) -> None:
    # Closing is not enough where a process that was forked meanwhile still has the file open.
    if os.name != "nt":
        import fcntl

        fcntl.flock(handle, fcntl.LOCK_UN)


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


def _why(error: Exception) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)


def _sync_folder(folder: Path) -> None:
    if os.name == "nt":  # pragma: no cover
        return
    # The file is whole and in its place by now; some file systems cannot sync a folder, and that is no failure.
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
