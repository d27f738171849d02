"""Kinds of things that a word may have meant."""

from __future__ import annotations

import difflib
from typing import Final

from enfilade.project.things import KINDS

__all__ = ["OTHER_WORDS", "kinds_meant"]

OTHER_WORDS: Final[dict[str, tuple[str, ...]]] = {
    "stove": ("range", "cooktop"),
    "hob": ("cooktop",),
    "fridge": ("refrigerator",),
    "worktop": ("counter",),
    "countertop": ("counter",),
    "cupboard": ("base cabinet", "wall cabinet"),
    "cabinet": ("base cabinet", "wall cabinet", "tall cabinet"),
    "couch": ("seat",),
    "sofa": ("seat",),
    "chair": ("seat",),
    "stool": ("seat",),
    "tv": ("screen",),
    "television": ("screen",),
    "socket": ("receptacle",),
    "outlet": ("receptacle",),
    "lamp": ("light",),
    "extractor": ("hood",),
    "curtain": ("window treatment",),
    "blind": ("window treatment",),
}
"""Words that people say for a kind, and the kinds that they may mean."""


def kinds_meant(word: str) -> tuple[str, ...]:
    """Return the kinds that a word may have meant, the likeliest first; none when no kind is near.

    >>> kinds_meant("stove")
    ('range', 'cooktop')
    >>> kinds_meant("Bar stool")
    ('seat',)
    """
    plain = " ".join(word[:60].lower().replace("_", " ").replace("-", " ").split())
    last = plain.rpartition(" ")[2]
    for said in (plain, last):
        if said in KINDS:
            return (said,)
        if said in OTHER_WORDS:
            return OTHER_WORDS[said]
    return tuple(difflib.get_close_matches(plain, KINDS, n=3, cutoff=0.65))
