"""What can be searched, brought to the state of a new version: rows that no longer stand are closed, not removed."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import astuple, fields
from typing import Any, Final

from sqlalchemy import Connection, Table, bindparam, func, insert, select, text, update

from enfilade.archive import tables as t
from enfilade.archive.contents import insert_once
from enfilade.archive.notes import Figure, Note

__all__ = ["folded", "index", "words_in"]

_WORD: Final = re.compile(r"[^\W_]{2,40}")
_MOST_ROWS: Final = 500


def folded(text: str) -> str:
    """Return a text in small letters without accents, as both databases search it.

    >>> folded("Soufflé dish")
    'souffle dish'
    """
    plain = unicodedata.normalize("NFKD", text)
    return "".join(sign for sign in plain if not unicodedata.combining(sign)).casefold()


def words_in(text: str) -> set[str]:
    """Return the words of a text that belong into the vocabulary; numbers do not."""
    return {word for word in _WORD.findall(folded(text)) if not word.isdigit()}


def index(
    connection: Connection, project: int, number: int, notes: Sequence[Note], figures: Sequence[Figure], released: bool
) -> None:
    """Bring what can be searched of a project to the state of its new version.

    Args:
        project: Row of the project.
        number: Of the new version.
        notes, figures: All that can be found in it.
        released: It is a copy for students.
    """
    new_notes = _brought(connection, t.notes, Note, project, number, notes)
    _add_notes(connection, project, number, new_notes, released)
    new_figures = _brought(connection, t.figures, Figure, project, number, figures)
    if new_figures:
        connection.execute(insert(t.figures), [_row(one, project, number, released) for one in new_figures])
    words = sorted({word for note in new_notes for word in words_in(note.text)})
    if words:
        connection.execute(insert_once(connection, t.words), [{"released": released, "word": word} for word in words])


def _brought(
    connection: Connection, table: Table, kind: type[Note] | type[Figure], project: int, number: int, now: Sequence[Any]
) -> list[Any]:
    """Close the rows that no longer stand, and return what is new."""
    names = [field.name for field in fields(kind)]
    query = select(table.c.id, *(table.c[name] for name in names)).where(
        table.c.project == project, table.c.until.is_(None)
    )
    left = Counter(map(astuple, now))
    gone = []
    for row in connection.execute(query):
        if left[tuple(row[1:])] > 0:
            left[tuple(row[1:])] -= 1
        else:
            gone.append(row[0])
    if gone:
        close = update(table).where(table.c.id == bindparam("row")).values(until=number - 1)
        connection.execute(close, [{"row": id} for id in gone])
    return [kind(*one) for one in left.elements()]


def _row(one: Note | Figure, project: int, number: int, released: bool) -> dict[str, Any]:
    plain = {field.name: getattr(one, field.name) for field in fields(one)}
    return {**plain, "project": project, "since": number, "released": released}


def _add_notes(connection: Connection, project: int, number: int, notes: Iterable[Note], released: bool) -> None:
    rows = [_row(one, project, number, released) for one in notes]
    if not rows:
        return
    if connection.dialect.name == "postgresql":
        adding = text(
            "INSERT INTO notes (released, project, kind, record, space, use, state, rule, text, since, search) VALUES "
            "(:released, :project, :kind, :record, :space, :use, :state, :rule, :text, :since, "
            "to_tsvector('english', :folded))"
        )
        connection.execute(adding, [{**row, "folded": folded(row["text"])} for row in rows])
        return
    first = (connection.execute(select(func.max(t.notes.c.id))).scalar() or 0) + 1
    numbered = [{**row, "id": first + n} for n, row in enumerate(rows)]
    connection.execute(insert(t.notes), numbered)
    connection.execute(
        text("INSERT INTO notes_text (rowid, text) VALUES (:id, :text)"),
        [{"id": row["id"], "text": row["text"]} for row in numbered],
    )
