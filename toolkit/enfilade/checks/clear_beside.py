"""Clear floor beside the dishwasher and alongside the refrigerator, and a raised dishwasher (access rows)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.checks.beside import does_not_apply, lacks
from enfilade.checks.dishwasher import open_door
from enfilade.checks.floor import FLOOR_KINDS, obstacles
from enfilade.checks.floor_before import Blocks, deepest, standing_edge, widest
from enfilade.checks.layout import RUN_KINDS, TALL_MM
from enfilade.checks.registry import check
from enfilade.checks.shown import both, both_areas
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment
from enfilade.geometry.fronts import free_front
from enfilade.geometry.swings import overlap_mm2
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["beside_dishwasher", "beside_refrigerator", "raised_dishwasher"]

_FAR_MM: Final = 3000.0
"""How far the floor is looked at: beyond any width that a source asks (our own choice)."""


def _blocks(view: View) -> Blocks:
    stands: dict[str, BaseGeometry | Segment] = dict(obstacles(view.room_things(*FLOOR_KINDS)))
    return {**stands, **view.room_walls}


def _edge(view: View, stand: Stand, beside_mm: float = 0.0) -> Segment:
    return standing_edge(stand, [s for s in view.things(*RUN_KINDS) if s.thing.bottom_mm < TALL_MM], beside_mm)


@check(reads={"dishwasher"}, uses={"kitchen"})
def raised_dishwasher(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure how far each dishwasher stands above the floor."""
    if not rules.has("K13a", "raised"):
        return
    row, stands = rules.row("K13a", "raised"), view.things("dishwasher")
    if not stands:
        yield does_not_apply(view, row, "no dishwasher is recorded here")
    for stand in stands:
        low = stand.thing.bottom_mm
        yield row.finding(
            space=view.space.id,
            subjects=(stand.id,),
            measured=Quantity(low, "mm"),
            working=(f"floor to the bottom of {stand.thing.called}: {both(low)}",),
            assumed=stand.thing.assumed("bottom_mm"),
        )


