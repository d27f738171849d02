"""Texts found by each database's own search: the newest few thousand at most, and how many there are about."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from sqlalchemy import Connection, text

from enfilade.archive.finding.asked import Term
from enfilade.archive.indexing import AGES

__all__ = ["MOST", "Filters", "Row", "Searched", "planned_anew", "stands", "texts"]

MOST: Final = 600
"""So many are ranked; of more, the newest (own choice: it takes about 6 ms)."""
_MOST_LOOKED_AT: Final = 20_000
"""So many that hold the words are looked at for those that pass the filters."""
_MOST_AGES: Final = 32
_FEW: Final = 1500
"""Up to so many PostgreSQL is asked for all of them; of more, those of a window of the newest rows (own choice, by
measuring a million decisions)."""
_COLUMNS: Final = "n.id, n.project, n.kind, n.record, n.space, n.use, n.state, n.rule, n.text, n.since, n.until"


@dataclass(frozen=True)
class Filters:
    """What the rows must be, beside the words that they hold.

    Attributes:
        released: Of the copies for students.
        kinds, use, state: Empty: any.
        projects: Rows of the projects; None: any.
        past: Also what stands no more.
    """

    released: bool
    kinds: tuple[str, ...] = ()
    use: str = ""
    state: str = ""
    projects: tuple[int, ...] | None = None
    past: bool = False

    def sql(self) -> tuple[str, dict[str, Any]]:
        """Return conditions on `n`, and their values."""
        values: dict[str, Any] = {"released": self.released}
        parts = ["n.released = :released"]
        for name in ("use", "state"):
            if getattr(self, name):
                parts.append(f"n.{name} = :{name}")
                values[name] = getattr(self, name)
        for name, several in (("kind", self.kinds), ("project", self.projects)):
            if several or (several == () and name == "project"):
                marks = [f"{name}_{i}" for i in range(len(several or ()))]
                parts.append(f"n.{name} IN ({', '.join(':' + mark for mark in marks)})" if marks else "1 = 0")
                values |= dict(zip(marks, several or (), strict=True))
        if not self.past:
            parts.append("n.until IS NULL")
        return " AND ".join(parts), values


@dataclass(frozen=True, slots=True)
class Row:
    """A text that was found, as it stands in the archive."""

    id: int
    project: int
    kind: str
    record: str
    space: str
    use: str
    state: str
    rule: str
    text: str
    since: int
    until: int | None


@dataclass(frozen=True)
class Searched:
    """Rows, the newest first; how many there are, and whether that is an estimate."""

    rows: list[Row]
    total: int
    about: bool


def texts(connection: Connection, terms: Sequence[Term], filters: Filters, most: int = MOST) -> Searched:
    """Return the texts in which all terms stand.

    Args:
        terms: At least one of them not to be missing.
        filters: What else must hold.
        most: How many rows at most; of more, the newest.
    """
    search = _in_postgresql if connection.dialect.name == "postgresql" else _in_sqlite
    return search(connection, terms, filters, most)


def stands(connection: Connection, word: str) -> bool:
    """Tell whether a word stands somewhere in any form that the search takes for the same.

    One of two letters has no form but its own: one database's stemmer makes `ga` of `gas`, the other's does not.
    """
    if len(word) == 2:
        return False  # The vocabulary has it, if it stands.
    if connection.dialect.name != "postgresql":
        query = text("SELECT 1 FROM notes_text WHERE notes_text MATCH :q LIMIT 1")
        return connection.execute(query, {"q": f'"{word}"'}).first() is not None
    # For one row the planner would rather read the whole table than ask the index: it hopes to meet the row at once.
    connection.execute(text("SET LOCAL enable_seqscan = off"))
    query = text("SELECT 1 FROM notes WHERE search @@ plainto_tsquery('english', :q) LIMIT 1")
    found = connection.execute(query, {"q": word}).first() is not None
    connection.execute(text("SET LOCAL enable_seqscan = on"))
    return found


def _in_sqlite(connection: Connection, terms: Sequence[Term], filters: Filters, most: int) -> Searched:
    where, values = filters.sql()
    lowest, highest = _span(connection, filters)
    query = text(
        "SELECT " + _COLUMNS + " FROM (SELECT rowid AS id FROM notes_text WHERE notes_text MATCH :match "
        "AND rowid BETWEEN :lowest AND :highest ORDER BY rowid DESC LIMIT :looked) m "
        f"CROSS JOIN notes n ON n.id = m.id WHERE {where} LIMIT :most"
    )
    values |= {"match": _match(terms), "lowest": lowest, "highest": highest, "looked": _MOST_LOOKED_AT + 1}
    rows = [Row(*row) for row in connection.execute(query, {**values, "most": most + 1}).all()]
    if len(rows) > most:
        return _estimated(rows[:most], lowest, highest)
    last = connection.execute(
        text(
            "SELECT rowid FROM notes_text WHERE notes_text MATCH :match AND rowid BETWEEN :lowest AND :highest "
            "ORDER BY rowid DESC LIMIT 1 OFFSET :skip"
        ),
        {**{name: values[name] for name in ("match", "lowest", "highest")}, "skip": _MOST_LOOKED_AT},
    ).scalar()
    if last is None:
        return Searched(rows, len(rows), about=False)
    seen = (highest - last + 1) / max(highest - lowest + 1, 1)
    return Searched(rows, max(len(rows), round(len(rows) / max(seen, 1e-9))), about=True)


def _match(terms: Sequence[Term]) -> str:
    """Return terms as FTS5 reads them. Each word is letters and digits alone, and stands in quotes."""

    def way(words: tuple[str, ...]) -> str:
        return '"' + " ".join(words) + '"'

    wanted = ["(" + " OR ".join(map(way, term.ways)) + ")" for term in terms if not term.without]
    unwanted = ["(" + " OR ".join(map(way, term.ways)) + ")" for term in terms if term.without]
    return "(" + " AND ".join(wanted) + ")" + "".join(f" NOT {one}" for one in unwanted)


def _span(connection: Connection, filters: Filters) -> tuple[int, int]:
    """Return the first and last row that need looking at."""
    if filters.projects:
        marks = ", ".join(f":p{i}" for i in range(len(filters.projects)))
        where, values = f" WHERE project IN ({marks})", {f"p{i}": p for i, p in enumerate(filters.projects)}
    else:
        where, values = "", {}
    # Each in a query of its own: only then SQLite takes it from the index.
    ends = ", ".join(f"(SELECT {end}(id) FROM notes{where})" for end in ("min", "max"))
    row = connection.execute(text(f"SELECT {ends}"), values).one()
    return int(row[0] or 0), int(row[1] or 0)


def _estimated(rows: list[Row], lowest: int, highest: int) -> Searched:
    seen = highest - rows[-1].id + 1
    total = len(rows) * (highest - lowest + 1) / max(seen, 1)
    return Searched(rows, max(len(rows) + 1, round(total)), about=True)


def _in_postgresql(connection: Connection, terms: Sequence[Term], filters: Filters, most: int) -> Searched:
    planned_anew(connection)
    asked, values = _tsquery(terms)
    where, more = filters.sql()
    values |= more
    query = f"SELECT {_COLUMNS} FROM notes n WHERE n.search @@ ({asked}) AND {where}"
    few = f"{query} ORDER BY n.id DESC LIMIT :most"
    if (number := _rows_expected(connection, query, values)) <= _FEW:
        # Sorting by something that is no index keeps the planner from walking all rows from the newest on.
        few = f"SELECT * FROM ({query} OFFSET 0) n ORDER BY n.id DESC LIMIT :most"
        rows = [Row(*row) for row in connection.execute(text(few), {**values, "most": most + 1}).all()]
        if len(rows) <= most:
            return Searched(rows, len(rows), about=False)
        return Searched(rows[:most], max(number, most + 1), about=True)
    lowest, highest = _span(connection, filters)
    width = max(5000, int(1.5 * most * (highest - lowest + 1) / number))
    while True:
        floor = highest - width
        ages = _ages(max(floor, lowest), highest) if floor >= lowest else ""
        windowed = text(
            f"SELECT * FROM (SELECT {_COLUMNS} FROM notes n WHERE n.search @@ (({asked}){ages}) AND {where} "
            "AND n.id > :floor OFFSET 0) n ORDER BY n.id DESC LIMIT :most"
        )
        rows = [Row(*row) for row in connection.execute(windowed, {**values, "floor": floor, "most": most + 1})]
        if len(rows) > most:
            return _estimated(rows[:most], lowest, highest)
        if floor < lowest:
            return Searched(rows, len(rows), about=False)
        width *= 4


def planned_anew(connection: Connection) -> None:
    """Have PostgreSQL plan each question for what is asked, and not translate it for a machine, which takes longer.

    A plan that is made once for all words would be made for rare ones.
    """
    if connection.dialect.name == "postgresql":
        connection.execute(
            text("SELECT set_config('plan_cache_mode', 'force_custom_plan', true), set_config('jit', 'off', true)")
        )


def _ages(floor: int, highest: int) -> str:
    """Return the condition of being newer than a row in words of the index; empty where that takes too many words."""
    for sign, rows in AGES:
        # A row bears the age of one just before it.
        several = range(max(0, floor // rows - 1), highest // rows + 1)
        if len(several) <= _MOST_AGES:
            return " && '" + " | ".join(f"''{sign}{age}''" for age in several) + "'::tsquery"
    return ""


def _tsquery(terms: Sequence[Term]) -> tuple[str, dict[str, Any]]:
    """Return terms as a `tsquery`; every word is a value, none is part of the statement."""
    values: dict[str, Any] = {}
    parts = []
    for term in terms:
        ways = []
        for way in term.ways:
            mark = f"q{len(values)}"
            values[mark] = " ".join(way)
            ways.append(f"phraseto_tsquery('english', :{mark})")
        parts.append(("!! " if term.without else "") + "(" + " || ".join(ways) + ")")
    wanted = [part for part, term in zip(parts, terms, strict=True) if not term.without]
    unwanted = [part for part, term in zip(parts, terms, strict=True) if term.without]
    return " && ".join([*wanted, *unwanted]), values


def _rows_expected(connection: Connection, query: str, values: dict[str, Any]) -> int:
    """Return how many rows PostgreSQL expects, from its statistics."""
    plan: Any = connection.execute(text(f"EXPLAIN (FORMAT JSON) {query}"), values).scalar()
    plan = json.loads(plan) if isinstance(plan, str) else plan
    return int(plan[0]["Plan"]["Plan Rows"])
