"""Fields of a line that name what is recorded as removed, so that the page says that, and not that nothing is there."""

from __future__ import annotations

from typing import Any, Final

from enfilade.editing.things.place_words import called
from enfilade.listing import the
from enfilade.project.project import Project
from enfilade.project.thing import Thing
from enfilade.script.figures import Bound, Figures

__all__ = ["RemovedNames"]

_STANDS: Final = {"state": "kept"}


class RemovedNames:
    """What fields would stand for, were nothing removed.

    Args:
        project: The house.
    """

    def __init__(self, project: Project) -> None:
        self._project = project
        self._removed = {one.id for one in (*project.things, *project.openings) if one.state == "removed"}
        self._figures: Figures | None = None

    def words(self, field: str) -> str:
        """Return `the island is removed` for a field, without its braces, that names such a record; else empty."""
        if not self._removed:
            return ""
        if self._figures is None:
            self._figures = Figures(_as_if_kept(self._project), ())
        bound = self._figures.bound(field)
        record: Any = bound.subject.record if isinstance(bound, Bound) and bound.subject is not None else None
        if record is None or getattr(record, "id", None) not in self._removed:
            return ""
        name = called(self._project, record.id)
        return f"{the(record.called) if isinstance(record, Thing) else the(name[:1].lower() + name[1:])} is removed"


def _as_if_kept(project: Project) -> Project:
    def kept(records: tuple[Any, ...]) -> tuple[Any, ...]:
        return tuple(one.model_copy(update=_STANDS) if one.state == "removed" else one for one in records)

    return project.model_copy(update={"things": kept(project.things), "openings": kept(project.openings)})
