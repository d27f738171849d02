"""What stands round a typed figure in its sentence, and whether it is the size of a thing at all.

A sentence is cut into clauses at its signs and at words such as `but` and `so`; a piece without a verb belongs to the
one before it. Only the clause of a figure is looked at, and in it a few words on either side: `so you can walk along
it` says nothing about the nine feet before it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.script.typed import Typed
from enfilade.script.typed_numbers import Token

__all__ = ["SIZE_WORDS", "Clause", "clause_of", "clauses_of", "is_past_or_rule", "is_size_of_nothing"]


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


SIZE_WORDS: Final = _words("""
wide width across broad long length deep depth high tall height thick thickness overhang overhangs sill head
""")
_SIGNS: Final = frozenset(",:;()\u2013\u2014")
_BREAKS: Final = _words("but so because while whereas although though since as yet")
_VERBS: Final = _words("""
is are was were be been has have had asks asked needs leaves stands stand runs run measures measure seats gives takes
take can could should must would will may might spans stretches extends reaches wants requires comes came goes went
fills holds stays makes keeps fits lies costs cost looks says walk
""")
_PRONOUNS: Final = _words("it they this that these those which who")
_SPEAKERS: Final = _words("you we i he she one there everybody everyone nobody") | _PRONOUNS
_PREPOSITIONS: Final = _words("""
beside between of past in on from to at with by along behind under over above below beyond into through near
""")
_FROM: Final = frozenset({"between", "from", "both"})
_DISTANCE: Final = _words("""
aisle aisles gap gaps passage passages walkway walkways clearance clearances landing landings between apart anywhere
nowhere walk walks step steps distance
""")
_DISTANCE_NEAR: Final = (_DISTANCE - {"between"}) | {"leave", "leaves", "left"}
_PAST_OR_RULE: Final = re.compile(
    r"\b(asks?|asked|asking|requires?|required|guidelines?|codes?|rules?|used to|had been|(?:was|were) going to"
    r"|would have|would be|could be|could have|should|ought|must|needs?|needed|drawn|drew|planned|instead of"
    r"|rather than|until|once|no longer|not|never)\b"
)
_RULE_AFTER: Final = re.compile(r"\b(asked|required|drawn|planned|rule|guideline|code)\b")
_AFTER: Final = _words("""
longer shorter wider narrower higher lower deeper taller more less further nearer closer too off away apart back from
past between behind beyond along outside further farther clearance walk aisle gap passage space short over under
""")
_BEFORE: Final = frozenset({"by", "every", "within", "another", "plus", "minus", "per", "each"})
_EXTENDS: Final = _words("runs run measures spans stretches extends")
_RULE_WINDOW: Final = 6
_NEAR: Final = 4
_BEHIND: Final = 3


@dataclass(frozen=True, slots=True)
class Clause:
    """A clause of a sentence.

    Attributes:
        first, next: Places of its first token, and of the one after its last.
        head: Its subject, as words before its first verb or preposition; that of the sentence, when it says `it` or
            begins with a verb.
        backward: It says `it`, or begins with a verb: what it is about stands before it.
    """

    first: int
    next: int
    head: tuple[str, ...]
    backward: bool


def clauses_of(tokens: Sequence[Token]) -> tuple[Clause, ...]:
    """Return the clauses of a sentence, in order."""
    starts = [0, *(at for at in range(1, len(tokens)) if _begins(tokens, at))]
    spans = [(start, end) for start, end in zip(starts, [*starts[1:], len(tokens)], strict=True) if end > start]
    found: list[Clause] = []
    for first, end in spans:
        words = _bare(tokens[first:end])
        backward = bool(words) and (words[0] in _PRONOUNS or words[0] in _VERBS - {"walk", "stand", "measure", "run"})
        head = found[0].head if backward and found else _head(words)
        found.append(Clause(first, end, head, backward))
    return tuple(found)


def _begins(tokens: Sequence[Token], at: int) -> bool:
    word, before = tokens[at].word, tokens[at - 1].text
    if before in _SIGNS or (before == "-" and tokens[at - 1].start > tokens[at - 2].end if at > 1 else False):
        return True
    if word in _BREAKS:
        return True
    if word != "and":
        return False
    for token in reversed(tokens[:at]):
        if token.word in _FROM:
            return False  # between the island and the range
        if token.word == "and" or token.text in _SIGNS:
            break
    after = [token.word for token in tokens[at + 1 : at + 5]]
    return bool(after) and (after[0] in _SPEAKERS or bool(_VERBS & set(after)))


def _bare(tokens: Sequence[Token]) -> tuple[str, ...]:
    """Return the words of a clause without what joins it to the one before."""
    words = tuple(token.word for token in tokens if token.text[0].isalnum() or token.text == "\u2026")
    return words[1:] if words and words[0] in _BREAKS | {"and"} else words


def _head(words: Sequence[str]) -> tuple[str, ...]:
    for at, word in enumerate(words):
        if at and word in _VERBS | _PREPOSITIONS:
            return tuple(words[:at])
    return tuple(words)


def clause_of(typed: Typed, tokens: Sequence[Token], clauses: Sequence[Clause]) -> Clause:
    """Return the clause of a figure; a piece without a verb together with the clause that it belongs to."""
    at = next(number for number, one in enumerate(clauses) if one.first <= typed.first < one.next)
    own = clauses[at]
    if _VERBS & {token.word for token in tokens[own.first : own.next]}:
        return own
    if at == 0:
        following = clauses[1] if len(clauses) > 1 else own
        return Clause(own.first, following.next, own.head, own.backward)
    before = at - 1
    while before > 0 and tokens[clauses[before].first].word == "as":
        before -= 1  # it is, as the guideline asks, nine feet long
    joined = clauses[before]
    # What was passed over stays out: the look back is bounded by the figure's own clause then.
    first = joined.first if before == at - 1 else own.first
    return Clause(first, own.next, joined.head, joined.backward)


def is_past_or_rule(typed: Typed, tokens: Sequence[Token], clause: Clause) -> bool:
    """Tell whether a figure is said to be asked for, planned, or over."""
    before = _said(tokens[max(clause.first, typed.first - _RULE_WINDOW) : typed.first])
    after = _said(tokens[typed.last + 1 : min(clause.next, typed.last + 1 + _BEHIND)])
    return _PAST_OR_RULE.search(before) is not None or _RULE_AFTER.search(after) is not None


def is_size_of_nothing(typed: Typed, tokens: Sequence[Token], clause: Clause, *, named: bool) -> bool:
    """Tell whether a figure is a distance or a difference, which no record holds.

    Args:
        typed: The figure.
        tokens: Of its sentence.
        clause: The clause that it stands in.
        named: Whether the clause is about something that has a name in the record.
    """
    before = tokens[typed.first - 1].word if typed.first else ""
    after = [token.word for token in tokens[typed.last + 1 : min(clause.next, typed.last + 1 + _NEAR)]]
    nearest = after[0] if after else ""
    if before in _BEFORE or (nearest in _AFTER and not (nearest == "along" and before in _EXTENDS)):
        return True
    for word in after:
        if word in SIZE_WORDS and named:
            break
        if word in _DISTANCE or (nearest == "of" and word in ("floor", "space") and typed.kind == "length"):
            return True
    if tokens[typed.last - 1].text == "-" and after:
        return False  # beside the nine-foot counter
    near = {token.word for token in tokens[max(clause.first, typed.first - _NEAR) : typed.first]}
    return bool(_DISTANCE & set(clause.head) or _DISTANCE_NEAR & near)


def _said(tokens: Sequence[Token]) -> str:
    return " ".join(token.word for token in tokens)
