"""What can be searched, brought to the state of a new version: rows that no longer stand are closed, not removed."""

from __future__ import annotations

import json
import re
import unicodedata
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import fields
from operator import attrgetter
from typing import Any, Final

from sqlalchemy import Connection, Table, bindparam, func, select, update

from enfilade.archive import tables as t
from enfilade.archive.bulk import add_rows, plain_text
from enfilade.archive.figures import Figure
from enfilade.archive.notes import Note

__all__ = ["AGES", "folded", "index", "marks_of_age", "searched", "words_in"]

_RUN: Final = re.compile(r"[^\W_]+")
_BLANKS: Final = {sign: " " for sign in range(128) if not chr(sign).isalnum()}
_WORD: Final = re.compile(r"[^\W\d_][^\W_]{1,39}")
"""What goes into the vocabulary: words, not figures."""
AGES: Final = (("#", 16_384), ("##", 262_144))
"""How such a word begins, and how many rows have it in common (own choice)."""
_NOTE: Final = tuple(field.name for field in fields(Note))
_FIGURE: Final = tuple(field.name for field in fields(Figure))
_BEFORE: Final = (("released", "boolean"), ("project", "bigint"), ("since", "bigint"))
_FIGURE_TYPES: Final = tuple((name, "double precision" if name == "value" else "text") for name in _FIGURE)
_NOTE_TYPES: Final = tuple((name, "text") for name in _NOTE)


def folded(text: str) -> str:
    """Return a text in small letters without accents, as both databases search it.

    >>> folded("Soufflé dish")
    'souffle dish'
    """
    if text.isascii():
        return text.lower()
    plain = unicodedata.normalize("NFKD", text)
    return "".join(sign for sign in plain if not unicodedata.combining(sign)).casefold()


def searched(text: str) -> str:
    """Return the words of a text, parted by single blanks: no sign is left that a database reads in its own way.

    >>> searched("Oak/larch: 36-in island.")
    'oak larch 36 in island'
    """
    if text.isascii():
        return " ".join(text.lower().translate(_BLANKS).split())
    return " ".join(_RUN.findall(folded(text)))


def words_in(text: str) -> set[str]:
    """Return the words of a text that belong into the vocabulary; numbers do not."""
    return {word for word in searched(text).split() if _WORD.fullmatch(word)}


def marks_of_age(id: str) -> str:
    """Return the two words by which PostgreSQL's index tells new rows from old ones: no text holds such words.

    Args:
        id: How the number of the row, or of one just before it, is found.
    """
    words = ", ".join(f"'{sign}' || {id} / {rows}" for sign, rows in AGES)
    return f"array_to_tsvector(ARRAY[{words}])"


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
    head = (released, project, number)
    new_notes = _brought(connection, t.notes, _NOTE, project, number, notes)
    plain = [searched(row[-1]) for row in new_notes]
    _add_notes(connection, head, new_notes, plain)
    new_figures = _brought(connection, t.figures, _FIGURE, project, number, figures)
    add_rows(connection, "figures", (*_BEFORE, *_FIGURE_TYPES), [(*head, *row) for row in new_figures])
    _add_words(connection, released, {word for word in set(" ".join(plain).split()) if _WORD.fullmatch(word)})


def _add_words(connection: Connection, released: bool, words: Collection[str]) -> None:
    # In one order, so that of two writers who add the same words one waits for the other, and never both.
    ordered = sorted(words)
    if connection.dialect.name == "sqlite":
        statement = "INSERT OR IGNORE INTO words (released, word) SELECT ?, value FROM json_each(?)"
        connection.exec_driver_sql(statement, (released, json.dumps(ordered)))
        return
    columns = (("released", "boolean"), ("word", "text"))
    add_rows(connection, "words", columns, [(released, word) for word in ordered], once=True)


def _brought(
    connection: Connection, table: Table, names: tuple[str, ...], project: int, number: int, now: Sequence[Any]
) -> list[tuple[Any, ...]]:
    """Close the rows that no longer stand, and return what is new."""
    values = attrgetter(*names)
    rows = [values(one) for one in now]
    if table is t.notes:  # of the rest, no value is free text
        rows = [(*row[:-1], plain_text(row[-1])) for row in rows]
    if number == 1:
        return rows
    left = Counter(rows)
    query = select(table.c.id, *(table.c[name] for name in names)).where(
        table.c.project == project, table.c.until.is_(None)
    )
    gone = []
    for id, *row in connection.execute(query):
        if left[tuple(row)] > 0:
            left[tuple(row)] -= 1
        else:
            gone.append(id)
    if gone:
        close = update(table).where(table.c.id == bindparam("row")).values(until=number - 1)
        connection.execute(close, [{"row": id} for id in gone])
    return list(left.elements())


def _add_notes(
    connection: Connection, head: tuple[bool, int, int], rows: Sequence[tuple[Any, ...]], plain: Sequence[str]
) -> None:
    columns = (*_BEFORE, *_NOTE_TYPES)
    if connection.dialect.name == "postgresql":
        made = f"search = to_tsvector('english', folded) || {marks_of_age('(SELECT last_value FROM notes_id_seq)')}"
        given = [(*head, *row, words) for row, words in zip(rows, plain, strict=True)]
        add_rows(connection, "notes", (*columns, ("folded", "text")), given, made=made)
        return
    first = (connection.execute(select(func.max(t.notes.c.id))).scalar() or 0) + 1
    numbered = [(*head, *row, first + n) for n, row in enumerate(rows)]
    add_rows(connection, "notes", (*columns, ("id", "bigint")), numbered)
    texts = [(first + n, row[-1]) for n, row in enumerate(rows)]
    add_rows(connection, "notes_text", (("rowid", "bigint"), ("text", "text")), texts)
