"""Doors and drawers that stand open in an aisle: the width that is left beyond them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import shapely
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from enfilade.checks.floor import FLOOR_KINDS, obstacles
from enfilade.checks.open_shapes import Opened, missing_facts, opened_in
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment
from enfilade.geometry.clear_widths import ClearAhead, clear_ahead
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


@check(reads={*FLOOR_KINDS}, uses=ROOMS)
def left_beside_open_doors(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure, for each thing that opens, the floor between its furthest open leaf and what stands straight ahead.

    Below 0 the leaf strikes it. A hinged door is taken open at a right angle.
    """
    if not rules.has("D1"):
        return
    row = rules.row("D1")
    stands = view.things(*OPENS)
    around = _Around(view)
    called = names(view)
    judged = False
    for stand in stands:
        found = [(left, leaf, ahead) for leaf in opened_in(view, [stand]) for left, ahead in _left(leaf, around)]
        if not found:
            continue
        judged = True
        left, leaf, ahead = min(found, key=lambda one: round(one[0], 3))
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
                Mark("area", tuple((x, y) for x, y in leaf.open_shape.exterior.coords[:-1])),
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


class _Around:
    """What stands in a room and its walls, to be asked what lies before an edge."""

    def __init__(self, view: View) -> None:
        walls = {name: LineString([line.a, line.b]) for name, line in view.room_walls.items()}
        shapes = {**obstacles(view.room_things(*FLOOR_KINDS)), **walls}
        self._names, self._shapes = list(shapes), list(shapes.values())
        self._tree = shapely.STRtree(self._shapes)

    def ahead(self, own: Stand, closed: Segment, edge: Segment) -> ClearAhead | None:
        """Return what stands nearest before an edge, other than the thing itself and what holds it."""
        middle = shapely.Point(closed.midpoint)
        near = sorted(self._tree.query(edge.strip(_REACH_MM)).tolist())
        others: dict[str, BaseGeometry | Segment] = {
            self._names[i]: self._shapes[i]
            for i in near
            if self._names[i] != own.id and not _holds(own, self._shapes[i], middle)
        }
        return clear_ahead(edge, others, _REACH_MM)


def _left(leaf: Opened, around: _Around) -> Iterator[tuple[float, ClearAhead]]:
    front = leaf.closed
    places = [front.place((x, y))[0] for x, y in leaf.open_shape.exterior.coords]
    start, end = max(0.0, min(places)), min(front.length_mm, max(places))
    if end - start < 1.0:
        return
    ahead = around.ahead(leaf.stand, front, front.part(start, end))
    if ahead is not None:
        yield ahead.distance_mm - leaf.reach_mm, ahead


def _holds(own: Stand, shape: BaseGeometry, middle: shapely.Point) -> bool:
    """Tell whether a shape is a top over the thing, or what it is built into."""
    return bool(shape.distance(middle) < 1.0 and shape.intersection(own.box.polygon).area > 0.25 * own.box.polygon.area)
