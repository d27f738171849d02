"""How much of a front edge can be stood at."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache, partial
from typing import Final

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.geometry.boxes import Segment, common_part
from enfilade.geometry.points import NOISE_MM, Point
from enfilade.lengths import TOLERANCE_MM

__all__ = ["free_front", "open_spans", "places_within", "standing_before"]

Span = tuple[float, float]

_FEW: Final = 4
"""More shapes than this are sifted first, so that those far off do not stand in what is remembered."""
_REMEMBERED: Final = 512
"""Fronts that are remembered with what stands near them: more than a room has, and a change touches few of them."""


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


def standing_before(
    fronts: Sequence[Segment], shapes: Sequence[BaseGeometry], probe_mm: float = 10.0
) -> list[list[int]]:
    """Return for each of many front edges which shapes stand directly before it, looked for all at once.

    Args:
        fronts: The edges.
        shapes, probe_mm: As `others` and `probe_mm` of `free_front`.
    Returns:
        Places in `shapes`, in order, for each edge.
    """
    found: list[list[int]] = [[] for _ in fronts]
    if fronts:
        strips = [_before(front, probe_mm) for front in fronts]
        pairs = shapely.STRtree(shapes).query(strips, predicate="intersects")
        for i, j in sorted(zip(*pairs.tolist(), strict=True)):
            found[i].append(j)
    return found


@lru_cache(maxsize=_REMEMBERED)
def _before(front: Segment, probe_mm: float) -> Polygon:
    # What only touches the edge, or stands proud of it by noise, is not before it.
    return front.moved(TOLERANCE_MM).strip(probe_mm - TOLERANCE_MM)


@lru_cache(maxsize=_REMEMBERED)
def _left_free(
    front: Segment, near: tuple[BaseGeometry, ...], probe_mm: float, shortest_mm: float
) -> tuple[Segment, ...]:
    spans = []
    for shape in near:
        area = partial(_before, front, probe_mm)
        for part in places_within(front, (0.0, front.length_mm), (TOLERANCE_MM, probe_mm), shape, area):
            places = [place for place, _ in part]
            spans.append((min(places), max(places)))
    return tuple(front.part(a, b) for a, b in open_spans((0.0, front.length_mm), spans, shortest_mm))


def places_within(
    edge: Segment, along: Span, ahead: Span, shape: BaseGeometry, area: Callable[[], Polygon]
) -> list[tuple[Point, ...]]:
    """Return what lies of a shape in a rectangle of the floor before an edge, each part as its corners.

    Args:
        edge: The edge.
        along, ahead: The rectangle, as places along the edge and distances before it [mm].
        shape: A footprint, or a wall.
        area: The rectangle as a shape, made only where it is needed.
    Returns:
        Corners as places along the edge and distances before it.
    """
    square = _square_part(edge, along, ahead, shape)
    if square is not None:
        return square
    parts = shapely.get_parts(common_part(shape, area())).tolist()
    points = [shapely.get_coordinates(part).tolist() for part in parts if not part.is_empty]
    return [tuple(edge.place((x, y)) for x, y in part) for part in points]


def _square_part(edge: Segment, along: Span, ahead: Span, shape: BaseGeometry) -> list[tuple[Point, ...]] | None:
    """Return the same for a rectangle square to the edge, as most things stand, several times as quickly.

    None for other shapes, and for what merely touches.
    """
    if not isinstance(shape, Polygon) or shape.is_empty:
        return None
    places, distances = zip(*(edge.place((x, y)) for x, y in shapely.get_coordinates(shape).tolist()), strict=True)
    left, right, near, far = min(places), max(places), min(distances), max(distances)
    # It is square to the edge when it fills its own bounds.
    if (right - left) * (far - near) - shape.area > NOISE_MM * (right - left + far - near):
        return None
    left, right, near, far = max(left, along[0]), min(right, along[1]), max(near, ahead[0]), min(far, ahead[1])
    if right - left < -NOISE_MM or far - near < -NOISE_MM:
        return []
    if right - left <= NOISE_MM or far - near <= NOISE_MM:
        return None
    return [((left, near), (left, far), (right, far), (right, near))]


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
