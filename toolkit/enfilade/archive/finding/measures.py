"""Records found by their figures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from sqlalchemy import Connection, text

from enfilade.archive.finding.questions import Question
from enfilade.archive.finding.topics import Topic

__all__ = ["MOST", "Sized", "findings_about", "measured"]

MOST: Final = 2000
"""So many records are looked at; where more fit, those that the database comes to first (own choice)."""
_ROOMS_AT_ONCE: Final = 300


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
) -> list[Sized]:
    """Return the records that a question with figures asks for, at most `MOST` and one, before its topics."""
    parts, values = ["f.released = :released"], dict[str, Any](released=released)
    _among(parts, values, "f.what", question.kinds, "kind")
    if projects is not None:
        _among(parts, values, "f.project", projects, "project")
    for name, one in (("use", use), ("use2", question.use)):
        if one:
            parts.append(f"f.use = :{name}")
            values[name] = one
    stands = "" if past else " AND {}.until IS NULL"
    parts[0] += stands.format("f")
    joins = []
    wanted = question.measured or []
    if wanted:
        _within(parts, values, "f", 0, wanted[0])
    else:  # a topic alone: any one figure of a record stands for it
        parts.append("f.name = :name0")
        values["name0"] = (
            "area" if question.kinds == ("room",) else "cost" if "decision" in question.kinds else "length"
        )
    for at, more in enumerate(wanted[1:], 1):
        on = [f"g{at}.{same} = f.{same}" for same in ("project", "space", "what", "record")]
        _within(on, values, f"g{at}", at, more)
        if past:
            on.append(f"g{at}.since <= coalesce(f.until, g{at}.since) AND coalesce(g{at}.until, f.since) >= f.since")
        joins.append(f"JOIN figures g{at} ON {' AND '.join(on)}{stands.format(f'g{at}')}")
    if question.verdict in ("met", "falls short"):
        parts.append(_exists(question, values, past))
    query = (
        "SELECT f.project, f.space, f.use, f.what, f.record, f.state, f.value, f.since, f.until, f.id FROM figures f "
        f"{' '.join(joins)} WHERE {' AND '.join(parts)} LIMIT {MOST + 1}"
    )
    return [Sized(*row) for row in connection.execute(text(query), values)]


def _exists(question: Question, values: dict[str, Any], past: bool) -> str:
    """Return the condition that a finding of the topic's rules has the verdict, in the same room."""
    rules = sorted({rule for rule, _, _ in question.topics})
    parts = ["x.project = f.project", "x.space = f.space", "x.what = 'finding'", "x.name = 'measured'",
             "x.state = :verdict"]  # fmt: skip
    values["verdict"] = question.verdict
    _among(parts, values, "x.rule", rules, "rule")
    if not past:
        parts.append("x.until IS NULL")
    return f"EXISTS (SELECT 1 FROM figures x WHERE {' AND '.join(parts)})"


def findings_about(
    connection: Connection, question: Question, found: Sequence[Sized], *, released: bool, past: bool
) -> dict[tuple[int, str, str], list[str]]:
    """Return by project, room and record the texts of the findings or answers that the question's topics ask for.

    A finding that names subjects is about those; one that names none of the room's records is about the room.
    """
    rooms = list(dict.fromkeys((one.project, one.space) for one in found))
    records: dict[tuple[int, str], list[str]] = {}
    for one in found:
        records.setdefault((one.project, one.space), []).append(one.record)
    about: dict[tuple[int, str, str], list[str]] = {}
    for some in (rooms[at : at + _ROOMS_AT_ONCE] for at in range(0, len(rooms), _ROOMS_AT_ONCE)):
        for project, space, named, words in _told(connection, question, some, released=released, past=past):
            for record in records[project, space]:
                if record in named or record == space:
                    about.setdefault((project, space, record), []).append(words)
    return about


def _told(
    connection: Connection, question: Question, rooms: Sequence[tuple[int, str]], *, released: bool, past: bool
) -> list[tuple[int, str, frozenset[str], str]]:
    values: dict[str, Any] = {"released": released}
    parts = ["n.released = :released"]
    _among(parts, values, "n.project", sorted({project for project, _ in rooms}), "project")
    _among(parts, values, "n.rule", sorted({rule for rule, _, _ in question.topics}), "rule")
    parts.append("n.kind = 'answer' AND n.state = 'accepted'" if question.verdict == "accepted" else
                 "n.kind = 'finding' AND n.state = :verdict")  # fmt: skip
    values["verdict"] = question.verdict
    if not past:
        parts.append("n.until IS NULL")
    wanted = set(rooms)
    told = []
    query = text(f"SELECT n.project, n.space, n.record, n.text FROM notes n WHERE {' AND '.join(parts)}")
    for project, space, record, words in connection.execute(query, values):
        if (project, space) not in wanted:
            continue
        if question.verdict == "accepted":
            # An answer tells only its rule, so that it is about what stands in its room.
            told.append((project, space, _Everything(), words))
        elif _is_about(record, question.topics):
            told.append((project, space, frozenset(record.split(":", 2)[-1].split("+")), words))
    return told


class _Everything(frozenset[str]):
    def __contains__(self, _: object) -> bool:
        return True


def _is_about(finding: str, topics: Sequence[Topic]) -> bool:
    rule, _, rest = finding.partition(":")
    part = rest.partition(":")[0]
    return any(rule == one and part == middle for one, middle, _ in topics)


def _within(parts: list[str], values: dict[str, Any], table: str, at: int, one: Any) -> None:
    parts.append(f"{table}.name = :name{at}")
    values[f"name{at}"] = one.name
    for mark, sign, end in (("low", ">=", one.range.low), ("high", "<=", one.range.high)):
        if math.isfinite(end):
            parts.append(f"{table}.value {sign} :{mark}{at}")
            values[f"{mark}{at}"] = end


def _among(parts: list[str], values: dict[str, Any], column: str, several: Sequence[Any], mark: str) -> None:
    marks = [f"{mark}{i}" for i in range(len(several))]
    parts.append(f"{column} IN ({', '.join(':' + one for one in marks)})" if marks else "1 = 0")
    values |= dict(zip(marks, several, strict=True))
