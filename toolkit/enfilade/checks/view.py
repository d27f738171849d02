"""What a check receives: the parts of the house that it declared, resolved into house coordinates."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from itertools import compress
from typing import Any

from enfilade.checks.placed import placed
from enfilade.checks.registry import EVERYTHING
from enfilade.errors import OutOfRange
from enfilade.geometry.boxes import Segment
from enfilade.project.choices import Decision, Finish, Product
from enfilade.project.doorways import Doorway, doorways, open_edges
from enfilade.project.people import Brief, Household, Show
from enfilade.project.placing import SetIn
from enfilade.project.project import Project
from enfilade.project.spaces import Space
from enfilade.project.speaking import Stop
from enfilade.project.standing import Stand, wall_segments
from enfilade.project.thing import Thing
from enfilade.script.figures import Figures

__all__ = ["House", "View"]


class House:
    """A project worked out once: where everything stands. What was removed is not there.

    Checks do not receive it; they receive a `View` of what they declared.

    Args:
        project: The declared house.
        before: The house as it was. What has not moved stays the same object, with all that was worked out from it.
    """

    def __init__(self, project: Project, before: House | None = None) -> None:
        self.project = project
        self.spaces: dict[str, Space] = {space.id: space for space in project.spaces}
        rooms = before if before is not None and before.project.spaces is project.spaces else None
        self.lines: dict[str, Segment] = rooms.lines if rooms else wall_segments(project.spaces)
        self.rooms: dict[str, frozenset[str]] = rooms.rooms if rooms else open_edges(project.spaces, self.lines)
        self.doorways: dict[str, tuple[Doorway, ...]] = (
            rooms.doorways if rooms and rooms.project.openings is project.openings else self._doorways()
        )
        # Those that were worked out, or else those that the house before had been handed.
        self._figures_before: Figures | None = (
            before.__dict__.get("figures", before._figures_before) if before is not None else None
        )
        self._kinds: dict[str, list[str]] = {}
        self._records: dict[str, tuple[list[str], list[Thing]]] = {}
        self._placed: dict[str, Stand] = placed(project, self.lines, rooms._placed if rooms else None)
        self.by_space: dict[str, list[Stand]] = {name: [] for name in self.spaces}
        for stand in self._placed.values():
            if stand.thing.state != "removed":
                self.by_space[stand.thing.space].append(stand)

    def _doorways(self) -> dict[str, tuple[Doorway, ...]]:
        openings = [opening for opening in self.project.openings if opening.state != "removed"]
        return doorways(openings, self.project.spaces, self.lines)

    def of_kinds(self, space: Space, wanted: frozenset[str]) -> Iterator[Stand]:
        """Return what stands in a space of the given kinds."""
        if space.id not in self._kinds:
            self._kinds[space.id] = [stand.thing.kind for stand in self.by_space[space.id]]
        # Every check asks: told apart without a step of Python for each thing.
        return compress(self.by_space[space.id], map(wanted.__contains__, self._kinds[space.id]))

    def records_of(self, space: Space, wanted: frozenset[str]) -> Iterator[Thing]:
        """Return the records of the same, each followed by those of its hosts, with which it moves."""
        if space.id not in self._records:
            things = [stand.thing for stand in self.by_space[space.id]]
            chains = [(thing.kind, link) for thing in things for link in (thing, *self._hosts(thing))]
            self._records[space.id] = ([kind for kind, _ in chains], [link for _, link in chains])
        kinds, records = self._records[space.id]
        return compress(records, map(wanted.__contains__, kinds))

    def _hosts(self, thing: Thing) -> Iterator[Thing]:
        while isinstance(thing.place, SetIn):
            thing = self.project.things_by_id[thing.place.host]
            yield thing

    @cached_property
    def _rooms_in_order(self) -> dict[str, tuple[Space, ...]]:
        return {
            name: (space, *(self.spaces[other] for other in sorted(self.rooms[name] - {name})))
            for name, space in self.spaces.items()
        }

    def room(self, space: Space) -> tuple[Space, ...]:
        """Return a space and those that it runs on into without a wall, this one first."""
        return self._rooms_in_order[space.id]

    @cached_property
    def figures(self) -> Figures:
        """Return the figures to which lines are bound, before anything was measured.

        They are those of the house before when only places have changed, or what is said: no figure tells of either.
        """
        before, self._figures_before = self._figures_before, None
        if before is not None and before.told_alike(self.project):
            return before
        return Figures(self.project, None)

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
        return self._of((self.space,), frozenset(kinds) or self.reads)

    def room_things(self, *kinds: str) -> list[Stand]:
        """Return the same for the whole room: this space and those that it runs on into without a wall."""
        self._may(*kinds)
        return self._of(self.room, frozenset(kinds) or self.reads)

    def _of(self, spaces: tuple[Space, ...], wanted: frozenset[str]) -> list[Stand]:
        key = ("things", len(spaces), wanted)  # a space alone, or its whole room
        if key not in self.memo:
            self.memo[key] = [stand for space in spaces for stand in self.house.of_kinds(space, wanted)]
        return list(self.memo[key])

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
    def room(self) -> tuple[Space, ...]:
        """Return this space and those that it runs on into without a wall, this one first."""
        return self.house.room(self.space)

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
    def script(self) -> tuple[Stop, ...]:
        """Return what is said in each room, in the order in which it is told."""
        self._may("script")
        return self.house.project.script

    @property
    def show(self) -> Show:
        """Return how the project is shown and told."""
        self._may("show")
        return self.house.project.show

    @property
    def figures(self) -> Figures:
        """Return the figures to which lines are bound; only a check that reads the whole record may ask."""
        self._may(*EVERYTHING)
        return self.house.figures

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
