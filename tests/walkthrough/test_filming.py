"""Planned shots: what they promise is looked at again with rays and a projection that are worked out here."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise
from typing import Any, get_args

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

import enfilade as ef
from building import door, free, house, on_wall, room, thing, window
from enfilade.checks.floor import footprint
from enfilade.checks.run import project_yardstick
from enfilade.checks.view import House
from enfilade.drawings.perspective_faces import model_of
from enfilade.drawings.solids import house_solids
from enfilade.geometry.solid import Prism
from enfilade.lengths import inches
from enfilade.project.project import Project
from enfilade.project.speaking import ShotSize
from enfilade.walkthrough.compose import telling_of
from enfilade.walkthrough.film import Film, ShotPart, film
from enfilade.walkthrough.filming.ground import CAMERA_RADIUS_MM
from enfilade.walkthrough.filming.sizes import SIZE_SOURCE, SIZES

WHOLE = ("extreme wide", "wide", "medium wide", "medium")  # sizes that show the whole of a subject
ENOUGH = 0.95
"""A shot without trouble shows 0.95 of its subject, told by some points; others are looked at here."""
QUICK = (Phase.explicit, Phase.reuse, Phase.generate)
"""A house takes long to film, too long for hundreds of tries at a smaller one that fails."""
SENSOR = (36.0, 36.0 * 9 / 16)  # the picture of the default sensor, 16:9


def filmed(project: Project) -> Film:
    return film(telling_of(project, (), project_yardstick(project, None), audience="studio"))


def line(id: str, shot: dict[str, Any] | None = None, **more: Any) -> dict[str, Any]:
    return {"id": id, "text": "Said.", **({"shot": shot} if shot is not None else {}), **more}


def script(*lines: dict[str, Any], space: str = "kitchen") -> list[dict[str, Any]]:
    return [{"id": f"at-{space}", "space": space, "lines": list(lines)}]


# Looking again, without the planner's code


def inside_mm(eye: np.ndarray, target: np.ndarray, body: Prism) -> float:
    """Return how much of a line lies in a body: cut in plan by shapely, then by the heights of the body."""
    length = float(np.linalg.norm(target - eye))
    plan = float(np.hypot(*(target - eye)[:2]))
    if plan < 1e-6:
        held = Polygon(body.footprint).contains(Point(eye[:2]))
        low, high = sorted((eye[2], target[2]))
        return max(0.0, min(high, body.top_mm) - max(low, body.bottom_mm)) if held else 0.0
    total = 0.0
    for part in shapely.get_parts(LineString([eye[:2], target[:2]]).intersection(Polygon(body.footprint))):
        ends = sorted(math.dist(eye[:2], xy) / plan for xy in shapely.get_coordinates(part).tolist())
        if len(ends) < 2:
            continue
        low, high, rise = ends[0], ends[-1], target[2] - eye[2]
        if abs(rise) > 1e-9:
            levels = sorted(((body.bottom_mm - eye[2]) / rise, (body.top_mm - eye[2]) / rise))
            low, high = max(low, levels[0]), min(high, levels[1])
        elif not body.bottom_mm < eye[2] < body.top_mm:
            continue
        total += max(0.0, high - low) * length
    return total


def cells(body: Prism, count: int) -> Iterable[tuple[np.ndarray, np.ndarray, float]]:
    """Yield the middles of cells of the sides and the top, with the outward normal and the area."""
    ring = np.array(shapely.geometry.polygon.orient(Polygon(body.footprint)).exterior.coords)
    steps = (np.arange(count) + 0.5) / count
    for a, b in pairwise(ring):
        size = float(np.hypot(*(b - a)))
        out = np.array([(b - a)[1], -(b - a)[0], 0.0]) / size
        area = size * (body.top_mm - body.bottom_mm) / count**2
        for s in steps:
            for t in steps:
                height = body.bottom_mm + t * (body.top_mm - body.bottom_mm)
                yield np.array([*(a + s * (b - a)), height]), out, area
    floor = Polygon(body.footprint)
    x0, y0, x1, y1 = floor.bounds
    for s in steps:
        for t in steps:
            spot = (x0 + s * (x1 - x0), y0 + t * (y1 - y0))
            if floor.covers(Point(spot)):
                area = (x1 - x0) * (y1 - y0) / count**2
                yield np.array([*spot, body.top_mm]), np.array([0.0, 0.0, 1.0]), area


def on_sensor(shot: ShotPart, target: np.ndarray) -> tuple[float, float] | None:
    """Return where a point falls on the sensor [mm], from its middle; None when it is behind the camera."""
    assert shot.eye_mm is not None
    assert shot.toward_mm is not None
    assert shot.focal_mm is not None
    ahead = np.array(shot.toward_mm) - np.array(shot.eye_mm)
    ahead = ahead / np.linalg.norm(ahead)
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right = right / np.linalg.norm(right)
    up = np.cross(right, ahead)
    to = target - np.array(shot.eye_mm)
    depth = float(to @ ahead)
    if depth <= 0:
        return None
    return float(to @ right) / depth * shot.focal_mm, float(to @ up) / depth * shot.focal_mm - shot.shift_mm


def share_seen(project: Project, shot: ShotPart, subject: str) -> float:
    """Return by area how much of what a thing turns to the camera is in frame with nothing else before it.

    Large cells tell it to some hundredths; where that is too little to tell, small ones are looked at.
    """
    coarse = _share_seen(project, shot, subject, 8)
    return coarse if coarse >= ENOUGH else _share_seen(project, shot, subject, 32)


def _share_seen(project: Project, shot: ShotPart, subject: str, count: int) -> float:
    solids = house_solids(House(project))
    leaves = [leaf for _, leaf in model_of(solids).leaves]
    own = [piece.prism for piece in solids.bodies[subject].pieces if piece.blocks]
    others = [prism for prism in (*solids.prisms, *leaves) if prism.id != subject]
    floor = shapely.union_all([Polygon(space.outline) for space in project.spaces])
    eye = np.array(shot.eye_mm)
    # Only what reaches into the hull of the eye and the thing can matter.
    hull = shapely.MultiPoint([eye[:2], *(xy for prism in own for xy in prism.footprint)]).convex_hull.buffer(20)
    others = [prism for prism in others if Polygon(prism.footprint).intersects(hull)]
    counted = seen = 0.0
    for body in own:
        for spot, out, area in cells(body, count):
            ahead = spot + out * 15.0
            if (eye - spot) @ out <= 1.0 or not floor.covers(Point(ahead[:2])):
                continue
            if any(inside_mm(spot, ahead, prism) > 0.8 for prism in (*own, *others)):
                continue  # covered: no visible face
            hidden = any(inside_mm(eye, spot, prism) > 0.8 for prism in others)
            if not hidden and any(inside_mm(eye, spot, prism) > 0.8 for prism in own):
                continue  # hidden by itself
            counted += area
            at = on_sensor(shot, spot)
            framed = at is not None and abs(at[0]) <= SENSOR[0] / 2 and abs(at[1]) <= SENSOR[1] / 2
            seen += area * (framed and not hidden)
    return seen / counted if counted else 0.0


def assert_stands_free(project: Project, shot: ShotPart) -> None:
    """A camera stands on the floor of a room, in nothing, and a circle round it is free."""
    assert shot.eye_mm is not None
    spot = Point(shot.eye_mm[:2])
    rooms = [Polygon(space.outline) for space in project.spaces]
    assert any(floor.contains(spot) for floor in rooms)
    taken = [
        footprint(stand)
        for stand in House(project).standing.values()
        if stand.thing.kind != "rug" and stand.thing.bottom_mm < 2000
    ]
    assert all(shape.distance(spot) >= CAMERA_RADIUS_MM - 0.01 for shape in taken)
    assert any(floor.exterior.distance(spot) >= CAMERA_RADIUS_MM - 0.01 for floor in rooms if floor.contains(spot))


kinds = st.sampled_from(["base cabinet", "tall cabinet", "furniture", "table", "island", "bed"])
placed = st.tuples(kinds, st.floats(0.1, 0.9), st.floats(0.1, 0.9), st.floats(12, 60), st.floats(12, 40),
                   st.sampled_from([0.0, 90.0, 180.0, 33.0]), st.sampled_from(WHOLE))  # fmt: skip


def apart(rows: list[tuple[Any, ...]], wide: float, deep: float) -> list[tuple[Any, ...]]:
    """Return those rows that stand in the room and in no earlier one: bodies do not stand in each other."""
    taken: list[Polygon] = []
    kept = []
    for row in rows:
        _, x, y, w, d, turn, _ = row
        shape = shapely.affinity.rotate(
            shapely.box(wide * x - w / 2, deep * y - d / 2, wide * x + w / 2, deep * y + d / 2), turn
        )
        if shapely.box(0, 0, wide, deep).covers(shape) and all(shape.distance(other) > 0.1 for other in taken):
            taken.append(shape)
            kept.append(row)
    return kept


@given(st.floats(100, 280), st.floats(90, 240), st.lists(placed, min_size=1, max_size=5))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow], phases=QUICK)
def test_whatever_stands_where_a_shot_without_trouble_shows_its_subject(
    wide: float, deep: float, rows: list[tuple[Any, ...]]
) -> None:
    rows = apart(rows, wide, deep)
    things = [
        thing(
            kind, f"t{n}", w, d, free(wide * x, deep * y, turn), **({"bottom": 0, "top": 24} if kind == "bed" else {})
        )
        for n, (kind, x, y, w, d, turn, _) in enumerate(rows)
    ]
    lines = [line(f"l{n}", {"size": row[-1], "subjects": [f"t{n}"]}) for n, row in enumerate(rows)]
    project = house(things, spaces=[room(wide, deep)], script=script(*lines, line("room")))
    shots = filmed(project).shots
    assert [shot.number for shot in shots] == list(range(1, len(rows) + 2))
    for n, shot in enumerate(shots):
        if shot.eye_mm is None:
            assert "Nowhere" in shot.trouble or "No camera can stand before" in shot.trouble
            continue
        assert_stands_free(project, shot)
        if not shot.trouble and n < len(rows):
            assert share_seen(project, shot, f"t{n}") >= ENOUGH


@given(st.floats(120, 280), st.floats(110, 240), st.sampled_from(WHOLE), placed)
@settings(max_examples=15, deadline=None, phases=QUICK)
def test_a_room_without_trouble_has_as_much_of_its_floor_in_view_as_its_size_asks(
    wide: float, deep: float, size: str, row: tuple[Any, ...]
) -> None:
    kind, x, y, w, d, turn, _ = row
    stands = [thing(kind, "t", w, d, free(wide * x, deep * y, turn), top=30)]
    project = house(stands, spaces=[room(wide, deep)], script=script(line("room", {"size": size})))
    (shot,) = filmed(project).shots
    assume(not shot.trouble)
    assert shot.eye_mm is not None
    assert_stands_free(project, shot)
    net = [(inches(wide * (i + 0.5) / 40), inches(deep * (j + 0.5) / 40)) for i in range(40) for j in range(40)]
    framed = [
        (at := on_sensor(shot, np.array([*spot, shot.eye_mm[2]]))) is not None and abs(at[0]) <= SENSOR[0] / 2
        for spot in net
    ]
    assert sum(framed) / len(net) >= SIZES[size].of_room - 0.01


# The demo house


@pytest.fixture(scope="module")
def demo() -> Project:
    return ef.demo()


@pytest.fixture(scope="module")
def demo_film(demo: Project) -> Film:
    return filmed(demo)


def test_every_line_of_the_demo_house_is_one_shot_in_the_order_of_the_script(demo: Project, demo_film: Film) -> None:
    told = telling_of(demo, (), project_yardstick(demo, None), audience="studio")
    from enfilade.walkthrough.spoken import spoken

    parts = spoken(told).parts
    ids = [
        one.id
        for part in parts
        for one in (*part.recap, *(one for stop in part.stops for one in stop.lines), *part.lead_in)
    ]
    assert [shot.line for shot in demo_film.shots] == ids
    assert [shot.number for shot in demo_film.shots] == list(range(1, len(ids) + 1))


def test_cameras_of_the_demo_house_stand_free_and_see_what_they_are_for(demo: Project, demo_film: Film) -> None:
    lines = {f"{stop.id}/{one.id}": one for stop in demo.script for one in stop.lines}
    looked_at = 0
    for shot in demo_film.shots:
        assert shot.eye_mm is not None
        spot = Point(shot.eye_mm[:2])
        assert any(Polygon(space.outline).contains(spot) for space in demo.spaces)
        standing = House(demo).standing.values()
        assert not any(
            footprint(s).contains(spot) for s in standing if s.thing.kind != "rug" and s.thing.bottom_mm < 2000
        )
        one = lines.get(shot.line)
        asked = (one.shot.subjects if one and one.shot else ()) or (one.things if one else ())
        whole = shot.size in WHOLE and len(asked) == 1 and asked[0] in demo.things_by_id
        if whole and not shot.trouble and demo.things_by_id[asked[0]].kind not in ("rug", "sink"):
            assert share_seen(demo, shot, asked[0]) >= ENOUGH, shot.line
            looked_at += 1
    assert looked_at >= 8


def test_planning_twice_gives_the_same_film(demo: Project, demo_film: Film) -> None:
    again = filmed(ef.demo())
    assert again == demo_film


def test_each_room_in_which_a_camera_stands_has_a_plan_that_numbers_every_position(demo_film: Film) -> None:
    positions = {shot.position for shot in demo_film.shots}
    assert positions == set(range(1, len(positions) + 1))
    places = {}
    for shot in demo_film.shots:
        assert shot.eye_mm is not None
        assert places.setdefault(shot.position, shot.eye_mm[:2]) == shot.eye_mm[:2]
    for position in positions:
        assert sum(f">{position}<" in plan.svg for plan in demo_film.plans) >= 1
    for shot in demo_film.shots:
        assert shot.picture is not None
        assert shot.picture.svg.startswith("<svg")
        assert shot.also


# What goes wrong


def test_a_subject_that_is_too_big_is_told_with_what_would_help() -> None:
    # 2.9 m wide and 0.9 m in front of it: through 28 mm a picture of 36 mm shows 0.9 x 36 / 28 = 1.2 m at most.
    wide = 2900 / 25.4
    project = house(
        [thing("tall cabinet", "wardrobe", wide, 24, on_wall("kitchen-north", 1), name="wardrobe")],
        spaces=[room(wide + 2, 24 + 48)],
        script=script(line("all", {"subjects": ["wardrobe"]})),
        show={"filming": {"lenses_mm": [28.0]}},
    )
    (shot,) = filmed(project).shots
    assert "The widest lens at hand, 28 mm, sees" in shot.trouble
    assert "at the farthest place where a camera can stand" in shot.trouble
    assert " mm lens would do." in shot.trouble or "pan across it" in shot.trouble
    assert shot.eye_mm is not None  # the best attempt stands
    assert shot.focal_mm == 28.0


def test_the_lens_that_would_do_does() -> None:
    wide = 2900 / 25.4

    def made(lens: float) -> ShotPart:
        project = house(
            [thing("base cabinet", "run", wide, 24, on_wall("kitchen-north", 1))],
            spaces=[room(wide + 2, 24 + 96)],
            script=script(line("all", {"subjects": ["run"], "size": "medium"})),
            show={"filming": {"lenses_mm": [lens]}},
        )
        return filmed(project).shots[0]

    told = made(35.0).trouble
    assert "lens would do" in told
    needed = float(told.split(" a ")[-1].split(" mm")[0])
    assert made(needed).trouble == ""
    assert made(needed * 1.6).trouble


def test_a_room_in_which_nobody_can_stand_says_so_and_gives_no_camera() -> None:
    project = house(
        [thing("island", "block", 40, 40, free(24, 24))],
        spaces=[room(48, 48)],
        script=script(line("all", {"subjects": ["block"]}), line("room")),
    )
    for shot in filmed(project).shots:
        assert shot.focal_mm is None
        assert shot.picture is None
        assert shot.position is None
        assert "Nowhere in Kitchen" in shot.trouble


def test_a_camera_that_is_given_is_kept_and_told_where_it_is_wrong() -> None:
    def at(x: float, y: float, height: float, **more: Any) -> ShotPart:
        shot = {"subjects": ["island"], "eye": {"x_mm": x, "y_mm": y, "height_mm": height}, **more}
        project = house(
            [
                thing("island", "island", 60, 36, free(72, 72), name="island"),
                thing("tall cabinet", "pantry", 36, 24, on_wall("kitchen-south", 10), name="pantry"),
            ],
            script=script(line("all", shot)),
        )
        found = filmed(project).shots[0]
        assert found.eye_mm == (x, y, height)
        return found

    assert at(inches(72), inches(130), 1400.0, focal_mm=16.0).trouble == ""
    assert "stands in the island" in at(inches(72), inches(72), 500.0).trouble
    assert "outside every room" in at(-3000.0, 500.0, 1400.0).trouble
    over = at(inches(60), inches(60), 1500.0)
    assert "over the island" in over.note
    # Straight behind the pantry, which hides the island: walls are at x = 144 in - 10 - 36 .. 144 - 10.
    behind = at(inches(116), inches(10), 1200.0)
    assert "stands in the pantry" in behind.trouble


def test_what_hides_a_subject_is_named() -> None:
    # A cabinet in the far corner behind a full-height one that reaches nearly across the room.
    project = house(
        [
            thing("tall cabinet", "screen", 130, 20, free(65, 80), top=96, name="dividing cabinet"),
            thing("base cabinet", "chest", 30, 20, on_wall("kitchen-north", 100), name="chest"),
        ],
        spaces=[room(144, 144)],
        script=script(line("all", {"subjects": ["chest"], "eye": {"x_mm": 1800, "y_mm": 700, "height_mm": 1350}})),
    )
    (shot,) = filmed(project).shots
    assert shot.blocked_by == ("dividing cabinet",)
    assert "The dividing cabinet hides part of the chest" in shot.trouble


def test_a_room_too_small_is_filmed_through_its_doorway_and_says_so() -> None:
    project = house(
        [thing("tall cabinet", "linen", 30, 22, on_wall("closet-north", 3), space="closet", name="linen cupboard")],
        spaces=[room(144, 144, id="hall", use="hall"), room(36, 44, id="closet", use="closet", at=(60, 148))],
        openings=[door("in", "hall-north", 62, 32, kind="cased opening", beyond="closet-south")],
        script=script(line("all", {"subjects": ["linen"], "size": "medium"}), space="closet"),
    )
    (shot,) = filmed(project).shots
    assert shot.stands_in == "Hall"
    assert "through the doorway" in shot.note
    assert not shot.trouble


def test_closer_sizes_show_the_middle_of_the_front() -> None:
    project = house(
        [thing("base cabinet", "chest", 60, 20, on_wall("kitchen-north", 40), name="chest")],
        script=script(*(line(size.replace(" ", "-"), {"size": size, "subjects": ["chest"]}) for size in SIZES)),
    )
    shots = {shot.size: shot for shot in filmed(project).shots}
    assert list(shots) == list(SIZES)
    (stand,) = House(project).standing.values()
    for name, size in SIZES.items():
        shot = shots[name]
        assert not shot.trouble
        x, y = stand.box.front.midpoint
        across = np.array(stand.box.front.direction)
        half = stand.box.width_mm / 2 * size.part
        edges = [
            on_sensor(shot, np.array([x + s * half * across[0], y + s * half * across[1], 500.0])) for s in (-1, 1)
        ]
        spots = [spot for spot in edges if spot is not None]
        assert len(spots) == 2
        assert all(abs(u) <= SENSOR[0] / 2 for u, _ in spots)
    # Tighter sizes magnify: the front takes up more of the sensor from size to size.
    widths = []
    for shot in shots.values():
        ends = [on_sensor(shot, np.array([*end, 500.0])) for end in (stand.box.front.a, stand.box.front.b)]
        us = [spot[0] for spot in ends if spot is not None]
        widths.append(max(us) - min(us))
    assert widths == sorted(widths)


def test_moves_are_told_with_their_figures() -> None:
    moves = ("still", "pan", "tilt", "track", "pedestal", "zoom")
    project = house(
        [thing("base cabinet", "chest", 60, 20, on_wall("kitchen-north", 40), name="chest")],
        script=script(*(line(move, {"move": move, "subjects": ["chest"]}) for move in moves)),
    )
    told = [shot.move for shot in filmed(project).shots]
    assert told[0] == "still"
    for move, words in zip(moves[1:], told[1:], strict=True):
        assert words.startswith(move)
        assert any(letter.isdigit() for letter in words)


def test_what_is_not_in_the_house_is_replaced_by_the_room() -> None:
    project = house(
        [thing("base cabinet", "gone", 60, 20, on_wall("kitchen-north", 40), state="removed")],
        script=script(line("all", {"subjects": ["gone"]})),
    )
    (shot,) = filmed(project).shots
    assert shot.subject == "Kitchen"
    assert "does not stand in the house" in shot.note


def test_openings_and_walls_can_be_shown() -> None:
    project = house(
        [],
        openings=[window("view", "kitchen-north", 50, name="river window"), door("way", "kitchen-east", 40)],
        script=script(*(line(id, {"subjects": [id]}) for id in ("view", "way", "kitchen-west"))),
    )
    shots = filmed(project).shots
    assert [shot.trouble for shot in shots] == ["", "", ""]
    assert shots[0].subject == "river window"
    for shot, corner in ((shots[0], (94, 144, 88)), (shots[2], (0, 2, 90))):
        at = on_sensor(shot, np.array([inches(value) for value in corner]))
        assert at is not None
        assert abs(at[0]) <= SENSOR[0] / 2
        assert abs(at[1]) <= SENSOR[1] / 2 + 1e-6


def test_nothing_said_gives_no_shots() -> None:
    assert filmed(house()) == Film((), ())
    assert filmed(house(spaces=[])) == Film((), ())


@pytest.mark.parametrize("name", ["", "x" * 100_000, "<b>&</b>", "\u202eabc", "水槽 🛁"])
def test_odd_names_are_told(name: str) -> None:
    named = name[:200]  # what a name may hold at most
    project = house(
        [thing("base cabinet", "chest", 60, 20, on_wall("kitchen-north", 40), name=named)],
        script=script(line("all", {"subjects": ["chest"], "move": "pan"})),
    )
    found = filmed(project)
    assert found.shots[0].subject == (named or "base cabinet")
    assert "<b>" not in found.plans[0].svg
    assert found.shots[0].picture is not None
    assert "<b>" not in found.shots[0].picture.svg


def test_the_table_of_sizes() -> None:
    assert tuple(SIZES) == get_args(ShotSize)
    assert SIZE_SOURCE.known == "common practice"
    whole = [size.fills for size in SIZES.values() if size.part == 1]
    assert whole == sorted(whole)
    assert [size.part for size in SIZES.values()] == sorted((size.part for size in SIZES.values()), reverse=True)
    assert [size.of_room for size in SIZES.values()] == sorted((s.of_room for s in SIZES.values()), reverse=True)
