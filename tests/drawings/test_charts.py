"""Charts: the records against figures worked by hand, and both renderers for text and verdicts."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from building import free, house, on_wall, room, set_in, thing
from drawings.crowded import crowded
from enfilade.checks.run import check
from enfilade.drawings.charts import (
    aisle_chart,
    aisle_figure,
    aisle_svg,
    run_chart,
    run_charts,
    run_figure,
    run_svg,
    storage_chart,
    storage_figure,
    storage_svg,
)
from enfilade.drawings.plotly_plan import plan_figure
from enfilade.drawings.plotly_text import plotly_text
from enfilade.errors import OutOfRange
from enfilade.lengths import inches
from hostile import MARKER, with_hostile_text


def _kitchen(**more: object) -> object:
    things = [
        thing("base cabinet", "base", 24, 24, on_wall("kitchen-north", 0), shelves=2),
        thing("base cabinet", "drawers", 18, 24, on_wall("kitchen-north", 24), drawers=3),
        thing("wall cabinet", "wall", 30, 12, on_wall("kitchen-north", 0), shelves=3),
        thing("tall cabinet", "tall", 24, 24, on_wall("kitchen-north", 60), shelves=5),
    ]
    return house(things, **more)


def test_storage_is_counted_by_group() -> None:
    chart = storage_chart(_kitchen(), "kitchen")  # type: ignore[arg-type]
    groups = {group.group: round(group.measured_mm / 25.4, 6) for group in chart.groups}
    # Storage frontage method (course handout): width x depth in feet x shelves or drawers.
    assert groups == {"wall": 30 * 1 * 3, "base": 24 * 2 * 2, "drawer": 18 * 2 * 3, "pantry": 24 * 2 * 5, "misc": 0}
    # Kitchen guideline 27: a kitchen of 144 sq ft is small and is asked 1400 in.
    assert (chart.size, round(chart.asked_mm / 25.4, 6), chart.verdict) == ("small", 1400, "falls short")
    # Its split for small kitchens: wall 300, base 520, drawer 360, pantry 180, misc up to 40.
    assert [round(g.usual_mm / 25.4) for g in chart.groups] == [300, 520, 360, 180, 40]


def test_unknown_storage_is_told_and_not_judged() -> None:
    project = house([thing("base cabinet", "b", 24, 24, on_wall("kitchen-north", 0), name="Bare")])
    chart = storage_chart(project, "kitchen")
    assert (chart.unknown, chart.verdict) == (("Bare",), "not assessed")
    assert "lower bound" in storage_svg(chart)


def test_other_storage_counts_up_to_its_share() -> None:
    project = house([thing("furniture piece", "d", 48, 24, free(60, 60), shelves=4)])
    misc = next(g for g in storage_chart(project, "kitchen").groups if g.group == "misc")
    # 48 x 2 x 4 = 384 in stand there; guideline 27 counts 40 in of it in a small kitchen.
    assert (round(misc.measured_mm / 25.4, 6), round(misc.counted_mm / 25.4, 6)) == (384, 40)


def _run() -> object:
    things = [
        thing("counter", "top", 100, 25, on_wall("kitchen-north", 0)),
        thing("sink", "sink", 30, 20, set_in("top", 36, 2), main=True),
    ]
    return house(things)


def test_a_run_is_laid_out_left_to_right() -> None:
    chart = run_chart(_run(), "kitchen")  # type: ignore[arg-type]
    assert [(p.role, round((p.end_mm - p.start_mm) / 25.4, 6)) for p in chart.pieces] == [
        ("counter", 36), ("sink", 30), ("counter", 34),
    ]  # fmt: skip
    assert chart.counter_mm == pytest.approx(inches(70))
    assert chart.length_mm == pytest.approx(inches(100))


def test_landings_lie_where_they_were_measured() -> None:
    project = _run()
    chart = run_chart(project, "kitchen", 0, check(project))  # type: ignore[arg-type]
    assert chart.landings
    for landing in chart.landings:
        assert 0 <= landing.start_mm < landing.end_mm <= chart.length_mm + 1e-6
    spans = {(round(one.start_mm / 25.4), round(one.end_mm / 25.4)) for one in chart.landings}
    assert (0, 36) in spans  # the counter left of the sink


def test_a_run_that_does_not_exist_is_refused() -> None:
    assert run_charts(house(), "kitchen") == ()
    with pytest.raises(OutOfRange, match="run 0 of 0"):
        run_chart(house(), "kitchen")


def test_aisles_are_those_of_the_findings_narrowest_margin_first() -> None:
    project = crowded(household={"cooks_together": 1})
    chart = aisle_chart(project, "kitchen", check(project))
    margins = [one.measured_mm - one.asked_mm for one in chart.aisles]
    assert margins == sorted(margins)
    # By hand: refrigerator front 30 in from the west wall, island end at 102 - 42 = 60. Guideline 6 asks 42 in.
    first = chart.aisles[0]
    assert (round(first.measured_mm / 25.4, 4), round(first.asked_mm / 25.4, 4), first.verdict) == (
        30,
        42,
        "falls short",
    )


def _charts() -> list[str]:
    project, _ = with_hostile_text(crowded())
    found = check(project)
    return [
        storage_svg(storage_chart(project, "kitchen", found)),
        aisle_svg(aisle_chart(project, "kitchen", found)),
        *(run_svg(chart, system="metric") for chart in run_charts(project, "kitchen", found)),
        aisle_svg(aisle_chart(project, "kitchen", ())),
    ]


def test_chart_sheets_are_well_formed_and_name_their_verdicts() -> None:
    for text in _charts():
        root = ET.fromstring(text)
        assert root.get("role") == "img"
        for colour, word in (("#d55e00", "falls short"), ("#009e73", "met"), ("#cc79a7", "not assessed")):
            assert colour not in text or word in text
        assert "<script" not in text
    assert any(MARKER in text for text in _charts())


@pytest.mark.parametrize("system", ["us", "metric"])
def test_figures_hold_only_escaped_text(system: str) -> None:
    project, _ = with_hostile_text(crowded())
    found = check(project)
    figures = [
        storage_figure(storage_chart(project, "kitchen", found), system=system),  # type: ignore[arg-type]
        aisle_figure(aisle_chart(project, "kitchen", found), system=system),  # type: ignore[arg-type]
        *(run_figure(chart, system=system) for chart in run_charts(project, "kitchen", found)),  # type: ignore[arg-type]
        plan_figure(project, "kitchen", found),
        plan_figure(project),
    ]
    for figure in figures:
        plain = figure.to_json()
        assert "\\u003cscript" not in plain
        assert "<script" not in plain
        assert "<img" not in plain
        assert "<svg" not in plain


def test_text_for_plotly_is_neither_markup_nor_formula() -> None:
    assert plotly_text("<b>$x$</b> & %{y}") == "&lt;b&gt;&#36;x&#36;&lt;/b&gt; &amp; &#37;{y}"


def test_the_interactive_plan_tells_size_and_findings_and_keeps_its_proportions() -> None:
    project = crowded(household={"cooks_together": 1})
    figure = plan_figure(project, "kitchen", check(project))
    told = [trace.text for trace in figure.data if isinstance(trace.text, str)]
    assert any(text.startswith('<b>Pantry</b><br>24" wide') for text in told)
    assert any("falls short" in text for text in told)
    assert figure.layout.yaxis.scaleanchor == "x"
    subjects = {trace.meta for trace in figure.data if trace.meta}
    drawn = {one.id for one in project.things if one.kind not in ("receptacle", "switch", "light", "extinguisher")}
    assert drawn <= subjects


def test_an_empty_kitchen_has_charts_too() -> None:
    project = house(spaces=[room(144, 144)])
    assert storage_chart(project, "kitchen").total_mm == 0
    assert ET.fromstring(storage_svg(storage_chart(project, "kitchen"))) is not None
