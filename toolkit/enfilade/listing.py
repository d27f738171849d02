"""Words as one text, as a person would list and begin them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

__all__ = ["capital", "joined", "listed", "tag_order", "the"]

_ARTICLES: Final = frozenset({"the", "a", "an"})
_OWNERS: Final = frozenset({"my", "our", "your", "his", "her", "their"})


def joined(words: Sequence[str], most: int | None = None, *, last: str = "and") -> str:
    """Return words as part of a sentence; of more than `most`, the first so many and how many more there are.

    >>> joined(["sink"]), joined(["sink", "range", "island"]), joined(["sink", "range", "island"], 2)
    ('sink', 'sink, range and island', 'sink, range and 1 more')
    >>> joined(["us", "metric"], last="or")
    'us or metric'
    """
    shown = list(words)
    if most is not None and len(shown) > most:
        shown = [*shown[:most], f"{len(shown) - most} more"]
    return f" {last} ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else "".join(shown)


def listed(words: Sequence[str], most: int) -> str:
    """Return words with commas between; of more than `most`, the first so many and how many more there are.

    >>> listed(["sink", "range", "island"], 3), listed(["sink", "range", "island"], 2)
    ('sink, range, island', 'sink, range and 1 more')
    """
    more = f" and {len(words) - most} more" if len(words) > most else ""
    return ", ".join(words[:most]) + more


def capital(words: str) -> str:
    """Return words with a capital at their head.

    >>> capital("the river window")
    'The river window'
    """
    return words[:1].upper() + words[1:]


def tag_order(entry: tuple[str, str]) -> tuple[str, int, str]:
    """Return by what tags of a drawing, with what they stand for, are sorted: `K-2` before `K-10`, letters last.

    >>> sorted([("A", "sink"), ("K-10", "shelf"), ("K-2", "range")], key=tag_order)
    [('K-2', 'range'), ('K-10', 'shelf'), ('A', 'sink')]
    """
    head, _, tail = entry[0].rpartition("-")
    return (head or "\uffff", int(tail), "") if tail.isdecimal() and len(tail) < 9 else ("\uffff", len(tail), tail)


def the(name: str) -> str:
    """Return a name with its article, as part of a sentence, unless it says whose it is or bears a number.

    >>> the("sink"), the("The old bench"), the("Hesper's room"), the("maker A's oven"), the("chair 6, land side")
    ('the sink', 'the old bench', "Hesper's room", "maker A's oven", 'chair 6, land side')
    """
    first, _, rest = name.partition(" ")
    if first.lower() in _ARTICLES and rest:
        return f"{first.lower()} {rest}"
    owner = re.match(r"\S+(?: \S+)?['\u2019]s?\s", name)
    owned = first.lower() in _OWNERS or (owner is not None and not owner[0].islower())
    return name if owned or not name or re.search(r"\s\d+\b", name) else f"the {name}"
