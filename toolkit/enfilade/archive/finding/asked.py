"""What was typed, read as words, phrases and words that are not to stand; nothing typed can be an error of syntax."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Final

from enfilade.archive.bulk import plain_text
from enfilade.archive.indexing import searched
from enfilade.errors import Refused

__all__ = ["LONGEST", "STOP_WORDS", "Term", "readable_question", "terms_in"]

LONGEST: Final = 1000
_MOST_TERMS: Final = 32
_LONGEST_WORD: Final = 60

STOP_WORDS: Final = frozenset(searched("""
i me my myself we our ours ourselves you your yours yourself yourselves he him his himself she her hers herself it its
itself they them their theirs themselves what which who whom this that these those am is are was were be been being have
has had having do does did doing a an the and but if or because as until while of at by for with about against between
into through during before after above below to from up down in out on off over under again further then once here there
when where why how all any both each few more most other some such no nor not only own same so than too very s t can
will just don should now
""").split())  # fmt: skip
"""English words that say nothing on their own: the list that PostgreSQL's English configuration leaves out
(`english.stop`, of the Snowball project). Leaving them out here makes both databases find the same."""

_PIECE: Final = re.compile(r'(?P<no>(?<!\S)-)?(?:["\u201c\u201d\u201e](?P<phrase>[^"\u201c\u201d\u201e]*)'
                           r'(?:["\u201c\u201d\u201e]|$)|(?P<word>[^\s"\u201c\u201d\u201e]+))')  # fmt: skip


@dataclass(frozen=True)
class Term:
    """What must stand in a text.

    Attributes:
        ways: Each a word, or a phrase as its words; one of them must stand.
        without: It must not stand.
        typed: As it was typed.
    """

    ways: tuple[tuple[str, ...], ...]
    without: bool = False
    typed: str = ""


def readable_question(typed: str) -> str:
    """Return what was typed as one line.

    Raises:
        Refused: It is too long to be a question.
    """
    if not isinstance(typed, str):
        raise Refused(f"a question is text, not {type(typed).__name__}")
    if len(typed) > LONGEST:
        raise Refused(f"the question has {len(typed):,} signs", expected=f"at most {LONGEST:,}")
    return " ".join(plain_text(typed).split())


def terms_in(typed: str) -> tuple[tuple[Term, ...], tuple[str, ...]]:
    """Return what must and must not stand, and the stop words that were left out.

    >>> terms_in('soapstone "pull out" -oak the')[1]
    ('the',)
    """
    found: dict[Term, None] = {}
    left_out: dict[str, None] = {}
    for term in _pieces(typed):
        (words,) = term.ways
        if all(word in STOP_WORDS for word in words):
            left_out[" ".join(words)] = None
        elif term.without:
            found[replace(term, ways=(_bare(words),))] = None
        else:
            found.update((replace(term, ways=(run,)), None) for run in _runs(words))
    return tuple(found)[:_MOST_TERMS], tuple(left_out)


def _bare(words: tuple[str, ...]) -> tuple[str, ...]:
    """Return a phrase without the stop words at its ends, which PostgreSQL would not look at."""
    said = [at for at, word in enumerate(words) if word not in STOP_WORDS]
    return words[said[0] : said[-1] + 1]


def _runs(words: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Yield the parts of a phrase between its stop words, in whose places PostgreSQL lets any word stand."""
    for stops, run in groupby(words, STOP_WORDS.__contains__):
        if not stops:
            yield tuple(run)


def _pieces(typed: str) -> Iterator[Term]:
    for piece in _PIECE.finditer(typed):
        without = piece["no"] is not None
        if piece["phrase"] is not None:
            words = tuple(word[:_LONGEST_WORD] for word in searched(piece["phrase"]).split())
            if words:
                yield Term((words,), without, piece["phrase"])
            continue
        words = tuple(word[:_LONGEST_WORD] for word in searched(piece["word"]).split())
        if without and len(words) > 1:
            yield Term((words,), without, piece["word"])
            continue
        for word in words:
            yield Term(((word,),), without, word)
