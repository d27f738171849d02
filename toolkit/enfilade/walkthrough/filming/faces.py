"""Points on the faces of bodies, walls and openings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely

from enfilade.geometry.boxes import Segment
from enfilade.geometry.outlines import signed_area_mm2
from enfilade.geometry.points import Point
from enfilade.geometry.sightlines import Floats
from enfilade.geometry.solid import Prism

__all__ = ["LOOKED_UNDER_MM", "Faces", "faces_of", "thinned", "upright"]

Faces = tuple[Floats, Floats, Floats]
"""Points, the normal at each, and the area that each stands for."""

LOOKED_UNDER_MM: Final = 1000.0
"""The underside of what hangs higher than this shows (own choice)."""


def thinned(faces: Faces, most: int) -> Faces:
    """Return so many points, evenly along the row, with those that reach farthest each way among them."""
    points, normals, weights = faces
    if len(points) <= most:
        return faces
    ends = [int(pick) for axis in range(3) for pick in (points[:, axis].argmin(), points[:, axis].argmax())]
    chosen = sorted({*np.linspace(0, len(points) - 1, most - 6).round().astype(int).tolist(), *ends})
    return points[chosen], normals[chosen], weights[chosen]


def faces_of(prism: Prism, dense: float) -> tuple[Floats, Floats, Floats, Floats]:
    """Return points on the sides and the top of a body, and on its underside when it hangs high; see `_spread`."""
    step = 300.0 / dense
    ring = prism.footprint
    turned = signed_area_mm2(ring) < 0
    found = []
    for number, a in enumerate(ring):
        b = ring[(number + 1) % len(ring)]
        if math.dist(a, b) > 1.0:
            # Left to right as seen from outside.
            found.append(upright(Segment(b, a) if turned else Segment(a, b), prism.bottom_mm, prism.top_mm, step))
    lids = [(prism.top_mm, 1.0)] + ([(prism.bottom_mm, -1.0)] if prism.bottom_mm > LOOKED_UNDER_MM else [])
    for height, up in lids:
        plan, shares = _lid(ring, step)
        points = np.column_stack([plan, np.full(len(plan), height)])
        found.append(_spread(points, (0.0, 0.0, up), shares * abs(signed_area_mm2(ring))))
    points, normals, weights, inner = (np.concatenate(each) for each in zip(*found, strict=True))
    return points, normals, weights, inner


def upright(face: Segment, low: float, high: float, step: float) -> tuple[Floats, Floats, Floats, Floats]:
    along = np.linspace(0.0, 1.0, _count(face.length_mm, step, 9))
    up = np.linspace(low, high, _count(high - low, step, 7))
    plan = np.array(face.a) + along[:, None] * (np.array(face.b) - np.array(face.a))
    points = np.concatenate([np.column_stack([plan, np.full(len(plan), height)]) for height in up])
    shares = np.outer(_shares(len(up)), _shares(len(along))).ravel()
    return _spread(points, (*face.outward, 0.0), shares * face.length_mm * (high - low))


def _count(length_mm: float, step: float, most: int) -> int:
    return min(round(most * 300.0 / step), max(2, round(length_mm / step) + 1))


def _shares(count: int) -> Floats:
    """Return what share of a row each of its evenly spaced points stands for: those at its ends for half as much."""
    shares = np.ones(count)
    shares[[0, -1]] = 0.5
    return shares / shares.sum()


def _spread(
    points: Floats, normal: tuple[float, float, float], weights: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    """Return points of a face, edges included, its normal and area at each, and the same points drawn a little inwards.

    What stands close before a face is asked of the latter: an edge has neighbours that cover nothing of the face.
    """
    centre = (points.min(axis=0) + points.max(axis=0)) / 2
    return points, np.tile(normal, (len(points), 1)), weights, centre + (points - centre) * 0.98


def _lid(ring: Sequence[Point], step: float) -> tuple[Floats, Floats]:
    """Return points over a footprint and their shares of it: a net over four corners, else rings to the middle."""
    corners = np.array(ring)
    if len(ring) == 4:
        a, b, c, d = corners
        u = np.linspace(0, 1, _count(math.dist(a, b), step, 9))[:, None]
        v = np.linspace(0, 1, _count(math.dist(b, c), step, 9))
        rows = [(a + u * (b - a)) * (1 - t) + (d + u * (c - d)) * t for t in v]
        return np.concatenate(rows), np.outer(_shares(len(v)), _shares(len(u))).ravel()
    middle = np.array(shapely.Polygon(ring).representative_point().coords[0])
    points = np.concatenate([middle + (corners - middle) * share for share in (1.0, 0.6, 0.2)])
    # Rings of the area between the circles halfway from one to the next.
    return points, np.repeat([0.36, 0.48, 0.16], len(ring)) / len(ring)
