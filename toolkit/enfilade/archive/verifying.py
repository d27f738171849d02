"""An archive verified: what is damaged, named by project, version, file and record, and what is still whole."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from sqlalchemy import Connection, select, text
from sqlalchemy.exc import SQLAlchemyError

from enfilade.archive import tables as t
from enfilade.archive.contents import read_file
from enfilade.archive.cutting import digest, pieces_of, unpacked
from enfilade.archive.record_places import place_in
from enfilade.archive.store import FILE, Store
from enfilade.archive.versions import Version, seal_of
from enfilade.errors import EnfiladeError, Refused
from enfilade.listing import joined

__all__ = ["Damage", "verify"]

_AT_ONCE: Final = 200
_MOST_SAID: Final = 20
_TRIES: Final = 4


@dataclass(frozen=True)
class Damage:
    """One thing in an archive that is not as it was kept.

    Attributes:
        what: What is wrong with it.
        project: Id of the project; empty: it is the archive's file itself.
        version: Number of the version; 0: all of them.
        file: Path in the version; empty: its words or its list of files.
        record: Where in the file, as far as it can be told.
        last_good: Number of the newest version of the project that is whole; None: there is none, or no project.
    """

    what: str
    project: str = ""
    version: int = 0
    file: str = ""
    record: str = ""
    last_good: int | None = None

    def __str__(self) -> str:
        steps = (self.project, str(self.version or ""), self.file, self.record)
        place = "/".join(step for step in steps if step) or "the archive's file"
        tail = ""
        if self.project:
            whole = f"version {self.last_good} is the newest that is whole" if self.last_good else "no version is whole"
            tail = f"; {whole}"
        return f"{place}: {self.what}{tail}"


def verify(store: Store, progress: Callable[[str], None] = lambda _: None) -> tuple[Damage, ...]:
    """Hold everything in an archive against its digests and seals.

    Args:
        store: The archive; nothing is changed in it.
        progress: Hears what is being done.
    Returns:
        What is damaged, the file itself first; none: everything is as it was kept.
    """
    found = [*_of_the_file(store, progress)]
    try:
        projects = store.projects()
        bad_pieces = _bad_pieces(store, progress)
    except Refused as error:
        return (*found, Damage(f"what it holds cannot be read ({error.what})"))
    known: dict[int, tuple[str, str]] = {}
    for count, project in enumerate(projects, 1):
        progress(f"checking project {count} of {len(projects)}")
        try:
            found += _settled(store, project.id, bad_pieces, known)
        except EnfiladeError as error:
            found.append(Damage(f"cannot be read ({error.what})", project.id))
    return tuple(found)


def _of_the_file(store: Store, progress: Callable[[str], None]) -> Iterator[Damage]:
    """Yield what SQLite itself finds wrong with its file; a shared database looks after its own."""
    if store.address.shared:
        return
    progress("checking the archive's file")
    try:
        with store.reading() as connection:
            said = [row[0] for row in connection.execute(text(f"PRAGMA integrity_check({_MOST_SAID})"))]
    except Refused as error:
        yield Damage(error.what)
        return
    for line in said:
        if line != "ok":
            yield Damage(f"the database says: {line.splitlines()[0][:200]}")


def _bad_pieces(store: Store, progress: Callable[[str], None]) -> dict[int, str]:
    """Return what is wrong with each piece that is not what it was, by its row."""
    with store.reading() as connection:
        rows = sorted(connection.execute(select(t.pieces.c.id)).scalars())
    bad: dict[int, str] = {}
    for at in range(0, len(rows), _AT_ONCE):
        if at % (_AT_ONCE * 50) == 0:
            progress(f"checking piece {at + 1} of {len(rows)}")
        some = rows[at : at + _AT_ONCE]
        try:
            bad |= _checked(store, some)
        except EnfiladeError:  # One that cannot be read must not hide the others.
            for row in some:
                try:
                    bad |= _checked(store, [row])
                except EnfiladeError as error:
                    bad[row] = f"cannot be read ({error.what})"
    return bad


def _checked(store: Store, rows: list[int]) -> dict[int, str]:
    query = select(t.pieces.c.id, t.pieces.c.digest, t.pieces.c.data).where(t.pieces.c.id.in_(rows))
    bad: dict[int, str] = {}
    with store.reading() as connection:
        for row, name, data in connection.execute(query):
            try:
                if digest(unpacked(bytes(data))) != bytes(name):
                    bad[row] = "is not what was kept"
            except Refused as error:
                bad[row] = error.what
    return bad


def _settled(
    store: Store, project: str, bad_pieces: Mapping[int, str], known: dict[int, tuple[str, str]]
) -> list[Damage]:
    """Return what is damaged of one project; looked at again where somebody rewrote it meanwhile."""
    for _ in range(_TRIES):
        with store.reading() as connection:  # All of one moment.
            versions, files = store.versions_in(connection, project), _files(connection, store, project)
            latest = connection.execute(
                select(t.projects.c.latest).where(
                    t.projects.c.project == project, t.projects.c.released == store.released
                )
            ).scalar_one()
        found = _of_project(store, project, latest, versions, files, bad_pieces, known)
        if not found or [one.seal for one in store.versions(project)][: len(versions)] == [
            one.seal for one in versions
        ]:
            return found
        known.clear()
    return found


def _of_project(
    store: Store,
    project: str,
    latest: int,
    versions: Sequence[Version],
    files: Mapping[int, Mapping[str, tuple[int, bytes]]],
    bad_pieces: Mapping[int, str],
    known: dict[int, tuple[str, str]],
) -> list[Damage]:
    """Return what is damaged of one project; `known` remembers files that were looked at already."""
    found: list[Damage] = []
    before = b""
    for version in versions:
        here = files.get(version.number, {})
        found += _of_words(version, before, here)
        for path, (row, _) in sorted(here.items()):
            if row not in known:
                known[row] = _of_file(store, row, f"{project}/{version.number}/{path}", bad_pieces)
            what, record = known[row]
            if what:
                found.append(Damage(what, project, version.number, path, record))
        before = version.seal
    if missing := sorted({*range(1, latest + 1)} - {version.number for version in versions}):
        numbers = joined([str(number) for number in missing], _MOST_SAID)
        found.append(Damage(f"of versions 1 to {latest} these are missing: {numbers}", project))
    hurt = {damage.version for damage in found}
    whole = max((version.number for version in versions if version.number not in hurt), default=None)
    return [Damage(one.what, one.project, one.version, one.file, one.record, whole) for one in found]


def _of_words(version: Version, before: bytes, files: Mapping[str, tuple[int, bytes]]) -> Iterator[Damage]:
    if FILE not in files:
        yield Damage("is missing", version.project, version.number, FILE)
    if seal_of(version, before, {path: name for path, (_, name) in files.items()}) != version.seal:
        what = "its seal does not fit: its words or its list of files, or the seal before it, are not what was kept"
        yield Damage(what, version.project, version.number)


def _files(connection: Connection, store: Store, project: str) -> dict[int, dict[str, tuple[int, bytes]]]:
    """Return row and digest of each file, by number of the version and path."""
    query = (
        select(t.versions.c.number, t.version_files.c.path, t.files.c.id, t.files.c.digest)
        .join(t.projects, t.projects.c.id == t.versions.c.project)
        .join(t.version_files, t.version_files.c.version == t.versions.c.id)
        .join(t.files, t.files.c.id == t.version_files.c.file)
        .where(t.projects.c.project == project, t.projects.c.released == store.released)
    )
    found: dict[int, dict[str, tuple[int, bytes]]] = {}
    for number, path, row, name in connection.execute(query):
        found.setdefault(number, {})[path] = (row, bytes(name))
    return found


def _of_file(store: Store, row: int, name: str, bad_pieces: Mapping[int, str]) -> tuple[str, str]:
    """Return what is wrong with a file, and in which record; both empty when it is whole."""
    try:
        with store.reading() as connection:
            manifest = connection.execute(select(t.files.c.manifest).where(t.files.c.id == row)).scalar_one()
            parts = pieces_of(bytes(manifest))
            bad = next((part for part in parts if isinstance(part, int) and part in bad_pieces), None)
            if bad is not None:
                return f"is damaged: {bad_pieces[bad]}", place_in(parts, bad, _left(connection, parts))
            read_file(connection, row, str(store.address), name)
    except EnfiladeError as error:
        what = getattr(error, "faults", (error,))[0].what
        return (what if what.startswith("is ") else f"is damaged: {what}"), ""
    return "", ""


def _left(connection: Connection, parts: Sequence[str | int]) -> dict[int, bytes]:
    """Return what is left of the pieces of a file."""
    left: dict[int, bytes] = {}
    for part in parts:
        with contextlib.suppress(Refused, SQLAlchemyError):
            if isinstance(part, int):
                data = connection.execute(select(t.pieces.c.data).where(t.pieces.c.id == part)).scalar()
                left[part] = unpacked(bytes(data or b""))
    return left
