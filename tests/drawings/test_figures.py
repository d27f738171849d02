"""Interactive figures: words that do not lie on each other in a narrow cell, and everything told when pointed at."""

from __future__ import annotations

import html
import math
import re
from itertools import combinations
from typing import Any

import pytest

import enfilade as ef
from building import house, on_wall, room, thing
from drawings.crowded import crowded, rooms
from enfilade.checks.run import check
from enfilade.drawings.charts import aisle_chart, aisle_figure, run_charts, run_figure, storage_chart, storage_figure
from enfilade.drawings.plotly_plan import plan_figure
from enfilade.drawings.plotly_text import hover_text
from enfilade.drawings.wording import show_size
from enfilade.drawings.writing import text_width
from enfilade.project.project import Project

CELL_PX = 700.0
Box = tuple[float, float, float, float]


def _plain(text: str) -> list[str]:
    return [html.unescape(re.sub(r"<[^>]*>", "", line)) for line in text.split("<br>")]


def _scale(figure: Any) -> float:
    """Return how large a plan is shown in a notebook cell 700 px wide [px/mm]."""
    layout = figure.layout
    (x0, x1), (y0, y1) = layout.xaxis.range, layout.yaxis.range
    margin = layout.margin
    return min((CELL_PX - margin.l - margin.r) / (x1 - x0), (layout.height - margin.t - margin.b) / (y1 - y0))


def _written(figure: Any) -> list[tuple[str, float, float, float, float]]:
    """Return text, x, y, size and turn of all that is written on a plan."""
    found = []
    for trace in figure.data:
        if "text" in (trace.mode or "") and isinstance(trace.text, list | tuple):
            sizes = trace.textfont.size
            each = sizes if isinstance(sizes, list | tuple) else [sizes] * len(trace.text)
            found += [(t, x, y, s, 0.0) for t, x, y, s in zip(trace.text, trace.x, trace.y, each, strict=True) if t]
    found += [(a.text, a.x, a.y, a.font.size, a.textangle) for a in figure.layout.annotations]
    return found


def _boxes(figure: Any) -> list[tuple[str, Box]]:
    scale, boxes = _scale(figure), []
    for text, x, y, size, turn in _written(figure):
        lines = _plain(text)
        wide = max(text_width(line, size, text.startswith("<b>")) for line in lines)
        # Letters without what hangs below and stands above them.
        high = size * (0.75 + 1.3 * (len(lines) - 1))
        c, s = abs(math.cos(math.radians(turn))), abs(math.sin(math.radians(turn)))
        w, h = (wide * c + high * s) / 2, (wide * s + high * c) / 2
        boxes.append((text, (x * scale - w, y * scale - h, x * scale + w, y * scale + h)))
    return boxes


def _overlapping(figure: Any) -> list[tuple[str, str]]:
    return [
        (one, other)
        for (one, a), (other, b) in combinations(_boxes(figure), 2)
        if min(a[2], b[2]) - max(a[0], b[0]) > 1 and min(a[3], b[3]) - max(a[1], b[1]) > 1
    ]


def _told(figure: Any) -> list[str]:
    told = [trace.text for trace in figure.data if trace.hoveron == "fills" and trace.text]
    for trace in figure.data:
        if trace.hoverinfo == "text" and isinstance(trace.hovertext, list | tuple):
            told += trace.hovertext
    return told


@pytest.mark.parametrize("units", ["us", "metric"])
def test_words_in_the_demo_kitchen_do_not_lie_on_each_other(units: str) -> None:
    project = ef.demo()
    project = project.model_copy(update={"show": project.show.model_copy(update={"units": units})})
    figure = plan_figure(project, "kitchen", check(project, "kitchen"))
    assert len(_boxes(figure)) > 40
    assert _overlapping(figure) == []


@pytest.mark.parametrize("project", [crowded(), rooms(), house(spaces=[room(144, 144)])])
def test_words_in_other_houses_do_not_lie_on_each_other(project: Project) -> None:
    for space in (None, *(one.id for one in project.spaces)):
        assert _overlapping(plan_figure(project, space, check(project))) == []


def test_every_thing_tells_its_name_and_size() -> None:
    project = crowded()
    told = _told(plan_figure(project, "kitchen", check(project)))
    for one in project.things:
        name = one.called[:1].upper() + one.called[1:]
        size = f"{show_size(one.width_mm, 'us')} wide, {show_size(one.depth_mm, 'us')} deep"
        assert any(text.startswith(f"<b>{name}</b><br>{size}") for text in told), one.id


def test_dimensions_of_side_walls_are_turned() -> None:
    figure = plan_figure(crowded(), "kitchen")
    # The room is 180 x 156 in: its side walls are 13 ft long, the others 15 ft.
    turns = [(a.text, a.textangle) for a in figure.layout.annotations]
    assert turns.count(("13' 0\"", -90)) == 2
    level = [text for trace in figure.data if trace.mode == "text" for text in trace.text]
    assert level.count("15' 0\"") == 2
    assert "13' 0\"" not in level


