"""Rows of the archive as hits: with the names of their projects and rooms."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlalchemy import Connection, bindparam, select

from enfilade.archive import tables as t
from enfilade.archive.finding.answers import Hit
from enfilade.archive.finding.texts import Row

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["Project", "hits_of", "projects_of"]

_AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class Project:
    """Id, name and newest version of a project."""

    id: str
    name: str
    latest: int


def projects_of(connection: Connection, rows: Collection[int]) -> dict[int, Project]:
    """Return projects by their rows."""
    p = t.projects.c
    query = select(p.id, p.project, p.name, p.latest).where(p.id.in_(bindparam("rows", expanding=True)))
    wanted = sorted(rows)
    found: dict[int, Project] = {}
    for some in (wanted[at : at + _AT_ONCE] for at in range(0, len(wanted), _AT_ONCE)):
        found |= {id: Project(*rest) for id, *rest in connection.execute(query, {"rows": some})}
    return found


def hits_of(store: Store, projects: Mapping[int, Project], rows: Sequence[tuple[float, Row]]) -> tuple[Hit, ...]:
    """Return texts as hits, in the order given."""
    hits = []
    for score, row in rows:
        project = projects[row.project]
        version = project.latest if row.until is None else row.until
        hits.append(
            Hit(
                project.id,
                project.name,
                version,
                row.space,
                row.kind,
                row.record,
                row.text,
                score,
                row.state,
                row.rule,
                row.until,
                store,
            )
        )
    return tuple(hits)
