"""Amounts as they are typed: lengths, areas, pieces, money, and from where to where they are asked for."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Final, Literal

from enfilade.errors import EnfiladeError, Refused
from enfilade.lengths import INCH_MM, System, parse_length, show_length
from enfilade.quantities import Quantity, show_quantity

__all__ = ["AMOUNT", "COMPARED", "COUNT", "NUMBERS", "Amount", "Range", "amount_of", "count_of", "range_of"]

Sort = Literal["length", "area", "number"]

_NUMBER: Final = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d[\d,]*(?:\.\d+)?|\.\d+)"
_SQUARE: Final = r"(?:sq\.?\s*(?:feet|foot|ft|metres|meters|m)|square\s+(?:feet|foot|metres|meters))"
_AREA: Final = rf"(?:{_SQUARE}|sqft|sqm|ft2|ft\u00b2|m2|m\u00b2)"
_LENGTH: Final = r"(?:mm|cm|millimet(?:re|er)s?|centimet(?:re|er)s?|met(?:re|er)s?|m|inch(?:es)?|in|feet|foot|ft|\"|')"
_FEET_INCHES: Final = rf"{_NUMBER}\s*(?:feet|foot|ft|')\s*-?\s*{_NUMBER}\s*(?:inch(?:es)?|in\b|\")?"
AMOUNT: Final = rf"(?:[$\u20ac\u00a3]\s*)?(?:{_FEET_INCHES}|{_NUMBER}(?:\s*-?\s*(?:{_AREA}|{_LENGTH})(?![a-z0-9]))?)"
NUMBERS: Final = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)
COUNT: Final = rf"(?:\d{{1,4}}|{'|'.join(NUMBERS)})"
COMPARED: Final[dict[str, tuple[str, ...]]] = {
    "at least": ("at least", "no less than", "not less than", "not under", "a minimum of", ">="),
    "at most": ("at most", "no more than", "not more than", "not over", "up to", "a maximum of", "<="),
    "over": ("over", "more than", "above", "greater than", "larger than", "bigger than", ">"),
    "under": ("under", "less than", "fewer than", "below", "smaller than", "<"),
    "about": ("about", "around", "roughly", "approximately", "some", "~"),
}
"""How an amount bounds what is looked for, and the words for it."""
_ABOUT: Final = 0.05
"""`about` is within a twentieth (own choice; `understood` says it)."""
_PLAIN_UNITS: Final = (
    (r"millimet(?:re|er)s?", "mm"), (r"centimet(?:re|er)s?", "cm"), (r"met(?:re|er)s?", "m"), (r"inch(?:es)?", "in"),
    (r"feet|foot", "ft"),
)  # fmt: skip


@dataclass(frozen=True)
class Amount:
    """An amount that was typed.

    Attributes:
        value: In mm, mm2, pieces or money.
        half_place: Half of the last place that was typed, in the same: `2.4 m` is 2.35 to 2.45 m.
        system: Units in which it was typed.
    """

    sort: Sort
    value: float
    half_place: float
    system: System


@dataclass(frozen=True)
class Range:
    """From where to where a figure is looked for; `words` say it."""

    low: float
    high: float
    words: str

    def nearness(self, value: float) -> float:
        """Return 1 for a value in the middle of the range, less towards its ends; 1 where it has no two ends."""
        if not (math.isfinite(self.low) and math.isfinite(self.high)) or self.high <= self.low:
            return 1.0
        middle, half = (self.low + self.high) / 2, (self.high - self.low) / 2
        return 1.0 - 0.5 * min(1.0, abs(value - middle) / half)


def amount_of(typed: str, unit: str = "") -> Amount:
    """Return an amount.

    Args:
        typed: As `AMOUNT` matched it.
        unit: Taken where it names none: `between 2.4 and 3 m`.
    Raises:
        Refused: It is none.
    """
    plain = typed.strip().lstrip("$\u20ac\u00a3 ").strip()
    if area := re.fullmatch(rf"({_NUMBER})\s*-?\s*({_AREA})", plain):
        us = "f" in area[2]
        factor = (12 * INCH_MM) ** 2 if us else 1e6
        return Amount("area", _number(area[1]) * factor, _half_place(area[1]) * factor, "us" if us else "metric")
    if re.fullmatch(_NUMBER, plain):
        if unit:
            return amount_of(f"{plain} {unit}")
        return Amount("number", _number(plain), 0.0, "us")
    for pattern, short in _PLAIN_UNITS:
        plain = re.sub(rf"(?<![a-z])(?:{pattern})(?![a-z])", short, plain)
    plain = re.sub(r"(\d)\s*-\s*(?=(?:mm|cm|m|in|ft)\b)", r"\1 ", plain).replace(",", "")
    try:
        value = parse_length(plain, bare=None)
    except EnfiladeError as error:
        raise Refused(
            f"{typed.strip()!r} is not an amount", expected="2.4 m, 96 in, 8 ft 6 in, 12 m2, 200 sq ft"
        ) from error
    us = bool(re.search(r"in|ft|['\"]", plain))
    number = re.match(_NUMBER, plain)
    one = (
        parse_length(f"1 {re.sub(_NUMBER, '', plain).strip()}")
        if number and plain.count(" ") < 2 and _one(plain)
        else INCH_MM
    )
    return Amount("length", value, _half_place(number[0] if number else "") * one, "us" if us else "metric")


def _one(plain: str) -> bool:
    return re.fullmatch(rf"{_NUMBER}\s*(?:mm|cm|m|in|ft|\"|')", plain) is not None


def _number(typed: str) -> float:
    total = 0.0
    for part in typed.replace(",", "").split():
        above, _, below = part.partition("/")
        if below and float(below) == 0:
            raise Refused(f"{typed!r} divides by zero", expected="another number")
        total += float(above) / float(below or 1)
    if total > 1e12:
        raise Refused(f"{typed[:20]!r} is too large", expected="at most 1,000,000,000,000")
    return total


def _half_place(typed: str) -> float:
    if "/" in typed:
        return 1 / 32
    return 0.5 * 10.0 ** -len(typed.partition(".")[2])


def count_of(typed: str) -> int:
    """Return a number of pieces from figures or a word.

    >>> count_of("four"), count_of("12")
    (4, 12)
    """
    return NUMBERS.index(typed) if typed in NUMBERS else int(typed)


def range_of(how: str, first: Amount, second: Amount | None = None) -> Range:
    """Return what is looked for: between two amounts, or bound by one as a key of `COMPARED`; else the very amount."""
    if second is not None:
        least, most = sorted((first, second), key=lambda one: one.value)
        return Range(least.value, most.value, f"between {_shown(least)} and {_shown(most)}")
    value, shown = first.value, _shown(first)
    if how in ("at least", "at most", "over", "under"):
        # Strictly over is over by more than noise.
        noise = max(abs(value), 1.0) * 1e-9
        low = {"at least": value - noise, "over": value + noise}.get(how, -math.inf)
        high = {"at most": value + noise, "under": value - noise}.get(how, math.inf)
        return Range(low, high, f"{how} {shown}")
    slack = abs(value) * _ABOUT if how == "about" else first.half_place
    if slack == 0:
        return Range(value - 1e-6, value + 1e-6, shown)
    about = "about " if how == "about" else ""
    return Range(value - slack, value + slack, f"{about}{shown}, give or take {_shown(_of(first, slack))}")


def _of(amount: Amount, value: float) -> Amount:
    return Amount(amount.sort, value, 0.0, amount.system)


def _shown(amount: Amount) -> str:
    if amount.sort == "length":
        return show_length(amount.value, amount.system)
    if amount.sort == "area":
        return show_quantity(Quantity(amount.value, "mm2"), amount.system)
    return f"{amount.value:,.2f}".rstrip("0").rstrip(".")
