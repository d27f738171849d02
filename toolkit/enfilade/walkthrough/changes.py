"""What changed since the last issue to the same audience."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Final

from enfilade.listing import capital
from enfilade.project.issues import Issue, as_kept
from enfilade.times import day_words
from enfilade.walkthrough.change_words import Told, told_changes
from enfilade.walkthrough.pages import Changes
from enfilade.walkthrough.telling import Telling

__all__ = ["changes", "issue_words"]

NOTHING_CHANGED: Final = "Nothing that is told here has changed."
MOST: Final = 40
"""So many sentences are told; the rest are counted."""


def changes(telling: Telling) -> Changes:
    """Return what changed since this audience was last told, room by room, the most important room first.

    Both sides are what this audience may be told, so that nothing else can show. The lines to speak are not compared.
    """
    issued = telling.issued
    if issued.last is None:
        return Changes("", issued.troubles)
    told = told_changes(issued.last.project, as_kept(telling.project))
    rooms = {space.id: space.name for one in (issued.last.project, telling.project) for space in one.spaces}
    about = {**dict.fromkeys(issued.troubles, ""), **_sentences(told, rooms, telling.order)}
    if len(about) == len(issued.troubles):
        about[NOTHING_CHANGED] = ""
    return Changes(issue_words(issued.last), tuple(about), tuple(about.values()))


def issue_words(issue: Issue) -> str:
    """Return which issue it is, in words: `version 4, issued on 16 March 2026`."""
    version = f"version {issue.version}" if issue.version else "a version without a name"
    return f"{version}, issued on {day_words(issue.date)}" if issue.date else version


def _sentences(told: list[Told], rooms: dict[str, str], order: Iterable[str]) -> dict[str, str]:
    """Return the sentences, each with the room that it is about."""
    places = {room: place for place, room in enumerate(order, 1)} | {"": 0}
    first = {room: min(one.rank for one in told if one.room == room) for room in {one.room for one in told}}
    last = len(places)
    told = sorted(told, key=lambda one: (first[one.room], places.get(one.room, last), one.room, one.rank))
    counted = Counter((one.room, f"{_room(one.room, rooms)}: {one.words.rstrip('.')}") for one in told)
    sentences = {
        f"{capital(words)}{f' ({count} of them)' if count > 1 else ''}.": room
        for (room, words), count in counted.items()
    }
    more = len(sentences) - MOST
    if more > 0:
        sentences = dict(list(sentences.items())[:MOST])
        sentences[f"And {more} more {'change' if more == 1 else 'changes'}."] = ""
    return sentences


def _room(room: str, rooms: dict[str, str]) -> str:
    return rooms.get(room) or "The whole house"
