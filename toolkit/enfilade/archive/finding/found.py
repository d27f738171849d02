"""Rows of the archive as hits: with the names of their projects and rooms."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlalchemy import Connection, text

from enfilade.archive.finding.answers import Hit
from enfilade.archive.finding.texts import Row

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["Project", "hits_of", "projects_of"]


@dataclass(frozen=True, slots=True)
class Project:
    """Id, name and newest version of a project."""

    id: str
    name: str
    latest: int


def projects_of(connection: Connection, rows: Collection[int]) -> dict[int, Project]:
    """Return projects by their rows."""
    # One value for all of them: hundreds of values take longer to hand over than to look up.
    if connection.dialect.name == "postgresql":
        among, wanted = "= ANY (CAST(:rows AS bigint[]))", "{" + ",".join(map(str, rows)) + "}"
    else:
        among, wanted = "IN (SELECT value FROM json_each(:rows))", "[" + ",".join(map(str, rows)) + "]"
    query = text(f"SELECT id, project, name, latest FROM projects WHERE id {among}")
    return {id: Project(*rest) for id, *rest in connection.execute(query, {"rows": wanted})}


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
