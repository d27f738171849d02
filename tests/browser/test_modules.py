"""The page's own modules in real Chromium: lengths and clear widths as Python has them, and trees."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import pytest
import shapely
from shapely.affinity import rotate, translate

import enfilade as ef
from enfilade.capture.desk import Desk
from enfilade.capture.es_modules import JS, joined
from enfilade.capture.parts import plan
from enfilade.capture.sight import Sight
from enfilade.editing.things.clear_round import EDGE_MM, clear_widths_round
from enfilade.editing.things.house import House
from enfilade.lengths import show_size

pytestmark = pytest.mark.browser


@pytest.fixture
def blank(chromium: Any) -> Any:
    page = chromium.new_page()
    page.set_content("<!doctype html><html lang='en'><title>modules</title><main id='place'></main>")
    yield page
    page.close()


def load(page: Any, entry: str, *names: str) -> None:
    """Make what a module exports known to the page as `window.<name>`."""
    for name in names:
        page.evaluate(
            """async ([source, name]) => {
                const url = URL.createObjectURL(new Blob([source], { type: "text/javascript" }));
                window[name] = (await import(url)).default[name];
            }""",
            [joined(entry, name), name],
        )


def test_lengths_are_written_as_python_writes_them(blank: Any) -> None:
    # No outside source: the two must say the same, and Python's is held against worked examples in tests/ground.
    load(blank, "lengths.js", "showSize")
    draw = random.Random(7)
    sizes = [0.0, 0.7, 0.8, 12.7, 25.4, 914.4, 1066.8, 2438.4, *(draw.uniform(0, 9000) for _ in range(400))]
    for units in ("us", "metric"):
        written = blank.evaluate("([sizes, units]) => sizes.map((size) => showSize(size, units))", [sizes, units])
        assert written == [show_size(size, units) for size in sizes]


def body(id: str, x: float, y: float, w: float, d: float, turn: float = 0.0) -> dict[str, Any]:
    stands = {"list": "things", "bottom": 0, "top": 900, "hangs": False, "counts": True, "tops": False, "host": None}
    return {"id": id, "name": id, "x": x, "y": y, "w": w, "d": d, "turn": turn, **stands}


def shape(one: dict[str, Any]) -> Any:
    box = shapely.box(-one["w"] / 2, -one["d"] / 2, one["w"] / 2, one["d"] / 2)
    return translate(rotate(box, one["turn"], origin=(0, 0)), one["x"], one["y"])


def ahead(one: dict[str, Any], side: str, reach: float = 6000.0) -> Any:
    """The floor before one side, as wide as that side less half an inch at each end."""
    w, d, e = one["w"] / 2, one["d"] / 2, EDGE_MM
    strip = {
        "front": shapely.box(-w + e, -d - reach, w - e, -d),
        "back": shapely.box(-w + e, d, w - e, d + reach),
        "right": shapely.box(w, -d + e, w + reach, d - e),
        "left": shapely.box(-w - reach, -d + e, -w, d - e),
    }[side]
    return translate(rotate(strip, one["turn"], origin=(0, 0)), one["x"], one["y"])


def test_clear_widths_are_the_distances_that_a_geometry_library_gives(blank: Any) -> None:
    load(blank, "bodies.js", "clearWidths")
    draw = random.Random(11)
    compared = 0
    for _ in range(150):
        own = body("own", 3000, 3000, draw.uniform(400, 1500), draw.uniform(400, 900), draw.uniform(-180, 180))
        others = [
            body(f"b{i}", draw.uniform(0, 6000), draw.uniform(0, 6000), draw.uniform(300, 1500), draw.uniform(300, 900),
                 draw.uniform(-180, 180))
            for i in range(5)
        ]  # fmt: skip
        others = [one for one in others if not shape(one).intersects(shape(own))]
        found = blank.evaluate("([own, all]) => clearWidths(own, all, [])", [own, [own, *others]])
        by_side = {one["side"]: one["mm"] for one in found}
        for side in ("front", "back", "left", "right"):
            strip = ahead(own, side)
            edge = shape(own).boundary
            line = max(
                (shapely.LineString(pair) for pair in zip(edge.coords, list(edge.coords)[1:], strict=False)),
                key=lambda one: one.intersection(strip.buffer(1e-6)).length,
            )
            parts = [shape(one).intersection(strip) for one in others]
            far = [_straight(line, part) for part in parts if not part.is_empty and part.area > 1]
            if far:
                assert by_side[side] == pytest.approx(min(far), abs=1.0), (side, own, others)
                compared += 1
            elif side in by_side:
                assert all(part.area <= 1000 for part in parts)
    assert compared > 100


def _straight(line: Any, part: Any) -> float:
    """How far a shape is from the line through an edge: the least distance of its corners from that line."""
    (ax, ay), (bx, by) = line.coords
    length = line.length
    return min(
        abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length for x, y in shapely.get_coordinates(part).tolist()
    )


def test_a_wall_before_a_side_is_measured_too(blank: Any) -> None:
    # Worked by hand: an island 1200 x 600 in the middle of a room of 4200 x 3600.
    load(blank, "bodies.js", "clearWidths")
    walls = [
        {"id": str(i), "name": name, "open": False, "a": a, "b": b}
        for i, (name, a, b) in enumerate(
            [
                ("south", [0, 0], [4200, 0]),
                ("east", [4200, 0], [4200, 3600]),
                ("north", [4200, 3600], [0, 3600]),
                ("west", [0, 3600], [0, 0]),
            ]
        )
    ]
    own = body("island", 2100, 1800, 1200, 600)
    found = blank.evaluate("([own, walls]) => clearWidths(own, [own], walls)", [own, walls])
    told = {one["side"]: (one["name"], round(one["mm"], 6)) for one in found}
    assert told == {"front": ("south", 1500), "back": ("north", 1500), "left": ("west", 1500), "right": ("east", 1500)}


def test_the_page_measures_the_demo_house_as_python_does(blank: Any, tmp_path: Path) -> None:
    # Two ways to one answer; Python's is held against a geometry library and laws in tests/editing.
    load(blank, "bodies.js", "clearWidths")
    ef.save(ef.demo(), tmp_path / "house")
    desk = Desk.open(tmp_path / "house")
    compared = 0
    walls = {opening.id: opening.wall for opening in desk.project.openings}
    house = House(desk.project)
    for space in desk.project.spaces:
        own_walls = {wall.id for wall in space.walls}
        state = plan.shown(desk, Sight(room=space.id))
        for one in state["bodies"]:
            # An opening seen from the room beyond is measured on the wall there.
            if one["beyond"] or (one["list"] == "openings" and walls[one["id"]] not in own_walls):
                continue
            found = blank.evaluate(
                "([own, state]) => clearWidths(own, state.bodies, state.walls)", [one, {**state, "svg": ""}]
            )
            truth = clear_widths_round(house, one["id"]).items()
            asked = {side: pytest.approx(clear.distance_mm, abs=0.02) for side, clear in truth if clear}
            assert {side["side"]: side["mm"] for side in found} == asked, one["id"]
            compared += len(asked)
    assert compared > 500


def test_a_tree_put_in_place_of_another_leaves_alone_what_is_being_typed(blank: Any) -> None:
    load(blank, "dom.js", "h", "morph")
    blank.evaluate("""() => {
        window.tree = (names, value) => h("ul", {}, names.map((name) =>
            h("li", { key: name }, h("input", { id: name, value, "aria-label": name }))));
        place.append(tree(["a", "b", "c"], "saved"));
    }""")
    blank.focus("#b")
    blank.keyboard.type(" and more")
    blank.evaluate("morph(place.firstChild, tree(['d', 'c', 'b'], 'changed elsewhere'))")
    assert blank.evaluate("document.activeElement.id") == "b"
    assert blank.input_value("#b") == "saved and more"
    assert blank.input_value("#c") == "changed elsewhere"
    assert blank.evaluate("[...document.querySelectorAll('input')].map((one) => one.id)") == ["d", "c", "b"]


def test_handlers_follow_an_element_that_was_kept(blank: Any) -> None:
    load(blank, "dom.js", "h", "morph", "listen")
    blank.evaluate("""() => {
        window.heard = [];
        const on = (word) => ({ click: () => heard.push(word) });
        window.tree = (word) => h("p", {}, h("button", { type: "button", on: on(word) }, "go"));
        listen(place);
        place.append(tree("first"));
    }""")
    blank.click("button")
    blank.evaluate("morph(place.firstChild, tree('second'))")
    blank.click("button")
    assert blank.evaluate("heard") == ["first", "second"]


def test_every_part_that_has_a_view_is_shown_by_its_name() -> None:
    listed = (JS / "views.js").read_text(encoding="utf-8")
    from enfilade.capture.parts import parts

    for name in parts():
        if (JS / f"{name}.js").exists():
            assert f"{name}: {name}View," in listed
    assert json.dumps(joined("page.js", "render"))
