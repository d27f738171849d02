"""Loading and saving a project's folder; earlier states are kept."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
import re
from pathlib import Path
from typing import Final

from pydantic_core import PydanticSerializationError

from enfilade.errors import BadRecord, Conflict, Fault, NotFound, Refused
from enfilade.files import fingerprint, locked, read_bytes, sweep_parts, write_bytes
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.photos import check_photographs, copy_photographs
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.writing import project_text

__all__ = ["FILE", "HOUSE_RULES", "kept_states", "load", "save"]

FILE: Final = "project.json"
HISTORY: Final = "history"
HOUSE_RULES: Final = "studio.toml"
"""The file beside a project that holds the studio's stricter values."""
KEPT: Final = 20

_BESIDE: Final = (PHOTOS, "light", HOUSE_RULES)
"""What may lie in a folder before a project is saved there for the first time."""
_TIME: Final = "%Y%m%dT%H%M%S.%fZ"
_KEPT_NAME: Final = re.compile(r"\d{8}T\d{6}\.\d{6}Z-[0-9a-f]{12}\.json")


def load(folder: str | Path) -> Project:
    """Read a project from its folder.

    Args:
        folder: The folder, or the `project.json` in it.
    Raises:
        NotFound: There is no project there.
        BadRecord: The file holds something that cannot exist; each fault has its place.
        Refused: The file is a link, too large, or cannot be read.
    """
    path = _file(Path(folder))
    _refuse_twins(path.parent)
    data = read_bytes(path)
    project = project_from(data, str(path))
    check_photographs(project, path.parent, str(path))
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
    path = _file(Path(folder))
    data = _bytes_of(project, str(path))
    home, known = project._loaded or ("", "")
    try:
        target = path.parent.resolve()
    except (OSError, RuntimeError, ValueError) as error:
        raise Refused(f"{str(folder)!r} is no folder ({error})", do="choose another folder") from error
    known = known if home == str(target) else ""
    if _is_folder(target):
        _standing(target, known)  # A stranger's folder is refused before even a lock is put there.
    with locked(target):
        standing = _standing(target, known)
        for place in (target, target / PHOTOS, target / HISTORY):
            sweep_parts(place)
        if project.folder is not None and project.folder.resolve() != target:
            check_photographs(project, project.folder, str(project.folder))
            copy_photographs(project, project.folder, target)
        if home and home != str(target):
            _copy_house_rules(Path(home), target)
        check_photographs(project, target, str(path))
        if standing != data:
            if standing is not None:
                _keep(target, standing)
            write_bytes(target / FILE, data)
            _thin(target)
    project._loaded = (str(target), fingerprint(data))
    project._photos_from = None  # They lie in the folder now.
    return path


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


def _bytes_of(project: Project, file: str) -> bytes:
    """Return the file's bytes, after reading them back: what could not be loaded again is never written."""
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


def _standing(folder: Path, known: str) -> bytes | None:
    """Return the file that stands in a folder, refusing one that the project was not loaded from."""
    if (folder / HISTORY).is_symlink():
        raise Refused(f"{folder / HISTORY} is a link", expected="a folder inside the project")
    _refuse_twins(folder)
    try:
        standing = read_bytes(folder / FILE)
    except NotFound:
        others = [name for name in _entries(folder) if not name.startswith(".") and name not in _BESIDE]
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


def _copy_house_rules(source: Path, target: Path) -> None:
    """Bring the house rules along to another folder, where none lie yet; they tell how the house is judged."""
    if not os.path.lexists(target / HOUSE_RULES):
        with contextlib.suppress(NotFound):
            write_bytes(target / HOUSE_RULES, read_bytes(source / HOUSE_RULES))


def _keep(folder: Path, data: bytes) -> None:
    """Put a state that is about to be replaced into the history, after all that are there already."""
    content = fingerprint(data)[:12]
    now, kept = dt.datetime.now(dt.UTC), kept_states(folder)
    if kept:
        if kept[0].stem.endswith(content):
            return  # The disk filled up after it was kept the last time.
        # A clock that was set back must not put the newest state behind older ones.
        now = max(now, _time_of(kept[0]) + dt.timedelta(microseconds=1))
    write_bytes(folder / HISTORY / f"{now.strftime(_TIME)}-{content}.json", data)


def _time_of(kept: Path) -> dt.datetime:
    return dt.datetime.strptime(kept.name.split("-")[0], _TIME).replace(tzinfo=dt.UTC)


def _thin(folder: Path) -> None:
    kept = list(kept_states(folder))
    while len(kept) > KEPT:
        kept.remove(crowded := _most_crowded(kept))
        with contextlib.suppress(OSError):
            crowded.unlink()


def _most_crowded(kept: list[Path]) -> Path:
    """Return the state whose loss leaves the smallest gap for its age; the newest and oldest stay."""
    times = [_time_of(path).timestamp() for path in kept]
    newest = times[0]

    def gap(index: int) -> float:
        return (times[index - 1] - times[index + 1]) / (newest - times[index] + 1e-6)

    return kept[min(range(1, len(kept) - 1), key=gap)]


def _refuse_twins(folder: Path) -> None:
    """Refuse names that differ by case alone from those we read: on another machine they would be one file."""
    ours = (FILE, HISTORY, *_BESIDE)
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
