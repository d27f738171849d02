"""What is looked for by number: kinds of things, rooms by their use, decisions, products and finishes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Final

from enfilade.archive.notes import USES
from enfilade.project.things import KINDS

__all__ = ["SEATED", "noun_in", "noun_words"]

SEATED: Final = ("island", "peninsula", "table", "counter", "desk")
"""Kinds of things at which people sit."""
_OTHERS: Final[dict[str, tuple[str, ...]]] = {
    "cabinet": ("base cabinet", "wall cabinet", "tall cabinet"), "countertop": ("counter",), "worktop": ("counter",),
    "fridge": ("refrigerator",), "chair": ("seat",), "stool": ("seat",),
}  # fmt: skip
_COSTS: Final = ("decision", "product", "finish")
_NO_ROOMS: Final = ("outside", "other")


def _several(word: str) -> Iterator[str]:
    yield word
    yield re.sub(r"y$", "ie", word) + ("es" if re.search(r"(?:s|sh|ch|x)$", word) else "s")
    if word.endswith("f"):
        yield word[:-1] + "ves"


@cache
def _nouns() -> dict[str, tuple[tuple[str, ...], str]]:
    """Return by word the kinds that it names, and the use of room."""
    found: dict[str, tuple[tuple[str, ...], str]] = {}
    for use in USES:
        if use not in _NO_ROOMS:
            found |= dict.fromkeys(_several(use), (("room",), use))
    found |= dict.fromkeys((*_several("bathroom"), *_several("bath room")), (("room",), "bath"))
    found |= dict.fromkeys((*_several("room"), *_several("space"), *_several("ceiling")), (("room",), ""))
    for kind in KINDS:
        found |= dict.fromkeys(_several(kind), ((kind,), ""))
    for word, kinds in _OTHERS.items():
        found |= dict.fromkeys(_several(word), (kinds, ""))
    for kind in _COSTS:
        found |= dict.fromkeys(_several(kind), ((kind,), ""))
    return found


@cache
def _pattern() -> re.Pattern[str]:
    words = sorted(_nouns(), key=len, reverse=True)
    return re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, words))})(?![\w-])")


def noun_words() -> frozenset[str]:
    """Return every word of which a noun is made."""
    return frozenset(word for noun in _nouns() for word in noun.split())


def noun_in(text: str) -> tuple[tuple[str, ...], str, str, tuple[int, int]] | None:
    """Return the first noun of a text: the kinds that it names, the use of room, the word, and where it stands."""
    found = _pattern().search(text)
    if found is None:
        return None
    kinds, use = _nouns()[found[0]]
    return kinds, use, found[0], found.span()
