"""Lengths: millimetres inside, feet and inches or metric at the edges.

An inch is 25.4 mm exactly (international yard and pound agreement, 1959).
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Final, Literal

from enfilade.errors import OutOfRange, Refused

__all__ = [
    "FOOT_MM",
    "INCH_MM",
    "LIMIT_MM",
    "TOLERANCE_MM",
    "System",
    "inches",
    "parse_length",
    "show_inches",
    "show_length",
    "show_size",
    "shown_parts",
    "to_inches",
]

System = Literal["us", "metric"]

INCH_MM: Final = 25.4
FOOT_MM: Final = 12 * INCH_MM
TOLERANCE_MM: Final = 0.8
"""Half of 1/16 in, rounded up: two lengths closer than this are one length on site."""

LIMIT_MM: Final = 1_000_000.0
"""No length of a house is over a kilometre; a larger number is a slip of the hand."""

_SIXTEENTH_MM: Final = INCH_MM / 16
_UNIT_MM: Final = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": INCH_MM,
    '"': INCH_MM,
    "ft": FOOT_MM,
    "'": FOOT_MM,
}
_MARKS: Final = (
    ("\u2032", "'"), ("\u2019", "'"), ("\u2033", '"'), ("\u201d", '"'), ("''", '"'), ("\u2212", "-"),
)  # fmt: skip
_FORMS: Final = """10' 11 1/4", 131.25", 131 1/4 in, 3.35 m, 335 cm, 3350 mm"""

_NUMBER: Final = r"(?:\d+\s+\d+/\d+|\d+-\d+/\d+|\d+/\d+|\d+\.\d*|\.\d+|\d+)"
_FEET_INCHES: Final = re.compile(
    rf"""^(?P<sign>-?)\s*(?P<feet>{_NUMBER})\s*(?:'|ft)\s*-?\s*(?:(?P<inches>{_NUMBER})\s*(?:"|in)?)?$"""
)
_THOUSANDS: Final = re.compile(r"(?<![\d,.])[1-9]\d{0,2}(?:,\d{3})+(?![\d,])")
_ONE_UNIT: Final = re.compile(rf"""^(?P<sign>-?)\s*(?P<number>{_NUMBER})\s*(?P<unit>mm|cm|m|in|"|ft|')?$""")


def inches(value: float) -> float:
    """Return the millimetres in `value` inches.

    >>> inches(42)
    1066.8
    """
    return round(value * INCH_MM, 9)


def to_inches(value_mm: float) -> float:
    """Return the inches in `value_mm` millimetres.

    >>> to_inches(1066.8)
    42.0
    """
    return round(value_mm / INCH_MM, 9)


def _number(text: str) -> Fraction:
    try:
        # Any white space parts the whole from the fraction: a tab, or the hard space of a word processor.
        return sum((Fraction(part) for part in text.replace("-", " ").split()), Fraction(0))
    except ZeroDivisionError as error:
        raise Refused(f"fraction {text!r} divides by zero", expected=_FORMS) from error


def parse_length(text: str | float, *, bare: str | None = "mm") -> float:
    """Read a typed length.

    Args:
        text: Feet and inches (`10' 11 1/4"`), inches, metres, centimetres or millimetres,
            with typographic or plain marks; or a number.
        bare: Unit of a number without one (`mm`, `in`, ...); None refuses it.
    Returns:
        The length [mm].
    Raises:
        Refused: The text is not a length.
        OutOfRange: It is not finite, or beyond `LIMIT_MM` either way.

    >>> parse_length("10' 11 1/4\\"")
    3333.75
    >>> parse_length("3.35 m")
    3350.0
    >>> parse_length("42", bare="in")
    1066.8
    """
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise Refused(f"{text!r} is not a length", expected=_FORMS)
    if bare is not None and bare not in _UNIT_MM:
        raise Refused(f"unit {bare!r} is unknown", expected=", ".join(_UNIT_MM))
    if isinstance(text, str):
        value = _typed(text, bare)
    elif bare is None:
        raise Refused(f"{text!r} has no unit", expected=_FORMS)
    elif abs(text) > LIMIT_MM:  # before any product, which a whole number of a thousand digits would break
        raise OutOfRange(f"length {_cut(text)} is out of range", expected=f"at most {LIMIT_MM:.0f} mm")
    else:
        value = text * _UNIT_MM[bare]
    if not math.isfinite(value) or abs(value) > LIMIT_MM:
        raise OutOfRange(f"length {text!r} is out of range", expected=f"at most {LIMIT_MM:.0f} mm")
    return round(float(value), 9) + 0.0  # there is no minus nought


def _cut(number: float) -> str:
    whole = isinstance(number, int) and number.bit_length() > 200
    return f"of {int(number).bit_length()} bits" if whole else repr(number)


