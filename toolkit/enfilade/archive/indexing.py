"""What can be searched, brought to the state of a new version: rows that no longer stand are closed, not removed."""

from __future__ import annotations

import json
import re
import unicodedata
from collections import Counter
from collections.abc import Collection, Sequence
from typing import Any, Final

from sqlalchemy import Connection, Table, bindparam, func, select, update

from enfilade.archive import tables as t
from enfilade.archive.bulk import add_rows, plain_text
from enfilade.archive.figures import Figure
from enfilade.archive.notes import Note

__all__ = ["AGES", "folded", "index", "marks_of_age", "searched", "words_in"]

_RUN: Final = re.compile(r"[^\W_]+")
_BLANKS: Final = "".join(chr(sign).lower() if chr(sign).isalnum() else " " for sign in range(128))
_BETWEEN: Final = "\x00"
"""What stands between texts that are taken together; none holds it (see `plain_text`)."""
_BLANKS_WITHIN: Final = _BETWEEN + _BLANKS[1:]
_LONGEST_WORD: Final = 40
"""Longer ones are no words that somebody would type again (own choice)."""
AGES: Final = (("#", 16_384), ("##", 262_144))
"""How such a word begins, and how many rows have it in common (own choice)."""
_BEFORE: Final = (("released", "boolean"), ("project", "bigint"), ("since", "bigint"))
_FIGURE_TYPES: Final = tuple((name, "double precision" if name == "value" else "text") for name in Figure._fields)
_NOTE_TYPES: Final = tuple((name, "text") for name in Note._fields)


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
        return " ".join(text.translate(_BLANKS).split())
    return " ".join(_RUN.findall(folded(text)))


def _all_searched(texts: Sequence[str]) -> list[str]:
    """Return the words of each text as `searched` does, but for the number of blanks; many at once are quicker."""
    together = _BETWEEN.join(texts)
    if together.isascii():
        return together.translate(_BLANKS_WITHIN).split(_BETWEEN) if texts else []
    return [searched(text) for text in texts]


def words_in(*texts: str) -> set[str]:
    """Return the words of texts that belong into the vocabulary; numbers do not."""
    together = " ".join(texts)
    words = set(together.translate(_BLANKS).split() if together.isascii() else _RUN.findall(folded(together)))
    return {word for word in words if 1 < len(word) <= _LONGEST_WORD and not word[0].isdecimal()}


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
    said = [note if (text := plain_text(note.text)) == note.text else note._replace(text=text) for note in notes]
    new_notes = _brought(connection, t.notes, Note._fields, project, number, said)
    _add_notes(connection, head, new_notes)
    new_figures = _brought(connection, t.figures, Figure._fields, project, number, figures)
    add_rows(connection, "figures", (*_BEFORE, *_FIGURE_TYPES), [(*head, *row) for row in new_figures])
    _add_words(connection, released, words_in(*(row[-1] for row in new_notes)))


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
    connection: Connection,
    table: Table,
    names: tuple[str, ...],
    project: int,
    number: int,
    now: Sequence[tuple[Any, ...]],
) -> list[tuple[Any, ...]]:
    """Close the rows that no longer stand, and return what is new."""
    if number == 1:
        return list(now)
    left = Counter(now)
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


def _add_notes(connection: Connection, head: tuple[bool, int, int], rows: Sequence[tuple[Any, ...]]) -> None:
    columns = (*_BEFORE, *_NOTE_TYPES)
    if connection.dialect.name == "postgresql":
        made = f"search = to_tsvector('english', folded) || {marks_of_age('(SELECT last_value FROM notes_id_seq)')}"
        plain = _all_searched([row[-1] for row in rows])
        given = [(*head, *row, words) for row, words in zip(rows, plain, strict=True)]
        add_rows(connection, "notes", (*columns, ("folded", "text")), given, made=made)
        return
    first = (connection.execute(select(func.max(t.notes.c.id))).scalar() or 0) + 1
    add_rows(
        connection, "notes", (*columns, ("id", "bigint")), [(*head, *row, first + n) for n, row in enumerate(rows)]
    )
    texts = [(first + n, row[-1]) for n, row in enumerate(rows)]
    add_rows(connection, "notes_text", (("rowid", "bigint"), ("text", "text")), texts)
