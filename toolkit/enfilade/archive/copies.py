"""A copy beside an archive's file: an earlier state, for the day on which the file is damaged."""

from __future__ import annotations

import contextlib
import datetime as dt
import glob
import os
import sqlite3
import stat
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from enfilade.archive.address import copy_of
from enfilade.archive.copy_whole import damaged_parts
from enfilade.archive.store import Store
from enfilade.errors import Conflict, NotFound, Refused
from enfilade.files import locked

__all__ = ["ASIDE", "LARGEST_BYTES", "copy_daily", "copy_of", "renew_copy", "restore_copy"]

ASIDE: Final = ("damaged", "before-copy")
"""What a file that was put aside is called, after its own name: it could not be read, or could be."""
LARGEST_BYTES: Final = 512 * 1024 * 1024
"""An archive over this size is not copied: whoever keeps one so large keeps copies of the disk (own choice)."""
_LEFT_S: Final = 3600.0
_LOCK_S: Final = 60.0
_BESIDE: Final = ("", "-wal", "-shm", "-journal")


def copy_daily(store: Store, progress: Callable[[str], None] = lambda _: None) -> Path | None:
    """Copy an archive beside its file, when that was not done today yet; to be called before something is kept.

    A copy that cannot be made is no reason not to keep: it is said, and the earlier copy stays. It stays too until the
    new one was held against digests and seals, as far as that takes no longer than a few seconds.

    Args:
        store: The archive; of a shared one, and of an empty one, no copy is made.
        progress: Hears what is being done, and why there is no copy.
    Returns:
        The copy that was made; None: none was.
    """
    path = store.address.path
    if path is None or _is_of_today(copy_of(path)) or not store.projects():
        return None
    try:
        progress("copying the archive, as it is before this day's first version")
        with locked(path.parent):  # Not while it is made anew because something was forgotten.
            return None if _is_of_today(copy_of(path)) else _copied(path, over_a_good_one=True)
    except (Refused, Conflict) as error:
        progress(f"no copy of the archive was made today: {error}")
        return None


def renew_copy(store: Store) -> Path | None:
    """Make the copy anew, after something was forgotten: the one before goes first, with what it still knew.

    Returns:
        The copy; None: there was none, or the archive is shared.
    Raises:
        Refused: The copy before could not be taken away, or none could be made in its place.
        Conflict: Somebody copied the archive all the time.
    """
    path = store.address.path
    if path is None:
        return None
    with locked(path.parent, wait_s=_LOCK_S):
        return _renewed(path)


def _renewed(path: Path) -> Path | None:
    there = os.path.lexists(copy_of(path))
    begun = path.parent.glob(f".{glob.escape(path.name)}.*.part*")  # of a process that died copying
    for beside in (*begun, *(copy_of(path).with_name(copy_of(path).name + ending) for ending in _BESIDE)):
        try:
            _overwritten(beside)
            beside.unlink(missing_ok=True)
        except OSError as error:
            raise Refused(
                f"{beside} still holds what was forgotten, and cannot be taken away ({error.strerror or error})",
                do="delete it by hand",
            ) from error
    return _copied(path) if there else None


def restore_copy(path: str | Path, aside: str = "damaged") -> Path:
    """Put the copy of an archive in the place of its file; the file is put aside under another name, never deleted.

    Args:
        path: The archive's file; nobody else may have it open.
        aside: What the file is called from then on, after its own name and before the time.
    Returns:
        The file that was put aside; where there was none, the restored one.
    Raises:
        NotFound: There is no copy.
        Conflict: Somebody has the archive open.
        Refused: The copy is damaged too, is a link, or the folder cannot be written; nothing was changed.
    """
    path = Path(path).absolute()
    copy = copy_of(path)
    if not os.path.lexists(copy):
        raise NotFound(f"there is no copy of {path}", do="look for one on another disk")
    _refuse_odd(copy)
    stamp = f"{aside}-{dt.datetime.now(dt.UTC):%Y%m%dT%H%M%S.%fZ}"  # so fine that no earlier one is written over
    with locked(path.parent, wait_s=_LOCK_S), _part_beside(path) as part:
        _backed_up(copy, part)
        return _put_in_place(part, path, stamp)


def _put_in_place(part: Path, path: Path, stamp: str) -> Path:
    """Put a file in the place of an archive's, and return where that was put aside with what stands beside it."""
    moved: list[tuple[Path, Path]] = []
    try:
        with _alone(path):
            for ending in reversed(_BESIDE):  # The file itself last: what stands beside it belongs to it.
                beside = path.with_name(path.name + ending)
                if os.path.lexists(beside):
                    aside = path.with_name(f"{path.name}.{stamp}{ending}")
                    _put_aside(beside, aside, stays=not ending)
                    moved.append((beside, aside))
            os.replace(part, path)
    except OSError as error:
        for beside, aside in reversed(moved):
            with contextlib.suppress(OSError):
                aside.unlink() if os.path.lexists(beside) else os.rename(aside, beside)
        raise Refused(f"{path} cannot be put aside ({error.strerror or error})", do="make room there") from error
    return moved[-1][1] if moved else path


def _put_aside(path: Path, aside: Path, *, stays: bool) -> None:
    """Give a file another name; `stays`: under its own too, so that nobody finds none there and makes a new one."""
    if stays:
        with contextlib.suppress(OSError, NotImplementedError):  # Some file systems know no second name.
            os.link(path, aside, follow_symlinks=False)
            return
    os.rename(path, aside)


