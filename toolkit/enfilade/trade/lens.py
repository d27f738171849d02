"""What a camera sees: angles, widths and distances, level and tilted, through a rectilinear lens.

A rectilinear lens keeps straight lines straight. All formulas hold for a lens that is focused far away: nearer than
about ten focal lengths it sees a little less. Shots of rooms are not so near.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from enfilade.errors import OutOfRange, require_positive
from enfilade.sources import Source

__all__ = [
    "SENSORS",
    "SENSOR_SOURCE",
    "Sensor",
    "counter_depth_on_sensor_mm",
    "distance_to_see_mm",
    "field_of_view_deg",
    "focal_for_angle_mm",
    "focal_to_see_mm",
    "heights_seen_mm",
    "horizon_on_sensor_mm",
    "picture_on_sensor",
    "shift_to_recentre_mm",
    "vertical_vanishing_mm",
    "width_kept_after_correction",
    "width_seen_mm",
]


@dataclass(frozen=True, slots=True)
class Sensor:
    """A format by its name in the trade, with the size of its picture [mm]."""

    name: str
    width_mm: float
    height_mm: float


SENSOR_SOURCE: Final = Source(
    document="sizes of camera formats, as makers and handbooks print them",
    body="",
    edition="",
    section="",
    known="recalled",
)
"""Where the sizes in `SENSORS` come from; cameras of one format differ by a few tenths of a millimetre."""

SENSORS: Final[tuple[Sensor, ...]] = (
    Sensor("4 x 5 in sheet film", 121.0, 97.0),
    Sensor("medium format 44 x 33", 43.8, 32.9),
    Sensor("full frame", 36.0, 24.0),
    Sensor("Super 35, full aperture", 24.89, 18.66),
    Sensor("APS-C", 23.6, 15.7),
    Sensor("APS-C, small", 22.3, 14.9),
    Sensor("Four Thirds", 17.3, 13.0),
    Sensor("1 in type", 13.2, 8.8),
    Sensor("1/2.3 in type", 6.17, 4.55),
)
"""Formats, the largest first."""


def field_of_view_deg(sensor_mm: float, focal_mm: float) -> float:
    """Return the angle that a lens sees along one side of the picture, or along its diagonal.

    Args:
        sensor_mm: That side of the picture on the sensor, above 0 [mm].
        focal_mm: Focal length, above 0 [mm].
    Returns:
        The angle, below 180 [deg].
    Raises:
        OutOfRange: A length is zero, negative or not finite.
    Source: 2 atan(side / 2 f), geometry of a rectilinear lens.
    Limits: focused far away; not for fisheye lenses.

    >>> round(field_of_view_deg(36.0, 18.0), 6)
    90.0
    """
    require_positive(sensor_mm=sensor_mm, focal_mm=focal_mm)
    return math.degrees(2 * math.atan(sensor_mm / (2 * focal_mm)))


def focal_for_angle_mm(angle_deg: float, sensor_mm: float) -> float:
    """Return the focal length that sees an angle along one side of the picture.

    Args:
        angle_deg: Above 0 and below 180 [deg].
        sensor_mm: That side of the picture on the sensor, above 0 [mm].
    Raises:
        OutOfRange: A number outside its range.
    Source: the field of view, solved for f.

    >>> round(focal_for_angle_mm(90.0, 36.0), 6)
    18.0
    """
    require_positive(angle_deg=angle_deg, sensor_mm=sensor_mm)
    if angle_deg >= 180:
        raise OutOfRange(f"angle_deg is {angle_deg!r}", expected="below 180: a rectilinear lens sees no half circle")
    return sensor_mm / (2 * math.tan(math.radians(angle_deg) / 2))


def width_seen_mm(distance_mm: float, sensor_mm: float, focal_mm: float) -> float:
    """Return how much of a plane square to the lens is seen at a distance, along one side of the picture.

    Args:
        distance_mm: From the lens to the plane, above 0 [mm].
        sensor_mm: That side of the picture on the sensor, above 0 [mm].
        focal_mm: Focal length, above 0 [mm].
    Raises:
        OutOfRange: A length is zero, negative or not finite.
    Source: D x side / f, similar triangles.

    >>> width_seen_mm(4000.0, 36.0, 24.0)
    6000.0
    """
    require_positive(distance_mm=distance_mm, sensor_mm=sensor_mm, focal_mm=focal_mm)
    return distance_mm * sensor_mm / focal_mm


def distance_to_see_mm(width_mm: float, sensor_mm: float, focal_mm: float) -> float:
    """Return how far away a plane must be for so much of it to be seen.

    Args:
        width_mm: What is to be seen, along one side of the picture, above 0 [mm].
        sensor_mm: That side of the picture on the sensor, above 0 [mm].
        focal_mm: Focal length, above 0 [mm].
    Raises:
        OutOfRange: A length is zero, negative or not finite.
    Source: the width seen, solved for D.

    >>> round(distance_to_see_mm(4000.0, 36.0, 24.0), 1)
    2666.7
    """
    require_positive(width_mm=width_mm, sensor_mm=sensor_mm, focal_mm=focal_mm)
    return width_mm * focal_mm / sensor_mm


def focal_to_see_mm(width_mm: float, distance_mm: float, sensor_mm: float) -> float:
    """Return the longest focal length that sees a width at a distance.

    Args:
        width_mm: What is to be seen, along one side of the picture, above 0 [mm].
        distance_mm: From the lens to the plane, above 0 [mm].
        sensor_mm: That side of the picture on the sensor, above 0 [mm].
    Raises:
        OutOfRange: A length is zero, negative or not finite.
    Source: the width seen, solved for f.

    >>> focal_to_see_mm(6000.0, 4000.0, 36.0)
    24.0
    """
    require_positive(width_mm=width_mm, distance_mm=distance_mm, sensor_mm=sensor_mm)
    return distance_mm * sensor_mm / width_mm


def heights_seen_mm(
    eye_height_mm: float, distance_mm: float, sensor_mm: float, focal_mm: float, *, shift_mm: float = 0.0
) -> tuple[float, float]:
    """Return from which to which height above the floor a level camera sees at a distance.

    Args:
        eye_height_mm: Of the lens above the floor [mm].
        distance_mm: From the lens to an upright plane, above 0 [mm].
        sensor_mm: Height of the picture on the sensor, above 0 [mm].
        focal_mm: Focal length, above 0 [mm].
        shift_mm: How far the lens is shifted up on the sensor; below 0 down [mm].
    Returns:
        The lowest and the highest point [mm]; the lowest is below 0 where the floor fills the foot of the picture.
    Raises:
        OutOfRange: A number outside its range.
    Source: similar triangles.

    >>> heights_seen_mm(1200.0, 4000.0, 24.0, 24.0)
    (-800.0, 3200.0)
    """
    _finite(eye_height_mm=eye_height_mm, shift_mm=shift_mm)
    half = width_seen_mm(distance_mm, sensor_mm, focal_mm) / 2
    middle = eye_height_mm + shift_mm * distance_mm / focal_mm
    return middle - half, middle + half


def vertical_vanishing_mm(focal_mm: float, pitch_deg: float) -> float:
    """Return how far from the centre of the picture upright lines run together, when the camera is tilted.

    Args:
        focal_mm: Focal length, above 0 [mm].
        pitch_deg: How far the camera is tilted up or down: not 0, within 90 either way [deg].
    Returns:
        The distance on the sensor [mm]: above the centre for a camera tilted up.
    Raises:
        OutOfRange: A number outside its range; a level camera keeps upright lines parallel, they never meet.
    Source: f / tan(pitch), perspective.

    >>> round(vertical_vanishing_mm(24.0, 5.0), 1)
    274.3
    """
    require_positive(focal_mm=focal_mm)
    _tilt(pitch_deg)
    if pitch_deg == 0:
        raise OutOfRange("pitch_deg is 0", expected="a tilted camera: a level one keeps upright lines parallel")
    return focal_mm / math.tan(math.radians(abs(pitch_deg)))


def horizon_on_sensor_mm(focal_mm: float, pitch_deg: float) -> float:
    """Return how far from the centre of the picture the horizon lies, when the camera is tilted.

    Args:
        focal_mm: Focal length, above 0 [mm].
        pitch_deg: How far the camera is tilted up or down, within 90 either way [deg].
    Returns:
        The distance on the sensor [mm]: below the centre for a camera tilted up; 0 for a level one.
    Raises:
        OutOfRange: A number outside its range.
    Source: f tan(pitch), perspective.

    >>> round(horizon_on_sensor_mm(24.0, 5.0), 2)
    2.1
    """
    require_positive(focal_mm=focal_mm)
    _tilt(pitch_deg)
    return focal_mm * math.tan(math.radians(abs(pitch_deg)))


def shift_to_recentre_mm(focal_mm: float, height_mm: float, distance_mm: float) -> float:
    """Return how far a lens is shifted to bring a height to the middle of the picture, the camera being level.

    Args:
        focal_mm: Focal length, above 0 [mm].
        height_mm: Of the middle wanted above the lens; below 0 when it lies lower [mm].
        distance_mm: From the lens to the plane, above 0 [mm].
    Returns:
        The shift on the sensor, upwards above 0 [mm].
    Raises:
        OutOfRange: A number outside its range.
    Source: f x height / D, similar triangles.
    Limits: lenses shift by about 12 mm at most, most not at all; what a crop of the picture gives is less.

    >>> round(shift_to_recentre_mm(24.0, 150.0, 4000.0), 3)
    0.9
    """
    require_positive(focal_mm=focal_mm, distance_mm=distance_mm)
    _finite(height_mm=height_mm)
    return focal_mm * height_mm / distance_mm


def counter_depth_on_sensor_mm(
    focal_mm: float, eye_height_mm: float, counter_height_mm: float, depth_mm: float, distance_mm: float
) -> float:
    """Return how deep the top of a counter shows in the picture of a level camera.

    Args:
        focal_mm: Focal length, above 0 [mm].
        eye_height_mm: Of the lens above the floor [mm].
        counter_height_mm: Of the top above the floor [mm].
        depth_mm: Of the counter, front to back, above 0 [mm].
        distance_mm: From the lens to its front edge, above 0 [mm].
    Returns:
        The depth on the sensor [mm]; 0 when the lens is not above the top, which then does not show.
    Raises:
        OutOfRange: A number outside its range.
    Source: f (h - hc) (1 / D - 1 / (D + c)), perspective.

    >>> round(counter_depth_on_sensor_mm(24.0, 1350.0, 914.4, 635.0, 2000.0), 3)
    1.26
    """
    require_positive(focal_mm=focal_mm, depth_mm=depth_mm, distance_mm=distance_mm)
    _finite(eye_height_mm=eye_height_mm, counter_height_mm=counter_height_mm)
    above = max(0.0, eye_height_mm - counter_height_mm)
    return focal_mm * above * (1 / distance_mm - 1 / (distance_mm + depth_mm))


def width_kept_after_correction(focal_mm: float, sensor_height_mm: float, pitch_deg: float) -> float:
    """Return what share of a tilted picture's width is left once upright lines are made parallel afterwards.

    The correction is the planar map that sends the point where they meet to infinity, as if the camera had been turned
    level: one end of the picture becomes narrower than its middle, and the picture is cut to that.

    Args:
        focal_mm: Focal length, above 0 [mm].
        sensor_height_mm: Height of the picture on the sensor, above 0 [mm].
        pitch_deg: How far the camera is tilted up or down [deg]; all of the picture must see less than 90 either way.
    Returns:
        The share, above 0 and at most 1 [-]. Plan with 0.1 less (own choice): resampling and cropping take more.
    Raises:
        OutOfRange: A number outside its range.
    Source: perspective; f cos(pitch) / (f cos(pitch) + side / 2 sin(pitch)).

    >>> round(width_kept_after_correction(24.0, 24.0, 5.0), 3)
    0.958
    """
    require_positive(focal_mm=focal_mm, sensor_height_mm=sensor_height_mm)
    _tilt(pitch_deg)
    pitch = math.radians(abs(pitch_deg))
    if pitch + math.atan(sensor_height_mm / (2 * focal_mm)) >= math.pi / 2:
        raise OutOfRange(f"pitch_deg is {pitch_deg!r}", expected="a picture that does not reach straight up or down")
    level = focal_mm * math.cos(pitch)
    return level / (level + sensor_height_mm / 2 * math.sin(pitch))


def picture_on_sensor(
    sensor_width_mm: float, sensor_height_mm: float, ratio: tuple[float, float]
) -> tuple[float, float]:
    """Return the largest picture of a ratio that a sensor holds, upright on it.

    Args:
        sensor_width_mm, sensor_height_mm: Of the sensor, above 0 [mm].
        ratio: Width to height of the picture, such as (16, 9), both above 0.
    Returns:
        Width and height of the picture on the sensor [mm].
    Raises:
        OutOfRange: A number is zero, negative or not finite.

    >>> picture_on_sensor(36.0, 24.0, (16, 9))
    (36.0, 20.25)
    """
    wide, high = ratio
    require_positive(sensor_width_mm=sensor_width_mm, sensor_height_mm=sensor_height_mm, wide=wide, high=high)
    if sensor_width_mm * high <= sensor_height_mm * wide:
        return sensor_width_mm, sensor_width_mm * high / wide
    return sensor_height_mm * wide / high, sensor_height_mm


def _tilt(pitch_deg: float) -> None:
    if not abs(pitch_deg) < 90:
        raise OutOfRange(f"pitch_deg is {pitch_deg!r}", expected="within 90 degrees, up or down")


def _finite(**values: float) -> None:
    for name, value in values.items():
        if not math.isfinite(value):
            raise OutOfRange(f"{name} is {value!r}", expected="a finite number")
