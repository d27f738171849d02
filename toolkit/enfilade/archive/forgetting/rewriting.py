"""The versions of a project rewritten without its client, each sealed anew; and pieces that nothing holds any more."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sqlalchemy import Connection, bindparam, delete, insert, select, text, update

from enfilade.archive import tables as t
from enfilade.archive.contents import FINDINGS, file_ids, made_ready, read_file
from enfilade.archive.cutting import pieces_of
from enfilade.archive.forgetting.beside import file_without, findings_without, gone
from enfilade.archive.forgetting.plan import Held, HeldVersion, Plan
from enfilade.archive.lessons.learning import learn, learnt_from, unlearn
from enfilade.archive.store import FILE
from enfilade.archive.versions import sealed
from enfilade.errors import Refused
from enfilade.project.forgotten import forgotten
from enfilade.project.store import project_bytes

__all__ = ["alone", "rewritten", "swept"]

_AT_ONCE = 500


def alone(connection: Connection) -> None:
    """Keep other writers out until the transaction ends; SQLite has one writer anyway.

    A writer who found an equal piece and does not hold it yet would else lose it.
    """
    if connection.dialect.name == "postgresql":
        connection.execute(text("LOCK TABLE projects IN EXCLUSIVE MODE"))


def rewritten(connection: Connection, archive: str, plan: Plan, held: Held, id: str) -> None:
    """Rewrite every version of a project.

    Args:
        connection: In a transaction.
        archive: What to call it in errors.
        plan: What is to be forgotten.
        held: The project, or its copy for students.
        id: By which it goes from now on.
    Raises:
        BadRecord: A file is damaged, or a record would not fit together; nothing may be written then.
    """
    seal, name = b"", held.name
    unlearn(connection, held.row)
    for one in held.versions:
        record = forgotten(one.record, plan.names).model_copy(update={"id": id})
        name = record.name
        files = {FILE: project_bytes(record)}
        kept: dict[str, tuple[int, bytes]] = {}
        findings: bytes | None = None
        for path, (row, digest) in one.files.items():
            if path == FILE or gone(path):
                continue
            data = read_file(connection, row, archive, f"{held.id}/{one.version.number}/{path}")
            without = findings_without(data, plan.names) if path == FINDINGS else file_without(path, data, plan.names)
            findings = without if path == FINDINGS else findings
            if without == data:
                kept[path] = row, digest
            elif without is not None:
                files[path] = without
        ready = made_ready(files)
        ids = file_ids(connection, ready, held.released)
        kept |= {path: (ids[path], ready.digests[path]) for path in files}
        seal = _put(connection, plan, held, one, id, record.format, kept, seal)
        learn(connection, held.row, one.version.number, learnt_from(record, findings), held.released)
    connection.execute(update(t.projects).where(t.projects.c.id == held.row).values(project=id, name=name))


def _put(
    connection: Connection,
    plan: Plan,
    held: Held,
    one: HeldVersion,
    id: str,
    format: int,
    files: dict[str, tuple[int, bytes]],
    before: bytes,
) -> bytes:
    """Put a version in place of the one that stands there, and return its seal."""
    who, why = (plan.names.out_of_text(words) for words in (one.version.who, one.version.why))
    version = replace(one.version, project=id, who=who, why=why, format=format)
    version = sealed(version, before, {path: digest for path, (_, digest) in files.items()})
    connection.execute(delete(t.version_files).where(t.version_files.c.version == one.row))
    connection.execute(
        insert(t.version_files),
        [
            {"released": held.released, "version": one.row, "path": path, "file": row}
            for path, (row, _) in sorted(files.items())
        ],
    )
    changed = {"who": who, "why": why, "format": format, "seal": version.seal}
    connection.execute(update(t.versions).where(t.versions.c.id == one.row).values(changed))
    return version.seal


def swept(connection: Connection, plan: Plan) -> None:
    """Remove the files that no version holds any more, and the pieces that no file holds any more."""
    rows = {row for held in plan.held for one in held.versions for row, _ in one.files.values()}
    still = t.version_files.c.file
    gone_files = {row for row in rows if not connection.execute(select(still).where(still == row).limit(1)).first()}
    loose = set[int]()
    for some in _some(gone_files):
        manifests = connection.execute(select(t.files.c.manifest).where(t.files.c.id.in_(some))).scalars()
        loose.update(part for manifest in manifests for part in _pieces(manifest))
        connection.execute(delete(t.files).where(t.files.c.id.in_(some)))
    if loose:
        every = select(t.files.c.manifest).execution_options(yield_per=_AT_ONCE)  # of a large archive, not all at once
        for manifest in connection.execute(every).scalars():
            loose.difference_update(_pieces(manifest))
    for some in _some(loose):
        connection.execute(delete(t.pieces).where(t.pieces.c.id.in_(bindparam("ids", expanding=True))), {"ids": some})


def _pieces(manifest: bytes) -> list[int]:
    try:
        return [part for part in pieces_of(manifest) if isinstance(part, int)]
    except Refused as error:
        raise Refused(
            f"{error.what}, so that it cannot be told which pieces are still needed",
            do="`enfilade verify` names it; nothing was erased",
        ) from error


def _some(rows: Iterable[int]) -> list[list[int]]:
    whole = sorted(rows)
    return [whole[at : at + _AT_ONCE] for at in range(0, len(whole), _AT_ONCE)]
