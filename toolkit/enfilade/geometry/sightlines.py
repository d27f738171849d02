"""Straight lines of sight through a house, and what blocks them. One line in section: see `sections`.

Lines go from an eye to a target in three dimensions; what is in the way are upright bodies, and wall faces with
openings.

Limits, the same for all that is here:

- A body blocks a line of which more than 0.8 mm lies inside it. A line along a face, through an edge or a corner is
  not blocked, nor is one that ends on a face: a target on the front of a cabinet is seen, one on its back is not. A
  body that is thinner than that along the line hides nothing, and a line in the seam of two bodies that touch passes.
- A wall face is thin. It blocks a line that crosses it more than 0.8 mm from both ends, outside its openings; the edge
  of an opening lets it pass. A line in the plane of the face is not blocked.
- A body that holds the eye blocks every view out of it: whoever asks leaves out what the eye stands in.
- Nothing is blocked by floors and ceilings: eyes and targets lie between them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from enfilade.errors import OutOfRange
from enfilade.geometry.outlines import counter_clockwise, is_convex
from enfilade.geometry.points import NOISE_MM
from enfilade.geometry.solid import Panel, Prism
from enfilade.lengths import TOLERANCE_MM

__all__ = ["Floats", "Obstructions", "Place", "Sight", "holds"]

Floats = npt.NDArray[np.float64]
Whole = npt.NDArray[np.intp]
Place = tuple[float, float, float]
"""A point in the house: x, y and the height above the floor [mm]."""

_AT_ONCE: Final = 150_000
"""Lines times bodies that are worked out together, so that memory stays small."""


@dataclass(frozen=True, eq=False)
class Sight:
    """Where lines of sight are blocked.

    Attributes:
        ids: What may block, one a column; an id may stand several times.
        met_mm: How far from the eye each line (row) meets what blocks it (column); infinite where nothing does [mm].
    """

    ids: tuple[str, ...]
    met_mm: Floats

    @property
    def clear(self) -> npt.NDArray[np.bool_]:
        """Tell of each line whether nothing blocks it."""
        return np.asarray(~np.isfinite(self.met_mm).any(axis=1))

    def blockers(self, line: int) -> tuple[str, ...]:
        """Return what blocks one line, the nearest to the eye first, each once."""
        met = self.met_mm[line]
        order = np.argsort(met, kind="stable")
        return tuple(dict.fromkeys(self.ids[i] for i in order if np.isfinite(met[i])))

    def first(self, line: int) -> str | None:
        """Return what blocks one line nearest to the eye, None when nothing does."""
        return next(iter(self.blockers(line)), None)


class Obstructions:
    """What may stand in the way of a view: made once, asked of many lines at a time.

    Args:
        prisms: Upright bodies.
        panels: Wall faces with openings.
    """

    def __init__(self, prisms: Iterable[Prism] = (), panels: Iterable[Panel] = ()) -> None:
        # Straight-sided bodies that bulge nowhere in are cut by their sides all at once, alike in the number of sides.
        self.prisms, self.panels = tuple(prisms), tuple(panels)
        self.ids = (*(prism.id for prism in self.prisms), *(panel.id for panel in self.panels))
        sides: dict[int, list[int]] = {}
        for column, prism in enumerate(self.prisms):
            sides.setdefault(len(prism.footprint) if is_convex(prism.footprint) else 0, []).append(column)
        self._bent = sides.pop(0, [])
        self._blocks = [_Bodies([self.prisms[i] for i in columns], columns) for columns in sides.values()]
        self._faces = _Faces(self.panels, len(self.prisms)) if self.panels else None

    def sight(self, eyes: Place | Sequence[Place] | Floats, targets: Sequence[Place] | Floats) -> Sight:
        """Return what blocks the line from each eye to its target.

        Args:
            eyes: One eye for all targets, or one for each [mm].
            targets: One row a target: x, y, height [mm].
        Raises:
            OutOfRange: The rows do not fit together, or a number is not finite.
        """
        ends = np.atleast_2d(np.asarray(targets, dtype=np.float64)).reshape(-1, 3)
        starts = np.asarray(eyes, dtype=np.float64).reshape(-1, 3)
        if len(starts) not in (1, len(ends)):
            raise OutOfRange(f"{len(starts)} eyes for {len(ends)} targets", expected="one eye, or one for each target")
        if not (np.isfinite(starts).all() and np.isfinite(ends).all()):
            raise OutOfRange("an eye or a target is not finite", expected="finite coordinates")
        starts = np.broadcast_to(starts, ends.shape)
        met = np.full((len(ends), len(self.ids)), np.inf)
        step = max(1, _AT_ONCE // max(1, len(self.ids)))
        for at in range(0, len(ends), step):
            self._fill(starts[at : at + step], ends[at : at + step], met[at : at + step])
        return Sight(self.ids, met)

    def _fill(self, starts: Floats, ends: Floats, met: Floats) -> None:
        if not len(starts):
            return
        run = ends - starts
        length = np.sqrt((run * run).sum(axis=1))
        for bodies in self._blocks:
            bodies.fill(starts, ends, run, length, met)
        for column in self._bent:
            met[:, column] = _met_bent(self.prisms[column], starts, run, length)
        if self._faces is not None:
            self._faces.fill(starts, run, length, met[:, len(self.prisms) :])


class _Bodies:
    """Convex bodies with the same number of sides: a line is inside while it is on the inner side of each."""

    def __init__(self, prisms: Sequence[Prism], columns: Sequence[int]) -> None:
        self.columns = np.array(columns)
        rings = np.array([counter_clockwise(prism.footprint) for prism in prisms], dtype=np.float64)  # body, corner, xy
        edges = np.roll(rings, -1, axis=1) - rings
        size = np.hypot(edges[..., 0], edges[..., 1])
        size[size == 0] = 1.0
        normals = np.stack([edges[..., 1], -edges[..., 0]], axis=-1) / size[..., None]  # outwards
        # Side by side, then body by body: what is worked out for all sides of some bodies lies together.
        self.normals = np.ascontiguousarray(normals.transpose(2, 1, 0))  # xy, side, body
        self.offsets = np.ascontiguousarray((normals * rings).sum(axis=-1).T)
        self.flat = np.ascontiguousarray((np.abs(normals) < NOISE_MM).all(axis=-1).T)
        self.low = np.array([prism.bottom_mm for prism in prisms])
        self.high = np.array([prism.top_mm for prism in prisms])
        self.least = np.column_stack([rings.min(axis=1), self.low])
        self.most = np.column_stack([rings.max(axis=1), self.high])

    def fill(self, starts: Floats, ends: Floats, run: Floats, length: Floats, met: Floats) -> None:
        """Write down where each line (row) meets each body (column)."""
        line, body = self._near(np.minimum(starts, ends), np.maximum(starts, ends))
        if len(line):
            met[line, self.columns[body]] = self._met(starts[line], run[line], length[line], body)

    def _near(self, low: Floats, high: Floats) -> tuple[Whole, Whole]:
        """Return the pairs of lines and bodies whose boxes overlap: no other line can meet a body."""
        some = np.flatnonzero(((self.least < high.max(axis=0)) & (self.most > low.min(axis=0))).all(axis=1))
        least, most = self.least[some], self.most[some]
        near = np.ones((len(low), len(some)), dtype=np.bool_)
        for axis in range(3):
            near &= least[:, axis] < high[:, axis, None]
            near &= most[:, axis] > low[:, axis, None]
        line, body = np.nonzero(near)
        return line, some[body]

    def _met(self, starts: Floats, run: Floats, length: Floats, body: Whole) -> Floats:
        """Return where lines meet bodies, pair by pair."""
        x, y = self.normals[:, :, body]
        height, rise = starts[:, 2], run[:, 2]
        # How far outside each side a line starts [mm], and how much farther outside it ends.
        out = np.vstack(
            [
                x * starts[:, 0] + y * starts[:, 1] - self.offsets[:, body],
                height - self.high[body],
                self.low[body] - height,
            ]
        )
        speed = np.vstack([x * run[:, 0] + y * run[:, 1], rise, -rise])
        sides = np.vstack([~self.flat[:, body], np.ones((2, len(body)), dtype=np.bool_)])
        coming, going = sides & (speed < -1e-12), sides & (speed > 1e-12)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            share = -out / speed
        enter = np.maximum(np.where(coming, share, 0.0).max(axis=0), 0.0)
        leave = np.minimum(np.where(going, share, 1.0).min(axis=0), 1.0)
        # A line along a side is outside when it lies on it, or beyond.
        beside = (sides & ~coming & ~going & (out > -NOISE_MM)).any(axis=0)
        inside = np.where(beside, 0.0, (leave - enter) * length)
        return np.where(inside > TOLERANCE_MM, enter * length, np.inf)


def _met_bent(prism: Prism, starts: Floats, run: Floats, length: Floats) -> Floats:
    """Return the same for one body whose outline bulges in: cut at its sides, each part asked at its middle."""
    ring = np.array(prism.footprint)
    edge = np.roll(ring, -1, axis=0) - ring
    off = ring[None] - starts[:, None, :2]
    turn = run[:, None, 0] * edge[:, 1] - run[:, None, 1] * edge[:, 0]
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        share = (off[..., 0] * edge[:, 1] - off[..., 1] * edge[:, 0]) / turn
        rises = np.array([prism.bottom_mm, prism.top_mm]) - starts[:, 2:3]
        levels = rises / run[:, 2:3]
    cuts = np.concatenate([share, levels, np.zeros((len(run), 1)), np.ones((len(run), 1))], axis=1)
    cuts = np.sort(np.clip(np.nan_to_num(cuts, nan=0.0, posinf=1.0, neginf=0.0), 0.0, 1.0), axis=1)
    middle = (cuts[:, :-1] + cuts[:, 1:]) / 2
    x, y, z = (starts[:, None, i] + run[:, None, i] * middle for i in range(3))
    inside = holds(ring, edge, x, y) & (z > prism.bottom_mm) & (z < prism.top_mm)
    parts = np.where(inside, cuts[:, 1:] - cuts[:, :-1], 0.0)
    first = np.where(parts > 0, cuts[:, :-1], np.inf).min(axis=1)
    return np.where(parts.sum(axis=1) * length > TOLERANCE_MM, first * length, np.inf)


def holds(ring: Floats, edge: Floats, x: Floats, y: Floats) -> npt.NDArray[np.bool_]:
    """Tell which points lie in a ring, by how often a line to the right crosses it."""
    crossings = np.zeros(x.shape, dtype=np.int64)
    for (ax, ay), (ex, ey) in zip(ring, edge, strict=True):
        across = (ay > y) != (ay + ey > y)
        if ey:
            crossings += across & (x < ax + ex * (y - ay) / ey)
    return np.asarray(crossings % 2 == 1)


class _Faces:
    """Wall faces, all at once; openings are filled up to one number a face with some that open nothing."""

    def __init__(self, panels: Sequence[Panel], before: int) -> None:
        self.starts = np.array([panel.a for panel in panels])
        lengths = np.array([panel.length_mm for panel in panels])
        self.along = (np.array([panel.b for panel in panels]) - self.starts) / lengths[:, None]
        self.lengths = lengths
        self.low = np.array([panel.bottom_mm for panel in panels])
        self.high = np.array([panel.top_mm for panel in panels])
        most = max(len(panel.holes) for panel in panels)
        self.holes = np.full((most, 4, len(panels)), np.nan)
        for column, panel in enumerate(panels):
            for number, hole in enumerate(panel.holes):
                self.holes[number, :, column] = (hole.from_mm, hole.to_mm, hole.bottom_mm, hole.top_mm)

    def fill(self, starts: Floats, run: Floats, length: Floats, met: Floats) -> None:
        """Write down where each line (row) crosses each face (column)."""
        normal = np.stack([self.along[:, 1], -self.along[:, 0]])
        out = starts[:, :2] @ normal - (self.starts * normal.T).sum(axis=1)
        speed = run[:, :2] @ normal
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            share = -out / speed
            far = share * length[:, None]
            hit = (far > TOLERANCE_MM) & (far < length[:, None] - TOLERANCE_MM) & (np.abs(speed) > NOISE_MM)
        line, face = np.nonzero(hit)
        share, far = share[line, face], far[line, face]
        along = self.along[face]
        place = ((starts[line, :2] - self.starts[face] + share[:, None] * run[line, :2]) * along).sum(axis=1)
        height = starts[line, 2] + share * run[line, 2]
        # Faces meet in corners: what goes through the corner meets one of them.
        blocked = (place >= -NOISE_MM) & (place <= self.lengths[face] + NOISE_MM)
        blocked &= (height >= self.low[face] - NOISE_MM) & (height <= self.high[face] + NOISE_MM)
        for left, right, low, high in self.holes[:, :, face]:
            through = (place >= left - NOISE_MM) & (place <= right + NOISE_MM)
            blocked &= ~(through & (height >= low - NOISE_MM) & (height <= high + NOISE_MM))
        met[line[blocked], face[blocked]] = far[blocked]
