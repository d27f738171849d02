"""What findings are about, by the words of the published rules' titles."""

from __future__ import annotations

import re
from functools import cache

from enfilade.archive.finding.asked import STOP_WORDS
from enfilade.archive.indexing import searched
from enfilade.standards.rows import rows

__all__ = ["Topic", "topic_words", "topics_of"]

Topic = tuple[str, str, str]
"""Rule, the middle of its findings' ids, and its title."""


@cache
def _titles() -> tuple[tuple[Topic, frozenset[str]], ...]:
    found = {}
    for row in rows():
        part = re.sub(r"[^a-z0-9]+", "-", row.part.lower()).strip("-")
        words = frozenset({*searched(row.title).split(), row.rule.lower()})
        found[row.rule, part, row.title] = words
    return tuple(found.items())


def topic_words() -> frozenset[str]:
    """Return every word of the rules' titles that says something."""
    return frozenset(word for _, words in _titles() for word in words if word not in STOP_WORDS)


def topics_of(words: str) -> tuple[Topic, ...]:
    """Return the rules whose titles, or whose own names, hold all of some words.

    >>> sorted({rule for rule, _, _ in topics_of("work aisle")})[:1]
    ['K6']
    """
    wanted = [word for word in searched(words).split() if word not in STOP_WORDS]
    if not wanted:
        return ()
    return tuple(topic for topic, words in _titles() if all(any(_alike(one, word) for word in words) for one in wanted))


def _alike(one: str, word: str) -> bool:
    return one == word or (len(one) > 3 and len(word) > 3 and _bare(one) == _bare(word))


def _bare(word: str) -> str:
    return re.sub(r"(?:es|s)$", "", word)
