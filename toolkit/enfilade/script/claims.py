"""Figures that were typed into a line by hand, held against what the record says."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final, Literal

from enfilade.lengths import System
from enfilade.project.speaking import FIELD, SpokenLine
from enfilade.script.clauses import SIZE_WORDS, Clause, clause_of, clauses_of, is_past_or_rule, is_size_of_nothing
from enfilade.script.counted_claims import counted_claim
from enfilade.script.figures import Figures
from enfilade.script.fineness import range_of
from enfilade.script.index import Subject
from enfilade.script.mentions import Held, figures_of, named_in, shown_by
from enfilade.script.sides import grouped, sides_that_fit
from enfilade.script.typed import Typed, typed_figures
from enfilade.script.typed_numbers import Token, tokens_of
from enfilade.script.wording import for_the_eye

__all__ = ["Claim", "claims"]

_SENTENCE: Final = re.compile(r"(?<=[.!?;])\s+|\n+")
_MOST_FIGURES: Final = 200
"""Figures of one line that are compared: nobody says more, and a page of numbers must not hold up the rest."""
_EXACT: Final = frozenset({"exact"})
_UPRIGHT: Final = ("height", "ceiling", "lowest ceiling")
# Which figures of a record a word speaks of.
_SPEAKS_OF: Final[dict[str, tuple[str, ...]]] = {
    **dict.fromkeys(("wide", "width", "across", "broad"), ("width", "depth", "clear width", "screen size")),
    **dict.fromkeys(("long", "length"), ("length", "width")),
    **dict.fromkeys(("deep", "depth"), ("depth", "bowl depth", "length", "width")),
    **dict.fromkeys(("high", "tall", "height"), (*_UPRIGHT, "top", "bottom", "control height")),
    **dict.fromkeys(("thick", "thickness"), ("thickness", "depth", "height")),
    "overhang": ("overhang",), "overhangs": ("overhang",), "sill": ("bottom",), "head": ("top",),
}  # fmt: skip
_SAID_BEFORE: Final = frozenset(
    {"width", "length", "depth", "height", "thickness", "overhang", "overhangs", "sill", "head"}
)
_METRIC: Final = frozenset({"m", "cm", "mm", "m2"})

Outcome = Literal["agrees", "contradicts", "not compared"]


@dataclass(frozen=True, slots=True)
class Claim:
    """A figure that was typed.

    Attributes:
        text: As it was typed.
        outcome: Whether the record agrees with it.
        why: What the record has, to the last place that a working drawing has, or why it was not compared.
    """

    text: str
    outcome: Outcome
    why: str


@dataclass(frozen=True, slots=True)
class _Said:
    """A sentence in which figures were typed; sizes that are joined by `by` stand together."""

    text: str
    tokens: tuple[Token, ...]
    figures: tuple[tuple[Typed, ...], ...]
    clauses: tuple[Clause, ...]

    def part(self, clause: Clause) -> str:
        return self.text[self.tokens[clause.first].start : self.tokens[clause.next - 1].end]

    def typed(self, one: Typed) -> str:
        return self.text[one.start : one.end]


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a line is said, with what it shows; what a text names there is looked for once."""

    figures: Figures
    room: str | None
    shown: tuple[Subject, ...]
    _known: dict[str, list[Subject]] = field(default_factory=dict)

    def named(self, text: str) -> list[Subject]:
        if text not in self._known:
            self._known[text] = named_in(self.figures, text, self.room)
        return list(self._known[text])

    @property
    def here(self) -> list[Subject]:
        return [one for one in self.figures.index.rooms if one.record.id == self.room]


def claims(line: SpokenLine, room: str | None, figures: Figures) -> tuple[Claim, ...]:
    """Hold every figure that was typed into a line against the record.

    A figure is compared with what its clause names, else with what the sentence names, else with what the line
    shows: with the size that a word says (`wide`, `long`, `high` ...), or with all sizes; `12 by 14 feet` with two
    sizes of one room or thing. How finely it was said decides how far off it may be (`fineness`). What its own clause
    calls a distance, a difference, a rule or the past is not compared, since no record holds it.

    Args:
        line: The line.
        room: Id of the room in which it is said; None for what joins the parts.
        figures: The figures of the record.
    """
    found: list[Claim] = []
    sentences = _sentences(line.text)
    if not sentences:
        return ()
    place = _Place(figures, room, tuple(shown_by(figures, line, room)))
    left = _MOST_FIGURES
    for said in sentences:
        for together in said.figures[:left]:
            found += _claims(together, said, place)
        left = max(0, left - len(said.figures))
    if left == 0 and (more := sum(len(said.figures) for said in sentences) - _MOST_FIGURES):
        found.append(Claim(f"{more} more figures", "not compared", f"of one line {_MOST_FIGURES} are looked at"))
    return tuple(found)


