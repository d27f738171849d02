"""The charts as interactive figures. Plotly is brought in when one is asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from enfilade.drawings.chart_data import AisleChart, RunChart, StorageChart
from enfilade.drawings.plotly_text import plotly_text
from enfilade.drawings.style import FONT, INK, PAPER, VERDICT_COLOURS
from enfilade.drawings.wording import show_size
from enfilade.lengths import System, to_inches

if TYPE_CHECKING:
    from plotly.graph_objects import Figure

__all__ = ["aisle_figure", "plain_layout", "run_figure", "storage_figure"]

_BAR = "#8c8c8c"
_SYMBOLS = {"falls short": "diamond-open", "met": "circle-open", "not assessed": "square-open"}


def plain_layout(title: str) -> dict[str, Any]:
    """Return what all figures share: white ground, black ink, one font, no decoration."""
    return {
        "template": "none",
        "title": {"text": plotly_text(title), "x": 0, "xanchor": "left"},
        "font": {"family": FONT, "color": INK, "size": 13},
        "paper_bgcolor": PAPER,
        "plot_bgcolor": PAPER,
        "showlegend": False,
        "hoverlabel": {"bgcolor": PAPER, "font": {"family": FONT, "color": INK}},
    }


def storage_figure(chart: StorageChart, *, system: System | None = None) -> Figure:
    """Return bars of the frontage by group with the usual shares, and the total beside what is asked."""
    from plotly.graph_objects import Bar, Figure, Scatter

    units = system or chart.system
    names = [plotly_text(g.name) for g in chart.groups] + ["counted in all"]
    values = [g.measured_mm for g in chart.groups] + [chart.total_mm]
    asked = [g.usual_mm for g in chart.groups] + [chart.asked_mm]
    words = [
        plotly_text(f"{g.name}: {show_size(g.measured_mm, units)}; usually {show_size(g.usual_mm, units)}")
        for g in chart.groups
    ]
    words.append(
        plotly_text(
            f"{show_size(chart.total_mm, units)} of {show_size(chart.asked_mm, units)} asked "
            f"({chart.label}): {chart.verdict}"
        )
    )
    figure = Figure(layout=plain_layout(f"Storage frontage: {chart.verdict}"))
    figure.add_trace(
        Bar(
            x=_shown(values, units),
            y=names,
            orientation="h",
            marker={"color": [_BAR] * len(chart.groups) + [INK]},
            hovertext=words,
            hoverinfo="text",
            text=words,
            textposition="none",
        )
    )
    figure.add_trace(
        Scatter(
            x=_shown(asked, units),
            y=names,
            mode="markers",
            hovertext=words,
            hoverinfo="text",
            marker={"symbol": "line-ns", "size": 22, "line": {"width": 2, "color": INK}},
        )
    )
    _axes(figure, units)
    return figure


def aisle_figure(chart: AisleChart, *, system: System | None = None) -> Figure:
    """Return a bar for each clear width with a mark at what is asked; the verdict stands beside it in words."""
    from plotly.graph_objects import Bar, Figure, Scatter

    units = system or chart.system
    names = [f"{n}  {plotly_text(a.name)}" for n, a in enumerate(chart.aisles, 1)]
    words = [
        plotly_text(f"{a.name}: {show_size(a.measured_mm, units)}, asked {a.asked}, {a.verdict}") for a in chart.aisles
    ]
    figure = Figure(layout=plain_layout("Clear widths"))
    figure.add_trace(
        Bar(
            x=_shown([a.measured_mm for a in chart.aisles], units),
            y=names,
            orientation="h",
            marker={"color": _BAR},
            text=[a.verdict for a in chart.aisles],
            textposition="inside",
            insidetextanchor="start",
            hovertext=words,
            hoverinfo="text",
        )
    )
    figure.add_trace(
        Scatter(
            x=_shown([a.asked_mm for a in chart.aisles], units),
            y=names,
            mode="markers",
            hovertext=words,
            hoverinfo="text",
            marker={
                "symbol": [_SYMBOLS[a.verdict] for a in chart.aisles],
                "size": 12,
                "color": [VERDICT_COLOURS[a.verdict] for a in chart.aisles],
                "line": {"width": 2},
            },
        )
    )
    _axes(figure, units)
    figure.update_layout(height=120 + 34 * max(len(names), 1))
    return figure


def run_figure(chart: RunChart, *, system: System | None = None) -> Figure:
    """Return a run as a ribbon of its pieces, with the landings that were measured under it."""
    from plotly.graph_objects import Figure, Scatter

    units = system or chart.system
    figure = Figure(layout=plain_layout(f"Counter run {chart.number}: counter {show_size(chart.counter_mm, units)}"))
    for piece in chart.pieces:
        a, b = _shown([piece.start_mm, piece.end_mm], units)
        name = "counter" if piece.role == "counter" else piece.name
        words = plotly_text(f"{name}: {show_size(piece.end_mm - piece.start_mm, units)}")
        fill = PAPER if piece.role == "counter" else "#d9d9d9"
        figure.add_trace(
            Scatter(
                x=[a, b, b, a, a],
                y=[0, 0, 1, 1, 0],
                mode="lines",
                fill="toself",
                fillcolor=fill,
                text=words,
                hoveron="fills",
                hoverinfo="text",
                line={"color": INK, "width": 1},
                name=words,
            )
        )
    for n, landing in enumerate(chart.landings, 1):
        a, b = _shown([landing.start_mm, landing.end_mm], units)
        words = plotly_text(
            f"{landing.name}: {show_size(landing.end_mm - landing.start_mm, units)}, "
            f"asked {landing.asked}, {landing.verdict}"
        )
        figure.add_trace(
            Scatter(
                x=[a, b],
                y=[-0.35 * n, -0.35 * n],
                mode="lines+markers+text",
                text=[words, ""],
                textposition="bottom right",
                hovertext=words,
                hoverinfo="text",
                line={"color": VERDICT_COLOURS[landing.verdict], "width": 3},
                marker={"symbol": _SYMBOLS[landing.verdict], "size": 9},
            )
        )
    _axes(figure, units)
    figure.update_yaxes(visible=False)
    figure.update_layout(height=220 + 40 * len(chart.landings))
    return figure


def _shown(values: list[float], units: System) -> list[float]:
    return [to_inches(v) if units == "us" else v for v in values]


def _axes(figure: Any, units: System) -> None:
    figure.update_xaxes(
        title="inches" if units == "us" else "mm", showgrid=False, zeroline=False, ticks="outside", rangemode="tozero"
    )
    figure.update_yaxes(autorange="reversed" if figure.data and figure.data[0].type == "bar" else None, automargin=True)
