"""Records that were found by number, as hits: told by their figures and by what was found of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Final

from sqlalchemy import Connection, text

from enfilade.archive.finding.answers import Hit
from enfilade.archive.finding.found import Project
from enfilade.archive.finding.measures import Sized, findings_about
from enfilade.archive.finding.questions import Question
from enfilade.archive.finding.rooms import units_of
from enfilade.lengths import System, show_length, show_size
from enfilade.quantities import Quantity, show_quantity

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["sized_hits"]

_LENGTHS: Final = ("length", "width", "depth", "height")
_LIKE_A_ROOM: Final = ("area", "length", "width", "height")
_OF_A_THING: Final = ("length", "width", "height", "seats", "bins")
_WRITTEN: Final = ("decision", "product", "finish")
_MOST_TOLD: Final = 3


def sized_hits(
    store: Store,
    connection: Connection,
    projects: Mapping[int, Project],
    found: Sequence[tuple[float, Sized]],
    question: Question,
) -> tuple[Hit, ...]:
    """Return records that were found by number as hits, in the order given."""
    hits = []
    for score, one in found:
        project = projects[one.project]
        version = project.latest if one.until is None else one.until
        words = _words(connection, one, question, units_of(store, project.id, version) or question.system)
        told = findings_about(connection, question, one, released=store.released) if question.verdict else []
        words = " ".join([words, *told[:_MOST_TOLD]])
        hits.append(
            Hit(
                project.id,
                project.name,
                version,
                one.space,
                one.what,
                one.record,
                words,
                score,
                one.state,
                until=one.until,
                _store=store,
            )
        )
    return tuple(hits)


def _words(connection: Connection, one: Sized, question: Question, units: System) -> str:
    figures = _figures(connection, one)
    asked = [measured.name for measured in question.measured]
    if one.what in _WRITTEN:
        written = _written(connection, one)
        costs = ", ".join(f"{name} {figures[name]:,.2f}" for name in dict.fromkeys([*asked, "cost"]) if name in figures)
        return f"{written} {costs[:1].upper()}{costs[1:]}." if costs else written
    usual = _LIKE_A_ROOM if one.what == "room" else _OF_A_THING
    names = [name for name in dict.fromkeys([*usual, *asked]) if name in figures]
    told = ", ".join(_figure(name, figures[name], units, one.what) for name in names)
    return f"{one.record.replace('-', ' ').capitalize()}: {told}."


def _figures(connection: Connection, one: Sized) -> dict[str, float]:
    query = text(
        "SELECT name, value FROM figures WHERE project = :project AND space = :space AND what = :what "
        "AND record = :record AND since <= :until AND coalesce(until, :until) >= :since ORDER BY id"
    )
    until = one.until if one.until is not None else 2**31 - 1
    values: dict[str, Any] = {"project": one.project, "space": one.space, "what": one.what, "record": one.record}
    return {row[0]: row[1] for row in connection.execute(query, {**values, "until": until, "since": one.since})}


def _written(connection: Connection, one: Sized) -> str:
    query = text(
        "SELECT text FROM notes WHERE project = :project AND space = :space AND kind = :kind AND record = :record "
        "ORDER BY until IS NULL DESC, id DESC LIMIT 1"
    )
    values = {"project": one.project, "space": one.space, "kind": one.what, "record": one.record}
    return str(connection.execute(query, values).scalar() or one.record)


def _figure(name: str, value: float, system: System, what: str) -> str:
    """Write a figure as the project shows it: of a room in feet and inches, of a thing as its size."""
    if name in _LENGTHS:
        show = show_length if what == "room" else show_size
        return f"{name} {show(value, system)}"
    if name == "area":
        return f"{name} {show_quantity(Quantity(value, 'mm2'), system)}"
    return f"{value:,.0f} {name if value != 1 else name.removesuffix('s')}"
