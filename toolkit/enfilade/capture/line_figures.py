"""The figures of the record that a line can be bound to, with what they say now."""

from __future__ import annotations

from collections import Counter
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.said_lines import BEGUN, path_of_line, stop_at
from enfilade.capture.sight import Sight
from enfilade.capture.telling import Told, line_at, told_now
from enfilade.editing.forms.offers import Offers
from enfilade.editing.forms.paths import Path
from enfilade.project.project import Project
from enfilade.script.figures import Bound
from enfilade.script.index import Subject

__all__ = ["figures_here"]

_NAMED: Final = 3


def figures_here(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return the figures that a line can be bound to where it is said; those of what it shows come first.

    Each has its `field` with braces, a `label`, what it says now (`shown`), and the `kind` that tells which ways of
    writing fit it.
    """
    told = told_now(desk, sight)
    figures, (space, things) = told.telling.figures, _where(desk.project, path_of_line(message))
    if space is None:
        return {"say": "", "figures": []}
    found = []
    for one in figures.fields_for(space):
        bound = figures.bound(one.field[1:-1])
        value, subject = (bound.value, bound.subject) if isinstance(bound, Bound) else (None, None)
        kind = value.kind if value is not None else "words"
        first = subject is not None and subject.sort == "thing" and subject.record.id in things
        about = {"field": one.field, "label": one.label, "shown": one.shown, "kind": kind, "first": first}
        found.append((about, subject))
    _tell_apart(found, told)
    return {"say": "", "figures": sorted((one for one, _ in found), key=lambda one: not one["first"])}


def _tell_apart(found: list[tuple[dict[str, Any], Subject | None]], told: Told) -> None:
    """Say what each of several figures of the same name is about: what was measured, or which of the things."""
    many = Counter(one["label"] for one, _ in found)
    alike = [(one, subject) for one, subject in found if many[one["label"]] > 1]
    if not alike:
        return
    things = {one["value"]: one["label"] for one in Offers(told.project).all("things")}
    for one, subject in alike:
        head, colon, tail = one["label"].rpartition(": ")
        attribute, of, _ = one["label"].partition(" of ")
        if subject is None:
            continue
        if subject.sort == "finding" and colon and (names := _about(subject, told)):
            one["label"] = f"{head} ({names}): {tail}"
        elif subject.sort == "thing" and of:
            one["label"] = f"{attribute} of {things.get(subject.record.id, subject.record.called)}"
    seen: Counter[str] = Counter()
    still = Counter(one["label"] for one, _ in found)
    for one, _ in found:
        label = one["label"]
        if still[label] > 1:
            seen[label] += 1
            one["label"] = f"{label} ({seen[label]})"


def _about(subject: Subject, told: Told) -> str:
    names = [told.telling.names[id] for id in dict.fromkeys(subject.record.subjects) if id in told.telling.names]
    more = [f"{len(names) - _NAMED} more"] if len(names) > _NAMED else []
    listed = [*names[:_NAMED], *more]
    return f"{', '.join(listed[:-1])} and {listed[-1]}" if len(listed) > 1 else "".join(listed)


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
