"""A project's folder kept as a new version, and what the folder remembers of it."""

from __future__ import annotations

import contextlib
import getpass
import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from enfilade.archive.cutting import digest
from enfilade.archive.gathering import Gathered, gathered
from enfilade.archive.notes import figures_of, notes_of
from enfilade.archive.store import Store
from enfilade.archive.versions import Version
from enfilade.errors import EnfiladeError, NotFound
from enfilade.files import locked, read_bytes, write_text
from enfilade.project.store import FILE, kept_states

__all__ = ["REMEMBERED", "Kept", "keep", "remember", "remembered_base"]

REMEMBERED: Final = ".kept.json"
"""The file in a project's folder that says as which version it was kept last, by the id of the archive."""
_LARGEST_BYTES: Final = 1024 * 1024
_LONGEST_WHO: Final = 200


@dataclass(frozen=True)
class Kept:
    """What became of keeping a project.

    Attributes:
        version: The version in which it stands now.
        new: It was added; otherwise the very same was there already.
    """

    version: Version
    new: bool


def keep(
    store: Store,
    folder: str | Path,
    *,
    why: str = "",
    who: str = "",
    onto: int | None = None,
    progress: Callable[[str], None] = lambda _: None,
) -> Kept:
    """Keep a project, as it stands in its folder, as a new version.

    Args:
        store: The archive.
        folder: The project's folder, or its `project.json`.
        why: For what reason; `before the tender`.
        who: Who keeps it; none: the designer that the project names, else whoever is logged in.
        onto: The version that it was made from; none: the one that the folder was kept as last.
        progress: Hears what is being done.
    Raises:
        Conflict: Somebody kept another version meanwhile.
        NotFound, BadRecord, Refused: The folder cannot be read, or the archive not written; nothing was kept.
    """
    progress("reading and checking the project")
    found = gathered(folder)
    base = onto if onto is not None else remembered_base(store, Path(folder), found)
    progress(f"keeping {len(found.files)} files")
    before = _latest(store, found.project.id)
    version = store.add_version(
        found.project,
        found.files,
        who=who or _who(found),
        why=why,
        base=base,
        notes=notes_of(found.project, found.findings),
        figures=figures_of(found.project, found.findings),
        house_rules=found.house_rules,
    )
    remember(store, _home(found), version, found.files[FILE])
    return Kept(version, new=version.number != before)


def remembered_base(store: Store, folder: Path, found: Gathered) -> int | None:
    """Return the version that a folder was made from: the one it remembers, else one whose record it held before."""
    home = _home(found)
    plain = _remembered(home).get(store.id)
    if isinstance(plain, dict) and plain.get("project") == found.project.id and type(plain.get("version")) is int:
        return int(plain["version"])
    try:
        versions = store.versions(found.project.id)
    except NotFound:
        return None
    held = {digest(found.files[FILE])}
    for state in kept_states(home):
        with contextlib.suppress(EnfiladeError):
            held.add(digest(read_bytes(state)))
    records = store.digests(found.project.id, FILE)
    return next((one.number for one in reversed(versions) if records.get(one.number) in held), None)


def remember(store: Store, home: Path, version: Version, data: bytes) -> None:
    """Remember in a project's folder as which version it was kept; a folder that cannot be written is no failure."""
    with contextlib.suppress(EnfiladeError), locked(home, wait_s=2):
        plain = {
            **_remembered(home),
            store.id: {"project": version.project, "version": version.number, "record": digest(data).hex()},
        }
        write_text(home / REMEMBERED, json.dumps(plain, indent=1) + "\n")


def _remembered(home: Path) -> dict[str, Any]:
    try:
        plain = json.loads(read_bytes(home / REMEMBERED, largest=_LARGEST_BYTES))
    except (EnfiladeError, ValueError, RecursionError):
        return {}
    return plain if isinstance(plain, dict) else {}


def _home(found: Gathered) -> Path:
    assert found.project._loaded is not None
    return Path(found.project._loaded[0])


def _latest(store: Store, project: str) -> int:
    try:
        return store.version(project).number
    except NotFound:
        return 0


def _who(found: Gathered) -> str:
    named = found.project.show.studio.designer
    if named:
        return named
    with contextlib.suppress(OSError, KeyError, ImportError):
        return getpass.getuser()[:_LONGEST_WHO]
    return ""
