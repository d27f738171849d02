"""A copy for students: what they may not know is left out before it is kept, in a file or in rows of its own."""

from __future__ import annotations

import copy
import os
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, text

from enfilade.archive import tables as t
from enfilade.archive.adding import add_version
from enfilade.archive.address import Address, address_of
from enfilade.archive.contents import FINDINGS
from enfilade.archive.figures import figures_of
from enfilade.archive.gathering import findings_bytes
from enfilade.archive.notes import notes_of
from enfilade.archive.stated import kept_state
from enfilade.archive.store import FILE, Store
from enfilade.archive.versions import Version
from enfilade.errors import NotFound, Refused
from enfilade.files import fingerprint
from enfilade.project.fields import Audience
from enfilade.project.names import Names
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.project import Project
from enfilade.project.standing_alone import standing_alone
from enfilade.project.stripping import stripped
from enfilade.project.writing import project_text
from enfilade.walkthrough.compose import telling_of

__all__ = ["as_released", "grant", "release", "released_id"]

_AUDIENCE: Final[Audience] = "student"
_LONGEST_ID: Final = 54
_ELSEWHERE: Final = "name another archive for students, such as `students.sqlite`"


def release(
    store: Store,
    project: str,
    to: str | Address | None = None,
    *,
    number: int | None = None,
    who: str = "",
    why: str = "",
) -> Version:
    """Keep a copy of a version for students, made by leaving out; releasing again adds a version to that copy.

    The copy holds the record as students may be told it and what was found, without names and addresses. It never
    holds the studio's file, issues, or photographs that students may not see; what can be searched is made from it.

    Args:
        store: The archive that holds the project.
        project: Its id.
        to: Another archive, made when it is not there, that holds copies for students alone. None: the same database,
            where rules on its rows keep the rest from whoever may read no more; a file has no such rules.
        number: Of the version; none: the newest.
        who, why: Who releases it and for what reason, as students may read it.
    Returns:
        The version of the copy; the one that is there, when it holds the very same.
    Raises:
        NotFound: There is no such project or version.
        Refused: `to` is needed, is this archive, or holds more than copies for students; nothing was released.
    """
    if store.released:
        raise Refused(f"{store.address}: this archive holds copies for students alone", do="release from the whole one")
    if to is None and not store.address.shared:
        raise Refused("in a file a copy for students would lie beside all the rest", do=_ELSEWHERE)
    elsewhere = _other(store, to) if to is not None else None
    state = kept_state(store, project, number)
    names = Names(state.project, _AUDIENCE)
    telling = telling_of(state.project, state.findings, state.rules, audience=_AUDIENCE)
    told, files = _told(store, state.project, telling.project, number)
    records = store.digests(project, FILE)
    told = told.model_copy(update={"id": released_id(told, state.project, records[min(records)])})
    files |= {FILE: project_text(told).encode(), FINDINGS: findings_bytes(telling.findings)}
    target = as_released(store) if elsewhere is None else Store(elsewhere, released=True)
    try:
        if not target.released:
            raise Refused(f"{target.address}: this archive holds more than copies for students", do=_ELSEWHERE)
        return add_version(
            target,
            told,
            files,
            who=names.out_of_text(who),
            why=names.out_of_text(why),
            base=newest.number if (newest := target.newest(told.id)) else None,
            notes=notes_of(told, telling.findings),
            figures=figures_of(told, telling.findings),
            released=True,
        ).version
    finally:
        if elsewhere is not None:
            target.close()


def released_id(told: Project, whole: Project, first: bytes) -> str:
    """Return the id of a project's copy for students: its own, unless that holds a name.

    What was left of it might be left of another's too; so it ends as nobody's does who has not read the project.

    Args:
        told: What students may be told.
        whole: The project.
        first: SHA-256 of the record of its first version.
    """
    return whole.id if told.id == whole.id else f"{told.id[:_LONGEST_ID].rstrip('-')}-{first.hex()[:8]}"


def as_released(store: Store) -> Store:
    """Return the same archive as students see it; it is closed with the one it was made from."""
    seen = copy.copy(store)
    seen.released = True
    return seen


def grant(store: Store, role: str) -> None:
    """Let a role that the database knows already read what is released, and nothing else. No password is set.

    Args:
        store: A shared archive, opened by who looks after it.
        role: Its name.
    Raises:
        NotFound: The database knows no such role.
        Refused: It would see more than what is released; or the archive is a file, or not yours to grant.
    """
    if not store.address.shared:
        raise Refused("a file knows no roles", do="hand out the file of copies for students")
    if store.released:
        raise Refused(f"{store.address}: you may read this archive and grant nothing", do="ask whoever looks after it")

    store.writing(lambda connection: _granted(connection, role))


def _granted(connection: Connection, role: str) -> None:
    known = connection.execute(_ROLE, {"role": role.replace("\x00", "")}).one_or_none()
    if known is None:
        raise NotFound("the database knows no such role", do="whoever looks after the server makes it: CREATE ROLE")
    if known.sees_all:
        raise Refused(
            "that role sees everything in this database", expected="a role that owns nothing and is no superuser"
        )
    quoted = connection.dialect.identifier_preparer.quote_identifier
    schema = quoted(connection.execute(text("SELECT current_schema()")).scalar_one())
    whom = quoted(role)
    tables = ", ".join(f"{schema}.{quoted(table.name)}" for table in t.metadata.sorted_tables)
    # A text of its own, not through `text`, which would take a colon in a name for a parameter.
    for statement in (
        f"REVOKE ALL ON {tables} FROM {whom}",
        f"GRANT USAGE ON SCHEMA {schema} TO {whom}",
        f"GRANT SELECT ON {tables} TO {whom}",
    ):
        connection.exec_driver_sql(statement)


_ROLE: Final = text(
    "SELECT r.rolsuper OR r.rolbypassrls OR pg_has_role(r.oid, c.relowner, 'MEMBER') AS sees_all "
    "FROM pg_roles r, pg_class c WHERE r.rolname = :role AND c.oid = 'projects'::regclass"
)


def _other(store: Store, to: str | Address) -> Address:
    """Return the address of another archive, refusing this one's own."""
    other = to if isinstance(to, Address) else address_of(to)
    if _same(store.address, other):
        raise Refused(f"{other}: this is the archive itself", do=_ELSEWHERE)
    return other


def _same(one: Address, other: Address) -> bool:
    if one.path is None or other.path is None:
        return one.path is None and other.path is None and _server(one) == _server(other)
    try:
        return os.path.samefile(one.path, other.path)
    except OSError:
        return one.path.resolve() == other.path.resolve()


def _server(address: Address) -> tuple[object, ...]:
    return address.url.host, address.url.port, address.url.database


def _told(store: Store, whole: Project, told: Project, number: int | None) -> tuple[Project, dict[str, bytes]]:
    """Return what students may be told, and the photographs that they may see, without what cameras wrote in them."""
    told = standing_alone(told)
    files: dict[str, bytes] = {}
    pictures = []
    for photograph in told.photographs:
        data = stripped(store.file(whole.id, f"{PHOTOS}/{photograph.file}", number))
        name = f"{fingerprint(data)}{Path(photograph.file).suffix}"
        files[f"{PHOTOS}/{name}"] = data
        pictures.append(photograph.model_copy(update={"file": name}))
    return told.model_copy(update={"photographs": tuple(pictures)}), files
