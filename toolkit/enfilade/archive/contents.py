"""Files in the archive: equal ones, and equal records of different ones, are kept once."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from sqlalchemy import Connection, Table, bindparam, func, select, update
from sqlalchemy.dialects import postgresql, sqlite

from enfilade.archive import tables as t
from enfilade.archive.bulk import add_rows, rows_by_digest
from enfilade.archive.cutting import (
    LARGEST_BYTES,
    cut,
    digest,
    is_whole,
    joined,
    manifest_of,
    packed,
    pieces_of,
    unpacked,
)
from enfilade.errors import BadRecord, Fault, Refused

__all__ = ["FINDINGS", "Ready", "file_ids", "insert_once", "look_ahead", "made_ready", "read_file"]

_AT_ONCE: Final = 500
_LOOKED_AT: Final = 65_536
"""Larger pieces, which are photographs, are not read again at each keep; `verify` reads them (own choice) [bytes]."""
_ONE_OF: Final = t.pieces.c.id.in_(bindparam("ids", expanding=True))
_PIECE: Final = (("data", "bytea"),)
_FILE: Final = (("size", "bigint"), ("manifest", "bytea"))
FINDINGS: Final = "findings.json"
"""What was found when a version was kept; one piece, since most of it changes with each version."""


def insert_once(connection: Connection, table: Table) -> Any:
    """Return an insertion that passes over rows that are there already."""
    kind = sqlite if connection.dialect.name == "sqlite" else postgresql
    return kind.insert(table).on_conflict_do_nothing()


@dataclass(frozen=True)
class Ready:
    """Files about to be kept, with all that can be done to them before other writers have to wait.

    Attributes:
        digests: By path.
        sizes: By digest [bytes].
        parts: By digest: glue, and the digests of the pieces between.
        pieces: By digest.
        mend: Pieces that are damaged in the archive, to be written anew.
    """

    digests: Mapping[str, bytes]
    sizes: Mapping[bytes, int]
    parts: Mapping[bytes, Sequence[str | bytes]]
    pieces: Mapping[bytes, bytes]
    mend: set[bytes] = field(default_factory=set)
    _packed: dict[bytes, bytes] = field(default_factory=dict)

    def packed(self, name: bytes) -> bytes:
        """Return a piece as it is kept."""
        if name not in self._packed:
            self._packed[name] = packed(self.pieces[name])
        return self._packed[name]

    def pieces_of(self, names: Iterable[bytes]) -> set[bytes]:
        """Return the pieces of which files are made."""
        return {part for name in names for part in self.parts[name] if isinstance(part, bytes)}


def made_ready(files: Mapping[str, bytes]) -> Ready:
    """Return files as they will be kept, by path.

    Raises:
        Refused: One is so large that it would not be read again.
    """
    for path, data in files.items():
        if len(data) > LARGEST_BYTES:
            raise Refused(f"{path!r} has {len(data)} bytes", expected=f"at most {LARGEST_BYTES}", do="make it smaller")
    digests = {path: digest(data) for path, data in files.items()}
    records = {digests[path] for path in files if path.endswith(".json") and path != FINDINGS}
    parts: dict[bytes, list[str | bytes]] = {}
    pieces: dict[bytes, bytes] = {}
    for path, data in files.items():
        if (name := digests[path]) in parts:
            continue
        if name not in records:
            parts[name], pieces[name] = [name], data
            continue
        parts[name] = []
        for part in cut(data):
            if isinstance(part, str):
                parts[name].append(part)
            else:
                parts[name].append(piece := digest(part))
                pieces[piece] = part
    return Ready(digests, {digests[path]: len(data) for path, data in files.items()}, parts, pieces)


def look_ahead(connection: Connection, ready: Ready, released: bool) -> None:
    """Pack what the archive does not hold yet, and look at what it holds: it may be damaged there and whole here."""
    known = rows_by_digest(connection, "pieces", ready.pieces.keys(), released)
    for name in ready.pieces.keys() - known.keys():
        ready.packed(name)
    looked_at = {id: name for name, id in known.items() if len(ready.pieces[name]) <= _LOOKED_AT}
    query = select(t.pieces.c.id, t.pieces.c.data).where(_ONE_OF)
    for some in _some(sorted(looked_at)):
        for id, data in connection.execute(query, {"ids": some}):
            if not is_whole(data, looked_at[id]):
                ready.mend.add(looked_at[id])


def file_ids(connection: Connection, ready: Ready, released: bool) -> dict[str, int]:
    """Put files into the archive, and return by path the row of each."""
    mending = update(t.pieces).where(t.pieces.c.released == released, t.pieces.c.digest == bindparam("name"))
    for name in sorted(ready.mend):
        connection.execute(mending.values(data=ready.packed(name)), {"name": name})
    known = rows_by_digest(connection, "files", ready.parts.keys(), released)
    new = ready.parts.keys() - known.keys()
    numbers = _added(connection, t.pieces, _PIECE, ready.pieces_of(new), lambda name: (ready.packed(name),), released)
    known |= _added(
        connection, t.files, _FILE, new,
        lambda name: (ready.sizes[name], manifest_of(ready.parts[name], numbers)), released,
    )  # fmt: skip
    return {path: known[name] for path, name in ready.digests.items()}


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
    query = select(t.pieces.c.id, t.pieces.c.data).where(_ONE_OF)
    for some in _some(sorted(ids)):
        for id, data in connection.execute(query, {"ids": some}):
            yield id, unpacked(data)


def _added(
    connection: Connection,
    table: Table,
    columns: tuple[tuple[str, str], ...],
    names: Collection[bytes],
    content: Callable[[bytes], tuple[Any, ...]],
    released: bool,
) -> dict[bytes, int]:
    """Insert what is not there yet and return the row of each, by digest.

    In the order of their digests: two writers who add the same ones wait for each other and never for both.
    """
    known = rows_by_digest(connection, table.name, names, released)
    new = sorted(name for name in names if name not in known)
    if not new:
        return known
    rows = [(released, name, *content(name)) for name in new]
    head = (("released", "boolean"), ("digest", "bytea"))
    if connection.dialect.name == "sqlite":
        # Who writes is alone, so that the numbers of the rows are known beforehand.
        first = int(connection.execute(select(func.max(table.c.id))).scalar() or 0) + 1
        numbered = [(*row, first + at) for at, row in enumerate(rows)]
        add_rows(connection, table.name, (*head, *columns, ("id", "bigint")), numbered)
        return known | {name: first + at for at, name in enumerate(new)}
    add_rows(connection, table.name, (*head, *columns), rows, once=True)
    return known | rows_by_digest(connection, table.name, new, released)


def _some(items: list[Any]) -> Iterable[list[Any]]:
    return (items[at : at + _AT_ONCE] for at in range(0, len(items), _AT_ONCE))
