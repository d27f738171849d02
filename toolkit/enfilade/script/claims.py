"""Figures that were typed into a line by hand, held against what the record says."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal

from enfilade.project.speaking import SpokenLine
from enfilade.script.counted_claims import counted_claim
from enfilade.script.figures import Figures
from enfilade.script.index import Subject
from enfilade.script.mentions import Held, figures_of, named_in, shown_by
from enfilade.script.typed import Typed, typed_figures
from enfilade.script.typed_numbers import Token, tokens_of
from enfilade.script.wording import for_the_eye

__all__ = ["Claim", "claims"]

_SENTENCE: Final = re.compile(r"(?<=[.!?;])\s+|\n+")
_FIELD: Final = re.compile(r"\{[^{}]*\}")

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
_MARGIN_WORDS: Final = """
longer shorter wider narrower higher lower deeper taller more less further nearer closer too off away apart back from
past between behind beyond along outside further farther clearance walk aisle gap passage space short over under
"""
_AFTER: Final = frozenset(_MARGIN_WORDS.split())
_BEFORE: Final = frozenset({"by", "every", "within", "another", "plus", "minus", "per", "each"})
_NOT_OF_A_THING: Final = re.compile(
    r"\b(aisles?|gaps?|passages?|walkways?|clearances?|landings?|between|apart|asks?|asked|requires?|guidelines?|codes?"
    r"|rules?|used to|had been|was going to|would have|would be|could be|should|drawn|drew|planned|instead of"
    r"|rather than|until|once|anywhere|walk|steps?)\b",
    re.IGNORECASE,
)
_ABOUT: Final = frozenset({"about", "around", "roughly", "some", "nearly", "almost", "approximately", "say"})
_OVER: Final = ("more than", "over", "at least", "above", "upwards of")
_UNDER: Final = ("less than", "under", "at most", "just under", "below", "up to")

Outcome = Literal["agrees", "contradicts", "not compared"]


@dataclass(frozen=True, slots=True)
class Claim:
    """A figure that was typed.

    Attributes:
        text: As it was typed.
        outcome: Whether the record agrees with it.
        why: What the record has, or why it was not compared.
    """

    text: str
    outcome: Outcome
    why: str


def claims(line: SpokenLine, room: str | None, figures: Figures) -> tuple[Claim, ...]:
    """Hold every figure that was typed into a line against the record.

    A figure is compared with what the sentence names, else with what the line shows: with the size that a word says
    (`wide`, `long`, `high` ...), or with all sizes. How finely it was said decides how far off it may be. What is a
    distance, a difference, a rule or the past is not compared, since no record holds it.

    Args:
        line: The line.
        room: Id of the room in which it is said; None for what joins the parts.
        figures: The figures of the record.
    """
    found: list[Claim] = []
    for sentence, tokens, typed in _sentences(line.text):
        shown = shown_by(figures, line, room)
        for one in typed:
            claim = _claim(one, sentence, tokens, figures, room, shown)
            if claim is not None:
                found.append(claim)
    return tuple(found)


@lru_cache(maxsize=4096)
def _sentences(text: str) -> tuple[tuple[str, tuple[Token, ...], tuple[Typed, ...]], ...]:
    """Return the sentences of a text in which figures were typed; those that are bound are no matter of this."""
    bare = _FIELD.sub(" … ", text)
    found = []
    for sentence in _SENTENCE.split(bare):
        tokens = tokens_of(sentence)
        typed = typed_figures(sentence, tokens)
        if typed:
            found.append((sentence, tokens, typed))
    return tuple(found)


def _claim(
    typed: Typed, sentence: str, tokens: Sequence[Token], figures: Figures, room: str | None, shown: Sequence[Subject]
) -> Claim | None:
    text = sentence[typed.start : typed.end]
    if typed.kind == "number":
        counted = counted_claim(typed, tokens, sentence, figures, room, shown)
        return None if counted is None else Claim(*counted)
    if typed.kind in ("share", "angle", "volume"):
        return Claim(text, "not compared", "the record holds no such figure of what the line tells")
    if typed.kind == "money":
        return _money(typed, text, sentence, tokens, figures, room, shown)
    if _of_no_thing(typed, sentence, tokens):
        return Claim(text, "not compared", "it is a distance, a difference, a rule or the past, which no record holds")
    return _size(typed, text, sentence, tokens, figures, room, shown)


def _of_no_thing(typed: Typed, sentence: str, tokens: Sequence[Token]) -> bool:
    after = tokens[typed.last + 1].word if typed.last + 1 < len(tokens) else ""
    before = tokens[typed.first - 1].word if typed.first else ""
    return after in _AFTER or before in _BEFORE or _NOT_OF_A_THING.search(sentence) is not None


def _size(
    typed: Typed, text: str, sentence: str, tokens: Sequence[Token], figures: Figures, room: str | None,
    shown: Sequence[Subject],
) -> Claim:  # fmt: skip
    kind: Literal["area", "length"] = "area" if typed.kind == "area" else "length"
    meant = _meant(typed, tokens) if kind == "length" else ()
    subjects = named_in(figures, sentence, room)
    here = [one for one in figures.index.rooms if one.record.id == room]
    words = {token.word for token in tokens}
    if "ceiling" in words or ({"room", "floor", "rooms"} & words and kind == "area"):
        subjects = [*subjects, *here]
    subjects = subjects or list(shown)
    held = figures_of(figures, subjects, kind)
    if "ceiling" in words and not meant:
        meant = _UPRIGHT
    chosen = [one for one in held if not meant or one.attribute in meant]
    low, high = _range(typed, sentence, tokens)
    close = next((one for one in chosen if low <= float(one.value.amount) <= high), None)  # type: ignore[arg-type]
    if close is None:
        finishes = [Subject("finish", one) for one in figures.project.finishes]
        more = [*shown, *here, *finishes] if kind == "area" else shown
        close = _elsewhere(figures, more, kind, meant, low, high)
    if close is not None:
        return Claim(text, "agrees", f"the record has {_written(close, figures)}")
    if not chosen:
        return Claim(text, "not compared", "the record holds no such figure of what the line names or shows")
    nearest = sorted(chosen, key=lambda one: abs(float(one.value.amount) - typed.value))  # type: ignore[arg-type]
    return Claim(text, "contradicts", "the record has " + _list(nearest, figures))


def _elsewhere(
    figures: Figures, shown: Iterable[Subject], kind: Literal["area", "length"], meant: tuple[str, ...], low: float,
    high: float,
) -> Held | None:  # fmt: skip
    """Return a figure of what the line shows that is the one typed, when what the sentence names has none."""
    held = figures_of(figures, shown, kind)
    fit = (one for one in held if low <= float(one.value.amount) <= high)  # type: ignore[arg-type]
    return next((one for one in fit if not meant or one.attribute in meant), None)


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
        if word in _SPEAKS_OF and word in ("width", "length", "depth", "height", "thickness", "overhang", "overhangs",
                                           "sill", "head"):  # fmt: skip
            return _SPEAKS_OF[word]
        if word in (",", ".", "and"):
            break
    return ()


def _range(typed: Typed, sentence: str, tokens: Sequence[Token]) -> tuple[float, float]:
    """Return between which figures the record agrees: the finer it was said, the closer."""
    before = sentence[max(0, typed.start - 14) : typed.start].casefold().rstrip()
    slack = 0.8 if typed.kind == "length" else 1e-6
    fine = _fine(typed, tokens) + slack
    if before.endswith(_OVER):
        return typed.value - slack, typed.value + 4 * typed.fine
    if before.endswith(_UNDER):
        return typed.value - 4 * typed.fine, typed.value + slack
    return typed.value - fine, typed.value + fine


def _fine(typed: Typed, tokens: Sequence[Token]) -> float:
    """Return how far off a figure may be; twice as far after a word such as `about`."""
    return typed.fine * (2 if typed.first and tokens[typed.first - 1].word in _ABOUT else 1)


def _money(
    typed: Typed, text: str, sentence: str, tokens: Sequence[Token], figures: Figures, room: str | None,
    shown: Sequence[Subject],
) -> Claim:  # fmt: skip
    index = figures.index
    bought = [Subject("product", one) for one in index.project.products]
    bought += [Subject("finish", one) for one in index.project.finishes]
    every = [*bought, *(Subject("decision", one) for one in index.project.decisions)]
    told = figures_of(figures, [*shown, *named_in(figures, sentence, room)], "money")
    fine = _fine(typed, tokens)
    for held, off in ((told, fine), (figures_of(figures, every, "money"), 0.5)):
        near = next((one for one in held if abs(float(one.value.amount) - typed.value) <= off), None)  # type: ignore[arg-type]
        if near is not None:
            return Claim(text, "agrees", f"the record has {_written(near, figures)}")
    if not told or _NOT_OF_A_THING.search(sentence):
        return Claim(text, "not compared", "the record holds no amount of what the line names or shows")
    return Claim(text, "contradicts", "the record has " + _list(told, figures))


def _list(held: Sequence[Held], figures: Figures) -> str:
    once = {(id(one.subject.record), one.value): one for one in reversed(held)}
    first = [one for one in held if once.get((id(one.subject.record), one.value)) is one]
    return " and ".join(_written(one, figures) for one in first[:3])


def _written(one: Held, figures: Figures) -> str:
    record = one.subject.record
    name = f"decision {record.number}" if one.subject.sort == "decision" else getattr(record, "name", "") or getattr(
        record, "kind", record.id
    )  # fmt: skip
    return f"{for_the_eye(one.value, frozenset(), figures.system)} as the {one.attribute} of {name}"
