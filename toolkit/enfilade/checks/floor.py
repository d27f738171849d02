"""What stands in the way on the floor, and what floor is left."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import Final

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.checks.kept import Kept
from enfilade.checks.view import View
from enfilade.geometry.boxes import ellipse, polygons_of
from enfilade.geometry.outlines import free_floor, joined_floors, polygon_of
from enfilade.lengths import inches
from enfilade.project.spaces import Space
from enfilade.project.standing import Stand
from enfilade.project.surfaces import Seat, Table
from enfilade.project.things import KINDS

__all__ = ["AHEAD_MM", "FLOOR_KINDS", "footprint", "is_obstacle", "obstacles", "room_floor"]

_NEVER: Final = {"rug", "light", "receptacle", "switch", "window treatment", "hood", "extinguisher", "filler"}
FLOOR_KINDS: Final = tuple(kind for kind in KINDS if kind not in _NEVER)
"""Kinds that may stand in the way of feet; a check of free floor reads all of them."""

AHEAD_MM: Final = inches(120)
"""How far ahead the floor is looked at, 10 ft: beyond any width that a source asks (our own choice)."""

# ADA 307.2: what projects from a wall above 27 in is met by no cane and no foot; seen second-hand.
_OVERHEAD_MM: Final = 27 * 25.4
# Tops stand on something, and so does an oven that is built in higher than that, recorded or not.
_DOWN_TO_THE_FLOOR: Final = {"counter", "island", "peninsula", "table", "desk", "oven"}


def footprint(stand: Stand) -> Polygon:
    """Return the plan of a thing; round tables are ellipses."""
    if isinstance(stand.thing, Table) and stand.thing.round:
        return ellipse(stand.box)
    return stand.box.polygon


def is_obstacle(stand: Stand) -> bool:
    """Tell whether one has to walk round it. Chairs and stools are pushed in and do not count."""
    thing = stand.thing
    if thing.kind in _NEVER or (isinstance(thing, Seat) and thing.what in ("chair", "stool")):
        return False
    return thing.bottom_mm < _OVERHEAD_MM or thing.kind in _DOWN_TO_THE_FLOOR


def obstacles(stands: Iterable[Stand]) -> dict[str, Polygon]:
    """Return the footprints of what one has to walk round, by id."""
    return {stand.id: footprint(stand) for stand in stands if is_obstacle(stand)}


_OUTLINES: Final = Kept[list[Polygon]](64)


def _outlines(spaces: Iterable[Space]) -> list[Polygon]:
    return list(polygons_of(joined_floors(polygon_of(space.outline) for space in spaces)))


def room_floor(view: View) -> BaseGeometry:
    """Return the free floor of the whole room (the space and what it runs on into)."""
    key = ("free floor", view.reads & set(FLOOR_KINDS))
    if key not in view.memo:
        parts = _OUTLINES.get(view.room, partial(_outlines, view.room))
        things = list(obstacles(view.room_things(*(view.reads & set(FLOOR_KINDS)))).values())
        view.memo[key] = shapely.union_all([free_floor(part, things) for part in parts])
    floor: BaseGeometry = view.memo[key]
    return floor
