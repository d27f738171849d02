"""Areas of a picture: overlaid without noise, and compared by which lies nearer to the eye."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final, cast

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

__all__ = ["LOST", "Array", "Shapes", "Truths", "Whole", "ahead", "corners_of", "half_of", "nearer", "overlaid",
           "shared_bounds", "united", "valid"]  # fmt: skip

Array = npt.NDArray[np.float64]
Whole = npt.NDArray[np.int64]
Shapes = npt.NDArray[np.object_]
Truths = npt.NDArray[np.bool_]

_GRID: Final = 2.0**-24
"""Grid of picture coordinates on which an overlay is tried again that failed."""
LOST: Final = 1e-10
"""Areas that an overlay may lose or gain by noise, in picture coordinates."""
_ONE_DEPTH: Final = 1e-7
"""Depths that differ by less than this share are one depth: half a thousandth of a millimetre at 5 m."""


def valid(shapes: Shapes) -> Shapes:
    wrong = ~shapely.is_valid(shapes)
    if wrong.any():
        shapes[wrong] = _areas_of(shapely.make_valid(shapes[wrong]))
    return shapes


def _areas_of(shapes: Shapes) -> Shapes:
    """Return shapes without the points and lines that overlays leave beside areas."""
    for n in np.flatnonzero(~np.isin(shapely.get_type_id(shapes), (3, 6))):
        parts = [part for part in shapely.get_parts(shapes[n]) if part.geom_type in ("Polygon", "MultiPolygon")]
        shapes[n] = shapely.union_all(parts) if parts else shapely.Polygon()
    return shapes


def overlaid(how: Callable[..., Any], shapes: Shapes, others: Shapes) -> Shapes:
    """Return the areas of an overlay that leaves no more than the first shape, pair by pair."""
    try:
        found = how(shapes, others)
    except shapely.errors.GEOSException:
        found = np.array([_on_grid(how, *pair) for pair in zip(shapes, others, strict=True)], dtype=object)
    # Now and then noise leads the library to an area that cannot be: more than there was, or less than nothing.
    had, taken, left = shapely.area(shapes), shapely.area(others), shapely.area(found)
    least = np.maximum(had - taken, 0.0) if how is shapely.difference else np.zeros(len(had))
    for n in np.flatnonzero((left > had + LOST) | (left < least - LOST)):
        found[n] = _on_grid(how, shapes[n], others[n])
    return _areas_of(found)


def united(shapes: Shapes) -> BaseGeometry:
    """Return the area that shapes cover together."""
    areas = shapely.area(shapes)
    try:
        found = shapely.union_all(shapes)
    except shapely.errors.GEOSException:
        found = shapely.Polygon()
    if areas.max() - LOST <= found.area <= areas.sum() + LOST:
        return found
    return shapely.union_all(shapely.make_valid(shapes), grid_size=_GRID)


def _on_grid(how: Callable[..., Any], shape: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """Return the overlay of two shapes whose corners are first moved onto a grid too fine to be seen."""
    try:
        return cast("BaseGeometry", how(shapely.make_valid(shape), shapely.make_valid(other), grid_size=_GRID))
    except shapely.errors.GEOSException:
        clean = [_areas_of(np.array([shapely.buffer(one, 0.0)], dtype=object))[0] for one in (shape, other)]
        return cast("BaseGeometry", how(*clean, grid_size=_GRID))


def shared_bounds(a: Shapes, b: Shapes) -> Array:
    p, q = shapely.bounds(a), shapely.bounds(b)
    low, high = np.fmax(p[:, :2], q[:, :2]), np.fmin(p[:, 2:], q[:, 2:])
    return np.hstack([low, np.maximum(low, high)])


def corners_of(bounds: Array) -> Array:
    """Return the four corners of boxes: box, corner, and u, v, 1."""
    u = bounds[:, [0, 2, 2, 0]]
    v = bounds[:, [1, 1, 3, 3]]
    return np.stack([u, v, np.ones_like(u)], axis=2)


def ahead(planes: Array, corners: Array) -> Array:
    return np.asarray(np.einsum("nk,nck->nc", planes, corners))


def nearer(shapes: Shapes, planes: Array, behind: Whole, before: Whole) -> tuple[Truths, Truths]:
    """Tell of pairs whether the second may lie nearer somewhere, and whether it does everywhere that they overlap.

    The difference of two inverse depths is linear, so that its bounds over a shape are those at its corners. They
    overlap within either shape, and within the box that both share: the narrowest bounds of the three hold.
    """
    points, of = shapely.get_coordinates(shapes, return_index=True)
    spots = np.column_stack([points, np.ones(len(points))])
    counts = np.bincount(of, minlength=len(shapes))
    starts = np.r_[0, np.cumsum(counts)]
    greatest, least = [], []
    for which in (behind, before):
        take = np.repeat(starts[which] - np.r_[0, np.cumsum(counts[which])[:-1]], counts[which])
        at = spots[take + np.arange(len(take))]
        pair = np.repeat(np.arange(len(which)), counts[which])
        near = np.einsum("nk,nk->n", planes[before][pair], at)
        far = np.einsum("nk,nk->n", planes[behind][pair], at)
        gain = (near - far) / np.maximum(np.abs(near), np.abs(far))
        cut = np.r_[0, np.cumsum(counts[which])[:-1]]
        greatest.append(np.maximum.reduceat(gain, cut))
        least.append(np.minimum.reduceat(gain, cut))
    corners = corners_of(shared_bounds(shapes[behind], shapes[before]))
    near, far = ahead(planes[before], corners), ahead(planes[behind], corners)
    gain = (near - far) / np.maximum(np.abs(near), np.abs(far))
    some = np.minimum.reduce([*greatest, gain.max(axis=1)]) > _ONE_DEPTH
    all_ = np.maximum.reduce([*least, gain.min(axis=1)]) > -_ONE_DEPTH
    return np.asarray(some, dtype=bool), np.asarray(all_, dtype=bool)


def half_of(frame: tuple[float, float, float, float], line: Array) -> BaseGeometry:
    """Return the part of the picture in which a·u + b·v + c is above 0."""
    u0, v0, u1, v1 = frame
    ring = [(u0, v0), (u1, v0), (u1, v1), (u0, v1)]
    a, b, c = line.tolist()
    kept: list[tuple[float, float]] = []
    for (p, q), (r, s) in zip(ring, ring[1:] + ring[:1], strict=True):
        d, e = a * p + b * q + c, a * r + b * s + c
        if d > 0:
            kept.append((p, q))
        if (d > 0) != (e > 0):
            t = d / (d - e)
            kept.append((p + (r - p) * t, q + (s - q) * t))
    return shapely.Polygon(kept) if len(kept) >= 3 else shapely.Polygon()