@lru_cache(maxsize=4096)
def _sentences(text: str) -> tuple[_Said, ...]:
    """Return the sentences of a text in which figures were typed; those that are bound are no matter of this."""
    bare = FIELD.sub(" … ", text)
    found = []
    for sentence in _SENTENCE.split(bare):
        tokens = tokens_of(sentence)
        typed = typed_figures(sentence, tokens)
        if typed:
            found.append(_Said(sentence, tokens, grouped(typed, tokens), clauses_of(tokens)))
    return tuple(found)


def _claims(together: tuple[Typed, ...], said: _Said, place: _Place) -> list[Claim]:
    typed, text = together[0], said.typed(together[0])
    if typed.kind == "number":
        counted = counted_claim(typed, said.tokens, said.text, place.figures, place.room, place.shown)
        return [] if counted is None else [Claim(*counted)]
    if typed.kind in ("share", "angle", "volume"):
        return [Claim(text, "not compared", "the record holds no such figure of what the line tells")]
    clause = clause_of(typed, said.tokens, said.clauses)
    if typed.kind == "money":
        return [_money(typed, said, clause, place)]
    named = bool(place.named(" ".join(clause.head))) or "ceiling" in clause.head
    if is_past_or_rule(typed, said.tokens, clause) or is_size_of_nothing(typed, said.tokens, clause, named=named):
        why = "it is a distance, a difference, a rule or the past, which no record holds"
        return [Claim(said.typed(one), "not compared", why) for one in together]
    subjects = _subjects(typed, said, clause, place)
    if len(together) > 1:
        return _sides(together, said, subjects, place.figures)
    return [_size(typed, said, subjects, place)]


def _subjects(typed: Typed, said: _Said, clause: Clause, place: _Place) -> list[Subject]:
    """Return what a figure is of: what its clause names; what the sentence names where that says `it` or nothing."""
    words = {token.word for token in said.tokens[clause.first : clause.next]}
    named = place.named(said.part(clause))
    if not named or clause.backward:
        named += [one for one in place.named(said.text) if one not in named]
    if {"sill", "sills"} & words and _meant(typed, said.tokens) == _SPEAKS_OF["sill"]:
        named = [one for one in named if one.sort == "opening"] or _only_window(place.figures, place.room)
    elif "ceiling" in words or ({"room", "floor", "rooms"} & words and (typed.kind == "area" or not named)):
        named = [*named, *place.here]
    return named or list(place.shown)


def _only_window(figures: Figures, room: str | None) -> list[Subject]:
    openings = (one for one in figures.index.openings if one.record.kind == "window")
    windows = [one for one in openings if room in figures.index.rooms_of(one)]
    return windows if len(windows) == 1 else []


def _sides(together: tuple[Typed, ...], said: _Said, subjects: Sequence[Subject], figures: Figures) -> list[Claim]:
    """Hold the sides of one room or thing against its own, each against another of them."""
    ranges = [range_of(one, said.tokens) for one in together]
    fitting, held = sides_that_fit(figures, subjects, ranges)
    if not held:
        why = "the record holds no such figure of what the line names or shows"
        return [Claim(said.typed(one), "not compared", why) for one in together]
    found = []
    for typed, fit in zip(together, fitting, strict=True):
        near = sorted(held, key=lambda one: abs(_mm(one) - typed.value)) if fit is None else [fit]
        found.append(_verdict(typed, said.typed(typed), fit is not None, near, figures))
    return found


