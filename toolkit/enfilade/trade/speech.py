"""How long it takes to say something, and to walk on to where the next thing is said."""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Any, Final

from enfilade.errors import NotFound, OutOfRange, require_positive
from enfilade.sources import Source

__all__ = ["Duration", "Rate", "rate", "rates", "spoken_time", "walking_time", "word_count", "words_in"]

# Scripts that are written without spaces: each sign counts as a word (our own choice; rates are for English).
_UNSPACED: Final = "\u0e00-\u0eff\u1780-\u17ff\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\U00020000-\U0003ffff"
_WORD: Final = re.compile(rf"[{_UNSPACED}]|[^\W_{_UNSPACED}]+(?:[.,'\u2019\-\u2010\u2011][^\W_{_UNSPACED}]+)*")


@dataclass(frozen=True, slots=True)
class Duration:
    """How long something takes [s], and how that was reckoned."""

    seconds: float
    working: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Rate:
    """A published speed of speech or reading [words a minute].

    Attributes:
        usual: The mean, or what is advised; None where only a range is given.
        low, high: The usual range; None where only a mean is given.
    """

    id: str
    title: str
    usual: float | None
    low: float | None
    high: float | None
    source: Source

    @property
    def wpm(self) -> float:
        """Return the one number to reckon with: the usual rate, else the middle of the range."""
        if self.usual is not None:
            return self.usual
        assert self.low is not None
        assert self.high is not None
        return (self.low + self.high) / 2


@lru_cache(maxsize=1)
def rates() -> tuple[Rate, ...]:
    """Return the published rates, our own default first."""
    text = (resources.files(__package__) / "speech_rates.toml").read_text("utf-8")
    return tuple(_rate(row) for row in tomllib.loads(text)["rate"])


def rate(id: str) -> Rate:
    """Return a published rate by its id.

    Raises:
        NotFound: There is none of that name.
    """
    found = next((one for one in rates() if one.id == id), None)
    if found is None:
        raise NotFound(f"rate of speech {id!r} is not known", expected=", ".join(one.id for one in rates()))
    return found


def _rate(row: dict[str, Any]) -> Rate:
    source = Source(row["document"], row["body"], row["edition"], row["section"], row["known"])
    return Rate(row["id"], row["title"], row.get("usual"), row.get("low"), row.get("high"), source)


def words_in(text: str) -> list[str]:
    """Return the words of a spoken text: what stands between spaces and marks; `hand's` and `well-made` are one.

    >>> words_in("Look up: it's 2,700 - no, a well-made roof.")
    ['Look', 'up', "it's", '2,700', 'no', 'a', 'well-made', 'roof']
    """
    return _WORD.findall(text)


def word_count(text: str) -> int:
    """Count the words of a spoken text (see `words_in`)."""
    return sum(1 for _ in _WORD.finditer(text))


def spoken_time(words: int, *, rate_wpm: float, pauses_s: Iterable[float] = ()) -> Duration:
    """Return how long words and pauses take: 60 times the words by the rate, and the pauses.

    Args:
        words: How many, from 0 (see `word_count`).
        rate_wpm: Words a minute, above 0.
        pauses_s: Silences, each from 0 [s].
    Raises:
        OutOfRange: A number is negative or not finite, or the rate is 0.
    Source: that a rate of words a minute is words by minutes (definition).
    Limits: words in figures are to be written as they are spoken first; long words take longer than short ones.

    >>> round(spoken_time(450, rate_wpm=130).seconds, 1)
    207.7
    """
    require_positive(rate_wpm=rate_wpm)
    silent = tuple(pauses_s)
    for name, value in (("words", words), *((f"pauses_s[{i}]", pause) for i, pause in enumerate(silent))):
        if not (math.isfinite(value) and value >= 0):
            raise OutOfRange(f"{name} is {value!r}", expected="a finite number, 0 or more")
    pause_s = math.fsum(silent)
    seconds = 60.0 * words / rate_wpm + pause_s
    tail = f" + {pause_s:g} s of pauses" if silent else ""
    return Duration(seconds, (f"60 x {words} words / {rate_wpm:g} words a minute{tail} = {seconds:.1f} s",))


def walking_time(distance_mm: float, *, pace_mm_s: float) -> Duration:
    """Return how long a walk takes at a steady pace.

    Args:
        distance_mm: Way on foot, from 0 [mm].
        pace_mm_s: Above 0 [mm/s].
    Raises:
        OutOfRange: The distance is negative or not finite, or the pace is not above 0.

    >>> walking_time(6500.0, pace_mm_s=1000.0).seconds
    6.5
    """
    require_positive(pace_mm_s=pace_mm_s)
    if not (math.isfinite(distance_mm) and distance_mm >= 0):
        raise OutOfRange(f"distance_mm is {distance_mm!r}", expected="a finite number, 0 or more")
    seconds = distance_mm / pace_mm_s
    return Duration(seconds, (f"{distance_mm:.0f} mm / {pace_mm_s:g} mm a second = {seconds:.1f} s",))
