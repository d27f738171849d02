"""Numbers in a text, in digits or in words: where they stand, and how finely they were said."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Final

from enfilade.script.number_words import NUMBER_WORDS

__all__ = ["Number", "Token", "joined", "number_at", "tokens_of"]


@dataclass(frozen=True, slots=True)
class Token:
    """A number, a word or a sign of a text, with its place."""

    text: str
    start: int
    end: int

    @property
    def word(self) -> str:
        """Return it in small letters."""
        return self.text.casefold()


@dataclass(frozen=True, slots=True)
class Number:
    """One number.

    Attributes:
        value: The number.
        fine: Half of its last place: how far off it may be and still be the number meant.
        start: Place of its first token.
        next: Place of the token after it.
        digits: Whether it was typed in digits.
        decimal: The same with its decimals, when it was written so.
    """

    value: Fraction
    fine: Fraction
    start: int
    next: int
    digits: bool
    decimal: Decimal | None = None

    @property
    def number(self) -> Decimal | Fraction:
        """Return it as it is said: with decimals, or with a fraction."""
        return self.value if self.decimal is None else self.decimal


_TOKEN: Final = re.compile(
    r"[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?(?![0-9])|[0-9]+(?:\.[0-9]+)?|\.[0-9]+|[^\W\d_²³½¼¾⅛⅜⅝⅞⅓⅔]+(?:['\u2019][^\W\d_²³]+)*|\S"
)
_VULGAR: Final = {"½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
                  "⅓": (1, 3), "⅔": (2, 3)}  # fmt: skip
_LONGEST: Final = 40
"""Digits beyond these are no figure of a house."""
_PARTS_SAID: Final = {"half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "eighth": 8,
                      "eighths": 8, "sixteenth": 16, "sixteenths": 16}  # fmt: skip


def tokens_of(text: str) -> tuple[Token, ...]:
    """Return the numbers, words and signs of a text."""
    return tuple(Token(match[0], *match.span()) for match in _TOKEN.finditer(text))


def number_at(tokens: Sequence[Token], at: int) -> Number | None:
    """Return the number that begins at a token, None when none does."""
    token = tokens[at]
    if len(token.text) > _LONGEST:
        return None
    if token.text[0] in "0123456789" or (token.text[0] == "." and token.text[1:2] in set("0123456789")):
        return _typed_number(tokens, at)
    if token.text in _VULGAR:
        part = Fraction(*_VULGAR[token.text])
        return Number(part, _half(part), at, at + 1, digits=True)
    return _said_number(tokens, at)


def _typed_number(tokens: Sequence[Token], at: int) -> Number:
    token = tokens[at]
    plain = token.text.replace(",", "")
    value, after = Fraction(plain), at + 1
    if "." in plain:
        return Number(value, Fraction(1, 2 * 10 ** len(plain.partition(".")[2])), at, after, True, Decimal(plain))
    if after < len(tokens) and tokens[after].text in _VULGAR:
        part = Fraction(*_VULGAR[tokens[after].text])
        return Number(value + part, _half(part), at, after + 1, digits=True)
    slashed, end = _slash(tokens, at)
    if slashed is not None:
        return Number(slashed, _half(slashed), at, end, digits=True)
    sign = after < len(tokens) and tokens[after].text == "-" and joined(tokens, at, after + 1)
    start = after + 1 if sign else after
    if start < len(tokens) and tokens[start].text.isascii() and tokens[start].text.isdigit():
        slashed, end = _slash(tokens, start)
        if slashed is not None and slashed < 1:
            return Number(value + slashed, _half(slashed), at, end, digits=True)
    return Number(value, _whole_fine(int(value)), at, after, digits=True)


def _slash(tokens: Sequence[Token], at: int) -> tuple[Fraction | None, int]:
    """Read `3/4`."""
    if at + 2 < len(tokens) and tokens[at + 1].text == "/" and joined(tokens, at, at + 2):
        over, under = tokens[at].text, tokens[at + 2].text
        short = over.isascii() and over.isdigit() and under.isascii() and under.isdigit() and len(over + under) < 6
        if short and int(under) in (2, 3, 4, 5, 8, 10, 16, 32, 64):
            return Fraction(int(over), int(under)), at + 3
    return None, at


def _half(part: Fraction) -> Fraction:
    return Fraction(1, 2 * part.denominator)


def _whole_fine(number: int) -> Fraction:
    """Return half of the last place that is not nought, as far as the tens of thousands."""
    step = 1
    while number and number % (10 * step) == 0 and step < 10_000:
        step *= 10
    return Fraction(step, 2)


def joined(tokens: Sequence[Token], first: int, last: int) -> bool:
    """Tell whether tokens stand together without a space."""
    return last < len(tokens) and all(tokens[n].end == tokens[n + 1].start for n in range(first, last))


def _said_number(tokens: Sequence[Token], at: int) -> Number | None:
    """Read a number in words: `twenty-five`, `a hundred and forty`, `three and a half`, `two point seven`, `half a`."""
    word = tokens[at].word
    after = tokens[at + 1].word if at + 1 < len(tokens) else ""
    if word in ("half", "quarter") and after in ("a", "an"):
        part = Fraction(1, _PARTS_SAID[word])
        if at + 2 < len(tokens) and tokens[at + 2].word == "dozen":
            return Number(part * 12, Fraction(1, 2), at, at + 3, digits=False)
        return Number(part, _half(part), at, at + 2, digits=False)
    if word in ("a", "an") and after in _PARTS_SAID:
        part = Fraction(1, _PARTS_SAID[after])
        return Number(part, _half(part), at, at + 2, digits=False)
    if word in ("a", "an") and after not in ("hundred", "thousand", "million", "dozen"):
        return None
    if word == "dozen":
        return None
    whole, end = _whole_words(tokens, at)
    if whole is None:
        return None
    if end + 1 < len(tokens) and tokens[end].word == "point" and tokens[end + 1].word in NUMBER_WORDS:
        return _point(tokens, at, whole, end + 1)
    rest, beyond = _and_part(tokens, end)
    if rest is not None:
        return Number(whole + rest, _half(rest), at, beyond, digits=False)
    if end < len(tokens) and tokens[end].word in _PARTS_SAID and whole < 16:  # three quarters
        part = Fraction(whole, _PARTS_SAID[tokens[end].word])
        return Number(part, _half(part), at, end + 1, digits=False)
    return Number(Fraction(whole), _whole_fine(whole), at, end, digits=False)


def _whole_words(tokens: Sequence[Token], at: int) -> tuple[int | None, int]:
    total, current, seen, end, at_start = 0, 0, False, at, at
    while at < len(tokens):
        word = tokens[at].word
        if word == "-" and seen and joined(tokens, at - 1, at + 1) and tokens[at + 1].word in NUMBER_WORDS:
            at += 1
            continue
        if word in NUMBER_WORDS:
            number = NUMBER_WORDS[word]
            room = current % 100 == 0 or (number < 10 and current % 10 == 0 and current % 100 >= 20)
            if seen and (not room or number == 0 or (current == 0 and total == 0)):
                break
            current += number
        elif word in ("a", "an") and not seen and at == at_start:
            current = 1
        elif word == "dozen" and seen and 0 < current < 100:
            current *= 12
        elif word == "hundred" and seen and 0 < current < 100:
            current *= 100
        elif word in ("thousand", "million") and seen and current:
            total, current = total + current * {"thousand": 1000, "million": 10**6}[word], 0
        elif word == "and" and _goes_on(tokens, at, total, current):
            at += 1
            continue
        else:
            break
        seen, at = True, at + 1
        end = at
    return (total + current, end) if seen else (None, end)


def _goes_on(tokens: Sequence[Token], at: int, total: int, current: int) -> bool:
    """Tell whether `and` goes on with a number: after hundreds or thousands, before a smaller number."""
    after = tokens[at + 1].word if at + 1 < len(tokens) else ""
    return after in NUMBER_WORDS and ((current >= 100 and current % 100 == 0) or (total > 0 and current == 0))


def _point(tokens: Sequence[Token], first: int, whole: int, at: int) -> Number:
    places = ""
    while at < len(tokens) and NUMBER_WORDS.get(tokens[at].word, 10) < 10 and len(places) < 12:
        places += str(NUMBER_WORDS[tokens[at].word])
        at += 1
    if not places:
        return Number(Fraction(whole), Fraction(1, 2), first, at, digits=False)
    decimal = Decimal(f"{whole}.{places}")
    return Number(Fraction(decimal), Fraction(1, 2 * 10 ** len(places)), first, at, False, decimal)


def _and_part(tokens: Sequence[Token], at: int) -> tuple[Fraction | None, int]:
    """Read `and a half`, `and three quarters`."""
    if at + 2 >= len(tokens) or tokens[at].word != "and":
        return None, at
    count = 1 if tokens[at + 1].word in ("a", "an") else NUMBER_WORDS.get(tokens[at + 1].word, 0)
    under = _PARTS_SAID.get(tokens[at + 2].word)
    return (Fraction(count, under), at + 3) if count and under and count < under else (None, at)
