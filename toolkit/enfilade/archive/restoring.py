"""A version brought back to an empty folder, or into the project's own, whose state is kept among the earlier ones."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from enfilade.archive.keeping import memory_of, remember, remember_brought
from enfilade.archive.laying_out import BESIDE, is_empty, lay_out
from enfilade.archive.store import Store
from enfilade.archive.versions import Version
from enfilade.errors import BadRecord, Conflict, EnfiladeError, NotFound, Refused
from enfilade.files import locked, read_bytes, write_bytes
from enfilade.project.last_good import last_good, put_aside
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.store import FILE, kept_states, load, save_bytes

__all__ = ["Brought", "bring_back", "way_back"]


@dataclass(frozen=True)
class Brought:
    """What became of bringing a version back.

    Attributes:
        folder: Where it stands.
        version: Which one it is.
        before: The file of the state that stood there before; None: there was none, or it was the same.
        made_from: The version that the folder goes on from: a later one, where it had been kept as that.
    """

    folder: Path
    version: Version
    before: Path | None
    made_from: int


def bring_back(store: Store, project_id: str, number: int | None, folder: str | Path) -> Brought:
    """Bring a version back into an empty folder, or into the project's own.

    In the project's own folder the state that stood there is kept among its earlier states; what the version holds
    beside its record and is missing there, photographs first of all, is brought along, and what lies there stays. A
    `project.json` that cannot be read is put aside under another name.

    Args:
        store: The archive.
        project_id: Id of the project.
        number: Which version; none: the newest.
        folder: Where to; made when it does not exist.
    Raises:
        NotFound: There is no such version.
        BadRecord: What the archive holds of it is damaged; nothing was changed.
        Conflict: The folder holds another project, or somebody saved there meanwhile.
        Refused: The folder holds something else, is a link, or cannot be written.
    """
    version = store.version(project_id, number)
    paths = store.paths(project_id, version.number)
    target = Path(folder)
    if target.name == FILE and target.parent.is_dir():
        target = target.parent

    def file(path: str) -> bytes:
        return store.file(project_id, path, version.number)

    if is_empty(target):
        lay_out(target, paths, file)
        remember(store, target, version, file(FILE))
        return Brought(target, version, None, version.number)
    data = file(FILE)
    project = project_from(data, f"{project_id}, version {version.number}")
    standing = _standing(store, target, version)
    missing = [path for path in paths if path not in BESIDE and not os.path.lexists(target / path)]
    brought = {path: file(path) for path in missing}  # All of it is read before anything is written.
    for path in brought:
        _refuse_leading_out(target, path)
    earlier, before = _newest_state(target), None
    with _taking_back(target, brought) as laid:
        if standing is None:
            with locked(target):
                if _standing(store, target, version) is not None:
                    raise Conflict(f"{target / FILE} was saved meanwhile, and can be read", do="look at it first")
                _lay_beside(target, brought, laid)
                before = put_aside(target)
                write_bytes(target / FILE, data)
        else:
            _lay_beside(target, brought, laid)
            project._loaded = standing._loaded
            save_bytes(project, data, target)
    load(target)
    if standing is not None and (newest := _newest_state(target)) != earlier:
        before = newest
    return Brought(target, version, before, remember_brought(store, target, version, data))


def way_back(store: Store, folder: Path, number: int | None = None) -> tuple[str, int | None]:
    """Return the project that a folder was kept as, and which version: what it remembers, where its record is damaged.

    Args:
        number: The version that is asked for; none: the one it remembers.
    Raises:
        NotFound: The folder remembers nothing of this archive.
    """
    entry = memory_of(folder).get(store.id)
    if not isinstance(entry, dict) or not isinstance(entry.get("project"), str):
        raise NotFound(
            f"{folder} does not remember having been kept in {store.address}", do="name the project by its id"
        )
    known = entry.get("brought", entry.get("version"))
    return entry["project"], number or (known if type(known) is int and known > 0 else None)


def _newest_state(target: Path) -> Path | None:
    return next(iter(kept_states(target)), None)


def _lay_beside(target: Path, brought: Mapping[str, bytes], laid: list[str]) -> None:
    for path, content in brought.items():
        if not os.path.lexists(target / path):  # Somebody may have put it there meanwhile.
            write_bytes(target / path, content)
            laid.append(path)


@contextlib.contextmanager
def _taking_back(target: Path, brought: Mapping[str, bytes]) -> Iterator[list[str]]:
    """Take away again what was laid beside a record that could not be put there; the block lists what it lays."""
    folders = {step: step.exists() for path in brought for step in _steps(target, path)}
    laid: list[str] = []
    try:
        yield laid
    except BaseException:
        with contextlib.suppress(EnfiladeError, OSError), locked(target):
            stands = read_bytes(target / FILE)
            for path in laid:
                # What was saved there meanwhile may need it.
                if Path(path).name.encode() not in stands and read_bytes(target / path) == brought[path]:
                    (target / path).unlink()
            for folder, stood in sorted(folders.items(), reverse=True):
                with contextlib.suppress(OSError):
                    if not stood:
                        folder.rmdir()
        raise


def _steps(target: Path, path: str) -> list[Path]:
    """Return the folders between a project's folder and a file in it."""
    return [target / one for one in Path(path).parents[:-1]]


def _standing(store: Store, target: Path, version: Version) -> Project | None:
    """Return the project that stands in a folder, None when its file is damaged and was this project's.

    Raises:
        Conflict: It is another project, or nobody can tell.
    """
    try:
        found = load(target)
    except NotFound as error:
        raise Refused(f"{target} is not empty, and holds no project", do="choose an empty folder") from error
    except BadRecord as error:
        remembered = memory_of(target).get(store.id)
        ids = {remembered.get("project")} if isinstance(remembered, dict) else set()
        with contextlib.suppress(EnfiladeError):
            good = last_good(target)
            ids |= {good.project.id} if good else set()
        if version.project in ids:
            return None
        raise Refused(
            f"{target} holds a {FILE} that cannot be read, and nothing says that it was {version.project}",
            do="bring the version back into an empty folder",
        ) from error
    if found.id != version.project:
        raise Conflict(f"{target} holds {found.id}, another project", do="choose its own folder, or an empty one")
    return found


def _refuse_leading_out(target: Path, path: str) -> None:
    home = target.resolve()
    if not (home / path).parent.resolve().is_relative_to(home):
        raise Refused(f"{path} would lead out of {target} through a link", do="take the link away")
