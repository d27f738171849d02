"""Where a camera can stand in a house, and what may stand in its way."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.checks.floor import footprint
from enfilade.checks.view import House
from enfilade.drawings.perspective_faces import model_of
from enfilade.drawings.solids import HouseSolids
from enfilade.geometry.boxes import polygons_of
from enfilade.geometry.outlines import joined_floors, polygon_of, walls
from enfilade.geometry.sightlines import Floats, Obstructions
from enfilade.project.spaces import Space
from enfilade.project.standing import Stand

__all__ = ["CAMERA_RADIUS_MM", "Ground"]

CAMERA_RADIUS_MM: Final = 300.0
"""A camera and the person behind it stand in a free circle of this radius, about 2 ft across (own choice)."""

_HEADROOM_MM: Final = 2000.0
"""What hangs lower than this is in the way of whoever stands there (own choice)."""
_FLAT_MM: Final = 30.0
_PLACES: Final = 160
_NEAREST_MM, _FARTHEST_MM = 120.0, 600.0
_NEVER: Final = {"rug", "receptacle", "switch", "window treatment"}


class Ground:
    """A house as cameras meet it. Floors, places and obstructions are worked out when first asked for, and kept.

    Args:
        solids: The house in three dimensions.
    """

    def __init__(self, solids: HouseSolids) -> None:
        self.solids = solids
        self.house: House = solids.house
        self._floors: dict[str, BaseGeometry] = {}
        self._places: dict[str, Floats] = {}
        self._ways: dict[tuple[str, ...], Obstructions] = {}

    def ceiling_mm(self, space: str) -> float:
        """Return how high a lens may stand at most under the ceiling of a space."""
        room = self.solids.rooms[space]
        return min([room.ceiling_mm, *(drop.height_mm for drop in room.space.dropped)])

    def room(self, space: str) -> tuple[str, ...]:
        """Return a space and those that it runs on into without a wall, this one first."""
        return tuple(one.id for one in self.house.room(self.house.spaces[space]))

    def next_to(self, space: str) -> tuple[str, ...]:
        """Return the spaces from which one looks into a room through a passage, in the order of the record."""
        room = self.room(space)
        doors = [door for name in room for door in self.house.doorways[name] if door.passage]
        return tuple(dict.fromkeys(door.beyond for door in doors if door.beyond and door.beyond not in room))

    def floor(self, space: str) -> BaseGeometry:
        """Return where the middle of a camera may be in a room: its floor, clear of walls and things by the radius."""
        name = min(self.room(space))
        if name not in self._floors:
            whole = joined_floors(polygon_of(self.house.spaces[one].outline) for one in self.room(space))
            here = [stand for one in self.room(space) for stand in self.house.by_space[one]]
            taken = [footprint(stand) for stand in here if _stands(stand)]
            free = whole.difference(shapely.union_all(taken)) if taken else whole
            # Corners of a body stay clear all round; a few sides are enough for a circle, and lie inside it.
            self._floors[name] = free.buffer(-CAMERA_RADIUS_MM * 1.02, quad_segs=4)
            shapely.prepare(self._floors[name])
        return self._floors[name]

    def free(self, space: str, points: Floats) -> np.ndarray:
        """Tell at which points of the plan (rows) a camera can stand in a room."""
        return np.asarray(shapely.intersects_xy(self.floor(space), points[:, 0], points[:, 1]))

    def places(self, space: str) -> Floats:
        """Return points spread over the floor on which a camera can stand, and its corners; none when there is none.

        The net lies along the longest wall, so that a turned house has the same places.
        """
        name = min(self.room(space))
        if name not in self._places:
            floor = self.floor(space)
            self._places[name] = _spread(floor, self.house.spaces[name]) if not floor.is_empty else np.empty((0, 2))
        return self._places[name]

    def in_the_way(self, spaces: Iterable[str]) -> Obstructions:
        """Return what may block lines of sight within spaces that are looked across; doors between rooms stand open."""
        rooms = tuple(sorted({one for space in spaces for one in self.room(space)}))
        if rooms not in self._ways:
            self._ways[rooms] = self._within(rooms)
        return self._ways[rooms]

    def _within(self, rooms: tuple[str, ...]) -> Obstructions:
        corners = np.array([corner for room in rooms for corner in self.house.spaces[room].outline])
        low, high = corners.min(axis=0) - 1.0, corners.max(axis=0) + 1.0

        def near(points: Iterable[tuple[float, float]]) -> bool:
            xs, ys = zip(*points, strict=True)
            return bool(min(xs) <= high[0] and max(xs) >= low[0] and min(ys) <= high[1] and max(ys) >= low[1])

        leaves = (leaf for _, leaf in model_of(self.solids).leaves)
        return Obstructions(
            (prism for prism in (*self.solids.prisms, *leaves) if near(prism.footprint)),
            (panel for panel in self.solids.panels if near((panel.a, panel.b))),
        )


def _stands(stand: Stand) -> bool:
    """Tell whether a thing is in the way of a camera and the person behind it: chairs too, as they are recorded."""
    thing = stand.thing
    return thing.kind not in _NEVER and thing.bottom_mm < _HEADROOM_MM and thing.top_mm > _FLAT_MM


def _spread(floor: BaseGeometry, space: Space) -> Floats:
    longest = max(walls(space.outline), key=lambda wall: round(wall.length_mm))
    along, across = np.array(longest.direction), np.array(longest.outward)
    start = np.array(longest.a)
    corners = [shapely.get_coordinates(part.exterior.simplify(60.0))[:-1] for part in polygons_of(floor)]
    places = np.concatenate(corners) - start
    u, v = places @ along, places @ across
    step = min(_FARTHEST_MM, max(_NEAREST_MM, math.sqrt(floor.area / _PLACES)))
    us = np.arange(math.ceil(u.min() / step) * step, u.max() + 1e-6, step)
    vs = np.arange(math.ceil(v.min() / step) * step, v.max() + 1e-6, step)
    net = start + np.stack([axis.ravel() for axis in np.meshgrid(us, vs)], axis=1) @ np.stack([along, across])
    inside = shapely.intersects_xy(floor, net[:, 0], net[:, 1])
    return np.concatenate([net[inside], places + start])
