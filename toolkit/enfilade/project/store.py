"""Loading and saving a project's folder; earlier states are kept."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Final

from enfilade.errors import BadRecord, Conflict, Fault, NotFound
from enfilade.files import fingerprint, locked, read_bytes, write_bytes
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.photos import check_photographs, copy_photographs
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.writing import project_text

__all__ = ["FILE", "kept_states", "load", "save"]

FILE: Final = "project.json"
HISTORY: Final = "history"
KEPT: Final = 20


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
    _refuse_twins(path.parent, path.name)
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
        BadRecord: Records do not fit together; nothing was written.
        Refused: The folder cannot be written.
    """
    project.verified()
    data = project_text(project).encode("utf-8")
    path = _file(Path(folder))
    target = path.parent.resolve()
    home, known = project._loaded or ("", "")
    with locked(target):
        standing = read_bytes(path) if path.exists() or path.is_symlink() else None
        _refuse_strangers(target, standing, known if home == str(target) else "")
        if project.photographs and home and home != str(target):
            copy_photographs(project, Path(home), target)
        check_photographs(project, target, str(path))
        if standing is not None and standing != data:
            _keep(target, standing)
        if standing != data:
            write_bytes(path, data)
    project._loaded = (str(target), fingerprint(data))
    return path


def kept_states(folder: str | Path) -> tuple[Path, ...]:
    """Return the files of earlier states, newest first."""
    return tuple(sorted((Path(folder) / HISTORY).glob("*.json"), reverse=True))


def _file(path: Path) -> Path:
    return path if path.name == FILE and not path.is_dir() else path / FILE


def _refuse_strangers(folder: Path, standing: bytes | None, known: str) -> None:
    if standing is None:
        others = [entry.name for entry in folder.iterdir() if entry.name not in (".lock", PHOTOS)]
        if others and not known:
            raise Conflict(
                f"{folder} is not empty (it holds {sorted(others)[0]!r}) and was not loaded",
                do="save into an empty folder, or load what is there first; nothing was written",
            )
    elif fingerprint(standing) != known:
        raise Conflict(
            f"{folder / FILE} has changed since it was loaded, or was never loaded",
            do="load it again and make the change there, or save into another folder; nothing was written",
        )


def _keep(folder: Path, data: bytes) -> None:
    now = dt.datetime.now(dt.UTC).strftime("%Y%m%dT%H%M%S.%fZ")
    write_bytes(folder / HISTORY / f"{now}-{fingerprint(data)[:12]}.json", data)
    kept = list(kept_states(folder))
    while len(kept) > KEPT:
        kept.remove(crowded := _most_crowded(kept))
        crowded.unlink()


def _most_crowded(kept: list[Path]) -> Path:
    """Return the state whose loss leaves the smallest gap for its age; the newest and oldest stay."""
    times = [dt.datetime.strptime(path.name.split("-")[0], "%Y%m%dT%H%M%S.%fZ").timestamp() for path in kept]
    newest = times[0]

    def gap(index: int) -> float:
        return (times[index - 1] - times[index + 1]) / (newest - times[index] + 1e-6)

    return kept[min(range(1, len(kept) - 1), key=gap)]


def _refuse_twins(folder: Path, name: str) -> None:
    """Refuse names that differ by case alone: on another machine they would be one file."""
    try:
        entries = [entry.name for entry in folder.iterdir()]
    except OSError as error:
        raise NotFound(f"{folder} is not a folder that can be read", do="check the path") from error
    twins = [entry for entry in entries if entry.lower() == name.lower() and entry != name]
    if twins:
        raise BadRecord(str(folder), [Fault(twins[0], f"differs from {name!r} by case alone", "one file of that name")])


