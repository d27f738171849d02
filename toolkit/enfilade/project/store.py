"""Loading and saving a project's folder; earlier states are kept."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
import re
from pathlib import Path, PurePosixPath
from typing import Final

from pydantic_core import PydanticSerializationError

from enfilade.errors import BadRecord, Conflict, Fault, NotFound, Refused
from enfilade.files import fingerprint, locked, read_bytes, sweep_parts, write_bytes
from enfilade.project.issues import FOLDER as ISSUED
from enfilade.project.issues import copy_issues
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.photos import check_photographs, copy_photographs
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.studio_file import STUDIO_FILE, named_files
from enfilade.project.writing import project_text

__all__ = ["DRAFTS", "FILE", "HOUSE_RULES", "keep_state", "kept_states", "load", "project_bytes", "save", "save_bytes",
           "time_kept"]  # fmt: skip

FILE: Final = "project.json"
HISTORY: Final = "history"
HOUSE_RULES: Final = STUDIO_FILE
"""The file beside a project that holds the studio's stricter values and its look."""
DRAFTS: Final = "drafts"
"""The folder beside a project for what was typed and could not be taken or saved yet; loading never looks there."""
KEPT: Final = 20
_BEGUN: Final = ".begun"
"""Says of which project the first save into a folder was begun: whoever was stopped in it may begin again."""
_LARGEST_ID: Final = 1000

_READ: Final = (PHOTOS, "light", HOUSE_RULES)
_BESIDE: Final = (*_READ, DRAFTS)
"""What may lie in a folder before a project is saved there for the first time."""
_FRESH_S: Final = 1800.0
"""States younger than this count as so old when they are thinned [s]: many saves of one sitting must not push out those
of the days before."""
_CHECKED: Final[dict[Path, frozenset[tuple[str, tuple[int, ...]]]]] = {}
"""By folder, the photographs that were checked there, with their size and time: they are named by content."""
_TIME: Final = "%Y%m%dT%H%M%S.%fZ"
_KEPT_NAME: Final = re.compile(r"\d{8}T\d{6}\.\d{6}Z-[0-9a-f]{12}\.json")


def load(folder: str | Path) -> Project:
    """Read a project from its folder.

    Args:
        folder: The folder, or the `project.json` in it.
    Raises:
        NotFound: There is no project there.
        BadRecord: The file holds something that cannot exist; each fault has its place. An earlier state that can be
            read is offered.
        Refused: The file is a link, too large, or cannot be read.
    """
    path = _file(Path(folder))
    _refuse_twins(path.parent)
    data = read_bytes(path)
    try:
        project = project_from(data, str(path))
    except BadRecord as error:
        from enfilade.project.last_good import offer  # It reads folders with what stands here.

        error.do = offer(error, path.parent)
        raise
    _check_photographs(project, path.parent.resolve(), str(path))
    project._loaded = (str(path.parent.resolve()), fingerprint(data))
    return project


def save(project: Project, folder: str | Path) -> Path:
    """Write a project into its folder, whole or not at all, and keep the state that stood there.

    Args:
        project: What to write. It remembers the new state, so that it can be saved again.
        folder: Where; made when it does not exist.
    Returns:
        The path of the file.
    Raises:
        Conflict: The disk holds a state that this project was not loaded from.
        BadRecord: Records do not fit together, or could not be read again; nothing was written.
        Refused: The folder cannot be written, or the project is a copy for one audience.
    """
    return save_bytes(project, project_bytes(project, str(_file(Path(folder)))), folder)


def project_bytes(project: Project, file: str = "project") -> bytes:
    """Return what `project.json` is to hold, after reading it back: what could not be loaded again is never written.

    Raises:
        BadRecord: Records do not fit together, or could not be read again.
        Refused: The project is a copy for one audience.
    """
    if project._told_to is not None:
        raise Refused(
            f"this is the copy for one audience ({project._told_to}), from which facts were left out",
            expected="the whole project",
            do="save the project that it was made from",
        )
    try:
        data = project_text(project).encode("utf-8")
    except (PydanticSerializationError, ValueError) as error:
        raise BadRecord(file, [Fault("top", f"the project cannot be written ({error})", "valid records")]) from error
    project_from(data, file)
    return data


