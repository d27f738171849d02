"""The ways through a room on foot: from each of its openings to each other one."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise
from typing import Final

import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from enfilade.checks.floor import FLOOR_KINDS, room_floor
from enfilade.checks.view import View
from enfilade.geometry.boxes import Segment
from enfilade.geometry.points import Point
from enfilade.geometry.walks import Walk, WalkNet

__all__ = ["BODY_MM", "Way", "threshold", "through_length", "ways"]

BODY_MM: Final = 457.2
"""Width taken for a person who walks through: 18 in, about the shoulders of an adult (our own choice)."""

_DEAD_ENDS: Final = {"pantry", "closet"}


@dataclass(frozen=True)
class Way:
    """The shortest walk between two openings of a space."""

    a: str
    b: str
    walk: Walk


def ways(view: View) -> tuple[Way, ...]:
    """Return the shortest walk between each two openings of a space, open sides included, worked out once.

    Doors to a pantry or a closet lead nowhere else and are left out. Where a person of the width taken does
    not get through, the walk is looked for without a width.
    """
    key = ("ways", view.reads & set(FLOOR_KINDS))
    if key not in view.memo:
        view.memo[key] = tuple(_ways(view))
    found: tuple[Way, ...] = view.memo[key]
    return found


def _ways(view: View) -> list[Way]:
    uses = {space.id: space.use for space in view.spaces}
    doors = [d for d in view.doorways() if d.passage and uses.get(d.beyond or "") not in _DEAD_ENDS]
    if len(doors) < 2:
        return []
    floor = room_floor(view)
    wide = floor.buffer(1.0)
    thresholds = [(door.id, threshold(door.segment, wide)) for door in doors]
    net, bare = WalkNet(floor, BODY_MM), None
    found = []
    for (a, start), (b, end) in combinations(thresholds, 2):
        walk = net.walk(start, end)
        if walk is None:
            bare = bare or WalkNet(floor)
            walk = bare.walk(start, end)
        if walk is not None:
            found.append(Way(a, b, walk))
    return found


def threshold(opening: Segment, wide: BaseGeometry) -> Point:
    """Return the middle of the widest part of an opening before which there is floor, a little widened."""
    free = opening.line.intersection(wide)
    parts = [part for part in shapely.get_parts(free) if isinstance(part, LineString) and part.length > 0]
    if not parts:
        return opening.midpoint
    longest = max(parts, key=lambda part: float(part.length))
    middle = longest.interpolate(0.5, normalized=True)
    return (middle.x, middle.y)


def through_length(way: Way, shape: BaseGeometry) -> float:
    """Return how much of a way lies inside a shape [mm]; what runs along its edge is not inside."""
    core = _core(shape)
    steps = [(a, b) for a, b in pairwise(way.walk.points) if a != b]
    if core.is_empty or not steps:
        return 0.0
    return float(sum(shapely.length(shapely.intersection(shapely.linestrings(steps), core)).tolist()))


@lru_cache(maxsize=64)
def _core(shape: BaseGeometry) -> BaseGeometry:
    # Asked for with each way in turn.
    return shape.buffer(-0.5, join_style="mitre")
