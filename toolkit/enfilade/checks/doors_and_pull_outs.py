"""Cabinet doors that must open far enough for what comes out behind them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from typing import Final

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.checks.corner_clashes import filler
from enfilade.checks.floor import FLOOR_KINDS, footprint
from enfilade.checks.kept import Kept
from enfilade.checks.open_in_aisles import EXPECTED, OPENS, ROOMS
from enfilade.checks.open_shapes import WALL_MM, hinge_of, missing_facts
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark, Requirement
from enfilade.geometry.boxes import Segment, shared_mm2
from enfilade.geometry.points import distance, minus, turned
from enfilade.geometry.swings import free_opening_angle, open_leaf
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.doorways import Hinge
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

_INNER: Final = ("drawer", "pull-out")
_NEAR_MM: Final = 200.0
"""How far beyond the reach of a door something is looked for that may hold it: its handle and more (our own choice)."""
_SHARED: Final = 0.1
"""Share of a plan from which one thing is built into another and does not stand beside it (our own choice)."""
_HINGED_ROOMS: Final = ROOMS | {"bath", "bedroom", "closet"}


@check(reads={*FLOOR_KINDS, "wall cabinet"}, uses=_HINGED_ROOMS)
def doors_before_pull_outs(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Compare how far a hinged cabinet door opens with how far it must to clear the pull-out behind it.

    It is held by walls, by what stands beside it, and by its own handle, which is taken as the row says. The
    angle that is needed brings the line of the leaf beside the path of the pull-out.
    """
    if not rules.has("D3"):
        return
    row = rules.row("D3")
    judged = False
    for stand in view.things(*OPENS, "wall cabinet", "furniture piece"):
        for number, hinge, needed in _HELD.get((stand,), partial(_held, stand)):
            judged = True
            yield _cabinet_door(row, view, rules, stand, number, hinge, needed)
    if not judged and view.space.use == "kitchen":
        unknown = missing_facts(s for s in view.things(*EXPECTED) if s.thing.kind in ("base cabinet", "tall cabinet"))
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="missing fact" if unknown else "does not apply",
            needs=unknown,
            working=() if unknown else ("No hinged door of a cabinet has a pull-out or drawer behind it.",),
        )


_HELD: Final = Kept[tuple[tuple[int, Hinge, float], ...]](512)


def _held(stand: Stand) -> tuple[tuple[int, Hinge, float], ...]:
    """Return the hinged leaves of a thing behind which something comes out: number, hinge, angle that is needed."""
    leaves = enumerate(stand.thing.leaves)
    found = ((index + 1, hinge_of(stand, leaf), _needed_deg(stand, index)) for index, leaf in leaves)
    return tuple((number, hinge, needed) for number, hinge, needed in found if hinge and needed is not None)


def _span(stand: Stand, index: int) -> tuple[float, float, float, float]:
    """Return where a leaf lies on its side: from left, to right, bottom, top [mm]."""
    thing, leaf = stand.thing, stand.thing.leaves[index]
    whole = stand.box.width_mm if leaf.side in ("front", "back") else stand.box.depth_mm
    end = whole if leaf.width_mm is None else leaf.from_left_mm + leaf.width_mm
    low = thing.bottom_mm if leaf.bottom_mm is None else leaf.bottom_mm
    return leaf.from_left_mm, end, low, thing.top_mm if leaf.top_mm is None else leaf.top_mm


def _needed_deg(stand: Stand, index: int) -> float | None:
    """Return the angle at which a hinged leaf is clear of what comes out behind it, None when nothing does."""
    leaves = stand.thing.leaves
    leaf, hinge = leaves[index], hinge_of(stand, leaves[index])
    if hinge is None:
        return None
    left, right, low, high = _span(stand, index)
    length = distance(hinge.at, hinge.closed_end)
    at_left = hinge.clockwise
    gaps = []
    for other in range(len(leaves)):
        a, b, bottom, top = _span(stand, other)
        behind = leaves[other].kind in _INNER and leaves[other].side == leaf.side
        if behind and min(right, b) - max(left, a) > 5.0 and min(high, top) - max(low, bottom) > TOLERANCE_MM:
            gaps.append(max(0.0, a - left if at_left else right - b))
    return math.degrees(math.acos(min(1.0, min(gaps) / length))) if gaps else None


def _cabinet_door(
    row: Row, view: View, rules: Yardstick, stand: Stand, number: int, hinge: Hinge, needed: float
) -> Finding:
    handle = rules.row("D3", "handle").value_mm if rules.has("D3", "handle") else 0.0
    thick = rules.row("D3", "leaf thickness").value_mm if rules.has("D3", "leaf thickness") else 0.0
    face = thick / 2 + handle
    _, _, low, high = _span(stand, number - 1)
    around = _around(view, stand, low, high)
    free = free_opening_angle(hinge.at, hinge.closed_end, hinge.clockwise, around, 2 * face, limit_deg=hinge.angle_deg)
    working = [
        f"opens {free:.1f}° of {hinge.angle_deg:g}°, its handle taken {both(handle)} proud of it",
        f"to clear the path of what comes out behind it: {needed:.1f}°",
    ]
    if free < needed and hinge.angle_deg >= needed:
        width = filler(_outer_half(hinge, needed, face), shapely.union_all(around), minus(hinge.closed_end, hinge.at))
        if width is not None:
            working.append(f"a filler of {both(width)} at the hinge side lets it")
    leaf = open_leaf(hinge.at, hinge.closed_end, max(free, 1.0), hinge.clockwise)
    return row.finding(
        space=view.space.id,
        subjects=(stand.id,),
        part=f"leaf {number}",
        measured=Quantity(round(free, 6), "deg"),
        required=Requirement("at least", round(needed, 6), "deg"),
        working=working,
        marks=(Mark("area", tuple((x, y) for x, y in leaf.exterior.coords[:-1])),),
        assumed=(f"{stand.id}.handle",),
    )


def _outer_half(hinge: Hinge, angle_deg: float, face_mm: float) -> Polygon:
    """Return what lies before the line of an open leaf on the side that leads: its face and its handle."""
    x, y = turned(minus(hinge.closed_end, hinge.at), -angle_deg if hinge.clockwise else angle_deg)
    end = (hinge.at[0] + x, hinge.at[1] + y)
    # A segment's strip lies on the right of its direction; the leading side of a clockwise leaf is its right.
    line = Segment(hinge.at, end) if hinge.clockwise else Segment(end, hinge.at)
    return line.strip(face_mm)


def _around(view: View, stand: Stand, low: float, high: float) -> list[BaseGeometry]:
    """Return the walls, and what stands at a height of a door, near a thing."""
    near = stand.box.polygon.buffer(max(stand.box.width_mm, stand.box.depth_mm) + _NEAR_MM)
    found: list[BaseGeometry] = [line.moved(-WALL_MM).strip(WALL_MM) for line in view.room_walls.values()]
    for other in view.room_things(*(view.reads & {*FLOOR_KINDS, "wall cabinet"})):
        thing = other.thing
        level = min(thing.top_mm, high) - max(thing.bottom_mm, low) > TOLERANCE_MM
        if other.id != stand.id and level and thing.kind not in ("seat", "microwave") and not _shares(stand, other):
            found.append(footprint(other))
    return [shape for shape in found if shape.intersects(near)]


def _shares(stand: Stand, other: Stand) -> bool:
    a, b = stand.box.polygon, other.box.polygon
    return bool(shared_mm2(a, b) > _SHARED * min(a.area, b.area))
