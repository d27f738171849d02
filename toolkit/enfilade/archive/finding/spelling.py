"""Words of a question with figures that were mistyped, read against the short list of those it knows.

The archive's own words are no help there: `betwen` is near to nothing that was ever kept, and `aisel` is a word of the
rules. Only what the archive does not hold is corrected, so that a designer's own word is never taken for grammar.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from typing import Final

from enfilade.archive.finding.amounts import AMOUNT, COMPARED, NUMBERS
from enfilade.archive.finding.asked import STOP_WORDS
from enfilade.archive.finding.nouns import noun_words
from enfilade.archive.finding.questions import ADJECTIVES, COMPARING, FILLERS, Question, question_in
from enfilade.archive.finding.topics import topic_words
from enfilade.archive.finding.vocabulary import Vocabulary

__all__ = ["as_meant", "no_size_read"]

_LEAST: Final = 4
"""Shorter words are taken as they are typed (own choice: `tow` and `two`, `fro` and `for` are too near to all)."""
_SHORT: Final = 7
"""Words up to this length are forgiven one slip, and none in the first letter: `marble` is no `table` (own choice)."""
_OTHERS: Final = (
    "between or fewer less more seats seat seated seating places people bins whose fell falls fall short held holds "
    "hold accepted without length width depth height area cost price ceiling ceilings metres meters millimetres "
    "centimetres inches inch feet foot square"
)
_ENDS: Final = frozenset(("fell", "falls", "fall", "was", "were", "is", "are", "held", "holds", "hold"))
_WORD: Final = re.compile(
    r"(?P<quoted>[\"\u201c][^\"\u201c\u201d]*[\"\u201d])|(?<![\w.,/-])(?P<at>at\s+)?(?P<word>[^\W\d_]+)(?![\w-])",
    re.IGNORECASE,
)
_AFTER_AT: Final = Vocabulary(("least", "most"), 0, left_out=frozenset())
_COMMA: Final = re.compile(r"(?<![\d.,])(\d+),(\d{1,2})(?![\d,.])")
_QUOTED: Final = re.compile(r"(?<!\d)[\"\u201c][^\"\u201c\u201d]*[\"\u201d]")
_BOUND: Final = "|".join(re.escape(one) for several in COMPARED.values() for one in several if one != "some")
_SIZE: Final = re.compile(
    rf"(?:between|from|{_BOUND}|than)\s*{AMOUNT}|(?<![\w.,/]){AMOUNT}(?<=[a-z\"'\u00b2])(?!\w)", re.IGNORECASE
)
_NO_SIZE: Final = (
    "A figure stands there, but no size was read: it was looked for as words. Sizes are asked of things, rooms, "
    "decisions, products and finishes: \u201cislands over 2.4 m\u201d, \u201ckitchens under 20 m2\u201d; a clear width "
    "by its rule: \u201cislands whose aisle fell short\u201d."
)


def as_meant(typed: str, stands: Callable[[str], bool]) -> tuple[Question | None, tuple[str, ...]]:
    """Return the question with figures that was meant, None where there is none, and sentences on what was corrected.

    Args:
        typed: On one line.
        stands: Tells whether a word stands in the archive; such a one is never corrected.
    Raises:
        Refused: As `question_in`.
    """
    told: dict[str, None] = {}

    def comma(match: re.Match[str]) -> str:
        meant = f"{match[1]}.{match[2]}"
        told[_said(match[0], meant)] = None
        return meant

    read = _COMMA.sub(comma, _corrected(typed, stands, told))
    question = question_in(read)
    return question, tuple(told) if question is not None else ()


def no_size_read(typed: str) -> tuple[str, ...]:
    """Return the sentence that a figure was not read as a size; none where nothing looks like one."""
    return (_NO_SIZE,) if _SIZE.search(_QUOTED.sub(" ", typed)) else ()


def _corrected(typed: str, stands: Callable[[str], bool], told: dict[str, None]) -> str:
    of_rule = False

    def read(match: re.Match[str]) -> str:
        nonlocal of_rule
        word = match["word"]
        if word is None:
            return match[0]
        known = _AFTER_AT if match["at"] else _rules() if of_rule else _grammar()
        meant = _meant(word.lower(), known, stands)
        of_rule = meant == "whose" or (of_rule and meant not in _ENDS)
        if meant == word.lower():
            return match[0]
        told[_said(word, meant)] = None
        return f"{match['at'] or ''}{meant}"

    return _WORD.sub(read, typed)


def _meant(word: str, known: Vocabulary, stands: Callable[[str], bool]) -> str:
    if len(word) < _LEAST or word in STOP_WORDS or any(word in one.words for one in (known, _grammar())):
        return word
    near = known.nearest(word, _SHORT) or _grammar().nearest(word, _SHORT)
    return near[0] if near and near[0][0] == word[0] and not stands(word) else word


def _said(typed: str, meant: str) -> str:
    return f"\u201c{typed}\u201d was read as \u201c{meant}\u201d."


@cache
def _grammar() -> Vocabulary:
    compared = " ".join(one for several in COMPARED.values() for one in several)
    words = {*_OTHERS.split(), *re.findall(r"[a-z]+", compared), *NUMBERS, *ADJECTIVES, *COMPARING, *FILLERS}
    return Vocabulary(words | noun_words(), 0, left_out=frozenset())


@cache
def _rules() -> Vocabulary:
    return Vocabulary(topic_words() | _ENDS, 0)
