"""Captions: what is said, cut into pieces that can be read in their time.

Sources, as far as they were seen: a rule sheet for volunteer translators (42 characters a line, 2 lines, 1 to 7 s,
at most 25 characters a second, 8 to 16 for children); a broadcaster's subtitle guidelines (lines break at
punctuation and at the ends of clauses; timing outranks line breaks; a caption stays at most 1.5 s after the speech; 37
characters a line come down from teletext); 160 to 180 words a minute, so 0.33 to 0.375 s a word. Characters are
counted with spaces; the break between two lines counts as one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from enfilade.errors import OutOfRange
from enfilade.trade.caption_cutting import lines_of, pieces_of, tokens_of
from enfilade.trade.caption_limits import USUAL, Limits

__all__ = ["USUAL", "Cue", "Hurried", "Limits", "Said", "cues", "hurried"]


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


def cues(said: Iterable[Said], limits: Limits = USUAL) -> tuple[Cue, ...]:
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


def hurried(cues: Sequence[Cue], limits: Limits = USUAL) -> tuple[Hurried, ...]:
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
    tokens = tokens_of(line.text, limits.line_chars)
    if not tokens:
        return
    total = tokens[-1].end
    pieces = pieces_of(tokens, line.seconds / total, limits)
    end_s = line.start_s + line.seconds
    for first, past in pieces:
        last = past == len(tokens)
        start_ms = max(free_ms, round(1000 * (line.start_s + line.seconds * tokens[first].start / total)))
        piece_end_s = end_s if last else line.start_s + line.seconds * tokens[past].start / total
        lines = lines_of(tokens, first, past, limits)
        if last:
            wanted_s = max(limits.least_s, len(" ".join(lines)) / limits.most_cps)
            latest_s = max(end_s, min(following_s, end_s + limits.most_after_s))
            piece_end_s = min(latest_s, max(end_s, start_ms / 1000 + wanted_s))
        end_ms = min(round(1000 * piece_end_s), start_ms + math.floor(1000 * limits.most_s))
        free_ms = max(end_ms, start_ms + 1)  # A caption is never shown for no time at all.
        yield Cue(start_ms, free_ms, lines, number)
