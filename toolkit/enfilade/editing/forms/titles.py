"""What people call a record, a field or a row of the house, in a sentence."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from enfilade.editing.forms.called import kind_words, label_of, named, row_title
from enfilade.editing.forms.paths import Path, Spot, spot_of
from enfilade.project.choices import Decision
from enfilade.project.fields import Record
from enfilade.project.people import Show
from enfilade.project.project import Project
from enfilade.project.speaking import Eye, Filming, Shot, Speaking, SpokenLine, Stop
from enfilade.project.thing import Thing

__all__ = ["field_title", "row_words"]

_ALONE: Final[dict[type[Record], str]] = {
    Show: "how the project is shown", Speaking: "how it is told", Filming: "what it is filmed with",
}  # fmt: skip
"""Records of which there is one alone: their fields are called by their labels."""


def row_words(project: Project, path: Sequence[str]) -> str:
    """Return what a record that a path leads to is called: `island`, `decision 3, Size of the island`.

    Raises:
        NotFound: No such record.
    """
    spot = spot_of(project, path)
    row = spot.value
    if not isinstance(row, Record) or not spot.steps:
        return spot.field.replace("_", " ") if spot.steps else "the house"
    return _called(project, row, spot.steps[-1].row or 0)


def field_title(project: Project, path: Sequence[str]) -> str:
    """Return what a field is called, with the record that it is of: `width of island`, `units`.

    Raises:
        NotFound: No such field.
    """
    spot = spot_of(project, path)
    label = label_of((spot.inside or (spot.field,))[-1], None if spot.inside else type(spot.record))
    label = (label[:1].lower() + label[1:]).removesuffix(", mm")
    if (line := next((step.record for step in spot.steps if isinstance(step.record, SpokenLine)), None)) is not None:
        return _of_line(project, spot, line, label)
    if type(spot.record) in _ALONE and not spot.inside:
        return label
    return f"{label} of {_owner(project, spot)}" if len(spot.path) > 2 else label


def _of_line(project: Project, spot: Spot, line: SpokenLine, label: str) -> str:
    """Return what a field of a line, or of its shot, is called: `things that a line in Kitchen shows`."""
    owner = next(step.record for step in reversed(spot.steps) if not isinstance(step.record, SpokenLine | Shot | Eye))
    where = f"in {project.space(owner.space).name}" if isinstance(owner, Stop) else f"of {_called(project, owner, 0)}"
    if spot.record is line and spot.field == "text":
        return f"{label} {where}"
    named_by_it = re.sub(r"\bit\b", lambda _: f"a line {where}", label, count=1) if spot.record is line else label
    return named_by_it if named_by_it != label else f"{label} of a line {where}"


def _owner(project: Project, spot: Spot) -> str:
    """Return the record of the house that a field belongs to: not an option, but its decision."""
    above: Path = spot.path[:3] if spot.path[:2] == ("brief", "needs") else spot.path[:2]
    if spot.path[:3] == ("show", "speaking", "parts"):
        above = spot.path[:4]
    if spot.path[2:3] == ("walls",):
        above = spot.path[:4]
    return row_words(project, above) if len(above) < len(spot.path) else spot.path[0]


def _called(project: Project, row: Record, index: int) -> str:
    if isinstance(row, Thing):
        return row.called
    if type(row) in _ALONE:
        return _ALONE[type(row)]
    if isinstance(row, Stop):
        return f"the lines in {project.space(row.space).name}"
    if isinstance(row, Decision):
        return f"decision {row.number}, {row.title}"
    space = next((one for one in project.spaces if one.id == getattr(row, "space", None)), None)
    kind = kind_words(type(row))
    if not named(row) and space is not None:
        return f"{kind} in {space.name}"
    return f"{kind} “{named(row)}”" if named(row) else row_title(row, index)
