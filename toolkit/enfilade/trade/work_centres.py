"""The work triangle between cooking, sink and refrigerator."""

from __future__ import annotations

import math
from dataclasses import dataclass

from enfilade.errors import OutOfRange
from enfilade.lengths import show_inches

__all__ = ["Triangle", "work_triangle"]

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Triangle:
    """Three straight distances and their sum [mm], and the area between them [mm2]."""

    cooking_sink_mm: float
    sink_refrigerator_mm: float
    refrigerator_cooking_mm: float
    sum_mm: float
    area_mm2: float
    working: tuple[str, ...]

    @property
    def legs_mm(self) -> tuple[float, float, float]:
        """Return the three legs: cooking-sink, sink-refrigerator, refrigerator-cooking [mm]."""
        return self.cooking_sink_mm, self.sink_refrigerator_mm, self.refrigerator_cooking_mm


def work_triangle(cooking: Point, sink: Point, refrigerator: Point) -> Triangle:
    """Return the triangle between three centre fronts.

    Args:
        cooking: Centre of the front edge of the cooking surface, in plan [mm].
        sink: Centre of the front edge of the sink, in plan [mm].
        refrigerator: Centre of the front of the refrigerator, in plan [mm].
    Raises:
        OutOfRange: A coordinate is not finite.
    Source: Kitchen guideline 3.
    Limits: straight distances, as the source's figures show; a leg cut by an island is judged
        apart, never taken as a longer way round.

    >>> round(work_triangle((0, 0), (3, 0), (0, 4)).sum_mm)
    12
    """
    named = {"cooking": cooking, "sink": sink, "refrigerator": refrigerator}
    for name, point in named.items():
        if not all(math.isfinite(value) for value in point):
            raise OutOfRange(f"{name} stands at {point!r}", expected="finite coordinates")
    legs = tuple(round(math.dist(a, b), 6) for a, b in ((cooking, sink), (sink, refrigerator), (refrigerator, cooking)))
    total = round(sum(legs), 6)
    (ax, ay), (bx, by), (cx, cy) = cooking, sink, refrigerator
    area = abs((bx - ax) * (cy - ay) - (cx - ax) * (by - ay)) / 2
    names = ("cooking to sink", "sink to refrigerator", "refrigerator to cooking")
    lines = (
        *(f"{name} {show_inches(leg)}" for name, leg in zip(names, legs, strict=True)),
        f"{' + '.join(show_inches(leg) for leg in legs)} = {show_inches(total)}",
    )
    return Triangle(legs[0], legs[1], legs[2], total, round(area, 6), lines)
