"""Doors and drawers that stand open in an aisle: the width that is left beyond them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.checks.floor import FLOOR_KINDS, obstacles
from enfilade.checks.open_shapes import Opened, missing_facts, opened_in
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import shared_mm2
from enfilade.geometry.clear_widths import ClearAhead, clear_ahead_of_each
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["CABINETS", "OPENS"]

CABINETS: Final = ("base cabinet", "tall cabinet")
OPENS: Final = (*CABINETS, "island", "peninsula", "waste", "range", "oven", "refrigerator", "dishwasher", "microwave")
"""Kinds whose doors and drawers stand open over the floor."""
EXPECTED: Final = (*CABINETS, "range", "oven", "refrigerator", "dishwasher")
"""Of those, the kinds that always open somehow, so that nothing recorded is a missing fact."""
ROOMS: Final = {"kitchen", "scullery", "pantry", "laundry"}

_REACH_MM: Final = 6096.0
"""How far ahead something is looked for: 20 ft, wider than any aisle (our own choice)."""
# A thing is held by what comes up to the middle of its closed face and covers that much of its plan (our own choice).
_AT_FACE_MM: Final = 1.0
_HELD_SHARE: Final = 0.25


@check(reads={*FLOOR_KINDS}, uses=ROOMS)
def left_beside_open_doors(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure, for each thing that opens, the floor between its furthest open leaf and what stands straight ahead.

    Below 0 the leaf strikes it. A hinged door is taken open at a right angle.
    """
    if not rules.has("D1"):
        return
    row = rules.row("D1")
    stands = view.things(*OPENS)
    called = names(view)
    judged = _least_left(view, stands)
    for left, leaf, ahead in judged:
        stand = leaf.stand
        thing, other = called.of(stand.id, ahead.obstacle_id)
        yield row.finding(
            space=view.space.id,
            subjects=(stand.id,),
            measured=Quantity(left, "mm"),
            working=(
                f"{thing} to {other}: {both(ahead.distance_mm)}",
                f"{leaf.leaf.kind} open: {both(leaf.reach_mm)}; left beyond it: {both(left)}",
            ),
            marks=(
                Mark("area", leaf.corners),
                Mark("measure", (ahead.edge_point, ahead.obstacle_point), both(ahead.distance_mm)),
            ),
            assumed=stand.thing.assumed("opens", "depth_mm"),
        )
    unknown = missing_facts(stand for stand in stands if stand.thing.kind in EXPECTED)
    if unknown or not judged:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="missing fact" if unknown else "does not apply",
            needs=unknown,
            working=() if unknown else ("Nothing opens over the floor here.",),
        )


_Left = tuple[float, Opened, ClearAhead]
"""What is left beyond an open leaf [mm], the leaf, and what stands before it."""


def _least_left(view: View, stands: Iterable[Stand]) -> list[_Left]:
    """Return for each thing the leaf beyond which least is left, where something stands ahead of one."""
    leaves = [(leaf, leaf.edge) for leaf in opened_in(view, stands) if leaf.edge is not None]
    around: dict[str, BaseGeometry] = {
        **obstacles(view.room_things(*FLOOR_KINDS)),
        **{name: line.line for name, line in view.room_walls.items()},
    }
    passed = _held_by([leaf for leaf, _ in leaves], around)
    edges = [(edge, held) for (_, edge), held in zip(leaves, passed, strict=True)]
    found: dict[str, _Left] = {}
    for (leaf, _), ahead in zip(leaves, clear_ahead_of_each(edges, around, _REACH_MM), strict=True):
        if ahead is not None:
            left = ahead.distance_mm - leaf.reach_mm
            if leaf.id not in found or round(left, 3) < round(found[leaf.id][0], 3):
                found[leaf.id] = (left, leaf, ahead)
    return list(found.values())


def _held_by(leaves: Sequence[Opened], around: Mapping[str, BaseGeometry]) -> list[set[str]]:
    """Return for each leaf the ids of its own thing, of a top over that, and of what it is built into."""
    held = [{leaf.id} for leaf in leaves]
    if not leaves:
        return held
    names, shapes = list(around), list(around.values())
    middles = shapely.points([leaf.closed.midpoint for leaf in leaves])
    near = shapely.STRtree(shapes).query(middles, predicate="dwithin", distance=_AT_FACE_MM)
    for i, j in zip(*near.tolist(), strict=True):
        own = leaves[i].stand.box.polygon
        if shapes[j].distance(middles[i]) < _AT_FACE_MM and shared_mm2(shapes[j], own) > _HELD_SHARE * own.area:
            held[i].add(names[j])
    return held
