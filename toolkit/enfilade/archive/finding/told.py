"""Answers in words: how many there are, and all of them for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from enfilade.archive.finding.answers import state_words
from enfilade.project.readable import readable

if TYPE_CHECKING:
    from enfilade.archive.finding.answers import Answers, Hit

__all__ = ["as_text", "count_words"]

_LONGEST: Final = 600
_LONGEST_ROOM: Final = 40
_SHORTEST_NAME: Final = 12


def count_words(answers: Answers) -> str:
    """Return how many there are, and how many of them are shown."""
    if not answers.total:
        return "Nothing was found."
    found = f"About {_round(answers.total):,} found" if answers.about else f"{answers.total:,} found"
    shown = len(answers.hits)
    if shown >= answers.total:
        return f"{found}."
    return f"{found}; {'the best one' if shown == 1 else f'the best {shown}'} shown."


def as_text(answers: Answers, width: int) -> str:
    """Return answers for a terminal: where each stands, and what is written there.

    Args:
        width: Of the terminal, in letters.
    """
    head = [line for line in (answers.understood, *answers.read_as, count_words(answers)) if line]
    lines = [part for line in head for part in textwrap.wrap(line, width)]
    for hit in answers.hits:
        lines += ["", *_lines(hit, width)]
    return "\n".join(lines)


def _lines(hit: Hit, width: int) -> Iterator[str]:
    version = f"version {hit.version}" if hit.until is None else f"until version {hit.version}"
    state = f", {state_words(hit.state)}" if hit.state else ""
    place = f" ({hit.project}), {readable(hit.room or 'the whole house', _LONGEST_ROOM)}, {version}"
    # Of a long name the end is left out, never where it stands.
    yield readable(hit.name or hit.project, max(_SHORTEST_NAME, width - len(place))) + place
    text = readable(f"{hit.kind}{state}: {' '.join(hit.text.split())}", _LONGEST)
    yield from textwrap.wrap(text, width, initial_indent="  ", subsequent_indent="  ")


def _round(number: int) -> int:
    """Return an estimate to two figures: more would be a pretence."""
    step: int = 10 ** max(0, len(str(number)) - 2)
    return round(number / step) * step
