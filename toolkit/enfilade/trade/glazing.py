"""Window area by floor area, as the model code asks it."""

from __future__ import annotations

from dataclasses import dataclass

from enfilade.errors import OutOfRange, require_positive
from enfilade.standards import Yardstick, yardstick

__all__ = ["GlazingNeeded", "glazing_needed", "glazing_share"]


@dataclass(frozen=True, slots=True)
class GlazingNeeded:
    """Glazed and openable area that a floor asks [m2], with the working."""

    glazed_m2: float
    openable_m2: float
    working: tuple[str, ...]


def glazing_needed(floor_m2: float, *, by: Yardstick | None = None) -> GlazingNeeded:
    """Return the least glazed and openable area of a habitable room.

    Args:
        floor_m2: Floor area, above 0 [m2].
    Raises:
        OutOfRange: The area is zero, negative or not finite.
    Source: Residential code R303.1.
    Limits: not for a room lit and aired by the exceptions of the same section.

    >>> glazing_needed(10.0).glazed_m2
    0.8
    """
    require_positive(floor_m2=floor_m2)
    rows = by or yardstick()
    glazed, openable = rows.row("I303a", "glazing").number, rows.row("I303a", "openable").number
    lines = tuple(
        f"{share:g}% of {floor_m2:.2f} m2 = {floor_m2 * share / 100:.2f} m2 {kind}"
        for kind, share in (("glazed", glazed), ("openable", openable))
    )
    return GlazingNeeded(round(floor_m2 * glazed / 100, 9), round(floor_m2 * openable / 100, 9), lines)


def glazing_share(glazed_m2: float, floor_m2: float) -> float:
    """Return the glazed area as a share of the floor [%].

    Args:
        glazed_m2: Sum of glazed (or openable) areas, 0 or more [m2].
        floor_m2: Floor area, above 0 [m2].
    Raises:
        OutOfRange: A negative or not finite area, or no floor.

    >>> glazing_share(1.2, 15.0)
    8.0
    """
    require_positive(floor_m2=floor_m2)
    if not 0 <= glazed_m2 < float("inf"):
        raise OutOfRange(f"glazed_m2 is {glazed_m2!r}", expected="0 or more")
    return round(100 * glazed_m2 / floor_m2, 9)
