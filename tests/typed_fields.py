"""Every record of the schema, and every field of a house with its path."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

from enfilade.editing.forms.field_shape import HIDDEN, Shape, field_shapes
from enfilade.editing.forms.paths import Path, row_key
from enfilade.project.fields import Record

__all__ = ["fields_of", "records_in"]


def records_in(model: type[Record], seen: set[type[Record]] | None = None) -> Iterator[type[Record]]:
    """Yield a record and all that stand in it, each once."""
    seen = set() if seen is None else seen
    if model in seen:
        return
    seen.add(model)
    yield model
    for field in model.model_fields.values():
        for inner in _inside(field.annotation):
            yield from records_in(inner, seen)


def _inside(annotation: Any) -> Iterator[type[Record]]:
    if isinstance(annotation, type) and issubclass(annotation, Record):
        yield annotation
    for argument in get_args(annotation):
        yield from _inside(argument)


def fields_of(record: Record, path: Path = ()) -> Iterator[tuple[Path, Record, str, Shape]]:
    """Yield every field that may be typed of a record and of all that stand in it."""
    for name, shape in field_shapes(type(record)).items():
        value, here = getattr(record, name), (*path, name)
        if name == "id" or shape.kind in HIDDEN:
            continue
        yield here, record, name, shape
        if isinstance(value, Record):
            yield from fields_of(value, here)
        elif isinstance(value, tuple) and shape.kind == "records":
            for index, row in enumerate(value):
                yield from fields_of(row, (*here, row_key(row, index)))