@check(reads=FLOOR_KINDS, uses={"kitchen"})
def beside_dishwasher(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the clear floor on either side of a dishwasher's open door, and what the door covers of a sink's floor.

    The floor touches the side of the open door, alongside or across; the better of the four places is told. A
    sink's floor is centred on it, forward or alongside, whichever the door covers less.
    """
    parts = ("clear floor width", "clear floor length", "door over clear floor")
    ada = {"clear floor width": "width", "clear floor length": "length"}
    rows = {
        part: rules.row("K13a", part) if rules.has("K13a", part) else rules.row("A8063", ada.get(part, part))
        for part in parts
        if rules.has("K13a", part) or rules.has("A8063", ada.get(part, part))
    }
    if len(rows) < len(parts):
        return
    stands = view.things("dishwasher")
    if not stands:
        yield from (does_not_apply(view, row, "no dishwasher is recorded here") for row in rows.values())
    for stand in stands:
        front = _edge(view, stand)
        door, assumed = open_door(stand, front)
        width, length = rows[parts[0]].value_mm, rows[parts[1]].value_mm
        wide, long, words, ring = _floor(front, door, _blocks(view), width, length)
        shared = (*stand.thing.assumed("place", "width_mm"), *assumed)
        for part, value in ((parts[0], wide), (parts[1], long)):
            yield rows[part].finding(
                space=view.space.id,
                subjects=(stand.id,),
                measured=Quantity(value, "mm"),
                working=(words,),
                marks=(Mark("area", ring),),
                assumed=shared,
            )
        yield from _over_sinks(view, rows[parts[2]], stand, door, width, length, shared)


_Floor = tuple[float, float, str, tuple[tuple[float, float], ...]]


def _floor(front: Segment, door: Polygon, blocks: Blocks, width: float, length: float) -> _Floor:
    reach = max(front.place((x, y))[1] for x, y in door.exterior.coords)
    deep = max(reach, length)
    sides = {"left": Segment(front.a, front.at(0.0, deep)), "right": Segment(front.at(front.length_mm, deep), front.b)}
    found: list[tuple[float, _Floor]] = []
    for side, edge in sides.items():
        for along, out in ((length, width), (width, length)):
            met = deepest(edge, blocks, along, _FAR_MM)
            clear, stretch = met if met is not None else (0.0, edge)
            shown = max(1.0, min(clear, out))
            ring = (stretch.a, stretch.at(0.0, shown), stretch.at(stretch.length_mm, shown), stretch.b)
            sizes = (clear, along) if along == length else (along, clear)
            words = f"{side} of the open door, over {both(along)} from the front out: {both(clear)} clear"
            found.append((round(min(clear - out, 0.0), 3), (*sizes, words, ring)))
    return max(found, key=lambda one: one[0])[1]


def _over_sinks(
    view: View, row: Row, stand: Stand, door: Polygon, width: float, length: float, assumed: tuple[str, ...]
) -> Iterator[Finding]:
    sinks = view.things("sink")
    if not sinks:
        yield lacks(view, row, "sink")
    for sink in sinks:
        edge = _edge(view, sink)
        middle = edge.length_mm / 2
        floors = [
            edge.strip(deep, middle - wide / 2, middle + wide / 2) for wide, deep in ((width, length), (length, width))
        ]
        covered, floor = min(((overlap_mm2(door, floor), floor) for floor in floors), key=lambda one: one[0])
        yield row.finding(
            space=view.space.id,
            subjects=(stand.id, sink.id),
            measured=Quantity(covered, "mm2"),
            working=(
                f"open door over {both(width)} by {both(length)} before {sink.thing.called}: {both_areas(covered)}",
            ),
            marks=(Mark("area", tuple((x, y) for x, y in floor.exterior.coords)[:-1]),),
            assumed=assumed,
        )


@check(reads=FLOOR_KINDS, uses={"kitchen"})
def beside_refrigerator(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the clear floor alongside each refrigerator, and how far its middle lies from the refrigerator's."""
    if not (rules.has("K16a", "clear floor width") and rules.has("K16a", "clear floor length")):
        return
    width_row, length_row = rules.row("K16a", "clear floor width"), rules.row("K16a", "clear floor length")
    offset_row = next(
        (rules.row(*name) for name in (("K16a", "offset"), ("A8066", "offset")) if rules.has(*name)), None
    )
    stands = view.things("refrigerator")
    if not stands:
        yield from (lacks(view, row, "cold") for row in (width_row, length_row, offset_row) if row)
    for stand in stands:
        deep, long = width_row.value_mm, length_row.value_mm
        most = offset_row.value_mm if offset_row else 0.0
        edge = _edge(view, stand, long)
        middle = edge.length_mm / 2
        window = edge.part(middle - most - long / 2, middle + most + long / 2)
        blocks = _blocks(view)
        met, free = deepest(window, blocks, long, _FAR_MM), widest(window, blocks, deep - TOLERANCE_MM)
        clear, stretch = met if met is not None else (0.0, window)
        along = min(free.length_mm, window.length_mm) if free is not None else 0.0
        shown = max(1.0, min(clear, deep))
        ring = (stretch.a, stretch.at(0.0, shown), stretch.at(stretch.length_mm, shown), stretch.b)
        words = (
            f"along {both(long)} the floor is clear for {both(clear)}",
            f"{both(deep)} out it is clear along {both(along)}",
        )
        assumed = stand.thing.assumed("place", "width_mm", "depth_mm")
        for row, value in ((width_row, clear), (length_row, along)):
            yield row.finding(
                space=view.space.id,
                subjects=(stand.id,),
                measured=Quantity(value, "mm"),
                working=words,
                marks=(Mark("area", ring),),
                assumed=assumed,
            )
        if offset_row is not None:
            yield _offset(view, offset_row, stand, edge, blocks, deep, long)


def _offset(view: View, row: Row, stand: Stand, edge: Segment, blocks: Blocks, deep: float, long: float) -> Finding:
    """Judge how far off the nearest clear floor lies that is large enough."""
    middle = edge.length_mm / 2
    line = edge.part(middle - _FAR_MM, middle + _FAR_MM)
    shapes = [s.line if isinstance(s, Segment) else s for s in blocks.values()]
    offsets = []
    for part in free_front(line, shapes, deep - TOLERANCE_MM):
        a, b = edge.place(part.a)[0] + long / 2, edge.place(part.b)[0] - long / 2
        if b >= a - 0.8:
            offsets.append(max(a - middle, middle - b, 0.0))
    if not offsets:
        return row.not_assessed(
            space=view.space.id,
            subjects=(stand.id,),
            because="does not apply",
            working=(f"no clear floor of {both(deep)} by {both(long)} lies alongside",),
        )
    return row.finding(
        space=view.space.id,
        subjects=(stand.id,),
        measured=Quantity(min(offsets), "mm"),
        working=(f"middle of the nearest clear floor to that of {stand.thing.called}: {both(min(offsets))}",),
        assumed=stand.thing.assumed("place", "width_mm"),
    )
