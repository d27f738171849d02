"""What became of each record between two tellings, in sentences with a room and a rank."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final

from enfilade.checks.where_bought import where_bought
from enfilade.editing.forms.called import shortened
from enfilade.editing.merging.changes import became
from enfilade.editing.merging.merging import differences
from enfilade.editing.merging.saying import STANDS, Words
from enfilade.editing.merging.three_ways import GONE, Change, Place, by_id
from enfilade.errors import EnfiladeError
from enfilade.lengths import show_length
from enfilade.project.choices import Decision
from enfilade.project.project import Project
from enfilade.project.spaces import Space
from enfilade.project.standing import Stand, stands, wall_segments
from enfilade.project.thing import Thing

__all__ = ["Told", "told_changes"]

_RANKS: Final = {
    "decisions": 0, "spaces": 1, "openings": 2, "things": 3, "products": 4, "finishes": 4, "answers": 6,
    "photographs": 7, "brief": 5, "household": 5, "client": 6, "show": 6, "yardstick": 6, "name": 6,
}  # fmt: skip
"""Lists and parts that are told, the most important first. The lines to speak are not: they tell the rest."""
_BESIDE: Final = frozenset({"version", "date", "speaking", "filming"})
"""What changes with each issue, or says how the house is told and not what it is."""
_LONG: Final = 160
_PARTS: Final = 6
_SHORTEST_MM: Final = 1.0


@dataclass(frozen=True)
class Told:
    """One thing that changed.

    Attributes:
        rank: 0 is the most important.
        room: Id of the room that it is about; empty for the whole house.
        words: In words, without the room and without a full stop.
    """

    rank: int
    room: str
    words: str


def told_changes(before: Project, after: Project) -> list[Told]:
    """Return what changed between two states of what one audience is told, a record an entry."""
    return _Changes(before, after).told()


class _Changes:
    def __init__(self, before: Project, after: Project) -> None:
        self.before, self.after = before, after
        self.words = Words(after, before)
        self._indexed: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {}

    def told(self) -> list[Told]:
        about: dict[Place, list[Change]] = {}
        for change in differences(self.before, self.after):
            if change.place[0] in _RANKS and not (change.place[0] == "show" and change.place[1] in _BESIDE):
                deep = 2 if isinstance(getattr(self.after, change.place[0]), tuple) else 1
                about.setdefault(change.place[:deep], []).append(change)
        found = []
        for top, changes in about.items():
            sentences = self._of(top[0])(top, changes)
            found += [Told(_RANKS[top[0]], self._room(top), words) for words in sentences if words]
        return found

    def _of(self, name: str) -> Callable[[Place, list[Change]], Iterator[str]]:
        own = {"decisions": self._decision, "spaces": self._space, "things": self._thing}
        return own.get(name, self._record)

    def _pair(self, top: Place) -> tuple[Any, Any]:
        """Return the record at a place before and after, None where it is not there."""
        if len(top) < 2:
            return getattr(self.before, top[0]), getattr(self.after, top[0])
        before, after = self._lists(top[0])
        return before.get(top[1]), after.get(top[1])

    def _lists(self, name: str) -> tuple[dict[str, Any], dict[str, Any]]:
        if name not in self._indexed:
            before, after = (by_id(getattr(one, name)) for one in (self.before, self.after))
            self._indexed[name] = before, after
        return self._indexed[name]

    # -- where it belongs

    def _room(self, top: Place) -> str:
        name, id = top[0], top[-1]
        record = next((one for one in reversed(self._pair(top)) if one is not None), None)
        if name == "spaces":
            return id
        if name in ("things", "photographs"):
            return getattr(record, "space", "") or ""
        if name == "openings":
            return self._walls.get(getattr(record, "wall", ""), "")
        if name == "decisions":
            rooms: tuple[str, ...] = getattr(record, "spaces", ())
            return rooms[0] if len(rooms) == 1 else ""
        if name in ("products", "finishes"):
            rooms = self._bought.get((name, id), ())
            return rooms[0] if len(rooms) == 1 else ""
        return ""

    @cached_property
    def _rooms(self) -> dict[str, str]:
        return {space.id: space.name for one in (self.before, self.after) for space in one.spaces}

    @cached_property
    def _walls(self) -> dict[str, str]:
        return {w.id: space.id for one in (self.before, self.after) for space in one.spaces for w in space.walls}

    @cached_property
    def _bought(self) -> Mapping[tuple[str, str], tuple[str, ...]]:
        rooms, _ = where_bought(self.after)
        return {(kind, id): where for kind, found in rooms.items() for id, where in found.items()}

    # -- in words

    def _record(self, top: Place, changes: list[Change]) -> Iterator[str]:
        """Say what became of a record: that it is new or gone, or its fields with before and after."""
        name = self.words.record(top)
        if top[0] in ("yardstick", "name"):
            yield became(self.words, changes[0])
            return
        if changes[0].place == top and len(top) > 1:
            if changes[0].before is GONE:
                yield f"{name} was added"
                return
            if changes[0].after is GONE:
                yield f"{name} was taken out"
                return
        if parts := self._parts(top, changes):
            yield f"{name}: {_few(parts)}"

    def _parts(self, top: Place, changes: Sequence[Change]) -> list[str]:
        parts = []
        for change in changes:
            inner = self.words.record_place(change.place)
            if inner == top or len(inner) <= len(top):
                parts.append(became(self.words, change))
                continue
            name = self.words.record(inner).removesuffix(f" of {self.words.record(top)}")
            if change.place == inner and change.before is GONE:
                parts.append(f"{name} was added")
            elif change.place == inner and change.after is GONE:
                parts.append(f"{name} was taken out")
            else:
                parts.append(f"{name}, {became(self.words, change)}")
        return parts

    def _decision(self, top: Place, changes: list[Change]) -> Iterator[str]:
        before, after = self._pair(top)
        decision: Decision = after or before
        name = f"decision {decision.number}, \u201c{shortened(decision.title, _LONG)}\u201d,"
        if after is None:
            yield f"{name} was taken out"
        elif before is None:
            yield f"{name} is new{_taken(after) or ' and still to be taken'}"
        elif after.status == "undecided" != before.status:
            was = _option(before)
            yield f"{name} is open again{f'; it was {was}' if was else ''}"
        elif before.status == "undecided" != after.status:
            yield f"{name} is taken{_taken(after)}"
        elif before.choice != after.choice:
            yield f"{name} is now {_option(after) or 'without a choice'}; it was {_option(before) or 'without one'}"
        elif before.status != after.status or (after.status == "changed on site" and before.changed != after.changed):
            changed = (
                f": {shortened(after.changed, _LONG)}" if after.changed and after.changed != before.changed else ""
            )
            said = {"built": "is built", "planned": "is planned"}.get(after.status, "was changed on site")
            yield f"{name} {said}{changed}"
        elif parts := self._parts(top, changes):
            yield f"{name} reads otherwise: {_few(parts)}"

    def _space(self, top: Place, changes: list[Change]) -> Iterator[str]:
        before, after = self._pair(top)
        if before is None or after is None:
            yield "the room is new" if before is None else "the room was taken out"
            return
        if before.outline != after.outline:
            yield self._measured(before, after)
        left: dict[bool, list[Change]] = {True: [], False: []}
        for change in changes:
            if change.place[2] != "outline":
                left[change.place[2] == "points"].append(change)
        if parts := self._parts(top, left[False]):
            yield _few(parts)
        yield from _points(before, after)

    def _measured(self, before: Space, after: Space) -> str:
        now, was = (_by(space, self.after) for space in (after, before))
        if now == was:
            return "measured again; its shape is another, its length and width are the same"
        return f"measured again: {now}, was {was}"

    def _thing(self, top: Place, changes: list[Change]) -> Iterator[str]:
        before, after = self._pair(top)
        if before is None or after is None:
            yield from self._record(top, changes)
            return
        name = self.words.record(top)
        if before.state != after.state and "removed" in (before.state, after.state):
            yield f"{name} {'is to go' if after.state == 'removed' else 'stays after all'}"
            return
        told = {"place", "space", "state"}
        parts = [words for words in (self._moved(before, after),) if words]
        parts += self._parts(top, [change for change in changes if change.place[2] not in told])
        parts += [became(self.words, change) for change in changes if change.place[2] == "state"]
        if parts:
            yield f"{name}: {_few(parts)}"

    def _moved(self, before: Thing, after: Thing) -> str:
        """Say how far a thing was moved, from middle to middle."""
        if before.place == after.place and before.space == after.space:
            return ""
        rooms = self._rooms
        there = ""
        if before.space != after.space:
            there = f" from {rooms.get(before.space, 'another room')} to {rooms.get(after.space, 'another room')}"
        old, new = self._stands[0].get(after.id), self._stands[1].get(after.id)
        if old is None or new is None:
            return f"moved{there}" if there else f"{STANDS} was changed"
        far_mm = math.hypot(new.box.x - old.box.x, new.box.y - old.box.y)
        turned = (new.box.turn_deg - old.box.turn_deg + 180) % 360 - 180
        words = f"moved{there}" if there else ""
        if not there and far_mm >= _SHORTEST_MM:
            words = f"moved by {show_length(far_mm, self.after.show.units)}"
        if abs(turned) >= 0.05:
            words += f"{' and ' if words else ''}turned by {abs(turned):.3g}°"
        return words

    @cached_property
    def _stands(self) -> tuple[Mapping[str, Stand], Mapping[str, Stand]]:
        return _standing(self.before), _standing(self.after)


def _standing(project: Project) -> Mapping[str, Stand]:
    try:
        return stands(project.things, wall_segments(project.spaces))
    except EnfiladeError:
        return {}  # A kept record that does not fit together says nothing of places.


def _option(decision: Decision) -> str:
    return f"\u201c{shortened(decision.chosen.text, _LONG).rstrip('.')}\u201d" if decision.chosen is not None else ""


def _taken(decision: Decision) -> str:
    words = _option(decision) or shortened(decision.reason, _LONG).rstrip(".")
    return f": {words}" if words and decision.status != "undecided" else ""


def _points(before: Space, after: Space) -> Iterator[str]:
    old = {point.id: point for point in before.points}
    for point in after.points:
        what = shortened(point.what, _LONG).rstrip(".")
        was = old.get(point.id)
        if point.closed_on is not None and (was is None or was.closed_on is None):
            yield f"put right: {what}"
        elif point.closed_on is None and was is None:
            yield f"left to put right: {what}"
        elif point.closed_on is None and was is not None and was.closed_on is not None:
            yield f"to be put right again: {what}"


def _by(space: Space, units: Project) -> str:
    xs, ys = zip(*space.outline, strict=True)
    sides = (max(xs) - min(xs), max(ys) - min(ys))
    return " by ".join(show_length(side, units.show.units) for side in sides)


def _few(parts: Sequence[str]) -> str:
    more = f"; and {len(parts) - _PARTS} more" if len(parts) > _PARTS else ""
    return "; ".join(parts[:_PARTS]) + more
