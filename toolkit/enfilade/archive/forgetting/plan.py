"""What an archive holds of a project that is to be forgotten: all its versions, released copies, and every name."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from sqlalchemy import Connection, select

from enfilade.archive import tables as t
from enfilade.archive.contents import read_file
from enfilade.archive.releasing import released_id
from enfilade.archive.store import FILE
from enfilade.archive.versions import Version
from enfilade.errors import BadRecord, Fault, NotFound
from enfilade.project.audience import for_audience
from enfilade.project.names import Names
from enfilade.project.project import Project
from enfilade.project.reading import project_from

__all__ = ["Held", "HeldVersion", "Plan", "planned"]


@dataclass(frozen=True)
class HeldVersion:
    """A version as it stands in the archive.

    Attributes:
        row: Of `versions`.
        files: Row of `files` and digest of each, by path.
        record: Its `project.json`.
    """

    row: int
    version: Version
    files: dict[str, tuple[int, bytes]]
    record: Project


@dataclass(frozen=True)
class Held:
    """A project, or its copy for students, as it stands in the archive.

    Attributes:
        row: Of `projects`.
    """

    row: int
    released: bool
    id: str
    name: str
    versions: tuple[HeldVersion, ...]


@dataclass(frozen=True)
class Plan:
    """All that is to be rewritten.

    Attributes:
        held: The project, then its copies for students in the same archive.
        states: Its records in every version, and those of the working folder.
        taken: Ids of the archive's other projects.
    """

    held: tuple[Held, ...]
    states: tuple[Project, ...]
    taken: tuple[str, ...]

    @cached_property
    def names(self) -> Names:
        """Return all names and addresses that any state knows."""
        copies = [one.record for held in self.held[1:] for one in held.versions]
        return Names.to_forget([*self.states, *copies], self.taken)

    @property
    def id(self) -> str:
        """Return the id of the project, when it is forgotten."""
        return self.names.out_of_ids(self.held[0].id)


def planned(connection: Connection, archive: str, project: str, beside: Sequence[Project] = ()) -> Plan:
    """Look at all that an archive holds of a project.

    Args:
        connection: To the archive.
        archive: What to call it in errors.
        project: Id of the project.
        beside: The record of the working folder, and its earlier states.
    Raises:
        NotFound: The archive holds no such project.
        BadRecord: A version cannot be read, so that names could not be found in it.
    """
    whole = _held(connection, archive, project, released=False)
    if whole is None:
        raise NotFound(f"{project!r} is not in the archive {archive}", do="`enfilade versions` lists its projects")
    held = [whole]
    first = whole.versions[0].files[FILE][1]
    ids = (released_id(for_audience(one.record, "student"), one.record, first) for one in reversed(whole.versions))
    for id in dict.fromkeys((*ids, project)):
        copy = _held(connection, archive, id, released=True)
        held += [copy] if copy is not None else []
    states = [*(one.record for one in whole.versions), *beside]
    p = t.projects.c
    others = connection.execute(select(p.project).where(p.id.not_in([one.row for one in held]))).scalars()
    return Plan(tuple(held), tuple(states), tuple(dict.fromkeys(others)))


def _held(connection: Connection, archive: str, project: str, *, released: bool) -> Held | None:
    p = t.projects.c
    row = connection.execute(select(p.id, p.name).where(p.project == project, p.released == released)).one_or_none()
    if row is None:
        return None
    return Held(row.id, released, project, row.name, tuple(_versions(connection, archive, project, row.id)))


def _versions(connection: Connection, archive: str, project: str, row: int) -> Iterator[HeldVersion]:
    v = t.versions.c
    query = select(v.id, v.number, v.on, v.who, v.why, v.format, v.yardstick, v.house_rules, v.seal)
    for id, number, on, *rest in connection.execute(query.where(v.project == row).order_by(v.number)).all():
        files = _files(connection, id)
        place = f"{project}/{number}/{FILE}"
        if FILE not in files:
            raise BadRecord(archive, [Fault(place, "is missing", "the record of the version")])
        record = project_from(read_file(connection, files[FILE][0], archive, place), f"{archive}: {place}")
        yield HeldVersion(id, Version(project, number, dt.datetime.fromisoformat(on), *rest), files, record)


def _files(connection: Connection, version: int) -> dict[str, tuple[int, bytes]]:
    query = (
        select(t.version_files.c.path, t.files.c.id, t.files.c.digest)
        .join(t.files, t.files.c.id == t.version_files.c.file)
        .where(t.version_files.c.version == version)
    )
    return {row.path: (row.id, bytes(row.digest)) for row in connection.execute(query)}
