"""Cameras at many places at once: how much of the picture a subject fills, level, shifted or tilted."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from enfilade.geometry.camera import Camera
from enfilade.geometry.sightlines import Floats, Place
from enfilade.project.speaking import Filming
from enfilade.trade.lens import picture_on_sensor
from enfilade.walkthrough.filming.subjects import Subject

__all__ = ["FULL", "MODES", "Framed", "Kit", "Setup", "framed_from"]

FULL: Final = 0.97
"""What fills more of the picture than this is not in frame: a little is left at its edge (own choice)."""

MODES: Final = ("level", "shifted", "tilted")
_NEAREST_MM: Final = 250.0
_STEEPEST_DEG: Final = 35.0


@dataclass(frozen=True)
class Kit:
    """What it is filmed with.

    Attributes:
        lenses_mm: Focal lengths, ascending, each once.
        width_mm, height_mm: The picture on the sensor.
        spare_mm: How far the picture can move up or down on the sensor: rows that it leaves unused, half on each side.
    """

    lenses_mm: tuple[float, ...]
    width_mm: float
    height_mm: float
    spare_mm: float

    @classmethod
    def of(cls, filming: Filming, focal_mm: float | None = None) -> Kit:
        """Return the kit of a project, or the same with the one lens that a shot asks."""
        wide, high = (int(side) for side in filming.picture.split(":"))
        width, height = picture_on_sensor(filming.sensor_width_mm, filming.sensor_height_mm, (wide, high))
        lenses = (focal_mm,) if focal_mm else (filming.lenses_mm or Filming().lenses_mm)
        return cls(tuple(sorted(set(lenses))), width, height, (filming.sensor_height_mm - height) / 2)


@dataclass(frozen=True)
class Setup:
    """A camera, set up.

    Attributes:
        eye: Of the lens: x, y, height above the floor [mm].
        yaw_deg: Where it looks on the plan, counter-clockwise from +x.
        pitch_deg: How far it is tilted up; 0 keeps upright lines parallel.
        shift_mm: How far the picture is moved up on the sensor, or the lens shifted.
        focal_mm: The lens.
        fills: Share of the picture's width or height that the subject fills, whichever is more.
    """

    eye: Place
    yaw_deg: float
    pitch_deg: float
    shift_mm: float
    focal_mm: float
    fills: float

    def camera(self, kit: Kit) -> Camera:
        """Return the camera for drawing and projecting."""
        return Camera.through_lens(
            self.eye, self.yaw_deg, focal_mm=self.focal_mm, sensor_width_mm=kit.width_mm,
            ratio=kit.width_mm / kit.height_mm, pitch_deg=self.pitch_deg, shift_mm=self.shift_mm,
        )  # fmt: skip

    @property
    def ahead(self) -> Place:
        """Return the unit vector along which it looks, the shift left out."""
        yaw, pitch = math.radians(self.yaw_deg), math.radians(self.pitch_deg)
        return math.cos(yaw) * math.cos(pitch), math.sin(yaw) * math.cos(pitch), math.sin(pitch)

    def extent_deg(self, subject: Subject | None, *, across: bool) -> float:
        """Return the angle that a subject takes up, across or upright; 0 for a room."""
        if subject is None:
            return 0.0
        to = subject.points - np.array(self.eye)
        yaw = math.radians(self.yaw_deg)
        ahead = to[:, 0] * math.cos(yaw) + to[:, 1] * math.sin(yaw)
        aside = to[:, 0] * math.sin(yaw) - to[:, 1] * math.cos(yaw)
        angle = np.degrees(np.arctan2(aside if across else to[:, 2], np.abs(ahead) if not across else ahead))
        return float(angle.max() - angle.min())


@dataclass(frozen=True, eq=False)
class Framed:
    """A subject as it is framed from many places (rows), aimed at its middle.

    Attributes:
        eyes: x, y, height [mm].
        facing: Which points of the subject (columns) turn their face to the eye.
        yaw: Where each camera looks [rad].
        pitch: How far it is tilted to bring the subject to the middle [rad].
        sees: Whether the whole of what faces it lies before the lens.
        wide: Half the subject's width to the distance, level and tilted.
        low, high: Its lowest and highest point to the distance, level.
        tall: Half its height to the distance, tilted.
    """

    eyes: Floats
    facing: np.ndarray
    yaw: Floats
    pitch: Floats
    sees: np.ndarray
    wide: Floats
    wide_tilted: Floats
    low: Floats
    high: Floats
    tall: Floats

    def fills(self, kit: Kit, *, across: bool = True, upright: bool = True) -> Floats:
        """Return what share of the picture the subject fills: places, lenses, modes; infinite where it cannot be seen.

        Args:
            across, upright: Whether its width and its height must fit; a move may cross them.
        """
        lenses = np.array(kit.lenses_mm)
        w, h = (kit.width_mm / 2, kit.height_mm / 2)
        side = self.wide[:, None] * lenses / w
        side_tilted = self.wide_tilted[:, None] * lenses / w
        level = np.maximum(np.abs(self.low), np.abs(self.high))[:, None] * lenses / h
        shift = self.shifts(kit)
        moved = np.maximum(np.abs(self.low[:, None] * lenses - shift), np.abs(self.high[:, None] * lenses - shift))
        found = np.stack(
            [
                np.maximum(side * across, level * upright),
                np.maximum(side * across, moved / h * upright),
                np.maximum(side_tilted * across, self.tall[:, None] * lenses / h * upright),
            ],
            axis=2,
        )
        found[~self.sees] = np.inf
        return found

    def shifts(self, kit: Kit) -> Floats:
        """Return how far the picture is moved up on the sensor to bring the subject to its middle [mm]."""
        wanted: Floats = (self.low + self.high)[:, None] / 2 * np.array(kit.lenses_mm)
        return np.clip(wanted, -kit.spare_mm, kit.spare_mm)

    def setup(self, kit: Kit, place: int, lens: int, mode: int, fills: float) -> Setup:
        """Return one of the cameras."""
        x, y, z = self.eyes[place].tolist()
        return Setup(
            eye=(x, y, z),
            yaw_deg=math.degrees(float(self.yaw[place])),
            pitch_deg=math.degrees(float(self.pitch[place])) if MODES[mode] == "tilted" else 0.0,
            shift_mm=float(self.shifts(kit)[place, lens]) if MODES[mode] == "shifted" else 0.0,
            focal_mm=kit.lenses_mm[lens],
            fills=fills,
        )


def framed_from(eyes: Floats, subject: Subject) -> Framed:
    """Return how a subject is framed from many places.

    Args:
        eyes: x, y, height in rows [mm].
        subject: What is framed: the points whose faces turn to the eye.
    """
    to = subject.points[None] - eyes[:, None]  # eye, point, xyz
    facing = (to * -subject.normals).sum(axis=2) > 1.0
    aim = subject.centre[:2] - eyes[:, :2]
    base = np.arctan2(aim[:, 1], aim[:, 0])
    c, s = np.cos(base)[:, None], np.sin(base)[:, None]
    ahead, right = to[..., 0] * c + to[..., 1] * s, to[..., 0] * s - to[..., 1] * c
    before = ahead > _NEAREST_MM
    sees = (before | ~facing).all(axis=1) & facing.any(axis=1)
    use = facing & before
    ahead = np.where(use, ahead, 1.0)
    angle = np.arctan2(right, ahead)
    least, most = _least(angle, use), _most(angle, use)
    turn = (least + most) / 2
    wide = np.tan(np.minimum((most - least) / 2, 1.55))
    # Turned to the middle of it, the distance ahead is another.
    c, s = np.cos(turn)[:, None], np.sin(turn)[:, None]
    deep = np.where(use, ahead * c + right * s, 1.0)
    across = np.where(use, right * c - ahead * s, 0.0)
    near = deep < _NEAREST_MM / 2
    sees &= ~(near & use).any(axis=1)
    deep = np.where(near, 1.0, deep)
    rise = to[..., 2] / deep
    low, high = _least(rise, use), _most(rise, use)
    pitch = np.clip((np.arctan(low) + np.arctan(high)) / 2, *np.radians([-_STEEPEST_DEG, _STEEPEST_DEG]))
    c, s = np.cos(pitch)[:, None], np.sin(pitch)[:, None]
    tilted = np.maximum(deep * c + to[..., 2] * s, 1.0)
    up = (to[..., 2] * c - deep * s) / tilted
    aside = np.abs(across) / tilted
    return Framed(
        eyes=eyes,
        facing=use,
        yaw=base - turn,
        pitch=pitch,
        sees=sees,
        wide=wide,
        wide_tilted=_most(aside, use),
        low=low,
        high=high,
        tall=np.maximum(np.abs(_least(up, use)), np.abs(_most(up, use))),
    )


def _least(values: Floats, use: np.ndarray) -> Floats:
    found: Floats = np.where(use, values, np.inf).min(axis=1)
    return np.where(np.isfinite(found), found, 0.0)


def _most(values: Floats, use: np.ndarray) -> Floats:
    found: Floats = np.where(use, values, -np.inf).max(axis=1)
    return np.where(np.isfinite(found), found, 0.0)
