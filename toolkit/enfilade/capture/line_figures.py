"""The figures of the record that a line can be bound to, with what they say now."""

from __future__ import annotations

from typing import Any

from enfilade.capture.desk import Desk
from enfilade.capture.said_lines import BEGUN, path_of_line, stop_at
from enfilade.capture.sight import Sight
from enfilade.capture.telling import line_at, told_now
from enfilade.editing.forms.paths import Path
from enfilade.project.project import Project
from enfilade.script.figures import Bound

__all__ = ["figures_here"]


def figures_here(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return the figures that a line can be bound to where it is said; those of what it shows come first.

    Each has its `field` with braces, a `label`, what it says now (`shown`), and the `kind` that tells which ways of
    writing fit it.
    """
    figures, (space, things) = told_now(desk, sight).telling.figures, _where(desk.project, path_of_line(message))
    if space is None:
        return {"say": "", "figures": []}
    found = []
    for one in figures.fields_for(space):
        bound = figures.bound(one.field[1:-1])
        value, subject = (bound.value, bound.subject) if isinstance(bound, Bound) else (None, None)
        kind = value.kind if value is not None else "words"
        first = subject is not None and subject.sort == "thing" and subject.record.id in things
        found.append({"field": one.field, "label": one.label, "shown": one.shown, "kind": kind, "first": first})
    return {"say": "", "figures": sorted(found, key=lambda one: not one["first"])}


def _where(project: Project, path: Path) -> tuple[str | None, tuple[str, ...]]:
    """Return the room in which a line, written or begun, is said, and what it shows."""
    begun = path[0] == BEGUN
    where = path[1:] if begun else path
    line = None if begun else line_at(project, path)[1]
    things = line.things if line is not None else ()
    if where[0] == "spaces":
        return project.space(where[1]).id, things
    if where[0] == "script":
        return stop_at(project, where[1]).space, things
    told = [stop.space for stop in project.script]
    return next(iter([*told, *(space.id for space in project.spaces)]), None), things
