"""What became of one value in two places: by record, by field, and by entry of a list whose entries have ids."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Any, Final, Literal

from pydantic import ValidationError

from enfilade.project.faults import faults_of
from enfilade.project.fields import Record
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.spaces import Opening, Space, Swing

__all__ = ["GONE", "ORDER", "Answers", "Change", "Clash", "Gone", "Place", "Side", "ThreeWays", "by_id"]

Place = tuple[str, ...]
"""Where a value stands: `("things", "island", "width_mm")`; empty for the whole."""

Side = Literal["mine", "theirs"]
Answers = Mapping[Place, tuple[Side, Any]]
Ids = tuple[str, ...]


class Gone(Enum):
    """What stands where a record is not there."""

    GONE = "gone"


GONE: Final = Gone.GONE
ORDER: Final = ""
"""The step of a place that names the order of a list; no id is empty."""

_WHOLE: Final = (AgainstWall, Free, SetIn, Swing)
"""Records whose fields say one thing together: half of one place and half of another is a place that nobody meant."""

_TOGETHER: Final[dict[type[Record], tuple[tuple[str, ...], ...]]] = {
    Opening: (("wall", "beyond", "from_end", "offset_mm"),),
}
"""Fields of a record that say one thing together, likewise."""


@dataclass(frozen=True)
class Change:
    """A value that became another one; `GONE` where there was none, or where there is none any more.

    Fields that say one thing together are one change, at the first of them, and their values are tuples.
    """

    place: Place
    before: Any
    after: Any


@dataclass(frozen=True)
class Clash:
    """A value that two sides changed differently.

    Attributes:
        place: Where it stands; the first of several fields that say one thing together, whose values are then tuples.
        base: What both began with.
        mine: What it is on this side.
        theirs: What it is on the other.
        why: What is wrong with taking both, where that is not plain from the values.
    """

    place: Place
    base: Any
    mine: Any
    theirs: Any
    why: str = ""

    @property
    def list(self) -> str:
        """Return the list of the project that it stands in; empty when it is the whole."""
        return self.place[0] if self.place else ""

    @property
    def id(self) -> str:
        """Return the id of its record; empty for what stands once in a project."""
        return self.place[1] if len(self.place) > 1 and self.place[0] not in _ONCE else ""

    @property
    def field(self) -> str:
        """Return its field below the record; empty for a record as a whole."""
        return "/".join(self.place[1 if self.list in _ONCE else 2 :])


_ONCE: Final = ("client", "household", "brief", "show")


class ThreeWays:
    """Goes through three states of a value and takes what each side changed.

    Values that are equal on this side and in the result stay the same objects.

    Args:
        answers: Which side to take where both changed a value, by place, with the other side's value that was asked
            about; it holds for as long as that value stays.
        kept: Places of records that stay although one side took them away.
    Attributes:
        clashes: What both changed differently and no answer settles.
        taken: What came from the other side.
        dropped: Places of records that one side took away and the other left as they were.
    """

    def __init__(self, answers: Answers | None = None, kept: Container[Place] = ()) -> None:
        self.clashes: list[Clash] = []
        self.taken: list[Change] = []
        self.dropped: list[Place] = []
        self._answers = answers or {}
        self._kept = kept

    def value(self, place: Place, base: Any, mine: Any, theirs: Any) -> Any:
        """Return what a value becomes; this side's own where it clashes, which is noted."""
        if mine is theirs or mine == theirs:
            return mine
        if _alike(base, mine, theirs):
            return self._record(place, base, mine, theirs)
        if isinstance(mine, dict) and isinstance(theirs, dict) and isinstance(base, dict):
            return self._words(place, base, mine, theirs)
        if _lists(base, mine, theirs):
            return self._list(place, base, mine, theirs)
        if theirs is base or theirs == base:
            return self._without(place, theirs) if mine is GONE else mine
        if base is GONE and _alike(mine, theirs):
            return self._record(place, base, mine, theirs)
        if mine is base or mine == base:
            new = self._without(place, mine) if theirs is GONE else theirs
            if new is theirs:
                self.taken.append(Change(place, mine, theirs))
            return new
        return self._asked(Clash(place, base, mine, theirs))

    def _without(self, place: Place, left: Any) -> Any:
        """Return what stands at a place that one side emptied and the other left as it was."""
        if place in self._kept:
            return left
        self.dropped.append(place)
        return GONE

    def _asked(self, clash: Clash) -> Any:
        which, about = self._answers.get(clash.place, (None, None))
        if which is None or about != clash.theirs:
            self.clashes.append(clash)
            return clash.mine
        if which == "mine":
            return clash.mine
        self.taken.append(Change(clash.place, clash.mine, clash.theirs))
        return clash.theirs

    def _record(self, place: Place, base: Record | Gone, mine: Record, theirs: Record) -> Record:
        clashes, taken, dropped = len(self.clashes), len(self.taken), len(self.dropped)
        changed: dict[str, Any] = {}
        for names in _units(base, mine, theirs):
            new = self._unit(place, names, base, mine, theirs)
            changed |= {name: value for name, value in new if value is not getattr(mine, name)}
        if not changed:
            return mine
        whole = {name: changed.get(name, getattr(mine, name)) for name in type(mine).model_fields}
        if all(value == getattr(theirs, name) for name, value in whole.items()):
            return mine.model_copy(update=changed)  # It stands on the other side, so it can exist.
        try:
            checked = type(mine).model_validate(whole)
            return mine.model_copy(update={name: getattr(checked, name) for name in changed})
        except ValidationError as error:
            del self.clashes[clashes:], self.taken[taken:], self.dropped[dropped:]
            why = "; ".join(fault.what for fault in faults_of(error, whole, type(mine))[:2])
            chosen: Record = self._asked(Clash(place, base, mine, theirs, why))
            return chosen

    def _unit(
        self, place: Place, names: tuple[str, ...], base: Record | Gone, mine: Record, theirs: Record
    ) -> Iterator[tuple[str, Any]]:
        m, t = (tuple(getattr(one, name) for name in names) for one in (mine, theirs))
        b = tuple(_began(base, type(mine), name) for name in names)
        if len(names) == 1:
            yield names[0], self.value((*place, names[0]), b[0], m[0], t[0])
            return
        if t in (b, m):
            return
        if m == b:
            self.taken.append(Change((*place, names[0]), m, t))
            yield from zip(names, t, strict=True)
        elif self._asked(Clash((*place, names[0]), b, m, t)) is t:
            yield from zip(names, t, strict=True)

    def _words(
        self, place: Place, base: dict[str, Any], mine: dict[str, Any], theirs: dict[str, Any]
    ) -> dict[str, Any]:
        keys = [*mine, *(key for key in theirs if key not in mine)]
        new = {
            key: self.value((*place, key), base.get(key, GONE), mine.get(key, GONE), theirs.get(key, GONE))
            for key in keys
        }
        new = {key: value for key, value in new.items() if value is not GONE}
        return mine if new == mine else new

    def _list(self, place: Place, base: Sequence[Any], mine: Sequence[Any], theirs: Sequence[Any]) -> Sequence[Any]:
        b, m, t = by_id(base), by_id(mine), by_id(theirs)
        became: dict[str, Any] = {}
        for id in {**m, **t, **b}:
            value = self.value((*place, id), b.get(id, GONE), m.get(id, GONE), t.get(id, GONE))
            if value is not GONE:
                became[id] = value
        frame = self._frame(place, tuple(b), tuple(m), tuple(t))
        order = _with_others([id for id in frame if id in b and id in became], tuple(m), tuple(t), became)
        new = tuple(became[id] for id in order)
        same = len(new) == len(mine) and all(one is other for one, other in zip(new, mine, strict=True))
        return mine if same else new

    def _frame(self, place: Place, base: Ids, mine: Ids, theirs: Ids) -> Ids:
        """Return the ids in the order of the side that changed it."""
        common = set(base) & set(mine) & set(theirs)
        b, m, t = (tuple(id for id in ids if id in common) for ids in (base, mine, theirs))
        if t in (b, m):
            return mine
        if m == b:
            self.taken.append(Change((*place, ORDER), m, t))
            return theirs
        return mine if self._asked(Clash((*place, ORDER), b, m, t)) is m else theirs


