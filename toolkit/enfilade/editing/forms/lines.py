"""The lines to speak in a room: plain text, one paragraph a line."""

from __future__ import annotations

from enfilade.editing.forms.rows import with_row_added
from enfilade.editing.forms.typed import with_typed
from enfilade.project.project import Project
from enfilade.project.showing import Stop

__all__ = ["lines_of", "with_lines"]


def lines_of(project: Project, space: str) -> Stop | None:
    """Return what is said in a room; None while nothing is."""
    return next((stop for stop in project.script if stop.space == space), None)


def with_lines(project: Project, space: str, text: str) -> Project:
    """Return the project with other lines to speak in a room; empty lines part nothing and are left out.

    Raises:
        BadRecord: The text cannot be taken.
        NotFound: No such room.
    """
    stop = lines_of(project, space)
    if stop is not None:
        return with_typed(project, ("script", stop.id, "lines"), text)
    project.space(space)
    if not text.strip():
        return project
    added, _ = with_row_added(project, ("script",), {"space": space, "lines": text})
    return added
