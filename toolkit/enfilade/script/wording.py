"""A figure for the eye and for the ear, out of the same rounded numbers."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from fractions import Fraction
from typing import Final

from enfilade.lengths import System
from enfilade.listing import capital
from enfilade.project.amounts import money_words
from enfilade.script.forms import Forms
from enfilade.script.number_words import (
    cardinal,
    decimal_words,
    fraction_words,
    said_day,
    spoken,
    year_words,
)
from enfilade.script.rounding import Part, parts_of
from enfilade.script.value import Value
from enfilade.times import MONTHS, day_words

__all__ = ["CURRENCIES", "UNITS", "for_the_ear", "for_the_eye", "part_words", "said_amount", "unit_words"]

UNITS: Final[dict[str, tuple[str, str, str]]] = {
    "mm": ("mm", "millimetre", "millimetres"),
    "cm": ("cm", "centimetre", "centimetres"),
    "m": ("m", "metre", "metres"),
    "in": ("in", "inch", "inches"),
    "ft": ("ft", "foot", "feet"),
    "m2": ("m²", "square metre", "square metres"),
    "sq ft": ("sq ft", "square foot", "square feet"),
    "l": ("l", "litre", "litres"),
    "cu ft": ("cu ft", "cubic foot", "cubic feet"),
    "m3/h": ("m³/h", "cubic metre an hour", "cubic metres an hour"),
    "cfm": ("cfm", "cubic foot a minute", "cubic feet a minute"),
    "%": ("%", "per cent", "per cent"),
    "deg": ("°", "degree", "degrees"),
    "N": ("N", "newton", "newtons"),
    "lbf": ("lbf", "pound of force", "pounds of force"),
    "lx": ("lx", "lux", "lux"),
}
"""Each unit as it is written, and as it is said of one and of several."""

_DOLLAR: Final = ("dollar", "dollars", "cent", "cents")
CURRENCIES: Final[dict[str, tuple[str, str, str, str]]] = {
    **dict.fromkeys(("USD", "US$", "$", "CAD", "AUD", "NZD", "SGD"), _DOLLAR),
    **dict.fromkeys(("EUR", "€"), ("euro", "euros", "cent", "cents")),
    **dict.fromkeys(("GBP", "£"), ("pound", "pounds", "penny", "pence")),
    **dict.fromkeys(("CHF",), ("franc", "francs", "centime", "centimes")),
    **dict.fromkeys(("SEK", "NOK", "DKK"), ("krone", "kroner", "øre", "øre")),
    **dict.fromkeys(("JPY", "¥"), ("yen", "yen", "sen", "sen")),
    **dict.fromkeys(("INR", "₹"), ("rupee", "rupees", "paisa", "paise")),
}
"""How amounts of a currency are said; codes as ISO 4217 has them. Any other is said by its own sign."""


def for_the_eye(value: Value, forms: Forms, system: System) -> str:
    """Write a figure as it is read: `8 ft 10 in`, `2.7 m`, `141 sq ft`, `USD 9,840`, `12 June 2025`."""
    if "in words" in forms:
        return for_the_ear(value, forms, system)
    if isinstance(value.amount, str):
        return _capital(value.amount, forms)
    if isinstance(value.amount, dt.date):
        return _date(value.amount, forms)
    parts = parts_of(value, forms, system)
    if value.kind == "money":
        currency = "" if "without its unit" in forms else value.currency
        return money_words(parts[0].decimal, currency)
    return " ".join(_written(part, value, forms) for part in parts)


def _written(part: Part, value: Value, forms: Forms) -> str:
    number = _number(part.number)
    if part.unit == "count":
        return f"{number} {_counted(part, value)}".rstrip() if "with the word" in forms else number
    if "without its unit" in forms:
        return number
    unit = UNITS[part.unit][0]
    return f"{number}{unit}" if part.unit in ("%", "deg") else f"{number} {unit}"


def _number(number: Decimal | Fraction) -> str:
    if isinstance(number, Decimal):
        text = f"{number:,f}"
        return text.rstrip("0").rstrip(".") if "." in text else text
    whole, part = divmod(number, 1)
    if not part:
        return f"{int(whole):,}"
    if part.denominator not in (2, 4, 8, 16):
        return f"{float(number):,.3f}".rstrip("0")
    return f"{whole} {part}" if whole else f"{part}"


def for_the_ear(value: Value, forms: Forms, system: System) -> str:
    """Write a figure as it is said: `eight feet ten inches`, `two point seven metres`, `the twelfth of June ...`."""
    if isinstance(value.amount, str):
        return _capital(value.amount, forms)
    if isinstance(value.amount, dt.date):
        return _capital(_said_date(value.amount, forms), forms)
    parts = parts_of(value, forms, system)
    if value.kind == "money":
        return _capital(_said_money(parts[0], value.currency, forms), forms)
    small = len(parts) > 1 and parts[1].number < 1
    return _capital((" and " if small else " ").join(_said(part, value, forms) for part in parts), forms)


def _said(part: Part, value: Value, forms: Forms) -> str:
    if part.unit == "count":
        tail = f" {_counted(part, value)}" if "with the word" in forms else ""
        return (number_words(part.number) + tail).rstrip()
    return number_words(part.number) if "without its unit" in forms else part_words(part)


def number_words(number: Decimal | Fraction) -> str:
    """Say a number: fractions by their names, decimals digit by digit."""
    return fraction_words(number) if isinstance(number, Fraction) else decimal_words(number)


def part_words(part: Part) -> str:
    """Say a number with its unit: `three and a half inches`, `half an inch`, `one foot`.

    >>> part_words(Part(Fraction(1, 2), "in")), part_words(Part(Fraction(5, 8), "in"))
    ('half an inch', 'five eighths of an inch')
    """
    number, one = part.number, UNITS[part.unit][1]
    if isinstance(number, Fraction) and 0 < number < 1:
        article = "an" if one[0] in "aeiou" else "a"
        if number == Fraction(1, 2):
            return f"half {article} {one}"
        return f"{fraction_words(number)} of {article} {one}"
    return f"{number_words(number)} {unit_words(part)}"


def unit_words(part: Part) -> str:
    """Return the unit as it is said of so many."""
    _, one, several = UNITS[part.unit]
    return one if part.number == 1 else several


def _counted(part: Part, value: Value) -> str:
    return value.one if part.number == 1 else value.several


def _said_money(part: Part, currency: str, forms: Forms) -> str:
    if "without its unit" in forms:
        return decimal_words(part.decimal)
    if currency.strip() not in CURRENCIES:
        return f"{decimal_words(part.decimal)} {currency.strip()}".rstrip()
    return said_amount(part.decimal, currency.strip())


def said_amount(amount: Decimal, currency: str) -> str:
    """Say an amount of one of `CURRENCIES`: `nine thousand dollars and fifty cents`, `fifty cents`."""
    one, several, small_one, small = CURRENCIES[currency]
    whole = int(amount)
    parts = int((amount - whole) * 100)
    large = f"{spoken(whole)} {one if whole == 1 else several}"
    if not parts:
        return large
    rest = f"{cardinal(parts)} {small_one if parts == 1 else small}"
    return f"{large} and {rest}" if whole else rest


def _date(day: dt.date, forms: Forms) -> str:
    month = MONTHS[day.month - 1]
    if "year alone" in forms:
        return str(day.year)
    if "month and year" in forms:
        return f"{month} {day.year}"
    return f"{day.day} {month}" if "without the year" in forms else day_words(day)


def _said_date(day: dt.date, forms: Forms) -> str:
    month, year = MONTHS[day.month - 1], year_words(day.year)
    if "year alone" in forms:
        return year
    if "month and year" in forms:
        return f"{month} {year}"
    head = said_day(day.month, day.day)
    return head if "without the year" in forms else f"{head} {year}"


def _capital(words: str, forms: Forms) -> str:
    return capital(words) if "with a capital" in forms else words
