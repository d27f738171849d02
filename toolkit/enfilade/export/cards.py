"""Cards to print and to hold: a stop on a card, its opening words, its figures and its time in large type."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any, Final

from enfilade.export.clock import clock, length_words
from enfilade.export.document import Document
from enfilade.export.issue import issue_data, running_words, setting_of, undecided_words
from enfilade.export.signs import in_short
from enfilade.export.typesetting import set_pdf
from enfilade.walkthrough.pages import SpokenPart, StopPart, TalkPart

__all__ = ["cue", "figures", "write"]

_CUE_LETTERS: Final = 58
"""Opening words that the eye takes in at a glance from the hand: a line and a half of the card's type (own choice)."""
_MOST_FIGURES: Final = 6
_CARD_LETTERS: Final = 110
"""A change, and a little more for what is undecided, on the first card: two lines of its small type."""
_ROWS: Final = 7.5
"""Rows of that type on a card of a quarter sheet."""
_ROW_LETTERS: Final = 42
_UNITS: Final = r"(?:['\"°′″%]|\s?(?:mm|cm|m2|m²|m|in|ft|sq ft|kg|lb|l|s|min|lx|W|V|A)\b)"
# A figure as it is written: 41", 7' 6", 12 ft 6 in, 1 1/2 in, USD 6,400, 90 %.
_FIGURE: Final = re.compile(
    rf"(?:USD\s|[$€£])?\d[\d,.]*(?:\s\d+/\d+|/\d+)?(?:{_UNITS}|\s%)?(?:\s\d+(?:\s\d+/\d+)?(?:[\"″]|\sin\b))?"
)


def write(document: Document) -> dict[str, bytes]:
    """Return `cards.pdf`, four cards on a sheet with cut marks, and `cards-single.pdf`, a card on a page.

    The first card says which issue the pile is, what changed and what is undecided; then come the stops.
    """
    cards = [card for part in document.pages.spoken.parts for card in _cards(part)]
    return {
        file: _set(document, file, cards, single) for file, single in (("cards.pdf", False), ("cards-single.pdf", True))
    }


def _set(document: Document, file: str, cards: Sequence[dict[str, Any]], single: bool) -> bytes:
    setting = setting_of(document, file, "cards", "cards")
    issued = issue_data(document)
    data = {
        **issued,
        "changes": [in_short(one, _CARD_LETTERS) for one in issued["changes"]],
        "undecided": [in_short(undecided_words(one), _CARD_LETTERS + 60) for one in document.pages.undecided],
        "single": single,
        "length": running_words(document.pages.spoken) if cards else "",
        "cards": [{**card, "number": number} for number, card in enumerate(cards, 2)],
    }
    return set_pdf(setting, data)


def cue(text: str) -> str:
    """Return the opening words of a line: to the end of its first clause, or to where the glance ends."""
    words = text.split()
    taken = ""
    for word in words:
        longer = f"{taken} {word}".strip()
        if len(longer) > _CUE_LETTERS and taken:
            return f"{taken}\N{NO-BREAK SPACE}…"
        taken = longer
        if len(taken) > 24 and word[-1] in ".,;:?!":
            break
    whole = len(taken.split()) == len(words)
    return taken[: 2 * _CUE_LETTERS] if whole else f"{taken.rstrip('.,;:')}\N{NO-BREAK SPACE}…"


def figures(text: str) -> tuple[str, ...]:
    """Return the figures of a line as they are written, each once."""
    found = (one.group().strip().rstrip(".,") for one in _FIGURE.finditer(text))
    return tuple(dict.fromkeys(one for one in found if one))


def _cards(part: TalkPart) -> Iterator[dict[str, Any]]:
    """Yield the cards of a part: its recap, its stops, its lead-in; each as many as its lines take."""
    start = 0.0
    sections = [
        ("Recap", "", part.recap, 0.0),
        *((_name(stop), in_short(stop.way), stop.lines, stop.walk_s) for stop in part.stops),
        ("Lead-in", "", part.lead_in, 0.0),
    ]
    for title, way, lines, walk_s in sections:
        start += walk_s
        if lines:
            piles = list(_piled(lines))
            for number, pile in enumerate(piles, 1):
                yield {
                    "part": in_short(part.title, 60),
                    "title": title,
                    "of": f"{number} of {len(piles)}" if len(piles) > 1 else "",
                    "way": way if number == 1 else "",
                    "start": clock(start),
                    "seconds": length_words(sum(one.seconds + one.pause_s for one in pile)),
                    "lines": [_line(one) for one in pile],
                }
                start += sum(one.seconds + one.pause_s for one in pile)


def _name(stop: StopPart) -> str:
    return in_short(f"{stop.number} {stop.name}" if stop.number else stop.name, 40)


def _line(one: SpokenPart) -> dict[str, Any]:
    words = cue(one.shown)
    return {
        "cue": words,
        "figures": [each for each in figures(one.shown) if each not in words][:_MOST_FIGURES],
        "shows": in_short(", ".join(one.shows), 140),
        "pause": f"silence {one.pause_s:.0f} s" if one.pause_s >= 1 else "",
    }


def _piled(lines: Sequence[SpokenPart]) -> Iterator[list[SpokenPart]]:
    """Yield the lines that go on one card."""
    pile: list[SpokenPart] = []
    filled = 0.0
    for line in lines:
        one = _line(line)
        rows: float = -(-(len(one["cue"]) + sum(len(each) + 3 for each in one["figures"])) // _ROW_LETTERS)
        rows += 0.6 * (-(-len(one["shows"] + one["pause"]) // (_ROW_LETTERS * 1.7))) + 0.4
        if pile and filled + rows > _ROWS:
            yield pile
            pile, filled = [], 0.0
        pile.append(line)
        filled += rows
    if pile:
        yield pile
