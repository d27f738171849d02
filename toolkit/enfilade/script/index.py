"""What people call the records of a house, and which record is meant by it."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any, Final, Literal

from enfilade.project.doorways import open_edges
from enfilade.project.project import Project
from enfilade.project.standing import wall_segments

__all__ = ["SORTS", "Index", "Sort", "Subject", "bare", "plain"]

Sort = Literal["thing", "opening", "wall", "room", "product", "finish", "decision", "need", "finding", "house"]

SORTS: Final[dict[str, Sort]] = {
    "thing": "thing", "opening": "opening", "door": "opening", "window": "opening", "wall": "wall", "room": "room",
    "space": "room", "product": "product", "finish": "finish", "decision": "decision", "need": "need",
    "finding": "finding",
}  # fmt: skip
"""Words that may stand before a name, to say what sort of record is meant: `product range`."""

_QUOTES: Final = " \"'\u201c\u201d\u2018\u2019"
_GAPS: Final = re.compile("[\\s_\u2010-\u2013-]+")
_SIGNS: Final = re.compile(r"[^\w-]+")
_ARTICLE: Final = re.compile(r"^(?:the|a|an) (?=\S)")
_NEAREST: Final = 3
_COMPARED: Final = 2000


@dataclass(frozen=True, slots=True)
class Subject:
    """One record of the house, with its sort."""

    sort: Sort
    record: Any

    @property
    def called(self) -> str:
        """Return its name or title; of a thing without one what it is, of any other record its id."""
        record = self.record
        return getattr(record, "name", "") or getattr(record, "title", "") or getattr(record, "kind", record.id)


@lru_cache(maxsize=65_536)
def plain(words: str) -> str:
    """Return words as names are compared: small letters, single spaces for hyphens too, no article, no quotes.

    >>> plain('The  "Counter-stone"')
    'counter stone'
    """
    text = " ".join(_GAPS.sub(" ", words.casefold().strip(_QUOTES)).split()).strip(_QUOTES)
    return _ARTICLE.sub("", text).strip(_QUOTES)


def bare(words: str) -> str:
    """Return words as `plain` does, and without signs: as a name is looked for in a sentence.

    >>> bare("The sink, below (at the river window).")
    'sink below at the river window'
    """
    return plain(_SIGNS.sub(" ", words))


class Index:
    """The records of a project by their ids, by their names, and by what they are.

    What is removed from the house is not among them.

    Args:
        project: The declared house.
    """

    def __init__(self, project: Project) -> None:
        self.project = project

    @cached_property
    def rooms(self) -> tuple[Subject, ...]:
        """Return every room."""
        return tuple(Subject("room", space) for space in self.project.spaces)

    @cached_property
    def things(self) -> tuple[Subject, ...]:
        """Return every thing that stands."""
        return tuple(Subject("thing", thing) for thing in self.project.things if thing.state != "removed")

    @cached_property
    def openings(self) -> tuple[Subject, ...]:
        """Return every door, window and opening that stands."""
        return tuple(Subject("opening", one) for one in self.project.openings if one.state != "removed")

    def _all(self) -> Iterator[Subject]:
        project = self.project
        yield from self.things
        yield from self.openings
        yield from self.rooms
        walls = (wall for space in project.spaces for wall in space.walls if wall.state != "removed")
        yield from (Subject("wall", wall) for wall in walls)
        yield from (Subject("product", one) for one in project.products)
        yield from (Subject("finish", one) for one in project.finishes)
        yield from (Subject("decision", one) for one in project.decisions)
        yield from (Subject("need", one) for one in project.brief.needs)

    @cached_property
    def _tables(self) -> tuple[dict[str, list[Subject]], ...]:
        """Return the records by id, by name, and by kind: the three ways of naming one, in this order."""
        tables: tuple[dict[str, list[Subject]], ...] = ({}, {}, {})
        for subject in self._all():
            for table, words in zip(tables, _called(subject), strict=True):
                for word in words:
                    if word:
                        table.setdefault(plain(word), []).append(subject)
        return tables

    @cached_property
    def wall_rooms(self) -> dict[str, str]:
        """Return the id of the room of each wall."""
        return {wall.id: space.id for space in self.project.spaces for wall in space.walls}

    def joined(self, room: str) -> frozenset[str]:
        """Return the ids of a room and of those that it runs on into without a wall."""
        return self._open.get(room, frozenset())

    @cached_property
    def _open(self) -> dict[str, frozenset[str]]:
        spaces = self.project.spaces
        return open_edges(spaces, wall_segments(spaces))

    def rooms_of(self, subject: Subject) -> tuple[str, ...]:
        """Return the ids of the rooms that a record stands in or is about; none for what is in no room."""
        record = subject.record
        if subject.sort == "thing":
            return (record.space,)
        if subject.sort == "opening":
            rooms = self.wall_rooms
            return tuple(rooms[wall] for wall in (record.wall, record.beyond) if wall in rooms)
        if subject.sort == "wall":
            return (self.wall_rooms[record.id],)
        if subject.sort == "room":
            return (record.id,)
        return tuple(record.spaces) if subject.sort in ("decision", "need") else ()

    def room(self, words: str) -> Any | None:
        """Return the room of an id or a name, None when no room or more than one is called so."""
        rooms = self.find(words, frozenset({"room"}))
        return rooms[0].record if len(rooms) == 1 else None

    def find(self, words: str, sorts: frozenset[str]) -> list[Subject]:
        """Return the records that are called so: by id before name, by name before what they are.

        A word for the sort may stand before the name (`product range`), and a room after it (`table in study`).
        """
        found = self._whole(words, sorts)
        if found:
            return found
        first, _, rest = plain(words).partition(" ")
        sort = SORTS.get(first)
        if sort in sorts and rest:
            found = self._whole(rest, frozenset({sort}))
            if found or sort in ("decision", "need"):
                return found or self._numbered(rest, sort)
        head, in_, where = words.rpartition(" in ")
        room = self.room(where) if in_ and head else None
        if room is None:
            return []
        return [one for one in self.find(head, sorts) if room.id in self.rooms_of(one)]

    def _whole(self, words: str, sorts: frozenset[str]) -> list[Subject]:
        for table in self._tables:
            found = [one for one in table.get(plain(words), ()) if one.sort in sorts]
            if found:
                return found
        return []

    def _numbered(self, words: str, sort: Sort) -> list[Subject]:
        records: Iterable[Any] = self.project.decisions if sort == "decision" else self.project.brief.needs
        return [Subject(sort, one) for one in records if str(one.number) == words]

    def nearest(self, words: str, sorts: frozenset[str]) -> list[str]:
        """Return the names that come nearest to what was typed."""
        wanted = plain(words)
        known: dict[str, str] = {}
        for table in self._tables[:2]:
            for name, subjects in table.items():
                if any(one.sort in sorts for one in subjects):
                    known.setdefault(name, name)
        close = difflib.get_close_matches(wanted, list(known)[:_COMPARED], n=_NEAREST, cutoff=0.5)
        inside = [name for name in known if wanted and wanted in name][:_NEAREST]
        return list(dict.fromkeys([*close, *inside]))[:_NEAREST]


def _called(subject: Subject) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """Return a record's id, its names, and the words for what it is."""
    record, sort = subject.record, subject.sort
    if sort in ("decision", "need"):
        return (record.id,), (getattr(record, "title", ""),), ()
    if sort in ("thing", "opening"):
        what = getattr(record, "what", "")
        return (record.id,), (record.name,), tuple(dict.fromkeys((record.kind, what)))
    return (record.id,), (record.name,), ()
