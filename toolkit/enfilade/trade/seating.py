"""Seats along an edge, and the knee depth that goes with a surface height."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from enfilade.errors import OutOfRange, require_positive
from enfilade.lengths import TOLERANCE_MM, show_inches
from enfilade.standards import Row, Yardstick, yardstick

__all__ = ["KneeRule", "Seats", "edge_for", "knee_rule", "seats_along", "two_rows_depth"]


@dataclass(frozen=True, slots=True)
class Seats:
    """Whole seats on an edge [-], the free edge [mm], and what each seat then gets [mm] (0 without a seat)."""

    count: int
    free_mm: float
    each_mm: float
    working: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class KneeRule:
    """The printed row that applies at a height; `exact` when that height is printed."""

    row: Row
    exact: bool
    note: str


def seats_along(
    edge_mm: float,
    *,
    legs_mm: Sequence[float] = (),
    seat_width_mm: float | None = None,
    by: Yardstick | None = None,
) -> Seats:
    """Count the seats that fit along one straight edge; legs and waterfall ends are deducted first.

    Args:
        edge_mm: Length of the edge, above 0 [mm].
        legs_mm: Width of each leg or end panel that stands on the edge, above 0 each [mm].
        seat_width_mm: Width kept for each person, above 0 [mm]; as printed when None.
    Raises:
        OutOfRange: A length is zero, negative or not finite.
    Source: width per person, Kitchen guideline 9; that legs are deducted, common practice.
    Limits: one straight edge; two people at a corner need their own rule.

    >>> seats_along(1828.8).count
    3
    >>> seats_along(1828.8, legs_mm=[38.0]).count
    2
    """
    require_positive(edge_mm=edge_mm, **{f"legs_mm[{i}]": leg for i, leg in enumerate(legs_mm)})
    width = _seat_width(seat_width_mm, by)
    free = round(max(0.0, edge_mm - sum(legs_mm)), 9)
    count = int((free + TOLERANCE_MM) // width)
    lines = []
    if legs_mm:
        lines.append(f"{show_inches(edge_mm)} less {show_inches(sum(legs_mm))} for legs = {show_inches(free)}")
    lines.append(f"{show_inches(free)} / {show_inches(width)} a seat = {count} {'seat' if count == 1 else 'seats'}")
    return Seats(count=count, free_mm=free, each_mm=free / count if count else 0.0, working=tuple(lines))


def edge_for(seats: int, *, seat_width_mm: float | None = None, by: Yardstick | None = None) -> float:
    """Return the straight edge that a number of seats needs [mm], legs not counted.

    Args:
        seats: 1 or more [-].
        seat_width_mm: Width kept for each person, above 0 [mm]; as printed when None.
    Raises:
        OutOfRange: No seat, or a width that is not above 0.
    Source: Kitchen guideline 9.

    >>> round(edge_for(4), 1)
    2438.4
    """
    if seats < 1:
        raise OutOfRange(f"seats is {seats}", expected="1 or more")
    return round(seats * _seat_width(seat_width_mm, by), 9)


def knee_rule(surface_height_mm: float, *, by: Yardstick | None = None) -> KneeRule:
    """Return the knee-depth row for a surface: the nearest printed height, the lower one between two.

    Args:
        surface_height_mm: Top of the surface above the floor, above 0 [mm].
    Raises:
        OutOfRange: The height is further than half a step (3 in) from all printed ones.
    Source: Kitchen guideline 9 prints 30, 36 and 42 in; the nearest for heights between is our reading.

    >>> knee_rule(914.4).row.printed
    '15 in'
    """
    require_positive(surface_height_mm=surface_height_mm)
    table = [(row, row.key_mm) for row in (by or yardstick()).rows("K9") if row.key_mm is not None]
    table.sort(key=lambda pair: pair[1])
    heights = [height for _, height in table]
    half_step = min(high - low for low, high in pairwise(heights)) / 2
    row, height = min(table, key=lambda pair: (round(abs(pair[1] - surface_height_mm), 6), pair[1]))
    off = abs(height - surface_height_mm)
    if off > half_step + TOLERANCE_MM:
        printed = ", ".join(show_inches(h) for h in heights)
        raise OutOfRange(f"surface height {show_inches(surface_height_mm)} is not printed", expected=f"near {printed}")
    exact = off <= TOLERANCE_MM
    shown, printed_height = show_inches(surface_height_mm), show_inches(height)
    note = "" if exact else f"{shown} is not printed; read as {printed_height}, the nearest"
    return KneeRule(row=row, exact=exact, note=note)


def two_rows_depth(surface_height_mm: float, *, base_mm: float = 0.0, by: Yardstick | None = None) -> float:
    """Return the depth of a top with people on both long sides [mm]: two knee depths and the base between.

    Args:
        surface_height_mm: Top of the surface above the floor, above 0 [mm].
        base_mm: Depth of what carries the top between the knees, 0 or more [mm].
    Raises:
        OutOfRange: A height that is not printed, or a negative base.
    Source: derived from Kitchen guideline 9.

    >>> round(two_rows_depth(914.4, base_mm=609.6), 1)
    1371.6
    """
    if not (math.isfinite(base_mm) and base_mm >= 0):
        raise OutOfRange(f"base_mm is {base_mm!r}", expected="0 or more")
    return round(2 * knee_rule(surface_height_mm, by=by).row.value_mm + base_mm, 9)


def _seat_width(given_mm: float | None, by: Yardstick | None) -> float:
    if given_mm is None:
        return (by or yardstick()).row("K9", "seat width").value_mm
    require_positive(seat_width_mm=given_mm)
    return given_mm
