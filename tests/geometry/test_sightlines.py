"""What blocks a line of sight, in plan and in section, against other ways of working it out."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from enfilade.errors import OutOfRange
from enfilade.geometry import Box, visible_region
from enfilade.geometry.sections import height_along_mm, passings
from enfilade.geometry.sightlines import Obstructions, Place
from enfilade.geometry.solid import Hole, Panel, Prism

from .placing import Placing, placings

IN = 25.4
ROOM = [(0.0, 0.0), (6000.0, 0.0), (6000.0, 4000.0), (0.0, 4000.0)]
L_SHAPE = ((0.0, 0.0), (1500.0, 0.0), (1500.0, 400.0), (400.0, 400.0), (400.0, 1200.0), (0.0, 1200.0))


def prism(id: str, box: Box, bottom: float, top: float) -> Prism:
    return Prism(id, box.corners, bottom, top)


def blocked_by_cutting(eye: Place, target: Place, body: Prism) -> tuple[float, float]:
    """Return how much of a line lies in a body, and where it first does: cut in plan by shapely, then by heights."""
    plan, length = math.dist(eye[:2], target[:2]), math.dist(eye, target)
    parts = shapely.get_parts(LineString([eye[:2], target[:2]]).intersection(Polygon(body.footprint)))
    inside, first = 0.0, math.inf
    for part in parts:
        ends = sorted(math.dist(eye[:2], (x, y)) / plan for x, y in shapely.get_coordinates(part).tolist()) or [0.0]
        low, high = ends[0], ends[-1]
        rise = target[2] - eye[2] if abs(target[2] - eye[2]) > 1e-6 else 0.0
        levels = sorted((level - eye[2]) / rise for level in (body.bottom_mm, body.top_mm)) if rise else [0.0, 1.0]
        if not rise and not body.bottom_mm < eye[2] < body.top_mm:
            continue
        low, high = max(low, levels[0]), min(high, levels[1])
        if high > low:
            inside += (high - low) * length
            first = min(first, low * length)
    return inside, first


bodies = st.lists(
    st.tuples(
        st.floats(300, 5700), st.floats(300, 3700), st.floats(50, 1500), st.floats(0, 90),
        st.floats(0, 1500), st.floats(10, 2000), st.booleans(),
    ),
    max_size=6,
)  # fmt: skip
places = st.tuples(st.floats(10, 5990), st.floats(10, 3990), st.floats(0, 2600))


def made(rows: list[tuple[float, ...]]) -> list[Prism]:
    found = []
    for number, (x, y, size, turn, bottom, high, bent) in enumerate(rows):
        ring = Box(x, y, size, size / 2, turn).corners
        if bent:
            moved = [(x + (u - 600) * size / 1500, y + (v - 500) * size / 1500) for u, v in L_SHAPE]
            ring = tuple(shapely.get_coordinates(shapely.affinity.rotate(Polygon(moved), turn))[:-1].tolist())
            ring = tuple((float(u), float(v)) for u, v in ring)
        # Either way round.
        found.append(Prism(f"b{number}", tuple(ring[::-1] if number % 2 else ring), bottom, bottom + high))
    return found


@given(bodies, places, st.lists(places, min_size=1, max_size=12))
@settings(max_examples=150, deadline=None)
def test_bodies_block_what_cutting_each_line_says(
    rows: list[tuple[float, ...]], eye: Place, targets: list[Place]
) -> None:
    targets = [target for target in targets if math.dist(eye[:2], target[:2]) > 50]
    solids = made(rows)
    sight = Obstructions(solids).sight(eye, targets)
    for line, target in enumerate(targets):
        expected = {}
        doubtful = set()
        for body in solids:
            inside, first = blocked_by_cutting(eye, target, body)
            if inside > 0.9:
                expected[body.id] = first
            elif inside > 0.7:
                doubtful.add(body.id)  # about the 0.8 mm at which a body begins to block
        found = [id for id in sight.blockers(line) if id not in doubtful]
        assert set(found) == set(expected)
        assert bool(sight.clear[line]) == (not sight.blockers(line))
        nearest = [expected[id] for id in found]
        assert nearest == sorted(nearest) or nearest == pytest.approx(sorted(nearest), abs=1.0)


@given(bodies, st.tuples(st.floats(10, 5990), st.floats(10, 3990)), st.randoms(use_true_random=False))
@settings(max_examples=40, deadline=None)
def test_full_height_bodies_hide_what_lies_outside_the_visible_region(
    rows: list[tuple[float, ...]], eye: tuple[float, float], luck: random.Random
) -> None:
    flat = [Prism(b.id, b.footprint, 0, 2700) for b in made(rows)]
    shapes = [Polygon(b.footprint) for b in flat]
    kept = [(b, s) for b, s in zip(flat, shapes, strict=True) if s.distance(shapely.Point(eye)) > 2]
    seen = visible_region(eye, ROOM, [s for _, s in kept])
    spots = [(luck.uniform(0, 6000), luck.uniform(0, 4000)) for _ in range(40)]
    spots = [spot for spot in spots if seen.boundary.distance(shapely.Point(spot)) > 3]
    if not spots:
        return
    sight = Obstructions([b for b, _ in kept]).sight((*eye, 1500), [(x, y, luck.uniform(1, 2699)) for x, y in spots])
    for clear, spot in zip(sight.clear, spots, strict=True):
        assert bool(clear) == seen.contains(shapely.Point(spot))


def test_the_visible_region_of_another_library_agrees() -> None:
    pyvispoly = pytest.importorskip("pyvispoly")
    post, bench = Box(2500, 1500, 400, 300, 20), Box(4200, 2600, 1500, 500, -35)

    def ring(points: list[tuple[float, float]]) -> object:
        return pyvispoly.Polygon([pyvispoly.Point(x, y) for x, y in points])

    room = pyvispoly.PolygonWithHoles(ring(ROOM), [ring(list(b.corners)[::-1]) for b in (post, bench)])
    computer = pyvispoly.VisibilityPolygonCalculator(room)
    solids = Obstructions([prism("post", post, 0, 2700), prism("bench", bench, 0, 2700)])
    luck = random.Random(4)
    for eye in ((700.0, 900.0), (3300.0, 3300.0), (5600.0, 500.0)):
        theirs = computer.compute_visibility_polygon(pyvispoly.Point(*eye))
        region = Polygon([(float(p.x()), float(p.y())) for p in theirs.boundary()])
        spots = [(luck.uniform(0, 6000), luck.uniform(0, 4000)) for _ in range(300)]
        spots = [spot for spot in spots if region.boundary.distance(shapely.Point(spot)) > 3]
        clear = solids.sight((*eye, 1200), [(*spot, 1300) for spot in spots]).clear
        assert clear.tolist() == [region.contains(shapely.Point(spot)) for spot in spots]
        assert 0 < clear.sum() < len(spots)


# Wall faces


@given(
    st.tuples(st.floats(-2000, 2000), st.floats(-3000, -10), st.floats(0, 2700)),
    st.lists(st.tuples(st.floats(-2000, 2000), st.floats(10, 3000), st.floats(0, 2700)), min_size=1, max_size=20),
    placings,
)
@settings(max_examples=100, deadline=None)
def test_a_wall_lets_pass_what_meets_its_openings(eye: Place, targets: list[Place], placing: Placing) -> None:
    # Door 900 wide from -500 to 400, and a window above a sill, in a wall along x from -1500 to 1500, 2400 high.
    holes = (Hole(1000, 1900, 0, 2000), Hole(2200, 2700, 900, 1800))
    a, b = placing.point((-1500, 0)), placing.point((1500, 0))
    wall = Obstructions((), [Panel("wall", a, b, 0, 2400, holes)])

    def there(place: Place) -> Place:
        return (*placing.point(place[:2]), place[2])

    clear = wall.sight(there(eye), [there(target) for target in targets]).clear
    for seen, target in zip(clear, targets, strict=True):
        share = -eye[1] / (target[1] - eye[1])
        x, z = eye[0] + share * (target[0] - eye[0]), eye[2] + share * (target[2] - eye[2])
        edges = [abs(x - e) for e in (-1500, 1500, -500, 400, 700, 1200)]
        edges += [abs(z - e) for e in (0, 900, 1800, 2000, 2400)]
        if min(edges) < 0.1:
            continue
        through = (-500 < x < 400 and z < 2000) or (700 < x < 1200 and 900 < z < 1800)
        assert bool(seen) == (through or not (-1500 < x < 1500 and z < 2400))


def test_the_limits_that_are_stated() -> None:
    block = Obstructions([prism("block", Box(0, 0, 1000, 1000), 0, 900)])
    eye = (0.0, -3000.0, 1200.0)
    targets = [
        (0, -500, 450),  # on its front: seen
        (0, 500, 450),  # on its back: hidden by itself
        (100, -500, 900),  # on the front edge of its top
        (0, 200, 900),  # on its top, seen from above
        (3000, -3000, 500),
    ]
    assert block.sight(eye, targets).clear.tolist() == [True, False, True, True, True]
    # Along a face, and along the top.
    assert block.sight((-2000, -500, 450), [(2000, -500, 450)]).clear.tolist() == [True]
    assert block.sight((-2000, 0, 900), [(2000, 0, 900)]).clear.tolist() == [True]
    assert block.sight((-2000, -499, 450), [(2000, -499, 450)]).clear.tolist() == [False]
    # Through a corner, cutting off less than 0.8 mm, and more.
    assert block.sight((-1000.3, 0, 450), [(0, -1000.3, 450)]).clear.tolist() == [True]
    assert block.sight((-999, 0, 450), [(0, -999, 450)]).clear.tolist() == [False]
    # An eye inside sees nothing.
    assert block.sight((0, 0, 450), [(0, -3000, 450)]).clear.tolist() == [False]
    # A pane of 0.5 mm hides nothing.
    assert Obstructions([prism("pane", Box(0, 0, 1000, 0.5), 0, 900)]).sight((0, -9, 5), [(0, 9, 5)]).clear.all()


def test_walls_that_meet_in_a_corner_let_nothing_through() -> None:
    walls = [Panel("south", (0, 0), (1000, 0), 0, 2400), Panel("east", (1000, 0), (1000, 1000), 0, 2400)]
    sight = Obstructions((), walls).sight((500, 500, 1000), [(1500, -500, 1000), (1000, 500, 1000), (500, 0, 10)])
    assert sight.clear.tolist() == [False, True, True]  # the corner; on a face; on the other


def test_what_blocks_is_told_from_the_eye_on() -> None:
    rows = [prism("far", Box(0, 2000, 800, 100), 0, 2000), prism("near", Box(0, 500, 800, 100), 0, 2000)]
    wall = Panel("wall", (-2000, 1200), (2000, 1200), 0, 2400)
    sight = Obstructions([*rows, prism("far", Box(0, 2300, 800, 100), 0, 2000)], [wall]).sight(
        (0, 0, 1000), [(0, 4000, 1000), (0, 1000, 1000), (0, 100, 1000)]
    )
    assert sight.blockers(0) == ("near", "wall", "far")
    assert sight.blockers(1) == ("near",)
    assert (sight.first(0), sight.first(2)) == ("near", None)
    assert sight.met_mm[0].min() == pytest.approx(450)


def test_many_lines_are_worked_out_in_parts_and_agree() -> None:
    luck = np.random.default_rng(7)
    boxes = [prism(f"b{i}", Box(*luck.uniform(0, 5000, 2), 300, 200, float(i)), 0, 1500) for i in range(60)]
    solids = Obstructions(boxes)
    eyes, targets = luck.uniform(0, 5000, (9000, 3)), luck.uniform(0, 5000, (9000, 3))
    together = solids.sight(eyes, targets).clear
    some = [0, 4444, 6666, 6667, 8999]
    assert [bool(solids.sight(eyes[i], targets[i : i + 1]).clear[0]) for i in some] == together[some].tolist()


# In section


def test_a_hanging_light_before_standing_eyes() -> None:
    # Worked by hand: eye at 62 in, target 48 in high at 180 in, light at 72 in along: 62 - 14 x 72/180 = 56.4 in; a
    # light whose bottom is at 66 in clears the line by 9.6 in.
    assert height_along_mm(62 * IN, 48 * IN, 180 * IN, 72 * IN) == pytest.approx(56.4 * IN)
    light = Panel("light", (72 * IN, -200), (72 * IN, 200), 66 * IN, 84 * IN)
    (met,) = passings((0, 0, 62 * IN), (180 * IN, 0, 48 * IN), (), [light])
    assert (met.from_mm, met.line_low_mm) == pytest.approx((72 * IN, 56.4 * IN))
    assert met.clear_mm == pytest.approx(9.6 * IN)
    # As a body 12 in deep about the same place, the line is highest at its near face: 62 - 14 x 66/180 = 56.8667 in.
    body = prism("light", Box(72 * IN, 0, 12 * IN, 12 * IN), 66 * IN, 84 * IN)
    (met,) = passings((0, 0, 62 * IN), (180 * IN, 0, 48 * IN), [body])
    assert met.clear_mm == pytest.approx((66 - 56.0 - 13 / 15) * IN)


@given(bodies, places, places)
@settings(max_examples=100, deadline=None)
def test_what_is_passed_over_or_under_does_not_block(rows: list[tuple[float, ...]], eye: Place, target: Place) -> None:
    if math.dist(eye[:2], target[:2]) < 50:
        return
    solids = made(rows)
    met = passings(eye, target, solids)
    blocking = set(Obstructions(solids).sight(eye, [target]).blockers(0))
    through = {one.id for one in met if one.clear_mm < -1.0 and one.to_mm - one.from_mm > 2.0}
    clear = {body.id for body in solids} - {one.id for one in met if one.clear_mm < 0}
    assert not blocking & clear
    for name in through - blocking:
        inside = sum(blocked_by_cutting(eye, target, body)[0] for body in solids if body.id == name)
        assert inside < 1.0
    assert [one.from_mm for one in met] == sorted(one.from_mm for one in met)


@pytest.mark.parametrize(
    ("eyes", "targets"),
    [([(0, 0, 0), (1, 1, 1)], [(2, 2, 2)] * 3), ((0, 0, math.nan), [(1, 1, 1)]), ((0, 0, 0), [(1, math.inf, 1)])],
)
def test_what_is_no_line_is_refused(eyes: object, targets: object) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        Obstructions().sight(eyes, targets)  # type: ignore[arg-type]


def test_a_section_needs_a_line_on_the_plan() -> None:
    with pytest.raises(OutOfRange, match="apart on the plan"):
        passings((0, 0, 0), (0, 0, 1000))
    with pytest.raises(OutOfRange, match="above 0"):
        height_along_mm(1500, 1200, 0, 0)


def test_nothing_in_the_way() -> None:
    sight = Obstructions().sight((0, 0, 0), [(1, 1, 1), (0, 0, 0)])
    assert sight.clear.tolist() == [True, True]
    assert sight.blockers(0) == ()
    assert Obstructions().sight((0, 0, 0), []).clear.tolist() == []
