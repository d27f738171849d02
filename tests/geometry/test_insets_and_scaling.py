"""Outlines drawn in by a lining, and pictures set to scale."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from enfilade.errors import OutOfRange, Refused
from enfilade.geometry.insets import inset
from enfilade.geometry.points import distance
from enfilade.geometry.scaling import LaidPicture, scale_by_two_points

L_SHAPE = [(0.0, 0.0), (5000.0, 0.0), (5000.0, 2000.0), (3000.0, 2000.0), (3000.0, 4000.0), (0.0, 4000.0)]


def test_each_wall_moves_in_by_the_lining() -> None:
    assert inset(L_SHAPE, 12.5) == (
        (12.5, 12.5), (4987.5, 12.5), (4987.5, 1987.5), (2987.5, 1987.5), (2987.5, 3987.5), (12.5, 3987.5),
    )  # fmt: skip
    assert inset(L_SHAPE[::-1], 12.5) == inset(L_SHAPE, 12.5)[::-1]


def test_a_wall_may_move_by_its_own_depth() -> None:
    assert inset([(0, 0), (4000, 0), (4000, 3000), (0, 3000)], [0, 10, 20, 30]) == (
        (30, 0), (3990, 0), (3990, 2980), (30, 2980),
    )  # fmt: skip


def test_walls_in_one_line_move_together_or_not_at_all() -> None:
    split = [(0, 0), (2000, 0), (4000, 0), (4000, 3000), (0, 3000)]
    assert inset(split, 10)[1] == (2000, 10)
    with pytest.raises(Refused, match="in one line"):
        inset(split, [10, 5, 5, 5, 5])
    with pytest.raises(Refused, match="2 depths for 5 walls"):
        inset(split, [1, 2])


def test_a_room_that_the_lining_fills_is_refused() -> None:
    with pytest.raises(Refused, match="no room is left"):
        inset([(0, 0), (100, 0), (100, 4000), (0, 4000)], 50)
    with pytest.raises(Refused, match="no room is left"):
        inset([(0, 0), (100, 0), (100, 100), (0, 100)], 80)


@given(st.integers(3, 9), st.floats(1, 200), st.floats(0, 6.2))
def test_an_inset_is_what_shapely_buffers(count: int, depth: float, turn: float) -> None:
    ring = [
        (3000 * math.cos(turn + 2 * math.pi * i / count), 3000 * math.sin(turn + 2 * math.pi * i / count))
        for i in range(count)
    ]
    expected = shapely.Polygon(ring).buffer(-depth, join_style="mitre", mitre_limit=100)
    moved = shapely.Polygon(inset(ring, depth))
    # By distance: what two all but equal polygons share is not worked out soundly.
    assert shapely.hausdorff_distance(moved.exterior, expected.exterior) < 1e-6
    assert moved.area == pytest.approx(expected.area)
    back = inset(inset(ring, depth), -depth)
    assert max(distance(a, b) for a, b in zip(ring, back, strict=True)) < 1e-6


def test_two_points_and_their_distance_set_the_scale() -> None:
    scale = scale_by_two_points((100, 400), (700, 1200), 5000)  # 600, 800, 1000 px
    assert (scale.mm_per_px, scale.turn_deg, scale.apart_px) == (5.0, 0.0, 1000.0)
    assert scale.slip_mm(8000) == 8.0  # 1 px in 1000: 8 m are 8 mm out


@pytest.mark.parametrize(
    ("second", "axis", "turn"),
    [
        ((1000, 0), "x", 0), ((1000, 100), "x", 5.710593), ((-1000, 0), "x", 0), ((-1000, 100), "x", -5.710593),
        ((100, -1000), "y", 5.710593), ((100, 1000), "nearest", -5.710593), ((1000, -100), "nearest", -5.710593),
    ],
)  # fmt: skip
def test_the_picture_is_turned_until_the_points_lie_along_the_axis(second, axis, turn) -> None:  # type: ignore[no-untyped-def]
    scale = scale_by_two_points((0, 0), second, 2500, axis)
    assert scale.turn_deg == pytest.approx(turn, abs=1e-6)  # arctan 0.1
    laid = LaidPicture(scale.mm_per_px, 300, 400, scale.turn_deg, 2000)
    (ax, ay), (bx, by) = laid.to_house((0, 0)), laid.to_house(second)
    assert math.hypot(bx - ax, by - ay) == pytest.approx(2500)
    along_x = axis == "x" or (axis == "nearest" and abs(second[0]) > abs(second[1]))
    assert (by - ay if along_x else bx - ax) == pytest.approx(0, abs=1e-6)


def test_pixels_count_down_and_the_house_up() -> None:
    laid = LaidPicture(10, 1000, 2000, 0, 600)
    assert laid.to_house((0, 600)) == (1000, 2000)
    assert laid.to_house((50, 500)) == (1500, 3000)


@given(
    st.floats(0.1, 50), st.floats(-1e5, 1e5), st.floats(-1e5, 1e5), st.floats(-360, 360),
    st.tuples(st.floats(-4000, 4000), st.floats(-4000, 4000)),
)  # fmt: skip
def test_a_pixel_is_found_again(scale, x, y, turn, pixel) -> None:  # type: ignore[no-untyped-def]
    laid = LaidPicture(scale, x, y, turn, 3000)
    assert laid.to_picture(laid.to_house(pixel)) == pytest.approx(pixel, abs=1e-5)


def test_a_picture_without_a_scale_is_refused() -> None:
    with pytest.raises(Refused, match=r"1\.0 px apart; expected two points far"):
        scale_by_two_points((10, 10), (10, 11), 4000)
    for distance_mm in (0, -1, math.nan, math.inf):
        with pytest.raises(OutOfRange, match="expected a length above 0"):
            scale_by_two_points((0, 0), (100, 0), distance_mm)
    with pytest.raises(OutOfRange, match="finite"):
        scale_by_two_points((0, math.nan), (100, 0), 1000)
    with pytest.raises(OutOfRange, match="mm_per_px"):
        LaidPicture(0, 0, 0, 0, 100)
