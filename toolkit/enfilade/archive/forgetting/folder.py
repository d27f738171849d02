"""A project's folder without its client; nothing outside of it is touched."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
from pathlib import Path
from typing import Final

from enfilade.archive.cutting import digest
from enfilade.archive.forgetting.beside import file_without
from enfilade.archive.keeping import REMEMBERED, memory_of
from enfilade.errors import EnfiladeError, NotFound, Refused
from enfilade.files import fingerprint, locked, read_bytes, sweep_parts, write_bytes, write_text
from enfilade.project.forgotten import forgotten
from enfilade.project.issues import FOLDER as ISSUED
from enfilade.project.names import Names
from enfilade.project.names_before import is_changed
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.store import (
    DRAFTS,
    FILE,
    HISTORY,
    HOUSE_RULES,
    kept_states,
    load,
    project_bytes,
    save_bytes,
)
from enfilade.project.studio_file import named_files

__all__ = ["earlier_records", "forget_folder", "working_record"]

_WHOLE: Final = (HISTORY, ISSUED, DRAFTS, PHOTOS)
_LIGHT: Final = "light"
_TOLD: Final = ".told.json"
"""Lies among documents and names, by form, those that were written there with their fingerprints."""
_LARGEST_RECORD: Final = 1_000_000


def working_record(folder: str | Path, project: str) -> Project:
    """Return the record of a project's working folder.

    Raises:
        NotFound, BadRecord: As for `load`.
        Refused: It is another project's, or has a link in a folder's place.
    """
    working = load(folder)
    # Whose id held a name has another one in the archive already, where forgetting stopped half way.
    if working.id != project and not is_changed(project):
        raise Refused(f"{folder} holds the project {working.id!r}", expected=f"the folder of {project!r}")
    for name in (*_WHOLE, _LIGHT):
        if (_home(working) / name).is_symlink():
            raise Refused(f"{_home(working) / name} is a link", expected="a folder inside the project")
    return working


def earlier_records(working: Project) -> list[Project]:
    """Return the earlier states that a project's folder kept; those that cannot be read know no names to us."""
    found = []
    for state in kept_states(_home(working)):
        with contextlib.suppress(EnfiladeError):
            found.append(project_from(read_bytes(state), state.name))
    return found


def forget_folder(working: Project, names: Names, id: str, archive: str) -> tuple[str, ...]:
    """Rewrite a project's folder without its client, and say in sentences what was left there.

    Args:
        working: What `working_record` returned.
        names: All names that are to be forgotten.
        id: By which the project goes from now on.
        archive: The archive's id.
    Raises:
        Conflict: The folder was saved meanwhile, or is being saved.
        Refused: It cannot be written.
    """
    home = _home(working)
    before = digest(read_bytes(home / FILE))
    record = forgotten(working, names).model_copy(update={"id": id})
    data = project_bytes(record)
    save_bytes(record, data, home)
    with locked(home):
        for name in _WHOLE:
            _removed(home / name)
        for path in [home / HOUSE_RULES, *(home / path for path in named_files(home)), *_plain_files(home / _LIGHT)]:
            _rewritten(home, path, names)
        _told_removed(home)
        sweep_parts(home)
        others = _remembered(home, names, id, archive, before, data)
    left = []
    if others:
        left.append(
            f"The folder was kept in other archives too ({others}): have the project forgotten in each of them."
        )
    still, closed = _holding(home, names)
    if still:
        left.append(f"{still} of the other files in the folder still hold one of the names; nobody but you can judge "
                    "whether they are needed.")  # fmt: skip
    if closed:
        left.append(f"{closed} of the files and folders there could not be looked at, and may hold one of the names: "
                    "see who may read and write them.")  # fmt: skip
    return tuple(left)


def _home(working: Project) -> Path:
    assert working._loaded is not None
    return Path(working._loaded[0])


def _removed(folder: Path) -> None:
    try:
        shutil.rmtree(folder)  # never through a link
    except FileNotFoundError:
        pass
    except OSError as error:
        raise Refused(
            f"{folder} could not be removed ({error.strerror})", do="remove it by hand, and do the same again"
        ) from error


def _plain_files(folder: Path) -> list[Path]:
    with contextlib.suppress(OSError):  # What cannot be looked at is counted in the end.
        return sorted(path for path in folder.iterdir() if path.is_file() and not path.is_symlink())
    return []


def _rewritten(home: Path, path: Path, names: Names) -> None:
    try:
        data = read_bytes(path)
    except EnfiladeError:
        return  # It is not there, is a link, and so not ours, or cannot be looked at.
    if not path.resolve().is_relative_to(home):
        return
    without = file_without(path.relative_to(home).as_posix(), data, names)
    if without is None:
        try:
            path.unlink()
        except OSError as error:
            raise Refused(
                f"{path} could not be removed ({error.strerror})", do="remove it by hand, and do the same again"
            ) from error
    elif without != data:
        write_bytes(path, without)


def _told_removed(home: Path) -> None:
    """Remove the documents in the folder that the record was told in, where they are as they were written."""
    for place in (home, *_folders(home)):
        try:
            known = json.loads(read_bytes(place / _TOLD, largest=_LARGEST_RECORD))
            told = {name: mark for files in known.values() for name, mark in files.items()}
        except (EnfiladeError, ValueError, AttributeError, RecursionError):
            continue
        for name, mark in told.items():
            with contextlib.suppress(EnfiladeError, OSError):
                if Path(name).name == name and fingerprint(read_bytes(place / name)) == mark:
                    (place / name).unlink()
        # What somebody has edited stays, and stays known as that: the next telling must not write over it.
        stays = {
            form: {name: mark for name, mark in files.items() if (place / Path(name).name).exists()}
            for form, files in known.items()
        }
        with contextlib.suppress(OSError):
            if any(stays.values()):
                write_text(place / _TOLD, json.dumps({form: files for form, files in stays.items() if files}))
            else:
                (place / _TOLD).unlink()


def _folders(home: Path) -> list[Path]:
    with contextlib.suppress(OSError):
        return [path for path in home.iterdir() if path.is_dir() and not path.is_symlink()]
    return []


def _remembered(home: Path, names: Names, id: str, archive: str, before: bytes, data: bytes) -> int:
    """Bring what the folder remembers of having been kept to its new id, and return how many other archives are
    named."""
    memory = memory_of(home)
    for key, plain in memory.items():
        if isinstance(plain, dict) and isinstance(plain.get("project"), str):
            plain["project"] = id if key == archive else names.out_of_ids(plain["project"])
            if plain.get("record") == before.hex():
                plain["record"] = digest(data).hex()
            if key == archive:
                plain.pop("seal", None)  # All seals were made anew.
    if memory:
        write_text(home / REMEMBERED, json.dumps(memory, indent=1) + "\n")
    return len(memory.keys() - {archive})


def _holding(home: Path, names: Names) -> tuple[int, int]:
    """Return how many files in the folder hold a name after all, and how many files and folders cannot be looked at."""
    closed: list[OSError] = []
    count = unread = 0
    for folder, _, files in os.walk(home, onerror=closed.append):
        for path in (Path(folder) / name for name in files):
            try:
                if path.is_symlink() or not path.is_file():
                    continue
                data = read_bytes(path)
            except (NotFound, FileNotFoundError):
                continue
            except (EnfiladeError, OSError):
                unread += 1
                continue
            count += file_without(path.relative_to(home).as_posix(), data, names) != data
    return count, unread + len(closed)
