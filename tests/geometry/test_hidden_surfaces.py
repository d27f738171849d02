"""Hidden surfaces, held against a brute-force ray caster (tests/geometry/casting.py) and against plain geometry."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from enfilade.geometry.camera import Camera, camera_toward
from enfilade.geometry.hidden_surfaces import Face, Seen, Surfaces

from .casting import box, cast, certain, met

_EYE = (0.0, 0.0, 1500.0)


def _spots(camera: Camera, count: int, seed: int) -> np.ndarray:
    u0, v0, u1, v1 = camera.frame
    return np.random.default_rng(seed).uniform([u0, v0], [u1, v1], (count, 2))


def _agrees(faces: list[Face], camera: Camera, seed: int = 0) -> Seen:
    seen = Surfaces(faces).seen(camera)
    spots, expected = certain(faces, camera, _spots(camera, 500, seed))
    assert (met(seen, spots) == expected).all()
    return seen


@st.composite
def _boxes(draw: st.DrawFn) -> list[Face]:
    """Boxes that may pierce and touch one another, with sizes and places on a grid, so that faces often are flush."""
    faces: list[Face] = []
    for number in range(draw(st.integers(1, 9))):
        x, y, z = (draw(st.integers(*span)) * 100.0 for span in ((10, 60), (-25, 25), (0, 22)))
        w, d, h = (draw(st.integers(1, 18)) * 100.0 for _ in range(3))
        turn = draw(st.sampled_from([0.0, 0.0, 0.3, 0.7854, 2.0]))
        faces += box((x, y, z), (x + w, y + d, z + h), solid=number, turn=turn)
    return faces


@settings(max_examples=60, deadline=None)
@given(faces=_boxes(), yaw=st.floats(-50, 50), pitch=st.sampled_from([0.0, 0.0, -20.0, 15.0]), seed=st.integers(0, 99))
def test_what_is_seen_is_what_a_ray_meets_first(faces: list[Face], yaw: float, pitch: float, seed: int) -> None:
    # Off the grid, so that the eye lies in no plane of a face.
    camera = Camera((3.3, 7.1, 1511.7), yaw, pitch, 80.0, 1.5)
    seen = Surfaces(faces).seen(camera)
    spots, expected = certain(faces, camera, _spots(camera, 200, seed))
    found = met(seen, spots)
    wrong = found != expected
    # Flush faces of different boxes: either may be named, as long as it is one of them.
    for spot, mine, other in zip(spots[wrong], found[wrong], expected[wrong], strict=True):
        assert mine >= 0
        assert other >= 0
        assert _depth(faces[mine], camera, spot) == pytest.approx(_depth(faces[other], camera, spot), rel=1e-6)


def _depth(face: Face, camera: Camera, spot: np.ndarray) -> float:
    a, b, c = (np.array(p) for p in face.ring[:3])
    normal = np.cross(b - a, c - a)
    return float((a - np.array(camera.eye)) @ normal / (np.array(camera.ray(*spot)) @ normal))


def test_many_boxes() -> None:
    rng = np.random.default_rng(5)
    faces: list[Face] = []
    for number in range(70):
        low = rng.uniform([1500, -3000, 0], [7000, 3000, 2200])
        faces += box(tuple(low), tuple(low + rng.uniform(60, 1100, 3)), solid=number, turn=float(rng.uniform(0, 3)))
    _agrees(faces, Camera(_EYE, 0.0), seed=1)


def test_three_bars_that_hide_one_another_in_a_ring() -> None:
    # Each lies over the next: no order of painting shows them rightly.
    ends = [
        ((4000, -900, 1300), (4600, 900, 1300)),
        ((4000, 900, 1100), (4600, 0, 2200)),
        ((4000, 0, 2200), (4600, -900, 1100)),
    ]
    faces = []
    for (x0, y0, z0), (x1, y1, z1) in ends:
        along = np.array([y1 - y0, z1 - z0])
        dy, dz = np.array([-along[1], along[0]]) / np.hypot(*along) * 90
        ring = [(x0, y0 - dy, z0 - dz), (x0, y0 + dy, z0 + dz), (x1, y1 + dy, z1 + dz), (x1, y1 - dy, z1 - dz)]
        both_sides = (ring, ring[::-1])
        faces += [Face(tuple((float(a), float(b), float(c)) for a, b, c in turned)) for turned in both_sides]
    camera = Camera(_EYE, 0.0, width_deg=60)
    seen = _agrees(faces, camera, seed=2)
    assert len(seen.faces) == 3
    # A cyclic overlap: each loses part of itself to another.
    alone = [Surfaces([faces[n]]).seen(camera).regions[0].area for n in seen.faces]
    assert all(region.area < 0.99 * whole for region, whole in zip(seen.regions, alone, strict=True))


def test_boxes_that_pierce_one_another() -> None:
    faces = box((3000, -800, 1000), (4000, 800, 1400), solid=0) + box((3300, -200, 500), (3600, 200, 2200), solid=1)
    faces += box((2800, -1000, 1100), (4200, -300, 1300), solid=2, turn=0.5)
    _agrees(faces, Camera(_EYE, 0.0), seed=3)


def test_a_hole_is_looked_through() -> None:
    wall = ((3000.0, 2000.0, 0.0), (3000.0, -2000.0, 0.0), (3000.0, -2000.0, 3000.0), (3000.0, 2000.0, 3000.0))
    hole = ((3000.0, 500.0, 0.0), (3000.0, -500.0, 0.0), (3000.0, -500.0, 2100.0), (3000.0, 500.0, 2100.0))
    behind = tuple((6000.0, y * 4, z) for _, y, z in wall)
    faces = [Face(wall, (hole,)), Face(behind)]
    seen = _agrees(faces, Camera(_EYE, 0.0, width_deg=60), seed=4)
    assert seen.faces.tolist() == [0, 1]
    # Through a hole 1000 wide at 3000 one sees 2000 at 6000: similar triangles. From u -1/6 to 1/6 in the picture.
    assert seen.regions[1].bounds[0] == pytest.approx(-1 / 6)
    assert seen.regions[1].bounds[2] == pytest.approx(1 / 6)


@pytest.mark.parametrize(("first", "second", "winner"), [(0, 1, 1), (1, 0, 0), (0, 0, 1)])
def test_of_flush_faces_the_greater_order_shows(first: int, second: int, winner: int) -> None:
    def front(half: float, order: int) -> Face:
        y0, y1, z0, z1 = half, -half, 1500 - half, 1500 + half
        return Face(((2000.0, y0, z0), (2000.0, y1, z0), (2000.0, y1, z1), (2000.0, y0, z1)), order=order)

    seen = Surfaces([front(500.0, first), front(200.0, second)]).seen(Camera(_EYE, 0.0))
    area = dict(zip(seen.faces.tolist(), shapely.area(seen.regions), strict=True))
    # A square of side 400 at distance 2000 is 0.2 wide in the picture; one of 1000 is 0.5.
    expected = {0: 0.25 - 0.04, 1: 0.04} if winner == 1 else {0: 0.25}
    assert area == pytest.approx(expected)


def test_a_face_turned_away_is_not_seen() -> None:
    ring = ((2000.0, 500.0, 1000.0), (2000.0, -500.0, 1000.0), (2000.0, -500.0, 2000.0), (2000.0, 500.0, 2000.0))
    assert len(Surfaces([Face(ring)]).seen(Camera(_EYE, 0.0)).faces) == 1
    assert len(Surfaces([Face(ring[::-1])]).seen(Camera(_EYE, 0.0)).faces) == 0


def test_a_floor_that_runs_under_the_eye_is_cut_at_the_near_plane() -> None:
    floor = Face(((-3000.0, -3000.0, 0.0), (9000.0, -3000.0, 0.0), (9000.0, 3000.0, 0.0), (-3000.0, 3000.0, 0.0)))
    camera = Camera(_EYE, 0.0, width_deg=90, ratio=1.0)
    seen = _agrees([floor], camera, seed=5)
    # The far edge of the floor is 1500 below the eye at 9000.
    assert seen.regions[0].bounds[3] == pytest.approx(-1500 / 9000)


def test_nothing_at_all() -> None:
    camera = Camera(_EYE, 0.0)
    assert len(Surfaces([]).seen(camera).faces) == 0
    line = Face(((2000.0, 0.0, 0.0), (2000.0, 10.0, 0.0), (2000.0, 20.0, 0.0)))
    assert len(Surfaces([line]).seen(camera).faces) == 0


def test_what_is_left_out_hides_nothing() -> None:
    faces = box((2000, -500, 1000), (2500, 500, 2000), solid=0) + box((4000, -200, 1400), (4300, 200, 1600), solid=1)
    surfaces, camera = Surfaces(faces), Camera(_EYE, 0.0)
    assert set(surfaces.seen(camera).faces.tolist()) <= set(range(6))
    without = surfaces.seen(camera, np.arange(12) < 6)
    assert without.faces.tolist()
    assert min(without.faces) >= 6


@settings(max_examples=25, deadline=None)
@given(faces=_boxes(), shift=st.tuples(*[st.floats(-5e4, 5e4)] * 2), turn=st.floats(0, 6.28))
def test_moving_and_turning_everything_changes_nothing(
    faces: list[Face], shift: tuple[float, float], turn: float
) -> None:
    c, s = np.cos(turn), np.sin(turn)

    def moved(p: tuple[float, float, float]) -> tuple[float, float, float]:
        return (float(c * p[0] - s * p[1] + shift[0]), float(s * p[0] + c * p[1] + shift[1]), p[2])

    other = [Face(tuple(map(moved, face.ring)), order=face.order, solid=face.solid) for face in faces]
    eye = (3.3, 7.1, 1511.7)
    one = Surfaces(faces).seen(Camera(eye, 10.0, width_deg=80))
    two = Surfaces(other).seen(Camera(moved(eye), 10.0 + float(np.degrees(turn)), width_deg=80))
    mine = dict(zip(one.faces.tolist(), shapely.area(one.regions), strict=True))
    theirs = dict(zip(two.faces.tolist(), shapely.area(two.regions), strict=True))
    for number in mine.keys() | theirs.keys():
        assert mine.get(number, 0.0) == pytest.approx(theirs.get(number, 0.0), abs=1e-5)


def test_the_caster_itself() -> None:
    # A box of 1000 in the middle of the picture: its front is 0.5 wide there, seen in the middle and not beside it.
    faces = box((2000, -500, 1000), (3000, 500, 2000))
    camera = Camera(_EYE, 0.0)
    spots = np.array([(0.0, 0.0), (0.24, 0.24), (0.26, 0.0), (0.0, -0.26)])
    assert cast(faces, camera, spots).tolist() == [4, 4, -1, -1]


def test_depths_are_told() -> None:
    seen = Surfaces(box((2000, -500, 1000), (3000, 500, 2000))).seen(camera_toward(_EYE, (2000.0, 0.0, 1500.0)))
    assert seen.inverse_depths[0] @ np.array([0.1, -0.2, 1.0]) == pytest.approx(1 / 2000.0)