def save_bytes(project: Project, data: bytes, folder: str | Path) -> Path:
    """Write a project as `save` does, whose bytes are at hand already.

    Args:
        project: What to write.
        data: What `project_bytes` made of it.
        folder: Where; made when it does not exist.
    Raises:
        Conflict, BadRecord, Refused: As for `save`.
    """
    path = _file(Path(folder))
    home, known = project._loaded or ("", "")
    try:
        target = path.parent.resolve()
    except (OSError, RuntimeError, ValueError) as error:
        raise Refused(f"{str(folder)!r} is no folder ({error})", do="choose another folder") from error
    known = known if home == str(target) else ""
    if _is_folder(target):
        _standing(target, known, project.id)  # A stranger's folder is refused before even a lock is put there.
    with locked(target):
        standing = _standing(target, known, project.id)
        for place in (target, target / PHOTOS, target / HISTORY, target / ISSUED):
            sweep_parts(place)
        if project.folder is not None and project.folder.resolve() != target:
            check_photographs(project, project.folder, str(project.folder))
            copy_photographs(project, project.folder, target)
        if home and home != str(target):
            write_bytes(target / _BEGUN, project.id.encode())
            _copy_house_rules(Path(home), target)
            copy_issues(Path(home), target)
        _check_photographs(project, target, str(path))
        if standing != data:
            if standing is not None:
                _keep(target, standing)
            write_bytes(target / FILE, data)
            _thin(target)
        with contextlib.suppress(OSError):
            (target / _BEGUN).unlink(missing_ok=True)
    project._loaded = (str(target), fingerprint(data))
    project._photos_from = None  # They lie in the folder now.
    return path


def keep_state(folder: str | Path, data: bytes) -> None:
    """Put a state that will not be saved among the earlier states, so that it can be gone back to.

    Args:
        folder: Of the project.
        data: What its `project.json` would hold.
    Raises:
        Conflict: Another process holds the folder's lock.
        Refused: The folder cannot be written.
    """
    target = Path(folder)
    if (target / HISTORY).is_symlink():
        raise Refused(f"{target / HISTORY} is a link", expected="a folder inside the project")
    with locked(target):
        _keep(target, data)
        _thin(target)


def kept_states(folder: str | Path) -> tuple[Path, ...]:
    """Return the files of earlier states, newest first."""
    states = (path for path in (Path(folder) / HISTORY).glob("*.json") if _KEPT_NAME.fullmatch(path.name))
    return tuple(sorted(states, reverse=True))


def _file(path: Path) -> Path:
    return path if path.name == FILE and not _is_folder(path) else path / FILE


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False  # Whoever opens it will be told why.


def _standing(folder: Path, known: str, id: str) -> bytes | None:
    """Return the file that stands in a folder, refusing one that the project of this id was not loaded from."""
    if (folder / HISTORY).is_symlink():
        raise Refused(f"{folder / HISTORY} is a link", expected="a folder inside the project")
    _refuse_twins(folder)
    try:
        standing = read_bytes(folder / FILE)
    except NotFound:
        may_lie = {*_BESIDE, *(path.parts[0] for path in named_files(folder))}
        with contextlib.suppress(NotFound, Refused):
            if read_bytes(folder / _BEGUN, largest=_LARGEST_ID) == id.encode():
                may_lie.add(ISSUED)
        others = [name for name in _entries(folder) if not name.startswith(".") and name not in may_lie]
        if others and not known:
            raise Conflict(
                f"{folder} is not empty (it holds {sorted(others)[0]!r}) and was not loaded",
                do="save into an empty folder, or load what is there first; nothing was written",
            ) from None
        return None
    if fingerprint(standing) != known:
        raise Conflict(
            f"{folder / FILE} has changed since it was loaded, or was never loaded",
            do="load it again and make the change there, or save into another folder; nothing was written",
        )
    return standing


