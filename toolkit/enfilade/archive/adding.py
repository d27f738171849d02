"""A version added to an archive: all of it, or nothing."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sqlalchemy import Connection, insert, select, update

from enfilade.archive import tables as t
from enfilade.archive.bulk import plain_text
from enfilade.archive.contents import FINDINGS, file_ids, insert_once, look_ahead, made_ready
from enfilade.archive.figures import Figure
from enfilade.archive.indexing import index
from enfilade.archive.lessons.learning import learn, learnt_from
from enfilade.archive.notes import Note
from enfilade.archive.paths import fault_in, twins
from enfilade.archive.store import Store
from enfilade.archive.versions import Version, moment_words, sealed
from enfilade.errors import Conflict, Refused
from enfilade.project.project import Project
from enfilade.project.readable import readable
from enfilade.times import day_here

__all__ = ["Kept", "add_version", "ended_early", "rewritten"]


@dataclass(frozen=True)
class Kept:
    """What became of keeping a project.

    Attributes:
        version: The version in which it stands now.
        new: It was added; otherwise the very same was there already.
    """

    version: Version
    new: bool


def add_version(
    store: Store,
    project: Project,
    files: Mapping[str, bytes],
    *,
    who: str,
    why: str,
    base: int | None,
    base_seal: bytes | None = None,
    notes: Sequence[Note] = (),
    figures: Sequence[Figure] = (),
    house_rules: str = "",
    released: bool | None = None,
    on: dt.datetime | None = None,
    copied: Version | None = None,
) -> Kept:
    """Add a version: all of it, or nothing.

    Args:
        store: The archive.
        project: The record that stands in `files["project.json"]`.
        files: Bytes by path, `project.json` among them.
        who, why: Who keeps it, and for what reason.
        base: Number of the version that this one was made from; None: it is not in the archive yet.
        base_seal: Seal that this version had then; None: whichever it has.
        notes, figures: What can be searched of it.
        house_rules: Fingerprint of the studio's own rules.
        released: It is a copy for students; none: as the archive is.
        on: When [UTC]; none: now.
        copied: The version of another archive that this one is to equal, seal and all.
    Returns:
        The version; the newest one, when that holds the very same files already.
    Raises:
        Conflict: Somebody kept another version after `base`, or it was rewritten since.
        Refused: The archive cannot be written, a path cannot be on every machine, or a copy's seal comes out
            otherwise; nothing was written.
    """
    _refuse_odd_paths(files)
    released = store.released if released is None else released
    if store.released and not released:
        raise Refused(f"{store.address}: this archive holds copies for students alone", do="choose another archive")
    if copied is None:
        who, why = plain_text(who), plain_text(why)
    moment = (on or dt.datetime.now(dt.UTC)).astimezone(dt.UTC).replace(microsecond=0)
    # What needs no lock is done before others have to wait.
    ready, lessons = made_ready(files), learnt_from(project, files.get(FINDINGS))
    with store.reading() as connection:
        look_ahead(connection, ready, released)

    def work(connection: Connection) -> Kept:
        row, latest = _project_row(connection, project, released)
        ids = file_ids(connection, ready, released)
        before = store.versions_in(connection, project.id, released) if latest else []
        if before and copied is None and _holds(connection, row, latest, ids):
            return Kept(before[-1], new=False)
        if base and base <= len(before) and base_seal not in (None, before[base - 1].seal):
            raise rewritten(project.id, base)
        if (base or 0) != latest:
            raise _moved_on(project.id, base, before)
        version = Version(project.id, latest + 1, moment, who, why, project.format, project.yardstick, house_rules, b"")
        if copied is not None:
            version = replace(version, format=copied.format, yardstick=copied.yardstick)
        version = sealed(version, before[-1].seal if before else b"", ready.digests)
        if copied is not None and version.seal != copied.seal:
            raise Refused(f"{project.id}: version {copied.number} has another seal than its words and files give")
        _add_row(connection, row, version, ids, released)
        connection.execute(
            update(t.projects).where(t.projects.c.id == row).values(latest=version.number, name=project.name)
        )
        index(connection, row, version.number, notes, figures, released)
        learn(connection, row, version.number, lessons, released)
        return Kept(version, new=True)

    return store.writing(work)


def _add_row(connection: Connection, project: int, version: Version, files: Mapping[str, int], released: bool) -> None:
    added = insert(t.versions).values(
        released=released, project=project, number=version.number, on=moment_words(version.on), who=version.who,
        why=version.why, format=version.format, yardstick=version.yardstick, house_rules=version.house_rules,
        seal=version.seal,
    )  # fmt: skip
    row = connection.execute(added.returning(t.versions.c.id)).scalar_one()
    connection.execute(
        insert(t.version_files),
        [{"released": released, "version": row, "path": path, "file": file} for path, file in sorted(files.items())],
    )


def _project_row(connection: Connection, project: Project, released: bool) -> tuple[int, int]:
    """Return the row of a project and its latest number; the row is held until the transaction ends."""
    p = t.projects.c
    query = select(p.id, p.latest).where(p.released == released, p.project == project.id).with_for_update()
    found = connection.execute(query).first()
    if found is None:
        connection.execute(
            insert_once(connection, t.projects),
            [{"released": released, "project": project.id, "name": project.name, "latest": 0}],
        )
        found = connection.execute(query).one()
    return found.id, found.latest


def _holds(connection: Connection, row: int, number: int, ids: Mapping[str, int]) -> bool:
    query = (
        select(t.version_files.c.path, t.version_files.c.file)
        .join(t.versions, t.versions.c.id == t.version_files.c.version)
        .where(t.versions.c.project == row, t.versions.c.number == number)
    )
    return {row.path: row.file for row in connection.execute(query)} == dict(ids)


def _refuse_odd_paths(files: Mapping[str, bytes]) -> None:
    for path in files:
        if fault := fault_in(path):
            raise Refused(f"the file {path!r} cannot be kept: {fault}", do="give it another name")
    if (pair := twins(files)) is not None:
        raise Refused(
            f"the files {pair[0]!r} and {pair[1]!r} cannot both be kept: on some machines they are one",
            do="give one of them another name",
        )


def rewritten(project: str, base: int) -> Conflict:
    """Return why a folder is not kept whose version is not what it was."""
    return Conflict(
        f"{project}: version {base} in the archive is not the one any more that this folder was made from; it was "
        "rewritten, as when a client is forgotten, or the archive was put back from an earlier copy and went on since",
        do="bring it back into a new folder and go on there; nothing was written",
    )


def ended_early(project: str, base: int, last: int) -> Conflict:
    """Return why a folder is not kept that was made from a version which the archive does not hold any more."""
    return Conflict(
        f"{project}: this one was made from version {base}, and the archive ends with version {last}",
        do="the archive may have been put back from an earlier copy: compare with its last version, then keep with "
        f"`--onto {last}`; nothing was written",
    )


def _moved_on(project: str, base: int | None, versions: Sequence[Version]) -> Conflict:
    if not versions:
        return Conflict(
            f"{project} was kept before, and the archive holds no project of this id any more",
            do="where it was forgotten, begin with what the archive holds of it now; where the archive was put back "
            "from an earlier copy, `enfilade keep --onto 0` keeps it as a first version; nothing was written",
        )
    last = versions[-1]
    kept = f"version {last.number} was kept on {day_here(last.on)} by {readable(last.who) or 'somebody'}"
    if base and base > last.number:
        return ended_early(project, base, last.number)
    from_ = f"this one was made from version {base}" if base else "this one was not made from it"
    return Conflict(
        f"{project}: {kept}, and {from_}",
        do="`enfilade keep --merge` brings both together and asks where both changed the same; nothing was written",
    )
