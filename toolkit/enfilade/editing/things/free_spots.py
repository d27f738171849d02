"""Where on the floor a thing can stand with room around it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from enfilade.editing.things.clear_round import counts_round, hangs
from enfilade.editing.things.house import House
from enfilade.editing.things.snapping import Pose, turn_kept
from enfilade.project.doorways import Doorway
from enfilade.project.thing import Thing
from enfilade.standards import yardstick

__all__ = ["free_spot", "middle_of", "room_turn"]

_WAY_MM: Final = 900.0
"""Floor before a door or a way through that is kept free where there is room (own choice)."""
_TRIED: Final = 48
"""Places tried along each side of a room."""
_TOUCH_MM: Final = 1.0


def free_spot(house: House, space: str, width_mm: float, depth_mm: float, *, without: Iterable[str] = ()) -> Pose:
    """Return where a thing of a size can stand in a room, square to its longest wall, with the most room round it.

    A work aisle all round is tried first (Kitchen guideline 6), then less, then none, then on top of what stands there.
    Of the places that are left, the one nearest to the middle of the room is taken.

    Args:
        width_mm, depth_mm: Its size, above 0.
        without: Ids of things that do not count.
    Raises:
        NotFound: No such space.
    """
    turn_deg = room_turn(house, space)
    floor = affinity.rotate(house.floors[house.project.space(space).id], -turn_deg, origin=(0, 0))
    standing = [affinity.rotate(shape, -turn_deg, origin=(0, 0)) for shape in _standing(house, space, without)]
    ways = [affinity.rotate(shape, -turn_deg, origin=(0, 0)) for shape in _ways(house.doors[space])]
    cooks = "two cooks" if (house.project.household.cooks_together or 1) > 1 else "one cook"
    aisle_mm = yardstick().row("K6", cooks).value_mm
    open_floor = floor.difference(shapely.union_all([*standing, *ways]))
    for around_mm, free in (
        (aisle_mm, open_floor),
        (_WAY_MM, open_floor),
        (_WAY_MM / 2, open_floor),
        (0.0, open_floor),
        (0.0, floor.difference(shapely.union_all(standing))),
        (0.0, floor),
    ):
        for wide, deep, quarter in ((width_mm, depth_mm, 0.0), (depth_mm, width_mm, 90.0)):
            found = _nearest_to_middle(free, floor, wide, deep, around_mm)
            if found is not None:
                x, y = _back(found, turn_deg)
                return Pose(x, y, turn_kept(turn_deg + quarter))
    return Pose(*middle_of(house, space), turn_kept(turn_deg))


def room_turn(house: House, space: str) -> float:
    """Return the turn at which a thing stands with its back to the longest wall of a room, or across from it [deg]."""
    lines = [house.lines[wall.id] for wall in house.project.space(space).walls]
    x, y = max(lines, key=lambda line: round(line.length_mm, 3)).direction
    return round(math.degrees(math.atan2(y, x)), 6) % 180


def middle_of(house: House, space: str) -> tuple[float, float]:
    """Return the middle of a room's floor, or a point on it where the middle lies outside."""
    floor = house.floors[space]
    point = floor.centroid if floor.covers(floor.centroid) else floor.representative_point()
    return (point.x, point.y)


def _standing(house: House, space: str, without: Iterable[str]) -> list[BaseGeometry]:
    left_out = set(without)
    return [
        house.footprint(stand.id)
        for stand in house.things_in(*house.rooms[space])
        if stand.id not in left_out and _in_the_way(stand.thing)
    ]


def _in_the_way(thing: Thing) -> bool:
    return (counts_round(thing) or thing.kind == "seat") and not hangs(thing)


def _ways(doors: Sequence[Doorway]) -> Iterator[BaseGeometry]:
    for door in doors:
        if door.passage and door.opening is not None:
            yield door.segment.strip(_WAY_MM)


def _nearest_to_middle(
    free: BaseGeometry, floor: BaseGeometry, wide: float, deep: float, around_mm: float
) -> tuple[float, float] | None:
    if free.is_empty:
        return None
    x0, y0, x1, y1 = floor.bounds
    half_x, half_y = wide / 2 + around_mm, deep / 2 + around_mm
    if x1 - x0 < 2 * half_x or y1 - y0 < 2 * half_y:
        return None
    middle = floor.centroid
    xs = _tried(x0 + half_x, x1 - half_x, middle.x)
    ys = _tried(y0 + half_y, y1 - half_y, middle.y)
    gx, gy = (grid.ravel() for grid in np.meshgrid(xs, ys))
    hair = _TOUCH_MM / 2  # what fits exactly fits
    boxes = shapely.box(gx - half_x + hair, gy - half_y + hair, gx + half_x - hair, gy + half_y - hair)
    shapely.prepare(free)
    fits = np.flatnonzero(shapely.contains(free, boxes))
    if not fits.size:
        return None
    away = np.hypot(gx[fits] - middle.x, gy[fits] - middle.y)
    best = fits[int(np.lexsort((gy[fits], gx[fits], np.round(away, 3)))[0])]
    return float(gx[best]), float(gy[best])


def _tried(low: float, high: float, middle: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    places = np.linspace(low, high, _TRIED)
    return np.unique(np.append(places, min(max(middle, low), high)))


def _back(point: tuple[float, float], turn_deg: float) -> tuple[float, float]:
    at = affinity.rotate(shapely.Point(point), turn_deg, origin=(0, 0))
    return (at.x, at.y)
