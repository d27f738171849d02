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
from enfilade.geometry.points import NOISE_MM
from enfilade.geometry.solid import Panel, Prism
from enfilade.lengths import TOLERANCE_MM

__all__ = ["Floats", "Obstructions", "Place", "Sight", "holds"]

Floats = npt.NDArray[np.float64]
Place = tuple[float, float, float]
"""A point in the house: x, y and the height above the floor [mm]."""

_AT_ONCE: Final = 60_000
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
            sides.setdefault(len(prism.footprint) if _convex(prism) else 0, []).append(column)
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
        low = np.minimum(starts.min(axis=0), ends.min(axis=0))
        high = np.maximum(starts.max(axis=0), ends.max(axis=0))
        for bodies in self._blocks:
            near = bodies.near(low, high)
            if len(near):
                met[:, bodies.columns[near]] = bodies.met(starts, run, length, near)
        for column in self._bent:
            met[:, column] = _met_bent(self.prisms[column], starts, run, length)
        if self._faces is not None:
            met[:, len(self.prisms) :] = self._faces.met(starts, run, length)


class _Bodies:
    """Convex bodies with the same number of sides: a line is inside while it is on the inner side of each."""

    def __init__(self, prisms: Sequence[Prism], columns: Sequence[int]) -> None:
        self.columns = np.array(columns)
        rings = np.array([_counter_clockwise(prism) for prism in prisms])  # body, corner, xy
        edges = np.roll(rings, -1, axis=1) - rings
        size = np.hypot(edges[..., 0], edges[..., 1])
        size[size == 0] = 1.0
        self.normals = np.stack([edges[..., 1], -edges[..., 0]], axis=-1) / size[..., None]  # outwards
        self.offsets = (self.normals * rings).sum(axis=-1)
        self.flat = (np.abs(self.normals) < NOISE_MM).all(axis=-1)
        self.low = np.array([prism.bottom_mm for prism in prisms])
        self.high = np.array([prism.top_mm for prism in prisms])
        self.least, self.most = rings.min(axis=1), rings.max(axis=1)

    def near(self, low: Floats, high: Floats) -> npt.NDArray[np.intp]:
        """Return which bodies reach into a box: no line that stays in it can meet the others."""
        inside = (self.low < high[2]) & (self.high > low[2])
        inside &= (self.least < high[:2]).all(axis=1) & (self.most > low[:2]).all(axis=1)
        return np.flatnonzero(inside)

    def met(self, starts: Floats, run: Floats, length: Floats, some: npt.NDArray[np.intp]) -> Floats:
        """Return where each line meets some of the bodies."""
        enter = np.zeros((len(starts), len(some)))
        leave = np.ones_like(enter)
        # One side at a time: large tables of all lines, bodies and sides would not stay in the processor's own memory.
        for side in range(self.normals.shape[1]):
            normal = self.normals[some, side].T
            out = starts[:, :2] @ normal - self.offsets[some, side]
            flat = self.flat[some, side]
            _clip(enter, leave, out, run[:, :2] @ normal, flat if flat.any() else None)
        rise = run[:, 2:3]
        height = starts[:, 2:3]
        _clip(enter, leave, height - self.high[some], np.broadcast_to(rise, enter.shape))
        _clip(enter, leave, self.low[some] - height, np.broadcast_to(-rise, enter.shape))
        inside = (leave - enter) * length[:, None]
        return np.where(inside > TOLERANCE_MM, enter * length[:, None], np.inf)


def _clip(enter: Floats, leave: Floats, out: Floats, speed: Floats, none: npt.NDArray[np.bool_] | None = None) -> None:
    """Cut stretches of lines down to where they are inside one side.

    Args:
        enter, leave: The stretches, as shares of the lines; changed in place.
        out: How far the start of each line is outside the side [mm].
        speed: How much farther outside its end is.
        none: Sides that are no sides.
    """
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        share = -out / speed
    coming, going = speed < -1e-12, speed > 1e-12
    if none is not None:
        coming, going = coming & ~none, going & ~none
    np.copyto(enter, np.maximum(enter, share), where=coming)
    np.copyto(leave, np.minimum(leave, share), where=going)
    # A line along a side is outside when it lies on it, or beyond.
    beside = ~coming & ~going & (out > -NOISE_MM)
    if none is not None:
        beside &= ~none
    np.copyto(leave, -1.0, where=beside)


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

    def met(self, starts: Floats, run: Floats, length: Floats) -> Floats:
        normal = np.stack([self.along[:, 1], -self.along[:, 0]])
        out = starts[:, :2] @ normal - (self.starts * normal.T).sum(axis=1)
        speed = run[:, :2] @ normal
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            share = -out / speed
            far = share * length[:, None]
            place = starts[:, :2] @ self.along.T - (self.starts * self.along).sum(axis=1)
            place = place + share * (run[:, :2] @ self.along.T)
            height = starts[:, 2:3] + share * run[:, 2:3]
            # Faces meet in corners: what goes through the corner meets one of them.
            hit = (far > TOLERANCE_MM) & (far < length[:, None] - TOLERANCE_MM) & (np.abs(speed) > NOISE_MM)
            hit &= (place >= -NOISE_MM) & (place <= self.lengths + NOISE_MM)
            hit &= (height >= self.low - NOISE_MM) & (height <= self.high + NOISE_MM)
            for left, right, low, high in self.holes:
                through = (place >= left - NOISE_MM) & (place <= right + NOISE_MM)
                hit &= ~(through & (height >= low - NOISE_MM) & (height <= high + NOISE_MM))
        return np.where(hit, far, np.inf)


def _signed_area(ring: Floats) -> float:
    after = np.roll(ring, -1, axis=0)
    return float((ring[:, 0] * after[:, 1] - ring[:, 1] * after[:, 0]).sum() / 2)


def _counter_clockwise(prism: Prism) -> Floats:
    ring = np.array(prism.footprint, dtype=np.float64)
    return ring if _signed_area(ring - ring[0]) >= 0 else ring[::-1]


def _convex(prism: Prism) -> bool:
    """Tell whether a footprint bulges in nowhere and does not cross itself."""
    ring = _counter_clockwise(prism)
    into, out = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    cross = into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0]
    turn = np.arctan2(cross, (into * out).sum(axis=1))
    return bool((turn >= -1e-6).all() and turn.sum() < 2 * np.pi + 1e-3)
