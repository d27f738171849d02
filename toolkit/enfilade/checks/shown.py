"""How lengths and things are written in the working of a finding: in both units, and by the names people use."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from functools import lru_cache

from enfilade.checks.view import View
from enfilade.lengths import show_inches, show_length
from enfilade.project.doorways import Doorway
from enfilade.project.standing import Stand
from enfilade.project.things import KINDS
from enfilade.quantities import Quantity, show_quantity

__all__ = ["Names", "both", "both_areas", "called", "door_called", "names"]


def both(value_mm: float) -> str:
    """Write a length in inches and in millimetres.

    >>> both(1066.8)
    '42" (1067 mm)'
    """
    return _both(value_mm)


@lru_cache(maxsize=4096)
def _both(value_mm: float) -> str:
    # Remembered: a kitchen has few lengths, and each is written in many findings.
    return f"{show_inches(value_mm)} ({show_length(value_mm, 'metric')})"


def both_areas(value_mm2: float) -> str:
    """Write an area in both systems, a small one in square inches and square millimetres.

    >>> both_areas(371612.0), both_areas(5000.0)
    ('4 sq ft (0.37 m²)', '7.8 sq in (5,000 mm²)')
    """
    area = Quantity(value_mm2, "mm2")
    return f"{show_quantity(area, 'us')} ({show_quantity(area, 'metric')})"


def door_called(door: Doorway) -> str:
    """Write what people call an opening: its name, or its kind; an open side by its id."""
    return (door.opening.name or door.opening.kind) if door.opening is not None else door.id


def _apart(name: str, id: str) -> str:
    """Tell a name from another that reads alike: by the number in an id that was made from it, else by the id.

    >>> _apart("base cabinet", "base-cabinet-2"), _apart("base cabinet", "base-cabinet"), _apart("counter", "river")
    ('base cabinet 2', 'base cabinet 1', 'counter (river)')
    """
    made = re.fullmatch(re.escape(re.sub(r"[^a-z0-9]+", "-", name.lower())) + r"(?:-(\d+))?", id)
    return f"{name} {made[1] or 1}" if made else f"{name} ({id})"


class Names:
    """What people call the things, walls and openings of a room, by id.

    An id that is not known is written as it is.
    """

    def __init__(self, called: Mapping[str, str]) -> None:
        self._called = dict(called)

    def of(self, *ids: str) -> tuple[str, ...]:
        """Return the names of what one sentence speaks of; where two read alike, each id follows in brackets.

        >>> Names({"a": "island", "b": "counter", "c": "counter"}).of("a", "b", "c")
        ('island', 'counter (b)', 'counter (c)')
        """
        known = {key: self._called.get(key, key) for key in ids}
        if len({name.casefold() for name in known.values()}) == len(known):  # quicker, and mostly so
            return tuple(known[key] for key in ids)
        alike = Counter(name.casefold() for name in known.values())
        return tuple(_apart(known[key], key) if alike[known[key].casefold()] > 1 else known[key] for key in ids)

    def one(self, id: str) -> str:
        """Return the name of one thing that a sentence speaks of alone."""
        return self.of(id)[0]

    def listed(self, ids: Iterable[str]) -> str:
        """Return names with commas between; empty when there are none."""
        return ", ".join(self.of(*ids))


def called(stands: Mapping[str, Stand], *ids: str) -> tuple[str, ...]:
    """Return what people call the things that one sentence speaks of, among those given by id."""
    return Names({key: stands[key].thing.called for key in ids}).of(*ids)


def names(view: View) -> Names:
    """Return what people call the walls of a view's room, and the things and openings in it that a check reads."""
    key = ("names", view.reads)
    if key not in view.memo:
        called = {wall.id: wall.name or wall.id for space in view.room for wall in space.walls}
        if view.reads & KINDS.keys():
            called.update((stand.id, stand.thing.called) for stand in view.room_things(*(view.reads & KINDS.keys())))
        if "openings" in view.reads:
            called.update((door.id, door_called(door)) for door in view.room_doorways() if door.opening is not None)
        view.memo[key] = Names(called)
    found: Names = view.memo[key]
    return found
