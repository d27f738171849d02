"""What a check receives: the parts of the house that it declared, resolved into house coordinates."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from enfilade.errors import OutOfRange
from enfilade.geometry.boxes import Segment
from enfilade.project.choices import Decision, Finish, Product
from enfilade.project.doorways import Doorway, doorways, open_edges
from enfilade.project.people import Brief, Household
from enfilade.project.project import Project
from enfilade.project.spaces import Space
from enfilade.project.standing import Stand, stands, wall_segments

__all__ = ["House", "View"]


class House:
    """A project worked out once: where everything stands. What was removed is not there.

    Checks do not receive it; they receive a `View` of what they declared.
    """

    def __init__(self, project: Project) -> None:
        self.project = project
        self.spaces: dict[str, Space] = {space.id: space for space in project.spaces}
        self.lines: dict[str, Segment] = wall_segments(project.spaces)
        standing = stands(project.things, self.lines)
        self.by_space: dict[str, list[Stand]] = {name: [] for name in self.spaces}
        for stand in standing.values():
            if stand.thing.state != "removed":
                self.by_space[stand.thing.space].append(stand)
        openings = [opening for opening in project.openings if opening.state != "removed"]
        self.doorways: dict[str, tuple[Doorway, ...]] = doorways(openings, project.spaces, self.lines)
        self.rooms: dict[str, frozenset[str]] = open_edges(project.spaces, self.lines)

    @cached_property
    def standing(self) -> dict[str, Stand]:
        """Everything that stands in the house, by id."""
        return {stand.id: stand for stands_here in self.by_space.values() for stand in stands_here}


@dataclass(frozen=True)
class View:
    """One space, or the house, as a check with certain `reads` may see it."""

    house: House = field(repr=False)
    reads: frozenset[str]
    space: Space
    """The space that is judged; for a check of the whole house, its first."""
    scope: str = "space"
    memo: dict[Any, Any] = field(default_factory=dict, repr=False)
    """Layouts that were worked out for this space, shared by the checks that read the same kinds."""

    def _may(self, *names: str) -> None:
        undeclared = set(names) - self.reads
        if undeclared:
            raise OutOfRange(f"a check asked for {sorted(undeclared)}", expected="only what it declares in `reads`")

    def things(self, *kinds: str) -> list[Stand]:
        """Return what stands in this space of the given kinds (all that are declared, when none is given)."""
        self._may(*kinds)
        wanted = frozenset(kinds) or self.reads
        return [stand for stand in self.house.by_space[self.space.id] if stand.thing.kind in wanted]

    def room_things(self, *kinds: str) -> list[Stand]:
        """Return the same for the whole room: this space and those that it runs on into without a wall."""
        self._may(*kinds)
        wanted = frozenset(kinds) or self.reads
        return [s for space in self.room for s in self.house.by_space[space.id] if s.thing.kind in wanted]

    def house_things(self, *kinds: str) -> list[Stand]:
        """Return the same for the whole house; only a check of the house may ask."""
        if self.scope != "house":
            raise OutOfRange("a check of one space asked for the things of the house", expected='scope="house"')
        self._may(*kinds)
        wanted = frozenset(kinds) or self.reads
        return [s for here in self.house.by_space.values() for s in here if s.thing.kind in wanted]

    @property
    def spaces(self) -> Iterable[Space]:
        """Return every space of the house."""
        return self.house.spaces.values()

    @property
    def room(self) -> list[Space]:
        """Return this space and those that it runs on into without a wall, this one first."""
        others = sorted(self.house.rooms[self.space.id] - {self.space.id})
        return [self.space, *(self.house.spaces[other] for other in others)]

    @property
    def walls(self) -> dict[str, Segment]:
        """Return the standing walls of this space, by id; open sides are left out."""
        return {wall.id: self.house.lines[wall.id] for wall in self.space.walls if not wall.open}

    @property
    def room_walls(self) -> dict[str, Segment]:
        """Return the standing walls of the whole room, by id."""
        return {w.id: self.house.lines[w.id] for space in self.room for w in space.walls if not w.open}

    def doorways(self) -> tuple[Doorway, ...]:
        """Return what opens on this space, windows and open sides included."""
        self._may("openings")
        return self.house.doorways[self.space.id]

    def room_doorways(self) -> tuple[Doorway, ...]:
        """Return the same for the whole room, without the open sides inside it."""
        self._may("openings")
        ids = {space.id for space in self.room}
        return tuple(
            door
            for space in self.room
            for door in self.house.doorways[space.id]
            if door.opening is not None or door.beyond not in ids
        )

    @property
    def household(self) -> Household:
        """Return who lives in the house."""
        self._may("household")
        return self.house.project.household

    @property
    def brief(self) -> Brief:
        """Return what was asked for."""
        self._may("brief")
        return self.house.project.brief

    @property
    def decisions(self) -> tuple[Decision, ...]:
        """Return every decision."""
        self._may("decisions")
        return self.house.project.decisions

    @property
    def products(self) -> dict[str, Product]:
        """Return every product by id."""
        self._may("products")
        return {product.id: product for product in self.house.project.products}

    @property
    def finishes(self) -> dict[str, Finish]:
        """Return every finish by id."""
        self._may("finishes")
        return {finish.id: finish for finish in self.house.project.finishes}
