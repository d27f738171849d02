"""How many there are: what can be counted in a room or in the house, by its everyday word."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any, Final

from enfilade.project.doorways import PASSAGES
from enfilade.project.surfaces import Seat, Surface
from enfilade.project.things import KINDS
from enfilade.script.index import Index, Subject, plain
from enfilade.script.value import Value

__all__ = ["COUNTED", "count_in", "noun", "plural", "seats_at"]

_Counts = Callable[[Index, str | None], int | None]
_FOR_SEVERAL: Final = ("bench", "sofa")


def plural(word: str) -> str:
    """Return the plural of an English noun of the trade.

    >>> plural("open shelf"), plural("bench"), plural("pantry"), plural("window")
    ('open shelves', 'benches', 'pantries', 'windows')
    """
    if word.endswith("shelf"):
        return f"{word[:-1]}ves"
    if word.endswith(("s", "x", "ch", "sh")):
        return f"{word}es"
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return f"{word[:-1]}ies"
    return f"{word}s"


def _things(test: Callable[[Any], bool]) -> _Counts:
    def count(index: Index, room: str | None) -> int:
        return sum(1 for one in index.things if (room is None or one.record.space == room) and test(one.record))

    return count


def _openings(kinds: tuple[str, ...]) -> _Counts:
    def count(index: Index, room: str | None) -> int:
        return sum(
            1 for one in index.openings if one.record.kind in kinds and (room is None or room in index.rooms_of(one))
        )

    return count


def _about(sort: str) -> _Counts:
    def count(index: Index, room: str | None) -> int:
        records = index.project.decisions if sort == "decision" else index.project.brief.needs
        return sum(1 for record in records if room is None or room in record.spaces)

    return count


def seats_at(index: Index, surface: Any) -> int:
    """Return how many sit at a worktop or table: its seats in rows, or else the chairs that belong to it.

    It is 0 when nobody recorded them: how many sit on a bench is known by the rows alone.
    """
    rows = sum(row.count for row in surface.seating)
    theirs = [one.record for one in index.things if isinstance(one.record, Seat) and one.record.at == surface.id]
    return rows or (0 if any(one.what in _FOR_SEVERAL for one in theirs) else len(theirs))


def _seats(index: Index, room: str | None) -> int | None:
    """Return the seats of a room or the house; None when nobody recorded them, as of a sofa that is at no table."""
    here = [one.record for one in index.things if room is None or one.record.space == room]
    if any(isinstance(one, Seat) and one.at is None and one.what in _FOR_SEVERAL for one in here):
        return None
    # No seat on record is no count of none: a room in which people sit may have none recorded.
    return sum(seats_at(index, one) for one in here if isinstance(one, Surface)) or None


def _kind(*kinds: str) -> _Counts:
    return _things(lambda thing: thing.kind in kinds)


def _what(*words: str) -> _Counts:
    return _things(lambda thing: getattr(thing, "what", None) in words)


COUNTED: Final[dict[str, _Counts]] = {
    **{kind: _kind(kind) for kind in KINDS if kind != "seat"},
    **{what: _what(what) for what in ("stool", "bench", "sofa", "basin", "toilet", "bidet", "tub", "shower")},
    "armchair": _what("armchair"),
    "chair": _what("chair", "armchair"),
    "seat": _seats,
    "cabinet": _kind("base cabinet", "wall cabinet", "tall cabinet"),
    "outlet": _kind("receptacle"),
    "door": _openings(PASSAGES),
    "window": _openings(("window",)),
    "skylight": _openings(("skylight",)),
    "room": lambda index, room: 1 if room else sum(1 for one in index.rooms if one.record.use != "outside"),
    "decision": _about("decision"),
    "need": _about("need"),
}
"""What can be counted, in the singular; a `seat` is a place to sit at a worktop or table."""

_NOUNS: Final = {plain(word): one for one in COUNTED for word in (one, plural(one))}


@lru_cache(maxsize=4096)
def noun(words: str) -> str | None:
    """Return what words in the singular or plural count, None when it is nothing that the record counts.

    >>> noun("Wall cabinets"), noun("friends")
    ('wall cabinet', None)
    """
    return _NOUNS.get(plain(words))


def count_in(index: Index, one: str, room: str | None) -> Value | None:
    """Return how many of a noun stand in a room, or in the house; None when it is not recorded."""
    number = COUNTED[one](index, room)
    return None if number is None else Value("count", float(number), one, plural(one))


def subject_seats(index: Index, subject: Subject) -> Value | None:
    """Return the seats at a worktop or table, in a room, or in the house; None when they are not recorded."""
    if subject.sort == "thing":
        number = seats_at(index, subject.record) or None if isinstance(subject.record, Surface) else None
    else:
        number = _seats(index, subject.record.id if subject.sort == "room" else None)
    return None if number is None else Value("count", float(number), "seat", "seats")
