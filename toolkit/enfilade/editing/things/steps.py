"""The steps by which a hand moves things, and how a length lands on one."""

from __future__ import annotations

from typing import Final, Literal

from enfilade.errors import require_positive
from enfilade.lengths import INCH_MM, System

__all__ = ["STEPS_MM", "Fineness", "on_step", "step_of", "within"]

Fineness = Literal["fine", "coarse"]

STEPS_MM: Final[dict[System, dict[Fineness, float]]] = {
    "us": {"fine": INCH_MM / 16, "coarse": INCH_MM},
    "metric": {"fine": 1.0, "coarse": 10.0},
}
"""1/16 in or 1 mm, and 1 in or 10 mm."""


def on_step(value_mm: float, step_mm: float) -> float:
    """Return the whole number of steps that is nearest to a length [mm]; halves go up.

    >>> on_step(30.0, 25.4), on_step(-1.0, 10.0)
    (25.4, 0.0)
    """
    require_positive(step_mm=step_mm)
    return round((value_mm / step_mm + 0.5) // 1 * step_mm, 6) + 0.0


def within(value_mm: float, limit_mm: float, step_mm: float) -> float:
    """Return an offset on a step, kept between 0 and a limit; the limit itself counts as one, off the steps or not.

    What does not fit at all (a limit below 0) stands out evenly at both ends.

    >>> within(996.0, 998.4, 10.0), within(2000.0, 998.4, 10.0), within(-3.0, 998.4, 10.0), within(0.0, -40.0, 10.0)
    (998.4, 998.4, 0.0, -20.0)
    """
    if limit_mm < 0:
        return round(limit_mm / 2, 6)
    kept = min(max(value_mm, 0.0), limit_mm)
    stepped = on_step(kept, step_mm)
    at_limit = stepped > limit_mm or limit_mm - kept < abs(stepped - kept)
    return round(limit_mm if at_limit else stepped, 6) + 0.0


def step_of(system: System, dx_mm: float, dy_mm: float) -> Fineness:
    """Return which step a move of this size lands on: the coarse one when it is at least as long."""
    coarse_mm = STEPS_MM[system]["coarse"]
    return "coarse" if max(abs(dx_mm), abs(dy_mm)) >= coarse_mm - 1e-6 else "fine"
