"""How much of a front edge can be stood at."""

from __future__ import annotations

from collections.abc import Iterable

import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.geometry.boxes import Segment
from enfilade.lengths import TOLERANCE_MM

__all__ = ["free_front", "open_spans", "shadow"]

Span = tuple[float, float]


def free_front(
    front: Segment, others: Iterable[BaseGeometry], probe_mm: float = 10.0, shortest_mm: float = 1.0
) -> tuple[Segment, ...]:
    """Return the stretches of a front edge that nothing stands directly in front of.

    So a counter that runs into a corner loses the part before which the other counter stands: its
    frontage ends at the inside corner.

    Args:
        front: The front edge.
        others: Footprints of everything else; what reaches less than 0.8 mm before the edge is no obstacle.
        probe_mm: How far before the edge is looked, above 0.8.
        shortest_mm: Stretches shorter than this are left out.
    Returns:
        The stretches from left to right.
    """
    shadows = [span for other in others for span in shadow(front, other, probe_mm)]
    return tuple(front.part(a, b) for a, b in open_spans((0.0, front.length_mm), shadows, shortest_mm))


def shadow(front: Segment, other: BaseGeometry, probe_mm: float) -> list[Span]:
    """Return the stretches of a front edge before which a shape stands, as distances from its left end [mm]."""
    # A shape that only touches the edge, or stands proud of it by noise, is not before it.
    strip = front.moved(TOLERANCE_MM).strip(probe_mm - TOLERANCE_MM)
    spans = []
    for part in shapely.get_parts(strip.intersection(other)):
        places = [front.place((x, y))[0] for x, y in shapely.get_coordinates(part).tolist()]
        if places:
            spans.append((min(places), max(places)))
    return spans


def open_spans(whole: Span, taken: Iterable[Span], shortest: float) -> list[Span]:
    """Return what is left of a span, in order, once others are taken out of it."""
    start, end = whole
    left = []
    for a, b in sorted(taken):
        if a - start >= shortest:
            left.append((start, min(a, end)))
        start = max(start, b)
    if end - start >= shortest:
        left.append((start, end))
    return [(a, b) for a, b in left if b - a >= shortest]
