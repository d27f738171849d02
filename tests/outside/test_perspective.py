"""Projection held against formulae of photography and published drawing geometry."""

from __future__ import annotations

import math

import pytest

from enfilade.geometry.camera import Camera

# Geometry of a rectilinear lens: focal length 24 mm, sensor 36 x 24 mm, the camera tilted by 5 degrees. Upright lines
# vanish f / tan(5 deg) = 274.3 mm from the middle of the picture, the horizon lies f tan(5 deg) = 2.10 mm from it.
_F = 24.0


@pytest.mark.parametrize("pitch", [5.0, -5.0])
def test_far_points_find_the_vertical_vanishing_point_and_the_horizon(pitch: float) -> None:
    camera = Camera.through_lens((0.0, 0.0, 1500.0), 30.0, focal_mm=_F, pitch_deg=pitch)
    sign = math.copysign(1.0, pitch)
    # Along an upright line 2 m ahead, farther and farther up (or down).
    yaw = math.radians(30.0)
    foot = (2000 * math.cos(yaw), 2000 * math.sin(yaw))
    high = camera.project([(*foot, 1500.0 + sign * 1e12)])[0] * _F
    assert abs(high[1]) == pytest.approx(274.3, abs=0.05)
    assert math.copysign(1.0, high[1]) == sign
    # A far point at the height of the eye lies on the horizon.
    level = camera.project([(1e12 * math.cos(yaw + 0.2), 1e12 * math.sin(yaw + 0.2), 1500.0)])[0] * _F
    assert abs(level[1]) == pytest.approx(2.10, abs=0.005)
    assert math.copysign(1.0, level[1]) == -sign
    assert level[1] == pytest.approx(camera.horizon * _F)
    assert camera.vanishing_point((0.0, 0.0, 1.0)) == pytest.approx((0.0, high[1] / _F), abs=1e-6)


def test_a_level_camera_keeps_upright_lines_upright() -> None:
    camera = Camera.through_lens((0.0, 0.0, 1500.0), 17.0, focal_mm=_F, shift_mm=3.0)
    low, high = camera.project([(3000.0, 500.0, 0.0), (3000.0, 500.0, 2700.0)])
    assert low[0] == pytest.approx(high[0], abs=1e-12)
    assert camera.vanishing_point((0.0, 0.0, 1.0)) is None
    assert camera.horizon == 0


def test_a_wall_four_metres_wide_fills_the_picture_from_two_metres_sixty_seven() -> None:
    # width = distance x sensor / focal length: 4000 x 24 / 36 = 2666.7 mm.
    camera = Camera.through_lens((0.0, 0.0, 1500.0), 0.0, focal_mm=_F)
    left, right = camera.project([(4000 * 24 / 36, 2000.0, 1500.0), (4000 * 24 / 36, -2000.0, 1500.0)])
    assert (left[0], right[0]) == pytest.approx((camera.frame[0], camera.frame[2]))


def test_a_camera_at_four_metres_sees_six_by_four() -> None:
    # 24 mm lens, level at 1.2 m: at 4 m it sees 6.0 x 4.0 m, from -0.8 m to 3.2 m; 0.9 mm of shift centre it on 1.35 m.
    camera = Camera.through_lens((0.0, 0.0, 1200.0), 0.0, focal_mm=_F)
    u0, v0, u1, v1 = camera.frame
    assert ((u1 - u0) * 4000, (v1 - v0) * 4000) == pytest.approx((6000, 4000))
    assert (1200 + v0 * 4000, 1200 + v1 * 4000) == pytest.approx((-800, 3200))
    shifted = Camera.through_lens((0.0, 0.0, 1200.0), 0.0, focal_mm=_F, shift_mm=0.9)
    _, v0, _, v1 = shifted.frame
    assert 1200 + (v0 + v1) / 2 * 4000 == pytest.approx(1350)


@pytest.mark.parametrize(
    ("focal", "across"),
    # Horizontal angles of view on a sensor 36 mm wide, as lens tables print them [degrees].
    [(14, 104.3), (16, 96.7), (18, 90.0), (20, 84.0), (24, 73.7), (28, 65.5), (35, 54.4), (50, 39.6), (85, 23.9)],
)
def test_the_angle_of_a_lens(focal: float, across: float) -> None:
    assert Camera.through_lens((0.0, 0.0, 0.0), 0.0, focal_mm=focal).width_deg == pytest.approx(across, abs=0.05)


def test_the_cross_ratio_of_four_points_in_a_line_survives() -> None:
    # Projective geometry (Pappus): the cross ratio of collinear points is the same in every perspective.
    camera = Camera((0.0, 0.0, 1500.0), 12.0, -8.0)
    along = [0.0, 1.0, 2.0, 4.0]
    points = [(3000 + 500 * t, -800 + 300 * t, 200 + 150 * t) for t in along]
    seen = camera.project(points)
    reach = [math.dist(seen[0], p) for p in seen]

    def ratio(a: float, b: float, c: float, d: float) -> float:
        return (c - a) * (d - b) / ((c - b) * (d - a))

    assert ratio(*reach) == pytest.approx(ratio(*along))


def test_two_parallel_level_lines_meet_on_the_horizon() -> None:
    camera = Camera((0.0, 0.0, 1500.0), 20.0, 10.0)
    spot = camera.vanishing_point((1.0, 0.3, 0.0))
    assert spot is not None
    for start in ((1000.0, 0.0, 0.0), (1000.0, 900.0, 2400.0)):
        far = camera.project([(start[0] + 1e10, start[1] + 3e9, start[2])])[0]
        assert far.tolist() == pytest.approx(spot, abs=1e-5)
