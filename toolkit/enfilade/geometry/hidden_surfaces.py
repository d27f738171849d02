"""What is seen of planar faces from an eye: hidden surfaces taken away exactly, in the picture plane.

A planar face that shows in a picture has an inverse depth that is linear in picture coordinates. Of two faces, the part
of the picture in which one lies nearer than the other is therefore a half plane: faces that pierce one another, or hide
one another in a ring, need no cutting up beforehand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.geometry.camera import Camera, Vector
from enfilade.geometry.picture_areas import (
    LOST,
    Array,
    Shapes,
    Truths,
    Whole,
    ahead,
    corners_of,
    half_of,
    nearer,
    overlaid,
    shared_bounds,
    united,
    valid,
)

__all__ = ["Face", "Seen", "Surfaces"]

_EDGE_ON_MM: Final = 0.05
"""An eye that is no farther before a face than this sees only its edge."""
_COPLANAR: Final = (1e-6, 0.05)
"""Faces are flush when their normals differ by less than the first, and their planes by less than the second [mm]."""
_SPECK: Final = 1e-8
"""Parts of the picture that are smaller than this share of it are not kept."""
_ROUNDS: Final = 12
"""So many covers are taken off one by one; most faces have no more."""
_LARGEST: Final = 64
"""So many of the largest faces are tried first for hiding others whole: walls, floors, fronts."""


@dataclass(frozen=True, eq=False)
class Face:
    """One side of a planar face.

    Attributes:
        ring: Its corners in order, counter-clockwise as seen from the side that shows: at least 3 [mm].
        holes: Rings of what is cut out of it, in its plane.
        order: Of faces in one plane that overlap, the greatest hides the others.
        solid: Faces of one convex solid bear one number, so that they need not be tried on each other; below 0: alone.
    """

    ring: tuple[Vector, ...]
    holes: tuple[tuple[Vector, ...], ...] = ()
    order: int = 0
    solid: int = -1


@dataclass(frozen=True, eq=False)
class Seen:
    """What a camera sees of some faces.

    Attributes:
        camera: The camera.
        faces: Numbers of the faces of which something is seen.
        regions: What is seen of each, in picture coordinates, cut off at the edge of the picture.
        inverse_depths: a, b, c of each: 1 / depth [1/mm] is a·u + b·v + c at picture coordinates u, v.
    """

    camera: Camera
    faces: Whole
    regions: Shapes
    inverse_depths: Array = field(repr=False)


class Surfaces:
    """Faces made ready once, to be looked at by any number of cameras.

    Args:
        faces: In any order. Faces without area are never seen.

    Attributes:
        faces: The same.
        normals: Unit normals towards the sides that show, one a row; 0 for a face without area.
    """

    def __init__(self, faces: Sequence[Face]) -> None:
        self.faces = tuple(faces)
        rings = [ring for face in self.faces for ring in (face.ring, *face.holes)]
        self._owner = np.array([n for n, face in enumerate(self.faces) for _ in range(1 + len(face.holes))], dtype=int)
        self._outer = np.array([first for face in self.faces for first in (True, *[False] * len(face.holes))], bool)
        self._starts = np.cumsum([0, *(len(ring) for ring in rings)])
        self._points = np.array([p for ring in rings for p in ring], dtype=float).reshape(-1, 3)
        self._order = np.array([face.order for face in self.faces], dtype=int)
        self._solid = np.array([face.solid for face in self.faces], dtype=int)
        if self.faces:
            normals, offsets = _planes(self._points, self._starts)
            self.normals, self._offsets = normals[self._outer], offsets[self._outer]
        else:
            self.normals, self._offsets = np.zeros((0, 3)), np.zeros(0)

    @np.errstate(divide="ignore", invalid="ignore")  # flags that the library leaves behind
    def seen(self, camera: Camera, leave_out: Truths | None = None) -> Seen:
        """Return what a camera sees.

        Args:
            camera: Where it stands and looks.
            leave_out: Faces that are not there, one truth value a face.
        """
        local = camera.seen_from(self._points)
        taken = self._before(camera, local)
        if leave_out is not None:
            taken &= ~leave_out
        if not taken.any():
            return Seen(camera, np.array([], int), np.array([], object), np.zeros((0, 3)))
        numbers, shapes = self._projected(camera, local, taken)
        least = _SPECK * camera.area
        kept = shapely.area(shapes) > least
        numbers, shapes = numbers[kept], shapes[kept]
        normals = self.normals[numbers] @ camera.axes.T
        distances = self._offsets[numbers] - self.normals[numbers] @ np.array(camera.eye)
        planes = normals / distances[:, None]
        whole = _not_covered(shapes, planes)
        numbers, shapes, planes = numbers[whole], shapes[whole], planes[whole]
        regions = self._uncovered(numbers, shapes, planes, camera)
        showing = shapely.area(regions) > least
        return Seen(camera, numbers[showing], regions[showing], planes[showing])

    def _before(self, camera: Camera, local: Array) -> Truths:
        """Tell which faces turn their shown side to the eye and may lie in the picture."""
        eye = np.array(camera.eye)
        facing = self.normals @ eye - self._offsets > _EDGE_ON_MM
        if not len(self.faces):
            return np.zeros(0, bool)
        x, y, z = local.T
        u0, v0, u1, v1 = camera.frame
        # A face whose corners all lie beyond one side of the picture, or behind, is not in it.
        outside = np.stack([z - camera.near_mm, x - u0 * z, u1 * z - x, y - v0 * z, v1 * z - y])
        inside = np.maximum.reduceat(outside, self._starts[:-1], axis=1)[:, self._outer] > 0
        return np.asarray(facing & inside.all(axis=0), dtype=np.bool_)

    def _projected(self, camera: Camera, local: Array, taken: Truths) -> tuple[Whole, Shapes]:
        """Return the numbers of the taken faces and their shapes in the picture, cut off at its edges."""
        ahead_of_eye = np.minimum.reduceat(local[:, 2], self._starts[:-1]) >= camera.near_mm
        used = np.flatnonzero(taken[self._owner])
        spans = zip(
            self._starts[used].tolist(), self._starts[used + 1].tolist(), ahead_of_eye[used].tolist(), strict=True
        )
        rings = [local[start:end] if whole else camera.clipped(local[start:end]) for start, end, whole in spans]
        sides = np.array([len(ring) for ring in rings])
        used, rings = used[sides >= 3], [ring for ring in rings if len(ring) >= 3]
        if not rings:
            return np.array([], int), np.array([], object)
        flat = np.concatenate(rings)
        flat = flat[:, :2] / flat[:, 2:]
        lines: Shapes = np.asarray(
            shapely.linearrings(flat, indices=np.repeat(np.arange(len(rings)), sides[sides >= 3]))
        )
        owner, outer = self._owner[used], self._outer[used]
        # A hole whose face was left out by the near plane has nothing to be cut out of.
        numbers = owner[outer]
        place = np.full(len(self.faces), -1)
        place[numbers] = np.arange(len(numbers))
        shapes: Shapes = valid(np.asarray(shapely.polygons(lines[outer])))
        holed = place[owner[~outer]]
        holes = valid(np.asarray(shapely.polygons(lines[~outer][holed >= 0])))
        holed = holed[holed >= 0]
        turn = _turns(holed)
        for number in range(int(turn.max(initial=-1)) + 1):
            at = holed[turn == number]
            shapes[at] = overlaid(shapely.difference, shapes[at], holes[turn == number])
        u0, v0, u1, v1 = camera.frame
        b = shapely.bounds(shapes)
        over = (b[:, 0] < u0) | (b[:, 1] < v0) | (b[:, 2] > u1) | (b[:, 3] > v1)
        frame = np.full(int(over.sum()), shapely.box(u0, v0, u1, v1), dtype=object)
        shapes[over] = overlaid(shapely.intersection, shapes[over], frame)
        return numbers, shapes

    def _uncovered(self, numbers: Whole, shapes: Shapes, planes: Array, camera: Camera) -> Shapes:
        """Return each shape without what nearer ones hide of it."""
        behind, before, halves = self._pairs(numbers, shapes, planes, camera)
        covers = shapes[before]
        cut = np.flatnonzero([half is not None for half in halves])
        if len(cut):
            covers[cut] = overlaid(shapely.intersection, covers[cut], np.array([halves[n] for n in cut], dtype=object))
        regions = shapes.copy()
        some = shapely.area(covers) > LOST
        behind, covers = behind[some], covers[some]
        if not len(behind):
            return regions
        # Round by round each face loses what its next cover hides, the largest cover first: most are soon empty.
        shared = shared_bounds(shapes[behind], covers)
        share = (shared[:, 2:] - shared[:, :2]).prod(axis=1)
        ranked = np.lexsort((-share, behind))
        behind, covers = behind[ranked], covers[ranked]
        turn = _turns(behind)
        for number in range(min(_ROUNDS, int(turn.max()) + 1)):
            now = turn == number
            at = behind[now]
            live = ~shapely.is_empty(regions[at])
            at, over = at[live], covers[now][live]
            regions[at] = overlaid(shapely.difference, regions[at], over)
        # What has many covers, as floors and walls have, loses the rest of them at one go.
        rest = (turn >= _ROUNDS) & ~shapely.is_empty(regions[behind])
        at, cuts = np.unique(behind[rest], return_index=True)
        if len(at):
            together = np.array([united(part) for part in np.split(covers[rest], cuts[1:])], dtype=object)
            regions[at] = overlaid(shapely.difference, regions[at], together)
        return regions

    def _pairs(
        self, numbers: Whole, shapes: Shapes, planes: Array, camera: Camera
    ) -> tuple[Whole, Whole, list[BaseGeometry | None]]:
        """Return pairs of entries of which the second hides part of the first, and where, when not everywhere."""
        behind, before = shapely.STRtree(shapes).query(shapes)
        solid = self._solid[numbers]
        keep = (behind != before) & ((solid[behind] < 0) | (solid[behind] != solid[before]))
        behind, before = behind[keep], before[keep]
        n, d = self.normals[numbers], self._offsets[numbers]
        flush = (np.abs(n[behind] - n[before]).max(axis=1) < _COPLANAR[0]) & (
            np.abs(d[behind] - d[before]) < _COPLANAR[1]
        )
        order = self._order[numbers]
        over = (order[before] > order[behind]) | ((order[before] == order[behind]) & (before > behind))
        if not len(behind):
            return behind, before, []
        some, all_ = nearer(shapes, planes, behind, before)
        hides = np.where(flush, over, some)
        behind, before, partly = behind[hides], before[hides], (~flush & ~all_)[hides]
        meet = shapely.intersects(shapes[behind], shapes[before])
        behind, before, partly = behind[meet], before[meet], partly[meet]
        halves: list[BaseGeometry | None] = [None] * len(behind)
        for k in np.flatnonzero(partly):
            halves[k] = half_of(camera.frame, planes[before[k]] - planes[behind[k]])
        return behind, before, halves


def _planes(points: Array, starts: Whole) -> tuple[Array, Array]:
    """Return the unit normals of rings, towards the side that shows, and their distances from the origin."""
    counts = np.diff(starts)
    base = np.repeat(points[starts[:-1]], counts, axis=0)
    following = np.arange(len(points)) + 1
    following[starts[1:] - 1] = starts[:-1]
    # Newell's sum: right for rings that are not convex too.
    normals = np.add.reduceat(np.cross(points - base, points[following] - base), starts[:-1], axis=0)
    length = np.sqrt((normals**2).sum(axis=1))
    normals[length > 0] /= length[length > 0, None]
    middles = np.add.reduceat(points, starts[:-1], axis=0) / counts[:, None]
    return normals, np.einsum("nk,nk->n", normals, middles)


def _turns(of: Whole) -> Whole:
    """Return which of its kind each entry is, from 0, where alike entries follow one another."""
    number = np.arange(len(of))
    first = np.r_[True, of[1:] != of[:-1]][: len(of)]
    return np.asarray(number - np.maximum.accumulate(np.where(first, number, 0)))


def _not_covered(shapes: Shapes, planes: Array) -> Truths:
    """Tell which shapes no single one of the largest hides whole."""
    open_ = np.ones(len(shapes), bool)
    bounds = shapely.bounds(shapes)
    corners = corners_of(bounds)
    own = ahead(planes, corners)
    largest = np.argsort(-shapely.area(shapes))[:_LARGEST]
    for q in largest:
        if not open_[q]:
            continue
        a = bounds[q]
        within = (bounds[:, 0] >= a[0]) & (bounds[:, 1] >= a[1]) & (bounds[:, 2] <= a[2]) & (bounds[:, 3] <= a[3])
        tried = np.flatnonzero(within & open_)
        tried = tried[tried != q]
        tried = tried[((corners[tried] @ planes[q]) > own[tried] * (1 + 1e-9)).all(axis=1)]
        if len(tried):
            shapely.prepare(shapes[q])
            open_[tried[shapely.covers(shapes[q], shapes[tried])]] = False
    return open_
