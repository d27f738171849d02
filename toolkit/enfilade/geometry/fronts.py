"""How much of a front edge can be stood at."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.geometry.boxes import Segment
from enfilade.lengths import TOLERANCE_MM

__all__ = ["free_front", "open_spans", "parts_within"]

Span = tuple[float, float]

_FEW: Final = 4
"""More shapes than this are sifted first, so that those far off do not stand in what is remembered."""
_REMEMBERED: Final = 4096
"""Fronts that are remembered with what stands near them: of those of a house, a change touches few."""


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
    shapes = list(others)
    if len(shapes) > _FEW:
        meets = shapely.intersects(_before(front, probe_mm), np.array(shapes, dtype=object)).tolist()
        shapes = [shape for shape, met in zip(shapes, meets, strict=True) if met]
    return _left_free(front, tuple(shapes), probe_mm, shortest_mm)


@lru_cache(maxsize=_REMEMBERED)
def _before(front: Segment, probe_mm: float) -> Polygon:
    # What only touches the edge, or stands proud of it by noise, is not before it.
    return front.moved(TOLERANCE_MM).strip(probe_mm - TOLERANCE_MM)


@lru_cache(maxsize=_REMEMBERED)
def _left_free(
    front: Segment, near: tuple[BaseGeometry, ...], probe_mm: float, shortest_mm: float
) -> tuple[Segment, ...]:
    spans = []
    for part in parts_within(_before(front, probe_mm), list(near)):
        places = [front.place((x, y))[0] for x, y in shapely.get_coordinates(part).tolist()]
        spans.append((min(places), max(places)))
    return tuple(front.part(a, b) for a, b in open_spans((0.0, front.length_mm), spans, shortest_mm))


def parts_within(area: Polygon, shapes: list[BaseGeometry]) -> list[BaseGeometry]:
    """Return the single parts of what lies of each shape inside an area."""
    if not shapes:
        return []
    near = np.array(shapes, dtype=object)
    near = near[np.asarray(shapely.intersects(area, near))]
    return [part for part in shapely.get_parts(shapely.intersection(near, area)).tolist() if not part.is_empty]


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
