"""A drawing that can be read: one number a finding, words that cross few lines, keys that stay in their columns."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Callable

import pytest

from building import free, house, on_wall, set_in, thing
from drawings.crowded import crowded
from enfilade.drawings.crossed import Crossed
from enfilade.drawings.footer import key_block
from enfilade.drawings.items import Arc, KeyLine, Label, Line, Numbered, Polygon, Scene
from enfilade.drawings.laid import Laid
from enfilade.drawings.part import Stage
from enfilade.drawings.scene import elevation_scene, plan_scene
from enfilade.drawings.schedule import cabinet_schedule
from enfilade.drawings.shapes import Frame, written_on
from enfilade.drawings.style import INK, PAPER
from enfilade.drawings.svg import svg_sheet
from enfilade.drawings.writing import text_width
from enfilade.findings import Finding, Mark, Requirement
from enfilade.project.demo import demo
from enfilade.project.placing import AgainstWall
from enfilade.project.project import Project
from enfilade.quantities import Quantity
from enfilade.sources import Source

_SVG = "{http://www.w3.org/2000/svg}"


def _short(id: str, *subjects: str, plane: str = "", at: tuple[float, float] = (300.0, 300.0)) -> Finding:
    marks = (Mark(plane=plane, role="point", points=(at,)),) if plane else ()
    return Finding(
        id=id,
        rule=id.split(":")[0],
        title=f"Rule {id}",
        level="recommended",
        space="kitchen",
        subjects=subjects,
        measured=Quantity(14, "in"),
        required=Requirement("at least", 15.0, "in"),
        source=Source("A guideline", "", "", "1", "seen", "Guideline"),
        marks=marks,
    )


def _numbers(scene: Scene) -> dict[str, int]:
    return {item.subject: item.number for item in scene.items if isinstance(item, Numbered)}


def _found() -> list[Finding]:
    return [
        _short("A:1", "pots"),
        _short("B:1"),
        _short("C:1", "drawers"),
        _short("D:1", plane="kitchen-north"),
    ]


def test_a_finding_bears_one_number_on_every_drawing() -> None:
    plan = plan_scene(crowded(), "kitchen", _found())
    numbers = {line.finding: line.number for line in plan.key if line.number}
    assert numbers == {"A:1": 1, "C:1": 2} == _numbers(plan)
    wall = elevation_scene(crowded(), "kitchen-north", _found(), numbers=numbers)
    # What only the wall shows continues the count of the plan.
    assert _numbers(wall) == {"C:1": 2, "D:1": 3}
    assert [(line.number, line.finding) for line in wall.key] == [(2, "C:1"), (3, "D:1")]
    assert _numbers(elevation_scene(crowded(), "kitchen-north", _found())) == {"C:1": 1, "D:1": 2}


@pytest.mark.parametrize(("space", "heading"), [("kitchen", "About the room"), (None, "About the house")])
def test_findings_without_a_place_stand_apart_and_bear_no_number(space: str | None, heading: str) -> None:
    plan = plan_scene(crowded(), space, _found())
    assert [(line.number, line.finding) for line in plan.key] == [(1, "A:1"), (2, "C:1"), (0, "B:1"), (0, "D:1")]
    root = ET.fromstring(svg_sheet(plan, width_px=1000))
    words = ["".join(node.itertext()) for node in root.iter(f"{_SVG}text")]
    assert words.index(heading) > max(n for n, word in enumerate(words) if "Rule C:1" in word)
    # No number stands between the heading and the words.
    assert "Rule B:1" in words[words.index(heading) + 1]
    assert heading not in svg_sheet(plan_scene(crowded(), space, _found()[:1]))


def test_narrow_cabinets_of_an_elevation_bear_their_number() -> None:
    scene = elevation_scene(crowded(), "kitchen-west")
    laid = Laid(scene, Frame(0.2, 40, 700), "us")
    written = {placed.label.subject: placed for placed in laid.labels}
    # 15 in of spice and trays are less than 600 mm, 30 in of pots are more.
    assert written["spice"].lines == (written["spice"].label.tag,)
    assert written["trays"].lines == (written["trays"].label.tag,)
    assert "base" in " ".join(written["pots"].lines)
    tags = {tag for tag, _ in laid.key}
    assert {written["spice"].label.tag, written["trays"].label.tag} <= tags
    assert all(placed.turn_deg == 0 for placed in laid.labels if placed.label.size == "thing")


def _bearing(scene: Scene, scale: float) -> tuple[dict[str, str], dict[str, str]]:
    """Return what is written first on each thing of a drawing, and what its key tells of tags."""
    laid = Laid(scene, Frame(scale, 60, 700), "us")
    return {p.label.subject: " ".join(p.lines) for p in laid.labels}, dict(laid.key)


@pytest.mark.parametrize("scale", [0.05, 0.09, 0.16])
@pytest.mark.parametrize(("make", "room"), [(crowded, "kitchen"), (demo, "kitchen"), (demo, "scullery")])
def test_every_number_of_the_schedule_leads_to_the_drawings(
    make: Callable[[], Project], room: str, scale: float
) -> None:
    project = make()
    rows = cabinet_schedule(project, room)
    assert len(rows) > 2
    plan, key = _bearing(plan_scene(project, room), scale)
    walls = {wall.id: _bearing(elevation_scene(project, wall.id), scale) for wall in project.space(room).walls}
    for row in rows:
        assert plan[row.thing].split()[0] == row.number
        assert plan[row.thing] in (row.number, f"{row.number} {row.name}")
        assert key[row.number] == row.name
        place = project.things_by_id[row.thing].place
        if isinstance(place, AgainstWall):
            written, told = walls[place.wall]
            assert written[row.thing].split()[0] == row.number
            assert told[row.number] == row.name


def test_a_name_follows_its_number_where_it_fits() -> None:
    project = house([thing("base cabinet", "c", 60, 24, on_wall("kitchen-north", 20), name="pots")])
    assert _bearing(plan_scene(project, "kitchen"), 0.1)[0]["c"] == "K-1 pots"
    assert _bearing(elevation_scene(project, "kitchen-north"), 0.1)[0]["c"] == "K-1 pots"


def test_a_cabinet_keeps_its_number_at_every_stage() -> None:
    states = {"new": 0, "kept": 30, "removed": 60}
    things = [thing("base cabinet", s, 24, 24, on_wall("kitchen-north", at), state=s) for s, at in states.items()]
    project = house(things)
    numbers = {row.thing: row.number for row in cabinet_schedule(project, "kitchen")}
    assert set(numbers) == {"new", "kept"}
    stages: tuple[Stage, ...] = ("as found", "proposed", "as built")
    for stage in stages:
        wall = elevation_scene(project, "kitchen-north", stage=stage)
        for scene in (plan_scene(project, "kitchen", stage=stage), wall):
            label = next(item for item in scene.of("kept") if isinstance(item, Label))
            assert label.tag == numbers["kept"]


def test_the_name_of_what_is_half_hidden_stands_where_it_shows() -> None:
    things = [
        thing("tall cabinet", "tower", 33, 24, on_wall("kitchen-north", 30), name="Tower"),
        thing("oven", "oven", 30, 24, free(46.5, 107.5, 0), bottom=30, top=60),
    ]
    scene = elevation_scene(house(things), "kitchen-north")
    label = next(item for item in scene.of("tower") if isinstance(item, Label))
    oven = next(item for item in scene.of("oven") if isinstance(item, Polygon))
    low, high = min(y for _, y in oven.points), max(y for _, y in oven.points)
    half = label.height_mm / 2
    assert label.at[1] + half <= low + 0.1 or label.at[1] - half >= high - 0.1


def test_the_number_of_a_cabinet_keeps_off_the_sink_above_it() -> None:
    things = [
        thing("base cabinet", "base", 34, 24, on_wall("kitchen-north", 40), name="a base with a very long name indeed"),
        thing("counter", "top", 34, 25.5, on_wall("kitchen-north", 40)),
        thing("sink", "sink", 33, 22, set_in("top", 0.5, 1.5), main=True),
    ]
    scene = plan_scene(house(things), "kitchen")
    frame = Frame(0.09, 60, 400)
    tag = next(p for p in Laid(scene, frame, "us").labels if p.label.subject == "base")
    rim = next(item for item in scene.of("sink") if isinstance(item, Polygon) and item.title)
    xs, ys = zip(*map(frame, rim.points), strict=True)
    x0, y0, x1, y1 = tag.rect
    assert x1 <= min(xs) or x0 >= max(xs) or y1 <= min(ys) or y0 >= max(ys)
    assert tag.leader is not None
    assert min(math.dist(tag.leader[1], (x, y)) for x in (x0, (x0 + x1) / 2, x1) for y in (y0, (y0 + y1) / 2, y1)) < 4


def test_the_name_of_a_refrigerator_keeps_off_its_diagonal() -> None:
    project = house([thing("refrigerator", "cold", 36, 30, on_wall("kitchen-north", 20))])
    scene, frame = plan_scene(project, "kitchen"), Frame(0.1, 60, 400)
    placed = next(p for p in Laid(scene, frame, "us").labels if p.label.subject == "cold")
    own = Crossed.of([item for item in scene.of("cold") if isinstance(item, Line)], frame)
    assert own.cells
    assert own.within(placed.rect) == 0


def test_lines_are_measured_within_a_rectangle() -> None:
    lines = Crossed()
    lines.add((0.0, 0.0), (300.0, 0.0))
    lines.add((0.0, 0.0), (30.0, 40.0))
    assert lines.within((100.0, -5.0, 220.0, 5.0)) == pytest.approx(120)
    assert lines.within((0.0, 20.0, 30.0, 40.0)) == pytest.approx(25)  # half of a 3-4-5 triangle's long side of 50
    assert lines.within((0.0, 50.0, 300.0, 60.0)) == 0
    frame = Frame(1.0, 0.0, 0.0)
    quarter = Arc(role="swing", centre=(0.0, 0.0), start=(100.0, 0.0), end=(0.0, 100.0), clockwise=False)
    whole = Crossed.of([quarter], frame).within((-1.0, -101.0, 101.0, 1.0))
    assert whole == pytest.approx(100 * math.pi / 2, rel=0.01)


@pytest.mark.parametrize("width", [340.0, 530.0, 640.0, 1090.0])
@pytest.mark.parametrize("name", ["a name of several words that goes on and on", "Hauptgeschirrschrankunterteil" * 2])
def test_keys_stay_in_their_columns(width: float, name: str) -> None:
    findings = tuple(KeyLine(n % 17, f"F{n}", "falls short", f"{name} {n}; {name}") for n in range(1, 25))
    scene = Scene("x", "plan", "T", "D.", "us", (), (0, 0, 1, 1), key=findings)
    things = [(f"K-{n}", f"{name} {n}") for n in range(1, 15)]
    root = ET.fromstring(
        f'<svg xmlns="http://www.w3.org/2000/svg">{key_block(scene, things, width, "us").markup}</svg>'
    )
    boxes = list(_boxes(root))
    assert len(boxes) > 50
    assert max(x1 for _, _, x1, _ in boxes) <= width
    for n, (a0, b0, a1, b1) in enumerate(boxes):
        for c0, d0, c1, d1 in boxes[n + 1 :]:
            assert min(a1, c1) - max(a0, c0) < 0.5 or min(b1, d1) - max(b0, d0) < 0.5


def _boxes(root: ET.Element) -> list[tuple[float, float, float, float]]:
    """Return the box of each line of text that starts at its left end [px]."""
    boxes = []

    def walk(node: ET.Element, down: float) -> None:
        if move := (node.get("transform") or "").removeprefix("translate(0 ").removesuffix(")"):
            down += float(move)
        if node.tag == f"{_SVG}text" and node.get("text-anchor") == "start":
            size = float(node.get("font-size") or 0)
            x, y = float(node.get("x") or 0), float(node.get("y") or 0) + down
            wide = text_width(node.text or "", size, node.get("font-weight") == "600")
            boxes.append((x, y - size / 2, x + wide, y + size / 2))
        for child in node:
            walk(child, down)

    walk(root, 0.0)
    return boxes


@pytest.mark.parametrize(
    ("word", "thousandths"),
    # Advance widths of the standard sans serif of the PDF Reference (Adobe core font metrics), recalled:
    # r 333, e 556, f 278, i 222, g 556, a 556, t 278, o 556; K 667, hyphen 333, digits 556.
    [("refrigerator", 4 * 333 + 2 * 556 + 278 + 222 + 556 + 556 + 278 + 556), ("K-16", 667 + 333 + 2 * 556)],
)
def test_words_are_as_wide_as_in_the_stand_in_face(word: str, thousandths: int) -> None:
    assert text_width(word, 1000) == pytest.approx(thousandths)


@pytest.mark.parametrize(("ground", "ink"), [("#ffffff", INK), ("#b08a5a", INK), ("#8b979a", INK), ("#223344", PAPER)])
def test_words_on_a_dark_front_are_light(ground: str, ink: str) -> None:
    assert written_on(ground) == ink
    assert _contrast(ground, ink) >= _contrast(ground, PAPER if ink == INK else INK)


def _contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours: WCAG 2.2, definitions of contrast ratio and relative luminance."""

    def luminance(colour: str) -> float:
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        curve: Callable[[float], float] = lambda c: c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4  # noqa: E731
        red, green, blue = map(curve, parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)
