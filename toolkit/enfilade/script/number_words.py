"""Numbers and days in English words, for whoever reads a line aloud, and back from words to numbers."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Final

from enfilade.times import MONTHS

__all__ = ["NUMBER_WORDS", "cardinal", "decimal_words", "digits", "fraction_words", "ordinal", "said_day", "spoken",
           "year_words"]  # fmt: skip

_TO_NINETEEN = """
zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen
eighteen nineteen
"""
_SMALL: Final = tuple(_TO_NINETEEN.split())
_TENS: Final = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_SCALES: Final = ((10**12, "trillion"), (10**9, "billion"), (10**6, "million"), (10**3, "thousand"))
_LIMIT: Final = 10**15
_ORDINALS: Final = {
    "one": "first", "two": "second", "three": "third", "five": "fifth", "eight": "eighth", "nine": "ninth",
    "twelve": "twelfth",
}  # fmt: skip
_PARTS: Final = {2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth", 32: "thirty-second", 64: "sixty-fourth",
                 3: "third", 5: "fifth", 6: "sixth", 10: "tenth"}  # fmt: skip

NUMBER_WORDS: Final[dict[str, int]] = {
    **{word: number for number, word in enumerate(_SMALL)},
    **{word: 10 * number for number, word in enumerate(_TENS) if word},
}
"""Words below a hundred that are one word, with their numbers."""


def cardinal(number: int) -> str:
    """Write a whole number in words; one of more than fifteen digits is read digit by digit.

    >>> cardinal(1234)
    'one thousand two hundred and thirty-four'
    """
    if number < 0:
        return f"minus {cardinal(-number)}"
    if number >= _LIMIT:
        return digits(str(number))
    words, rest = [], number
    for scale, name in _SCALES:
        count, rest = divmod(rest, scale)
        if count:
            words.append(f"{_below_thousand(count)} {name}")
    if rest or not words:
        tail = _below_thousand(rest)
        words.append(f"and {tail}" if words and rest < 100 else tail)
    return " ".join(words)


def _below_thousand(number: int) -> str:
    hundreds, rest = divmod(number, 100)
    head = f"{_SMALL[hundreds]} hundred" if hundreds else ""
    if head and not rest:
        return head
    tens, ones = divmod(rest, 10)
    tail = _SMALL[rest] if rest < 20 else _TENS[tens] + (f"-{_SMALL[ones]}" if ones else "")
    return f"{head} and {tail}" if head else tail


def spoken(number: int) -> str:
    """Write a whole number as people say it: `a hundred and forty`, and not `one hundred and forty`.

    >>> spoken(140), spoken(1140), spoken(150_000)
    ('a hundred and forty', 'one thousand one hundred and forty', 'a hundred and fifty thousand')
    """
    words = cardinal(number)
    return f"a{words.removeprefix('one')}" if words.startswith("one hundred") or number in (10**3, 10**6) else words


def digits(text: str) -> str:
    """Read digits one by one.

    >>> digits("007")
    'zero zero seven'
    """
    return " ".join(_SMALL[int(sign)] for sign in text if sign in "0123456789")


def ordinal(number: int) -> str:
    """Write the place in a row.

    >>> ordinal(21), ordinal(12), ordinal(40)
    ('twenty-first', 'twelfth', 'fortieth')
    """
    words = cardinal(number)
    cut = max(words.rfind(" "), words.rfind("-")) + 1
    head, last = words[:cut], words[cut:]
    if last in _ORDINALS:
        return head + _ORDINALS[last]
    return head + (f"{last[:-1]}ieth" if last.endswith("y") else f"{last}th")


def decimal_words(number: Decimal) -> str:
    """Write a decimal number in words; nought after the point is not read at its end.

    >>> decimal_words(Decimal("2.70"))
    'two point seven'
    """
    text = f"{abs(number):f}"
    whole, _, part = text.partition(".")
    part = part.rstrip("0")
    head = spoken(int(whole)) if not part else cardinal(int(whole))
    sign = "minus " if number < 0 else ""
    return f"{sign}{head} point {digits(part)}" if part else f"{sign}{head}"


def fraction_words(number: Fraction) -> str:
    """Write a number with a common fraction in words: `three and a half`, `five eighths`.

    A fraction that has no short name is read as a decimal of three places.

    >>> fraction_words(Fraction(7, 2)), fraction_words(Fraction(3, 4)), fraction_words(Fraction(11, 8))
    ('three and a half', 'three quarters', 'one and three eighths')
    """
    whole, part = divmod(number, 1)
    if not part:
        return spoken(int(whole))
    name = _PARTS.get(part.denominator)
    if name is None:
        return decimal_words(round(Decimal(number.numerator) / Decimal(number.denominator), 3))
    count = part.numerator
    words = f"{'an' if name[0] == 'e' else 'a'} {name}" if count == 1 else f"{cardinal(count)} {name}s"
    return f"{cardinal(int(whole))} and {words}" if whole else words


def said_day(month: int, day: int) -> str:
    """Say a day of the year.

    >>> said_day(3, 24)
    'the twenty-fourth of March'
    """
    return f"the {ordinal(day)} of {MONTHS[month - 1]}"


def year_words(year: int) -> str:
    """Read a year: in pairs of digits, other than the first years of a millennium.

    >>> year_words(2025), year_words(1905), year_words(2004), year_words(1900)
    ('twenty twenty-five', 'nineteen oh five', 'two thousand and four', 'nineteen hundred')
    """
    high, low = divmod(year, 100)
    if not 1000 <= year <= 9999 or (high % 10 == 0 and low < 10):
        return cardinal(year)
    if low == 0:
        return f"{cardinal(high)} hundred"
    return f"{cardinal(high)} {f'oh {cardinal(low)}' if low < 10 else cardinal(low)}"
