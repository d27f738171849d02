"""Files in the archive: equal ones, and equal records of different ones, are kept once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final

from sqlalchemy import Connection, Table, bindparam, func, select
from sqlalchemy.dialects import postgresql, sqlite

from enfilade.archive import tables as t
from enfilade.archive.bulk import add_rows
from enfilade.archive.cutting import Cut, cut, digest, joined, manifest_of, packed, pieces_of, unpacked
from enfilade.errors import BadRecord, Fault, Refused

__all__ = ["FINDINGS", "file_ids", "insert_once", "read_file"]

_AT_ONCE: Final = 500
_PIECE: Final = (("data", "bytea"),)
_FILE: Final = (("size", "bigint"), ("manifest", "bytea"))
FINDINGS: Final = "findings.json"
"""What was found when a version was kept; one piece, since most of it changes with each version."""


def insert_once(connection: Connection, table: Table) -> Any:
    """Return an insertion that passes over rows that are there already."""
    kind = sqlite if connection.dialect.name == "sqlite" else postgresql
    return kind.insert(table).on_conflict_do_nothing()


def file_ids(
    connection: Connection, files: Mapping[str, bytes], released: bool
) -> tuple[dict[str, int], dict[str, bytes]]:
    """Put files into the archive, and return by path the row of each and its digest."""
    digests = {path: digest(data) for path, data in files.items()}
    known = _rows(connection, t.files, set(digests.values()), released)
    new = {digests[path]: data for path, data in files.items() if digests[path] not in known}
    records = {digests[path] for path in files if path.endswith(".json") and path != FINDINGS}
    cuts: dict[bytes, Cut] = {name: cut(data) if name in records else [data] for name, data in new.items()}
    pieces = {digest(part): part for parts in cuts.values() for part in parts if isinstance(part, bytes)}
    kept = {name: (lambda data=data: (packed(data),)) for name, data in pieces.items()}
    numbers = _added(connection, t.pieces, _PIECE, kept, released)
    rows = {
        name: (lambda name=name, parts=parts: (len(new[name]), manifest_of(parts, numbers)))
        for name, parts in cuts.items()
    }
    known |= _added(connection, t.files, _FILE, rows, released)
    return {path: known[name] for path, name in digests.items()}, digests


def read_file(connection: Connection, file: int, archive: str, name: str) -> bytes:
    """Return the bytes of a file, after holding them against its digest.

    Raises:
        BadRecord: They are damaged; the place is `name`.
    """
    row = connection.execute(select(t.files.c.digest, t.files.c.manifest).where(t.files.c.id == file)).one()
    try:
        parts = pieces_of(row.manifest)
        ids = {part for part in parts if isinstance(part, int)}
        data = joined(parts, dict(_data_of(connection, ids)))
    except Refused as error:
        raise BadRecord(archive, [Fault(name, error.what, "what was kept")]) from error
    if digest(data) != row.digest:
        raise BadRecord(archive, [Fault(name, "is damaged: it is not what was kept", "the bytes of its digest")])
    return data


def _data_of(connection: Connection, ids: Iterable[int]) -> Iterable[tuple[int, bytes]]:
    query = select(t.pieces.c.id, t.pieces.c.data).where(t.pieces.c.id.in_(bindparam("ids", expanding=True)))
    for some in _some(sorted(ids)):
        for id, data in connection.execute(query, {"ids": some}):
            yield id, unpacked(data)


def _added(
    connection: Connection,
    table: Table,
    columns: tuple[tuple[str, str], ...],
    content: Mapping[bytes, Callable[[], tuple[Any, ...]]],
    released: bool,
) -> dict[bytes, int]:
    """Insert what is not there yet and return the row of each, by digest.

    In the order of their digests: two writers who add the same ones wait for each other and never for both.
    """
    known = _rows(connection, table, content, released)
    new = sorted(name for name in content if name not in known)
    if not new:
        return known
    rows = [(released, name, *content[name]()) for name in new]
    head = (("released", "boolean"), ("digest", "bytea"))
    if connection.dialect.name == "sqlite":
        # Who writes is alone, so that the numbers of the rows are known beforehand.
        first = int(connection.execute(select(func.max(table.c.id))).scalar() or 0) + 1
        numbered = [(*row, first + at) for at, row in enumerate(rows)]
        add_rows(connection, table.name, (*head, *columns, ("id", "bigint")), numbered)
        return known | {name: first + at for at, name in enumerate(new)}
    add_rows(connection, table.name, (*head, *columns), rows, once=True)
    return known | _rows(connection, table, new, released)


def _rows(connection: Connection, table: Table, names: Iterable[bytes], released: bool) -> dict[bytes, int]:
    query = select(table.c.digest, table.c.id).where(
        table.c.released == released, table.c.digest.in_(bindparam("names", expanding=True))
    )
    return {bytes(name): id for some in _some(sorted(names)) for name, id in connection.execute(query, {"names": some})}


def _some(items: list[Any]) -> Iterable[list[Any]]:
    return (items[at : at + _AT_ONCE] for at in range(0, len(items), _AT_ONCE))
