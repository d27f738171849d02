"""The route through the house: every room once, through real doors, with the least walking."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from enfilade.checks.view import House
from enfilade.editing.parts import part_of_each, with_parts_named, without_needless
from enfilade.project.project import Project
from enfilade.walkthrough.shortest_order import EXACT_UP_TO, shortest_order
from enfilade.walkthrough.walking import HouseWalks

__all__ = ["Leg", "Route", "best_route", "legs_of", "way_in", "with_route"]


@dataclass(frozen=True)
class Leg:
    """The walk from one room of a route to the next.

    Attributes:
        start, end: Ids of the spaces.
        length_mm: Walked on the floor; None when no way was found.
        through: Ids of the spaces that one walks through on the way.
    """

    start: str
    end: str
    length_mm: float | None
    through: tuple[str, ...]


@dataclass(frozen=True)
class Route:
    """An order of all rooms, and the walks between them.

    Attributes:
        order: Ids of the spaces.
        legs: One from each space to the next.
        length_mm: All that is walked.
        exact: Every order was weighed; otherwise it is a good one, and a shorter may exist.
        words: What is to be known about it, in sentences.
    """

    order: tuple[str, ...]
    legs: tuple[Leg, ...]
    length_mm: float
    exact: bool
    words: tuple[str, ...]


def way_in(house: House) -> str | None:
    """Return the space in which the walk begins: as recorded, else where people come in, else the first."""
    first = house.project.show.speaking.first
    if first in house.spaces:
        return first
    coming_in = (
        id for id in house.spaces for door in house.doorways[id] if door.opening is not None and door.opening.entry
    )
    return next(coming_in, next(iter(house.spaces), None))


def best_route(house: House) -> Route:
    """Return the order of all rooms that is walked with the least walking back.

    One begins at the way in (or the recorded first room), sees each room once and stays in the last; a room that
    is recorded as last is kept for the end. One walks on the floor, through real doorways, round what stands
    there. Rooms to which no way leads come last, in the order of the record.
    """
    start = way_in(house)
    if start is None:
        return Route((), (), 0.0, True, ())
    walks, names = HouseWalks(house), {id: space.name for id, space in house.spaces.items()}
    seen = walks.ways_from(start)
    reached = [start, *(id for id in house.spaces if id in seen and id != start)]
    kept_for_last = house.project.show.speaking.last
    last = reached.index(kept_for_last) if kept_for_last in reached[1:] else None
    table = tuple(tuple(walks.ways_from(a)[b].length_mm for b in reached) for a in reached)
    apart = [id for id in house.spaces if id not in seen]
    order = (*(reached[place] for place in _ordered(table, last)), *apart)
    legs = legs_of(walks, order)
    exact = len(reached) <= EXACT_UP_TO
    words = [] if exact else [f"{len(reached)} rooms are too many to weigh every order; a shorter route may exist."]
    words += [f"No way on foot was found from {names[start]} to {names[id]}." for id in apart]
    if kept_for_last is not None and kept_for_last == start and len(order) > 1:
        words.append(f"The walk begins in {names[start]}, so it cannot also be the last room.")
    return Route(order, legs, sum(leg.length_mm or 0.0 for leg in legs), exact, tuple(words))


def legs_of(walks: HouseWalks, order: Sequence[str]) -> tuple[Leg, ...]:
    """Return the walks from each space to the next."""
    legs = []
    for a, b in pairwise(order):
        way = walks.way(a, b)
        legs.append(Leg(a, b, way.length_mm if way else None, way.through if way else ()))
    return tuple(legs)


@lru_cache(maxsize=32)
def _ordered(table: tuple[tuple[float, ...], ...], last: int | None) -> tuple[int, ...]:
    return tuple(shortest_order(table, last=last))


def with_route(project: Project, route: Route) -> Project:
    """Return the project with its stops in the order of a route; stops of one part stay together.

    Parts keep their order, and each is walked in the order of the route. Stops in one room keep theirs.
    """
    at = {space: place for place, space in enumerate(route.order)}
    part_at = {part.id: place for place, part in enumerate(project.show.speaking.parts)}
    parts = dict(zip((stop.id for stop in project.script), part_of_each(project), strict=True))
    stops = sorted(
        with_parts_named(project),
        key=lambda stop: (part_at.get(parts[stop.id] or "", 0), at.get(stop.space, len(at))),
    )
    if [stop.id for stop in stops] == [stop.id for stop in project.script]:
        return project
    return project.with_records(script=without_needless(stops))
