"""Things that stick out through a wall, and things that fill the same place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.checks.beside import counted
from enfilade.checks.floor import footprint
from enfilade.checks.kept import Kept
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import common_part, polygons_of, shared_mm2
from enfilade.geometry.outlines import polygon_of
from enfilade.geometry.swings import overlap_mm2
from enfilade.lengths import TOLERANCE_MM, inches
from enfilade.project.doorways import Doorway
from enfilade.project.placing import SetIn
from enfilade.project.spaces import Space
from enfilade.project.standing import Stand
from enfilade.project.things import KINDS
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["things_inside_room", "things_overlapping"]

_THIN: Final = {"rug", "light", "receptacle", "switch", "window treatment", "extinguisher", "screen"}
_SOLID: Final = tuple(kind for kind in KINDS if kind not in _THIN)
_STANDING: Final = tuple(kind for kind in _SOLID if kind not in ("fireplace", "column"))
"""Solid kinds that belong inside the room; hearths and piers may be part of its walls."""
_TOPS: Final = {"counter", "island", "peninsula", "table", "desk"}
_JOINED: Final = {"counter", "peninsula"}
_BUILT_IN: Final = {
    "sink", "cooktop", "oven", "microwave", "refrigerator", "dishwasher", "hood", "waste", "fixture", "filler", "panel",
}  # fmt: skip
_SET_IN_TOPS: Final = {"sink", "cooktop", "fixture"}
"""What hangs from a top down into the cabinets under it."""
_HOLDS: Final = {
    "base cabinet", "wall cabinet", "tall cabinet", "open shelf", "furniture piece", "appliance garage",
}  # fmt: skip
_COVERED: Final = 0.5
"""Share of a thing's plan from which it stands in or under another, not across its edge (our own choice)."""
_THROUGH_MM: Final = inches(24)
"""How far a counter may pass through an opening in the wall it stands at (our own choice)."""


@check(reads={*_STANDING, "openings"})
def things_inside_room(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure how far each thing reaches beyond the outline of its room; openings let things through."""
    if not rules.has("R4"):
        return
    row, stands = rules.row("R4"), view.things(*_STANDING)
    if not stands:
        yield row.not_assessed(space=view.space.id, subjects=(view.space.id,), because="does not apply")
        return
    floor = _room(view)
    out = []
    for stand in stands:
        shape = footprint(stand)
        if floor.covers(shape):
            continue
        beyond = shape.difference(floor)
        reach_mm = max((floor.distance(shapely.Point(p)) for p in shapely.get_coordinates(beyond).tolist()), default=0)
        if reach_mm > TOLERANCE_MM:
            out.append((stand, reach_mm, beyond))
    if not out:
        yield row.finding(
            space=view.space.id,
            subjects=(view.space.id,),
            measured=Quantity(0, "mm"),
            working=(f"{counted(len(stands), 'thing')}, all inside the room",),
        )
    for stand, reach_mm, beyond in out:
        yield row.finding(
            space=view.space.id,
            subjects=(stand.id,),
            measured=Quantity(reach_mm, "mm"),
            working=(f"{stand.thing.called} reaches {both(reach_mm)} beyond the wall",),
            marks=_areas(beyond),
        )


_ROOMS: Final = Kept[BaseGeometry](64)


def _room(view: View) -> BaseGeometry:
    """Return the floor of the whole room, and what its openings let through."""
    doors = view.room_doorways()
    return _ROOMS.get((*view.room, *doors), partial(_floor, view.room, doors))


def _floor(spaces: Iterable[Space], doors: Iterable[Doorway]) -> BaseGeometry:
    parts: list[BaseGeometry] = [polygon_of(space.outline).buffer(0.5, join_style="mitre") for space in spaces]
    through = [door.segment for door in doors if door.opening is not None and door.opening.kind != "skylight"]
    parts += [segment.reversed().moved(-1.0).strip(_THROUGH_MM + 1.0) for segment in through]
    floor = shapely.union_all(parts)
    shapely.prepare(floor)
    return floor


@check(reads=_SOLID)
def things_overlapping(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure where two solid things fill the same place: plans and height ranges both overlap.

    What is set in another, built into a cabinet, or stands under a top does not count, nor do tops
    that join, and seats at a table.
    """
    if not rules.has("R5"):
        return
    row, stands = rules.row("R5"), view.things(*_SOLID)
    if not stands:
        yield row.not_assessed(space=view.space.id, subjects=(view.space.id,), because="does not apply")
        return
    shapes = [footprint(stand) for stand in stands]
    pairs, clashes = shapely.STRtree(shapes).query(shapes, predicate="intersects"), 0
    each_once = pairs[:, pairs[0] < pairs[1]]
    for first, second in sorted(zip(*each_once.tolist(), strict=True)):
        a, b = stands[first], stands[second]
        if not _share_height(a, b) or _belong(a, b) or _belong(b, a):
            continue
        area = overlap_mm2(shapes[first], shapes[second])
        if area > 0:
            clashes += 1
            yield row.finding(
                space=view.space.id,
                subjects=(a.id, b.id),
                measured=Quantity(area, "mm2"),
                working=(f"{' and '.join(names(view).of(a.id, b.id))} overlap in plan and in height",),
                marks=_areas(common_part(shapes[first], shapes[second])),
            )
    if not clashes:
        yield row.finding(
            space=view.space.id,
            subjects=(view.space.id,),
            measured=Quantity(0, "mm2"),
            working=(f"{counted(len(stands), 'thing')}, none in another's place",),
        )


def _share_height(a: Stand, b: Stand) -> bool:
    return min(a.thing.top_mm, b.thing.top_mm) - max(a.thing.bottom_mm, b.thing.bottom_mm) > TOLERANCE_MM


def _belong(outer: Stand, inner: Stand) -> bool:
    """Tell whether `inner` may stand in, under or against `outer`."""
    place = inner.thing.place
    if isinstance(place, SetIn) and place.host == outer.id:
        return True
    kinds = {outer.thing.kind, inner.thing.kind}
    if kinds <= _JOINED or (inner.thing.kind == "seat" and outer.thing.kind in _TOPS):
        return True
    if inner.thing.kind in _SET_IN_TOPS and outer.thing.kind in _HOLDS:
        return True
    if outer.thing.kind in _TOPS:
        return _mostly(outer, inner) and inner.thing.top_mm <= outer.thing.top_mm + TOLERANCE_MM
    return outer.thing.kind in _HOLDS and inner.thing.kind in _BUILT_IN and _mostly(outer, inner)


def _mostly(outer: Stand, inner: Stand) -> bool:
    shape = inner.box.polygon
    return shared_mm2(outer.box.polygon, shape) > _COVERED * float(shape.area)


def _areas(shapes: BaseGeometry) -> tuple[Mark, ...]:
    return tuple(Mark("area", tuple((x, y) for x, y in part.exterior.coords[:-1])) for part in polygons_of(shapes))
