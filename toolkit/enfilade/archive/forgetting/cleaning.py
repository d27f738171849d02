"""The bytes of what was erased, off the disk: the index, free pages, journals and the copy beside a file."""

from __future__ import annotations

import glob
from typing import Any, Final

from sqlalchemy import Connection, delete, select, text
from sqlalchemy.exc import DBAPIError

from enfilade.archive import tables as t
from enfilade.archive.contents import insert_once
from enfilade.archive.store import Store
from enfilade.errors import Refused

__all__ = ["cleaned", "mark_unclean", "unclean"]

_MARK: Final = "to be cleaned"
_BUSY: Final = (
    "Somebody reads the archive just now, so that its file or journal may still hold what was erased: do the same "
    "again when nobody does."
)
_KEEPER: Final = (
    "PostgreSQL's own log of changes and its backups hold what was erased until they are recycled. Whoever looks after "
    "the server can make it begin a new part of that log (SELECT pg_switch_wal(); CHECKPOINT), remove parts that were "
    "put by and backups made before today, and look whether statements are logged with their values."
)


_NOT_OWNED: Final = (
    "Only the owner of the archive's tables can write them anew: until its owner does the same, they may hold what was "
    "erased."
)
_GATHERED: Final = "What the database gathered about values may hold some until its next VACUUM."


def mark_unclean(connection: Connection) -> None:
    """Note, with what is erased, that the bytes are still to be cleaned: a process may die in between."""
    connection.execute(insert_once(connection, t.info), [{"key": _MARK, "value": "1"}])


def unclean(connection: Connection) -> bool:
    """Tell whether something was erased and its bytes were not cleaned yet."""
    return connection.execute(select(t.info.c.key).where(t.info.c.key == _MARK)).first() is not None


def cleaned(store: Store) -> tuple[str, ...]:
    """Take the bytes of what was erased off the disk, and say in sentences where some may be left."""
    from enfilade.archive.finding import let_go

    let_go()
    left = _in_database(store) if store.address.shared else _in_file(store)
    told = _renewed(store)
    if not left:  # Last of all: a process may die before.
        store.writing(lambda connection: connection.execute(delete(t.info).where(t.info.c.key == _MARK)))
        left = [] if store.address.shared else _emptied(store)
    left += told
    return (*left, _KEEPER) if store.address.shared else tuple(left)


def _in_file(store: Store) -> list[str]:
    """Write the file anew without free pages, and empty its journal."""
    try:
        _plainly(store, "VACUUM")
    except DBAPIError as error:
        return [_why_not(error)]
    return _emptied(store)


def _why_not(error: DBAPIError) -> str:
    """Say why the bytes could not be cleaned: somebody is there, or the disk or its rights stand in the way."""
    said = str(error.orig)
    if "locked" in said or "busy" in said:
        return _BUSY
    return (
        f"The archive's file may still hold what was erased, since it could not be written anew ({said[:100]}): make "
        "room, or see who may write there, and do the same again."
    )


def _emptied(store: Store) -> list[str]:
    try:
        busy = _plainly(store, "PRAGMA wal_checkpoint(TRUNCATE)")
    except DBAPIError as error:
        return [_why_not(error)]
    return [_BUSY] if busy and busy[0] else []


def _plainly(store: Store, statement: str) -> Any:
    """Run a statement outside of a transaction, and return its first row."""
    connection = store._engine.raw_connection()
    try:
        cursor = connection.cursor()
        cursor.execute(statement)
        return cursor.fetchone()
    except Exception as error:  # the driver's own, which has no common kind
        raise DBAPIError(statement, None, error) from error
    finally:
        connection.close()


def _in_database(store: Store) -> list[str]:
    """Write the tables anew without what was erased, and with them what the database gathered about their values."""
    left: list[str] = []
    said: list[str] = []
    with store._engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.execute(text("SET lock_timeout = '30s'"))
        # Who may not clean a table is not refused: the database passes over it, and warns.
        driver: Any = connection.connection.dbapi_connection
        driver.add_notice_handler(lambda notice: said.append(str(notice.message_primary)))
        for table in t.metadata.sorted_tables:
            try:
                connection.execute(text(f"VACUUM (FULL, ANALYZE) {table.name}"))
            except DBAPIError:
                left = [_BUSY]
        try:
            connection.execute(text("VACUUM (FULL) pg_catalog.pg_statistic"))
        except DBAPIError:
            left.append(_GATHERED)
    if any(f'"{table.name}"' in words for words in said for table in t.metadata.sorted_tables):
        left.append(_NOT_OWNED)
    if any("pg_statistic" in words for words in said) and _GATHERED not in left:
        left.append(_GATHERED)
    return left


def _renewed(store: Store) -> list[str]:
    """Make the copy that stands beside the file anew."""
    from enfilade.archive.copies import ASIDE, copy_of, renew_copy

    path = store.address.path
    said: list[str] = []
    try:
        renew_copy(store)
    except Refused as error:
        if path is None or copy_of(path).exists():
            raise
        said = [f"No copy stands beside the archive now: {error}."]
    aside = (
        []
        if path is None
        else sorted(one for name in ASIDE for one in path.parent.glob(f"{glob.escape(path.name)}.{name}-*"))
    )
    return said + [
        f"{one} was put aside when the copy took its place, and was not touched: remove it when it is not needed."
        for one in aside
    ]
