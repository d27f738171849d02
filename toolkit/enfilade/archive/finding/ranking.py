"""How well a text fits: the more often its words are those asked for, and the shorter it is, the better."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from typing import Final

from enfilade.archive.finding.asked import Term
from enfilade.archive.indexing import searched

__all__ = ["fit_of", "fit_of_some"]

_K1: Final = 1.2
_B: Final = 0.75
"""Parameters of BM25 as they are usually taken (Robertson and Zaragoza, The Probabilistic Relevance Framework: BM25 and
Beyond, 2009; recalled)."""
_USUAL_WORDS: Final = 18.0
"""Words of a usual text (own choice: counted over the demo house)."""
_TOGETHER: Final = 1.25
"""So much better fits a text in which the words stand side by side in the order that was typed (own choice)."""
_KINDS: Final = {"decision": 1.1, "lesson": 1.1, "finding": 0.8}
"""What people look for first, and what is written by the machine (own choice)."""


def fit_of(terms: Sequence[Term]) -> Callable[[str, str], float]:
    """Return a function from kind and text to how well it fits, above 0.

    It is BM25 without the weight of rare words, since every text that is ranked holds all of them. Working it out here
    gives both databases one order.
    """
    wanted = [term for term in terms if not term.without]
    counts = [_pattern(term) for term in wanted]
    in_order = re.compile(r"\b" + " ".join(_form(term.ways[0]) for term in wanted) + r"\b") if len(wanted) > 1 else None

    def fit(kind: str, text: str) -> float:
        plain = searched(text)
        score = sum(_score(count, plain) for count in counts)
        together = _TOGETHER if in_order is not None and in_order.search(plain) else 1.0
        return round(score / len(counts) * together * _KINDS.get(kind, 1.0), 4)

    return fit


def fit_of_some(terms: Sequence[Term], counted: Sequence[int]) -> Callable[[str, str, Sequence[int]], float]:
    """Return a function from kind, text and the places of the terms that stand in it to how well it fits, above 0.

    Args:
        terms: What must stand.
        counted: In how many texts each stands: a word that stands in few says more than one that stands in many. The
            weight is one by the doublings of that number and one more (own choice: it needs no count of all texts).
    """
    counts = [_pattern(term) for term in terms]
    weights = [1.0 / (1.0 + math.log2(max(one, 1))) for one in counted]

    def fit(kind: str, text: str, held: Sequence[int]) -> float:
        plain = searched(text)
        score = sum(weights[at] * _score(counts[at], plain) for at in held)
        return round(score / sum(weights) * _KINDS.get(kind, 1.0), 4)

    return fit


def _score(count: re.Pattern[str], plain: str) -> float:
    length = 1.0 - _B + _B * (plain.count(" ") + 1) / _USUAL_WORDS
    times = len(count.findall(plain)) or 0.5  # it stands there, in a form that was not recognised
    return times * (_K1 + 1) / (times + _K1 * length)


def _pattern(term: Term) -> re.Pattern[str]:
    return re.compile("|".join(rf"\b{_form(way)}\b" for way in term.ways))


def _form(way: tuple[str, ...]) -> str:
    """Return a pattern for a word and its usual forms: both databases' stemmers take endings off."""
    return " ".join(re.escape(word[: max(3, len(word) - 2)]) + r"\w{0,5}" for word in way)
