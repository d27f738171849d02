"""What people call a record, a field or a row of the house, in a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from enfilade.editing.forms.called import kind_words, label_of, named, row_title
from enfilade.editing.forms.paths import Path, Spot, spot_of
from enfilade.project.choices import Decision
from enfilade.project.fields import Record
from enfilade.project.project import Project
from enfilade.project.thing import Thing

__all__ = ["field_title", "row_words"]


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
    label = label[:1].lower() + label[1:]
    return f"{label} of {_owner(project, spot)}" if len(spot.path) > 2 else label


def _owner(project: Project, spot: Spot) -> str:
    """Return the record of the house that a field belongs to: not an option, but its decision."""
    above: Path = spot.path[:3] if spot.path[:2] == ("brief", "needs") else spot.path[:2]
    if spot.path[2:3] == ("walls",):
        above = spot.path[:4]
    return row_words(project, above) if len(above) < len(spot.path) else spot.path[0]


def _called(project: Project, row: Record, index: int) -> str:
    if isinstance(row, Thing):
        return row.called
    if isinstance(row, Decision):
        return f"decision {row.number}, {row.title}"
    space = next((one for one in project.spaces if one.id == getattr(row, "space", None)), None)
    kind = kind_words(type(row))
    if not named(row) and space is not None:
        return f"{kind} in {space.name}"
    return f"{kind} “{named(row)}”" if named(row) else row_title(row, index)
