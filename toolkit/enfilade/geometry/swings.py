"""What moves: doors, drawers, drop-down fronts; the floor that they sweep and what is in their way."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString, Polygon, affinity
from shapely.geometry.base import BaseGeometry

from enfilade.errors import OutOfRange, require_positive
from enfilade.geometry.boxes import Segment, common_part, polygons_of
from enfilade.geometry.points import Point, cosine_and_sine, distance, minus, turned, unit
from enfilade.lengths import TOLERANCE_MM

__all__ = [
    "clearing_shift",
    "drawer_sweep",
    "drop_down_sweep",
    "free_opening_angle",
    "hinged_sweep",
    "open_leaf",
    "overlap_mm2",
]

Floats = npt.NDArray[np.float64]

_NO_AREA_MM2: Final = 1e-2
_STEP_DEG: Final = 1.0
_JUST_OPEN_DEG: Final = 0.2


def hinged_sweep(hinge: Point, closed_end: Point, angle_deg: float, clockwise: bool) -> Polygon:
    """Return the sector of floor that a hinged leaf sweeps.

    Args:
        hinge: Where it turns [mm].
        closed_end: Its free end when closed [mm].
        angle_deg: How far it opens, above 0 and at most 360.
        clockwise: Whether it opens clockwise as seen on the plan.
    Returns:
        A polygon with a corner on the arc for each degree or less: 0.004 % short of the radius between them.
    """
    _check_angle(angle_deg)
    x, y = minus(closed_end, hinge)
    cosines, sines = _spokes(-angle_deg if clockwise else angle_deg)
    arc = np.stack([hinge[0] + (x * cosines - y * sines), hinge[1] + (x * sines + y * cosines)], axis=1)
    return Polygon(np.concatenate([[hinge], arc]))


@lru_cache(maxsize=64)
def _spokes(turn_deg: float) -> tuple[Floats, Floats]:
    """Return the cosines and sines of the steps in which a leaf is turned; doors have few angles."""
    steps = max(1, math.ceil(abs(turn_deg) / _STEP_DEG))
    cosines, sines = np.array([cosine_and_sine(turn_deg * step / steps) for step in range(steps + 1)]).T
    return cosines, sines


def _check_angle(angle_deg: float) -> None:
    if not 0 < angle_deg <= 360:
        raise OutOfRange(f"opening angle {angle_deg!r} deg", expected="above 0 and at most 360")


def open_leaf(
    hinge: Point, closed_end: Point, angle_deg: float, clockwise: bool, thickness_mm: float = 20.0
) -> Polygon:
    """Return the leaf itself at an opening angle (0 is closed), centred on the line from the hinge to its end."""
    require_positive(thickness_mm=thickness_mm)
    x, y = turned(minus(closed_end, hinge), -angle_deg if clockwise else angle_deg)
    line = Segment(hinge, (hinge[0] + x, hinge[1] + y))
    return line.moved(-thickness_mm / 2).strip(thickness_mm)


def drawer_sweep(front: Segment, reach_mm: float) -> Polygon:
    """Return the floor over which a drawer comes out by `reach_mm`."""
    require_positive(reach_mm=reach_mm)
    return front.strip(reach_mm)


def drop_down_sweep(front: Segment, leaf_height_mm: float) -> Polygon:
    """Return the floor over which a front hinged at its foot lies when open: as deep as the leaf is high."""
    require_positive(leaf_height_mm=leaf_height_mm)
    return front.strip(leaf_height_mm)


def free_opening_angle(
    hinge: Point,
    closed_end: Point,
    clockwise: bool,
    obstacles: Iterable[BaseGeometry],
    leaf_thickness_mm: float = 0.0,
    *,
    limit_deg: float = 180.0,
) -> float:
    """Return how far a leaf opens before its leading face meets an obstacle [deg].

    The face meets an obstacle first with its free end on an edge, or at a corner of the obstacle: both
    are solved, none sampled. What the closed leaf merely touches (within 0.8 mm) does not hold it.

    Args:
        hinge, closed_end, clockwise: As for `hinged_sweep`; the line is the middle of the leaf.
        obstacles: Footprints that may be met.
        leaf_thickness_mm: Of the leaf, 0 or more.
        limit_deg: How far its hinges let it go.
    Returns:
        From 0 (held shut) to `limit_deg`.
    """
    _check_angle(limit_deg)
    half, length = leaf_thickness_mm / 2, distance(hinge, closed_end) - TOLERANCE_MM
    across = unit(minus(closed_end, hinge))
    into = (across[1], -across[0]) if clockwise else (-across[1], across[0])
    free_deg = limit_deg
    for shape in obstacles:
        # In the frame of the leaf: x along it when closed, y the way it opens, so that it opens counter-clockwise.
        local = shapely.transform(shape, lambda xy: (xy - hinge) @ np.array([across, into]).T)
        contacts = np.concatenate([_corner_contacts(local, half, length), _end_contacts(local, half, length)])
        free_deg = min([free_deg, *contacts.tolist()])
        if free_deg > _JUST_OPEN_DEG and _held_shut(local, half, length):
            return 0.0
    return free_deg


def _corner_contacts(shape: BaseGeometry, half: float, length: float) -> Floats:
    """Return the angles at which the face meets corners of a shape."""
    xy = shapely.get_coordinates(shape)
    radius = np.hypot(xy[:, 0], xy[:, 1])
    xy, radius = xy[radius > half + TOLERANCE_MM], radius[radius > half + TOLERANCE_MM]
    place = np.sqrt(radius**2 - half**2)
    return _later(np.arctan2(xy[:, 1], xy[:, 0]) - np.arcsin(half / radius), place, place <= length)


def _end_contacts(shape: BaseGeometry, half: float, length: float) -> Floats:
    """Return the angles at which the free end of the face meets edges of a shape."""
    a, b = _edges(shape)
    run, reach2 = b - a, length**2 + half**2
    size2 = np.maximum((run**2).sum(axis=1), 1e-18)
    foot, offset2 = -(a * run).sum(axis=1) / size2, (a[:, 0] * run[:, 1] - a[:, 1] * run[:, 0]) ** 2 / size2
    span = np.sqrt(np.maximum(reach2 - offset2, 0.0) / size2)
    found = []
    for share in (foot - span, foot + span):
        meets = (offset2 <= reach2) & (share >= 0) & (share <= 1)
        xy = a + run * share[:, None]
        angle = np.arctan2(xy[:, 1], xy[:, 0]) - math.atan2(half, length)
        found.append(_later(angle, np.full(len(angle), length), meets))
    return np.concatenate(found)


def _later(angle: Floats, place: Floats, meets: npt.NDArray[np.bool_]) -> Floats:
    """Return those angles [deg] that lie ahead of the closed leaf by more than the tolerance."""
    turn = np.mod(angle, 2 * math.pi)
    ahead: Floats = np.degrees(
        turn[meets & (turn * place > TOLERANCE_MM) & ((2 * math.pi - turn) * place > TOLERANCE_MM)]
    )
    return ahead


def _held_shut(shape: BaseGeometry, half: float, length: float) -> bool:
    ends = [turned((TOLERANCE_MM, half), _JUST_OPEN_DEG), turned((length, half), _JUST_OPEN_DEG)]
    return bool(LineString(ends).intersection(shape).length > TOLERANCE_MM)


def _edges(shape: BaseGeometry) -> tuple[Floats, Floats]:
    """Return the start and end points of all edges of a shape."""
    rings = [shapely.get_coordinates(ring) for ring in shapely.get_parts(shapely.boundary(shape))]
    if not rings:
        return np.empty((0, 2)), np.empty((0, 2))
    return np.concatenate([r[:-1] for r in rings]), np.concatenate([r[1:] for r in rings])


def overlap_mm2(a: BaseGeometry, b: BaseGeometry, *, thin_mm: float = TOLERANCE_MM) -> float:
    """Return the area over which two shapes overlap [mm2]; 0 where they merely touch.

    Args:
        a, b: Footprints or sweeps.
        thin_mm: What is thinner than this is a touch, not an overlap.
    """
    return _overlap_mm2(a, b, thin_mm) if a.intersects(b) else 0.0


@lru_cache(maxsize=512)
def _overlap_mm2(a: BaseGeometry, b: BaseGeometry, thin_mm: float) -> float:
    # Remembered: from one look at a house to the next, few shapes move.
    parts = polygons_of(common_part(a, b))
    return float(sum(part.area for part in parts if not part.buffer(-thin_mm / 2).is_empty))


def clearing_shift(moving: BaseGeometry, fixed: BaseGeometry, direction: Point) -> float:
    """Return the least shift that ends the overlap of two shapes [mm]: the filler that cures a clash.

    Args:
        moving: The shape that may give way.
        fixed: The shape that stays.
        direction: Which way `moving` may go; any length above 0.
    Returns:
        0 when they do not overlap. Touching is no overlap.
    """
    return _clearing_shift(moving, fixed, unit(direction))


@lru_cache(maxsize=512)
def _clearing_shift(moving: BaseGeometry, fixed: BaseGeometry, step: Point) -> float:
    if common_part(moving, fixed).area <= _NO_AREA_MM2:
        return 0.0
    # Overlap can end only where a corner of one comes to an edge of the other.
    shifts = np.concatenate([_meetings(moving, fixed, step), -_meetings(fixed, moving, step)])
    for shift in sorted(set(shifts[shifts > 0].tolist())):
        moved = affinity.translate(moving, step[0] * shift, step[1] * shift)
        if common_part(moved, fixed).area <= _NO_AREA_MM2:
            return float(shift)
    raise OutOfRange("no shift ends the overlap", expected="two shapes of finite size")


def _meetings(corners_of: BaseGeometry, edges_of: BaseGeometry, step: Point) -> Floats:
    """Return the shifts along `step` that bring a corner of one shape onto an edge of the other."""
    points = shapely.get_coordinates(corners_of)[:, None, :]
    a, b = _edges(edges_of)
    normal = np.array((-step[1], step[0]))
    off_a, off_b = ((end[None] - points) @ normal for end in (a, b))
    with np.errstate(divide="ignore", invalid="ignore"):
        share = off_a / (off_a - off_b)
        reach = (a[None] + share[..., None] * (b - a)[None] - points) @ np.array(step)
    # An edge along the shift is met by its own ends, which belong to its neighbours too.
    meets = np.isfinite(reach) & (share >= -1e-9) & (share <= 1 + 1e-9)
    found: Floats = reach[meets]
    return found
