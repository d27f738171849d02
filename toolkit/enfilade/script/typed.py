"""Figures that were typed by hand into a line: where they stand, what they measure, and how finely."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Literal

from enfilade.lengths import FOOT_MM, INCH_MM
from enfilade.script.rounding import Part
from enfilade.script.typed_numbers import Number, Token, joined, number_at, tokens_of
from enfilade.script.wording import CURRENCIES
from enfilade.times import MONTHS

__all__ = ["Typed", "typed_figures", "with_unit_of"]

TypedKind = Literal["length", "area", "volume", "share", "angle", "money", "number"]


@dataclass(frozen=True, slots=True)
class Typed:
    """One figure that was typed.

    Attributes:
        kind: What it measures; `number` is a bare number, which the words after it may make a count.
        value: In mm, m2, litres, per cent, degrees, or the number itself.
        fine: Half of its last place, in the same unit; `fineness.range_of` says how far off it may be.
        parts: The numbers with their units, as they were typed.
        start, end: Where it stands in the text, unit included.
        number_end: Where the last number of it ends.
        digits: Whether it was typed in digits.
        currency: Of money.
        last: Place of its last token.
    """

    kind: TypedKind
    value: float
    fine: float
    parts: tuple[Part, ...]
    start: int
    end: int
    number_end: int
    digits: bool
    currency: str = ""
    first: int = 0
    last: int = 0


_LENGTHS: Final[dict[str, tuple[str, float]]] = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), ("mm", 1.0)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), ("cm", 10.0)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), ("m", 1000.0)),
    **dict.fromkeys(("in", "inch", "inches", '"', "\u2033", "\u201d"), ("in", INCH_MM)),
    **dict.fromkeys(("ft", "foot", "feet", "'", "\u2032", "\u2019"), ("ft", FOOT_MM)),
}
_AREA_M2: Final = {"m": ("m2", 1.0), "ft": ("sq ft", FOOT_MM**2 / 1e6)}
_LITRES: Final = frozenset({"litre", "litres", "liter", "liters"})
_OPEN: Final = re.compile('(?<![0-9½¼¾⅛⅜⅝⅞])["\u201c\u201d]')
_MARKS: Final = frozenset("\"'\u2032\u2033\u2019\u201d")
_MONEY_WORDS: Final = {
    **dict.fromkeys(("dollar", "dollars"), "USD"), **dict.fromkeys(("euro", "euros"), "EUR"),
    **dict.fromkeys(("pound", "pounds"), "GBP"), **dict.fromkeys(("franc", "francs"), "CHF"),
}  # fmt: skip
# After these words `in` is no inch: `14 in summer`, `3 in the study`.
_PLAIN_IN = """
the a an this that these those each every all both our your their his her its my one some any no which what front
summer winter spring autumn fall total turn line place case fact time use a.m p.m here there it them us
"""
_NOT_INCH: Final = frozenset({*_PLAIN_IN.split(), *map(str.lower, MONTHS)})
_ENDS: Final = frozenset(
    {"", ".", ",", ";", ":", ")", "wide", "long", "deep", "high", "tall", "across", "thick", "by", "and"}
)
"""What may follow `eight foot ten` or `two metres forty`, so that the last number is of no other thing."""


def typed_figures(text: str, tokens: Sequence[Token] | None = None) -> tuple[Typed, ...]:
    """Return every figure of a text, written in digits or in words, in order."""
    quotes = [match.start() for match in _OPEN.finditer(text)]
    return tuple(_figures(quotes, tokens_of(text) if tokens is None else tokens))


def _figures(quotes: Sequence[int], tokens: Sequence[Token]) -> Iterator[Typed]:
    at = 0
    while at < len(tokens):
        number = number_at(tokens, at)
        if number is None:
            at += 1
            continue
        typed = _with_unit(quotes, tokens, number)
        yield typed
        at = typed.last + 1


def _with_unit(quotes: Sequence[int], tokens: Sequence[Token], number: Number) -> Typed:
    at = number.next
    currency = tokens[number.start - 1].text if number.start else ""
    if number.digits and currency in CURRENCIES:
        return _typed("money", number, 1.0, "money", tokens, at - 1, currency=currency, first=number.start - 1)
    if at < len(tokens) and tokens[at].text == "-" and joined(tokens, at - 1, at + 1):
        at += 1  # an eight-foot table
    at = _past_of_a(tokens, number, at)
    square = at + 1 < len(tokens) and tokens[at].word in ("square", "sq")
    unit_at = at
    if square:
        unit_at = at + 2 if tokens[at + 1].text == "." and at + 2 < len(tokens) else at + 1
    if unit_at < len(tokens) and (unit := _LENGTHS.get(tokens[unit_at].word)) is not None:
        if square or (
            unit_at + 1 < len(tokens)
            and tokens[unit_at + 1].text in ("²", "2")
            and joined(tokens, unit_at, unit_at + 1)
        ):
            if unit[0] in _AREA_M2:
                name, m2 = _AREA_M2[unit[0]]
                return _typed("area", number, m2, name, tokens, unit_at + (0 if square else 1))
        elif _is_length(quotes, tokens, number, unit_at):
            return _length(quotes, tokens, number, unit_at)
    return _other(tokens, number, at)


def _past_of_a(tokens: Sequence[Token], number: Number, at: int) -> int:
    """Return the place of the unit after a fraction: five eighths `of an` inch."""
    of_a = at + 2 < len(tokens) and tokens[at].word == "of" and tokens[at + 1].word in ("a", "an")
    return at + 2 if of_a and number.value < 1 and tokens[at + 2].word in _LENGTHS else at


def _other(tokens: Sequence[Token], number: Number, at: int) -> Typed:
    word = tokens[at].word if at < len(tokens) else ""
    after = tokens[at + 1].word if at + 1 < len(tokens) else ""
    if word == "%" or word == "percent":
        return _typed("share", number, 1.0, "%", tokens, at)
    if word == "per" and after == "cent":
        return _typed("share", number, 1.0, "%", tokens, at + 1)
    if word == "°":
        return _typed("angle", number, 1.0, "deg", tokens, at)
    if word in _LITRES:
        return _typed("volume", number, 1.0, "l", tokens, at)
    if word in _MONEY_WORDS:
        return _typed("money", number, 1.0, "money", tokens, at, currency=_MONEY_WORDS[word])
    if at < len(tokens) and tokens[at].text in CURRENCIES:
        return _typed("money", number, 1.0, "money", tokens, at, currency=tokens[at].text)
    return _typed("number", number, 1.0, "count", tokens, number.next - 1)


def _is_length(quotes: Sequence[int], tokens: Sequence[Token], number: Number, at: int) -> bool:
    mark, close = tokens[at].text, tokens[at].start == tokens[at - 1].end
    if mark in _MARKS:
        if not (number.digits and close):
            return False
        # A quotation that ends in a number: its first sign stands open.
        return mark not in '"\u201d' or bisect_left(quotes, tokens[at].start) % 2 == 0
    if mark == "m" and not number.digits:
        return False
    if tokens[at].word != "in":
        return True
    if not number.digits or (close and not tokens[at].text.islower()):
        return number.digits
    after = tokens[at + 1].word if at + 1 < len(tokens) else ""
    return after not in _NOT_INCH and not (after[:1].isdigit() and len(after) == 4)


def _length(quotes: Sequence[int], tokens: Sequence[Token], number: Number, at: int) -> Typed:
    unit, mm = _LENGTHS[tokens[at].word]
    parts = (Part(number.number, unit),)
    smaller, small_mm = ("in", INCH_MM) if unit == "ft" else ("cm", 10.0)
    rest = (
        _inches_after(quotes, tokens, at)
        if unit == "ft"
        else _centimetres_after(tokens, number, at)
        if unit == "m"
        else None
    )
    if rest is not None:
        over, end = rest
        value = _float(number.value) * mm + _float(over.value) * small_mm
        fine = float(min(over.fine, Fraction(1, 2) if smaller == "in" else Fraction(5))) * small_mm
        both = (*parts, Part(over.number, smaller))
        return Typed("length", value, fine, both, tokens[number.start].start, tokens[end].end,
                     tokens[over.next - 1].end, number.digits, "", number.start, end)  # fmt: skip
    return _typed("length", number, mm, unit, tokens, at)


def _centimetres_after(tokens: Sequence[Token], number: Number, at: int) -> tuple[Number, int] | None:
    """Read the centimetres that follow whole metres: `2 m 40`, `2 metres and 40 cm`, `two metres forty`."""
    start = at + 2 if at + 1 < len(tokens) and tokens[at + 1].word == "and" else at + 1
    over = number_at(tokens, start) if start < len(tokens) and number.value.denominator == 1 else None
    if over is None or over.value >= 100 or over.value.denominator != 1 or over.decimal is not None:
        return None
    word = tokens[over.next].word if over.next < len(tokens) else ""
    if word in _LENGTHS:
        return (over, over.next) if _LENGTHS[word][0] == "cm" else None
    bare = start == at + 1 and over.value >= 10 and over.digits == number.digits
    return (over, over.next - 1) if bare and word in _ENDS else None


def _inches_after(quotes: Sequence[int], tokens: Sequence[Token], at: int) -> tuple[Number, int] | None:
    """Read the inches that follow feet: `8' 10"`, `eight feet ten inches`, `eight foot ten`."""
    start = at + 1
    mark = tokens[start].word if start < len(tokens) else ""
    if mark == "and" or (mark in (".", "-") and tokens[start].start == tokens[at].end):
        start += 1
    over = number_at(tokens, start) if start < len(tokens) else None
    if over is None or over.value >= 12:
        return None
    unit = _past_of_a(tokens, over, over.next)
    word = tokens[unit].word if unit < len(tokens) else ""
    if word in _LENGTHS:
        inch = _LENGTHS[word][0] == "in" and (word != "in" or _is_length(quotes, tokens, over, unit))
        return (over, unit) if inch else None
    bare = over.digits and tokens[at].text in _MARKS and start == at + 1
    said = tokens[at].word in ("foot", "feet", "ft") and start == at + 1
    return (over, over.next - 1) if (bare or said) and word in _ENDS else None


def _typed(
    kind: TypedKind, number: Number, factor: float, unit: str, tokens: Sequence[Token], last: int, *,
    currency: str = "", first: int | None = None,
) -> Typed:  # fmt: skip
    fine = number.fine
    if kind == "length":
        fine = min(fine, {"mm": Fraction(5), "cm": Fraction(5)}.get(unit, Fraction(1, 2)))
    elif kind in ("area", "share"):
        fine = min(fine, Fraction(5))
    start = number.start if first is None else first
    value = _float(number.value)
    return Typed(kind, value * factor, float(fine) * factor, (Part(number.number, unit),), tokens[start].start,
                 tokens[last].end, tokens[number.next - 1].end, number.digits, currency, start, last)  # fmt: skip


def with_unit_of(number: Typed, measured: Typed) -> Typed:
    """Return a bare number in the unit of the length beside it: the first of `3.6 by 3.2 metres`."""
    unit = measured.parts[-1].unit
    mm = _LENGTHS[unit][1]
    fine = min(number.fine, 5.0 if unit in ("mm", "cm") else 0.5) * mm
    part = Part(number.parts[0].number, unit)
    return replace(number, kind="length", value=number.value * mm, fine=fine, parts=(part,))


def _float(value: Fraction) -> float:
    try:
        return float(value)
    except OverflowError:
        return float("inf")
