"""Where to stand in a room to see what is in it."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.drawings.solids import Body, HouseSolids, RoomSolids
from enfilade.geometry.camera import WIDTH_DEG, Camera, camera_toward
from enfilade.geometry.outlines import free_floor, polygon_of

__all__ = ["EYE_MM", "camera_from", "standing_camera", "worth_seeing"]

Array = npt.NDArray[np.float64]

EYE_MM: Final = 1581.0
"""Height of a standing person's eye: mean of derived eye heights of men (1642.4 mm) and women (1519.5 mm), from the US
Army anthropometric survey of 2012 (ANSUR II), weighted alike."""

_SMALL: Final = frozenset(
    {"receptacle", "switch", "light", "extinguisher", "rug", "window treatment", "panel", "filler"}
)
"""What does not make a room worth a perspective of its own (own choice)."""
_OFF_MM: Final = (350.0, 200.0, 60.0)
"""How far from walls and things one stands, as far as the room lets (own choice)."""
_WIDER_DEG: Final = 88.0
"""In a small room (own choice)."""
_SMALL_MM: Final = 2200.0
"""In a room that is less deep from where one stands, more is taken in from side to side (own choice)."""
_LOOKS_DOWN_MM: Final = 600.0
"""One looks at what stands in a room, not over it: so much below the eye (own choice)."""
_FARTHEST_MM: Final = 4000.0
_RATIO: Final = 1.5
_STEEP: Final = 0.4
"""Up to this slope the lens is shifted and upright edges stay upright; beyond, the eye tilts (own choice)."""
_NEAR_MM: Final = 1300.0
_STEPS: Final = 8


def worth_seeing(room: RoomSolids) -> tuple[Body, ...]:
    """Return what makes a room worth a perspective; none in an empty room."""
    return tuple(body for body in room.bodies if body.stand is not None and body.stand.thing.kind not in _SMALL)


def camera_from(
    eye: tuple[float, float, float], toward: tuple[float, float], height_mm: float | None, width_deg: float = WIDTH_DEG
) -> Camera:
    """Return the camera of a view: level when no height is aimed at, and shifted rather than tilted where that will do.

    An eye that aims at the point it stands on looks up the plan.
    """
    x, y, z = eye
    reach = math.hypot(toward[0] - x, toward[1] - y)
    if reach < 1:
        toward, reach = (x, y + 1000.0), 1000.0
    aim = z if height_mm is None else height_mm
    level = abs(aim - z) <= _STEEP * reach
    return camera_toward(eye, (*toward, aim), width_deg=width_deg, ratio=_RATIO, level=level)


def standing_camera(solids: HouseSolids, space_id: str) -> Camera | None:
    """Return a camera at the eye of a person who stands on free floor and sees most of what is in a room.

    Standing points are tried on a grid; a thing counts by its size, less when it is far, and hardly when something tall
    stands before it. None when nothing stands in the room, or there is nowhere to stand.
    """
    room = solids.rooms[space_id]
    bodies = worth_seeing(room)
    if not bodies:
        return None
    targets, weights = _targets(bodies)
    middle = (targets * weights[:, None]).sum(axis=0) / weights.sum()
    # One may stand in the part of the room that it runs on into.
    whole = [solids.rooms[name] for name in sorted(solids.house.rooms[space_id])]
    floor = shapely.union_all([polygon_of(one.space.outline).buffer(1.0, join_style="mitre") for one in whole])
    around = shapely.Point(middle).buffer(_FARTHEST_MM)
    spots = np.concatenate([_spots(one, None if one is room else around) for one in whole])
    tall = [shape for one in whole for shape in _tall(one)]
    best, camera = -1.0, None
    height = min(EYE_MM, room.ceiling_mm - 200.0)
    for spot in spots:
        worth = _worth(spot, targets, weights, tall, floor)
        for aim in (middle, _weighted(targets, worth)):
            run = aim - spot
            if float(run @ run) < 1e4:
                continue
            seen = _within(spot, run, targets) * worth
            # A room shows as deep as it is: standing back counts for itself.
            score = float(seen.sum()) * (1 + 0.12 * min(float(np.sqrt(run @ run)) / 1000, 5.0))
            score *= _free_ahead(spot, run, tall)
            if score > best:
                best = score
                eye, toward = (float(spot[0]), float(spot[1]), height), (float(aim[0]), float(aim[1]))
                reach = float(np.sqrt(run @ run))
                lower = min(_LOOKS_DOWN_MM, 0.9 * _STEEP * reach)
                camera = camera_from(eye, toward, height - lower, WIDTH_DEG if reach > _SMALL_MM else _WIDER_DEG)
    return camera


def _spots(room: RoomSolids, within: shapely.Polygon | None) -> Array:
    """Return standing points on the free floor of a room, or on the part of it that lies within a shape."""
    footprints = [
        body.stand.box.polygon
        for body in room.bodies
        if body.stand is not None and body.stand.thing.kind != "rug" and body.stand.thing.bottom_mm < EYE_MM
    ]
    free = free_floor(room.space.outline, footprints)
    if within is not None:
        free = free.intersection(within)
    for off in _OFF_MM:
        inner = free.buffer(-off)
        if not inner.is_empty:
            break
    else:
        return np.zeros((0, 2))
    x0, y0, x1, y1 = inner.bounds
    xs, ys = np.meshgrid(np.linspace(x0, x1, _STEPS), np.linspace(y0, y1, _STEPS))
    grid = np.column_stack([xs.ravel(), ys.ravel()])
    inside = grid[shapely.contains_xy(inner.buffer(1.0), grid)]
    return inside if len(inside) else np.array([[inner.representative_point().x, inner.representative_point().y]])


def _targets(bodies: tuple[Body, ...]) -> tuple[Array, Array]:
    stands = [body.stand for body in bodies if body.stand is not None]
    points = np.array([(stand.box.x, stand.box.y) for stand in stands])
    sizes = [
        max(stand.box.width_mm, stand.box.depth_mm) * max(stand.thing.top_mm - stand.thing.bottom_mm, 300.0)
        for stand in stands
    ]
    return points, np.sqrt(np.array(sizes))


def _tall(room: RoomSolids) -> list[shapely.Polygon]:
    return [
        body.stand.box.polygon
        for body in room.bodies
        if body.stand is not None
        and body.blocks
        and body.stand.thing.top_mm > EYE_MM - 250 > body.stand.thing.bottom_mm
    ]


def _worth(spot: Array, targets: Array, weights: Array, tall: list[shapely.Polygon], floor: BaseGeometry) -> Array:
    """Return how much each thing counts from a standing point."""
    runs = targets - spot
    reach = np.sqrt((runs**2).sum(axis=1))
    # Up to shortly before the middle of the thing itself, which may be tall.
    ends = spot + runs * np.maximum(0.0, 1 - 500.0 / np.maximum(reach, 1.0))[:, None]
    lines = shapely.linestrings(np.stack([np.broadcast_to(spot, ends.shape), ends], axis=1))
    crossed = ~shapely.covers(floor, lines)
    for shape in tall:
        crossed |= shapely.intersects(shape, lines)
    return np.asarray(
        weights * np.where(crossed, 0.1, 1.0) * np.clip(reach / 1200, 0.2, 1.0) / (1 + (reach / 9000) ** 2)
    )


def _weighted(targets: Array, worth: Array) -> Array:
    return np.asarray((targets * worth[:, None]).sum(axis=0) / max(float(worth.sum()), 1e-9))


def _within(spot: Array, run: Array, targets: Array) -> Array:
    """Tell which targets lie in the picture, a little from its sides."""
    to = targets - spot
    angle = np.arctan2(run[0] * to[:, 1] - run[1] * to[:, 0], to @ run)
    return np.asarray(np.abs(angle) < math.radians(WIDTH_DEG / 2 - 3), dtype=float)


def _free_ahead(spot: Array, run: Array, tall: list[shapely.Polygon]) -> float:
    """Return how little something tall stands close before the eye."""
    ahead = run / np.sqrt(run @ run)
    square = np.array([-ahead[1], ahead[0]])
    half = math.tan(math.radians(WIDTH_DEG / 2)) * _NEAR_MM
    near = shapely.Polygon([spot, spot + ahead * _NEAR_MM - square * half, spot + ahead * _NEAR_MM + square * half])
    covered = sum(shape.intersection(near).area for shape in tall if shape.intersects(near))
    return max(0.1, 1 - 2 * covered / near.area)
