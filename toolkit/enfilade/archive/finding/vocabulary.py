"""The words that stand in an archive, against which typing errors are forgiven."""

from __future__ import annotations

import bisect
from collections.abc import Iterable
from typing import TYPE_CHECKING, Final
from weakref import WeakKeyDictionary

from sqlalchemy import Connection, func, select

from enfilade.archive import tables as t
from enfilade.archive.finding.asked import STOP_WORDS

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["Vocabulary", "vocabulary_of"]

_SHORT: Final = 5
"""Words up to this length are forgiven one slip, longer ones two (own choice)."""
_LEAST: Final = 3
"""Shorter words are taken as they are typed (own choice: two letters with a slip are near to everything)."""
_MOST_BEGUN: Final = 2000
"""So many words with the same beginning are looked at, by the alphabet (own choice: it bounds the time)."""
_MOST_WAYS: Final = 8
"""So many words a beginning is read as, the shortest (own choice: the inflections of a word are that few)."""
_MOST_NEAREST: Final = 3
"""So many words a slip is read as, where they are equally near (own choice: the page can still name them)."""
_KNOWN: WeakKeyDictionary[Store, Vocabulary] = WeakKeyDictionary()


class Vocabulary:
    """Words, and the state of the archive in which they were read.

    Args:
        words: In any order.
        at: Number of the newest version when they were read.
        left_out: Words that nothing is read as.
    """

    def __init__(self, words: Iterable[str], at: int, left_out: frozenset[str] = STOP_WORDS) -> None:
        self.at = at
        words = list(words)
        self.sorted = sorted(word for word in words if word not in left_out)
        self.words = frozenset(words)
        self._by_start: dict[str, list[str]] = {}
        for word in self.sorted:
            self._by_start.setdefault(word[0], []).append(word)

    def beginning(self, start: str) -> tuple[str, ...]:
        """Return words that begin with what was typed, the shortest first.

        >>> Vocabulary(["oak", "island", "islands"], 0).beginning("isl")
        ('island', 'islands')
        """
        if len(start) < _LEAST:
            return ()
        first = bisect.bisect_left(self.sorted, start)
        last = bisect.bisect_left(self.sorted, start + "\U0010ffff")
        return tuple(
            sorted(self.sorted[first : min(last, first + _MOST_BEGUN)], key=lambda word: (len(word), word))[:_MOST_WAYS]
        )

    def nearest(self, word: str, short: int = _SHORT) -> tuple[str, ...]:
        """Return the words that are nearest to a misspelt one, by Damerau and Levenshtein; of equals up to three.

        Words up to `short` letters are forgiven one slip, longer ones two.

        >>> Vocabulary(["soapstone", "sandstone", "oak"], 0).nearest("saopstone")
        ('soapstone',)
        """
        from rapidfuzz import process
        from rapidfuzz.distance import DamerauLevenshtein

        if len(word) < _LEAST:
            return ()
        most = 1 if len(word) <= short else 2
        # A slip is seldom made in the first letter.
        for choices in (self._by_start.get(word[0], []), self.sorted):
            alike = [one for one in choices if abs(len(one) - len(word)) <= most]
            found = process.extract(
                word, alike, scorer=DamerauLevenshtein.distance, score_cutoff=most, limit=20, processor=None
            )
            if found:
                least = min(distance for _, distance, _ in found)
                equal = [one for one, distance, _ in found if distance == least]
                return tuple(sorted(equal, key=lambda one: (abs(len(one) - len(word)), one))[:_MOST_NEAREST])
        return ()


def vocabulary_of(store: Store, connection: Connection, *, fresh: bool = False) -> Vocabulary:
    """Return the vocabulary of an archive, as far as whoever is connected may see it.

    Args:
        fresh: Read it again, where something was kept since it was read.
    """
    known = _KNOWN.get(store)
    if known is not None and not fresh:
        return known
    # Grows with each version, and with each time that something was forgotten.
    newest, facts = select(func.max(t.versions.c.id)), select(func.count()).select_from(t.info)
    versions, forgotten = connection.execute(select(newest.scalar_subquery(), facts.scalar_subquery())).one()
    at = int(versions or 0) * 1000 + int(forgotten)
    if known is None or known.at != at:
        query = select(t.words.c.word).where(t.words.c.released == store.released)
        known = Vocabulary(list(connection.execute(query).scalars()), at)
        _KNOWN[store] = known
    return known
