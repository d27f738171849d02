"""Perspectives: what is in them, what they are made of, and that nothing odd breaks them."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import door, free, house, on_wall, room, thing, window
from enfilade.checks.view import House
from enfilade.drawings.perspective import in_frame, perspective, shaded
from enfilade.drawings.perspective_eye import camera_from, standing_camera
from enfilade.drawings.solids import HouseSolids, house_solids
from enfilade.geometry.camera import Camera, camera_toward
from enfilade.lengths import inches
from enfilade.project.demo import demo
from enfilade.project.things import KINDS
from hostile import MARKER, with_hostile_text

_SVG = "{http://www.w3.org/2000/svg}"


def _solids(*args: object, **more: object) -> HouseSolids:
    return house_solids(House(house(*args, **more)))


@pytest.fixture(scope="module")
def demo_solids() -> HouseSolids:
    return house_solids(House(demo()))


def _look(x: float, y: float, to_x: float, to_y: float, **more: float) -> Camera:
    return camera_toward((inches(x), inches(y), 1500.0), (inches(to_x), inches(to_y), 1500.0), **more)


def test_the_share_of_a_box_is_that_of_its_front() -> None:
    # A front 40 in wide and 60 in high, seen square on from 80 in before it, with 90 degrees from side to side: at its
    # distance the picture is 160 in wide and 106.7 in high, its middle 1500 mm above the floor. The front is a quarter
    # of the width, and reaches from the lower edge to 60 in - 1500 mm above the middle.
    solids = _solids([thing("refrigerator", "cold", 40, 30, on_wall("kitchen-north", 52), top=60)])
    front = 144 - 30
    camera = _look(72, front - 80, 72, front, width_deg=90.0)
    high = 2 * inches(80) / 1.5
    expected = 0.25 * (high / 2 + inches(60) - 1500) / high
    assert in_frame(solids, camera)["cold"] == pytest.approx(expected, rel=1e-6)


def test_all_shares_together_fill_the_picture(demo_solids: HouseSolids) -> None:
    shares = in_frame(demo_solids, camera_toward((14200.0, 4700.0, 1581.0), (9500.0, 1000.0, 1200.0), width_deg=80))
    assert sum(shares.values()) == pytest.approx(1.0, abs=1e-4)
    assert list(shares.values()) == sorted(shares.values(), reverse=True)


def test_what_stands_behind_is_not_in_frame() -> None:
    things = [
        thing("refrigerator", "near", 60, 30, free(72, 72), top=90),
        thing("range", "behind", 30, 25, on_wall("kitchen-north", 57)),
    ]
    shares = in_frame(_solids(things), _look(72, 20, 72, 100))
    assert shares["near"] > 0.1
    assert "behind" not in shares


def test_one_sees_through_an_open_door_into_the_next_room() -> None:
    spaces = [room(120, 120), room(120, 120, id="hall", use="hall", at=(126, 0))]
    things = [thing("tall cabinet", "far", 24, 24, on_wall("hall-east", 48), space="hall")]
    wide = _solids(things, spaces=spaces, openings=[door("d", "kitchen-east", 42, beyond="hall-west")])
    camera = _look(20, 60, 120, 60)
    assert in_frame(wide, camera)["far"] > 0.005
    assert in_frame(_solids(things, spaces=spaces), camera).get("far", 0) == 0


def test_an_eye_in_a_thing_does_not_see_it() -> None:
    things = [
        thing("tall cabinet", "round-me", 24, 24, free(72, 72)),
        thing("range", "ahead", 30, 25, on_wall("kitchen-north", 57)),
    ]
    shares = in_frame(_solids(things), _look(72, 70, 72, 140))
    assert "round-me" not in shares
    assert shares["ahead"] > 0.01


def _drawn(svg: str) -> ET.Element:
    return ET.fromstring(svg)


@pytest.mark.parametrize("filled", [False, True])
def test_the_picture_is_told_in_words_and_has_its_ratio(filled: bool) -> None:
    solids = _solids([thing("island", "island", 60, 36, free(72, 72))], openings=[window("w", "kitchen-north", 30)])
    root = _drawn(perspective(solids, _look(20, 20, 72, 90), filled=filled, title="A & B", alt="<an island>"))
    assert root.get("role") == "img"
    assert root.find(f"{_SVG}title").text == "A & B"  # type: ignore[union-attr]
    assert root.find(f"{_SVG}desc").text == "<an island>"  # type: ignore[union-attr]
    assert float(root.get("width", "0")) / float(root.get("height", "1")) == pytest.approx(1.5, abs=0.01)
    assert root.findall(f".//{_SVG}path")


def test_lines_end_at_the_edge_of_the_picture(demo_solids: HouseSolids) -> None:
    camera = camera_toward((14200.0, 4700.0, 1581.0), (9500.0, 1000.0, 1200.0), width_deg=80)
    root = _drawn(perspective(demo_solids, camera, filled=True, title="t", alt="a", width_px=600.0))
    for path in root.iter(f"{_SVG}path"):
        numbers = [float(n) for n in re.findall(r"-?\d+\.?\d*", path.get("d", ""))]
        assert -0.1 <= min(numbers[::2]) <= max(numbers[::2]) <= 600.1
        assert -0.1 <= min(numbers[1::2]) <= max(numbers[1::2]) <= 400.1


def test_a_lit_face_keeps_the_recorded_colour_and_lines_alone_have_none() -> None:
    finishes = [{"id": "blue", "name": "blue", "colour": "#336699"}]
    solids = _solids([thing("island", "i", 60, 36, free(72, 72), finish="blue")], finishes=finishes)
    camera = _look(20, 20, 72, 90)
    assert "#336699" in perspective(solids, camera, filled=True, title="t", alt="a")
    plain = perspective(solids, camera, filled=False, title="t", alt="a")
    assert set(re.findall(r"#[0-9a-f]{6}", plain)) == {"#111111", "#ffffff"}


def test_shading_only_darkens() -> None:
    assert shaded("#808080", 1.0) == shaded("#808080", 0.35) == "#808080"
    tones = [int(shaded("#808080", lit / 10)[1:3], 16) for lit in range(10, -11, -1)]
    assert tones == sorted(tones, reverse=True)
    assert tones[-1] > 0x40


def test_hostile_text_stays_text() -> None:
    project, _ = with_hostile_text(demo())
    solids = house_solids(House(project))
    camera = camera_toward((14200.0, 4700.0, 1581.0), (9500.0, 1000.0, 1200.0))
    title = project.spaces[0].name
    svg = perspective(solids, camera, filled=True, title=title, alt=title * 50)
    root = _drawn(svg)
    assert MARKER in (root.find(f"{_SVG}title").text or "")  # type: ignore[union-attr]
    assert {element.tag.removeprefix(_SVG) for element in root.iter()} == {"svg", "title", "desc", "rect", "g", "path"}
    assert "\u202e" not in svg


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_kind_of_thing_is_drawn(kind: str) -> None:
    extra: dict[str, object] = {
        "peninsula": {"joined": "left"}, "fixture": {"what": "tub"}, "window treatment": {"opening": "w"},
    }.get(kind, {})  # fmt: skip
    solids = _solids([thing(kind, "it", 40, 24, free(72, 100), **extra)], openings=[window("w", "kitchen-north", 30)])
    camera = _look(72, 10, 72, 100)
    assert in_frame(solids, camera)["it"] > 0.0005
    _drawn(perspective(solids, camera, filled=True, title="t", alt="a"))


@settings(max_examples=25, deadline=None)
@given(
    st.floats(-500, 15500),
    st.floats(-2500, 8000),
    st.floats(0, 3200),
    st.floats(-180, 180),
    st.sampled_from([0.0, -40.0, 60.0]),
)
def test_any_eye_gets_a_picture(x: float, y: float, z: float, yaw: float, pitch: float) -> None:
    solids = _demo()
    camera = Camera((x, y, z), yaw, pitch, 80.0, 1.5)
    root = _drawn(perspective(solids, camera, filled=True, title="t", alt="a"))
    assert root.tag == f"{_SVG}svg"
    shares = in_frame(solids, camera)
    assert all(share >= 0 for share in shares.values())
    assert sum(shares.values()) <= 1.0001


def _demo() -> HouseSolids:
    return house_solids(_HOUSE)


_HOUSE = House(demo())


def test_standing_in_a_room_one_stands_on_free_floor_and_sees_what_is_there() -> None:
    things = [
        thing("island", "island", 60, 36, free(72, 72)),
        thing("tall cabinet", "tall", 24, 24, on_wall("kitchen-north", 10)),
    ]
    solids = _solids(things)
    camera = standing_camera(solids, "kitchen")
    assert camera is not None
    assert camera.eye[2] == 1581.0
    assert not any(body.stand and body.stand.box.holds(camera.eye[:2], 50.0) for body in solids.bodies.values())
    shares = in_frame(solids, camera)
    assert shares["island"] > 0.02
    assert shares["tall"] > 0.005


def test_in_an_empty_room_nobody_stands() -> None:
    assert standing_camera(_solids(), "kitchen") is None
    full = thing("island", "all", 144, 144, free(72, 72))
    assert standing_camera(_solids([full]), "kitchen") is None


def test_upright_edges_stay_upright_until_the_view_is_steep() -> None:
    assert camera_from((0.0, 0.0, 1500.0), (3000.0, 0.0), 900.0).pitch_deg == 0
    assert camera_from((0.0, 0.0, 1500.0), (1000.0, 0.0), 0.0).pitch_deg < -40
    assert camera_from((0.0, 0.0, 1500.0), (0.0, 0.0), 900.0).yaw_deg == pytest.approx(90)
