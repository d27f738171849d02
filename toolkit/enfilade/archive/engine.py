"""Connections to an archive, and what its database's errors mean in plain words."""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from shutil import disk_usage
from typing import Any, Final, TypeVar

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError, SQLAlchemyError
from sqlalchemy.pool import QueuePool

from enfilade.archive.address import Address, when_damaged
from enfilade.errors import Conflict, EnfiladeError, Refused

__all__ = ["WAIT_S", "engine_of", "in_words", "written"]

_T = TypeVar("_T")
WAIT_S: Final = 30.0
"""So long a writer waits for others, then it is told."""
_TRIES: Final = 6
"""So often a transaction begins anew that others were in the way of (own choice)."""
_UNWRITTEN: Final = ("SQLITE_IOERR_SHM", "SQLITE_IOERR_WRITE", "SQLITE_IOERR_FSYNC", "SQLITE_IOERR_TRUNCATE")
_ROOM_BYTES: Final = 1_000_000
"""With less room than this, a disk is as good as full (own choice)."""
_AGAIN: Final = frozenset({"40001", "40P01"})
"""What PostgreSQL says of two transactions that cannot both go on as they are: serialization failure, deadlock
(PostgreSQL documentation, appendix A, error codes; recalled)."""


def engine_of(address: Address) -> Engine:
    """Return what connects to an archive; nothing is opened yet."""
    if address.path is None:
        arguments = {
            "connect_timeout": 10,
            "application_name": "enfilade",
            "options": f"-c lock_timeout={WAIT_S * 1000:.0f}",
        }
        try:
            return create_engine(address.url, connect_args=arguments, pool_pre_ping=True, hide_parameters=True)
        except ImportError as error:
            raise Refused(
                f"{address}: what speaks to PostgreSQL is not installed", do="pip install 'enfilade[shared]'"
            ) from error
    # One connection stays open: what it has read stays at hand, and closing the last one would write the journal back.
    engine = create_engine(
        address.url, connect_args={"timeout": WAIT_S}, poolclass=QueuePool, pool_size=1, max_overflow=-1,
        hide_parameters=True,
    )  # fmt: skip
    event.listen(engine, "connect", _prepared)
    event.listen(engine, "begin", _begun)
    return engine


def _prepared(connection: Any, _: Any) -> None:
    # Transactions are begun by `_begun`, never by the driver's own guess.
    connection.isolation_level = None
    try:
        for setting in (
            "foreign_keys = ON",
            "journal_mode = WAL",  # readers go on while one writes
            "synchronous = FULL",  # what was kept is on the disk when `keep` returns
            "secure_delete = ON",  # what is forgotten is overwritten
            "trusted_schema = OFF",  # a file from elsewhere runs nothing
            "cell_size_check = ON",
            "cache_size = -65536",
            "wal_autocheckpoint = 4000",  # 16 MB: what many keeps change again is written back once
        ):
            connection.execute(f"PRAGMA {setting}").close()
    except BaseException:
        connection.close()  # Nobody else gets hold of it: a disk that is full, a file that is something else.
        raise


def _begun(connection: Connection) -> None:
    # A writer takes its turn at once: two that first read and then write would lock each other out.
    writes = connection.get_execution_options().get("writes")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def written(engine: Engine, address: Address, work: Callable[[Connection], _T]) -> _T:
    """Do some work in one transaction: all of it stands, or none.

    Raises:
        Conflict: Others wrote all the time; nothing was written.
        Refused: The archive cannot be written, or is damaged; nothing was written.
    """
    for turn in range(_TRIES):
        try:
            with in_words(address), engine.connect().execution_options(writes=True) as connection, connection.begin():
                return work(connection)
        except _Again as error:
            if turn == _TRIES - 1:
                raise Conflict(
                    f"{address}: others write to the archive all the time", do="try again; nothing was written"
                ) from error
            time.sleep(random.uniform(0.02, 0.1) * 2**turn)
    raise AssertionError  # pragma: no cover - the last turn returns or raises


class _Again(Exception):  # noqa: N818 - it never leaves this module
    """The whole transaction is to be tried again."""


@contextmanager
def in_words(address: Address) -> Iterator[None]:
    """Say in plain words what the database says; what it was asked is never repeated, since it holds private text."""
    try:
        yield
    except EnfiladeError:
        raise
    except (SQLAlchemyError, OSError, MemoryError) as error:
        _forget_connection(error)
        raise _worded(error, address) from error


def _forget_connection(error: BaseException) -> None:
    """Take out of the driver's errors the connection that they carry: with it, they would show its password."""
    left: list[BaseException | None] = [error]
    seen = set[int]()
    while left:
        one = left.pop()
        if one is not None and id(one) not in seen:
            seen.add(id(one))
            if getattr(one, "_pgconn", None) is not None:
                one._pgconn = None  # type: ignore[attr-defined]
            left += [getattr(one, "orig", None), one.__cause__, one.__context__]


def _worded(error: Exception, address: Address) -> Exception:
    cause = getattr(error, "orig", None) or error
    code = getattr(cause, "sqlstate", None) or ""
    text = str(cause).strip().splitlines()[0] if str(cause).strip() else type(cause).__name__
    low = text.lower()
    if code in _AGAIN:
        return _Again(text)
    if "database is locked" in low or code == "55P03":
        return Conflict(f"{address}: another writer holds the archive", do="try again in a moment; nothing was written")
    if (address.path is not None and ("full" in low or _no_room(cause, address.path))) or code == "53100":
        return Refused(f"{address}: the disk is full", do="make room and try again; nothing was written")
    if any(words in low for words in ("malformed", "not a database", "corrupt", "disk i/o error")):
        return Refused(f"{address}: the archive's file is damaged ({text})", do=when_damaged(address))
    if "readonly" in low or "read-only" in low or code in ("42501", "25006"):
        return Refused(f"{address}: you may read this archive but not write to it", do="ask whoever looks after it")
    if "unable to open" in low:
        return Refused(f"{address}: the archive's file cannot be opened", do="check the path, and who may write there")
    if address.shared and (isinstance(error, DBAPIError) and (error.connection_invalidated or not code)):
        return Refused(
            f"{address}: the database cannot be reached ({text[:200]})",
            do="check that its server runs and that you may connect; nothing was written unless you were told so",
        )
    return Refused(f"{address}: the database refused ({text[:200]})", do="nothing was written")


def _no_room(cause: BaseException, path: Path) -> bool:
    """Tell whether an error of a file that could not be written comes of a disk that is full.

    Where there is no room even for the index of its journal, SQLite says that the disk could not be read or written
    (SQLite, `Result and Error Codes`, SQLITE_IOERR_SHMSIZE and its like).
    """
    with suppress(OSError):
        name = getattr(cause, "sqlite_errorname", "")
        return name.startswith(_UNWRITTEN) and disk_usage(path.parent).free < _ROOM_BYTES
    return False
