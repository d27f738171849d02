"""Doors that turn into the kitchen, and appliance doors: whether they meet."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.checks.open_shapes import (
    Opened,
    door_sweep,
    missing_facts,
    opened_in,
    share_a_height,
    swept_shape,
    swing_of,
)
from enfilade.checks.registry import check
from enfilade.checks.shown import both_areas, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import common_part, polygons_of
from enfilade.geometry.swings import overlap_mm2
from enfilade.project.doorways import Doorway
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["APPLIANCES", "areas", "meeting_pairs"]

APPLIANCES: Final = ("range", "oven", "refrigerator", "dishwasher", "microwave")
_RIGHT_ANGLE_DEG: Final = 90.0
"""How far doors are taken open for guideline 2: what lies beyond a right angle is not looked at."""


@check(reads={"openings", *APPLIANCES}, uses={"kitchen"})
def entry_door_swings(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Overlap the sweep of each door of the room with the appliances and the sweep of their doors, up to 90 degrees.

    What an appliance opens that is not recorded is asked for only where it could reach the door.
    """
    if not rules.has("K2", "entry door"):
        return
    row = rules.row("K2", "entry door")
    appliances = view.room_things(*APPLIANCES)
    doors = [
        door
        for door in view.room_doorways()
        if door.opening is not None and door.opening.kind == "door" and door.opening.swing != "none"
    ]
    for door in doors:
        yield _entry_door(row, view, door, appliances)
    if not doors:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("No hinged door opens on the room.",),
        )


def _entry_door(row: Row, view: View, door: Doorway, appliances: list[Stand]) -> Finding:
    if swing_of(door) is None:
        return row.not_assessed(
            space=view.space.id, subjects=(door.id,), because="missing fact", needs=(f"{door.id}.swing",)
        )
    sweep = door_sweep(door, _RIGHT_ANGLE_DEG)
    if sweep is None:
        line = "The door turns away from this room: it sweeps no floor here."
        return row.finding(space=view.space.id, subjects=(door.id,), measured=Quantity(0.0, "mm2"), working=(line,))
    met: list[tuple[str, float, BaseGeometry]] = []
    for stand in appliances:
        swept = (swept_shape(stand, leaf, _RIGHT_ANGLE_DEG) for leaf in stand.thing.leaves)
        taken = shapely.union_all([stand.box.polygon, *(shape for shape in swept if shape is not None)])
        area = overlap_mm2(sweep, taken)
        if area > 0:
            met.append((stand.id, area, common_part(sweep, taken)))
    unknown = missing_facts(stand for stand in appliances if sweep.intersects(_at_most(stand)))
    if unknown and not met:
        return row.not_assessed(
            space=view.space.id,
            subjects=(door.id,),
            because="missing fact",
            needs=unknown,
            working=("The door sweeps over no appliance itself; how their doors open near it is not recorded.",),
            marks=(Mark("area", _ring(sweep)),),
        )
    called = names(view).of(*(name for name, _, _ in met))
    working = [
        f"sweep of the door over {name} and what opens on it: {both_areas(area)}"
        for name, (_, area, _) in zip(called, met, strict=True)
    ]
    return row.finding(
        space=view.space.id,
        subjects=(door.id,),
        measured=Quantity(sum(area for _, area, _ in met), "mm2"),
        working=working or ["The sweep of the door lies over no appliance and no appliance door."],
        marks=(Mark("area", _ring(sweep)), *(mark for _, _, shape in met for mark in areas(shape))),
        assumed=tuple(name for stand in appliances for name in stand.thing.assumed("width_mm", "depth_mm")),
    )


def _at_most(stand: Stand) -> Polygon:
    """Return the floor that a door could sweep before an appliance, whichever way it opens."""
    thing, box = stand.thing, stand.box
    reach = max(box.width_mm, box.depth_mm, thing.top_mm - thing.bottom_mm if thing.kind != "refrigerator" else 0.0)
    return box.front_strip(reach, box.width_mm + 2 * reach)


@check(reads=set(APPLIANCES), uses={"kitchen"})
def appliance_doors(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Overlap the open doors of each two appliances, where they are at one height."""
    if not rules.has("K2", "appliance doors"):
        return
    row = rules.row("K2", "appliance doors")
    appliances = view.things(*APPLIANCES)
    leaves = list(opened_in(view, appliances))
    pairs = meeting_pairs(leaves)
    for (a, b), (area, shape) in pairs.items():
        one, other = names(view).of(a, b)
        yield row.finding(
            space=view.space.id,
            subjects=(a, b),
            measured=Quantity(area, "mm2"),
            working=(f"{one} and {other} open at once: their doors lie over each other for {both_areas(area)}",),
            marks=areas(shape),
        )
    unknown = missing_facts(appliances)
    here = (view.space.id,)
    if unknown and len(appliances) > 1:
        yield row.not_assessed(space=view.space.id, subjects=here, because="missing fact", needs=unknown)
    elif len({leaf.id for leaf in leaves}) < 2:
        yield row.not_assessed(
            space=view.space.id, subjects=here, because="does not apply", working=("Fewer than two appliances open.",)
        )
    elif not pairs:
        yield row.finding(
            space=view.space.id,
            subjects=here,
            measured=Quantity(0.0, "mm2"),
            working=(f"No two of {len(leaves)} open appliance doors lie over each other.",),
        )


def meeting_pairs(
    leaves: list[Opened], may: Callable[[Opened, Opened], bool] = lambda a, b: True
) -> dict[tuple[str, str], tuple[float, BaseGeometry]]:
    """Return which two things meet when both are open: the largest overlap of two leaves [mm2], and its shape.

    Leaves of one thing are made to open together and are not held against each other.

    Args:
        leaves: What opens.
        may: Which two leaves are looked at.
    """
    if not leaves:
        return {}
    shapes = [leaf.open_shape for leaf in leaves]
    found: dict[tuple[str, str], tuple[float, BaseGeometry]] = {}
    left, right = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    each_once = left < right
    for i, j in sorted(zip(left[each_once].tolist(), right[each_once].tolist(), strict=True)):
        a, b = leaves[i], leaves[j]
        if a.id == b.id or not share_a_height(a, b) or not may(a, b):
            continue
        area = overlap_mm2(shapes[i], shapes[j])
        key = (min(a.id, b.id), max(a.id, b.id))
        if area > found.get(key, (0.0,))[0]:
            found[key] = (area, common_part(shapes[i], shapes[j]))
    return dict(sorted(found.items()))


def areas(shape: BaseGeometry) -> tuple[Mark, ...]:
    """Return the areas of a shape as marks."""
    return tuple(Mark("area", _ring(part)) for part in polygons_of(shape))


def _ring(shape: Polygon) -> tuple[tuple[float, float], ...]:
    return tuple((x, y) for x, y in shape.exterior.coords[:-1])
