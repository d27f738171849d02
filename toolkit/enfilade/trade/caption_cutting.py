"""Spoken text cut into captions and their lines, where it tears least apart."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from enfilade.trade.caption_breaks import cost_of_break
from enfilade.trade.caption_limits import Limits

__all__ = ["Token", "lines_of", "pieces_of", "tokens_of"]


@dataclass(frozen=True, slots=True)
class Token:
    """A word, or a piece of one, with its place in the text [characters]; `joined` to the one before it."""

    text: str
    start: int
    end: int
    joined: bool


# What a cut costs beside what it tears apart (`caption_breaks`), all own choice.
_CUE_COST: Final = 2.0
"""Of each caption."""
_BRIEF_COST: Final = 40.0
"""Of a caption that is shown for no time at all; less for one that is shown for part of the least time."""
_UNEVEN_COST: Final = 6.0
"""Of a line that is off the mean by the longest that a line may be."""

_SPACE: Final = re.compile(r"[^\S\u00a0\u202f]+")
"""What parts words: any white space but spaces that do not break."""


def tokens_of(text: str, longest: int) -> list[Token]:
    tokens: list[Token] = []
    at = 0
    for word in _SPACE.split(text):
        if not word.strip():
            continue
        at += 1 if tokens else 0
        for place, piece in enumerate(_broken(word, longest)):
            tokens.append(Token(piece, at, at + len(piece), place > 0))
            at += len(piece)
    return tokens


def _broken(word: str, longest: int) -> Iterator[str]:
    """Yield a word in pieces that fit a line, none of which begins with a sign that belongs to the one before."""
    while len(word) > longest:
        cut = longest
        while cut > 1 and (
            unicodedata.combining(word[cut]) or word[cut] in "\u200d\ufe0e\ufe0f\u2060" or word[cut - 1] == "\u200d"
        ):
            cut -= 1
        cut = cut if cut > 1 else longest
        yield word[:cut]
        word = word[cut:]
    yield word


def pieces_of(tokens: Sequence[Token], seconds_a_char: float, limits: Limits) -> list[tuple[int, int]]:
    """Return where the captions of a line begin and end among its words: the cheapest way to cut it.

    A cut costs as much as it tears apart; each caption costs a little, one that is too brief a lot.
    """
    reach = _reach(tokens, limits.line_chars)
    cuts = [cost_of_break(one.text, other.text, other.joined) for one, other in pairwise(tokens)]
    count = len(tokens)
    cost = [0.0] + [math.inf] * count
    came: list[int] = [0] * (count + 1)
    for first in range(count):
        furthest = first
        for _ in range(limits.lines):
            furthest = reach[furthest] if furthest < count else count
        for past in range(first + 1, furthest + 1):
            seconds = (tokens[past - 1].end - tokens[first].start) * seconds_a_char
            if seconds > limits.most_s and past > first + 1:
                break
            price = cost[first] + _CUE_COST + (cuts[past - 1] if past < count else 0.0)
            # The last one of a line may stay into the silence after it, so brevity costs it less.
            brief = max(0.0, 1 - seconds / limits.least_s)
            price += brief * (_BRIEF_COST if past < count else _BRIEF_COST / 4)
            if price < cost[past]:
                cost[past], came[past] = price, first
    pieces = []
    past = count
    while past:
        pieces.append((came[past], past))
        past = came[past]
    return pieces[::-1]


def _reach(tokens: Sequence[Token], longest: int) -> list[int]:
    """Return for each word the end of the longest line that begins with it."""
    reach, past = [], 0
    for first, token in enumerate(tokens):
        past = max(past, first + 1)
        while past < len(tokens) and tokens[past].end - token.start <= longest:
            past += 1
        reach.append(past)
    return reach


def lines_of(tokens: Sequence[Token], first: int, past: int, limits: Limits) -> tuple[str, ...]:
    """Return the lines of one caption: few, broken where it tears least apart, and of much the same length."""
    needed = _least_lines(tokens, first, past, limits.line_chars)
    best = _broken_into(tokens, first, past, needed, limits.line_chars)
    assert best is not None
    return tuple(_joined(tokens[a:b]) for a, b in best[1])


def _least_lines(tokens: Sequence[Token], first: int, past: int, longest: int) -> int:
    count, start = 1, tokens[first].start
    for token in tokens[first:past]:
        if token.end - start > longest:
            count, start = count + 1, token.start
    return count


_Broken = tuple[float, tuple[tuple[int, int], ...]]


def _broken_into(tokens: Sequence[Token], first: int, past: int, count: int, longest: int) -> _Broken | None:
    whole = tokens[past - 1].end - tokens[first].start
    if count == 1:
        return (0.0, ((first, past),)) if whole <= longest else None
    best: _Broken | None = None
    for cut in range(first + 1, past):
        above = tokens[cut - 1].end - tokens[first].start
        if above > longest:
            break
        rest = _broken_into(tokens, cut, past, count - 1, longest)
        if rest is None:
            continue
        torn = cost_of_break(tokens[cut - 1].text, tokens[cut].text, tokens[cut].joined)
        uneven = abs(above - whole / count) / longest
        price = rest[0] + torn + _UNEVEN_COST * uneven
        if best is None or price < best[0]:
            best = price, ((first, cut), *rest[1])
    return best


def _joined(tokens: Sequence[Token]) -> str:
    return "".join(("" if token.joined or not place else " ") + token.text for place, token in enumerate(tokens))