def test_figures_that_do_not_fit_are_told_when_pointed_at() -> None:
    things = [thing("filler", f"f{n}", 1.5, 24, on_wall("kitchen-north", 40 + 20 * n)) for n in range(3)]
    figure = plan_figure(house(things), "kitchen")
    assert '1 1/2"' not in [text for text, *_ in _written(figure)]
    assert _told(figure).count('<b>1 1/2"</b>') == 3


def test_a_plan_fills_its_figure() -> None:
    for project, space in ((crowded(), "kitchen"), (rooms(), None), (ef.demo(), None), (ef.demo(), "entry")):
        figure = plan_figure(project, space)
        (x0, x1), (y0, y1) = figure.layout.xaxis.range, figure.layout.yaxis.range
        xs = [x for trace in figure.data for x in trace.x if x is not None]
        ys = [y for trace in figure.data for y in trace.y if y is not None]
        assert x0 < min(xs)
        assert max(xs) < x1
        assert y0 < min(ys)
        assert max(ys) < y1
        assert max(xs) - min(xs) > 0.9 * (x1 - x0)
        assert max(ys) - min(ys) > 0.9 * (y1 - y0)
        # In a wide cell the height alone bounds it: no more than the title stands above it.
        high = figure.layout.height - figure.layout.margin.t - figure.layout.margin.b
        assert min(960 / (x1 - x0), 720 / (y1 - y0)) == pytest.approx(high / (y1 - y0), rel=0.01)
        assert figure.layout.margin.t <= 60


def test_rooms_of_a_house_tell_name_and_area() -> None:
    told = _told(plan_figure(rooms()))
    # 150 x 120 in are 12 ft 6 in by 10 ft, 125 sq ft.
    assert "<b>Kitchen</b><br>12' 6\" × 10' 0\"<br>125 sq ft" in told


def test_metric_plans_say_their_unit() -> None:
    figure = plan_figure(house(show={"units": "metric"}), "kitchen")
    assert "mm" in figure.layout.title.text
    assert "3658" in [text for text, *_ in _written(figure)]  # 12 ft are 3657.6 mm


def test_what_is_told_comes_in_short_lines_and_is_escaped() -> None:
    assert hover_text("<i>A</i>: 5 wide; $b$") == "<b>&lt;i&gt;A&lt;/i&gt;</b><br>5 wide<br>&#36;b&#36;"
    long = hover_text("Name: " + "word " * 60)
    assert max(len(line) for line in _plain(long)) <= 64
    assert hover_text("") == ""


def test_words_of_charts_stay_inside_a_narrow_cell() -> None:
    project = ef.demo()
    found = check(project, "kitchen")
    figures = [
        storage_figure(storage_chart(project, "kitchen", found)),
        aisle_figure(aisle_chart(project, "kitchen", found)),
        *(run_figure(chart) for chart in run_charts(project, "kitchen", found)),
    ]
    measured = 0
    for figure in figures:
        layout = figure.layout
        low, high = layout.xaxis.range
        names = [text_width(_plain(y)[0], 12, True) for y in figure.data[0].y if isinstance(y, str)]
        px = (CELL_PX - layout.margin.l - layout.margin.r - max(names, default=0.0)) / (high - low)
        for trace in figure.data:
            if trace.type != "scatter" or "text" not in trace.mode:
                continue
            for x, text in zip(trace.x, trace.text, strict=True):
                wide = max(text_width(line, trace.textfont.size) for line in _plain(text))
                start = (x - low) * px - {"left": 1.0, "center": 0.5, "right": 0.0}[
                    trace.textposition.split()[1]
                ] * wide
                assert start > -2, text
                assert start + wide < (high - low) * px + layout.margin.r, text
                measured += 1
    assert measured >= len(figures)  # every chart has words in it; skipping all traces would show nothing


def test_charts_name_every_verdict_in_words() -> None:
    project = ef.demo()
    found = check(project, "kitchen")
    chart = aisle_chart(project, "kitchen", found)
    words = [_plain(text)[0].strip() for trace in aisle_figure(chart).data for text in trace.text or ()]
    for verdict in {aisle.verdict for aisle in chart.aisles}:
        assert words.count(verdict) == sum(aisle.verdict == verdict for aisle in chart.aisles)
    for run in run_charts(project, "kitchen", found):
        lines = [_plain(t)[0] for trace in run_figure(run).data if trace.mode == "text" for t in trace.text]
        for landing in run.landings:
            assert any(line.startswith(landing.name) and line.endswith(landing.verdict) for line in lines)


def test_a_room_without_clear_widths_says_so() -> None:
    figure = aisle_figure(aisle_chart(house(), "kitchen", ()))
    assert "No clear width was measured here." in figure.layout.title.subtitle.text
