"""The ways through a room on foot: from each of its openings to each other one."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Final

import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from enfilade.checks.floor import FLOOR_KINDS, room_floor
from enfilade.checks.view import View
from enfilade.geometry.walks import Walk, WalkNet
from enfilade.project.doorways import Doorway

__all__ = ["BODY_MM", "Way", "through_length", "ways"]

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
    nets = [WalkNet(floor, BODY_MM), WalkNet(floor)]
    found = []
    for a, b in combinations(doors, 2):
        start, end = _threshold(a, floor), _threshold(b, floor)
        walk = next((walk for net in nets if (walk := net.walk(start, end)) is not None), None)
        if walk is not None:
            found.append(Way(a.id, b.id, walk))
    return found


def _threshold(door: Doorway, floor: BaseGeometry) -> tuple[float, float]:
    """Return the middle of the widest part of an opening before which there is floor."""
    line = LineString([door.segment.a, door.segment.b])
    free = line.intersection(floor.buffer(1.0))
    parts = [part for part in shapely.get_parts(free) if isinstance(part, LineString) and part.length > 0]
    if not parts:
        return door.segment.midpoint
    longest = max(parts, key=lambda part: float(part.length))
    middle = longest.interpolate(0.5, normalized=True)
    return (middle.x, middle.y)


def through_length(way: Way, shape: BaseGeometry) -> float:
    """Return how much of a way lies inside a shape [mm]; what runs along its edge is not inside."""
    core = shape.buffer(-0.5, join_style="mitre")
    if core.is_empty or len(way.walk.points) < 2:
        return 0.0
    steps = (LineString([a, b]) for a, b in pairwise(way.walk.points) if a != b)
    return float(sum(step.intersection(core).length for step in steps))