def _with_others(frame: list[str], mine: Ids, theirs: Ids, here: Container[str]) -> list[str]:
    """Return the ids of a frame, and the others each after what it follows in its own list.

    Where both lists have some at one place, the order does not depend on which list is whose.
    """
    known = set(frame)
    after: dict[str | None, list[list[str]]] = {}
    for number, ids in enumerate((mine, theirs)):
        at: str | None = None
        for id in ids:
            if id in known:
                at = id
            elif id in here:
                after.setdefault(at, [[], []])[number].append(id)
    order: dict[str, None] = {}
    for at in (None, *frame):
        if at is not None:
            order[at] = None
        for run in sorted(after.get(at, [])):
            order |= dict.fromkeys(run)
    return list(order)


def by_id(records: Iterable[Any]) -> dict[str, Any]:
    """Return records by their id."""
    return {record.id: record for record in records}


def _began(base: Record | Gone, kind: type[Record], name: str) -> Any:
    """Return what a field began with: in a record that both sides made, what stands there when nothing is said."""
    if base is not GONE:
        return getattr(base, name)
    field = kind.model_fields[name]
    return GONE if field.is_required() else field.default


def _units(base: Record | Gone, mine: Record, theirs: Record) -> Iterator[tuple[str, ...]]:
    """Yield the fields of a record, those together that say one thing together."""
    together = _TOGETHER.get(type(mine), ())
    if isinstance(mine, Space) and (base is GONE or _both_re_drawn(base, mine, theirs)):
        together = (*together, ("outline", "walls"))
    grouped = {name for names in together for name in names}
    yield from together
    yield from ((name,) for name in type(mine).model_fields if name not in grouped)


def _both_re_drawn(*spaces: Any) -> bool:
    """Tell whether both sides changed an outline, and one the number of its sides: walls go with their outline."""
    base, mine, theirs = (space.outline for space in spaces)
    sides = {tuple(wall.id for wall in space.walls) for space in spaces}
    return len(sides) > 1 and base not in (mine, theirs) and mine != theirs


def _alike(*values: Any) -> bool:
    kind = type(values[0])
    return issubclass(kind, Record) and kind not in _WHOLE and all(type(value) is kind for value in values)


def _lists(*values: Any) -> bool:
    """Tell whether all are lists of records with an id each, no id twice; a list may be empty, but not all."""
    if not all(isinstance(value, tuple) for value in values) or not any(values):
        return False  # Lists that are all empty are equal.
    for value in values:
        if not all(isinstance(one, Record) and "id" in type(one).model_fields for one in value):
            return False
        if len({one.id for one in value}) < len(value):
            return False
    return True
