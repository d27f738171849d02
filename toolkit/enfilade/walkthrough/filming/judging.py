"""What a camera sees of its subject, and cameras at places that are given."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from enfilade.geometry.points import Point
from enfilade.geometry.sightlines import Obstructions, Place
from enfilade.walkthrough.filming.camera import Kit, Setup, framed_from
from enfilade.walkthrough.filming.costs import framing
from enfilade.walkthrough.filming.sizes import Size
from enfilade.walkthrough.filming.subjects import Subject

__all__ = ["CLEAR", "Seen", "aimed", "judged", "toward"]

CLEAR: Final = 0.97
"""Share of what faces the camera that must be in frame with nothing before it; 95 %, whatever points are looked at."""


@dataclass(frozen=True)
class Seen:
    """What a camera sees of its subject.

    Attributes:
        share: Of the points whose faces turn to it, those that are in frame with nothing before them [-].
        in_frame: Of the same points, those in frame [-].
        hidden_by: Ids of what stands before it, that which hides most first, with the share that each hides.
        missing: Ids of the subject's things of which nothing is seen.
    """

    share: float
    in_frame: float
    hidden_by: tuple[tuple[str, float], ...]
    missing: tuple[str, ...]

    @property
    def enough(self) -> bool:
        """Tell whether the subject is seen."""
        return self.share >= CLEAR and not self.missing


def judged(
    setup: Setup, subject: Subject, kit: Kit, way: Obstructions, *, across: bool = True, upright: bool = True
) -> Seen:
    """Return what a camera sees of its subject, by area.

    Points count whose faces turn to the camera and that the subject's own things do not hide. Walls of the house
    count as what hides.
    """
    eye = np.array(setup.eye)
    facing = ((eye - subject.points) * subject.normals).sum(axis=1) > 1.0
    points, owner = subject.points[facing], subject.owner[facing]
    if not len(points):
        return Seen(0.0, 0.0, (), subject.ids)
    camera = setup.camera(kit)
    seen = camera.seen_from(points)
    depth = np.where(seen[:, 2] > 1.0, seen[:, 2], np.nan)
    u0, v0, u1, v1 = camera.frame
    u, v = seen[:, 0] / depth, seen[:, 1] / depth
    framed = np.isfinite(depth)
    with np.errstate(invalid="ignore"):
        framed &= (u >= u0 - 1e-9) & (u <= u1 + 1e-9) if across else True
        framed &= (v >= v0 - 1e-9) & (v <= v1 + 1e-9) if upright else True
    met = np.isfinite(way.sight(setup.eye, points).met_mm)
    ids = np.array(way.ids)
    own = np.isin(ids, np.array(subject.ids))
    hidden = met[:, ~own].any(axis=1)
    counted = hidden | ~met.any(axis=1)
    area = subject.weights[facing]
    total = max(float(area[counted].sum()), 1e-9)
    shown = framed & counted & ~hidden
    hides: dict[str, np.ndarray] = {}
    for column in np.flatnonzero(met.any(axis=0) & ~own):
        hides[str(ids[column])] = hides.get(str(ids[column]), False) | met[:, column]
    shares = ((name, float(area[one].sum()) / total) for name, one in hides.items())
    ranked = sorted(shares, key=lambda pair: (-pair[1], pair[0]))
    missing = tuple(id for n, id in enumerate(subject.ids) if not (shown & (owner == n)).any())
    return Seen(float(area[shown].sum()) / total, float(area[framed & counted].sum()) / total, tuple(ranked), missing)


def aimed(
    eye: Place, subject: Subject, kit: Kit, size: Size, *, across: bool = True, upright: bool = True
) -> Setup | None:
    """Return the camera at a given place that frames a subject best; None when it lies behind or turns its back."""
    framed = framed_from(np.array([eye]), subject)
    (fills,), (costs,) = framing(framed, kit, size, across=across, upright=upright)
    if not np.isfinite(fills).any():
        return None
    lens, mode = divmod(int(costs.argmin()), costs.shape[1])
    return framed.setup(kit, 0, lens, mode, float(fills[lens, mode]))


def toward(eye: Place, point: Point, kit: Kit) -> Setup:
    """Return a level camera that looks from a place at a point of the plan, through its widest lens."""
    yaw = math.degrees(math.atan2(point[1] - eye[1], point[0] - eye[0])) if point != eye[:2] else 0.0
    return Setup(eye, yaw, 0.0, 0.0, kit.lenses_mm[0], 0.0)
