"""What lies beside the record in a folder and in a newer version, brought together file by file."""

from __future__ import annotations

import contextlib
import datetime as dt
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Final, Literal

from enfilade.archive.contents import FINDINGS
from enfilade.archive.cutting import digest
from enfilade.archive.store import FILE
from enfilade.errors import NotFound, Refused
from enfilade.files import locked, read_bytes, sweep_parts, write_bytes
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.project import Project
from enfilade.project.store import DRAFTS, HISTORY
from enfilade.project.studio_file import inside, named_files

__all__ = ["Digests", "FileClash", "Taken", "bring", "files_met", "photographs_of"]

Digests = Mapping[str, bytes]
"""SHA-256 of each file, by its path in the project's folder."""
_OURS: Final = (FILE, FINDINGS)
"""Brought together record by record, or made anew."""
_NOT_BESIDE: Final = (HISTORY, DRAFTS)
_WORDS: Final = {True: "changed", False: "taken away"}


@dataclass(frozen=True)
class FileClash:
    """A file that both sides changed, each differently; a side that is not there took it away."""

    path: str
    here: bool
    there: bool

    @property
    def about(self) -> str:
        """Return what it is about, in words."""
        return f"The file {self.path}"

    @property
    def mine(self) -> str:
        """Return what became of it here, in words."""
        return _WORDS[self.here]

    @property
    def theirs(self) -> str:
        """Return what became of it there, in words."""
        return _WORDS[self.there]


@dataclass(frozen=True)
class Taken:
    """A file as the newer version has it: to be brought, or to be taken away."""

    path: str
    there: bool


def files_met(
    base: Digests, mine: Digests, theirs: Digests, side: Callable[[str], Literal["mine", "theirs"] | None]
) -> tuple[list[Taken], list[FileClash]]:
    """Return what a folder takes from a newer version, and what both changed and nobody settled.

    Args:
        base: Of the version that the folder was made from.
        mine: Of the folder.
        theirs: Of the newer version.
        side: Which side to take for the file at a path, where both changed it.
    """
    taken, clashes = [], []
    for path in sorted({*base, *mine, *theirs}):
        began, here, there = base.get(path), mine.get(path), theirs.get(path)
        if path in _OURS or path.startswith(f"{PHOTOS}/") or there in (began, here):
            continue
        chosen = "theirs" if here == began else side(path)
        if chosen == "theirs":
            taken.append(Taken(path, there is not None))
        elif chosen is None:
            clashes.append(FileClash(path, here is not None, there is not None))
    return taken, clashes


def photographs_of(project: Project, home: Path) -> list[Taken]:
    """Return the photographs that a project records and that its folder does not hold yet."""
    paths = (f"{PHOTOS}/{one.file}" for one in project.photographs)
    return [Taken(path, there=True) for path in dict.fromkeys(paths) if not (home / path).exists()]


def bring(home: Path, taken: list[Taken], base: Digests, read: Callable[[str], bytes]) -> None:
    """Bring files into a folder. What stands there and is in no version is put among the earlier states first.

    Args:
        home: The project's folder.
        taken: Which; those that are to be taken away go, unless something else put them there.
        base: Of the version that the folder was made from.
        read: Returns the bytes of a file of the newer version.
    Raises:
        Conflict: Another process holds the folder's lock.
        Refused: A path leads out of the folder, or the folder cannot be written.
    """
    data = {one.path: read(one.path) for one in taken if one.there}
    for path in (one.path for one in taken):
        _refuse_outside(home, path)
    with locked(home):
        for one in taken:
            sweep_parts((home / one.path).parent)
            _put_aside(home, one.path, base.get(one.path), data.get(one.path))
        for path, content in data.items():
            write_bytes(home / path, content)
        for one in taken:
            if not one.there and PurePosixPath(one.path) not in named_files(home):
                with contextlib.suppress(OSError):
                    (home / one.path).unlink(missing_ok=True)


def _refuse_outside(home: Path, path: str) -> None:
    plain = inside(path)
    if plain is None or plain.as_posix() != path or plain.parts[0] in _NOT_BESIDE or path in _OURS:
        raise Refused(f"the archive holds a file at {path!r}, which has no place beside a project")
    for step in _steps(home, plain):
        if step.is_symlink():
            raise Refused(f"{step} is a link", expected="a folder inside the project")


def _steps(home: Path, path: PurePosixPath) -> Iterator[Path]:
    step = home
    for name in path.parts:
        step /= name
        yield step


def _put_aside(home: Path, path: str, base: bytes | None, new: bytes | None) -> None:
    """Keep what stands at a path among the earlier states, where no version holds it."""
    try:
        standing = read_bytes(home / path)
    except NotFound:
        return
    if digest(standing) == base or standing == new:
        return
    now = dt.datetime.now(dt.UTC)
    name = f"{now:%Y%m%dT%H%M%S.%fZ}-{digest(standing).hex()[:12]}-{PurePosixPath(path).name}"
    write_bytes(home / HISTORY / name, standing)
