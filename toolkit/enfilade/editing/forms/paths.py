"""Steps from the project to one field, and the project put together again when the field has changed.

A path names fields and rows in turn: `("decisions", "island-size", "options", "wide", "cost")`. A row is named by its
id, or by its place from 0 where rows have none. A wall may be reached without its room: `("walls", "river-wall")`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from pydantic import ValidationError

from enfilade.editing.forms.field_shape import HIDDEN, Shape, field_shapes
from enfilade.errors import BadRecord, NotFound
from enfilade.project.faults import faults_of
from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["Path", "Spot", "row_key", "rows_at", "spot_of", "with_fields", "with_parts", "with_row", "with_updates"]

Path = tuple[str, ...]

_DEEPEST: Final = 12
_GONE: Final = "this is not in the project any more"
_AGAIN: Final = "load the page again"


@dataclass(frozen=True, slots=True)
class Step:
    """A field of a record on the way, and the place of the row in it, if the way leads through one."""

    record: Record
    field: str
    row: int | None = None


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a path leads.

    Attributes:
        path: The path, a wall's with its room.
        steps: The way there, from the project.
        value: What stands there; for a field that is being reached through an absent record, None.
        shape: What the field takes; None when the path leads to a row.
        inside: Steps that lead on inside a field whose record is absent, or inside a field by field.
    """

    path: Path
    steps: tuple[Step, ...]
    value: Any
    shape: Shape | None
    inside: Path = ()

    @property
    def record(self) -> Record:
        """Return the record that holds the field, or the row."""
        return self.steps[-1].record if self.steps else self.value

    @property
    def field(self) -> str:
        """Return the name of the field, or of the list that the row stands in."""
        return self.steps[-1].field


def spot_of(project: Project, path: Sequence[str]) -> Spot:
    """Return where a path leads.

    Raises:
        NotFound: No such record or field, or one that is never typed, such as an id.
    """
    whole = _whole_path(project, path)
    if len(whole) > _DEEPEST:
        raise NotFound(_GONE, do=_AGAIN)
    steps: list[Step] = []
    record: Record = project
    at = 0
    while at < len(whole):
        name = whole[at]
        shape = field_shapes(type(record)).get(name)
        if shape is None or name == "id" or shape.kind in HIDDEN:
            raise NotFound(_GONE, do=_AGAIN)
        value = getattr(record, name)
        rest = whole[at + 1 :]
        if shape.kind == "records" and rest:
            rows = value if isinstance(value, tuple) else ()
            index = _row(rows, rest[0])
            steps.append(Step(record, name, index))
            record, at = rows[index], at + 2
            continue
        steps.append(Step(record, name))
        if not rest:
            return Spot(whole, tuple(steps), value, shape)
        if shape.kind in ("record", "one-of") and isinstance(value, Record):
            record, at = value, at + 1
            if shape.kind == "one-of" and rest[0] not in type(record).model_fields:
                return Spot(whole, tuple(steps), value, shape, rest)
            continue
        if shape.kind in ("record", "one-of", "by field"):
            return Spot(whole, tuple(steps), value, shape, rest)
        raise NotFound(_GONE, do=_AGAIN)
    return Spot(whole, tuple(steps), record, None)


def row_key(row: Record, index: int) -> str:
    """Return how a row is named in a path: by its id, or its place."""
    return getattr(row, "id", None) or str(index)


def rows_at(spot: Spot) -> tuple[Record, ...]:
    """Return the rows of a repeated field, none when it is unknown or `none`."""
    return spot.value if isinstance(spot.value, tuple) else ()


def with_fields(record: Record, values: dict[str, Any]) -> Record:
    """Return a record with other values, checked; all that did not change stays the same object.

    Raises:
        BadRecord: It cannot stand so; places are those of its own fields.
    """
    changed = {name: value for name, value in values.items() if not _same(getattr(record, name), value)}
    if not changed:
        return record
    plain = {name: getattr(record, name) for name in type(record).model_fields} | changed
    try:
        checked = type(record).model_validate(plain)
    except ValidationError as error:
        raise BadRecord("project", faults_of(error, plain, type(record))) from error
    return record.model_copy(update={name: getattr(checked, name) for name in changed})


def with_updates(spot: Spot, updates: dict[str, Any]) -> Project:
    """Return the project with other values in the record that holds the field of a spot, checked as a whole.

    It is the same project when nothing changed.

    Raises:
        BadRecord: A record, or the house, cannot stand so.
    """
    record = spot.record
    if isinstance(record, Project):
        return with_parts(record, updates)
    return _put_back(spot.steps[:-1], record, with_fields(record, updates))


def with_row(spot: Spot, row: Record) -> Project:
    """Return the project with another record in place of the row that a spot leads to, likewise."""
    return _put_back(spot.steps, spot.value, row)


def _put_back(steps: tuple[Step, ...], old: Record, new: Record) -> Project:
    project = steps[0].record
    assert isinstance(project, Project)
    if new is old:
        return project
    value: Any = new
    for step in reversed(steps):
        if step.row is not None:
            rows = list(getattr(step.record, step.field))
            rows[step.row] = value
            value = tuple(rows)
        if step.record is project:
            break
        value = with_fields(step.record, {step.field: value})
    return with_parts(project, {steps[0].field: value})


def with_parts(project: Project, updates: dict[str, Any]) -> Project:
    """Return the project with other lists or other records of its own, checked as a whole, likewise."""
    changed = {name: value for name, value in updates.items() if not _same(getattr(project, name), value)}
    if not changed:
        return project
    lists = {name: value for name, value in changed.items() if field_shapes(Project)[name].kind == "records"}
    rest = with_fields(project, {name: value for name, value in changed.items() if name not in lists})
    assert isinstance(rest, Project)
    return rest.with_records(**lists) if lists else rest.verified()


def _same(old: Any, new: Any) -> bool:
    if isinstance(old, tuple) and isinstance(new, tuple):
        return len(old) == len(new) and all(_same(a, b) for a, b in zip(old, new, strict=True))
    if isinstance(old, Record) or isinstance(new, Record):
        return old is new
    return type(old) is type(new) and bool(old == new)


def _row(rows: tuple[Record, ...], key: str) -> int:
    named = rows[:1] and "id" in type(rows[0]).model_fields
    if not named and key.isdecimal() and len(key) < 7 and int(key) < len(rows):
        return int(key)
    found = next((index for index, row in enumerate(rows) if named and getattr(row, "id", None) == key), None)
    if found is None:
        raise NotFound(_GONE, do=_AGAIN)
    return found


def _whole_path(project: Project, path: Sequence[str]) -> Path:
    if len(path) >= 2 and path[0] == "walls" and path[1] in project.walls_by_id:
        return ("spaces", project.walls_by_id[path[1]][0].id, *path)
    return tuple(path)
