"""Shelf and drawer frontage, as the kitchen guidelines count storage."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from enfilade.errors import OutOfRange, require_positive
from enfilade.lengths import TOLERANCE_MM, show_inches
from enfilade.quantities import convert
from enfilade.standards import Row, Yardstick, yardstick

__all__ = [
    "Frontage",
    "KitchenSize",
    "frontage_needed",
    "kitchen_size",
    "other_storage_counted",
    "share_within",
    "shelf_frontage",
    "shelves_with_bottom",
    "split_of_frontage",
    "turntable_frontage",
    "volume_l",
]

KitchenSize = Literal["small", "medium", "large"]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Frontage:
    """Frontage of the shelves and of the drawers of one unit, and both together [mm]."""

    shelves_mm: float
    drawers_mm: float
    working: tuple[str, ...]

    @property
    def total_mm(self) -> float:
        """Return shelves and drawers together [mm]."""
        return round(self.shelves_mm + self.drawers_mm, 9)


def shelves_with_bottom(loose: int, *, by: Yardstick | None = None) -> int:
    """Return the shelves of a cabinet, its bottom counted as one.

    Args:
        loose: Shelves above the bottom, 0 or more [-].
    Raises:
        OutOfRange: A negative count.
    Source: storage frontage method.

    >>> shelves_with_bottom(2)
    3
    """
    if loose < 0:
        raise OutOfRange(f"loose is {loose}", expected="0 or more")
    return loose + int((by or yardstick()).row("F2").number)


def shelf_frontage(
    width_mm: float,
    depth_mm: float,
    *,
    shelves: int,
    drawers: int = 0,
    accessible_mm: float | None = None,
    angled: bool = False,
    swing_out: bool = False,
    by: Yardstick | None = None,
) -> Frontage:
    """Return the frontage of one unit: width, times shelves and drawers, times depth in feet.

    Args:
        width_mm: Width of the unit, above 0 [mm].
        depth_mm: Depth of its shelves, above 0 [mm].
        shelves: Shelves, the bottom counted, 0 or more [-].
        drawers: Drawers, 0 or more [-].
        accessible_mm: Of a blind corner, the width that can be got at, above 0 and at most
            `width_mm` [mm]; the whole width when None.
        angled: An end unit of half depth or with angled sides, which counts half.
        swing_out: A swing-out serves the blind corner, which adds a quarter of the shelves.
    Raises:
        OutOfRange: A size or count outside its range.
    Source: storage frontage method (course handout).
    Limits: the quarter for a swing-out is called a judgement by its source.

    >>> round(shelf_frontage(304.8, 304.8, shelves=3).total_mm / 25.4, 6)
    36.0
    """
    require_positive(width_mm=width_mm, depth_mm=depth_mm)
    if shelves < 0 or drawers < 0:
        raise OutOfRange(f"shelves is {shelves}, drawers is {drawers}", expected="0 or more of each")
    rows = by or yardstick()
    counted = width_mm
    if accessible_mm is not None:
        require_positive(accessible_mm=accessible_mm)
        if accessible_mm > width_mm + TOLERANCE_MM:
            raise OutOfRange(f"accessible_mm is {accessible_mm!r}", expected=f"at most the width, {width_mm:g} mm")
        counted = accessible_mm * rows.row("F4").number / 100
    layers = depth_mm / rows.row("F1", "unit depth").value_mm
    share = rows.row("F3").number / 100 if angled else 1.0
    shelf, drawer = counted * layers * shelves * share, counted * layers * drawers * share
    half = f" x {share:g}" if angled else ""
    lines = [
        f"{name}: {show_inches(counted)} x {layers:g} ft x {count}{half} = {show_inches(length)}"
        for name, count, length in (("shelves", shelves, shelf), ("drawers", drawers, drawer))
        if count
    ]
    if swing_out:
        more = rows.row("F5").number
        lines.append(f"swing-out: {more:g}% of {show_inches(shelf)} = {show_inches(shelf * more / 100)}")
        shelf *= 1 + more / 100
    return Frontage(round(shelf, 9), round(drawer, 9), tuple(lines))


def turntable_frontage(*, by: Yardstick | None = None) -> Frontage:
    """Return the fixed frontage of a 36 in corner base with a turntable.

    Source: storage frontage method (course handout).
    Limits: other widths are not given by the source.

    >>> round(turntable_frontage().total_mm / 25.4, 6)
    120.0
    """
    row, width = (by or yardstick()).row("F6"), (by or yardstick()).row("F6", "cabinet width")
    return Frontage(row.value_mm, 0.0, (f"corner base {width.printed} wide with a turntable: {row.printed}",))


def kitchen_size(area_m2: float, *, by: Yardstick | None = None) -> KitchenSize:
    """Return the size class of a kitchen by its floor area.

    Args:
        area_m2: Floor area, above 0 [m2].
    Raises:
        OutOfRange: The area is zero, negative or not finite.
    Source: Kitchen guideline 27: less than 150, 151 to 350, over 350 sq ft.
    Limits: from 150 to 151 sq ft the source is silent; 150 follows the yardstick's option
        `small_kitchen_at_150`, what lies between is read as medium.

    >>> kitchen_size(10.0), kitchen_size(20.0), kitchen_size(40.0)
    ('small', 'medium', 'large')
    """
    require_positive(area_m2=area_m2)
    rows = by or yardstick()
    area = round(convert(area_m2, "m2", "sq ft"), 6)
    below, above = rows.row("K27", "small below").number, rows.row("K27", "large above").number
    if area < below or (area == below and rows.option("small_kitchen_at_150")):
        return "small"
    return "large" if area > above else "medium"


def frontage_needed(size: KitchenSize, *, by: Yardstick | None = None) -> tuple[Row, Row]:
    """Return the rows that a kitchen of this size is held against: in all, and near the sink.

    Source: Kitchen guidelines 27 and 28.

    >>> [row.printed for row in frontage_needed("medium")]
    ['1700 in', '480 in']
    """
    rows = by or yardstick()
    return rows.row("K27", size), rows.row("K28", size)


def split_of_frontage(size: KitchenSize, *, by: Yardstick | None = None) -> dict[str, float]:
    """Return the usual split of the total by kind of storage [mm]: wall, base, drawer, pantry, misc.

    Source: Kitchen guideline 27, table; seen in part. Guidance: only the total is asked.

    >>> round(sum(split_of_frontage("small").values()) / 25.4, 6)
    1400.0
    """
    rows = (by or yardstick()).rows("K27b")
    return {row.part.removeprefix(f"{size} "): row.value_mm for row in rows if row.part.startswith(f"{size} ")}


def other_storage_counted(frontage_mm: float, size: KitchenSize, *, by: Yardstick | None = None) -> float:
    """Return how much of other storage (racks, furniture, above 84 in) counts [mm]: up to its share.

    Args:
        frontage_mm: Frontage of all other storage, 0 or more [mm].
    Raises:
        OutOfRange: A negative or not finite frontage.
    Source: Kitchen guideline 27; storage frontage method.

    >>> round(other_storage_counted(2540.0, "small") / 25.4, 6)
    40.0
    """
    if not (math.isfinite(frontage_mm) and frontage_mm >= 0):
        raise OutOfRange(f"frontage_mm is {frontage_mm!r}", expected="0 or more")
    return min(frontage_mm, split_of_frontage(size, by=by)["misc"])


def share_within(start: Point, end: Point, *, centre: Point, radius_mm: float) -> float:
    """Return the share of a unit's front that lies within a distance of the sink [0 to 1].

    Args:
        start: One end of the unit's front, in plan [mm].
        end: Its other end, another point [mm].
        centre: Sink centreline at the counter front, in plan [mm].
        radius_mm: The distance that counts as near, above 0 [mm].
    Raises:
        OutOfRange: The front has no length, or the radius is not above 0.
    Source: our own reading of Kitchen guideline 28; no source says how a unit partly near counts.

    >>> share_within((0, 0), (1000, 0), centre=(0, 0), radius_mm=500)
    0.5
    """
    (ax, ay), (bx, by), (cx, cy) = start, end, centre
    length = math.dist(start, end)
    require_positive(radius_mm=radius_mm, length_mm=length)
    ux, uy = (bx - ax) / length, (by - ay) / length
    foot = (cx - ax) * ux + (cy - ay) * uy
    off = abs((cx - ax) * uy - (cy - ay) * ux)
    if off >= radius_mm:
        return 0.0
    half = math.sqrt(radius_mm**2 - off**2)
    inside = min(length, foot + half) - max(0.0, foot - half)
    return min(1.0, max(0.0, round(inside / length, 9)))


def volume_l(width_mm: float, depth_mm: float, height_mm: float) -> float:
    """Return the volume of a box [l].

    Args:
        width_mm: Inside width, above 0 [mm].
        depth_mm: Inside depth, above 0 [mm].
        height_mm: Inside height, above 0 [mm].
    Raises:
        OutOfRange: A size is zero, negative or not finite.

    >>> volume_l(600, 500, 1000)
    300.0
    """
    require_positive(width_mm=width_mm, depth_mm=depth_mm, height_mm=height_mm)
    return round(width_mm * depth_mm * height_mm / 1e6, 9)
