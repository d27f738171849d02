"""A camera that draws straight lines straight: where points of a house fall in its picture.

Picture coordinates are those of a plane at distance 1 before the eye: u to the right and v upwards from the optical
axis, so that a lens of focal length f puts a point at f·u and f·v on its sensor.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
import numpy.typing as npt

from enfilade.errors import OutOfRange, require_positive

__all__ = ["NEAR_MM", "WIDTH_DEG", "Camera", "Vector", "camera_toward"]

Vector = tuple[float, float, float]
Array = npt.NDArray[np.float64]

NEAR_MM: Final = 60.0
"""What is nearer to the plane of the eye than this is not drawn (own choice)."""

WIDTH_DEG: Final = 74.0
"""From side to side, where nothing else is asked: as through a 24 mm lens on a frame 36 mm wide (own choice)."""

_STEEPEST_DEG: Final = 89.0


@dataclass(frozen=True)
class Camera:
    """A camera, or the eye of a person, without roll.

    Attributes:
        eye: Where it stands: x, y of the plan, and height above the floor [mm].
        yaw_deg: Direction on the plan in which it looks, counter-clockwise from +x.
        pitch_deg: How far it looks up (down when below 0); 0 keeps upright edges upright and parallel.
        width_deg: Angle from side to side of the picture.
        ratio: Width of the picture to its height.
        rise: How far the picture is shifted up, in picture coordinates: a lens shift of `rise` times the focal length.
        near_mm: What is nearer to the plane of the eye is not seen.
    Raises:
        OutOfRange: A number that is not finite, an angle or ratio that no camera has.
    """

    eye: Vector
    yaw_deg: float
    pitch_deg: float = 0.0
    width_deg: float = WIDTH_DEG
    ratio: float = 1.5
    rise: float = 0.0
    near_mm: float = NEAR_MM

    def __post_init__(self) -> None:
        if not all(map(math.isfinite, (*self.eye, self.yaw_deg, self.pitch_deg, self.rise))):
            raise OutOfRange(f"a camera at {self.eye}, turned {self.yaw_deg}", expected="finite numbers")
        require_positive(width_deg=self.width_deg, ratio=self.ratio, near_mm=self.near_mm)
        if self.width_deg >= 180:
            raise OutOfRange(f"width_deg is {self.width_deg}", expected="an angle below 180 degrees")
        if abs(self.pitch_deg) > _STEEPEST_DEG:
            raise OutOfRange(f"pitch_deg is {self.pitch_deg}", expected=f"at most {_STEEPEST_DEG:g} up or down")

    @classmethod
    def through_lens(
        cls,
        eye: Vector,
        yaw_deg: float,
        *,
        focal_mm: float,
        sensor_width_mm: float = 36.0,
        ratio: float = 1.5,
        pitch_deg: float = 0.0,
        shift_mm: float = 0.0,
    ) -> Camera:
        """Return the camera with a lens of this focal length.

        Args:
            focal_mm: Focal length, above 0 [mm].
            sensor_width_mm: Width of the picture on the sensor, above 0 [mm].
            shift_mm: Upward shift of the lens [mm].
        Source: angle = 2 atan(width / 2 f), rectilinear lens focused at infinity.
        """
        require_positive(focal_mm=focal_mm, sensor_width_mm=sensor_width_mm)
        angle = 2 * math.degrees(math.atan(sensor_width_mm / (2 * focal_mm)))
        return cls(eye, yaw_deg, pitch_deg, angle, ratio, shift_mm / focal_mm)

    @cached_property
    def axes(self) -> Array:
        """The unit vectors to the right, up and ahead, as rows."""
        yaw, pitch = math.radians(self.yaw_deg), math.radians(self.pitch_deg)
        c, s = math.cos(yaw), math.sin(yaw)
        ahead = (c * math.cos(pitch), s * math.cos(pitch), math.sin(pitch))
        up = (-c * math.sin(pitch), -s * math.sin(pitch), math.cos(pitch))
        return np.array([(s, -c, 0.0), up, ahead])

    @cached_property
    def frame(self) -> tuple[float, float, float, float]:
        """Least u and v, greatest u and v of the picture."""
        half = math.tan(math.radians(self.width_deg) / 2)
        high = half / self.ratio
        return -half, self.rise - high, half, self.rise + high

    @property
    def area(self) -> float:
        """Return the area of the picture, in picture coordinates."""
        u0, v0, u1, v1 = self.frame
        return (u1 - u0) * (v1 - v0)

    def seen_from(self, points: npt.ArrayLike) -> Array:
        """Return points as the camera has them: to the right, up and ahead of the eye [mm]."""
        # Not `@`: for many points the matrix library starts threads, which cost more than the products themselves.
        off = np.asarray(points, dtype=float) - np.array(self.eye)
        return np.asarray(np.einsum("...k,jk->...j", off, self.axes))

    def project(self, points: npt.ArrayLike) -> Array:
        """Return the picture coordinates of points; NaN for those that are not before the near plane.

        Args:
            points: x, y, z in rows [mm].
        Returns:
            u, v in rows.
        """
        seen = self.seen_from(points).reshape(-1, 3)
        depth = np.where(seen[:, 2] >= self.near_mm, seen[:, 2], np.nan)
        return np.asarray(seen[:, :2] / depth[:, None])

    def vanishing_point(self, direction: Vector) -> tuple[float, float] | None:
        """Return where lines of a direction meet in the picture plane; None when they stay parallel."""
        right, up, ahead = (self.axes @ np.array(direction, dtype=float)).tolist()
        if abs(ahead) < 1e-12 * math.hypot(*direction):
            return None
        return right / ahead, up / ahead

    @property
    def horizon(self) -> float:
        """Return the v at which level lines vanish."""
        return -math.tan(math.radians(self.pitch_deg))

    def ray(self, u: float, v: float) -> Vector:
        """Return the direction, of length 1, in which a point of the picture lies."""
        x, y, z = (np.array([u, v, 1.0]) @ self.axes / math.sqrt(u * u + v * v + 1)).tolist()
        return x, y, z

    def clipped(self, ring: Array) -> Array:
        """Return the part before the near plane of a ring in the camera's own coordinates; it may have no rows."""
        depth = ring[:, 2] - self.near_mm
        if (depth >= 0).all():
            return ring
        kept: list[Array] = []
        for here, there, d, e in zip(ring, np.roll(ring, -1, axis=0), depth, np.roll(depth, -1), strict=True):
            if d >= 0:
                kept.append(here)
            if (d >= 0) != (e >= 0):
                kept.append(here + (there - here) * (d / (d - e)))
        return np.array(kept).reshape(-1, 3)


def camera_toward(
    eye: Vector, toward: Vector, *, width_deg: float = WIDTH_DEG, ratio: float = 1.5, level: bool = False
) -> Camera:
    """Return the camera that looks from an eye at a point.

    Args:
        eye, toward: x, y and height [mm].
        width_deg, ratio: As for `Camera`.
        level: Keep the camera level and shift the lens instead, so that upright edges stay parallel.
    Raises:
        OutOfRange: Both are the same point of the plan.
    """
    dx, dy, dz = (b - a for a, b in zip(eye, toward, strict=True))
    reach = math.hypot(dx, dy)
    if not reach > 0:
        raise OutOfRange(f"an eye at {eye} that looks at {toward}", expected="a point elsewhere on the plan")
    yaw = math.degrees(math.atan2(dy, dx))
    slope = dz / reach
    if level:
        return Camera(eye, yaw, 0.0, width_deg, ratio, rise=slope)
    pitch = max(-_STEEPEST_DEG, min(_STEEPEST_DEG, math.degrees(math.atan(slope))))
    return Camera(eye, yaw, pitch, width_deg, ratio)