def _size(typed: Typed, said: _Said, subjects: Sequence[Subject], place: _Place) -> Claim:
    figures = place.figures
    kind: Literal["area", "length"] = "area" if typed.kind == "area" else "length"
    meant = _meant(typed, said.tokens) if kind == "length" else ()
    if "ceiling" in {token.word for token in said.tokens} and not meant:
        meant = _UPRIGHT
    low, high = range_of(typed, said.tokens)
    chosen = _chosen(figures, subjects, kind, meant)
    close = next((one for one in chosen if low <= _mm(one) <= high), None)
    if close is None:
        # The line may show what the sentence does not name.
        finishes = [Subject("finish", one) for one in figures.project.finishes]
        more = [*place.shown, *place.here, *finishes] if kind == "area" else place.shown
        close = next((one for one in _chosen(figures, more, kind, meant) if low <= _mm(one) <= high), None)
    text = said.typed(typed)
    if close is not None:
        return _verdict(typed, text, True, [close], figures)
    if not chosen:
        return Claim(text, "not compared", "the record holds no such figure of what the line names or shows")
    return _verdict(typed, text, False, sorted(chosen, key=lambda one: abs(_mm(one) - typed.value)), figures)


def _chosen(
    figures: Figures, subjects: Sequence[Subject], kind: Literal["area", "length"], meant: tuple[str, ...]
) -> list[Held]:
    return [one for one in figures_of(figures, subjects, kind) if not meant or one.attribute in meant]


def _mm(held: Held) -> float:
    return float(held.value.amount)  # type: ignore[arg-type]


def _verdict(typed: Typed, text: str, agrees: bool, held: Sequence[Held], figures: Figures) -> Claim:
    return Claim(text, "agrees" if agrees else "contradicts", "the record has " + _list(typed, held, figures))


def _meant(typed: Typed, tokens: Sequence[Token]) -> tuple[str, ...]:
    """Return which sizes a word beside the figure speaks of: `8 feet long`, `a width of 8 feet`, `8 feet in depth`."""
    after = [token.word for token in tokens[typed.last + 1 : typed.last + 4]]
    for number, word in enumerate(after):
        if word in _SPEAKS_OF and (number == 0 or after[0] in ("in", "of", "or", "-") or number == 1):
            return _SPEAKS_OF[word]
        if word in (",", ".", "and", "by", "with"):
            break
    before = [token.word for token in tokens[max(0, typed.first - 5) : typed.first]]
    for word in reversed(before):
        if word in SIZE_WORDS & _SAID_BEFORE:
            return _SPEAKS_OF[word]
        if word in (",", ".", "and"):
            break
    return ()


def _money(typed: Typed, said: _Said, clause: Clause, place: _Place) -> Claim:
    figures, index, text = place.figures, place.figures.index, said.typed(typed)
    bought = [Subject("product", one) for one in index.project.products]
    bought += [Subject("finish", one) for one in index.project.finishes]
    every = [*bought, *(Subject("decision", one) for one in index.project.decisions)]
    told = figures_of(figures, [*place.shown, *place.named(said.text)], "money")
    exact = (typed.value - 0.5, typed.value + 0.5)
    for held, (low, high) in ((told, range_of(typed, said.tokens)), (figures_of(figures, every, "money"), exact)):
        near = next((one for one in held if low <= _mm(one) <= high), None)
        if near is not None:
            return _verdict(typed, text, True, [near], figures)
    if not told or is_past_or_rule(typed, said.tokens, clause):
        return Claim(text, "not compared", "the record holds no amount of what the line names or shows")
    return _verdict(typed, text, False, told, figures)


def _list(typed: Typed, held: Sequence[Held], figures: Figures) -> str:
    once = {(id(one.subject.record), one.value): one for one in reversed(held)}
    first = [one for one in held if once.get((id(one.subject.record), one.value)) is one]
    return " and ".join(_written(typed, one, figures) for one in first[:3])


def _written(typed: Typed, one: Held, figures: Figures) -> str:
    """Write a figure of the record, to the last place; in the units in which it was typed too, when they differ."""
    decision = one.subject.sort == "decision"
    name = f"decision {one.subject.record.number}" if decision else one.subject.called
    words = for_the_eye(one.value, _EXACT, figures.system)
    typed_in: System = "metric" if typed.parts[-1].unit in _METRIC else "us"
    if typed.kind in ("length", "area") and typed_in != figures.system:
        words = f"{words} or {for_the_eye(one.value, _EXACT, typed_in)}"
    return f"{words} ({one.attribute} of {name})"
