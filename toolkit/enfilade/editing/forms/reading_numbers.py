"""Numbers as people type them: lengths, counts, amounts, with and without their units."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from typing import Final

from enfilade.editing.forms.field_shape import Shape
from enfilade.editing.forms.shown import bare_unit, length_words, number_words, stored_unit
from enfilade.editing.forms.times import duration, is_pace, is_time, pace, pace_unit, told_length
from enfilade.editing.quoting import quoted, told_back
from enfilade.errors import EnfiladeError, Refused
from enfilade.lengths import System, parse_length
from enfilade.quantities import Unit, convert

__all__ = ["amount", "count", "length", "number"]

_GROUPED: Final = re.compile(r"\d{1,3}(?:[ ,\u00a0\u202f']\d{3})+(?:\.\d+)?|\d+(?:\.\d*)?|\.\d+")
_DECIMAL_COMMA: Final = re.compile(r"(\d[\d. ']*),(\d{1,2}|\d{4,})")
_UNITS: Final[dict[str, Unit]] = {
    "m3/h": "m3/h", "m³/h": "m3/h", "cfm": "cfm", "l": "l", "litres": "l", "liters": "l", "litre": "l", "liter": "l",
    "cu ft": "cu ft", "cubic feet": "cu ft", "ft³": "cu ft", "m2": "m2", "m²": "m2", "sq ft": "sq ft",
    "square feet": "sq ft", "ft²": "sq ft", "sq in": "sq in", "deg": "deg", "degrees": "deg", "°": "deg",
}  # fmt: skip
_TOLD_IN: Final = "target_s"
"""How long the house should be told: people say it in minutes."""
_DAYS: Final = {"": 1, "day": 1, "days": 1, "week": 7, "weeks": 7}


def length(text: str, field: str, shape: Shape, system: System) -> float:
    """Return a length [mm]; a bare number is in the unit of the project."""
    try:
        value = parse_length(text, bare=bare_unit(field, shape, system))
    except EnfiladeError as error:
        raise Refused(told_back(error.what, text), expected=error.expected, do=error.do) from error
    return _within(value, shape, lambda end: length_words(end, field, system), text)


def number(text: str, field: str, shape: Shape, system: System) -> float:
    """Return a number in the unit of its record."""
    if is_time(field):
        seconds = told_length(text) if field == _TOLD_IN else duration(text)
        return _within(seconds, shape, lambda end: number_words(end, field, shape, system), text)
    if is_pace(field):
        return _pace(text, field, shape, system)
    kept, read = stored_unit(field), bare_unit(field, shape, system)
    found, rest = _split(text)
    unit = _UNITS.get(rest) if rest else read
    if rest and (unit is None or kept is None):
        alone = f"a number in {read}" if read else "a number alone"
        raise Refused(f"{quoted(rest)} is not a unit of this", expected=alone)
    value = float(found)
    if unit and kept:
        try:
            value = convert(value, unit, kept)
        except EnfiladeError as error:
            raise Refused(f"{quoted(rest)} is not a unit of this", expected=f"a number in {read}") from error
    return _within(value, shape, lambda end: f"{convert(end, kept, read) if kept and read else end:g}", text)


def _pace(text: str, field: str, shape: Shape, system: System) -> float:
    found, rest = _split(text)
    value = pace(float(found), rest, system)
    if value is None:
        raise Refused(f"{quoted(rest)} is not a unit of this", expected=f"a number in {pace_unit(system)}")
    words = f" {pace_unit(system)}"
    return _within(value, shape, lambda end: number_words(end, field, shape, system) + words, text)


def count(text: str, field: str, shape: Shape, system: System) -> int:
    """Return a whole number; of days, weeks are read too."""
    found, rest = _split(text)
    times = _DAYS.get(rest) if field.endswith("_days") else (1 if not rest else None)
    if times is None or found != int(found) or abs(found) > 10**12:
        raise Refused(f"{quoted(text)} is not a whole number", expected="a count such as 3")
    return int(_within(float(found) * times, shape, lambda end: f"{end:g}", text))


def amount(text: str, field: str, shape: Shape, system: System) -> Decimal:
    """Return an amount, read without its currency."""
    # A currency may stand before or after: it is the project's, and is not read. `5 k` is no currency.
    bare = re.sub(r"^(?:[A-Z]{3}|[$€£¥])\s*(?=[\d.-])|\s*(?:[A-Z]{3}|[$€£¥])$", "", text)
    found, rest = _split(bare)
    if rest:
        raise Refused(f"{quoted(text)} is not an amount", expected="an amount such as 1,250.50")
    if found != round(found, 2):
        raise Refused(f"{quoted(text)} has parts of a cent", expected="at most two decimals")
    if found >= 10**12:
        raise Refused(f"{quoted(text)} is too much", expected="less than a million million")
    _within(float(found), shape, lambda end: f"{end:g}", text)
    return found


def _split(text: str) -> tuple[Decimal, str]:
    """Return the number that a text begins with, and the words that follow it."""
    sign, plain = (-1, text[1:].strip()) if text[:1] in ("-", "−") else (1, text)
    comma = _DECIMAL_COMMA.match(plain)
    grouped = _GROUPED.match(plain)
    if comma and not (grouped and "," in grouped.group()):
        point = f"{re.sub(r'[. ]', '', comma[1])}.{comma[2]}"
        raise Refused(f"{quoted(text)} has a comma before its decimals", expected=f"a point, as in {point}")
    if not grouped or len(grouped.group()) > 24:
        raise Refused(f"{quoted(text)} is not a number", expected="a number such as 12 or 12.5")
    rest = plain[grouped.end() :]
    if rest[:1] in (",", ".", "'") or rest[:1].isdigit():
        raise Refused(
            f"{quoted(text)} is not a number", expected="a point before decimals, commas between thousands: 1,250.50"
        )
    digits = re.sub(r"[ ,\u00a0\u202f']", "", grouped.group())
    return sign * Decimal(digits), rest.strip().lower().rstrip(".")


def _within(value: float, shape: Shape, words: Callable[[float], str], typed: str) -> float:
    low, high = shape.low, shape.high
    # The least size of the records is a hundredth of a millimetre: in words, more than nothing.
    nothing = low is not None and (low == 0.01 or (low == 0 and shape.above))
    if low is not None and (value < low or (shape.above and value == low)):
        least = "more than 0" if nothing else f"{'more than' if shape.above else 'at least'} {words(low)}"
        raise Refused(f"{quoted(typed)} is too little", expected=least)
    if high is not None and value > high:
        raise Refused(f"{quoted(typed)} is too much", expected=f"at most {words(high)}")
    return value
