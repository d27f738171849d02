"""What a field takes, read off the records' annotations along the steps of a validation's place."""

from __future__ import annotations

import re
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from enfilade.project.fields import Record

__all__ = ["called", "records_of", "required", "shapes_at"]

_TAGS = ("kind", "how")
"""Fields by whose word the records of a union are told apart."""


def shapes_at(model: type[Record], loc: tuple[int | str, ...]) -> tuple[Any, ...]:
    """Return the plain types, branches of unions taken apart, that `model` takes at a place; none when unknown.

    Args:
        model: The record that the place begins at.
        loc: Field names, indexes, and words that name a branch of a union, as a validation error holds them.
    """
    shapes: tuple[Any, ...] = (model,)
    for step in loc:
        shapes = tuple(leaf for shape in _step(shapes, step) for leaf in _leaves(shape))
    return shapes


def records_of(shapes: tuple[Any, ...]) -> list[type[Record]]:
    """Return those of `shapes` that are records."""
    return [shape for shape in shapes if isinstance(shape, type) and issubclass(shape, Record)]


def required(records: list[type[Record]]) -> list[str]:
    """Return the fields that all of `records` must be given, in the order of the first."""
    return [name for name in records[0].model_fields if all(_must(record, name) for record in records)]


def called(record: type[Record]) -> str:
    """Return what a record is called in a sentence: a thing by its kind, any other by its class."""
    for tag in _TAGS:
        if len(words := _words(record, tag)) == 1:
            return words[0] if tag == "kind" else f"place `{words[0]}`"
    return re.sub(r"(?<!^)([A-Z])", r" \1", record.__name__).lower()


def _must(record: type[Record], name: str) -> bool:
    return name in record.model_fields and record.model_fields[name].is_required()


def _words(record: type[Record], tag: str) -> tuple[str, ...]:
    field = record.model_fields.get(tag)
    return get_args(field.annotation) if field is not None and get_origin(field.annotation) is Literal else ()


def _leaves(shape: Any) -> tuple[Any, ...]:
    origin = get_origin(shape)
    if origin is Annotated:
        return _leaves(get_args(shape)[0])
    if origin in (Union, UnionType):
        return tuple(leaf for part in get_args(shape) if part is not NoneType for leaf in _leaves(part))
    return (shape,)


def _step(shapes: tuple[Any, ...], step: int | str) -> tuple[Any, ...]:
    if isinstance(step, int):
        many = [get_args(shape) for shape in shapes if get_origin(shape) is tuple]
        alike = [args[0] for args in many if args[-1] is Ellipsis]
        return (*alike, *(args[step] for args in many if args[-1] is not Ellipsis and step < len(args)))
    records = records_of(shapes)
    # A word of a union comes first: a thing `against a wall` has a field that is called `wall` too.
    if len(records) > 1 and (chosen := [one for one in records if any(step in _words(one, tag) for tag in _TAGS)]):
        return tuple(chosen)
    if fields := [one.model_fields[step].annotation for one in records if step in one.model_fields]:
        return tuple(fields)
    if values := [get_args(shape)[1] for shape in shapes if get_origin(shape) is dict]:
        return tuple(values)
    if step.startswith("tuple["):
        return tuple(shape for shape in shapes if get_origin(shape) is tuple)
    return tuple(one for one in records if re.search(rf"\b{one.__name__}\b", step))
