"""A room as a subject: from where, and which way, most of its floor lies in view."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from enfilade.drawings.perspective_eye import worth_seeing
from enfilade.geometry.outlines import polygon_of
from enfilade.geometry.sightlines import Floats, Place
from enfilade.project.standing import Stand
from enfilade.walkthrough.filming.camera import Kit, Setup
from enfilade.walkthrough.filming.costs import TOO_NEAR, TOO_NEAR_MM, against_light
from enfilade.walkthrough.filming.ground import Ground

__all__ = ["RoomView", "find_room"]

_SPOTS: Final = 110
_MANY_SPOTS: Final = 1500
_SPARE: Final = (0.03, 0.07, 0.12)  # More is asked of few spots until many agree.
_PLACES: Final = 70
_TURNS: Final = 72
_TURN_DEG: Final = 360.0 / _TURNS
_TALL_MM: Final = 1300.0
_AWAY: Final = 0.6
"""Against standing outside the room (own choice, as are the other figures here)."""


@dataclass(frozen=True)
class RoomView:
    """A camera, and how much of a room lies in its view.

    Attributes:
        setup: The camera.
        share: Of the room's floor, seen from above at the height of the lens, that which lies in view [-].
        cost: What speaks against it; comparable within one room.
        space: The room in which it stands.
    """

    setup: Setup
    share: float
    cost: float
    space: str


def find_room(
    ground: Ground, space: str, least: float, kit: Kit, height_mm: float, *, stands_in: str | None = None,
    eye: Place | None = None,
) -> RoomView | None:  # fmt: skip
    """Return the camera that shows a room best; None when a camera can stand nowhere.

    Counted is the floor of the room in view, seen from above at the height of the lens: low things hide nothing, tall
    ones do. The camera is level. The longest lens that shows enough is preferred, then the view in which most of what
    stands in the room is in the picture, a place in the room itself, and no window straight ahead.

    Args:
        ground: The house.
        space: The room that is shown.
        least: Share of its floor that should be in view.
        kit: Lenses and picture.
        height_mm: Of the lens.
        stands_in: Where the camera stands; None: in the room itself, or in what it runs on into.
        eye: Where it stands, when that is given.
    """
    where = stands_in or space
    places = np.array([eye[:2]]) if eye is not None else _thinned(ground.places(where))
    if not len(places):
        return None
    height = eye[2] if eye is not None else height_mm
    spots = _spots(ground, space, height)
    eyes = np.column_stack([places, np.full(len(places), height)])
    row, column = (axis.ravel() for axis in np.indices((len(eyes), len(spots))))
    clear = ground.in_the_way([where, space]).sight(eyes[row], spots[column]).clear.reshape(len(eyes), len(spots))
    shares = _shares(eyes, spots, clear, kit)
    liked = _too_near(ground, eyes, where, kit) - _things_in_view(ground, eyes, space, where, kit)
    best: RoomView | None = None
    for spare in _SPARE:
        costs = _costs(ground, shares, eyes, space, least + spare, kit) + liked
        place, lens, turn = (int(axis) for axis in np.unravel_index(int(costs.argmin()), costs.shape))
        cost = float(costs[place, lens, turn])
        turn = _middle_of_ties(costs[place, lens], turn)
        x, y, z = eyes[place].tolist()
        setup = Setup((x, y, z), turn * _TURN_DEG, 0.0, 0.0, kit.lenses_mm[lens], 0.0)
        view = RoomView(setup, _share_of(ground, setup, space, [where, space], kit), cost, where)
        best = view if best is None or view.share > best.share else best
        if view.share >= least:
            return view
    return best


def _share_of(ground: Ground, setup: Setup, space: str, rooms: list[str], kit: Kit) -> float:
    """Return the share of the floor in view of one camera, told by many more spots than the search looks at."""
    spots = _spots(ground, space, setup.eye[2], _MANY_SPOTS)
    clear = ground.in_the_way(rooms).sight(setup.eye, spots).clear
    to = spots[:, :2] - np.array(setup.eye[:2])
    off = np.abs((np.degrees(np.arctan2(to[:, 1], to[:, 0])) - setup.yaw_deg + 180.0) % 360.0 - 180.0)
    return float((clear & (off <= math.degrees(math.atan(kit.width_mm / 2 / setup.focal_mm)))).mean())


def _thinned(places: Floats) -> Floats:
    """Return fewer places; the corners of the floor come last and are kept."""
    if len(places) <= _PLACES:
        return places
    chosen = np.unique(np.linspace(0, len(places) - 1, _PLACES // 2).round().astype(int))
    return np.concatenate([places[chosen], places[-_PLACES // 2 :]])


def _spots(ground: Ground, space: str, height_mm: float, count: int = _SPOTS) -> Floats:
    """Return points over the whole floor of a room, at the height of the lens, where nothing is at that height."""
    floor = polygon_of(ground.house.spaces[space].outline)
    x0, y0, x1, y1 = floor.bounds
    step = math.sqrt(floor.area / count)
    axes = np.arange(x0 + step / 2, x1, step), np.arange(y0 + step / 2, y1, step)
    net = np.stack([axis.ravel() for axis in np.meshgrid(*axes)], axis=1)
    net = net[shapely.intersects_xy(floor, net[:, 0], net[:, 1])]
    taken = [
        shapely.Polygon(prism.footprint)
        for prism in ground.in_the_way([space]).prisms
        if prism.bottom_mm < height_mm < prism.top_mm
    ]
    if taken:
        free = ~shapely.intersects_xy(shapely.union_all(taken), net[:, 0], net[:, 1])
        net = net[free] if free.any() else net
    if not len(net):
        net = np.array([floor.representative_point().coords[0]])
    return np.column_stack([net, np.full(len(net), height_mm)])


def _shares(eyes: Floats, spots: Floats, clear: np.ndarray, kit: Kit) -> Floats:
    """Return the share of the spots in view: by place, lens and turn; turns are counted from +x."""
    to = spots[None, :, :2] - eyes[:, None, :2]
    angle = np.degrees(np.arctan2(to[..., 1], to[..., 0]))
    found = np.zeros((len(eyes), len(kit.lenses_mm), _TURNS))
    for turn in range(_TURNS):
        off = np.abs((angle - turn * _TURN_DEG + 180.0) % 360.0 - 180.0)
        for lens, focal in enumerate(kit.lenses_mm):
            half = math.degrees(math.atan(kit.width_mm / 2 / focal))
            found[:, lens, turn] = ((off <= half) & clear).mean(axis=1)
    return found


def _costs(ground: Ground, shares: Floats, eyes: Floats, space: str, least: float, kit: Kit) -> Floats:
    short = np.maximum(0.0, least - shares)
    costs = np.where(short > 0, 3.0 + 10.0 * short, 0.8 * np.maximum(0.0, shares - least))
    lenses = np.array(kit.lenses_mm)
    costs += (np.maximum(0.0, np.log(28.0 / lenses)) * 0.4)[None, :, None]
    outline = polygon_of(ground.house.spaces[space].outline)
    away = ~shapely.intersects_xy(outline, eyes[:, 0], eyes[:, 1])
    light = against_light(ground, [space], eyes, np.radians(np.arange(_TURNS) * _TURN_DEG)[None, :])
    return costs + _AWAY * away[:, None, None] + light[:, None, :]


def _things_in_view(ground: Ground, eyes: Floats, space: str, where: str, kit: Kit) -> Floats:
    """Return how much of what stands in the room shows: by place, lens and turn, from 0 to 1, large things more."""
    bodies = worth_seeing(ground.solids.rooms[space])
    if not bodies:
        return np.zeros((len(eyes), len(kit.lenses_mm), _TURNS))
    stands = [body.stand for body in bodies if body.stand is not None]
    spots = np.array([_shown_at(stand) for stand in stands])
    high = [max(stand.thing.top_mm - stand.thing.bottom_mm, 300.0) for stand in stands]
    sizes = np.sqrt([max(s.box.width_mm, s.box.depth_mm) * tall for s, tall in zip(stands, high, strict=True)])
    row, column = (axis.ravel() for axis in np.indices((len(eyes), len(spots))))
    clear = ground.in_the_way([where, space]).sight(eyes[row], spots[column]).clear.reshape(len(eyes), len(spots))
    to = spots[None] - eyes[:, None]
    angle, away = np.arctan2(to[..., 1], to[..., 0]), np.maximum(np.hypot(to[..., 0], to[..., 1]), 1.0)
    found = np.zeros((len(eyes), len(kit.lenses_mm), _TURNS))
    for turn in range(_TURNS):
        off = np.abs((angle - math.radians(turn * _TURN_DEG) + math.pi) % (2 * math.pi) - math.pi)
        ahead = np.maximum(away * np.cos(off), 1e-6)
        aside, up = np.where(off < 1.5, np.tan(np.minimum(off, 1.5)), 9.0), np.abs(to[..., 2]) / ahead
        for lens, focal in enumerate(kit.lenses_mm):
            seen = clear & (aside < kit.width_mm / 2 / focal) & (up < kit.height_mm / 2 / focal)
            found[:, lens, turn] = seen @ sizes / sizes.sum()
    return found


def _shown_at(stand: Stand) -> Place:
    """Return a point just off a thing by which it is told: over its top, or before the front of what is tall."""
    box, thing = stand.box, stand.thing
    if thing.top_mm < _TALL_MM:
        return box.x, box.y, thing.top_mm + 20.0
    x, y = box.at(0.0, -box.depth_mm / 2 - 20.0)
    return x, y, max(thing.bottom_mm, _TALL_MM)


def _too_near(ground: Ground, eyes: Floats, where: str, kit: Kit) -> Floats:
    """Return what speaks against something close before the lens: by place, lens and turn."""
    angles = np.radians(np.arange(_TURNS) * _TURN_DEG)
    flat = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    run = np.concatenate([np.column_stack([flat, np.full(_TURNS, up)]) for up in (-0.25, 0.0, 0.25)])
    starts = np.repeat(eyes, len(run), axis=0)
    ends = starts + TOO_NEAR_MM * np.tile(run, (len(eyes), 1))
    met = np.isfinite(ground.in_the_way([where]).sight(starts, ends).met_mm).any(axis=1)
    near = met.reshape(len(eyes), 3, _TURNS).mean(axis=1)
    found = np.zeros((len(eyes), len(kit.lenses_mm), _TURNS))
    for lens, focal in enumerate(kit.lenses_mm):
        half = round(math.degrees(math.atan(kit.width_mm / 2 / focal)) / _TURN_DEG)
        found[:, lens] = np.mean([np.roll(near, step, axis=1) for step in range(-half, half + 1)], axis=0)
    return TOO_NEAR * found


def _middle_of_ties(costs: Floats, turn: int) -> int:
    """Return the middle of the turns round the best one that are as good as it."""
    good = np.abs(costs - costs[turn]) < 1e-9
    back = next((n for n in range(_TURNS) if not good[(turn - n - 1) % _TURNS]), 0)
    on = next((n for n in range(_TURNS) if not good[(turn + n + 1) % _TURNS]), 0)
    return (turn + (on - back) // 2) % _TURNS
