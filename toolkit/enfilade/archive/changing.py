"""What changed between two states of a project, in sentences of the trade."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from enfilade.archive.changing_records import told_apart
from enfilade.archive.changing_verdicts import about, house_names, told_verdicts
from enfilade.archive.stated import Stated, kept_state, stated
from enfilade.listing import capital
from enfilade.walkthrough.change_words import Told, told_changes

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["Stated", "changed", "kept_state", "stated", "told_between"]


def changed(store: Store, project: str, a: int, b: int | None = None) -> tuple[str, ...]:
    """Return what changed from one version of a project to another.

    Args:
        store: The archive.
        project: Id of the project.
        a, b: Numbers of the versions; without `b`, the newest.
    Raises:
        NotFound: There is no such version.
        BadRecord: What the archive holds of it is damaged.
    """
    return told_between(kept_state(store, project, a), kept_state(store, project, b))


def told_between(before: Stated, after: Stated) -> tuple[str, ...]:
    """Return what changed between two states, room by room, the most important room first; empty when nothing did.

    `Kitchen: island is 150 mm longer (now 2850 mm, was 2700 mm).` The lines to speak are not compared.
    """
    own, left = told_apart(before.project, after.project, _answered(before, after))
    told = own + [replace(one, rank=one.rank * 10) for one in told_changes(before.project, left)]
    told += told_verdicts(before, after)
    rooms = {space.id: space.name for one in (before, after) for space in one.project.spaces}
    return _sentences(told, rooms)


def _answered(before: Stated, after: Stated) -> dict[str, tuple[str, str]]:
    """Return room and words of the findings that either state answers, by id."""
    ids = {answer.finding for one in (before, after) for answer in one.project.answers}
    names = house_names(before.project, after.project)
    found = (one for state in (before, after) for one in state.findings if one.id in ids)
    return {one.id: (one.space or "", about(one, names)) for one in found}


def _sentences(told: list[Told], rooms: Mapping[str, str]) -> tuple[str, ...]:
    first = _first(told)
    places = {room: place for place, room in enumerate(rooms, 1)} | {"": 0}
    order = sorted(told, key=lambda one: (first[one.room], places.get(one.room, len(places)), one.room, one.rank))
    counted = Counter(f"{rooms.get(one.room) or 'the whole house'}: {one.words.rstrip('.')}" for one in order)
    return tuple(f"{capital(words)}{f' ({n} of them)' if n > 1 else ''}." for words, n in counted.items())


def _first(told: Iterable[Told]) -> dict[str, int]:
    found: dict[str, int] = {}
    for one in told:
        found[one.room] = min(one.rank, found.get(one.room, one.rank))
    return found
