"""Many rows written at once, in the way that each database takes them quickest."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import Any, Final

from sqlalchemy import Connection

__all__ = ["add_rows", "plain_text", "rows_by_digest"]

_AT_ONCE: Final = 500
"""So many values in a statement: SQLite takes 999 in its oldest builds (SQLite, `Implementation Limits`, section 9)."""
_MOST_BYTES: Final = 32 * 1024 * 1024
"""So much in a statement (own choice: PostgreSQL takes 1 GB, where a byte is written as two signs)."""
_LOST: Final = {0: "\ufffd", **dict.fromkeys(range(0xD800, 0xE000), "\ufffd")}
"""A zero byte, which PostgreSQL cannot keep, and halves of characters, which no database can."""


def plain_text(text: str) -> str:
    """Return a text that every database can keep; a mark stands for each sign that none can.

    >>> plain_text("oak\\x00")
    'oak\\ufffd'
    """
    if text.isascii():
        return text.replace("\x00", "\ufffd")
    return text.translate(_LOST)


def add_rows(
    connection: Connection,
    table: str,
    columns: Sequence[tuple[str, str]],
    rows: Sequence[tuple[Any, ...]],
    *,
    once: bool = False,
    made: str = "",
) -> None:
    """Add rows in one go: as arrays in PostgreSQL, as one prepared statement in SQLite.

    Args:
        table: Its name.
        columns: Name and PostgreSQL type of each; none of these words comes from a record.
        rows: Their values, in that order.
        once: Pass over rows that are there already.
        made: In PostgreSQL, one more column and how it is made, such as `search = to_tsvector('english', folded)`; it
            may name the last of `columns`, which is then not a column of the table.
    """
    if not rows:
        return
    names = [name for name, _ in columns]
    again = " ON CONFLICT DO NOTHING" if once else ""
    if connection.dialect.name != "postgresql":
        places = ", ".join("?" * len(names))
        statement = f"INSERT INTO {table} ({', '.join(names)}) VALUES ({places}){again}"
        connection.exec_driver_sql(statement, list(rows))
        return
    arrays = ", ".join(f"%s::{kind}[]" for _, kind in columns)
    into, taken = list(names), list(names)
    if made:
        column, _, how = made.partition(" = ")
        into[-1], taken[-1] = column, how
    statement = (
        f"INSERT INTO {table} ({', '.join(into)}) SELECT {', '.join(taken)} "
        f"FROM unnest({arrays}) AS given ({', '.join(names)}){again}"
    )
    for some in _as_large_as_taken(rows):
        given = zip(columns, zip(*some, strict=True), strict=True)
        connection.exec_driver_sql(statement, tuple(_array(kind, column) for (_, kind), column in given))


def _as_large_as_taken(rows: Sequence[tuple[Any, ...]]) -> Iterator[Sequence[tuple[Any, ...]]]:
    """Yield rows in portions of which one value alone may be larger than `_MOST_BYTES`."""
    start = size = 0
    for at, row in enumerate(rows):
        here = sum(len(value) for value in row if isinstance(value, bytes))
        if at > start and size + here > _MOST_BYTES:
            yield rows[start:at]
            start, size = at, 0
        size += here
    yield rows[start:]


def rows_by_digest(connection: Connection, table: str, digests: Collection[bytes], released: bool) -> dict[bytes, int]:
    """Return the row of each digest that a table holds."""
    if connection.dialect.name != "postgresql":
        found: dict[bytes, int] = {}
        names = sorted(digests)
        for at in range(0, len(names), _AT_ONCE):
            some = names[at : at + _AT_ONCE]
            marks = ", ".join("?" * len(some))
            query = f"SELECT digest, id FROM {table} WHERE released = ? AND digest IN ({marks})"
            found.update(connection.exec_driver_sql(query, (released, *some)).fetchall())
        return found
    query = f"SELECT digest, id FROM {table} WHERE released = %s AND digest = ANY (%s::bytea[])"
    rows = connection.exec_driver_sql(query, (released, _array("bytea", sorted(digests))))
    return {bytes(name): id for name, id in rows}


def _array(kind: str, column: Sequence[Any]) -> str:
    """Return values as PostgreSQL writes an array, which takes a tenth of the driver's time.

    Source: PostgreSQL 15 documentation, 8.15.6, array input and output syntax (recalled).
    """
    if kind == "text":
        # Two signs alone mean something between quotes.
        whole = "\x00".join(column)
        if whole.count("\x00") == len(column) - 1:
            quoted = whole.replace("\\", "\\\\").replace('"', '\\"').replace("\x00", '","')
            return f'{{"{quoted}"}}'
        raise ValueError("a text holds a zero byte")
    if kind == "bytea":
        return "{" + ",".join(f'"\\\\x{value.hex()}"' for value in column) + "}"
    return "{" + ",".join(map(str, column)) + "}"
