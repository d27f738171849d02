"""The free floor before an edge: from which line it starts, how deep and how wide it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Final

from shapely.geometry.base import BaseGeometry

from enfilade.geometry.boxes import Box, Segment
from enfilade.geometry.clear_widths import clear_strip
from enfilade.geometry.fronts import free_front
from enfilade.geometry.points import angle_between_deg
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand

__all__ = ["Blocks", "deepest", "standing_edge", "widest"]

Blocks = Mapping[str, BaseGeometry | Segment]
"""What stands in the way, by id: footprints, and walls as segments."""

# A front that stands further before its neighbours than this is not one of their line: 6 in, our own choice
# (a refrigerator stands about so far before the counter beside it).
_PROUD_MM: Final = 152.4
_SAME_WAY_DEG: Final = 1.0


def standing_edge(stand: Stand, tops: Iterable[Stand], beside_mm: float = 0.0) -> Segment:
    """Return the edge at which one stands before a thing: its front, or that of what it is set in.

    Args:
        stand: A sink, a cooking surface, an appliance.
        tops: Counters and other fronts in whose line it may stand.
        beside_mm: How far to each side fronts that stand a little proud of it count too.
    """
    # A thing is never proud of its own front, and may be among the tops.
    return _standing_edge(stand.box.front, tuple(top.box for top in tops), beside_mm)


@lru_cache(maxsize=512)
def _standing_edge(front: Segment, tops: tuple[Box, ...], beside_mm: float) -> Segment:
    # Remembered: several checks ask for the same edges, and few of them move.
    proud = 0.0
    for top in tops:
        for side in (top.front, top.back, top.left, top.right):
            if abs(angle_between_deg(front.direction, side.direction)) > _SAME_WAY_DEG:
                continue
            (left, ahead), (right, _) = front.place(side.a), front.place(side.b)
            over = min(right, front.length_mm + beside_mm) - max(left, -beside_mm)
            if over > 1.0 and 0.0 < ahead <= _PROUD_MM:
                proud = max(proud, ahead)
    return front.moved(proud) if proud else front


def deepest(edge: Segment, blocks: Blocks, width_mm: float, reach_mm: float) -> tuple[float, Segment] | None:
    """Return how deep the floor is free before some stretch of an edge of the given width, and the stretch."""
    return clear_strip(edge, blocks, reach_mm, width_mm)


def widest(edge: Segment, blocks: Blocks, depth_mm: float, holding_mm: float | None = None) -> Segment | None:
    """Return the longest stretch of an edge before which the floor is free to a depth.

    Args:
        edge: The edge, drawn out to the sides as far as the floor is wanted.
        blocks: What stands in the way.
        depth_mm: The depth.
        holding_mm: A place along the edge that the stretch must hold; any stretch when None.
    """
    shapes = [s.line if isinstance(s, Segment) else s for s in blocks.values()]
    # What stands exactly at that depth is not before it.
    free = free_front(edge, shapes, max(depth_mm - TOLERANCE_MM, 2 * TOLERANCE_MM))
    if holding_mm is not None:
        places = ((part, edge.place(part.a)[0], edge.place(part.b)[0]) for part in free)
        free = tuple(part for part, a, b in places if a - TOLERANCE_MM <= holding_mm <= b + TOLERANCE_MM)
    return max(free, key=lambda part: part.length_mm, default=None)
