"""A brute-force ray caster, for tests: which face a ray meets first. It shares no code with what it is held against."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from enfilade.geometry.camera import Camera, Vector
from enfilade.geometry.hidden_surfaces import Face, Seen

__all__ = ["box", "cast", "certain", "met"]

Array = npt.NDArray[np.float64]
_ASIDE = 2e-4


def box(low: Vector, high: Vector, *, solid: int = -1, turn: float = 0.0, order: int = 0) -> list[Face]:
    """Return the six outward faces of a box, turned about its middle [rad]."""
    (a, b, c), (d, e, f) = low, high
    rings = [
        [(a, b, c), (a, e, c), (d, e, c), (d, b, c)], [(a, b, f), (d, b, f), (d, e, f), (a, e, f)],
        [(a, b, c), (d, b, c), (d, b, f), (a, b, f)], [(d, e, c), (a, e, c), (a, e, f), (d, e, f)],
        [(a, e, c), (a, b, c), (a, b, f), (a, e, f)], [(d, b, c), (d, e, c), (d, e, f), (d, b, f)],
    ]  # fmt: skip
    x0, y0, cos, sin = (a + d) / 2, (b + e) / 2, np.cos(turn), np.sin(turn)

    def turned(p: Vector) -> Vector:
        x, y = p[0] - x0, p[1] - y0
        return (float(x0 + cos * x - sin * y), float(y0 + sin * x + cos * y), p[2])

    return [Face(tuple(turned(p) for p in ring), order=order, solid=solid) for ring in rings]


def cast(faces: Sequence[Face], camera: Camera, spots: Array) -> npt.NDArray[np.int64]:
    """Return the number of the face that each spot of the picture shows, -1 for none."""
    eye = np.array(camera.eye)
    rays = np.array([camera.ray(u, v) for u, v in spots.tolist()])
    nearest, found = np.full(len(spots), np.inf), np.full(len(spots), -1)
    for number, face in enumerate(faces):
        ring = np.array(face.ring)
        normal = np.cross(ring - ring[0], np.roll(ring, -1, axis=0) - ring[0]).sum(axis=0)
        slope = rays @ normal
        with np.errstate(divide="ignore", invalid="ignore"):
            far = ((ring[0] - eye) @ normal) / slope
        hit = (slope < 0) & (far > 0) & (far * (rays @ camera.axes[2]) >= camera.near_mm)
        points = eye + np.where(hit, far, 1.0)[:, None] * rays
        hit &= _inside(points, ring, normal)
        for hole in face.holes:
            hit &= ~_inside(points, np.array(hole), normal)
        closer = hit & (far < nearest)
        nearest[closer], found[closer] = far[closer], number
    return found


def _inside(points: Array, ring: Array, normal: Array) -> npt.NDArray[np.bool_]:
    """Tell by counting crossings which points of a plane lie in a ring, along the two axes in which it is widest."""
    drop = int(np.argmax(np.abs(normal)))
    axes = [axis for axis in range(3) if axis != drop]
    x, y = points[:, axes[0]], points[:, axes[1]]
    inside = np.zeros(len(points), bool)
    for (ax, ay), (bx, by) in zip(ring[:, axes], np.roll(ring, -1, axis=0)[:, axes], strict=True):
        if ay == by:
            continue
        inside ^= ((ay > y) != (by > y)) & (x < (bx - ax) * (y - ay) / (by - ay) + ax)
    return inside


def certain(faces: Sequence[Face], camera: Camera, spots: Array) -> tuple[Array, npt.NDArray[np.int64]]:
    """Return the spots round which the caster meets one and the same face, and which: those away from edges."""
    here = cast(faces, camera, spots)
    same = np.ones(len(spots), bool)
    for aside in ((_ASIDE, 0), (-_ASIDE, 0), (0, _ASIDE), (0, -_ASIDE)):
        same &= cast(faces, camera, spots + np.array(aside)) == here
    return spots[same], here[same]


def met(seen: Seen, spots: Array) -> npt.NDArray[np.int64]:
    """Return the number of the face whose visible region holds each spot, -1 for none; fails where two do."""
    import shapely

    found = np.full(len(spots), -1)
    for number, region in zip(seen.faces.tolist(), seen.regions, strict=True):
        within = shapely.contains_xy(region, spots)
        assert (found[within] == -1).all(), "two faces are seen in one place"
        found[within] = number
    return found
