"""What stands over, behind and beside a thing: questions that several checks ask."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from shapely.geometry.base import BaseGeometry

from enfilade.checks.layout import CentreKind
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Box, Segment
from enfilade.geometry.elevations import WallShape, on_wall
from enfilade.lengths import TOLERANCE_MM, inches
from enfilade.project.standing import Stand
from enfilade.standards.row import Row

__all__ = [
    "AT_WALL_MM",
    "CENTRES",
    "BehindWall",
    "counted",
    "does_not_apply",
    "inset",
    "lacks",
    "middle_mm",
    "over",
    "point_mark",
    "wall_behind",
]

AT_WALL_MM: Final = inches(12)
"""What stands this near before a wall stands at it (our own choice, wide enough for a deep back ledge)."""


CENTRES: Final[dict[CentreKind, str]] = {"cooking": "a cooking surface", "sink": "a sink", "cold": "a refrigerator"}
"""What every kitchen has, by the kind of centre: where one is not recorded, a fact is missing."""


@dataclass(frozen=True)
class BehindWall:
    """The wall at a thing's back, and the thing on that wall's elevation."""

    id: str
    line: Segment
    shape: WallShape


def inset(box: Box) -> BaseGeometry:
    """Return a footprint drawn in by the tolerance, so that what only touches it does not overlap it."""
    by = min(TOLERANCE_MM, box.width_mm / 4, box.depth_mm / 4)
    return box.grown(-by).polygon


def over(below: Stand, above: Stand) -> bool:
    """Tell whether one thing hangs above another: plans overlap, and its bottom is not below the other's top."""
    higher = above.thing.bottom_mm >= below.thing.top_mm - TOLERANCE_MM
    return higher and bool(inset(below.box).intersects(above.box.polygon))


def wall_behind(stand: Stand, walls: Mapping[str, Segment], within_mm: float = AT_WALL_MM) -> BehindWall | None:
    """Return the wall that a thing has its back to, within a distance; None when it stands free or at an angle."""
    found = []
    for wall_id, line in walls.items():
        shape = on_wall(line, stand.box, stand.thing.bottom_mm, stand.thing.top_mm)
        beside = shape.right_mm > TOLERANCE_MM and shape.left_mm < line.length_mm - TOLERANCE_MM
        if shape.facing == "front" and beside and -within_mm <= shape.distance_mm <= within_mm + TOLERANCE_MM:
            found.append((abs(shape.distance_mm), wall_id, line, shape))
    if not found:
        return None
    _, wall_id, line, shape = min(found, key=lambda one: (round(one[0], 3), one[1]))
    return BehindWall(wall_id, line, shape)


def middle_mm(stand: Stand) -> float:
    """Return the height of a thing's middle above the floor [mm]."""
    return (stand.thing.bottom_mm + stand.thing.top_mm) / 2


def point_mark(stands: Iterable[Stand], text: str = "") -> tuple[Mark, ...]:
    """Return a point on the plan for each thing."""
    return tuple(Mark("point", ((stand.box.x, stand.box.y),), text) for stand in stands)


def counted(count: int, what: str) -> str:
    """Write a count with its noun: `1 corner`, `2 corners`."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def does_not_apply(view: View, row: Row, words: str) -> Finding:
    """Return the finding that a row asks nothing of a space as a whole, and why."""
    here = (view.space.id,)
    return row.not_assessed(space=view.space.id, subjects=here, because="does not apply", working=(words,))


def lacks(view: View, row: Row, kind: CentreKind, words: str = "") -> Finding:
    """Return the finding that a centre is not on record, which every kitchen has.

    Args:
        kind: Which centre.
        words: What is not recorded, where that says more.
    """
    return row.not_assessed(
        space=view.space.id,
        subjects=(view.space.id,),
        because="missing fact",
        needs=(f"{view.space.id}: {CENTRES[kind]}",),
        working=(words or f"no {CENTRES[kind].removeprefix('a ')} is recorded here",),
    )
