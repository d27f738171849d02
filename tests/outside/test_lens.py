"""Lenses against tables of fields of view, and against a projection that is worked out point by point."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade.errors import OutOfRange
from enfilade.trade.lens import (
    SENSOR_SOURCE,
    SENSORS,
    counter_depth_on_sensor_mm,
    distance_to_see_mm,
    field_of_view_deg,
    focal_for_angle_mm,
    focal_to_see_mm,
    heights_seen_mm,
    horizon_on_sensor_mm,
    picture_on_sensor,
    shift_to_recentre_mm,
    vertical_vanishing_mm,
    width_kept_after_correction,
    width_seen_mm,
)

# Fields of view on a picture of 36 x 24 mm, as tables of lenses print them, to 0.1 degree (recalled; worked out apart
# from the toolkit): focal length, horizontal, vertical, diagonal.
FIELDS = [
    (14, 104.3, 81.2, 114.2),
    (16, 96.7, 73.7, 107.0),
    (18, 90.0, 67.4, 100.5),
    (20, 84.0, 61.9, 94.5),
    (24, 73.7, 53.1, 84.1),
    (28, 65.5, 46.4, 75.4),
    (35, 54.4, 37.8, 63.4),
    (50, 39.6, 27.0, 46.8),
    (85, 23.9, 16.1, 28.6),
]


@pytest.mark.parametrize(("focal", "horizontal", "vertical", "diagonal"), FIELDS)
def test_every_row_of_the_table(focal: float, horizontal: float, vertical: float, diagonal: float) -> None:
    for side, printed in ((36.0, horizontal), (24.0, vertical), (math.hypot(36.0, 24.0), diagonal)):
        assert field_of_view_deg(side, focal) == pytest.approx(printed, abs=0.05001)
        assert focal_for_angle_mm(field_of_view_deg(side, focal), side) == pytest.approx(focal)


def test_a_wall_of_four_metres_through_24_mm() -> None:
    # Worked by hand, similar triangles: 4 m x 24 / 36 = 2.667 m; at 4 m, 4 x 36/24 = 6.0 m by 4 x 24/24 = 4.0 m;
    # a level camera at 1.2 m sees 2 m below and above itself; 24 x 0.15 / 4 = 0.9 mm.
    assert distance_to_see_mm(4000, 36, 24) == pytest.approx(2666.667, abs=0.001)
    assert (width_seen_mm(4000, 36, 24), width_seen_mm(4000, 24, 24)) == pytest.approx((6000, 4000))
    assert heights_seen_mm(1200, 4000, 24, 24) == pytest.approx((-800, 3200))
    assert shift_to_recentre_mm(24, 1350 - 1200, 4000) == pytest.approx(0.9)
    assert heights_seen_mm(1200, 4000, 24, 24, shift_mm=0.9) == pytest.approx((1350 - 2000, 1350 + 2000))
    # 24 / tan 5 and 24 x tan 5, with tan 5 = 0.0874887 of printed tables.
    assert vertical_vanishing_mm(24, 5) == pytest.approx(274.3, abs=0.05)
    assert horizon_on_sensor_mm(24, 5) == pytest.approx(2.10, abs=0.005)


def projected(point: np.ndarray, focal: float, pitch_deg: float) -> np.ndarray:
    """Put a point (right, up, ahead) on the sensor of a camera at the origin that is turned up by an angle."""
    pitch = math.radians(pitch_deg)
    turn = np.array([[1, 0, 0], [0, math.cos(pitch), -math.sin(pitch)], [0, math.sin(pitch), math.cos(pitch)]])
    right, up, ahead = turn @ point
    return np.array([right, up]) * focal / ahead


@given(st.floats(8, 200), st.floats(1, 40))
def test_upright_lines_and_the_horizon_meet_where_a_projection_puts_them(focal: float, pitch: float) -> None:
    high = projected(np.array([500.0, 1e12, 3000.0]), focal, pitch)
    far = projected(np.array([500.0, 200.0, 1e12]), focal, pitch)
    assert high == pytest.approx([0, vertical_vanishing_mm(focal, pitch)], rel=1e-6, abs=1e-4)
    assert far == pytest.approx([0, -horizon_on_sensor_mm(focal, pitch)], rel=1e-6, abs=1e-4)


@given(st.floats(8, 200), st.floats(-500, 1500), st.floats(100, 1200), st.floats(300, 9000))
def test_the_depth_of_a_counter_top_is_what_a_projection_shows(
    focal: float, above: float, depth: float, away: float
) -> None:
    front, back = (projected(np.array([0, -above, d]), focal, 0.0)[1] for d in (away, away + depth))
    shown = counter_depth_on_sensor_mm(focal, 900 + above, 900, depth, away)
    assert shown == pytest.approx(max(0.0, back - front), rel=1e-6, abs=1e-9)


@given(st.floats(12, 100), st.floats(10, 36), st.floats(-25, 25))
def test_the_width_left_by_a_correction_is_that_of_the_map(focal: float, side: float, pitch: float) -> None:
    # Rays of the tilted picture's edge, seen again by a level camera: K R K^-1 of textbooks of computer vision.
    turn = math.radians(pitch)
    widths = []
    for y in (-side / 2, 0.0, side / 2):
        ahead = focal * math.cos(turn) - y * math.sin(turn)
        widths.append(focal / ahead)
    assert width_kept_after_correction(focal, side, pitch) == pytest.approx(min(widths) / widths[1])


@given(st.floats(100, 20_000), st.floats(100, 20_000), st.floats(4, 120))
def test_width_distance_and_focal_length_undo_each_other(width: float, away: float, side: float) -> None:
    focal = focal_to_see_mm(width, away, side)
    assert width_seen_mm(away, side, focal) == pytest.approx(width)
    assert distance_to_see_mm(width, side, focal) == pytest.approx(away)


@given(st.floats(1, 200), st.floats(1, 200), st.sampled_from([(16, 9), (3, 2), (4, 3), (1, 1), (9, 16)]))
def test_a_picture_fills_its_sensor_one_way_and_has_its_ratio(wide: float, high: float, ratio: tuple) -> None:
    w, h = picture_on_sensor(wide, high, ratio)
    assert w / h == pytest.approx(ratio[0] / ratio[1])
    assert w <= wide * (1 + 1e-9)
    assert h <= high * (1 + 1e-9)
    assert w == pytest.approx(wide) or h == pytest.approx(high)


def test_sixteen_to_nine_of_a_full_frame() -> None:
    assert picture_on_sensor(36, 24, (16, 9)) == (36, 20.25)  # 36 x 9 / 16
    assert picture_on_sensor(36, 24, (9, 16)) == (13.5, 24)  # 24 x 9 / 16


def test_formats_are_told_from_memory_and_stand_by_size() -> None:
    assert SENSOR_SOURCE.known == "recalled"
    areas = [sensor.width_mm * sensor.height_mm for sensor in SENSORS]
    assert areas == sorted(areas, reverse=True)
    # ISO 1007:2000, 135-size film: nominal picture of 24 x 36 mm (recalled).
    assert ("full frame", 36.0, 24.0) in [(one.name, one.width_mm, one.height_mm) for one in SENSORS]


@pytest.mark.parametrize(
    "call",
    [
        lambda: field_of_view_deg(0, 24),
        lambda: field_of_view_deg(36, math.inf),
        lambda: focal_for_angle_mm(180, 36),
        lambda: focal_for_angle_mm(-5, 36),
        lambda: width_seen_mm(-1, 36, 24),
        lambda: distance_to_see_mm(math.nan, 36, 24),
        lambda: focal_to_see_mm(1, 0, 36),
        lambda: heights_seen_mm(math.nan, 4000, 24, 24),
        lambda: vertical_vanishing_mm(24, 0),
        lambda: vertical_vanishing_mm(24, math.nan),
        lambda: horizon_on_sensor_mm(24, 90),
        lambda: shift_to_recentre_mm(24, math.inf, 1),
        lambda: counter_depth_on_sensor_mm(24, 1, 1, 0, 1),
        lambda: width_kept_after_correction(10, 36, 60),
        lambda: picture_on_sensor(36, 24, (16, 0)),
    ],
)
def test_outside_its_range_a_figure_is_refused(call: Callable[[], object]) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()
