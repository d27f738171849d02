"""The floor that doors, flaps and drawers of things take up when they are open, and what they sweep."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache, partial
from typing import Final, Literal

from shapely import Polygon

from enfilade.checks.kept import Kept
from enfilade.checks.view import View
from enfilade.geometry.boxes import Segment
from enfilade.geometry.points import Point, along, distance, minus, unit
from enfilade.geometry.swings import drawer_sweep, hinged_sweep, open_leaf
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.appliances import Microwave, Oven, Refrigerator
from enfilade.project.doorways import Doorway, Hinge, leaf_hinge
from enfilade.project.spaces import Swing
from enfilade.project.standing import Stand, side_of
from enfilade.project.thing import Leaf, Thing

__all__ = [
    "LEAF_MM",
    "WALL_MM",
    "Opened",
    "door_sweep",
    "hinge_of",
    "hinge_side",
    "missing_facts",
    "open_shape",
    "opened",
    "opened_in",
    "share_a_height",
    "swept_shape",
    "swing_of",
]

LEAF_MM: Final = 20.0
"""Thickness taken for a leaf that stands open; the record has none (our own choice)."""
WALL_MM: Final = 50.0
"""How deep a wall is taken that stops a door: any depth stops it, the record has none (our own choice)."""


def hinge_side(thing: Thing, leaf: Leaf) -> Literal["left", "right"] | None:
    """Return where a hinged leaf hangs: as recorded, or opposite the recorded handle of a single door."""
    if leaf.hinge is not None:
        return leaf.hinge
    handle = thing.handle if isinstance(thing, Refrigerator | Microwave) else None
    if isinstance(thing, Oven):
        handle = thing.latch
    single = sum(other.kind == "hinged" for other in thing.leaves) == 1
    if not single or handle not in ("left", "right"):
        return None
    return "right" if handle == "left" else "left"


def hinge_of(stand: Stand, leaf: Leaf) -> Hinge | None:
    """Return the hinge of a hinged leaf, its free end at the recorded reach; None when it is not known."""
    side, front = hinge_side(stand.thing, leaf), _front(stand, leaf)
    if leaf.kind != "hinged" or side is None or front is None:
        return None
    hinge = leaf_hinge(front, side, leaf.angle_deg)
    if leaf.reach_mm is None:
        return hinge
    end = along(hinge.at, unit(minus(hinge.closed_end, hinge.at)), leaf.reach_mm)
    return Hinge(hinge.at, end, hinge.clockwise, hinge.angle_deg)


def open_shape(stand: Stand, leaf: Leaf) -> Polygon | None:
    """Return the floor under a leaf when it is open; a hinged one at a right angle, or as far as it goes.

    None for what comes out over no floor (sliding doors) and where the hinge is not known.
    """
    if leaf.kind == "hinged":
        hinge = hinge_of(stand, leaf)
        if hinge is None:
            return None
        # Its thickness lies on the side of the leaf's own face: at a right angle it covers nothing of the neighbour.
        inwards = unit(minus(hinge.closed_end, hinge.at))
        at, end = (along(point, inwards, LEAF_MM / 2) for point in (hinge.at, hinge.closed_end))
        return open_leaf(at, end, min(90.0, hinge.angle_deg), hinge.clockwise, LEAF_MM)
    front, reach_mm = _front(stand, leaf), _reach(stand, leaf)
    return None if front is None or reach_mm is None else drawer_sweep(front, reach_mm)


def swept_shape(stand: Stand, leaf: Leaf, limit_deg: float = 360.0) -> Polygon | None:
    """Return all the floor that a leaf passes over from shut to fully open, a hinged one to a limit at most.

    None as for `open_shape`.
    """
    if leaf.kind != "hinged":
        return open_shape(stand, leaf)
    hinge = hinge_of(stand, leaf)
    if hinge is None:
        return None
    return hinged_sweep(hinge.at, hinge.closed_end, min(limit_deg, hinge.angle_deg), hinge.clockwise)


def _front(stand: Stand, leaf: Leaf) -> Segment | None:
    side = side_of(stand.box, leaf.side)
    width = leaf.width_mm if leaf.width_mm is not None else side.length_mm - leaf.from_left_mm
    return _part(side, leaf.from_left_mm, width) if width > TOLERANCE_MM else None


# Remembered: it is asked for several times for each leaf, and few things move.
@lru_cache(maxsize=512)
def _part(side: Segment, from_left_mm: float, width_mm: float) -> Segment:
    return Segment(side.at(from_left_mm), side.at(from_left_mm + width_mm))


def _reach(stand: Stand, leaf: Leaf) -> float | None:
    """Return how far a leaf that does not turn about a post comes out [mm]."""
    low, high = _closed_heights(stand.thing, leaf)
    front = _front(stand, leaf)
    if leaf.kind == "sliding" or front is None:
        return None
    reach_mm = leaf.reach_mm
    if reach_mm is None and leaf.kind in ("drop-down", "lift-up"):
        reach_mm = high - low
    elif reach_mm is None and leaf.kind == "folding":
        reach_mm = front.length_mm / 2
    elif reach_mm is None:
        reach_mm = stand.box.depth_mm if leaf.side in ("front", "back") else stand.box.width_mm
    return reach_mm if reach_mm > TOLERANCE_MM else None


def _closed_heights(thing: Thing, leaf: Leaf) -> tuple[float, float]:
    low = thing.bottom_mm if leaf.bottom_mm is None else leaf.bottom_mm
    high = thing.top_mm if leaf.top_mm is None else leaf.top_mm
    return low, max(low, high)


@dataclass(frozen=True)
class Opened:
    """One leaf of a thing, with what it takes up when open.

    Attributes:
        stand, leaf: The thing and its leaf.
        closed: The closed face, left to right as seen facing it.
        open_shape: Under the open leaf, a hinged one at a right angle.
        reach_mm: How far it comes out when open [mm].
        low_mm, high_mm: Height range of the open leaf; a flap lies flat at its hinge.
    """

    stand: Stand
    leaf: Leaf
    closed: Segment
    open_shape: Polygon
    reach_mm: float
    low_mm: float
    high_mm: float

    @property
    def id(self) -> str:
        """Return the thing's id."""
        return self.stand.id

    @cached_property
    def corners(self) -> tuple[Point, ...]:
        """The corners of the open leaf, to be drawn."""
        return tuple((x, y) for x, y in self.open_shape.exterior.coords[:-1])

    @cached_property
    def edge(self) -> Segment | None:
        """The part of the closed face before which it stands when it is open; None when that has no width."""
        front = self.closed
        places = [front.place(corner)[0] for corner in self.corners]
        start, end = max(0.0, min(places)), min(front.length_mm, max(places))
        return front.part(start, end) if end - start >= 1.0 else None

    @cached_property
    def swept(self) -> Polygon:
        """All that it passes over."""
        return swept_shape(self.stand, self.leaf) or self.open_shape


