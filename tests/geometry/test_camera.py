"""The camera: where points fall in the picture, and which ray a spot of the picture has."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade.errors import OutOfRange
from enfilade.geometry.camera import Camera, camera_toward

_ANGLES = st.floats(-180, 180)


def test_the_axes_of_a_camera_that_looks_along_x() -> None:
    # Looking along +x, right is -y and up is up.
    assert Camera((0.0, 0.0, 0.0), 0.0).axes.round(12).tolist() == [[0, -1, 0], [0, 0, 1], [1, 0, 0]]


def test_a_point_ahead_left_and_above() -> None:
    # 3000 ahead, 600 to the left, 300 above the eye: -0.2 and 0.1.
    camera = Camera((1000.0, 2000.0, 1500.0), 90.0)
    assert camera.project([(400.0, 5000.0, 1800.0)])[0].tolist() == pytest.approx([-0.2, 0.1])


def test_what_lies_behind_has_no_place() -> None:
    assert np.isnan(Camera((0.0, 0.0, 0.0), 0.0).project([(-10.0, 0.0, 0.0), (50.0, 0.0, 0.0)])).all()


@given(yaw=_ANGLES, pitch=st.floats(-80, 80), u=st.floats(-1, 1), v=st.floats(-1, 1), far=st.floats(300, 3e4))
def test_a_point_on_a_ray_falls_where_the_ray_starts(yaw: float, pitch: float, u: float, v: float, far: float) -> None:
    camera = Camera((123.0, -456.0, 1400.0), yaw, pitch)
    x, y, z = camera.ray(u, v)
    assert math.sqrt(x * x + y * y + z * z) == pytest.approx(1)
    point = (123.0 + x * far, -456.0 + y * far, 1400.0 + z * far)
    assert camera.project([point])[0].tolist() == pytest.approx([u, v], abs=1e-7)


@given(yaw=_ANGLES, pitch=st.floats(-80, 80))
def test_the_axes_are_square_to_each_other(yaw: float, pitch: float) -> None:
    axes = Camera((0.0, 0.0, 0.0), yaw, pitch).axes
    assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(axes) == pytest.approx(-1)  # right, up, ahead: a left-handed set, as pictures have


def test_the_frame_follows_the_angle_the_ratio_and_the_shift() -> None:
    # 90 degrees: from -1 to 1; 2 to 1: from -0.5 to 0.5, moved up by 0.2.
    assert Camera((0, 0, 0), 0.0, width_deg=90.0, ratio=2.0, rise=0.2).frame == pytest.approx((-1, -0.3, 1, 0.7))


def test_looking_at_a_point_puts_it_in_the_middle() -> None:
    eye, point = (0.0, 0.0, 1500.0), (3000.0, 4000.0, 900.0)
    tilted = camera_toward(eye, point)
    assert tilted.project([point])[0].tolist() == pytest.approx([0, 0], abs=1e-12)
    shifted = camera_toward(eye, point, level=True)
    assert shifted.pitch_deg == 0
    # 600 down over 5000 away: the picture's middle is 0.12 below the axis.
    assert (shifted.frame[1] + shifted.frame[3]) / 2 == pytest.approx(-0.12)
    assert shifted.project([point])[0].tolist() == pytest.approx([0, -0.12], abs=1e-12)


def test_a_ring_is_cut_at_the_near_plane() -> None:
    camera = Camera((0.0, 0.0, 0.0), 0.0, near_mm=100.0)
    square = camera.seen_from([(-100.0, -50.0, 0.0), (300.0, -50.0, 0.0), (300.0, 50.0, 0.0), (-100.0, 50.0, 0.0)])
    cut = camera.clipped(square)
    assert sorted(cut[:, 2].tolist()) == pytest.approx([100, 100, 300, 300])
    assert camera.clipped(square - np.array([0, 0, 1000.0])).shape == (0, 3)


@pytest.mark.parametrize(
    "wrong",
    [
        {"width_deg": 180.0},
        {"width_deg": 0.0},
        {"pitch_deg": 89.5},
        {"ratio": 0.0},
        {"rise": math.nan},
        {"near_mm": 0.0},
    ],
)
def test_what_no_camera_has_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        Camera((0.0, 0.0, 0.0), 0.0, **wrong)


def test_an_eye_that_looks_at_itself_is_refused() -> None:
    with pytest.raises(OutOfRange, match="elsewhere on the plan"):
        camera_toward((1.0, 2.0, 3.0), (1.0, 2.0, 9.0))