def _check_photographs(project: Project, folder: Path, file: str) -> None:
    """Check the photographs in a folder, once for as long as the same files stand there.

    A project is saved after each change, and its photographs may be hundreds of megabytes.
    """
    known = _CHECKED.get(folder, frozenset())
    seen = frozenset((one.file, _stamp(folder / PHOTOS / one.file)) for one in project.photographs)
    if not seen <= known or (folder / PHOTOS).is_symlink():
        check_photographs(project, folder, file)
        _CHECKED[folder] = seen


def _stamp(path: Path) -> tuple[int, ...]:
    try:
        about = path.lstat()
    except OSError:
        return ()  # It is missing, as the check will say.
    return about.st_size, about.st_mtime_ns, about.st_ino, about.st_mode


def _copy_house_rules(source: Path, target: Path) -> None:
    """Bring the studio's file along to another folder, where none lies yet, with the logo and fonts that it names.

    What was broken off is gone on with: files that are missing beside the very same studio's file are brought too.
    """
    with contextlib.suppress(NotFound):
        data = read_bytes(source / HOUSE_RULES)
        if not os.path.lexists(target / HOUSE_RULES):
            write_bytes(target / HOUSE_RULES, data)
        elif (target / HOUSE_RULES).is_symlink() or read_bytes(target / HOUSE_RULES) != data:
            return
        for path in named_files(source):
            _copy_named(source, target, path)


def _copy_named(source: Path, target: Path, path: PurePosixPath) -> None:
    # A name that leads out of either folder through a link is left for the look's reader to refuse.
    within = all((home / path).parent.resolve().is_relative_to(home.resolve()) for home in (source, target))
    if within and not os.path.lexists(target / path):
        sweep_parts((target / path).parent)
        with contextlib.suppress(NotFound):
            write_bytes(target / path, read_bytes(source / path))


def _keep(folder: Path, data: bytes) -> None:
    """Put a state that is about to be replaced into the history, after all that are there already."""
    content = fingerprint(data)[:12]
    now, kept = dt.datetime.now(dt.UTC), kept_states(folder)
    if kept:
        if kept[0].stem.endswith(content):
            return  # The disk filled up after it was kept the last time.
        # A clock that was set back must not put the newest state behind older ones.
        now = max(now, time_kept(kept[0]) + dt.timedelta(microseconds=1))
    write_bytes(folder / HISTORY / f"{now.strftime(_TIME)}-{content}.json", data)


def time_kept(kept: Path) -> dt.datetime:
    """Return when a state of `kept_states` was replaced by the next one [UTC]."""
    return dt.datetime.strptime(kept.name.split("-")[0], _TIME).replace(tzinfo=dt.UTC)


def _thin(folder: Path) -> None:
    kept = list(kept_states(folder))
    while len(kept) > KEPT:
        kept.remove(crowded := _most_crowded(kept))
        with contextlib.suppress(OSError):
            crowded.unlink()


def _most_crowded(kept: list[Path]) -> Path:
    """Return the state whose loss leaves the smallest gap for its age; the newest and oldest stay."""
    times = [time_kept(path).timestamp() for path in kept]
    newest = times[0]

    def gap(index: int) -> float:
        return (times[index - 1] - times[index + 1]) / (newest - times[index] + _FRESH_S)

    return kept[min(range(1, len(kept) - 1), key=gap)]


def _refuse_twins(folder: Path) -> None:
    """Refuse names that differ by case alone from those we read: on another machine they would be one file."""
    ours = (FILE, HISTORY, ISSUED, *_READ)
    for entry in _entries(folder):
        if entry not in ours and entry.lower() in ours:
            what = f"differs from {entry.lower()!r} by case alone"
            raise BadRecord(str(folder), [Fault(entry, what, f"the name {entry.lower()!r}, once")])


def _entries(folder: Path) -> list[str]:
    try:
        return sorted(entry.name for entry in folder.iterdir())
    except (OSError, ValueError) as error:
        what = f"{folder}: folder: is not there, or cannot be read"
        raise NotFound(what, expected="a project's folder, or its project.json") from error
