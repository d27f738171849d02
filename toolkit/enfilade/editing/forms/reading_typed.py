"""What a person typed into one field, read as its annotation asks."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from typing import Any, Final

from enfilade.editing.forms.field_shape import Shape
from enfilade.editing.forms.reading_numbers import amount, count, length, number
from enfilade.editing.quoting import quoted
from enfilade.errors import Refused
from enfilade.lengths import System
from enfilade.listing import joined
from enfilade.times import MONTHS

__all__ = ["no_value", "read_typed"]

_LONGEST: Final = 200_000
_MANY: Final = 5000
_MONTHS: Final = tuple(month[:3].lower() for month in MONTHS)
_DAY: Final = "a day such as 2026-03-31, or 31 March 2026"
_YES: Final = {"yes": True, "true": True, "no": False, "false": False}


def no_value(typed: Any) -> bool:
    """Tell whether nothing was typed."""
    return typed is None or (isinstance(typed, str) and not typed.strip())


def read_typed(typed: Any, field: str, shape: Shape, system: System) -> Any:
    """Return the value that was typed, for a field that holds no records and leads to none.

    Args:
        typed: Text as it was typed; a list of texts where a field holds several; `true` or `false`.
        field: Name of the field, which ends in its unit.
        shape: What the field takes.
        system: Units of the project: a bare number is in inches, or in millimetres.
    Raises:
        Refused: It cannot be read, in words for who typed it.
    """
    if shape.kind in ("choices", "texts", "lengths", "numbers", "point", "point list", "by field"):
        return _MANY_READERS[shape.kind](typed, field, shape, system)
    if shape.kind == "yes-no" and isinstance(typed, bool):
        return typed
    text = _text(typed)
    if shape.kind in ("text", "longtext"):
        return _within_length(text if shape.kind == "longtext" else " ".join(text.split()), shape)
    plain = text.strip()
    reader = _READERS.get(shape.kind)
    if reader is None:
        raise Refused("this cannot be typed here")
    return reader(plain, field, shape, system)


def _text(typed: Any) -> str:
    if isinstance(typed, int | float) and not isinstance(typed, bool):
        typed = repr(typed)
    if not isinstance(typed, str) or len(typed) > _LONGEST:
        raise Refused("this is not text", expected=f"text of at most {_LONGEST:,} signs")
    return typed.replace("\r\n", "\n").replace("\r", "\n")


def _within_length(text: str, shape: Shape) -> str:
    if shape.longest is not None and len(text) > shape.longest:
        raise Refused(f"{len(text):,} signs are too many", expected=f"at most {shape.longest:,}")
    return text


def _day(text: str, field: str, shape: Shape, system: System) -> dt.date:
    # 3/4/2026 is March to one reader and April to another, so it is not read.
    plain = text.strip().lower().replace(",", " ")
    iso = re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", plain)
    said = re.fullmatch(r"(\d{1,2})\.?\s+([a-z]{3,9})\.?\s+(\d{4})", plain)
    first = re.fullmatch(r"([a-z]{3,9})\.?\s+(\d{1,2})\s+(\d{4})", plain)
    if iso:
        year, month, day = iso[1], iso[2], iso[3]
    elif said or first:
        name = said[2] if said else first[1] if first else ""
        day, year = (said[1], said[3]) if said else (first[2], first[3]) if first else ("", "")
        month = str(_MONTHS.index(name[:3]) + 1) if name[:3] in _MONTHS else "0"
    else:
        raise Refused(f"{quoted(text)} is not a day", expected=_DAY)
    try:
        return dt.date(int(year), int(month), int(day))
    except ValueError as error:
        raise Refused(f"{quoted(text)} is not in the calendar", expected=_DAY) from error


def _choice(text: str, field: str, shape: Shape, system: System) -> str:
    found = next((word for word in shape.words if word == text), None)
    found = found or next((word for word in shape.words if word.casefold() == text.casefold()), None)
    if found is None:
        raise Refused(f"{quoted(text)} is not one of the choices", expected=joined(shape.words, last="or"))
    return found


def _yes_no(text: str, field: str, shape: Shape, system: System) -> bool:
    if text.lower() not in _YES:
        raise Refused(f"{quoted(text)} is neither yes nor no", expected="yes or no")
    return _YES[text.lower()]


def _colour(text: str, field: str, shape: Shape, system: System) -> str:
    plain = text.lower() if text.startswith("#") else f"#{text.lower()}"
    short = re.fullmatch(r"#([0-9a-f])([0-9a-f])([0-9a-f])", plain)
    plain = "#" + "".join(2 * sign for sign in short.groups()) if short else plain
    if not re.fullmatch(r"#[0-9a-f]{6}", plain):
        raise Refused(f"{quoted(text)} is not a colour", expected="`#` and six signs of 0-9 and a-f, such as #b08850")
    return plain


def _several(typed: Any, parted: str) -> list[Any]:
    if isinstance(typed, str):
        typed = [part for part in re.split(parted, typed) if part.strip()]
    if typed is None:
        return []
    if not isinstance(typed, list | tuple):
        raise Refused("this is not a list", expected="a list")
    if len(typed) > _MANY:
        raise Refused(f"{len(typed):,} are too many", expected=f"at most {_MANY:,}")
    return list(typed)


def _choices(typed: Any, field: str, shape: Shape, system: System) -> tuple[str, ...]:
    chosen = {_choice(_text(one).strip(), field, shape, system) for one in _several(typed, r"[;,\n]")}
    return tuple(word for word in shape.words if word in chosen)


def _texts(typed: Any, field: str, shape: Shape, system: System) -> tuple[str, ...]:
    lines = (_text(one).strip() for one in _several(typed, "\n"))
    return tuple(_within_length(line, shape) for line in lines if line)


def _lengths(typed: Any, field: str, shape: Shape, system: System) -> tuple[float, ...]:
    # A comma parts two lengths only when a space follows it: 12,5 is no pair.
    return tuple(length(_text(one).strip(), field, shape, system) for one in _several(typed, r";|,\s+|\n"))


def _numbers(typed: Any, field: str, shape: Shape, system: System) -> tuple[float, ...]:
    return tuple(number(_text(one).strip(), field, shape, system) for one in _several(typed, r";|,\s+|\s+|\n"))


def _point(typed: Any, field: str, shape: Shape, system: System) -> tuple[float, ...]:
    pair = _several(typed, r";|,\s+")
    if len(pair) != 2:
        raise Refused("a corner has two lengths", expected="one across and one up the plan")
    return tuple(length(_text(one).strip(), field, shape, system) for one in pair)


def _points(typed: Any, field: str, shape: Shape, system: System) -> tuple[tuple[float, ...], ...]:
    return tuple(_point(one, field, shape, system) for one in _several(typed, "\n"))


def _by_field(typed: Any, field: str, shape: Shape, system: System) -> dict[str, str]:
    if not isinstance(typed, dict) or len(typed) > _MANY:
        raise Refused("this is not a word for each field", expected="a word for each field")
    return {str(name): _choice(_text(word).strip(), field, shape, system) for name, word in typed.items()}


_READERS: Final[dict[str, Callable[[str, str, Shape, System], Any]]] = {
    "length": length, "number": number, "whole": count, "money": amount, "day": _day, "choice": _choice,
    "yes-no": _yes_no, "colour": _colour,
}  # fmt: skip
_MANY_READERS: Final[dict[str, Callable[[Any, str, Shape, System], Any]]] = {
    "choices": _choices, "texts": _texts, "lengths": _lengths, "numbers": _numbers, "point": _point,
    "point list": _points, "by field": _by_field,
}  # fmt: skip
