"""Text made fit to be set: signs that no font has are marked and named, and long words may break."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final

__all__ = ["SHOWN_INSTEAD", "Shown", "in_short", "named"]

SHOWN_INSTEAD: Final = "\ufffd"

# What the shipped face has for certain: Basic Latin, Latin-1 and the marks of plain text. A test holds it against the
# files. Everything else is tried out before it is set.
_PLAIN: Final = frozenset(
    {chr(code) for code in (*range(0x20, 0x7F), *range(0xA0, 0x180))} - set("\u00ad\u0149\u017f")
    | set("\n\u2013\u2014\u2018\u2019\u201c\u201d\u2026\u2212\u200b")
)
# Never set: controls, marks that turn the direction of the rest, private, unassigned and surrogate code points.
_NEVER: Final = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\u2028\u2029\ufeff\ufff9-\ufffb]")
_NO_SIGN: Final = frozenset({"Cc", "Cn", "Co", "Cs"})

_LONG: Final = re.compile(r"[^\s\u200b]{15,}")
_WORD: Final = re.compile(r"[^\W\d_]{15,24}")
_PIECE: Final = 8


class Shown:
    """What can be set of a document's text.

    Args:
        displayable: Tells whether every sign of a string is in some font.
    """

    def __init__(self, displayable: Callable[[str], bool]) -> None:
        self._displayable = displayable
        self._lost: set[str] = set()
        self._odd: set[str] = set()
        self._marks: dict[int, str] = {}

    @property
    def missing(self) -> tuple[str, ...]:
        """Return the signs that are shown as a mark."""
        return tuple(sorted(self._lost))

    @property
    def strict(self) -> bool:
        """Tell whether every unusual sign is shown as a mark."""
        return self._lost == self._odd

    def be_strict(self) -> None:
        """Show every unusual sign as a mark."""
        self._lose(self._odd)

    def look_through(self, data: Any, drawings: Iterable[str]) -> None:
        """Find out which signs of the data and the drawings cannot be shown."""
        self._odd = (_signs(data) | {sign for text in drawings for sign in set(text)}) - _PLAIN - set("\t\r")
        self._odd.discard(SHOWN_INSTEAD)
        never = {sign for sign in self._odd if _NEVER.match(sign) or unicodedata.category(sign) in _NO_SIGN}
        self._lose(never | set(self._not_shown("".join(sorted(self._odd - never)))))

    def of(self, data: Any) -> Any:
        """Return the data as it is to be set."""
        if isinstance(data, str):
            return _breakable(self.text(data))
        if isinstance(data, Mapping):
            return {key: self.of(value) for key, value in data.items()}
        if isinstance(data, list | tuple):
            return [self.of(value) for value in data]
        return data

    def text(self, text: str) -> str:
        """Return text with a mark in the place of each sign that cannot be shown."""
        plain = text.replace("\r\n", "\n").replace("\r", "\n").replace("\t", " ")
        return plain.translate(self._marks) if self._marks else plain

    def _lose(self, signs: set[str]) -> None:
        self._lost, self._marks = signs, dict.fromkeys(map(ord, signs), SHOWN_INSTEAD)

    def _not_shown(self, signs: str) -> str:
        """Return those of some signs that no font has, found by halving."""
        if not signs or self._displayable(signs):
            return ""
        middle = len(signs) // 2
        if len(signs) == 1:
            return signs
        if all(map(_wide, signs)) and not any(map(self._displayable, (signs[0], signs[middle], signs[-1]))):
            # A script of thousands of signs is there or is not: it is not tried sign by sign.
            return signs
        return self._not_shown(signs[:middle]) + self._not_shown(signs[middle:])


def in_short(text: str, most: int = 90) -> str:
    """Return text for a place that does not grow, a running head or a title block: cut with an ellipsis."""
    plain = " ".join(text[: 4 * most].split())
    return plain if len(plain) <= most and len(text) <= 4 * most else f"{plain[: most - 1].rstrip()}\u2026"


def named(sign: str) -> str:
    """Return what a sign is, in words."""
    name = unicodedata.name(sign, "").lower() or "a control sign or one without a name"
    return f"{name} (U+{ord(sign):04X})"


def _signs(data: Any) -> set[str]:
    if isinstance(data, str):
        return set(data)
    values = data.values() if isinstance(data, Mapping) else data if isinstance(data, list | tuple) else ()
    found: set[str] = set()
    for value in values:
        found |= _signs(value)
    return found


def _wide(sign: str) -> bool:
    return unicodedata.east_asian_width(sign) in "WF"


def _breakable(text: str) -> str:
    """Return text in which long words that are none, such as addresses, may break; words of letters are hyphenated."""
    return _LONG.sub(lambda found: found[0] if _WORD.fullmatch(found[0]) else _pieces(found[0]), text)


def _pieces(word: str) -> str:
    return "\u200b".join(word[at : at + _PIECE] for at in range(0, len(word), _PIECE))
