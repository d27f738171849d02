"""A field of the house, changed by what a person typed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from enfilade.editing.forms.consequences import with_consequences
from enfilade.editing.forms.field_shape import HIDDEN, field_shapes, tag_word
from enfilade.editing.forms.paths import Path, Spot, rows_at, spot_of, with_fields, with_row, with_updates
from enfilade.editing.forms.places import place_another_way
from enfilade.editing.forms.refusals import Placed, at_the_field, refused_at
from enfilade.editing.forms.removing import with_row_removed
from enfilade.editing.forms.rows import with_row_added, with_row_moved
from enfilade.editing.forms.values import Reading, empty_value
from enfilade.errors import BadRecord, EnfiladeError, NotFound, Refused
from enfilade.project.choices import Decision
from enfilade.project.fields import Record
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.project import Project
from enfilade.project.thing import Thing

__all__ = ["with_row_added", "with_row_moved", "with_row_removed", "with_typed"]


def with_typed(project: Project, path: Sequence[str], typed: Any) -> Project:
    """Return the project with what was typed in one field.

    Args:
        project: The house.
        path: Steps to the field: `("decisions", "island-size", "options", "wide", "cost")`, `("show", "units")`.
        typed: Text as it was typed, in the units of the project; a list where several are chosen; `none` for a fact
            that is known to be nothing, and empty text for one that is not known; for a record, its fields by name;
            for a way of standing, its word: the thing stays where it stands as well as can be.
    Returns:
        The project; the same one when nothing changed, and with every record that did not change the same object.
    Raises:
        BadRecord: It cannot be taken. Each fault's place is `path`, joined by `/`, or a field below it.
        NotFound: There is no such field.
    """
    spot, told = spot_of(project, path), tuple(path)
    try:
        if spot.shape is None:
            return with_row(spot, _merged(project, spot, spot.value, _by_name(typed), told))
        return with_updates(spot, _updates(project, spot, typed, told))
    except (Placed, NotFound):
        raise
    except BadRecord as refusal:
        raise at_the_field(project, told, refusal) from refusal
    except EnfiladeError as error:
        raise refused_at(told, error) from error


def _updates(project: Project, spot: Spot, typed: Any, path: Path) -> dict[str, Any]:
    assert spot.shape is not None
    kind = spot.shape.kind
    if kind == "by field":
        return {spot.field: _by_field(spot, typed)}
    if kind == "records":
        return {spot.field: _rows_at_once(spot, typed)}
    if kind in ("record", "one-of"):
        typed = _nested(spot, typed)
        if kind == "one-of" and isinstance(typed, str) and isinstance(spot.value, Free | AgainstWall | SetIn):
            thing = spot.record
            assert isinstance(thing, Thing)
            return {spot.field: place_another_way(project, thing, typed)}
        if isinstance(typed, Mapping) and isinstance(spot.value, Record) and not _another_way(spot.value, typed):
            return {spot.field: _merged(project, spot, spot.value, _by_name(typed), path)}
    here = path[: len(path) - len(spot.inside)]
    value = _reading(project, spot).value(typed, type(spot.record), spot.field, here, spot.value)
    return with_consequences(project, spot, value)


def _reading(project: Project, spot: Spot) -> Reading:
    return Reading(project, next((step.record for step in spot.steps if isinstance(step.record, Decision)), None))


def _nested(spot: Spot, typed: Any) -> Any:
    """Return what was typed as if at the record: a field of one that is absent begins it."""
    if not spot.inside:
        return typed
    if spot.value is not None and spot.inside == (tag_word(type(spot.value))[0],):
        return typed
    if len(spot.inside) != 1 or isinstance(spot.value, Record):
        raise NotFound("this is not in the project any more", do="load the page again")
    return {spot.inside[0]: typed}


def _merged(project: Project, spot: Spot, record: Record, typed: Mapping[str, Any], path: Path) -> Record:
    """Return a record that stands, with what was typed in some of its fields."""
    reading, shapes = _reading(project, spot), field_shapes(type(record))
    values: dict[str, Any] = {}
    for name, one in typed.items():
        shape = shapes.get(name)
        if name == tag_word(type(record))[0]:
            continue
        if shape is None or name == "id" or shape.kind in (*HIDDEN, "records"):
            raise NotFound("this is not in the project any more", do="load the page again")
        now = getattr(record, name)
        if isinstance(one, Mapping) and isinstance(now, Record) and not _another_way(now, one):
            values[name] = _merged(project, spot, now, _by_name(one), (*path, name))
        else:
            values[name] = reading.value(one, type(record), name, (*path, name), now)
    return with_fields(record, values)


def _another_way(record: Record, typed: Mapping[str, Any]) -> bool:
    tag, word = tag_word(type(record))
    return bool(tag) and typed.get(tag, word) != word


def _by_name(typed: Any) -> dict[str, Any]:
    if not isinstance(typed, Mapping) or not all(isinstance(name, str) for name in typed):
        raise Refused("this is not typed field by field", expected="its fields by name")
    return dict(typed)


def _by_field(spot: Spot, typed: Any) -> dict[str, str]:
    """Return words for single fields of the record, with one of them changed or taken out."""
    assert spot.shape is not None
    words: dict[str, str] = dict(spot.value or {})
    changes = {spot.inside[0]: typed} if len(spot.inside) == 1 else _by_name(typed or {})
    if not spot.inside:
        words = {}
    for field, word in changes.items():
        if field not in type(spot.record).model_fields:
            raise Refused("this field is not there", expected="a field of the same record")
        if word in ("", None):
            words.pop(field, None)
        elif word in spot.shape.words:
            words[field] = word
        else:
            raise Refused("this is not one of the choices", expected=", ".join(spot.shape.words))
    return words


def _rows_at_once(spot: Spot, typed: Any) -> Any:
    """Return `none`, unknown, or no rows yet, for a repeated field; single rows are added and removed."""
    assert spot.shape is not None
    if rows_at(spot):
        raise Refused("there are rows here", expected="each removed on its own")
    if typed == "none" and spot.shape.none:
        return "none"
    if typed in ("", None):
        return empty_value(type(spot.record), spot.field, spot.shape)
    if typed == []:
        return ()
    raise Refused("rows are added one by one", expected="nothing, or none")
