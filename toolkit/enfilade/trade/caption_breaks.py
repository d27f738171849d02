"""How much the break between two words of a caption tears apart.

Source: a broadcaster's subtitle guidelines ask for breaks at punctuation and at the ends of clauses; which words
begin a clause, and the weights, are own choice.
"""

from __future__ import annotations

from typing import Final

__all__ = ["cost_of_break"]

_CLOSING: Final = "\"'\u201d\u2019)]\u00bb"
_SENTENCE, _CLAUSE = ".?!\u2026\u3002\uff01\uff1f", ",;:\u2013\u2014\u3001\uff0c"
_CLAUSES = """
and but or nor so because which that who whom whose where when while if as than until unless although though then
before after since
"""
_PHRASES = """
in on at of to for from with without by under over between behind beside beyond into onto through across along against
above below near about around toward towards up down
"""
_LEANING = """
a an the this that these those my your his her its our their no not very is are was were be been will would can could
may might must shall should has have had do does did i you he she it we they
"""
_BEGIN_CLAUSE: Final = frozenset(_CLAUSES.split())
_BEGIN_PHRASE: Final = frozenset(_PHRASES.split())
_LEAN_ON_THE_NEXT: Final = frozenset(_LEANING.split())


def cost_of_break(before: str, after: str, joined: bool = False) -> float:
    """Return what it costs to break between two words: 0 at the end of a sentence, 10 inside a word.

    Args:
        before, after: The words on both sides.
        joined: They are pieces of one word.

    >>> cost_of_break("shelf.", "The"), cost_of_break("shelf", "and"), cost_of_break("the", "shelf")
    (0.0, 2.0, 8.0)
    """
    if joined:
        return 10.0
    bare = before.rstrip(_CLOSING)
    end = (bare or before)[-1:]
    if end in _SENTENCE:
        return 0.0
    if end in _CLAUSE:
        return 1.0
    word, following = before.lower(), after.lower().strip(_CLOSING + ",.;:")
    if before[-1:].isdigit():
        return 8.0  # A figure stays with its unit, or with its fraction.
    if word in _LEAN_ON_THE_NEXT or word in _BEGIN_PHRASE or word in _BEGIN_CLAUSE:
        return 8.0
    if following in _BEGIN_CLAUSE:
        return 2.0
    return 3.0 if following in _BEGIN_PHRASE else 5.0
