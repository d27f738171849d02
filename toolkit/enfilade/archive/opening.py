"""An archive made ready: made when it is new, upgraded when it is of an earlier format, refused when of a newer one."""

from __future__ import annotations

import contextlib
import os
import sqlite3
import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, Engine, insert, inspect, select, text, update

from enfilade.archive import tables as t
from enfilade.archive.address import Address, copy_of, when_damaged
from enfilade.archive.engine import WAIT_S, in_words, written
from enfilade.errors import NotFound, Refused

__all__ = ["UPGRADES", "prepared"]

UPGRADES: Final[dict[int, Callable[[Connection], None]]] = {}
"""`UPGRADES[n]` turns an archive of format `n` into one of format `n + 1`. Format 1 is the first."""

_MARK: Final = 0x656E6669  # "enfi": by which SQLite's own header says whose file it is
_HEAD: Final = b"SQLite format 3\x00"
"""How each file of SQLite begins (SQLite, `Database File Format`, section 1.3)."""
_MAKING: Final = 7_239_114_001
"""Number of the lock under which a shared archive is made; any number that no one else uses (own choice)."""


def prepared(engine: Engine, address: Address, *, create: bool, released: bool) -> tuple[str, bool]:
    """Return the id of an archive, and whether only copies for students are seen in it.

    Raises:
        NotFound, Refused: As for `Store`.
    """
    if address.path is not None:
        _refuse_odd_file(address, create=create)
    with in_words(address):
        known = _known(engine)
    if not known:
        if not create:
            raise NotFound(f"{address} holds no archive yet", do="`enfilade keep` makes it")
        written(engine, address, lambda connection: _made(connection, address, released))
        with in_words(address):
            known = _known(engine)
    if _format(known.get("format", ""), address) < t.FORMAT:
        written(engine, address, _upgraded)
    with in_words(address), engine.connect() as connection:
        return known["id"], known["holds"] == "released" or not _may_see_all(connection)


def _format(words: str, address: Address) -> int:
    number = int(words) if words.isascii() and words.isdigit() and len(words) < 10 else 0
    if number > t.FORMAT:
        raise Refused(
            f"{address}: the archive is of format {number}, which is newer than this version reads",
            expected=f"at most {t.FORMAT}", do="update enfilade; nothing was changed",
        )  # fmt: skip
    if number < 1:
        raise Refused(f"{address}: this is no archive of enfilade (it bears no format)", do="choose another file")
    return number


def _known(engine: Engine) -> dict[str, str]:
    with engine.connect() as connection, connection.begin():
        if not inspect(connection).has_table("info"):
            return {}
        return {row.key: row.value for row in connection.execute(select(t.info))}


def _refuse_odd_file(address: Address, *, create: bool) -> None:
    path = address.path
    assert path is not None
    try:
        if path.is_dir():
            raise Refused(f"{path} is a folder", expected="the path of the archive's file")
        there = path.exists()
        if not there and create:
            path.parent.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise Refused(f"{str(path)!r} cannot be used ({error})", do="choose another path") from error
    if not there and not create:
        raise NotFound(f"there is no archive at {path} yet", do="`enfilade keep` makes it")
    if there and path.stat().st_size:
        _refuse_other_content(path, address)


def _refuse_other_content(path: Path, address: Address) -> None:
    """Look at a file without writing to it: opening it as an archive does, and it may be somebody else's.

    What cannot be looked at is left to whoever opens it.
    """
    with contextlib.suppress(OSError), path.open("rb") as stream:
        head = stream.read(len(_HEAD))
        if head != _HEAD:
            if os.path.lexists(copy_of(path)):  # It was an archive.
                raise Refused(f"{path}: the archive's file is damaged (its head is gone)", do=when_damaged(address))
            raise Refused(f"{path} is a file of something else", expected="an archive, or no file yet")
    with contextlib.suppress(sqlite3.Error):
        connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, timeout=WAIT_S)
        with contextlib.closing(connection):
            [mark] = connection.execute("PRAGMA application_id").fetchone()
            tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
            if not tables and not mark:
                return  # The making of it was broken off.
            if mark != _MARK or "info" not in tables:
                raise Refused(f"{path} is a database of something else", expected="an archive, or no file yet")
            known = dict(connection.execute("SELECT key, value FROM info"))
            _format(str(known.get("format", "")), address)


def _made(connection: Connection, address: Address, released: bool) -> None:
    _alone(connection)
    tables = inspect(connection).get_table_names()
    if "info" in tables:
        return
    if address.path is not None and tables:
        raise Refused(f"{address.path} is a database of something else", expected="an archive, or no file yet")
    t.metadata.create_all(connection)
    for statement in _OF_ITS_OWN[connection.dialect.name]:
        connection.execute(text(statement))
    connection.execute(
        insert(t.info),
        [
            {"key": "format", "value": str(t.FORMAT)},
            {"key": "id", "value": uuid.uuid4().hex},
            {"key": "holds", "value": "released" if released else "all"},
        ],
    )


def _alone(connection: Connection) -> None:
    """Of two who open a new or an earlier archive at once the second waits, and finds it made or upgraded."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("SELECT pg_advisory_xact_lock(:n)"), {"n": _MAKING})


def _upgraded(connection: Connection) -> None:
    _alone(connection)
    number = int(connection.execute(select(t.info.c.value).where(t.info.c.key == "format")).scalar_one())
    for step in range(number, t.FORMAT):
        UPGRADES[step](connection)
    connection.execute(update(t.info).where(t.info.c.key == "format").values(value=str(t.FORMAT)))


def _may_see_all(connection: Connection) -> bool:
    """Tell whether whoever is connected looks after the archive, or may read what is released and no more."""
    if connection.dialect.name != "postgresql":
        return True
    query = text("SELECT pg_has_role(current_user, relowner, 'USAGE') FROM pg_class WHERE oid = 'projects'::regclass")
    return bool(connection.execute(query).scalar())


_COVERED: Final = (
    "projects", "versions", "pieces", "files", "version_files", "notes", "figures", "words", "answers",
    "lessons", "lesson_facets",
)  # fmt: skip
_OF_ITS_OWN: Final = {
    "sqlite": (
        f"PRAGMA application_id = {_MARK}",
        "CREATE VIRTUAL TABLE notes_text USING fts5("
        "text, content='notes', content_rowid='id', columnsize=0, tokenize='porter unicode61 remove_diacritics 2')",
        # Parts of the index are merged a little at each keep, and later: half the writing, and no keep that waits long.
        "INSERT INTO notes_text (notes_text, rank) VALUES ('automerge', 8)",
        "INSERT INTO notes_text (notes_text, rank) VALUES ('crisismerge', 64)",
    ),
    "postgresql": (
        "ALTER TABLE notes ADD COLUMN search tsvector",
        # So many words are counted that a rare one is known for rare, and asked for at once.
        "ALTER TABLE notes ALTER COLUMN search SET STATISTICS 500",
        # What was kept last waits in a list that every search reads through: a short one [kB].
        "CREATE INDEX notes_search ON notes USING gin (search) WITH (gin_pending_list_limit = 512)",
        *(f"ALTER TABLE {name} ENABLE ROW LEVEL SECURITY" for name in _COVERED),
        *(f"CREATE POLICY released ON {name} FOR SELECT USING (released)" for name in _COVERED),
        "ALTER TABLE info ENABLE ROW LEVEL SECURITY",
        "CREATE POLICY known ON info FOR SELECT USING (key IN ('format', 'id', 'holds'))",
    ),
}
"""What each database has of its own: the index of its full text search, and who may read which rows."""
