"""An archive made ready: made when it is new, upgraded when it is of an earlier format, refused when of a newer one."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from typing import Final

from sqlalchemy import Connection, Engine, insert, inspect, select, text, update

from enfilade.archive import tables as t
from enfilade.archive.address import Address
from enfilade.archive.engine import in_words, written
from enfilade.errors import NotFound, Refused

__all__ = ["UPGRADES", "prepared"]

UPGRADES: Final[dict[int, Callable[[Connection], None]]] = {}
"""`UPGRADES[n]` turns an archive of format `n` into one of format `n + 1`. Format 1 is the first."""

_MARK: Final = 0x656E6669  # "enfi": by which SQLite's own header says whose file it is
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
    number = int(known["format"]) if known.get("format", "").isdigit() else 0
    if number > t.FORMAT:
        raise Refused(
            f"{address}: the archive is of format {number}, which is newer than this version reads",
            expected=f"at most {t.FORMAT}", do="update enfilade; nothing was changed",
        )  # fmt: skip
    if number < 1:
        raise Refused(f"{address}: this is no archive of enfilade (it bears no format)", do="choose another file")
    if number < t.FORMAT:
        written(engine, address, _upgraded)
    with in_words(address), engine.connect() as connection:
        return known["id"], known["holds"] == "released" or not _may_see_all(connection)


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


def _made(connection: Connection, address: Address, released: bool) -> None:
    if connection.dialect.name == "postgresql":
        # Two who open a new archive at once: the second waits, and finds it made.
        connection.execute(text("SELECT pg_advisory_xact_lock(:n)"), {"n": _MAKING})
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


def _upgraded(connection: Connection) -> None:
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
)  # fmt: skip
_OF_ITS_OWN: Final = {
    "sqlite": (
        f"PRAGMA application_id = {_MARK}",
        "CREATE VIRTUAL TABLE notes_text USING fts5("
        "text, content='notes', content_rowid='id', tokenize='porter unicode61 remove_diacritics 2')",
    ),
    "postgresql": (
        "ALTER TABLE notes ADD COLUMN search tsvector",
        "CREATE INDEX notes_search ON notes USING gin (search)",
        *(f"ALTER TABLE {name} ENABLE ROW LEVEL SECURITY" for name in _COVERED),
        *(f"CREATE POLICY released ON {name} FOR SELECT USING (released)" for name in _COVERED),
    ),
}
"""What each database has of its own: the index of its full text search, and who may read which rows."""
