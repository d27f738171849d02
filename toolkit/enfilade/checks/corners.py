"""Exposed corners of counters."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
import shapely

from enfilade.checks.beside import counted
from enfilade.checks.layout import COUNTERS, RUN_KINDS, Layout, layout
from enfilade.checks.registry import check
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark, Point
from enfilade.lengths import inches
from enfilade.project.standing import Stand
from enfilade.project.surfaces import Surface
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["exposed_corners", "sharp_corners"]

_HIDDEN_MM: Final = inches(3)
"""A corner this near to a wall or a neighbour is met by no hip (our own choice)."""


@check(reads=RUN_KINDS, uses={"kitchen"})
def sharp_corners(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count the exposed corners of each counter, island and peninsula that are square.

    A corner is exposed when no wall and no neighbour that reaches its height stands within 3 in of it.
    """
    if not rules.has("K26"):
        return
    row, found = rules.row("K26"), layout(view)
    if not found.tops:
        missing = bool(found.bare)
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="missing fact" if missing else "does not apply",
            needs=("a counter over " + ", ".join(found.bare),) if missing else (),
            working=() if missing else ("no counter is recorded here",),
        )
    for top in found.tops:
        corners = exposed_corners(view, found, top)
        marks = tuple(Mark("point", (corner,)) for corner in corners)
        how = top.thing.corners if isinstance(top.thing, Surface) else None
        if how is None and corners:
            yield row.not_assessed(
                space=view.space.id,
                subjects=(top.id,),
                because="missing fact",
                needs=(f"{top.id}.corners",),
                working=(f"exposed: {counted(len(corners), 'corner')}",),
                marks=marks,
            )
            continue
        sharp = len(corners) if how == "square" else 0
        yield row.finding(
            space=view.space.id,
            subjects=(top.id,),
            measured=Quantity(sharp, "count"),
            working=(f"exposed: {counted(len(corners), 'corner')}, {sharp} square",),
            marks=marks,
            assumed=top.thing.assumed("corners"),
        )


def exposed_corners(view: View, found: Layout, top: Stand) -> list[Point]:
    """Return the corners of a top that no wall and no neighbour hides."""
    walls = (line.line for line in view.room_walls.values())
    beside = (stand.box.polygon for stand in _neighbours(found, top))
    around = np.array([*walls, *beside], dtype=object)
    corners = top.box.corners
    near = shapely.dwithin(shapely.points(corners)[:, None], around[None], _HIDDEN_MM)
    return [corner for corner, hidden in zip(corners, np.any(near, axis=1).tolist(), strict=True) if not hidden]


def _neighbours(found: Layout, top: Stand) -> Sequence[Stand]:
    """Return what stands beside a top and reaches its height, a little less included."""
    return [
        stand
        for stand in found.stands.values()
        if stand.id != top.id
        and stand.thing.bottom_mm < top.thing.top_mm
        and stand.thing.top_mm >= top.thing.top_mm - _HIDDEN_MM
        and (stand.thing.kind in COUNTERS or not found.covered(stand))
    ]