def _typed(text: str, bare: str | None) -> float:
    if len(text) > 40:
        raise Refused(f"{text[:20]!r}... is not a length", expected=_FORMS)
    plain = text.strip().lower()
    for mark, sign in _MARKS:
        plain = plain.replace(mark, sign)
    if match := _FEET_INCHES.match(plain):
        over = _number(match["inches"]) if match["inches"] else Fraction(0)
        value = _number(match["feet"]) * 12 + over
        if over >= 12:
            carried = f"{match['sign']}{_carried(value)}"
            raise Refused(f"{text!r} has 12 inches or more after its feet: write {carried}", expected=_FORMS)
        return float(value * Fraction("25.4")) * (-1 if match["sign"] else 1)
    match = _ONE_UNIT.match(plain)
    if match is None:
        raise Refused(f"{text!r} is not a length{_without_comma(plain)}", expected=_FORMS)
    unit = match["unit"] or bare
    if unit is None:
        raise Refused(f"{text!r} has no unit", expected=_FORMS)
    return float(_number(match["number"]) * Fraction(str(_UNIT_MM[unit]))) * (-1 if match["sign"] else 1)


def _carried(value_in: Fraction) -> str:
    """Write inches as feet and inches, as exactly as they were typed."""
    feet, rest = divmod(value_in, 12)
    whole, part = divmod(rest, 1)
    if part.denominator not in (1, 2, 4, 8, 16, 32, 64):
        return f"{feet}' {float(rest):.10g}\""
    return f"{feet}' {whole} {part}\"" if part else f"{feet}' {whole}\""


def _without_comma(plain: str) -> str:
    """Say how a length that holds a comma is written, in each way that it may have been meant; else nothing."""
    # Three digits after it are thousands to one reader and decimals to another.
    meant = [plain.replace(",", "")] if _THOUSANDS.search(plain) else []
    meant += [plain.replace(",", ".")] if plain.count(",") == 1 else []
    read = [way for way in meant if _reads(way)]
    return f": write {' or '.join(read)}" if read else ""


def _reads(text: str) -> bool:
    try:
        parse_length(text)
    except (Refused, OutOfRange):
        return False
    return True


def show_length(value_mm: float, system: System) -> str:
    """Write a length for reading: to 1/16 in, or to the millimetre.

    >>> show_length(3333.75, "us")
    '10\\' 11 1/4"'
    >>> show_length(3333.75, "metric")
    '3334 mm'
    >>> show_length(571.5, "us")
    '1\\' 10 1/2"'
    """
    if system == "metric":
        return f"{_half_up(value_mm)} mm"
    return _sixteenths(_half_up(value_mm / _SIXTEENTH_MM))


def show_inches(value_mm: float) -> str:
    """Write a length in inches alone, to 1/16 in, as cabinet and clearance sizes are read.

    >>> show_inches(1066.8)
    '42"'
    """
    return _sixteenths(_half_up(value_mm / _SIXTEENTH_MM), feet=False)


def show_size(value_mm: float, system: System) -> str:
    """Write the size of a thing: inches alone, as cabinets and appliances are ordered, or millimetres.

    >>> show_size(914.4, "us"), show_size(914.4, "metric")
    ('36"', '914 mm')
    """
    return show_inches(value_mm) if system == "us" else show_length(value_mm, system)


def shown_parts(parts_mm: Sequence[float], system: System) -> tuple[tuple[str, ...], str]:
    """Write the parts of a dimension string so that the shown parts add up to the shown total.

    Each part is rounded down or up to 1/16 in (or 1 mm); those that lose most by rounding
    down are rounded up, until the sum is the rounded total.

    Args:
        parts_mm: The parts in order, 0 or more each [mm].
        system: `us` or `metric`.
    Returns:
        The shown parts, and the shown total.

    >>> shown_parts([1.5, 1.5], "metric")
    (('2 mm', '1 mm'), '3 mm')
    """
    step = 1.0 if system == "metric" else _SIXTEENTH_MM
    counts = [part / step for part in parts_mm]
    total = _half_up(sum(counts))
    steps = [math.floor(count + 1e-9) for count in counts]
    order = sorted(range(len(counts)), key=lambda i: (steps[i] - counts[i], i))
    for index in order[: max(0, total - sum(steps))]:
        steps[index] += 1
    write = (lambda n: f"{n} mm") if system == "metric" else _sixteenths
    return tuple(write(count) for count in steps), write(total)


def _half_up(value: float) -> int:
    # Python rounds halves to even; on a drawing 0.5 always goes up, so that equal parts read alike.
    if not math.isfinite(value):
        raise OutOfRange(f"length {value!r} cannot be shown", expected="a finite length")
    return math.floor(abs(value) + 0.5 + 1e-9) * (-1 if value < 0 else 1)


@lru_cache(maxsize=4096)
def _sixteenths(count: int, *, feet: bool = True) -> str:
    sign, count = ("-" if count < 0 else ""), abs(count)
    feet_count, rest = divmod(count, 12 * 16) if feet else (0, count)
    whole, part = divmod(rest, 16)
    fraction = f"{Fraction(part, 16)}" if part else ""
    if feet_count == 0 and whole == 0 and fraction:
        return f'{sign}{fraction}"'
    inch = f'{whole} {fraction}"' if fraction else f'{whole}"'
    return f"{sign}{feet_count}' {inch}" if feet_count else f"{sign}{inch}"
