"""What a person typed into one field, read as its annotation asks."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from decimal import Decimal
from typing import Any, Final

from enfilade.editing.field_shape import Shape
from enfilade.editing.shown import bare_unit, length_words, stored_unit
from enfilade.errors import EnfiladeError, Refused
from enfilade.lengths import System, parse_length
from enfilade.quantities import Unit, convert

__all__ = ["no_value", "read_typed"]

_LONGEST: Final = 200_000
_MANY: Final = 5000
_GROUPED: Final = re.compile(r"\d{1,3}(?:[ ,\u00a0\u202f']\d{3})+(?:\.\d+)?|\d+(?:\.\d*)?|\.\d+")
_DECIMAL_COMMA: Final = re.compile(r"(\d[\d. ']*),(\d{1,2}|\d{4,})")
_UNITS: Final[dict[str, Unit]] = {
    "m3/h": "m3/h", "m³/h": "m3/h", "cfm": "cfm", "l": "l", "litres": "l", "liters": "l", "litre": "l", "liter": "l",
    "cu ft": "cu ft", "cubic feet": "cu ft", "ft³": "cu ft", "m2": "m2", "m²": "m2", "sq ft": "sq ft",
    "square feet": "sq ft", "ft²": "sq ft", "sq in": "sq in", "deg": "deg", "degrees": "deg", "°": "deg",
}  # fmt: skip
_DAYS: Final = {"": 1, "day": 1, "days": 1, "week": 7, "weeks": 7}
_MONTHS: Final = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
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
    if shape.kind in ("choices", "texts", "lengths", "point", "point list", "by field"):
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


def _length(text: str, field: str, shape: Shape, system: System) -> float:
    value = parse_length(text, bare=bare_unit(field, shape, system))
    return _within(value, shape, lambda end: length_words(end, field, system), text)


def _number(text: str, field: str, shape: Shape, system: System) -> float:
    kept, read = stored_unit(field), bare_unit(field, shape, system)
    number, rest = _split(text)
    unit = _UNITS.get(rest) if rest else read
    if rest and (unit is None or kept is None):
        raise Refused(f"{rest!r} is not a unit of this", expected=f"a number in {read}" if read else "a number alone")
    value = float(number)
    if unit and kept:
        try:
            value = convert(value, unit, kept)
        except EnfiladeError as error:
            raise Refused(f"{rest!r} is not a unit of this", expected=f"a number in {read}") from error
    return _within(value, shape, lambda end: f"{convert(end, kept, read) if kept and read else end:g}", text)


def _whole(text: str, field: str, shape: Shape, system: System) -> int:
    number, rest = _split(text)
    times = _DAYS.get(rest) if field.endswith("_days") else (1 if not rest else None)
    if times is None or number != int(number) or abs(number) > 10**12:
        raise Refused(f"{text[:40]!r} is not a whole number", expected="a count such as 3")
    return int(_within(float(number) * times, shape, lambda end: f"{end:g}", text))


def _money(text: str, field: str, shape: Shape, system: System) -> Decimal:
    # A currency may stand before or after: it is the project's, and is not read. `5 k` is no currency.
    bare = re.sub(r"^(?:[A-Z]{3}|[$€£¥])\s*(?=[\d.-])|\s*(?:[A-Z]{3}|[$€£¥])$", "", text)
    number, rest = _split(bare)
    if rest:
        raise Refused(f"{text[:40]!r} is not an amount", expected="an amount such as 1,250.50")
    if number != round(number, 2):
        raise Refused(f"{text[:40]!r} has parts of a cent", expected="at most two decimals")
    if number >= 10**12:
        raise Refused(f"{text[:40]!r} is too much", expected="less than a million million")
    _within(float(number), shape, lambda end: f"{end:g}", text)
    return number


def _split(text: str) -> tuple[Decimal, str]:
    """Return the number that a text begins with, and the words that follow it."""
    sign, plain = (-1, text[1:].strip()) if text[:1] in ("-", "−") else (1, text)
    comma = _DECIMAL_COMMA.match(plain)
    grouped = _GROUPED.match(plain)
    if comma and not (grouped and "," in grouped.group()):
        point = f"{re.sub(r'[. ]', '', comma[1])}.{comma[2]}"
        raise Refused(f"{text[:40]!r} has a comma before its decimals", expected=f"a point, as in {point}")
    if not grouped or len(grouped.group()) > 24:
        raise Refused(f"{text[:40]!r} is not a number", expected="a number such as 12 or 12.5")
    rest = plain[grouped.end() :]
    if rest[:1] in (",", ".", "'") or rest[:1].isdigit():
        raise Refused(
            f"{text[:40]!r} is not a number", expected="a point before decimals, commas between thousands: 1,250.50"
        )
    digits = re.sub(r"[ ,\u00a0\u202f']", "", grouped.group())
    return sign * Decimal(digits), rest.strip().lower().rstrip(".")


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
        raise Refused(f"{text[:40]!r} is not a day", expected=_DAY)
    try:
        return dt.date(int(year), int(month), int(day))
    except ValueError as error:
        raise Refused(f"{text[:40]!r} is not in the calendar", expected=_DAY) from error


def _choice(text: str, field: str, shape: Shape, system: System) -> str:
    found = next((word for word in shape.words if word == text), None)
    found = found or next((word for word in shape.words if word.casefold() == text.casefold()), None)
    if found is None:
        raise Refused(f"{text[:40]!r} is not one of the choices", expected=_either(shape.words))
    return found


def _yes_no(text: str, field: str, shape: Shape, system: System) -> bool:
    if text.lower() not in _YES:
        raise Refused(f"{text[:40]!r} is neither yes nor no", expected="yes or no")
    return _YES[text.lower()]


def _colour(text: str, field: str, shape: Shape, system: System) -> str:
    plain = text.lower() if text.startswith("#") else f"#{text.lower()}"
    short = re.fullmatch(r"#([0-9a-f])([0-9a-f])([0-9a-f])", plain)
    plain = "#" + "".join(2 * sign for sign in short.groups()) if short else plain
    if not re.fullmatch(r"#[0-9a-f]{6}", plain):
        raise Refused(f"{text[:40]!r} is not a colour", expected="`#` and six signs of 0-9 and a-f, such as #b08850")
    return plain


def _within(value: float, shape: Shape, words: Callable[[float], str], typed: str) -> float:
    low, high = shape.low, shape.high
    # The least size of the records is a hundredth of a millimetre: in words, more than nothing.
    nothing = low is not None and (low == 0.01 or (low == 0 and shape.above))
    if low is not None and (value < low or (shape.above and value == low)):
        least = "more than 0" if nothing else f"{'more than' if shape.above else 'at least'} {words(low)}"
        raise Refused(f"{typed[:40]} is too little", expected=least)
    if high is not None and value > high:
        raise Refused(f"{typed[:40]} is too much", expected=f"at most {words(high)}")
    return value


def _several(typed: Any, parted: str) -> list[Any]:
    if isinstance(typed, str):
        typed = [part for part in re.split(parted, typed) if part.strip()]
    if typed is None:
        return []
    if not isinstance(typed, list | tuple) or len(typed) > _MANY:
        raise Refused("this is not a list", expected="a list")
    return list(typed)


def _choices(typed: Any, field: str, shape: Shape, system: System) -> tuple[str, ...]:
    chosen = {_choice(_text(one).strip(), field, shape, system) for one in _several(typed, r"[;,\n]")}
    return tuple(word for word in shape.words if word in chosen)


def _texts(typed: Any, field: str, shape: Shape, system: System) -> tuple[str, ...]:
    lines = (_text(one).strip() for one in _several(typed, "\n"))
    return tuple(_within_length(line, shape) for line in lines if line)


def _lengths(typed: Any, field: str, shape: Shape, system: System) -> tuple[float, ...]:
    # A comma parts two lengths only when a space follows it: 12,5 is no pair.
    return tuple(_length(_text(one).strip(), field, shape, system) for one in _several(typed, r";|,\s+|\n"))


def _point(typed: Any, field: str, shape: Shape, system: System) -> tuple[float, ...]:
    pair = _several(typed, r";|,\s+")
    if len(pair) != 2:
        raise Refused("a corner has two lengths", expected="one across and one up the plan")
    return tuple(_length(_text(one).strip(), field, shape, system) for one in pair)


def _points(typed: Any, field: str, shape: Shape, system: System) -> tuple[tuple[float, ...], ...]:
    return tuple(_point(one, field, shape, system) for one in _several(typed, "\n"))


def _by_field(typed: Any, field: str, shape: Shape, system: System) -> dict[str, str]:
    if not isinstance(typed, dict) or len(typed) > _MANY:
        raise Refused("this is not a word for each field", expected="a word for each field")
    return {str(name): _choice(_text(word).strip(), field, shape, system) for name, word in typed.items()}


def _either(words: tuple[str, ...]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else "".join(words)


_READERS: Final[dict[str, Callable[[str, str, Shape, System], Any]]] = {
    "length": _length, "number": _number, "whole": _whole, "money": _money, "day": _day, "choice": _choice,
    "yes-no": _yes_no, "colour": _colour,
}  # fmt: skip
_MANY_READERS: Final[dict[str, Callable[[Any, str, Shape, System], Any]]] = {
    "choices": _choices, "texts": _texts, "lengths": _lengths, "point": _point, "point list": _points,
    "by field": _by_field,
}  # fmt: skip
