"""Lessons of other projects that may bear on a house, looked up in bounded time."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from sqlalchemy import Connection, Row, Select, select, text

from enfilade.archive import tables as t
from enfilade.archive.lessons.lesson import Lesson, lesson_from

__all__ = ["Found", "lessons_like", "lessons_lost"]

_NEWEST: Final = 300
"""So many lessons are looked at for one facet, the newest (own choice: what many lessons share says little; what says
much is rare, and found whole)."""
_MOST_FACETS: Final = 600
"""So many facets of a house are looked up (own choice: it bounds the time; the demo house has some 200)."""
_AT_ONCE: Final = 100
"""So many facets are asked for in one statement (SQLite joins at most 500 by UNION ALL, its documentation, "Limits";
recalled)."""
_MOST: Final = 1500
"""So many lessons are compared by their words (own choice: it bounds the time, and 100 of them are told)."""
_WEIGHTS: Final = {"rule": 4, "thing": 1, "word": 1}
"""How much a facet counts for the choice of those (own choice: a rule that falls short here too says as much as four
words or things in common; how strong a reminder is, is told apart from it)."""
_ROWS: Final = 500
"""So many lessons are read in one statement (SQLite took 999 values at most before 3.32, its documents; recalled)."""


@dataclass(frozen=True)
class Found:
    """A lesson with the project and the version in which it stands."""

    lesson: Lesson
    project: str
    name: str
    version: int
    on: dt.datetime


def lessons_like(connection: Connection, released: bool, project: str, facets: Sequence[str]) -> list[Found]:
    """Return the lessons of other projects that share the most with a house; at most 1,500.

    Args:
        connection: To the archive.
        released: Copies for students are looked at, and nothing else; otherwise only what is no copy.
        project: Id of the house; its own lessons are left out.
        facets: Its facets, those that weigh most first.
    """
    weights: dict[int, int] = defaultdict(int)
    some = list(dict.fromkeys(facets))[:_MOST_FACETS]
    for at in range(0, len(some), _AT_ONCE):
        part = some[at : at + _AT_ONCE]
        each = " UNION ALL ".join(
            f"SELECT * FROM (SELECT {_WEIGHTS[facet.partition(' ')[0]]} AS weight, lesson FROM lesson_facets "
            f"WHERE released = :released AND facet = :f{n} ORDER BY lesson DESC LIMIT {_NEWEST}) AS s{n}"
            for n, facet in enumerate(part)
        )
        given = {"released": released, **{f"f{n}": facet for n, facet in enumerate(part)}}
        for weight, lesson in connection.execute(text(each), given):
            weights[lesson] += weight
    best = sorted(weights, key=lambda one: (-weights[one], -one))[:_MOST]
    rows: list[Row[tuple[str, int, dt.datetime, str, str]]] = []
    for at in range(0, len(best), _ROWS):
        part_ids = best[at : at + _ROWS]
        rows += connection.execute(
            _query(released).where(t.lessons.c.id.in_(part_ids), t.projects.c.project != project)
        ).all()
    return [_found(row) for row in rows]


def lessons_lost(connection: Connection, released: bool, project: str, decisions: Sequence[str]) -> list[Found]:
    """Return the lessons of a house's own versions whose decision is gone, the last of each.

    Args:
        connection, released, project: As for `lessons_like`.
        decisions: Ids of the decisions that it has.
    """
    query = _query(released).where(t.projects.c.project == project)
    kept = set(decisions)
    last = {row.record: row for row in connection.execute(query.order_by(t.lessons.c.id)) if row.record not in kept}
    return [_found(row) for row in last.values()]


def _query(released: bool) -> Select[Any]:
    one, p, v = t.lessons.c, t.projects.c, t.versions.c
    return (
        select(one.record, one.content, one.since, p.project, p.name, v.on)
        .join(t.projects, p.id == one.project)
        .join(t.versions, (v.project == one.project) & (v.number == one.since))
        .where(one.released == released)
    )


def _found(row: Row[Any]) -> Found:
    return Found(lesson_from(row.content), row.project, row.name, row.since, dt.datetime.fromisoformat(row.on))
