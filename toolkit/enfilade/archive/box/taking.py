"""A box taken into an archive: its versions with their numbers, days, who and why, and the very same seals."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from enfilade.archive.adding import add_version
from enfilade.archive.box.reading import Box, read_box
from enfilade.archive.contents import FINDINGS
from enfilade.archive.figures import figures_of
from enfilade.archive.notes import notes_of
from enfilade.archive.store import Store
from enfilade.archive.versions import Version
from enfilade.errors import Conflict, Refused
from enfilade.findings import Finding
from enfilade.times import day_here

__all__ = ["take_in"]


def take_in(store: Store, path: str | Path, progress: Callable[[str], None] = lambda _: None) -> list[Version]:
    """Take the versions of a box into an archive.

    A project that is there already is continued, when all its versions are those that the box begins with. Each
    version is taken in whole; when it is broken off, the next call goes on from there.

    Args:
        store: The archive.
        path: The box.
        progress: Hears what is being done.
    Returns:
        The versions that are new in the archive; none when it holds them all.
    Raises:
        NotFound, BadRecord: As for `read_box`; nothing was taken in.
        Conflict: The archive holds other versions of this project; the message says where they part.
        Refused: The archive cannot be written, or holds copies for students and the box is none.
    """
    box = read_box(path, progress)
    if store.released and not box.released:
        raise Refused(
            f"{store.address} holds copies for students alone, and {path} is none", do="take it into another archive"
        )
    there = store.versions(box.project) if store.newest(box.project) else []
    _refuse_parting(box, there)
    return [_taken(store, box, version, progress) for version in box.versions[len(there) :]]


def _refuse_parting(box: Box, there: Iterable[Version]) -> None:
    for mine, theirs in zip(there, box.versions, strict=False):
        if mine.seal != theirs.seal:
            common = f"the same up to version {mine.number - 1}" if mine.number > 1 else "different from the first on"
            raise Conflict(
                f"{box.project}: the archive and {box.path} are {common}; the archive's version {mine.number} was kept "
                f"on {_told(mine)}, the box's on {_told(theirs)}",
                do="unpack the box into a folder, and merge that; nothing was written",
            )


def _told(version: Version) -> str:
    return f"{day_here(version.on)} by {version.who or 'somebody'}"


def _taken(store: Store, box: Box, version: Version, progress: Callable[[str], None]) -> Version:
    progress(f"taking in version {version.number} of {len(box.versions)}")
    files = box.files(version.number)
    project = box.record(version.number)
    findings = _findings(files.get(FINDINGS, b""))
    if findings is None:
        progress(f"version {version.number}: its findings cannot be read today; they are kept, and cannot be searched")
    return add_version(
        store,
        project,
        files,
        who=version.who,
        why=version.why,
        base=version.number - 1 or None,
        notes=notes_of(project, findings or ()),
        figures=figures_of(project, findings or ()),
        house_rules=version.house_rules,
        on=version.on,
        copied=version,
    ).version


def _findings(data: bytes) -> tuple[Finding, ...] | None:
    """Return the findings that were kept, as far as today's reader knows them; None when it does not."""
    if not data:
        return ()
    try:
        found = TypeAdapter(tuple[Finding, ...]).validate_json(data)
    except (ValidationError, RecursionError):
        return None
    return found if all(one.measured is None or math.isfinite(one.measured.value) for one in found) else None
