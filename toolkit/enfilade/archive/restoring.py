"""A version brought back to an empty folder, or into the project's own, whose state is kept among the earlier ones."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator, Mapping
from pathlib import Path

from enfilade.archive.keeping import memory_of, remember
from enfilade.archive.laying_out import BESIDE, is_empty, lay_out
from enfilade.archive.store import Store
from enfilade.archive.versions import Version
from enfilade.errors import BadRecord, Conflict, EnfiladeError, NotFound, Refused
from enfilade.files import locked, read_bytes, write_bytes
from enfilade.project.last_good import last_good, put_aside
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.store import FILE, load, save_bytes

__all__ = ["bring_back"]


def bring_back(store: Store, project_id: str, number: int | None, folder: str | Path) -> Path:
    """Bring a version back into an empty folder, or into the project's own.

    In the project's own folder the state that stood there is kept among its earlier states; what the version holds
    beside its record and is missing there, photographs first of all, is brought along, and what lies there stays. A
    `project.json` that cannot be read is put aside under another name.

    Args:
        store: The archive.
        project_id: Id of the project.
        number: Which version; none: the newest.
        folder: Where to; made when it does not exist.
    Returns:
        The folder.
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
        return target
    data = file(FILE)
    project = project_from(data, f"{project_id}, version {version.number}")
    standing = _standing(store, target, version)
    missing = [path for path in paths if path not in BESIDE and not os.path.lexists(target / path)]
    brought = {path: file(path) for path in missing}  # All of it is read before anything is written.
    for path in brought:
        _refuse_leading_out(target, path)
    with _taking_back(target, brought) as laid:
        if standing is None:
            with locked(target):
                if _standing(store, target, version) is not None:
                    raise Conflict(f"{target / FILE} was saved meanwhile, and can be read", do="look at it first")
                _lay_beside(target, brought, laid)
                put_aside(target)
                write_bytes(target / FILE, data)
        else:
            _lay_beside(target, brought, laid)
            project._loaded = standing._loaded
            save_bytes(project, data, target)
    load(target)
    return target


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
