"""How many counter receptacles a published edition asks. Planning figures: the code in force decides."""

from __future__ import annotations

import math
from dataclasses import dataclass

from enfilade.errors import NotFound, require_positive
from enfilade.lengths import TOLERANCE_MM, show_inches, to_inches
from enfilade.quantities import convert
from enfilade.standards import Yardstick, yardstick

__all__ = ["Receptacles", "counts_behind", "island_receptacles", "wall_counter_receptacles"]


@dataclass(frozen=True, slots=True)
class Receptacles:
    """Receptacles asked [-]; `provision` when wiring for a later one is asked instead."""

    count: int
    rule: str
    working: tuple[str, ...]
    provision: bool = False


def wall_counter_receptacles(length_mm: float, *, by: Yardstick | None = None) -> Receptacles:
    """Count the receptacles along one unbroken piece of wall counter.

    Args:
        length_mm: Length along the wall between breaks (sink, range, refrigerator), above 0 [mm].
    Raises:
        OutOfRange: The length is zero, negative or not finite.
    Source: Electrical code 210.52(C)(1), (4), editions to 2017.
    Limits: one straight piece; a corner joins two pieces of one wall line.

    >>> [wall_counter_receptacles(n * 25.4).count for n in (11, 48, 49)]
    [0, 1, 2]
    """
    require_positive(length_mm=length_mm)
    rows = by or yardstick()
    least, reach = rows.row("IE1", "least width").value_mm, rows.row("IE1", "reach").value_mm
    if length_mm < least - TOLERANCE_MM:
        line = f"{show_inches(length_mm)} is under {show_inches(least)}: none asked"
        return Receptacles(0, "IE1", (line,))
    count = max(1, math.ceil((length_mm - TOLERANCE_MM) / (2 * reach)))
    line = f"{show_inches(length_mm)} / {show_inches(2 * reach)} reached by each, rounded up = {count}"
    return Receptacles(count, "IE1", (line,))


def island_receptacles(length_mm: float, width_mm: float, *, edition: str, by: Yardstick | None = None) -> Receptacles:
    """Count the receptacles of an island or peninsula to a named edition.

    Args:
        length_mm: One side of the top, above 0 [mm].
        width_mm: The other side, above 0 [mm].
        edition: `2017` (and those before), `2020` or `2023`.
    Raises:
        NotFound: Another edition.
        OutOfRange: A side is zero, negative or not finite.
    Source: Electrical code 210.52(C)(2); 2020 and 2023 recalled.
    Limits: a rectangular top; one too small by the 2017 measure is asked nothing in any edition.

    >>> island_receptacles(1524, 610, edition="2017").count
    1
    """
    require_positive(length_mm=length_mm, width_mm=width_mm)
    if edition not in ("2017", "2020", "2023"):
        raise NotFound(f"edition {edition!r} is unknown", expected="2017, 2020 or 2023")
    rows = by or yardstick()
    long, short = max(length_mm, width_mm), min(length_mm, width_mm)
    least_long, least_short = rows.row("IE2", "least length").value_mm, rows.row("IE2", "least width").value_mm
    rule = "IE2" if edition == "2017" else "IE3"
    size = f"{show_inches(long)} x {show_inches(short)}"
    if long < least_long - TOLERANCE_MM or short < least_short - TOLERANCE_MM:
        line = f"{size} is under {show_inches(least_long)} x {show_inches(least_short)}: none asked"
        return Receptacles(0, rule, (line,))
    if edition == "2017":
        return Receptacles(1, rule, (f"{size} counts: one, whatever the length",))
    if edition == "2023":
        return Receptacles(0, rule, (f"{size}: none asked, wiring provided for a later one",), provision=True)
    return _by_area(long, short, rows)


def counts_behind(depth_mm: float, *, corner: bool = False, by: Yardstick | None = None) -> bool:
    """Tell whether the counter behind a sink or range counts as wall line.

    Args:
        depth_mm: Depth of counter behind it, above 0 [mm].
        corner: The sink or range stands across a corner.
    Raises:
        OutOfRange: The depth is zero, negative or not finite.
    Source: Electrical code, figure 210.52(C)(1); the straight case recalled.

    >>> counts_behind(254.0), counts_behind(330.2)
    (False, True)
    """
    require_positive(depth_mm=depth_mm)
    least = (by or yardstick()).row("IE5", "corner" if corner else "straight").value_mm
    return depth_mm >= least - TOLERANCE_MM


def _by_area(long_mm: float, short_mm: float, rows: Yardstick) -> Receptacles:
    # From inches, so that 36 x 36 in is 9 sq ft exactly and not a hair more.
    area = round(convert(to_inches(long_mm) * to_inches(short_mm), "sq in", "sq ft"), 6)
    first, further = rows.row("IE3", "first").number, rows.row("IE3", "further").number
    more = max(0, math.ceil((area - first) / further))
    further_ones = f"{more} more at one for each further {further:g} sq ft or part of it"
    line = f"{area:g} sq ft: 1 for the first {first:g} sq ft + {further_ones} = {1 + more}"
    return Receptacles(1 + more, "IE3", (line,))
