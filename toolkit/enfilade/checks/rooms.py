"""Ceiling heights and sizes of rooms."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import shapely

from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding
from enfilade.geometry.outlines import area_m2, polygon_of
from enfilade.quantities import Quantity, convert
from enfilade.standards.yardsticks import Yardstick

__all__ = ["HABITABLE", "ceiling_height", "least_side", "room_size"]

HABITABLE: Final = ("kitchen", "breakfast", "dining", "living", "study", "bedroom")
"""Uses of spaces that the model code calls habitable; the kitchen is excepted from room sizes."""

_HALLS: Final = ("hall", "entry", "scullery")
_BATHS: Final = ("bath", "washroom", "laundry")


@check(reads=(), uses={*HABITABLE, *_HALLS, *_BATHS})
def ceiling_height(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold a space's ceiling, and each part of it that hangs lower, against the model code."""
    space = view.space
    part = "baths" if space.use in _BATHS else "rooms"
    if rules.has("I305", part):
        row = rules.row("I305", part)
        if space.ceiling_mm is None:
            needs = (f"{space.id}.ceiling_mm",)
            yield row.not_assessed(space=space.id, subjects=(space.id,), because="missing fact", needs=needs)
        else:
            yield row.finding(
                space=space.id,
                subjects=(space.id,),
                measured=Quantity(space.ceiling_mm, "mm"),
                working=(f"floor to ceiling {both(space.ceiling_mm)}",),
                assumed=(f"{space.id}.ceiling_mm",) if space.basis == "assumed" else (),
            )
    if rules.has("I305", "beams"):
        for dropped in space.dropped:
            yield rules.row("I305", "beams").finding(
                space=space.id,
                subjects=(space.id, dropped.id),
                measured=Quantity(dropped.height_mm, "mm"),
                working=(f"floor to the underside {both(dropped.height_mm)}",),
            )


@check(reads=(), uses=set(HABITABLE))
def room_size(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold area and least size of a habitable room against the model code; kitchens are excepted.

    A space without a wall to its neighbour is judged with it, as one room. The least size is the
    shorter side of the least rectangle round the room: for a room that is no rectangle, an upper bound.
    """
    here, title = (view.space.id,), view.space.id
    outline = shapely.union_all([polygon_of(space.outline).buffer(0.5, join_style="mitre") for space in view.room])
    area = sum(area_m2(space.outline) for space in view.room)
    for part in ("area", "least side"):
        if not rules.has("I304", part):
            continue
        row = rules.row("I304", part)
        if view.space.use == "kitchen":
            yield row.not_assessed(space=title, subjects=here, because="does not apply")
        elif part == "area":
            line = f"floor {convert(area, 'm2', 'sq ft'):.1f} sq ft ({area:.2f} m²)"
            yield row.finding(space=title, subjects=here, measured=Quantity(area, "m2"), working=(line,))
        else:
            side_mm, whole = least_side(outline)
            also = () if whole else ("The room is no rectangle: the figure is that of the least rectangle round it.",)
            line = f"least size {both(side_mm)}"
            yield row.finding(space=title, subjects=here, measured=Quantity(side_mm, "mm"), working=(line,), also=also)


def least_side(outline: shapely.geometry.base.BaseGeometry) -> tuple[float, bool]:
    """Return the shorter side of the least rectangle round a floor [mm], and whether the floor fills it."""
    box = shapely.minimum_rotated_rectangle(outline)
    points = shapely.get_coordinates(box)
    sides = [float(shapely.Point(points[i]).distance(shapely.Point(points[i + 1]))) for i in range(2)]
    # The outlines were grown by half a millimetre all round to close the seam of an open side.
    return min(sides) - 1.0, bool(outline.area > 0.99 * box.area)
