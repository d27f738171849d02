"""Rows of repeated records: added with an id of their own, and put in another order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from enfilade.editing.forms.called import NAMES, kind_words
from enfilade.editing.forms.field_shape import Shape, field_shapes, tag_word
from enfilade.editing.forms.paths import Spot, row_key, rows_at, spot_of, with_updates
from enfilade.editing.forms.refusals import Placed, at_the_field, refused_at
from enfilade.editing.forms.values import Reading
from enfilade.editing.ids import new_id
from enfilade.errors import BadRecord, EnfiladeError, NotFound, Refused
from enfilade.project.choices import Decision
from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["FIXED", "list_at", "row_at", "with_row_added", "with_row_moved"]

FIXED: Final = frozenset({"walls"})
"""Rows that are one to a corner of the outline, in its order: they come, go and move with it alone."""

_NEW: Final = "new"


def with_row_added(project: Project, path: Sequence[str], values: Mapping[str, Any]) -> tuple[Project, str]:
    """Return the project with a new row at the end of a list, and how the row is named in a path.

    The id is made from what the row is called; a number that it goes by is the next one.

    Args:
        project: The house.
        path: Steps to the list: `("decisions",)`, `("decisions", "island-size", "options")`.
        values: What was typed, by field; `kind` says which of several records it is.
    Raises:
        BadRecord: A field is missing or cannot be read: the fault's place is the path, `new` and the field.
        NotFound: There is no such list.
    """
    spot = list_at(project, path)
    assert spot.shape is not None
    told = (*path, _NEW)
    try:
        if spot.field in FIXED:
            raise Refused("walls stand one to a side of the outline", do="change the outline of the room")
        rows = rows_at(spot)
        kind = _kind(spot.shape, values)
        tag, _ = tag_word(kind)
        typed = {name: value for name, value in values.items() if name != tag}
        given = _numbered(kind, rows)
        if "id" in kind.model_fields:
            given["id"] = new_id(_words(kind, typed), {getattr(row, "id", "") for row in rows})
        decision = next((step.record for step in spot.steps if isinstance(step.record, Decision)), None)
        row = Reading(project, decision).record(kind, typed, told, given)
        changed = with_updates(spot, {spot.field: (*rows, row)})
    except Placed:
        raise
    except BadRecord as refusal:
        raise at_the_field(project, told, refusal) from refusal
    except EnfiladeError as error:
        raise refused_at(told, error) from error
    return changed, row_key(row, len(rows))


def with_row_moved(project: Project, path: Sequence[str], to: int) -> Project:
    """Return the project with a row in another place of its list.

    Args:
        project: The house.
        path: Steps to the row.
        to: Its new place, from 0; beyond the ends it is the first or the last.
    Raises:
        NotFound: There is no such row.
        BadRecord: The rows of this list stand in an order of their own.
    """
    spot = row_at(project, path)
    if spot.field in FIXED:
        raise refused_at(tuple(path), Refused("walls stand in the order of the corners"))
    step = spot.steps[-1]
    rows = list(getattr(step.record, step.field))
    row = rows.pop(step.row or 0)
    rows.insert(min(max(to, 0), len(rows)), row)
    return with_updates(spot_of(project, spot.path[:-1]), {step.field: tuple(rows)})


def list_at(project: Project, path: Sequence[str]) -> Spot:
    """Return the spot of a list of rows, or raise NotFound."""
    spot = spot_of(project, path)
    if spot.shape is None or spot.shape.kind != "records" or spot.inside:
        raise NotFound("there are no rows here", do="load the page again")
    return spot


def row_at(project: Project, path: Sequence[str]) -> Spot:
    """Return the spot of a row, or raise NotFound."""
    spot = spot_of(project, path)
    if spot.shape is not None or not spot.steps:
        raise NotFound("this is no row", do="load the page again")
    return spot


def _kind(shape: Shape, values: Mapping[str, Any]) -> type[Record]:
    kind = shape.record_of(str(values.get("kind", values.get("how", ""))))
    if kind is None:
        raise Refused("it is not said which kind it is", expected="a kind from the list")
    return kind


def _numbered(kind: type[Record], rows: Iterable[Record]) -> dict[str, Any]:
    """Return the next number, for records that go by one."""
    shape = field_shapes(kind).get("number")
    if shape is None or shape.kind != "whole" or not shape.required:
        return {}
    return {"number": max((getattr(row, "number", 0) for row in rows), default=0) + 1}


def _words(kind: type[Record], typed: Mapping[str, Any]) -> str:
    names = (typed.get(name) for name in NAMES)
    return next((name for name in names if isinstance(name, str) and name.strip()), kind_words(kind))
