"""What works of the studio's archive on this machine. Nothing is made, and no password is shown: none is ever known."""

from __future__ import annotations

import importlib.metadata
import os
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from enfilade.errors import EnfiladeError, NotFound

if TYPE_CHECKING:
    from enfilade.archive.address import Address
    from enfilade.archive.store import Store

__all__ = ["Tried", "archive_tried"]


class Tried(NamedTuple):
    """One thing that was tried: what, whether it works, whether it is needed, and in words."""

    what: str
    works: bool
    needed: bool
    words: str


def archive_tried() -> tuple[Tried, ...]:
    """Try what the archive relies on."""
    from enfilade.archive.address import VARIABLE, address_of

    named = bool(os.environ.get(VARIABLE, "").strip())
    try:
        address = address_of()
    except (EnfiladeError, RuntimeError) as error:
        return _full_text(), _driver(needed=False), Tried("archive", False, named, str(error))
    return _full_text(), _driver(needed=address.shared), _archive(address, needed=named)


def _full_text() -> Tried:
    import sqlite3

    connection = sqlite3.connect(":memory:")
    try:
        connection.execute("CREATE VIRTUAL TABLE words USING fts5(text, tokenize='porter unicode61')")
    except sqlite3.OperationalError as error:
        return Tried("database", False, True, f"SQLite {sqlite3.sqlite_version} without full text search ({error})")
    finally:
        connection.close()
    return Tried("database", True, True, f"SQLite {sqlite3.sqlite_version} with full text search")


def _driver(*, needed: bool) -> Tried:
    try:
        return Tried("psycopg", True, needed, importlib.metadata.version("psycopg"))
    except importlib.metadata.PackageNotFoundError:
        return Tried("psycopg", False, needed, "for an archive in PostgreSQL: pip install 'enfilade[shared]'")


def _archive(address: Address, *, needed: bool) -> Tried:
    from enfilade.archive.store import Store

    try:
        if address.path is not None and not address.path.exists():
            return _not_made(address, address.path, needed=needed)
        with Store(address, create=False) as store:
            works, words = _may_write(store)
            many = len(store.projects())
            count = "1 project" if many == 1 else f"{many} projects"
            return Tried("archive", works, needed, f"{address}: {count}, {words}")
    except NotFound:
        return Tried("archive", True, needed, f"{address}: can be reached, and holds no archive yet")
    except (EnfiladeError, OSError, ImportError) as error:
        return Tried("archive", False, needed, str(error))


def _not_made(address: Address, path: Path, *, needed: bool) -> Tried:
    folder = next((one for one in path.parents if one.exists()), path.parent)
    works = folder.is_dir() and os.access(folder, os.W_OK)
    words = "not made yet, and can be" if works else f"not made yet, and {folder} cannot be written"
    return Tried("archive", works, needed, f"{address}: {words}")


def _may_write(store: Store) -> tuple[bool, str]:
    """Tell whether an archive may be written, without writing."""
    from sqlalchemy import text

    path = store.address.path
    if path is not None:
        works = os.access(path, os.W_OK) and os.access(path.parent, os.W_OK)
    elif store.released:
        return True, "of which you may read what is released for students"
    else:
        with store.reading() as connection:
            works = bool(connection.execute(text("SELECT has_table_privilege('versions', 'INSERT')")).scalar())
    return works, "can be written" if works else "can be read and not written"
