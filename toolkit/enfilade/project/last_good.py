"""The last good state of a folder whose `project.json` cannot be read any more: offered, and taken when asked for."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from enfilade.errors import BadRecord, EnfiladeError, NewerFormat, NotFound, Refused
from enfilade.files import fingerprint, locked, read_bytes, write_bytes
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.store import DRAFTS, FILE, kept_states, time_kept
from enfilade.times import moment_here

__all__ = ["KEPT", "LastGood", "last_good", "offer", "put_aside", "take_last_good"]

KEPT: Final = ".kept.json"
"""The file in a project's folder that says as which version it was kept last."""


@dataclass(frozen=True)
class LastGood:
    """The newest earlier state that can be read.

    Attributes:
        path: Its file among the earlier states.
        until: When the next one took its place [UTC].
        data: What its file holds.
    """

    path: Path
    until: dt.datetime
    data: bytes
    project: Project


def last_good(folder: str | Path) -> LastGood | None:
    """Return the newest earlier state of a folder that can be read, and whose photographs are there; None: none can."""
    home = _home(folder)
    with contextlib.suppress(OSError, ValueError):
        for path in kept_states(home):
            with contextlib.suppress(EnfiladeError):
                data = read_bytes(path)
                project = project_from(data, path.name)
                if all((home / PHOTOS / one.file).is_file() for one in project.photographs):
                    return LastGood(path, time_kept(path), data, project)
    return None


def offer(error: BadRecord, folder: str | Path) -> str:
    """Return what to do about a `project.json` that cannot be read: which state there is, and how to take it.

    Empty when there is none, or when the file is only newer than this version reads.
    """
    if isinstance(error, NewerFormat):
        return ""
    good = last_good(folder)
    if good is None:
        return f"`enfilade bring-back {_home(folder)}` says how it comes back from the archive" if _kept(folder) else ""
    return (
        f"the state that stood until {moment_here(good.until)} can be read ({good.path.parent.name}/{good.path.name}); "
        f"`enfilade bring-back {_home(folder)}` takes it and puts the damaged file aside"
    )


def take_last_good(folder: str | Path) -> str:
    """Put the last good state in the place of a `project.json` that cannot be read, which is put aside, never deleted.

    Args:
        folder: The project's folder, or its `project.json`.
    Returns:
        A sentence: which state stands there now, and where the damaged file is.
    Raises:
        NotFound: No earlier state can be read.
        Conflict: Another process holds the folder's lock.
        Refused: The file can be read, is of a newer version, or the folder cannot be written; nothing was changed.
    """
    home = _home(folder)
    if not home.is_dir():
        raise NotFound(f"{home} is no project's folder", do="check the path")
    with locked(home):
        _refuse_readable(home)
        good = last_good(home)
        if good is None:
            raise NotFound(
                f"{home} holds no earlier state that can be read",
                do="bring a version back from the archive into an empty folder",
            )
        aside = put_aside(home)
        write_bytes(home / FILE, good.data)
    where = f" The file that could not be read is {aside}." if aside else ""
    return f"The state that stood until {moment_here(good.until)} is in its place again.{where}"


def _kept(folder: str | Path) -> bool:
    """Tell whether a folder says that it was kept in an archive."""
    return (_home(folder) / KEPT).is_file()


def put_aside(home: Path) -> Path | None:
    """Keep what stands as `project.json` among the drafts, and return where; None when nothing stands there.

    The caller holds the folder's lock. A copy is made where the file can be read, so that something stands in its place
    at every moment.

    Raises:
        Refused: It could not be kept.
    """
    path, place = home / FILE, home / DRAFTS
    if not os.path.lexists(path):
        return None
    if place.is_symlink():
        raise Refused(f"{place} is a link", expected="a folder inside the project")
    try:
        data = read_bytes(path)
        aside = place / f"unreadable-{fingerprint(data)[:12]}.json"
        write_bytes(aside, data)
    except EnfiladeError:
        # A link, or larger than any project: the thing itself goes aside.
        aside = place / f"unreadable-{dt.datetime.now(dt.UTC):%Y%m%dT%H%M%S}"
        try:
            place.mkdir(exist_ok=True)
            os.rename(path, aside)
        except OSError as error:
            raise Refused(f"{path} could not be put aside ({error.strerror or error})", do="make room there") from error
    return aside


def _refuse_readable(home: Path) -> None:
    try:
        project_from(read_bytes(home / FILE), FILE)
    except BadRecord as error:
        if isinstance(error, NewerFormat):
            raise Refused(f"{home / FILE} is not damaged: {error.faults[0]}") from error
        return
    except (NotFound, Refused):
        return
    raise Refused(f"{home / FILE} can be read", do="name a version, to bring one back from the archive")


def _home(folder: str | Path) -> Path:
    path = Path(folder)
    with contextlib.suppress(OSError, ValueError):
        if path.name == FILE and not path.is_dir():
            return path.parent
    return path
