"""Captions: what is said, cut into pieces that can be read in their time.

Sources, as far as they were seen: a rule sheet for volunteer translators (42 characters a line, 2 lines, 1 to 7 s,
at most 25 characters a second, 8 to 16 for children); a broadcaster's subtitle guidelines (lines break at
punctuation and at the ends of clauses; timing outranks line breaks; a caption stays at most 1.5 s after the speech; 37
characters a line come down from teletext); 160 to 180 words a minute, so 0.33 to 0.375 s a word. Characters are
counted with spaces; the break between two lines counts as one.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.errors import NotFound, OutOfRange
from enfilade.trade.caption_breaks import cost_of_break

__all__ = ["PRESETS", "Cue", "Hurried", "Limits", "Said", "cues", "hurried", "limits"]


@dataclass(frozen=True, slots=True)
class Limits:
    """What a caption may be.

    Attributes:
        line_chars: Longest line [characters].
        lines: Most lines.
        least_s, most_s: Shortest and longest time on the screen [s].
        most_cps: Fastest reading [characters a second].
        most_after_s: Longest stay after the speech has ended [s].
    """

    line_chars: int = 42
    lines: int = 2
    least_s: float = 1.0
    most_s: float = 7.0
    most_cps: float = 25.0
    most_after_s: float = 1.5

    def __post_init__(self) -> None:
        if not (1 <= self.line_chars <= 1000 and 1 <= self.lines <= 3):
            raise OutOfRange(
                f"{self.lines} lines of {self.line_chars} characters", expected="1 to 3 lines of 1 to 1000"
            )
        if not (0 < self.least_s <= self.most_s < math.inf and 0 < self.most_cps and 0 <= self.most_after_s):
            raise OutOfRange(f"{self.least_s} to {self.most_s} s", expected="a shortest time above 0, not over the longest")


PRESETS: Final[dict[str, Limits]] = {
    "general": Limits(),
    "narrow": Limits(line_chars=37),
    "children": Limits(most_cps=16.0),
}
"""Sets of limits by name. `narrow` keeps teletext's line; `children` the upper end of the speed for children."""


def limits(name: str) -> Limits:
    """Return a set of limits by name.

    Raises:
        NotFound: There is no such set.
    """
    if name not in PRESETS:
        raise NotFound(f"caption limits {name!r} are unknown", expected=", ".join(PRESETS))
    return PRESETS[name]


@dataclass(frozen=True, slots=True)
class Said:
    """One line as it is spoken: its text, when it begins, how long it takes [s]."""

    text: str
    start_s: float
    seconds: float


@dataclass(frozen=True, slots=True)
class Cue:
    """One caption: its lines, and when it is shown [ms from the beginning].

    Attributes:
        said: The place of its spoken line among those that were given, from 0.
    """

    start_ms: int
    end_ms: int
    lines: tuple[str, ...]
    said: int = 0

    @property
    def text(self) -> str:
        """Return its text as one line."""
        return " ".join(self.lines)

    @property
    def seconds(self) -> float:
        """Return how long it is shown [s]."""
        return (self.end_ms - self.start_ms) / 1000

    @property
    def characters_a_second(self) -> float:
        """Return how fast it must be read, spaces counted [characters a second].

        >>> round(Cue(0, 4940, ("x" * 35, "y" * 36)).characters_a_second, 1)
        14.6
        """
        return len(self.text) / self.seconds

    @property
    def words_a_minute(self) -> float:
        """Return how fast it must be read [words a minute]."""
        return len(self.text.split()) * 60 / self.seconds


@dataclass(frozen=True, slots=True)
class Hurried:
    """A caption that is shown too briefly.

    Attributes:
        number: Of the caption, from 1.
        characters_a_second: How fast it must be read.
        seconds: How long it is shown.
    """

    number: int
    characters_a_second: float
    seconds: float


def cues(said: Iterable[Said], limits: Limits = PRESETS["general"]) -> tuple[Cue, ...]:
    """Return captions for what is said, one after the other.

    The time of a spoken line is shared among its captions by their characters, so that all are read at one
    speed. One that would go too fast stays into the silence after it. No caption holds words of two spoken lines; all
    words are kept in their order. A word that is longer than a line is broken.

    Args:
        said: Spoken lines in order; none begins before the one before it ends.
        limits: What a caption may be.
    Raises:
        OutOfRange: A time is negative or not finite, or lines overlap.
    """
    spoken = list(said)
    _require_order(spoken)
    found: list[Cue] = []
    for number, line in enumerate(spoken):
        following = spoken[number + 1].start_s if number + 1 < len(spoken) else math.inf
        found += _timed(number, line, following, found[-1].end_ms if found else 0, limits)
    return tuple(found)


def hurried(cues: Sequence[Cue], limits: Limits = PRESETS["general"]) -> tuple[Hurried, ...]:
    """Return the captions that are shown more briefly than the limits ask, though they stayed as long as could be."""
    slack_s = 0.0015  # Times are whole milliseconds; one lost at either end is no hurry.
    return tuple(
        Hurried(number, cue.characters_a_second, cue.seconds)
        for number, cue in enumerate(cues, 1)
        if cue.seconds + slack_s < max(limits.least_s, len(cue.text) / limits.most_cps)
    )


