"""A wall with a run on it as seen from inside the room, to scale: rectangles in mm from its left end and the floor."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from enfilade.editing.runs.reading_runs import RunItem
from enfilade.editing.runs.run_proposals import run_left_over
from enfilade.editing.runs.run_stretches import End, band_of
from enfilade.editing.runs.run_units import run_units
from enfilade.editing.runs.run_words import Row
from enfilade.editing.things.house import House
from enfilade.editing.things.stretches import Stretch, taken_on
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.project import Project

__all__ = ["strip_of"]

_HIGH_MM: Final = 2400.0
"""Taken for the height of a wall whose ceiling was not measured."""


def strip_of(
    project: Project, stretch: Stretch, items: Sequence[RunItem], from_end: End = "left", row: Row = "lower"
) -> dict[str, Any]:
    """Return a wall with a run on it as plain numbers, for a drawing to scale.

    Args:
        stretch: Where the run goes.
        items: What was read, in order; what is too long is drawn past the end.
    Returns:
        `long`, `high` of the wall; `stretch` from where to where; `items`, `openings` and `standing`, each with
        `left`, `width`, `bottom`, `top` and `no` or `name`; `left_over` from where to where, or None. All in mm.
    """
    house = House(project)
    line, space = house.line(stretch.wall), house.owner(stretch.wall)
    high_mm = space.ceiling_mm or _HIGH_MM
    band = band_of(project, row)
    taken = taken_on(house, stretch.wall, depth_mm=band.depth_mm, bottom_mm=0.0, top_mm=high_mm)
    openings, standing = [], []
    for one in taken:
        if one.what == "opening":
            opening = next(record for record in project.openings if record.id == one.id)
            openings.append(_box(one.start_mm, one.end_mm, opening.sill_mm, opening.sill_mm + opening.height_mm))
            openings[-1]["name"] = one.called
        else:
            thing = project.thing(one.id)
            standing.append(_box(one.start_mm, one.end_mm, thing.bottom_mm, thing.top_mm) | {"name": one.called})
    laid = [
        _box(unit.left_mm, unit.right_mm, unit.size.bottom_mm, unit.size.top_mm) | {"no": unit.item.number}
        for unit in run_units(project, stretch, items, from_end, row)
    ]
    left_mm = run_left_over(stretch, items)
    over = None
    if left_mm > TOLERANCE_MM and items:
        end = (stretch.end_mm - left_mm, stretch.end_mm)
        over = end if from_end == "left" else (stretch.start_mm, stretch.start_mm + left_mm)
    return {
        "long": line.length_mm,
        "high": high_mm,
        "stretch": [stretch.start_mm, stretch.end_mm],
        "items": laid,
        "openings": openings,
        "standing": standing,
        "left_over": list(over) if over else None,
    }


def _box(left_mm: float, right_mm: float, bottom_mm: float, top_mm: float) -> dict[str, Any]:
    return {"left": left_mm, "width": right_mm - left_mm, "bottom": bottom_mm, "top": top_mm}
