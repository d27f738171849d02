"""The charts as interactive figures. Plotly is brought in when one is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any, Final

from enfilade.drawings.chart_data import AisleChart, RunChart, StorageChart
from enfilade.drawings.plotly_layout import plain_layout, title_height
from enfilade.drawings.plotly_text import hover_text, plotly_lines, plotly_text
from enfilade.drawings.style import GREY, INK, PAPER, VERDICT_COLOURS, VERDICT_SIGNS
from enfilade.drawings.wording import show_size
from enfilade.drawings.writing import broken, cut, text_width
from enfilade.findings import Verdict
from enfilade.lengths import System, to_inches

if TYPE_CHECKING:
    from plotly.graph_objects import Figure

__all__ = ["aisle_figure", "run_figure", "storage_figure"]

_BAR: Final = "#8c8c8c"
_LIGHT: Final = "#d9d9d9"
_TEXT_PX: Final = 11.0
_SIDE_PX: Final = 12.0
_FOOT_PX: Final = 52.0
# Words are laid out for a narrow notebook cell; fonts that stand in for ours may be this much wider.
_NARROW_PX: Final = 690.0
_STAND_IN: Final = 1.25


def storage_figure(chart: StorageChart, *, system: System | None = None) -> Figure:
    """Return bars of the frontage by group with the usual shares, and the total beside what is asked."""
    units = system or chart.system
    total, asked = show_size(chart.total_mm, units), show_size(chart.asked_mm, units)
    notes = [
        f"{total} of {asked} asked ({chart.label}, {chart.size} kitchen)",
        "Lines across bars: the usual share of each group, for guidance; of all, what is asked.",
    ]
    if chart.unknown:
        lower = f"A lower bound: shelves and drawers are not recorded of {', '.join(chart.unknown)}"
        notes.append(cut(lower, _NARROW_PX - 2 * _SIDE_PX, _TEXT_PX * _STAND_IN))
    names, words, told = [], [], []
    for group in chart.groups:
        usual = f"usually {'up to ' if group.group == 'misc' else ''}{show_size(group.usual_mm, units)}"
        size = show_size(group.measured_mm, units)
        beyond = group.measured_mm > group.counted_mm
        counted = f"; counted {show_size(group.counted_mm, units)}" if beyond else ""
        names.append(plotly_text(group.name))
        words.append(f"{size}, {usual}")
        told.append(hover_text(f"{group.name}: {size}; {usual}{counted}"))
    names.append("<b>counted in all</b>")
    words.append(f"{total}, {chart.verdict}")
    told.append(hover_text(f"counted in all: {total}; {asked} asked ({chart.label}); {chart.verdict}"))
    counts = _shown([*(g.counted_mm for g in chart.groups), chart.total_mm], units)
    beyonds = _shown([*(max(g.measured_mm - g.counted_mm, 0.0) for g in chart.groups), 0.0], units)
    marks = _shown([*(g.usual_mm for g in chart.groups), chart.asked_mm], units)
    ends = [max(count + more, mark) for count, more, mark in zip(counts, beyonds, marks, strict=True)]
    bar = {"type": "bar", "y": names, "orientation": "h", "width": 0.6, "hovertext": told, "hoverinfo": "text"}
    traces = [
        bar | {"x": counts, "marker": {"color": [_BAR] * len(chart.groups) + [INK]}},
        bar | {"x": beyonds, "marker": {"color": _LIGHT}},
        # A black line would be lost on the black bar.
        _ticks(marks, names, told, 18, [INK] * len(chart.groups) + [PAPER if counts[-1] > marks[-1] else INK]),
        _words(ends, names, [f"\u2002{word}" for word in words], "middle right"),
    ]
    left = max(text_width(g.name, 12, True) for g in chart.groups) * _STAND_IN + _SIDE_PX
    layout = plain_layout(f"Storage frontage: {chart.verdict}", notes) | {"barmode": "stack"}
    axis = {"type": "category", "autorange": "reversed", "ticks": "", "showline": False, "ticksuffix": "  "}
    return _figure(traces, layout, notes, 34.0 * len(names), _across(ends, words, left, units), axis)


def aisle_figure(chart: AisleChart, *, system: System | None = None) -> Figure:
    """Return a bar for each clear width with a line at what is asked; the verdict stands beside it in words."""
    units = system or chart.system
    if not chart.aisles:
        layout = plain_layout("Clear widths", ["No clear width was measured here."])
        return _figure([], layout, [""], 0.0, {"visible": False}, {"visible": False}, foot=_SIDE_PX)
    notes = ["Lines across bars: what is asked."]
    rows = list(range(len(chart.aisles)))
    heads, told = [], []
    for aisle in chart.aisles:
        size = show_size(aisle.measured_mm, units)
        words = f"{aisle.name}: {size}, asked {aisle.asked}"
        heads.append(cut(words, _NARROW_PX - 2 * _SIDE_PX, _TEXT_PX * _STAND_IN))
        told.append(hover_text(f"{aisle.name.replace(': ', ', ')}: {size}; asked {aisle.asked}; {aisle.verdict}"))
    widths = _shown([a.measured_mm for a in chart.aisles], units)
    asked = _shown([a.asked_mm for a in chart.aisles], units)
    ends = [max(pair) for pair in zip(widths, asked, strict=True)]
    verdicts = [a.verdict for a in chart.aisles]
    across = _across(ends, [f"\u2003\u2003{verdict}" for verdict in verdicts], 0.0, units)
    aside = across["range"][1] * 14 / _NARROW_PX
    bar = {"type": "bar", "orientation": "h", "width": 0.3, "hovertext": told, "hoverinfo": "text"}
    traces = [
        bar | {"x": widths, "y": rows, "marker": {"color": _BAR}},
        _ticks(asked, rows, told, 12),
        _words([0.0] * len(rows), [row - 0.36 for row in rows], heads, "middle right"),
        _signs([end + aside for end in ends], rows, verdicts, told),
    ]
    axis = {"visible": False, "range": [len(rows) - 0.7, -0.65]}
    return _figure(traces, plain_layout("Clear widths", notes), notes, 44.0 * len(rows), across, axis)


def run_figure(chart: RunChart, *, system: System | None = None) -> Figure:
    """Return a run as a ribbon of its pieces, with the landings that were measured under it."""
    units = system or chart.system
    length = _shown([max(chart.length_mm, 1.0)], units)[0]
    room = _NARROW_PX - 2 * _SIDE_PX
    per_px = length / room
    traces: list[dict[str, Any]] = []
    inside: list[tuple[float, float, list[str]]] = []
    for piece in chart.pieces:
        a, b = _shown([piece.start_mm, piece.end_mm], units)
        name = "counter" if piece.role == "counter" else piece.name
        size = show_size(piece.end_mm - piece.start_mm, units)
        fill = PAPER if piece.role == "counter" else _LIGHT
        traces.append(_box(a, b, fill, hover_text(f"{name}: {size}")))
        wide = ((b - a) / per_px - 4) / _STAND_IN
        inside += [((a + b) / 2, y, w) for y, w in ((0.5, broken(name, wide, _TEXT_PX, 2)),
                                                    (1.2, broken(size, wide, _TEXT_PX, 1))) if w]  # fmt: skip
    corners = _shown([piece.end_mm for piece in chart.pieces if piece.corner_after], units)
    if corners:
        xs = [x for corner in corners for x in (corner, corner, None)]
        ys = [y for _ in corners for y in (-0.15, 1.4, None)]
        line = {"color": INK, "width": 2.2}
        traces.append({"type": "scatter", "x": xs, "y": ys, "mode": "lines", "line": line, "hoverinfo": "skip"})
    traces.append(_words([x for x, *_ in inside], [y for _, y, _ in inside], [w for *_, w in inside], "middle center"))
    tracks: list[float] = []
    for landing in sorted(chart.landings, key=lambda one: one.start_mm):
        a, b = _shown([landing.start_mm, landing.end_mm], units)
        size = show_size(landing.end_mm - landing.start_mm, units)
        words = cut(f"{landing.name}: {size}, asked {landing.asked}, {landing.verdict}", room, _TEXT_PX * _STAND_IN)
        wide = text_width(words, _TEXT_PX) * _STAND_IN * per_px
        at_end = a + wide > length
        start = max(length - wide, 0.0) if at_end else a
        track = next((n for n, end in enumerate(tracks) if start > end + 10 * per_px), len(tracks))
        if track == len(tracks):
            tracks.append(0.0)
        tracks[track] = max(b, start + wide)
        y = -0.45 - 0.85 * track
        told = hover_text(f"{landing.name}: {size}; asked {landing.asked}; {landing.verdict}")
        traces.append(_span(a, b, y, landing.verdict, told))
        traces.append(
            _words([length if at_end else a], [y - 0.32], [words], "middle left" if at_end else "middle right")
        )
    notes = [f"Counter {show_size(chart.counter_mm, units)} of {show_size(chart.length_mm, units)}"]
    notes[0] += "; heavy lines: inside corners" if corners else ""
    low = -0.3 - 0.85 * len(tracks)
    across = _axis(units) | {"range": [-0.004 * length, 1.004 * length]}
    axis = {"visible": False, "range": [low, 1.5]}
    return _figure(traces, plain_layout(f"Counter run {chart.number}", notes), notes, 40.0 * (1.5 - low), across, axis)


def _box(a: float, b: float, fill: str, told: str) -> dict[str, Any]:
    return {
        "type": "scatter",
        "x": [a, b, b, a, a],
        "y": [0, 0, 1, 1, 0],
        "mode": "lines",
        "fill": "toself",
        "fillcolor": fill,
        "line": {"color": INK, "width": 1},
        "text": told,
        "name": told,
        "hoveron": "fills",
        "hoverinfo": "text",
    }


def _span(a: float, b: float, y: float, verdict: Verdict, told: str) -> dict[str, Any]:
    """Return a measured stretch in the colour of its verdict; the word of the verdict stands under it."""
    colour, width = VERDICT_COLOURS[verdict], 2.6 if verdict == "falls short" else 1.6
    return {
        "type": "scatter",
        "x": [a, (a + b) / 2, b],
        "y": [y, y, y],
        "mode": "lines+markers",
        "line": {"color": colour, "width": width},
        "marker": {"symbol": "line-ns", "size": [10, 0, 10], "opacity": 1, "line": {"color": colour, "width": width}},
        "hovertext": told,
        "hoverinfo": "text",
        "cliponaxis": False,
    }


def _words(xs: Sequence[float], ys: Sequence[Any], words: Iterable[str | list[str]], position: str) -> dict[str, Any]:
    return {
        "type": "scatter",
        "x": list(xs),
        "y": list(ys),
        "mode": "text",
        "text": [plotly_lines([word] if isinstance(word, str) else word) for word in words],
        "textposition": position,
        "textfont": {"size": _TEXT_PX, "color": INK},
        "hoverinfo": "skip",
        "cliponaxis": False,
    }


def _ticks(
    xs: Sequence[float], ys: Sequence[Any], told: Sequence[str], size: float, colours: Sequence[str] | str = INK
) -> dict[str, Any]:
    """Return lines across bars at what is usual or asked."""
    return {
        "type": "scatter",
        "x": list(xs),
        "y": list(ys),
        "mode": "markers",
        "marker": {"symbol": "line-ns", "size": size, "opacity": 1, "line": {"width": 2, "color": colours}},
        "hovertext": list(told),
        "hoverinfo": "text",
    }


def _signs(xs: Sequence[float], ys: Sequence[Any], verdicts: Sequence[Verdict], told: Sequence[str]) -> dict[str, Any]:
    """Return the sign of each verdict with its word beside it."""
    return {
        "type": "scatter",
        "x": list(xs),
        "y": list(ys),
        "mode": "markers+text",
        "marker": {
            "symbol": [f"{VERDICT_SIGNS[verdict]}-open" for verdict in verdicts],
            "size": 10,
            "color": [VERDICT_COLOURS[verdict] for verdict in verdicts],
            "line": {"width": 2},
        },
        "text": [f"\u2002{plotly_lines([verdict], 1)}" for verdict in verdicts],
        "textposition": "middle right",
        "textfont": {"size": _TEXT_PX, "color": INK},
        "hovertext": list(told),
        "hoverinfo": "text",
        "cliponaxis": False,
    }


def _across(ends: Sequence[float], words: Sequence[str], left: float, units: System) -> dict[str, Any]:
    """Return an axis on which the words beside each bar find room, even in a narrow cell."""
    room = _NARROW_PX - 2 * _SIDE_PX - left
    needed = [
        end / max(1.0 - (text_width(word, _TEXT_PX) * _STAND_IN + 18) / room, 0.3)
        for end, word in zip(ends, words, strict=True)
    ]
    return _axis(units) | {"range": [0.0, max(*needed, 1.0)]}


def _axis(units: System) -> dict[str, Any]:
    return {
        "title": {"text": "inches" if units == "us" else "mm", "font": {"size": _TEXT_PX}, "standoff": 6},
        "tickfont": {"size": _TEXT_PX, "color": GREY},
        "tickformat": "d" if units == "metric" else "",
        "ticks": "outside",
        "ticklen": 4,
        "tickcolor": GREY,
        "showline": True,
        "linecolor": GREY,
        "showgrid": False,
        "zeroline": False,
    }


def _figure(
    traces: list[dict[str, Any]],
    layout: dict[str, Any],
    notes: Sequence[str],
    high: float,
    across: dict[str, Any],
    up: dict[str, Any],
    *,
    foot: float = _FOOT_PX,
) -> Figure:
    from plotly.graph_objects import Figure

    top = title_height(notes)
    layout |= {
        "xaxis": across,
        "yaxis": {"showgrid": False, "zeroline": False, "fixedrange": True, "automargin": True} | up,
        "margin": {"l": _SIDE_PX, "r": _SIDE_PX, "t": top, "b": foot},
        "height": round(top + high + foot),
    }
    return Figure(data=traces, layout=layout, skip_invalid=True)


def _shown(values: Iterable[float], units: System) -> list[float]:
    return [to_inches(v) if units == "us" else v for v in values]
