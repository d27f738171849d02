"""The search for a place from which a subject can be framed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from enfilade.geometry.sightlines import Floats, Obstructions
from enfilade.walkthrough.filming.camera import FULL, Framed, Kit, Setup, framed_from
from enfilade.walkthrough.filming.costs import TOO_NEAR, TOO_NEAR_MM, against_light, framing
from enfilade.walkthrough.filming.ground import Ground
from enfilade.walkthrough.filming.sizes import Size
from enfilade.walkthrough.filming.subjects import Subject

__all__ = ["Found", "find", "lens_heights"]

_SURE: Final = 0.975  # More is asked while one searches with few points, so that many points agree.
_CHUNK: Final = 16
_MOST_LOOKED_AT: Final = 96
_FIRST_LOOK: Final = 20
_PROMISES: Final = 0.9
_HIDDEN: Final = 8.0
"""Against hiding all of the subject (own choice, as are the other figures here)."""
_UNDER_CEILING_MM: Final = 150.0
_OTHER_HEIGHTS_MM: Final = (1650.0, 1800.0, 1100.0, 800.0)
_LOOKED_DOWN_ON_MM: Final = 1300.0
_ABOVE_MM: Final = 150.0
_STEP_MM: Final = 120.0
_FARTHEST_MM: Final = 12_000.0


@dataclass(frozen=True)
class Found:
    """The best place that was found.

    Attributes:
        setup: The camera.
        cost: What speaks against it; comparable within one search.
        fits: All of the subject can be in frame there.
        space: The room in whose places it was looked for.
    """

    setup: Setup
    cost: float
    fits: bool
    space: str


def lens_heights(ground: Ground, space: str, first_mm: float) -> tuple[float, ...]:
    """Return the heights at which a lens is tried: the usual one first, all of them under the ceiling [mm]."""
    most = max(ground.ceiling_mm(space) - _UNDER_CEILING_MM, 100.0)
    return tuple(dict.fromkeys(min(height, most) for height in (first_mm, *_OTHER_HEIGHTS_MM)))


def find(
    ground: Ground,
    subject: Subject,
    size: Size,
    kit: Kit,
    space: str,
    heights: Sequence[float],
    *,
    ahead: Iterable[str] = (),
    across: bool = True,
    upright: bool = True,
) -> Found | None:
    """Return the place in a room from which a subject is framed best; None when no place lies before it.

    Places are spread over the free floor, and stand in a row before the subject's front. Each is judged by how nearly
    the subject fills what the size asks, how squarely it is seen from its front, whether its top is looked down on
    where that is most of it, by what stands close before the lens, by the lens (very wide and very long ones last), by
    a level camera (a tilted one last) at the usual height, by windows that face it, and above all by how much of the
    subject is seen. Those that promise most are looked at first; the search ends when none that is left promises more,
    or after 96 at one height. Nothing is left to chance.

    Args:
        ground: The house.
        subject: The framed part.
        size: What it should fill.
        kit: Lenses and picture.
        space: The room in which the camera stands.
        heights: Of the lens, in the order of preference [mm].
        ahead: Rooms that lie between, for what stands in the way.
        across, upright: Whether its width and its height must fit.
    """
    plan = _places(ground, subject, space)
    if not len(plan):
        return None
    way = ground.in_the_way([space, *subject.spaces, *ahead])
    best: Found | None = None
    for number, height in enumerate(heights):
        eyes = np.column_stack([plan, np.full(len(plan), height)])
        framed = framed_from(eyes, subject)
        costs = _costs(ground, framed, subject, size, kit, space, across=across, upright=upright)
        costs = costs + 0.05 * (number > 0) + abs(height - heights[0]) / 1500.0
        found = _best(framed, costs, subject, kit, way, space, best, across=across, upright=upright)
        best = found if best is None or (found is not None and found.cost < best.cost) else best
        if best is not None and best.cost < 1.0:
            break  # Another height would cost more than it can gain.
    return best


def _places(ground: Ground, subject: Subject, space: str) -> Floats:
    places = ground.places(space)
    if subject.front is None:
        return places
    away = np.arange(300.0, _FARTHEST_MM, _STEP_MM)[:, None]
    aside = np.array([-subject.front[1], subject.front[0]])
    rows = [subject.centre[:2] + away * (np.array(subject.front) + lean * aside) for lean in (0.0, 0.35, -0.35)]
    before = np.concatenate(rows)
    return np.concatenate([before[ground.free(space, before)], places])


def _costs(
    ground: Ground,
    framed: Framed,
    subject: Subject,
    size: Size,
    kit: Kit,
    space: str,
    *,
    across: bool,
    upright: bool,
) -> Floats:
    """Return what speaks against each place, lens and mode, before it is known what stands in the way."""
    costs = framing(framed, kit, size, across=across, upright=upright)[1]
    lenses = np.array(kit.lenses_mm)
    costs += (np.maximum(0.0, np.log(28.0 / lenses)) * 0.3 + np.maximum(0.0, np.log(lenses / 50.0)) * 0.15)[:, None]
    if subject.flat_mm is not None and subject.flat_mm < _LOOKED_DOWN_ON_MM:
        costs += np.where(framed.eyes[:, 2] < subject.flat_mm + _ABOVE_MM, 2.5, 0.0)[:, None, None]
    costs += _off_front(framed, subject)[:, None, None]
    light = against_light(ground, ground.room(space), framed.eyes, framed.yaw[:, None], subject.ids)
    return costs + light[:, :, None]


def _off_front(framed: Framed, subject: Subject) -> Floats:
    if subject.front is None:
        return np.zeros(len(framed.eyes))
    to = framed.eyes[:, :2] - subject.centre[:2]
    cosine = to @ np.array(subject.front) / np.maximum(np.hypot(*to.T), 1.0)
    found: Floats = 0.8 * (1.0 - cosine) + np.where(cosine < 0.17, 3.0, 0.0)  # more than 80 degrees off
    return found


def _best(
    framed: Framed,
    costs: Floats,
    subject: Subject,
    kit: Kit,
    way: Obstructions,
    space: str,
    before: Found | None,
    *,
    across: bool,
    upright: bool,
) -> Found | None:
    flat = costs.reshape(len(costs), -1)
    least, which = flat.min(axis=1), flat.argmin(axis=1)
    fills = framed.fills(kit, across=across, upright=upright).reshape(len(costs), -1)
    best = before
    order = np.argsort(least, kind="stable")[: int(np.isfinite(least).sum())]
    promised = least.copy()
    for at in range(0, min(len(order), _MOST_LOOKED_AT), _CHUNK):
        if at == _CHUNK:
            # The first few did not settle it: a glance at all the others tells which are worth looking at.
            promised[order[at:]] += _hiding(_glanced(framed, order[at:], subject, way))
            order[at:] = order[at:][np.argsort(promised[order[at:]], kind="stable")]
        some = order[at : at + _CHUNK]
        if best is not None and not promised[some].min() < best.cost:
            break
        sure = least[some] + _hiding(_clear_shares(framed, some, subject, way)) + _too_near(framed, some, kit, way)
        for place, cost in zip(some.tolist(), sure.tolist(), strict=True):
            if best is None or cost < best.cost:
                lens, mode = divmod(int(which[place]), costs.shape[2])
                fill = float(fills[place, which[place]])
                setup = framed.setup(kit, place, lens, mode, fill)
                best = Found(setup, cost, fill <= FULL and bool(framed.sees[place]), space)
    return best


def _too_near(framed: Framed, some: np.ndarray, kit: Kit, way: Obstructions) -> Floats:
    """Return what speaks against places where something stands close before the lens, by how much it fills."""
    half = math.atan(kit.width_mm / 2 / kit.lenses_mm[0]) * 0.9
    aside, up = np.meshgrid(np.linspace(-half, half, 7), (-0.25, 0.0, 0.25))
    angles = framed.yaw[some][:, None] + aside.ravel()
    run = np.stack([np.cos(angles), np.sin(angles), np.broadcast_to(np.tan(up.ravel()), angles.shape)], axis=-1)
    eyes = np.repeat(framed.eyes[some], up.size, axis=0)
    met = np.isfinite(way.sight(eyes, eyes + TOO_NEAR_MM * run.reshape(-1, 3)).met_mm).any(axis=1)
    return TOO_NEAR * met.reshape(len(some), -1).mean(axis=1)


def _hiding(shares: Floats) -> Floats:
    """Return what speaks against places from which so much is seen."""
    found: Floats = np.where(shares >= _SURE, 0.0, 2.0 + _HIDDEN * (1.0 - shares))
    return found


def _glanced(framed: Framed, some: np.ndarray, subject: Subject, way: Obstructions) -> Floats:
    """Return about what is seen from each place, told by few points; what may be enough counts as enough."""
    step = max(1, len(subject.points) // _FIRST_LOOK)
    shares = _clear_shares(framed, some, subject, way, step)
    return np.where(shares > _PROMISES, 1.0, shares)


def _clear_shares(framed: Framed, some: np.ndarray, subject: Subject, way: Obstructions, step: int = 1) -> Floats:
    """Return of each place the share of what faces it that nothing else hides; a thing missing altogether halves it.

    Args:
        step: Look at every so many points only.
    """
    facing = framed.facing[some]
    if step > 1:
        facing = facing & (np.arange(facing.shape[1]) % step == 0)
    row, column = np.nonzero(facing)
    if not len(row):
        return np.zeros(len(some))
    hidden, itself = _hidden(framed.eyes[some][row], subject.points[column], subject, way)
    counted = ~(itself & ~hidden)
    area = subject.weights[column]
    shown = np.bincount(row[counted & ~hidden], area[counted & ~hidden], len(some))
    share = shown / np.maximum(np.bincount(row[counted], area[counted], len(some)), 1e-9)
    if len(subject.ids) > 1:
        table = np.zeros((len(some), len(subject.ids)), dtype=bool)
        good = counted & ~hidden
        table[row[good], subject.owner[column[good]]] = True
        share = share * np.where(table.all(axis=1), 1.0, 0.5)
    return share


def _hidden(eyes: Floats, points: Floats, subject: Subject, way: Obstructions) -> tuple[np.ndarray, np.ndarray]:
    """Tell which lines something else blocks, and which the subject itself does."""
    met = np.isfinite(way.sight(eyes, points).met_mm)
    own = np.isin(np.array(way.ids), np.array(subject.ids))
    itself = met[:, own].any(axis=1)
    met[:, own] = False
    return np.asarray(met.any(axis=1)), np.asarray(itself)
