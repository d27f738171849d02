"""What a person may type into a field, read off its annotation, so that a new field needs no form code."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Final, Literal, Union, get_args, get_origin

from pydantic import BeforeValidator
from pydantic.fields import FieldInfo

from enfilade.project.fields import Fact, Holds, Mm, Record

__all__ = ["HIDDEN", "KINDS", "Kind", "Shape", "field_shapes", "is_record", "shape_of", "tag_word"]

Kind = Literal[
    "text", "longtext", "colour", "number", "whole", "length", "money", "day", "choice", "yes-no",
    "ref", "refs", "choices", "texts", "lengths", "numbers", "point", "point list", "by field",
    "record", "one-of", "records", "tag", "file", "other",
]  # fmt: skip
KINDS: Final[tuple[Kind, ...]] = get_args(Kind)

HIDDEN: Final[tuple[Kind, ...]] = ("tag", "file")
"""What is written by the tool itself and never typed: the word that tells records apart, the name of a kept file."""

_LISTS: Final[dict[str, Kind]] = {
    "ref": "refs", "choice": "choices", "text": "texts", "longtext": "texts", "length": "lengths",
    "number": "numbers",
    "point": "point list", "record": "records", "one-of": "records",
}  # fmt: skip
_PLAIN: Final[dict[Any, Kind]] = {bool: "yes-no", int: "whole", Decimal: "money", dt.date: "day"}
_LONG: Final = 1000
"""Text that may be longer than this many signs is written in several lines."""


@dataclass(frozen=True, slots=True)
class Shape:
    """What a field takes.

    Attributes:
        kind: How it is typed.
        unknown: It may be absent: not known.
        none: It may be `none`: known that there is nothing.
        words: What a choice is among.
        records: What stands in it: one record, or several that a word tells apart.
        of: What each entry of a list is.
        low, high: Ends of what is possible, in the unit of the record.
        above: The lower end itself is not possible.
        longest: The most signs that a text may have.
        required: It has no default.
    """

    kind: Kind
    unknown: bool = False
    none: bool = False
    words: tuple[str, ...] = ()
    records: tuple[type[Record], ...] = ()
    of: Kind | None = None
    low: float | None = None
    high: float | None = None
    above: bool = False
    longest: int | None = None
    required: bool = False

    def record_of(self, tag: str) -> type[Record] | None:
        """Return the record that a word tells apart; the only one for any word."""
        if self.kind == "record" or (self.of == "record" and len(self.records) == 1):
            return self.records[0]
        return next((record for record in self.records if tag_word(record)[1] == tag), None)


@cache
def field_shapes(record: type[Record]) -> dict[str, Shape]:
    """Return what each field of a record takes, by its name."""
    return {name: shape_of(field) for name, field in record.model_fields.items()}


def shape_of(field: FieldInfo) -> Shape:
    """Return what one field takes."""
    return replace(_shape(field.annotation, tuple(field.metadata)), required=field.is_required())


def tag_word(record: type[Record]) -> tuple[str, str]:
    """Return the field, and the word in it, by which a record is told from its like; empty when there is none."""
    for name, field in record.model_fields.items():
        if get_origin(field.annotation) is Literal and len(words := get_args(field.annotation)) == 1:
            return name, str(words[0])
    return "", ""


def is_record(value: object) -> bool:
    """Tell whether a type is a record."""
    return isinstance(value, type) and issubclass(value, Record)


def _shape(annotation: Any, about: tuple[Any, ...]) -> Shape:
    branches = list(_branches(annotation, about))
    unknown = any(branch is NoneType for branch, _ in branches)
    words = [word for branch, _ in branches if get_origin(branch) is Literal for word in get_args(branch)]
    others = [(b, a) for b, a in branches if b is not NoneType and get_origin(b) is not Literal]
    fact = any(get_args(branch) == get_args(Fact) for branch, _ in branches)
    if not others:
        if len(words) == 1:
            return Shape("tag")
        told = tuple(str(word) for word in words if not (fact and word == "none"))
        return Shape("choice", words=told, unknown=unknown, none=fact)
    if all(is_record(branch) for branch, _ in others):
        records = tuple(branch for branch, _ in others)
        return Shape("record" if len(records) == 1 else "one-of", records=records, unknown=unknown, none=fact)
    if len(others) > 1 or (words and not fact):
        return Shape("other", unknown=unknown, none=fact)
    return replace(_one(*others[0]), unknown=unknown, none=fact)


def _branches(annotation: Any, about: tuple[Any, ...]) -> Iterator[tuple[Any, tuple[Any, ...]]]:
    """Yield the plain types of a union, each with what is said of it."""
    origin = get_origin(annotation)
    if origin is Annotated:
        inner, *said = get_args(annotation)
        yield from _branches(inner, (*about, *said))
    elif origin in (Union, UnionType):
        for part in get_args(annotation):
            yield from _branches(part, about)
    else:
        yield annotation, tuple(_said(about))


def _said(about: Iterable[Any]) -> Iterator[Any]:
    for part in about:
        if isinstance(part, FieldInfo):
            yield from part.metadata
        else:
            yield part


def _one(plain: Any, about: tuple[Any, ...]) -> Shape:
    origin, args = get_origin(plain), get_args(plain)
    if origin is tuple and args[-1:] == (Ellipsis,):
        inner = _shape(args[0], ())
        kind = _LISTS.get(inner.kind, "other")
        return Shape(kind, words=inner.words, records=inner.records, of=inner.kind, low=inner.low, high=inner.high,
                     above=inner.above, longest=inner.longest)  # fmt: skip
    if origin is tuple:
        return Shape("point" if [_shape(arg, ()).kind for arg in args] == ["length", "length"] else "other")
    if origin is dict and get_args(args[1]):
        inner = _shape(args[1], ())
        return Shape("by field" if inner.kind == "choice" else "other", words=inner.words)
    if plain is str:
        return _text(about)
    if plain is float:
        return Shape("length" if _is_length(about) else "number", **_range(about))
    if plain in _PLAIN:
        return Shape(_PLAIN[plain], **_range(about))
    return Shape("other")


def _text(about: tuple[Any, ...]) -> Shape:
    longest = min(_all(about, "max_length"), default=None)
    pattern = _first(about, "pattern")
    if any(isinstance(part, Holds) and part.what == "id" for part in about):
        return Shape("ref")
    if pattern and "#" in str(pattern):
        return Shape("colour")
    if pattern:
        return Shape("file")
    return Shape("longtext" if longest is not None and longest > _LONG else "text", longest=longest)


def _is_length(about: tuple[Any, ...]) -> bool:
    return any(isinstance(part, BeforeValidator) and part.func is _READS_LENGTHS for part in about)


def _range(about: tuple[Any, ...]) -> dict[str, Any]:
    above, least = _first(about, "gt"), _first(about, "ge")
    below, most = _first(about, "lt"), _first(about, "le")
    low, high = (above if above is not None else least), (below if below is not None else most)
    return {"low": low, "high": high, "above": above is not None}


def _first(about: tuple[Any, ...], name: str) -> Any:
    return next(iter(_all(about, name)), None)


def _all(about: tuple[Any, ...], name: str) -> list[Any]:
    return [value for part in about if (value := getattr(part, name, None)) is not None]


def _reader(annotation: Any) -> Any:
    return next(part.func for part in get_args(annotation) if isinstance(part, BeforeValidator))


_READS_LENGTHS: Final = _reader(Mm)
