"""One line of sight in section: what it meets on the plan, and by how much it passes over or under."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from enfilade.errors import OutOfRange
from enfilade.geometry.points import NOISE_MM
from enfilade.geometry.sightlines import Floats, Place, holds
from enfilade.geometry.solid import Panel, Prism
from enfilade.lengths import TOLERANCE_MM

__all__ = ["Passing", "height_along_mm", "passings"]


@dataclass(frozen=True, slots=True)
class Passing:
    """How a line of sight passes something that it meets on the plan.

    Attributes:
        id: What it meets.
        from_mm, to_mm: Where, as distances from the eye on the plan [mm]; the same for a wall face.
        line_low_mm, line_high_mm: Lowest and highest point of the line over that stretch, above the floor [mm].
        bottom_mm, top_mm: Heights of what is met [mm].
        clear_mm: By how much the line passes over or under it; below 0 when it goes through [mm]. For a wall face: over
            or under the face itself, its openings not counted.
    """

    id: str
    from_mm: float
    to_mm: float
    line_low_mm: float
    line_high_mm: float
    bottom_mm: float
    top_mm: float

    @property
    def clear_mm(self) -> float:
        """Return by how much the line passes over or under it; below 0 when it goes through [mm]."""
        return max(self.line_low_mm - self.top_mm, self.bottom_mm - self.line_high_mm)


def height_along_mm(eye_height_mm: float, target_height_mm: float, distance_mm: float, along_mm: float) -> float:
    """Return how high a line of sight is above the floor at a distance from the eye.

    Args:
        eye_height_mm, target_height_mm: Its ends above the floor [mm].
        distance_mm: From the eye to the target on the plan, above 0 [mm].
        along_mm: Where, from the eye on the plan [mm].
    Raises:
        OutOfRange: The distance is not above 0, or a number is not finite.

    >>> height_along_mm(1600.0, 1200.0, 4000.0, 1000.0)
    1500.0
    """
    if not (0 < distance_mm < np.inf and np.isfinite([eye_height_mm, target_height_mm, along_mm]).all()):
        raise OutOfRange(f"a line over {distance_mm!r} mm", expected="a distance above 0, and finite heights")
    return eye_height_mm + (target_height_mm - eye_height_mm) * along_mm / distance_mm


def passings(
    eye: Place, target: Place, prisms: Iterable[Prism] = (), panels: Iterable[Panel] = ()
) -> tuple[Passing, ...]:
    """Return all that one line of sight meets on the plan, the nearest first, with the heights there: its section.

    Args:
        eye, target: Ends of the line, apart on the plan [mm].
    Raises:
        OutOfRange: The ends lie over each other, or a number is not finite.
    """
    line = np.array([eye, target], dtype=np.float64)
    plan = float(np.hypot(*(line[1, :2] - line[0, :2])))
    if not (np.isfinite(line).all() and plan > TOLERANCE_MM):
        raise OutOfRange(f"a line from {eye} to {target}", expected="two finite places, apart on the plan")
    found = [*_through_bodies(line, plan, prisms), *_through_faces(line, plan, panels)]
    return tuple(sorted(found, key=lambda one: (one.from_mm, one.to_mm)))


def _through_bodies(line: Floats, plan: float, prisms: Iterable[Prism]) -> Iterator[Passing]:
    (ax, ay, az), (bx, by, bz) = line
    for prism in prisms:
        ring = np.array(prism.footprint)
        edge = np.roll(ring, -1, axis=0) - ring
        off, run = ring - (ax, ay), np.array([bx - ax, by - ay])
        turn = run[0] * edge[:, 1] - run[1] * edge[:, 0]
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            share = (off[:, 0] * edge[:, 1] - off[:, 1] * edge[:, 0]) / turn
        cuts = np.unique(np.clip(np.concatenate([share[np.isfinite(share)], [0.0, 1.0]]), 0.0, 1.0))
        middle = (cuts[:-1] + cuts[1:]) / 2
        inside = holds(ring, edge, ax + run[0] * middle, ay + run[1] * middle)
        for start, end in zip(cuts[:-1][inside], cuts[1:][inside], strict=True):
            if (end - start) * plan > TOLERANCE_MM:
                ends = az + (bz - az) * start, az + (bz - az) * end
                yield Passing(prism.id, start * plan, end * plan, min(ends), max(ends), prism.bottom_mm, prism.top_mm)


def _through_faces(line: Floats, plan: float, panels: Iterable[Panel]) -> Iterator[Passing]:
    (ax, ay, az), (bx, by, bz) = line
    for panel in panels:
        (px, py), (qx, qy) = panel.a, panel.b
        across = (bx - ax) * (qy - py) - (by - ay) * (qx - px)
        if abs(across) < NOISE_MM * plan:
            continue
        share = ((px - ax) * (qy - py) - (py - ay) * (qx - px)) / across
        place = ((px - ax) * (by - ay) - (py - ay) * (bx - ax)) / across
        if 0 <= share <= 1 and 0 <= place <= 1:
            height = float(az + (bz - az) * share)
            at = float(share * plan)
            yield Passing(panel.id, at, at, height, height, panel.bottom_mm, panel.top_mm)
