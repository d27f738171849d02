"""Landing areas that share a counter, and the parts of the total counter."""

from __future__ import annotations

from dataclasses import dataclass

from enfilade.errors import require_positive
from enfilade.lengths import show_inches
from enfilade.standards import Yardstick, yardstick

__all__ = ["CounterParts", "SharedLanding", "counter_parts", "shared_landing"]


@dataclass(frozen=True, slots=True)
class SharedLanding:
    """What two landings ask of one counter [mm], and their plain sum beside it [mm]."""

    required_mm: float
    sum_mm: float
    working: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CounterParts:
    """The named parts that make up the total counter, each (name, length [mm]), and their sum [mm]."""

    parts: tuple[tuple[str, float], ...]
    total_mm: float
    working: tuple[str, ...]


def shared_landing(first_mm: float, second_mm: float, *, by: Yardstick | None = None) -> SharedLanding:
    """Return the counter that two landings ask when they share it: the longer and 12 in more.

    Args:
        first_mm: Landing of the first appliance or sink, above 0 [mm].
        second_mm: Landing of the second, above 0 [mm].
    Raises:
        OutOfRange: A landing is zero, negative or not finite.
    Source: Kitchen guideline 24.
    Limits: two landings; for three on one counter the source gives no rule.

    >>> shared_landing(609.6, 381.0).required_mm
    914.4
    """
    require_positive(first_mm=first_mm, second_mm=second_mm)
    more = (by or yardstick()).row("K24").value_mm
    longer, total = max(first_mm, second_mm), round(first_mm + second_mm, 9)
    required = round(longer + more, 9)
    return SharedLanding(
        required_mm=required,
        sum_mm=total,
        working=(
            f"longer of {show_inches(first_mm)} and {show_inches(second_mm)}, and {show_inches(more)} more"
            f" = {show_inches(required)}",
            f"added up they would be {show_inches(total)}",
        ),
    )


def counter_parts(*, by: Yardstick | None = None) -> CounterParts:
    """Return the parts of which the total counter of guideline 25 is made.

    Source: Kitchen guideline 25, breakdown.

    >>> round(counter_parts().total_mm, 1)
    4013.2
    """
    rows = (by or yardstick()).rows("K25b")
    total = round(sum(row.value_mm for row in rows), 9)
    sums = " + ".join(f"{row.number:g}" for row in rows)
    return CounterParts(
        parts=tuple((row.part, row.value_mm) for row in rows),
        total_mm=total,
        working=(f"{sums} = {sum(row.number for row in rows):g} in",),
    )
