"""Words that stand nowhere, read as those that were meant."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from sqlalchemy import Connection

from enfilade.archive.finding.asked import Term
from enfilade.archive.finding.vocabulary import Vocabulary

__all__ = ["corrected"]


def corrected(
    terms: Sequence[Term],
    vocabulary: Callable[[bool], Vocabulary],
    stands: Callable[[Connection, str], bool],
    connection: Connection,
) -> tuple[tuple[Term, ...], tuple[str, ...]]:
    """Return terms whose words all stand somewhere, as far as that can be, and sentences on what was changed.

    Args:
        terms: What was typed.
        vocabulary: Gives the words of the archive; asked with True, those of this moment.
        stands: Tells whether a word stands somewhere in another form of it, such as its plural.
    """
    found: list[Term] = []
    told: list[str] = []
    for at, term in enumerate(terms):
        ways: list[tuple[str, ...]] = []
        for way in term.ways:
            read = [_read(word, at == len(terms) - 1, vocabulary, stands, connection) for word in way]
            if len(way) == 1:
                ways += [(word,) for word in read[0]] or [(_nowhere(way[0]),)]
            else:
                ways.append(tuple(one[0] if one else word for one, word in zip(read, way, strict=True)))
            for word, meant in zip(way, read, strict=True):
                if not meant:
                    told.append(f"\u201c{word}\u201d stands nowhere, and nothing like it.")
                elif meant != (word,):
                    quoted = " or ".join(f"\u201c{one}\u201d" for one in (meant if len(way) == 1 else meant[:1]))
                    told.append(f"\u201c{word}\u201d was read as {quoted}.")
        found.append(replace(term, ways=tuple(dict.fromkeys(ways))))
    return tuple(found), tuple(dict.fromkeys(told))


def _nowhere(word: str) -> str:
    """Return a word as one that no text holds: of two letters, a stemmer may take it for another's (`ga` for `gas`)."""
    return word * 5 if len(word) == 2 else word


def _read(
    word: str,
    last: bool,
    vocabulary: Callable[[bool], Vocabulary],
    stands: Callable[[Connection, str], bool],
    connection: Connection,
) -> tuple[str, ...]:
    """Return what a word was read as; none: it stands nowhere."""
    if any(sign.isdigit() for sign in word) or word in vocabulary(False).words:
        return (word,)
    known = vocabulary(True)
    if word in known.words:
        return (word,)
    if stands(connection, word):
        # A stemmer takes the last `e` off; who leaves it out has mistyped the word all the same.
        return (f"{word}e",) if len(word) > 4 and f"{word}e" in known.words else (word,)
    return (last and known.beginning(word)) or known.nearest(word)
