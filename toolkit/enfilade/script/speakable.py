"""Text as a mouth says it: figures, units and signs in words."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Final

from enfilade.script.number_words import cardinal, digits, ordinal, said_day, year_words
from enfilade.script.rounding import Part
from enfilade.script.typed import Typed, typed_figures
from enfilade.script.typed_numbers import Token, tokens_of
from enfilade.script.wording import UNITS, number_words, part_words, said_amount

__all__ = ["speakable"]

_DIGIT: Final = re.compile(r"[0-9½¼¾⅛⅜⅝⅞⅓⅔&]")
_DAY: Final = re.compile(r"(?<![0-9-])([12][0-9]{3})-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])(?![0-9-])")
_TIME: Final = re.compile(r"(?<![0-9:.])([01]?[0-9]|2[0-3]):([0-5][0-9])(?![0-9:])")
_ORDINAL: Final = re.compile(r"(?<![\w.])([0-9]{1,6})(?:st|nd|rd|th)(?!\w)")
_DECADE: Final = re.compile(r"(?<![\w.])([12][0-9]{2}0)s(?!\w)")
_BETWEEN: Final = re.compile(r"(?<=[0-9\"'′″])\s?[\u2013-]\s?(?=[0-9])")
_BY: Final = re.compile(r"(?<=[0-9a-z\"'′″])\s*×\s*(?=[0-9])|(?<=[0-9\"'′″])\s*x\s*(?=[0-9])")
_AND: Final = re.compile(r"\s*&\s*")
# After one of these words a unit is read as of several: `24 inches wide`, `24 inch oven`.
_NOT_A_NOUN = """
wide long deep high tall across thick by from to and or of above below over under at is are was it he she they
apart away off up down out on in with for but than between more less longer wider per each clear
"""
_NO_NOUN: Final = frozenset(_NOT_A_NOUN.split())


@lru_cache(maxsize=2048)
def speakable(text: str) -> str:
    """Return a text as it is said: `2.7 m` as `two point seven metres`, `&` as `and`, `2nd` as `second`.

    A text without figures and signs is returned as it is.
    """
    if not _DIGIT.search(text):
        return text
    text = _DAY.sub(_day, text)
    text = _TIME.sub(_time, text)
    text = _DECADE.sub(_decade, text)
    text = _ORDINAL.sub(lambda match: ordinal(int(match[1])), text)
    text = _AND.sub(" and ", text) if "&" in text else text
    text = _BETWEEN.sub(_to, text)
    text = _BY.sub(" by ", text)
    return _figures(text)


def _day(match: re.Match[str]) -> str:
    year, month, day = (int(part) for part in match.groups())
    return f"{said_day(month, day)} {year_words(year)}"


def _time(match: re.Match[str]) -> str:
    hour, minute = int(match[1]), int(match[2])
    tail = "o'clock" if minute == 0 else f"oh {cardinal(minute)}" if minute < 10 else cardinal(minute)
    return f"{cardinal(hour)} {tail}"


def _decade(match: re.Match[str]) -> str:
    words = year_words(int(match[1]))
    return f"{words[:-1]}ies" if words.endswith("y") else f"{words}s"


def _to(match: re.Match[str]) -> str:
    # `3-1/2` is three and a half, and no range.
    rest = match.string[match.end() : match.end() + 6]
    return match[0] if "-" in match[0] and re.match(r"[0-9]{1,2}/[0-9]", rest) else " to "


def _figures(text: str) -> str:
    tokens = tokens_of(text)
    out, at = [], 0
    for typed in typed_figures(text, tokens):
        if not typed.digits:
            continue
        words, end = _words(text, tokens, typed)
        before, after = text[typed.start - 1 : typed.start], text[end : end + 1]
        out += [text[at : typed.start], " " if before.isalnum() else "", words, " " if after.isalnum() else ""]
        at = end
    return "".join([*out, text[at:]])


def _words(text: str, tokens: tuple[Token, ...], typed: Typed) -> tuple[str, int]:
    """Return what is said for a figure, and where in the text that ends."""
    if typed.kind == "number":
        return _bare(tokens[typed.first].text, typed), typed.end
    if typed.kind == "money":
        return said_amount(typed.parts[0].decimal, typed.currency), typed.end
    between = text[typed.number_end : typed.end]
    if between.startswith("-"):  # an eight-foot table
        return f"{number_words(typed.parts[-1].number)}-{_singular(typed)}", typed.end
    if typed.kind == "length" and between.strip() in ("in", "ft", "mm", "cm", "m") and _before_noun(tokens, typed):
        return f"{_numbers(typed)} {_singular(typed)}", typed.end
    return " ".join(_part(part) for part in typed.parts), typed.end


def _before_noun(tokens: tuple[Token, ...], typed: Typed) -> bool:
    after = tokens[typed.last + 1] if typed.last + 1 < len(tokens) else None
    return after is not None and after.text[0].isalpha() and after.word not in _NO_NOUN


def _numbers(typed: Typed) -> str:
    *front, last = typed.parts
    return " ".join([*(_part(part) for part in front), number_words(last.number)])


def _singular(typed: Typed) -> str:
    return UNITS[typed.parts[-1].unit][1]


def _part(part: Part) -> str:
    whole = isinstance(part.number, Fraction) and part.number.denominator == 1
    return part_words(Part(Decimal(int(part.number)), part.unit) if whole else part)


def _bare(first: str, typed: Typed) -> str:
    number = typed.parts[0].number
    if first.isdigit() and typed.number_end - typed.start == len(first):
        if len(first) > 1 and first[0] == "0":
            return digits(first)
        if len(first) == 4 and 1100 <= int(first) < 2100:
            return year_words(int(first))
    return number_words(number)