def _require_order(said: Sequence[Said]) -> None:
    end_s = 0.0
    for line in said:
        if not (math.isfinite(line.start_s) and math.isfinite(line.seconds) and line.seconds >= 0):
            raise OutOfRange(f"a line begins at {line.start_s} s and takes {line.seconds} s", expected="0 s or more")
        if line.start_s < end_s - 1e-6:
            raise OutOfRange(f"a line begins at {line.start_s} s", expected=f"{end_s} s or later, after the one before")
        end_s = line.start_s + line.seconds


def _timed(number: int, line: Said, following_s: float, free_ms: int, limits: Limits) -> Iterator[Cue]:
    """Yield the captions of one spoken line."""
    tokens = _tokens(line.text, limits.line_chars)
    if not tokens:
        return
    total = tokens[-1].end
    pieces = _pieces(tokens, line.seconds / total, limits)
    end_s = line.start_s + line.seconds
    for first, past in pieces:
        last = past == len(tokens)
        start_ms = max(free_ms, round(1000 * (line.start_s + line.seconds * tokens[first].start / total)))
        piece_end_s = end_s if last else line.start_s + line.seconds * tokens[past].start / total
        lines = _lines(tokens, first, past, limits)
        if last:
            wanted_s = max(limits.least_s, len(" ".join(lines)) / limits.most_cps)
            latest_s = max(end_s, min(following_s, end_s + limits.most_after_s))
            piece_end_s = min(latest_s, max(end_s, start_ms / 1000 + wanted_s))
        end_ms = min(round(1000 * piece_end_s), start_ms + math.floor(1000 * limits.most_s))
        free_ms = max(end_ms, start_ms + 1)  # A caption is never shown for no time at all.
        yield Cue(start_ms, free_ms, lines, number)


@dataclass(frozen=True, slots=True)
class _Token:
    """A word, or a piece of one, with its place in the text [characters]; `joined` to the one before it."""

    text: str
    start: int
    end: int
    joined: bool


_SPACE: Final = re.compile(r"[^\S\u00a0\u202f]+")
"""What parts words: any white space but spaces that do not break."""


def _tokens(text: str, longest: int) -> list[_Token]:
    tokens: list[_Token] = []
    at = 0
    for word in _SPACE.split(text):
        if not word.strip():
            continue
        at += 1 if tokens else 0
        for place, piece in enumerate(_broken(word, longest)):
            tokens.append(_Token(piece, at, at + len(piece), place > 0))
            at += len(piece)
    return tokens


def _broken(word: str, longest: int) -> Iterator[str]:
    """Yield a word in pieces that fit a line, none of which begins with a sign that belongs to the one before."""
    while len(word) > longest:
        cut = longest
        while cut > 1 and (unicodedata.combining(word[cut]) or word[cut] in "\u200d\ufe0e\ufe0f\u2060" or word[cut - 1] == "\u200d"):
            cut -= 1
        cut = cut if cut > 1 else longest
        yield word[:cut]
        word = word[cut:]
    yield word


def _pieces(tokens: Sequence[_Token], seconds_a_char: float, limits: Limits) -> list[tuple[int, int]]:
    """Return where the captions of a line begin and end among its words: the cheapest way to cut it.

    A cut costs as much as it tears apart; each caption costs a little, one that is too brief a lot.
    """
    reach = _reach(tokens, limits.line_chars)
    cuts = [cost_of_break(one.text, other.text, other.joined) for one, other in zip(tokens, tokens[1:], strict=False)]
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


_CUE_COST: Final = 2.0
_BRIEF_COST: Final = 40.0


def _reach(tokens: Sequence[_Token], longest: int) -> list[int]:
    """Return for each word the end of the longest line that begins with it."""
    reach, past = [], 0
    for first, token in enumerate(tokens):
        past = max(past, first + 1)
        while past < len(tokens) and tokens[past].end - token.start <= longest:
            past += 1
        reach.append(past)
    return reach


def _lines(tokens: Sequence[_Token], first: int, past: int, limits: Limits) -> tuple[str, ...]:
    """Return the lines of one caption: few, broken where it tears least apart, and of much the same length."""
    needed = _least_lines(tokens, first, past, limits.line_chars)
    best = _broken_into(tokens, first, past, needed, limits.line_chars)
    assert best is not None
    return tuple(_joined(tokens[a:b]) for a, b in best[1])


def _least_lines(tokens: Sequence[_Token], first: int, past: int, longest: int) -> int:
    count, start = 1, tokens[first].start
    for token in tokens[first:past]:
        if token.end - start > longest:
            count, start = count + 1, token.start
    return count


_Broken = tuple[float, tuple[tuple[int, int], ...]]


def _broken_into(tokens: Sequence[_Token], first: int, past: int, count: int, longest: int) -> _Broken | None:
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


_UNEVEN_COST: Final = 6.0


def _joined(tokens: Sequence[_Token]) -> str:
    return "".join(("" if token.joined or not place else " ") + token.text for place, token in enumerate(tokens))
