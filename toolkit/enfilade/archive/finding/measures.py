"""Records found by their figures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from sqlalchemy import Connection, text

from enfilade.archive.finding.questions import Measured, Question
from enfilade.archive.finding.texts import planned_anew
from enfilade.archive.finding.topics import Topic

__all__ = ["MOST", "Sized", "findings_about", "measured"]

MOST: Final = 1000
"""So many records of a kind are looked at; where more fit, the newest (own choice)."""


@dataclass(frozen=True, slots=True)
class Sized:
    """A record whose figures fit, with the first of them and the newest of its rows."""

    project: int
    space: str
    use: str
    what: str
    record: str
    state: str
    value: float
    since: int
    until: int | None
    id: int


def measured(
    connection: Connection, question: Question, *, released: bool, use: str, projects: Sequence[int] | None, past: bool
) -> tuple[list[Sized], bool]:
    """Return the records that a question with figures asks for, before its topics, and whether there may be others.

    At most `MOST` of each kind whose first figure fits, the newest, are held against the rest of the question.
    """
    values = dict[str, Any](released=released, most=MOST + 1)
    stands = "" if past else " AND {}.until IS NULL"
    first = _first(question, values, use, projects, past)
    joins = []
    for at, more in enumerate(question.measured[1:], 1):
        on = [f"g{at}.{same} = f.{same}" for same in ("project", "space", "what", "record")]
        # The plus keeps SQLite from walking all figures of that name: those of the record are few.
        _within(on, values, f"g{at}", at, more, "+")
        if past:
            on.append(f"g{at}.since <= coalesce(f.until, g{at}.since) AND coalesce(g{at}.until, f.since) >= f.since")
        joins.append(f"JOIN figures g{at} ON {' AND '.join(on)}{stands.format(f'g{at}')}")
    where = f"WHERE {_exists(question, values, past)}" if question.verdict in ("met", "falls short") else ""
    each = " UNION ALL ".join(
        f"SELECT * FROM (SELECT * FROM figures f WHERE f.what = :kind{at} AND {first} ORDER BY f.id DESC LIMIT :most) "
        f"AS k{at}"
        for at in range(len(question.kinds))
    )
    if not each:
        return [], False
    values |= {f"kind{at}": kind for at, kind in enumerate(question.kinds)}
    query = (
        f"WITH f AS MATERIALIZED ({each}) SELECT f.project, f.space, f.use, f.what, f.record, f.state, f.value, "
        "f.since, f.until, f.id, (SELECT max(n) FROM (SELECT count(*) AS n FROM f GROUP BY what) counted) AS looked "
        f"FROM f {' '.join(joins)} {where} ORDER BY f.id DESC LIMIT :most"
    )
    planned_anew(connection)
    rows = connection.execute(text(query), values).all()
    cut = len(rows) > MOST or any(row.looked > MOST for row in rows[:1])
    return [Sized(*row[:-1]) for row in rows[:MOST]], cut


def _first(question: Question, values: dict[str, Any], use: str, projects: Sequence[int] | None, past: bool) -> str:
    """Return the conditions on the figure that is looked for first."""
    parts = ["f.released = :released"]
    if not past:
        parts.append("f.until IS NULL")
    plus = ""
    if projects is not None:
        plus = "+"  # In one project SQLite is to walk its own figures.
        _among(parts, values, "f.project", projects, "project")
    for name, one in (("use", use), ("use2", question.use)):
        if one:
            parts.append(f"f.use = :{name}")
            values[name] = one
    if question.measured:
        _within(parts, values, "f", 0, question.measured[0], plus)
    else:  # a topic alone: any one figure of a record stands for it
        parts.append("f.name = :name0")
        values["name0"] = (
            "area" if question.kinds == ("room",) else "cost" if "decision" in question.kinds else "length"
        )
    return " AND ".join(parts)


def _exists(question: Question, values: dict[str, Any], past: bool) -> str:
    """Return the condition that a finding of the topic's rules has the verdict, in the same room.

    It must be about the record itself: its id ends in those of what it is about. One about a room is about all in it.
    """
    parts = ["x.project = f.project", "x.space = f.space", "x.what = 'finding'", "x.name = 'measured'",
             "x.state = :verdict"]  # fmt: skip
    values["verdict"] = question.verdict
    _among(parts, values, "x.rule", sorted({rule for rule, _, _ in question.topics}), "rule")
    begins = []
    for at, (rule, part) in enumerate(sorted({topic[:2] for topic in question.topics})):
        begins.append(f"x.record LIKE :begins{at}")
        values[f"begins{at}"] = f"{rule}:{part}:%"
    parts.append(f"({' OR '.join(begins)})")
    parts.append("(f.what = 'room' OR '+' || replace(x.record, ':', '+') || '+' LIKE '%+' || f.record || '+%')")
    if not past:
        parts.append("x.until IS NULL")
    return f"EXISTS (SELECT 1 FROM figures x WHERE {' AND '.join(parts)})"


def findings_about(connection: Connection, question: Question, one: Sized, *, released: bool) -> list[str]:
    """Return the texts of the findings, or of the answers, that a question asks for, about one record."""
    kind, state = ("answer", "accepted") if question.verdict == "accepted" else ("finding", question.verdict)
    values: dict[str, Any] = {"released": released, "project": one.project, "space": one.space, "kind": kind,
                              "state": state, "since": one.since}  # fmt: skip
    parts = ["n.released = :released", "n.project = :project", "n.space = :space", "n.kind = :kind", "n.state = :state"]
    parts.append(
        "n.until IS NULL" if one.until is None else "n.since <= :until AND coalesce(n.until, :until) >= :since"
    )
    if one.until is not None:
        values["until"] = one.until
    _among(parts, values, "n.rule", sorted({rule for rule, _, _ in question.topics}), "rule")
    query = text(f"SELECT n.record, n.text FROM notes n WHERE {' AND '.join(parts)} ORDER BY n.id")
    return [words for record, words in connection.execute(query, values)
            if kind == "answer" or _is_about(record, question.topics, one)]  # fmt: skip


def _is_about(finding: str, topics: Sequence[Topic], one: Sized) -> bool:
    rule, part, subjects = (*finding.split(":", 2), "", "")[:3]
    if not any(rule == named and part == middle for named, middle, _ in topics):
        return False
    return one.what == "room" or one.record in subjects.split("+")


def _within(parts: list[str], values: dict[str, Any], table: str, at: int, one: Measured, plus: str = "") -> None:
    parts.append(f"{table}.name = :name{at}")
    values[f"name{at}"] = one.name
    for mark, sign, end in (("low", ">=", one.range.low), ("high", "<=", one.range.high)):
        if math.isfinite(end):
            parts.append(f"{plus}{table}.value {sign} :{mark}{at}")
            values[f"{mark}{at}"] = end


def _among(parts: list[str], values: dict[str, Any], column: str, several: Sequence[Any], mark: str) -> None:
    marks = [f"{mark}{i}" for i in range(len(several))]
    parts.append(f"{column} IN ({', '.join(':' + one for one in marks)})" if marks else "1 = 0")
    values |= dict(zip(marks, several, strict=True))
