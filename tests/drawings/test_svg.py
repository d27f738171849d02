"""The SVG sheet: well formed whatever is written in the project, at scale, and readable without colour."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import house, on_wall, room, thing
from drawings.crowded import crowded, rooms, turned
from enfilade.checks.run import check
from enfilade.drawings.items import Dimension, Scene
from enfilade.drawings.labels import Taken
from enfilade.drawings.scene import elevation_scene, plan_scene
from enfilade.drawings.shapes import Frame
from enfilade.drawings.strings import strung
from enfilade.drawings.style import VERDICT_COLOURS, VERDICT_SIGNS
from enfilade.drawings.svg import PAPERS, svg_sheet
from enfilade.drawings.writing import broken, cut, folded, text_width
from enfilade.errors import NotFound
from enfilade.lengths import inches
from hostile import MARKER, with_hostile_text

_SVG = "{http://www.w3.org/2000/svg}"


def _root(text: str) -> ET.Element:
    return ET.fromstring(text)


def _texts(root: ET.Element) -> list[str]:
    return ["".join(node.itertext()) for node in root.iter(f"{_SVG}text")]


def test_hostile_text_stays_text() -> None:
    project, fields = with_hostile_text(crowded())
    assert fields > 10
    for scene in (
        plan_scene(project, "kitchen", check(project)),
        plan_scene(project),
        elevation_scene(project, "kitchen-north"),
    ):
        text = svg_sheet(scene)
        root = _root(text)
        tags = {node.tag.removeprefix(_SVG) for node in root.iter()}
        assert tags <= {"svg", "g", "title", "desc", "rect", "line", "polyline", "polygon", "circle", "path", "text"}
        assert MARKER in text
        assert not any(name.lower().startswith("on") or name == "href" for node in root.iter() for name in node.attrib)


@settings(max_examples=25, deadline=None)
@given(name=st.text(max_size=60))
def test_any_text_gives_well_formed_xml(name: str) -> None:
    scene = plan_scene(house([thing("tall cabinet", "t", 40, 24, on_wall("kitchen-north", 0))]), "kitchen")
    hostile = replace(scene, title=name, description=name, project=name, studio=name, notes=(name,))
    _root(svg_sheet(hostile))


def test_control_characters_and_direction_marks_are_replaced() -> None:
    scene = replace(plan_scene(house(), "kitchen"), title="a\x00b\x1bc\u202ed\ufffee")
    title = _root(svg_sheet(scene)).find(f"{_SVG}title")
    assert title is not None
    assert title.text == "a\ufffdb\ufffdc\ufffdd\ufffde"


def test_the_sheet_tells_what_it_shows() -> None:
    root = _root(svg_sheet(plan_scene(crowded(), "kitchen", check(crowded()))))
    assert root.get("role") == "img"
    names = (root.get("aria-labelledby") or "").split()
    told = {node.get("id"): node.text for node in root if node.get("id")}
    assert set(names) == set(told)
    assert all(told[name] for name in names)
    assert "falls short" in (told[names[1]] or "")


def test_every_record_can_be_found_and_says_what_it_is() -> None:
    project = crowded()
    root = _root(svg_sheet(plan_scene(project, "kitchen")))
    groups = {node.get("data-subject"): node for node in root.iter(f"{_SVG}g") if node.get("data-subject")}
    assert {one.id for one in project.things} | {one.id for one in project.openings} <= set(groups)
    titles = [node.text or "" for node in root.iter(f"{_SVG}title")]
    assert any(text.startswith('Pantry: 24" wide, 24" deep, 84" high') for text in titles)


def test_title_block_bears_project_version_date_and_scale() -> None:
    project = crowded(show={"version": "7", "date": "2024-05-06", "stage": "proposed", "studio": {"name": "Studio Q"}})
    words = " ".join(_texts(_root(svg_sheet(plan_scene(project, "kitchen"), scale="1/2 in"))))
    for word in ("Kitchen: plan", "Test house", "version 7", "2024-05-06", "Studio Q", "scale 1/2 in = 1 ft"):
        assert word in words
    bare = " ".join(_texts(_root(svg_sheet(plan_scene(project, "kitchen"), frame=False))))
    assert "version 7" not in bare


@pytest.mark.parametrize(("name", "smaller"), [("1:20", 20), ("1:50", 50), ("1/4 in", 48), ("1/2 in", 24)])
def test_a_sheet_at_scale_prints_at_scale(name: str, smaller: int) -> None:
    # 1/4 in to the foot is 1:48. A wall of 15 ft (4572 mm) is 4572 / smaller mm long on paper.
    root = _root(svg_sheet(plan_scene(crowded(), "kitchen"), scale=name))
    width_mm = float((root.get("width") or "").removesuffix("mm"))
    px_per_mm = float((root.get("viewBox") or "").split()[2]) / width_mm
    line = next(group for group in root.iter(f"{_SVG}g") if group.get("data-role") == "floor")
    xs = [float(pair.split(",")[0]) for pair in (line[-1].get("points") or "").split()]
    assert (max(xs) - min(xs)) / px_per_mm == pytest.approx(inches(180) / smaller, abs=0.05)


@pytest.mark.parametrize("paper", list(PAPERS))
def test_a_paper_sheet_has_the_size_of_the_paper(paper: str) -> None:
    root = _root(svg_sheet(plan_scene(crowded(), "kitchen"), paper=paper))
    size = sorted(float((root.get(side) or "").removesuffix("mm")) for side in ("width", "height"))
    assert size == pytest.approx(sorted(PAPERS[paper]), abs=0.05)


@pytest.mark.parametrize("width", [320.0, 640.0, 1200.0])
@pytest.mark.parametrize("angle", [0.0, 31.0])
def test_nothing_is_cut_off_at_the_edge_of_the_sheet(width: float, angle: float) -> None:
    scene = plan_scene(turned(crowded(), angle), "kitchen")
    root = _root(svg_sheet(scene, width_px=width))
    sheet_w, sheet_h = (float(v) for v in (root.get("viewBox") or "").split()[2:])
    assert sheet_w == pytest.approx(width)
    scale, ox, oy = (float(root.get(f"data-{n}") or 0) for n in ("scale", "origin-x", "origin-y"))
    x0, y0, x1, y1 = scene.bounds
    strings = [item for item in scene.items if isinstance(item, Dimension) and item.tier]
    points = [p for one in strung(strings, Frame(scale, ox, oy), scale, "us") for p in one.points]
    points += [(ox + x0 * scale, oy - y0 * scale), (ox + x1 * scale, oy - y1 * scale)]
    assert all(-0.5 <= x <= sheet_w + 0.5 and -0.5 <= y <= sheet_h + 0.5 for x, y in points)


def test_no_two_names_are_written_over_each_other() -> None:
    root = _root(svg_sheet(plan_scene(crowded(), "kitchen"), width_px=1000))
    taken: list[tuple[float, float, float, float]] = []
    for group in root.iter(f"{_SVG}g"):
        if group.get("data-role") != "label":
            continue
        for text in group.iter(f"{_SVG}text"):
            half = text_width(text.text or "", float(text.get("font-size") or 0)) / 2
            x, y = float(text.get("x") or 0), float(text.get("y") or 0)
            upright = "rotate(-90" in (text.get("transform") or "")
            w, h = (4.0, half) if upright else (half, 4.0)
            taken.append((x - w, y - h, x + w, y + h))
    pairs = [
        (a, b) for i, a in enumerate(taken) for b in taken[i + 1 :]
        if min(a[2], b[2]) - max(a[0], b[0]) > 2 and min(a[3], b[3]) - max(a[1], b[1]) > 2
    ]  # fmt: skip
    assert len(taken) > 8
    assert pairs == []


def test_names_that_do_not_fit_go_to_the_key() -> None:
    long = "a cabinet with a name far too long for its width"
    things = [
        thing("base cabinet", f"c{n}", 9, 24, on_wall("kitchen-north", 9 * n), name=f"{long} {n}") for n in range(6)
    ]
    words = " ".join(_texts(_root(svg_sheet(plan_scene(house(things), "kitchen"), width_px=420))))
    for n in range(6):
        assert f"K-{n + 1}" in words
    told = " ".join(words.split())
    assert told.count("a cabinet with") == 6
    without = " ".join(_texts(_root(svg_sheet(plan_scene(house(things), "kitchen"), width_px=420, keys=False))))
    assert "a cabinet with" not in without


def test_the_shown_parts_of_a_string_add_up_to_its_shown_total() -> None:
    things = [thing("base cabinet", f"c{n}", 10.03, 24, on_wall("kitchen-north", 10.03 * n)) for n in range(9)]
    strings = [i for i in plan_scene(house(things), "kitchen").items if isinstance(i, Dimension) and i.tier]

    def sixteenths(text: str) -> Fraction:
        total, feet = Fraction(0), text
        if "'" in text:
            whole, feet = text.split("'")
            total += 12 * int(whole)
        return total + sum(Fraction(part) for part in feet.replace('"', "").split())

    frame = Frame(0.1, 0.0, 0.0)
    for one in strung(strings, frame, 0.1, "us"):
        shown = sum(sixteenths(figure.text) for figure in one.figures)
        if one.item.subject == "kitchen-north":
            assert shown == 144  # a wall of 12 ft
    for one in strung(strings, frame, 0.1, "metric"):
        if one.item.subject == "kitchen-north":
            assert sum(int(figure.text) for figure in one.figures) == 3658  # 3657.6 mm


def test_figures_of_narrow_parts_do_not_lie_on_each_other() -> None:
    widths = [1.0, 0.75, 3.0, 1.0, 2.0]
    things = [thing("filler", f"f{n}", w, 24, on_wall("kitchen-north", sum(widths[:n]))) for n, w in enumerate(widths)]
    strings = [
        i for i in plan_scene(house(things), "kitchen").items if isinstance(i, Dimension) and len(i.parts_mm) > 3
    ]
    assert strings
    figures = [f for one in strung(strings, Frame(0.1, 0, 0), 0.1, "us") for f in one.figures if f.turn_deg]
    places = sorted(f.at[0] for f in figures)
    assert len(places) == len(widths)
    assert min(b - a for a, b in pairwise(places)) >= 10.9


def test_metric_sheets_say_their_unit_once() -> None:
    root = _root(svg_sheet(plan_scene(house(show={"units": "metric"}), "kitchen")))
    assert "Strings of dimensions are in millimetres." in _texts(root)
    assert "3658" in _texts(root)


def test_verdicts_differ_in_form_and_word_as_well_as_colour() -> None:
    assert len(set(VERDICT_SIGNS.values())) == len(VERDICT_SIGNS) == len(set(VERDICT_COLOURS.values())) == 3
    found = check(crowded())
    root = _root(svg_sheet(plan_scene(crowded(), "kitchen", found, verdicts=("met", "falls short", "not assessed"))))
    marks = [g for g in root.iter(f"{_SVG}g") if g.get("data-role") == "finding"]
    assert marks
    for mark in marks:
        title = mark.find(f"{_SVG}title")
        assert title is not None
        assert mark.get("data-verdict") is None or (mark.get("data-verdict") or "?") in (title.text or "")


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    root = _root(svg_sheet(plan_scene(crowded(), "kitchen")))
    scale = float(root.get("data-scale") or 0)
    bars = [n for n in root.iter(f"{_SVG}rect") if n.get("height") == "4.5"]
    length = sum(float(bar.get("width") or 0) for bar in bars)
    feet = next(t for t in _texts(root) if t.endswith(" ft"))
    assert length == pytest.approx(float(feet.removesuffix(" ft")) * 304.8 * scale, abs=0.1)


def test_a_house_of_many_rooms_keeps_their_names_inside_them() -> None:
    spaces = [room(90, 80, id=f"room-{n}", use="other", at=(94.5 * (n % 5), 84.5 * (n // 5))) for n in range(15)]
    root = _root(svg_sheet(plan_scene(house(spaces=spaces))))
    words = " ".join(_texts(root))
    assert all(f"Room-{n}" in words for n in range(15))


def test_unknown_scales_and_papers_are_refused() -> None:
    scene = plan_scene(rooms(), "kitchen")
    with pytest.raises(NotFound, match="1:51"):
        svg_sheet(scene, scale="1:51")
    with pytest.raises(NotFound, match="b5"):
        svg_sheet(scene, paper="b5")


def test_the_same_scene_gives_the_same_bytes() -> None:
    def sheet() -> str:
        return svg_sheet(plan_scene(crowded(), "kitchen", check(crowded())))

    assert sheet() == sheet()


def test_an_empty_scene_is_still_a_sheet() -> None:
    scene = Scene("x", "plan", "Nothing", "Nothing is drawn.", "us", (), (0, 0, 1000, 1000))
    assert _root(svg_sheet(scene)).tag == f"{_SVG}svg"
    assert "<text" in svg_sheet(plan_scene(house(spaces=[])))


def test_words_are_broken_and_cut_to_a_width() -> None:
    assert broken("one two three", text_width("one two", 10), 10) == ["one two", "three"]
    assert broken("uninterrupted", 10, 10) is None
    short = cut("a very long sentence", 40, 10)
    assert short.endswith("\u2026")
    assert text_width(short, 10) <= 40
    pieces = folded("supercalifragilistic and more", 40, 10)
    assert "".join(pieces).replace(" ", "") == "supercalifragilisticandmore"
    assert all(text_width(piece, 10) <= 40 for piece in pieces)


def test_taken_places_are_measured() -> None:
    taken = Taken()
    taken.add((0, 0, 100, 100))
    assert taken.overlap((50, 50, 150, 150)) == pytest.approx(2500)
    assert taken.overlap((100, 0, 120, 20)) == 0


def test_coordinates_are_short() -> None:
    text = svg_sheet(plan_scene(crowded(), "kitchen"))
    body = re.sub(r'data-scale="[^"]*"', "", text)
    assert not re.search(r"\d\.\d{3,}", body)
