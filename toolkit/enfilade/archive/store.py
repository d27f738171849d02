"""An archive that is open: its projects, their versions, which never change, and their bytes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from types import TracebackType
from typing import Self, TypeVar

from sqlalchemy import Connection, select

from enfilade.archive import tables as t
from enfilade.archive.address import Address, address_of
from enfilade.archive.contents import read_file
from enfilade.archive.engine import engine_of, in_words, written
from enfilade.archive.opening import prepared
from enfilade.archive.versions import KeptProject, Version
from enfilade.errors import BadRecord, NotFound
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.store import FILE

__all__ = ["FILE", "Store"]

_T = TypeVar("_T")


class Store:
    """An archive that is open. Use it in a `with` block, or close it.

    Args:
        address: A path, or `postgresql://USER@HOST/DATABASE`; none: `$ENFILADE_ARCHIVE`, else the user's data folder.
        create: Make it when it is not there yet.
        released: Where it is made: it holds copies for students, and nothing else.
    Attributes:
        address: Where it is.
        released: Copies for students alone are seen here.
        id: The archive's own id, by which a project's folder knows where it was kept.
    Raises:
        NotFound: It is not there, and is not to be made.
        Refused: It cannot be reached, is damaged, or is of a newer format.
    """

    def __init__(self, address: str | Address | None = None, *, create: bool = True, released: bool = False) -> None:
        self.address = address if isinstance(address, Address) else address_of(address)
        self._engine = engine_of(self.address)
        try:
            self.id, self.released = prepared(self._engine, self.address, create=create, released=released)
        except BaseException:
            self.close()
            raise

    def close(self) -> None:
        """Let go of the database."""
        self._engine.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection on which everything that is read belongs to one moment.

        Raises:
            Refused: The database cannot be read; the message holds nothing private.
        """
        with in_words(self.address), self._engine.connect() as connection:
            if self.address.shared:  # A file gives a reader one moment by itself.
                connection = connection.execution_options(isolation_level="REPEATABLE READ")
            with connection.begin():
                yield connection

    def writing(self, work: Callable[[Connection], _T]) -> _T:
        """Do some work in one transaction, again where others were in the way, and return what it returned.

        Raises:
            Conflict, Refused: See `engine.written`; nothing was written.
        """
        return written(self._engine, self.address, work)

    def projects(self) -> list[KeptProject]:
        """Return the projects, by name."""
        p = t.projects.c
        query = select(p.project, p.name, p.latest).where(p.released == self.released).order_by(p.name, p.project)
        with self.reading() as connection:
            return [KeptProject(*row) for row in connection.execute(query)]

    def versions(self, project: str) -> list[Version]:
        """Return the versions of a project, the oldest first.

        Raises:
            NotFound: The archive holds no such project.
        """
        with self.reading() as connection:
            return self.versions_in(connection, project)

    def version(self, project: str, number: int | None = None) -> Version:
        """Return one version, the newest unless a number is given.

        Raises:
            NotFound: There is none.
        """
        found = self.versions(project)
        if number is None:
            return found[-1]
        for one in found:
            if one.number == number:
                return one
        raise NotFound(f"{project} has no version {number}", expected=f"1 to {found[-1].number}")

    def newest(self, project: str) -> Version | None:
        """Return the newest version of a project; None: the archive holds no such project."""
        with suppress(NotFound):
            return self.version(project)
        return None

    def paths(self, project: str, number: int | None = None) -> dict[str, int]:
        """Return the files of a version with their sizes [bytes], by path.

        Raises:
            NotFound: There is no such version.
        """
        with self.reading() as connection:
            version = self._version_row(connection, project, number)
            query = (
                select(t.version_files.c.path, t.files.c.size)
                .join(t.files, t.files.c.id == t.version_files.c.file)
                .where(t.version_files.c.version == version)
                .order_by(t.version_files.c.path)
            )
            return {row.path: row.size for row in connection.execute(query)}

    def file(self, project: str, path: str = FILE, number: int | None = None) -> bytes:
        """Return the bytes of a file as they were kept.

        Raises:
            NotFound: There is no such version, or it has no such file.
            BadRecord: What the archive holds of it is damaged; the place says which version and file.
        """
        with self.reading() as connection:
            version = self._version_row(connection, project, number)
            query = select(t.version_files.c.file).where(
                t.version_files.c.version == version, t.version_files.c.path == path
            )
            file = connection.execute(query).scalar()
            if file is None:
                raise NotFound(f"{project}, version {number or 'newest'}: it has no file {path!r}")
            at = self._number(connection, version)
            try:
                return read_file(connection, file, str(self.address), f"{project}/{at}/{path}")
            except BadRecord as error:
                whole = self._whole_before(connection, project, path, at)
                error.do = f"version {whole} is the last before it whose {path} is whole" if whole else ""
                raise

    def _whole_before(self, connection: Connection, project: str, path: str, number: int) -> int | None:
        """Return the newest version before one that still has a file as it was kept."""
        query = (
            select(t.versions.c.number, t.version_files.c.file)
            .join(t.projects, t.projects.c.id == t.versions.c.project)
            .join(t.version_files, t.version_files.c.version == t.versions.c.id)
            .where(
                t.projects.c.project == project,
                t.projects.c.released == self.released,
                t.versions.c.number < number,
                t.version_files.c.path == path,
            )
            .order_by(t.versions.c.number.desc())
        )
        for before, file in connection.execute(query).all():
            with suppress(BadRecord):
                read_file(connection, file, str(self.address), path)
                return int(before)
        return None

    def digests(self, project: str, path: str) -> dict[int, bytes]:
        """Return the SHA-256 that a file has in each version that holds it, by the version's number."""
        query = (
            select(t.versions.c.number, t.files.c.digest)
            .join(t.projects, t.projects.c.id == t.versions.c.project)
            .join(t.version_files, t.version_files.c.version == t.versions.c.id)
            .join(t.files, t.files.c.id == t.version_files.c.file)
            .where(
                t.projects.c.project == project,
                t.projects.c.released == self.released,
                t.version_files.c.path == path,
            )
        )
        with self.reading() as connection:
            return {row.number: bytes(row.digest) for row in connection.execute(query)}

    def file_digests(self, project: str, number: int | None = None) -> dict[str, bytes]:
        """Return the SHA-256 of each file of a version, by its path.

        Raises:
            NotFound: There is no such version.
        """
        with self.reading() as connection:
            query = (
                select(t.version_files.c.path, t.files.c.digest)
                .join(t.files, t.files.c.id == t.version_files.c.file)
                .where(t.version_files.c.version == self._version_row(connection, project, number))
            )
            return {row.path: bytes(row.digest) for row in connection.execute(query)}

    def project(self, project: str, number: int | None = None) -> Project:
        """Return a version as a project; files of earlier formats are read as today's.

        Raises:
            NotFound: There is no such version.
            BadRecord: What the archive holds of it is damaged.
        """
        label = f"{project}, version {number}" if number else f"{project}, newest version"
        return project_from(self.file(project, FILE, number), label)

    def versions_in(self, connection: Connection, project: str, released: bool | None = None) -> list[Version]:
        """Return the versions of a project within one reading or writing; see `versions`."""
        v, p = t.versions.c, t.projects.c
        query = (
            select(p.project, v.number, v.on, v.who, v.why, v.format, v.yardstick, v.house_rules, v.seal)
            .join(t.projects, p.id == v.project)
            .where(p.project == project, p.released == (self.released if released is None else released))
            .order_by(v.number)
        )
        found = [
            Version(row[0], row[1], dt.datetime.fromisoformat(row[2]), *row[3:]) for row in connection.execute(query)
        ]
        if not found:
            raise NotFound(
                f"{project!r} is not in the archive {self.address}", do="`enfilade versions` lists its projects"
            )
        return found

    def _version_row(self, connection: Connection, project: str, number: int | None) -> int:
        v, p = t.versions.c, t.projects.c
        query = (
            select(v.id)
            .join(t.projects, p.id == v.project)
            .where(
                p.project == project,
                p.released == self.released,
                v.number == (p.latest if number is None else number),
            )
        )
        found = connection.execute(query).scalar()
        if found is None:
            versions = self.versions_in(connection, project)
            raise NotFound(f"{project} has no version {number}", expected=f"1 to {versions[-1].number}")
        return int(found)

    def _number(self, connection: Connection, version: int) -> int:
        return int(connection.execute(select(t.versions.c.number).where(t.versions.c.id == version)).scalar_one())