def opened(stands: Iterable[Stand]) -> Iterator[Opened]:
    """Yield every leaf that comes out over the floor, in the order of the record."""
    for stand in stands:
        for leaf in stand.thing.leaves:
            shape, closed = open_shape(stand, leaf), _front(stand, leaf)
            if shape is None or closed is None:
                continue
            low, high = _closed_heights(stand.thing, leaf)
            if leaf.kind == "drop-down":
                high = min(high, low + LEAF_MM)
            elif leaf.kind == "lift-up":
                low, high = high, high + LEAF_MM
            reach = max(closed.place((x, y))[1] for x, y in shape.exterior.coords)
            yield Opened(stand, leaf, closed, shape, reach, low, high)


_OPENED: Final = Kept[tuple[Opened, ...]](512)


def opened_in(view: View, stands: Iterable[Stand]) -> Iterator[Opened]:
    """Yield the same for things of a view, worked out once for as long as a thing stays as and where it is."""
    for stand in stands:
        yield from _OPENED.get((stand,), partial(_opened, stand))


def _opened(stand: Stand) -> tuple[Opened, ...]:
    return tuple(opened([stand]))


def missing_facts(stands: Iterable[Stand]) -> tuple[str, ...]:
    """Return what the record lacks to know what opens, as `id.opens` or `id.opens.hinge`."""
    found = []
    for stand in stands:
        thing = stand.thing
        if thing.opens is None:
            found.append(f"{thing.id}.opens")
        elif any(leaf.kind == "hinged" and hinge_side(thing, leaf) is None for leaf in thing.leaves):
            found.append(f"{thing.id}.opens.hinge")
    return tuple(found)


def share_a_height(a: Opened, b: Opened) -> bool:
    """Tell whether two open leaves are at one height, so that they would meet where they overlap in plan."""
    return min(a.high_mm, b.high_mm) - max(a.low_mm, b.low_mm) > TOLERANCE_MM


def swing_of(door: Doorway) -> Swing | None:
    """Return how a door's leaf turns, None when it has none or it is not recorded."""
    swing = door.opening.swing if door.opening is not None and door.opening.kind == "door" else None
    return swing if isinstance(swing, Swing) else None


def door_sweep(door: Doorway, limit_deg: float = 360.0) -> Polygon | None:
    """Return the floor that a room door sweeps in the space from which it is seen, up to a limit.

    None when it turns away, or has no leaf.
    """
    hinge = door.hinge
    if hinge is None or swing_of(door) is None or distance(hinge.at, hinge.closed_end) <= TOLERANCE_MM:
        return None
    return hinged_sweep(hinge.at, hinge.closed_end, min(limit_deg, hinge.angle_deg), hinge.clockwise)
