"""Where one stands in each room, and how one walks from there to every other: on the floor, through real doorways.

One walks round what stands on the floor and through the middle of each doorway: the middle of its widest part
before which there is floor.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final

import shapely
from shapely import Point as ShapelyPoint
from shapely import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points, polylabel

from enfilade.checks.floor import footprint, is_obstacle
from enfilade.checks.view import House
from enfilade.checks.ways import BODY_MM, threshold
from enfilade.geometry.boxes import Segment, polygons_of
from enfilade.geometry.outlines import free_floor, joined_floors, polygon_of
from enfilade.geometry.points import Point, distance
from enfilade.geometry.walks import WalkNet
from enfilade.project.doorways import Doorway

__all__ = ["HouseWalks", "Way"]

_POLE_MM: Final = 10.0
"""How near the middle of a room is found."""

Node = tuple[str, str]
"""A space where one stands (`""` and its id), or a doorway as seen from a space (the doorway's id and the space's)."""


@dataclass(frozen=True)
class Way:
    """A way on foot.

    Attributes:
        length_mm: Walked.
        through: Ids of the spaces that it leads through, without its first and its last.
        last_door: The last doorway on it, and the space that one enters by it; None when there is none.
    """

    length_mm: float
    through: tuple[str, ...]
    last_door: tuple[str, str] | None = None


class HouseWalks:
    """The ways on foot between the rooms of a house. What was removed neither stands in the way nor is walked through.

    Args:
        house: The house, worked out.
    """

    def __init__(self, house: House) -> None:
        self._house = house
        self._found: dict[str, dict[str, Way]] = {}

    @cached_property
    def places(self) -> dict[str, Point]:
        """Return where one stands in each space: on the floor that can be reached, nearest its pole of inaccessibility.

        The pole is the point that is farthest from all walls: the middle of a plain room, the middle of the larger
        part of an L.
        """
        return {space: place for room in self._rooms for space, place in room.places}

    def way(self, a: str, b: str) -> Way | None:
        """Return the shortest way from where one stands in a space to where one stands in another.

        None when there is none: no doorway leads on, or what stands in the way leaves no floor.
        """
        return self.ways_from(a).get(b)

    def ways_from(self, a: str) -> Mapping[str, Way]:
        """Return the shortest way to each space that can be reached, by its id."""
        if a not in self._found:
            self._found[a] = self._ways_from(a)
        return self._found[a]

    @cached_property
    def _doors(self) -> dict[str, tuple[Doorway, ...]]:
        """Doorways of each space through which one walks on into another room."""
        rooms = self._house.rooms
        return {
            space: tuple(
                door
                for door in doors
                if door.opening is not None and door.passage and door.beyond and door.beyond not in rooms[space]
            )
            for space, doors in self._house.doorways.items()
        }

    @cached_property
    def _rooms(self) -> tuple[_Room, ...]:
        found = []
        for spaces in dict.fromkeys(tuple(sorted(room)) for room in self._house.rooms.values()):
            stands = [stand for space in spaces for stand in self._house.by_space[space] if is_obstacle(stand)]
            found.append(
                _room(
                    tuple((id, polygon_of(self._house.spaces[id].outline)) for id in spaces),
                    tuple(footprint(stand) for stand in stands),
                    tuple((door.id, id, door.segment) for id in spaces for door in self._doors[id]),
                )
            )
        return tuple(found)

    @cached_property
    def _steps(self) -> dict[Node, list[tuple[Node, float]]]:
        steps: dict[Node, list[tuple[Node, float]]] = {}
        thresholds: dict[Node, Point] = {}
        for room in self._rooms:
            thresholds |= dict(room.thresholds)
            for a, b, length in room.walks:
                steps.setdefault(a, []).append((b, length))
                steps.setdefault(b, []).append((a, length))
        for space, doors in self._doors.items():
            for door in doors:
                here, there = (door.id, space), (door.id, str(door.beyond))
                if there in thresholds:
                    # Through the thickness of the wall.
                    steps.setdefault(here, []).append((there, distance(thresholds[here], thresholds[there])))
        return steps

    def _ways_from(self, a: str) -> dict[str, Way]:
        best: dict[Node, float] = {("", a): 0.0}
        came: dict[Node, Node] = {}
        queue = [(0.0, ("", a))]
        done: set[Node] = set()
        while queue:
            length, here = heapq.heappop(queue)
            if here in done:
                continue
            done.add(here)
            for there, step in self._steps.get(here, ()):
                # One stands in a room only at the ends of a way; nobody detours to its middle.
                if length + step < best.get(there, float("inf")):
                    best[there], came[there] = length + step, here
                    if there[0]:
                        heapq.heappush(queue, (length + step, there))
        return {
            space: Way(best["", space], *self._along(came, ("", space)))
            for space in self._house.spaces
            if ("", space) in best
        }

    @staticmethod
    def _along(came: Mapping[Node, Node], end: Node) -> tuple[tuple[str, ...], Node | None]:
        path = [end]
        while path[-1] in came:
            path.append(came[path[-1]])
        spaces = dict.fromkeys(space for _, space in reversed(path))
        through = tuple(space for space in spaces if space not in (path[-1][1], end[1]))
        return through, next((node for node in path if node[0]), None)


@dataclass(frozen=True)
class _Room:
    """One room, which may be several spaces: where one stands, its thresholds, and the walks between all of these."""

    places: tuple[tuple[str, Point], ...]
    thresholds: tuple[tuple[Node, Point], ...]
    walks: tuple[tuple[Node, Node, float], ...]


# Remembered by its shapes: of a house that is worked on, one room changes at a time.
@lru_cache(maxsize=256)
def _room(
    spaces: tuple[tuple[str, Polygon], ...],
    obstacles: tuple[Polygon, ...],
    doors: tuple[tuple[str, str, Segment], ...],
) -> _Room:
    whole = polygons_of(joined_floors(floor for _, floor in spaces))
    floor = shapely.union_all([free_floor(part, obstacles) for part in whole])
    net, bare = WalkNet(floor, BODY_MM), WalkNet(floor)
    wide = floor.buffer(1.0)
    thresholds = {(door, space): threshold(segment, wide) for door, space, segment in doors}
    reached = _reached(net, thresholds.values()) or _reached(bare, thresholds.values())
    standing = [reached] if reached else []
    places = {id: _place(area, (*standing, net.floor, bare.floor)) for id, area in spaces}
    nodes: dict[Node, Point] = {("", id): place for id, place in places.items()} | thresholds
    walks = []
    listed = list(nodes.items())
    for index, (a, start) in enumerate(listed):
        for b, end in listed[index + 1 :]:
            length = _length(net, start, end)
            length = _length(bare, start, end) if length is None else length
            if length is not None:
                walks.append((a, b, length))
    return _Room(tuple(places.items()), tuple(thresholds.items()), tuple(walks))


def _reached(net: WalkNet, points: Iterable[Point]) -> BaseGeometry | None:
    """Return the parts of the floor on which one stands when one has come in."""
    inside = [ShapelyPoint(place) for place in map(net.snapped, points) if place is not None]
    parts = [part for part in polygons_of(net.floor) if any(part.dwithin(point, 0.1) for point in inside)]
    return shapely.union_all(parts) if parts else None


def _place(area: Polygon, floors: Sequence[BaseGeometry]) -> Point:
    pole = polylabel(area, tolerance=_POLE_MM)
    for floor in floors:
        here = floor.intersection(area)
        if here.area > 0:
            near = nearest_points(here, pole)[0]
            return (near.x, near.y)
    return (pole.x, pole.y)


def _length(net: WalkNet, a: Point, b: Point) -> float | None:
    """Return the length of the shortest walk between the very points: a threshold lies at the edge of the floor."""
    walk = net.walk(a, b)
    if walk is None:
        return None
    return distance(a, walk.points[0]) + walk.length_mm + distance(walk.points[-1], b)
