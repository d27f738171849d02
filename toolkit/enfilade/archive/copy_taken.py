"""The copy beside an archive put in its place: only where the archive is damaged, and with what is lost by it."""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from enfilade.archive.copies import copy_of, restore_copy
from enfilade.archive.copy_whole import damaged_parts
from enfilade.archive.store import Store
from enfilade.archive.verifying import verify
from enfilade.errors import EnfiladeError, NotFound, Refused
from enfilade.listing import joined

__all__ = ["Taken", "take_copy"]

_MOST_NAMED = 20
_Versions = dict[tuple[str, int], bytes]


@dataclass(frozen=True)
class Taken:
    """What became of putting an archive's copy in its place.

    Attributes:
        aside: The file that was put aside; None: there was none.
        readable: What that one holds could be listed.
        lost: Its versions that the copy does not hold, by project.
    """

    aside: Path | None
    readable: bool
    lost: dict[str, tuple[int, ...]]

    @property
    def sentences(self) -> tuple[str, ...]:
        """What was done, where the file of before is, and what only that one holds."""
        said = ["The copy stands in the archive's place now."]
        if self.aside is None:
            return (*said, "No file was there before.")
        said.append(f"The file that stood there is {self.aside}.")
        if not self.readable:
            return (*said, "What was kept after the copy was made cannot be listed: that file cannot be read.")
        if not self.lost:
            return (*said, "The copy holds every version that could be listed there.")
        named = [f"{project}: {_numbers(numbers)}" for project, numbers in sorted(self.lost.items())]
        return (*said, f"These versions are in that file alone, and not in the copy: {joined(named, _MOST_NAMED)}.")


def take_copy(path: Path, progress: Callable[[str], None] = lambda _: None) -> Taken:
    """Put the copy of a damaged archive in its place; a whole archive is left alone.

    Args:
        path: The archive's file; nobody else may have it open.
        progress: Hears what is being done.
    Raises:
        NotFound: There is no copy.
        Conflict: Somebody has the archive open.
        Refused: The archive is whole, or is no damaged one; or its copy is damaged too. Nothing was changed.
    """
    copy = copy_of(path)
    there = _versions_of(path, progress)
    if not copy.is_file():
        raise NotFound(f"there is no copy of {path}", do="look for one on another disk; nothing was changed")
    held: _Versions = {}
    with contextlib.suppress(EnfiladeError), Store(str(copy.absolute()), create=False) as store:
        held = _versions(store)
    if there is not None and (count := damaged_parts(copy)):
        raise Refused(
            f"{copy} is damaged too ({count} of its parts are not what was kept)",
            do="`enfilade verify` says what of the archive is still whole; nothing was changed",
        )
    was_there = path.exists()
    progress("putting the copy in its place")
    aside = restore_copy(path, "damaged" if there is None else "before-copy")
    lost: dict[str, tuple[int, ...]] = {}
    for project, number in sorted(key for key, seal in (there or {}).items() if held.get(key) != seal):
        lost[project] = (*lost.get(project, ()), number)
    return Taken(aside if was_there else None, there is not None, lost)


def _versions_of(path: Path, progress: Callable[[str], None]) -> _Versions | None:
    """Return the seals of the versions in a damaged archive; None where they cannot be read.

    Raises:
        Refused: It is whole, or is not to be touched for another reason, such as a newer format.
    """
    if not path.exists() or not path.stat().st_size:
        return None
    try:
        with Store(str(path), create=False) as store:
            if not verify(store, progress):
                raise Refused(
                    f"{path} is whole: every version is as it was kept",
                    do="nothing was changed; the copy beside it would only be an earlier state",
                )
            with contextlib.suppress(EnfiladeError):
                return _versions(store)
            return None
    except NotFound:
        return None  # It is empty, or was taken away meanwhile.
    except Refused:
        if _is_database(path):
            raise
        return None


def _versions(store: Store) -> _Versions:
    return {(project.id, one.number): one.seal for project in store.projects() for one in store.versions(project.id)}


def _is_database(path: Path) -> bool:
    """Tell whether a file is one that SQLite finds whole, or that may not be looked at at all."""
    try:
        with path.open("rb") as stream:
            stream.read(1)
    except OSError:
        return True
    try:
        with contextlib.closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, timeout=1)) as one:
            return [row[0] for row in one.execute("PRAGMA quick_check(1)")] == ["ok"]
    except sqlite3.OperationalError as error:
        return "locked" in str(error)
    except sqlite3.DatabaseError:
        return False


def _numbers(numbers: tuple[int, ...]) -> str:
    if len(numbers) == 1:
        return f"version {numbers[0]}"
    if numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"versions {numbers[0]} to {numbers[-1]}"
    return f"versions {joined([str(one) for one in numbers], _MOST_NAMED)}"