@contextlib.contextmanager
def _alone(path: Path) -> Iterator[None]:
    """Keep everybody else out of a file that is being put aside; one that is no database any more lets nobody in.

    SQLite leaves a file alone that is in another place by the time it is closed, with the journal beside it.

    Raises:
        Conflict: Somebody has it open: what they write from then on would be lost.
    """
    address = f"file:{urllib.request.pathname2url(str(path))}?mode=rw"
    with contextlib.ExitStack() as held:
        with contextlib.suppress(sqlite3.DatabaseError):
            now = held.enter_context(
                contextlib.closing(sqlite3.connect(address, uri=True, timeout=1, isolation_level=None))
            )
            try:
                now.execute("PRAGMA locking_mode = EXCLUSIVE")
                now.execute("BEGIN EXCLUSIVE")
            except sqlite3.OperationalError as error:
                if "locked" in str(error):
                    raise Conflict(
                        f"{path}: somebody has the archive open",
                        do="close it in every window and try again; nothing was changed",
                    ) from error
        yield


def _is_of_today(copy: Path) -> bool:
    try:
        return dt.date.fromtimestamp(copy.lstat().st_mtime) >= dt.date.today()
    except (OSError, ValueError, OverflowError):
        return False


def _copied(path: Path, *, over_a_good_one: bool = False) -> Path:
    copy = copy_of(path)
    _refuse_odd(path)
    if os.path.lexists(copy):
        _refuse_odd(copy)
    size = sum(_size(path.with_name(path.name + ending)) for ending in _BESIDE[:2])
    if size > LARGEST_BYTES:
        raise Refused(f"it has {size} bytes", expected=f"at most {LARGEST_BYTES}", do="copy it by other means")
    with _part_beside(copy) as part:
        _backed_up(path, part)
        if over_a_good_one:
            _refuse_damaged(part, path)
        try:
            os.chmod(part, path.stat().st_mode & 0o777)
            os.replace(part, copy)
        except OSError as error:
            raise Refused(
                f"{copy} cannot be written ({error.strerror or error})", do="look who may write there"
            ) from error
    return copy


def _size(path: Path) -> int:
    try:
        return path.lstat().st_size
    except OSError:
        return 0


def _refuse_odd(path: Path) -> None:
    try:
        mode = path.lstat().st_mode
    except OSError as error:
        raise Refused(f"{path} cannot be read ({error.strerror or error})", do="check the path") from error
    if not stat.S_ISREG(mode):
        kind = "a link" if stat.S_ISLNK(mode) else "no plain file"
        raise Refused(f"{path} is {kind}", expected="a plain file")


@contextlib.contextmanager
def _part_beside(path: Path) -> Iterator[Path]:
    """Give an empty file beside another one; what is left of it goes when the block ends.

    What a process left that was stopped in here goes first, once it is so old that nobody works on it any more.
    """
    with contextlib.suppress(OSError):
        for left in path.parent.glob(f".{glob.escape(path.name)}.*.part*"):
            if left.lstat().st_mtime < time.time() - _LEFT_S:
                left.unlink()
    part = path.with_name(f".{path.name}.{os.urandom(6).hex()}.part")
    try:
        os.close(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        yield part
    except OSError as error:
        raise Refused(f"{path} cannot be written ({error.strerror or error})", do="look who may write there") from error
    finally:
        for ending in _BESIDE:
            with contextlib.suppress(OSError):
                part.with_name(part.name + ending).unlink()


def _backed_up(source: Path, part: Path) -> None:
    """Copy a database by SQLite's own way to do so, while others may write to it, and hold the copy against itself.

    Raises:
        Refused: It is damaged, or there is no room.
    """
    address = f"file:{urllib.request.pathname2url(str(source))}?mode=ro"
    try:
        with (
            contextlib.closing(sqlite3.connect(address, uri=True, timeout=5)) as old,
            contextlib.closing(sqlite3.connect(part, isolation_level=None)) as new,
        ):
            old.execute("PRAGMA trusted_schema = OFF")
            old.backup(new)
            new.execute("PRAGMA trusted_schema = OFF")
            new.execute("PRAGMA journal_mode = DELETE")  # One file, whole by itself.
            said = [row[0] for row in new.execute("PRAGMA quick_check(1)")]
    except sqlite3.Error as error:
        raise Refused(
            f"{source} cannot be copied ({error})", do="look whether it is damaged: `enfilade verify`"
        ) from error
    if said != ["ok"]:
        raise Refused(f"{source} is damaged ({said[0][:200]})", do="`enfilade verify` says what is still whole")
    handle = os.open(part, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _refuse_damaged(part: Path, path: Path) -> None:
    """Refuse a copy in which something is not what was kept: it may not take the place of one in which it still is."""
    if damaged := damaged_parts(part):
        raise Refused(
            f"{path} is damaged ({damaged} of its parts are not what was kept)",
            do="`enfilade verify` says where; the earlier copy stays",
        )


def _overwritten(path: Path) -> None:
    """Write zeros over a plain file, so that its bytes do not stay behind on the disk as far as the disk allows."""
    if path.is_symlink() or not path.is_file():
        return
    with open(path, "r+b") as stream:
        left = path.stat().st_size
        while left > 0:
            left -= stream.write(bytes(min(left, 1024 * 1024)))
        stream.flush()
        os.fsync(stream.fileno())
