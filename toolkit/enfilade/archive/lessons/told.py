"""Reminders in a terminal."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence

from enfilade.archive.comparing.on_a_terminal import wrapped
from enfilade.archive.lessons.reminder import Reminder
from enfilade.times import day_here

__all__ = ["as_text"]

_LEAST_WIDTH = 20
_INDENT = 2


def as_text(found: Sequence[Reminder], width: int = 100) -> str:
    """Return reminders for a terminal of so many signs a line, each with the id to answer it by."""
    width = max(width, _LEAST_WIDTH)
    if not found:
        return "Nothing that was learnt elsewhere bears on this project.\n"
    return "\n\n".join("\n".join(_lines(one, width)) for one in found) + "\n"


def _lines(one: Reminder, width: int) -> Iterator[str]:
    yield from wrapped(one.lesson.text, width)
    for words in _beneath(one):
        yield from (f"{' ' * _INDENT}{line}" for line in wrapped(words, width - _INDENT))


def _beneath(one: Reminder) -> Iterator[str]:
    yield (
        f"Learnt in {one.name or one.project}, decision {one.lesson.number}, {one.lesson.title} "
        f"(version {one.version}, kept on {day_here(one.on)})."
    )
    yield from (reason.why for reason in one.reasons)
    for offer in one.offers:
        there = f"; {offer.measured} where it was learnt" if offer.measured else ""
        yield f"Could be a house rule: {offer.row}, {offer.title}, published {offer.published}{there}."
    if one.answered is not None:
        by = f" by {one.answered.who}" if one.answered.who else ""
        because = f": {one.answered.reason}" if one.answered.reason else ""
        on = day_here(dt.datetime.fromisoformat(one.answered.on))
        again = "; it has come back since" if one.open else ""
        yield f"{one.answered.kind.capitalize()}{by} on {on}{because}{again}."
    yield one.id
