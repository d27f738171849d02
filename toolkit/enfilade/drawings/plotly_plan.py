"""The plan as an interactive figure: pointing at a thing tells its size, product and findings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

from enfilade.drawings.chart_figures import plain_layout
from enfilade.drawings.items import Arc, Circle, Dimension, Item, Label, Line, Numbered, Point, Polygon
from enfilade.drawings.plotly_text import plotly_text
from enfilade.drawings.scene import plan_scene
from enfilade.drawings.style import INK, PAPER, POCHE, STROKES, VERDICT_COLOURS
from enfilade.drawings.wording import show_size
from enfilade.findings import Finding
from enfilade.lengths import shown_parts
from enfilade.project.project import Project

if TYPE_CHECKING:
    from plotly.graph_objects import Figure

__all__ = ["plan_figure"]

_SYMBOLS: Final = {"falls short": "diamond", "met": "circle", "not assessed": "square"}
_DASH: Final = {"hidden": "dash"}
_STAND_OFF_MM: Final = 260.0


def plan_figure(
    project: Project, space: str | None = None, findings: Sequence[Finding] = (), *, filled: bool = False
) -> Figure:
    """Return the plan of a room, or of the house, as a plotly figure with equal scales.

    Args:
        project, space, findings, filled: As for `plan_scene`.
    Raises:
        NotFound: The space does not exist.
    """
    from plotly.graph_objects import Figure

    scene = plan_scene(project, space, findings, filled=filled)
    traces: list[dict[str, Any]] = []
    pending: dict[str, tuple[list[float | None], list[float | None]]] = {}
    for item in scene.items:
        if isinstance(item, Polygon):
            _flush(pending, traces)
            traces.append(_area(item))
        elif isinstance(item, Line | Arc | Circle):
            xs, ys = pending.setdefault(item.weight, ([], []))
            for x, y in _points(item):
                xs.append(x)
                ys.append(y)
            xs.append(None)
            ys.append(None)
    _flush(pending, traces)
    words = [item for item in scene.items if isinstance(item, Label)]
    strings = [item for item in scene.items if isinstance(item, Dimension)]
    traces += [_string(item, scene.system) for item in strings]
    if words:
        traces.append(_words(words))
    if marks := [item for item in scene.items if isinstance(item, Numbered)]:
        traces.append(_marks(marks))
    # The dictionaries are ours and valid: checking each of a hundred traces again takes a second.
    figure = Figure(data=traces, layout=plain_layout(scene.title), skip_invalid=True)
    figure.update_xaxes(visible=False)
    figure.update_yaxes(visible=False, scaleanchor="x", scaleratio=1)
    figure.update_layout(margin={"l": 10, "r": 10, "t": 40, "b": 10}, height=640)
    return figure


def _points(item: Item) -> list[Point]:
    if isinstance(item, Line):
        return list(item.points)
    if isinstance(item, Circle):
        (cx, cy), r = item.centre, item.radius_mm
        return [(cx + r * math.cos(t * math.pi / 12), cy + r * math.sin(t * math.pi / 12)) for t in range(25)]
    if isinstance(item, Arc):
        (cx, cy), r = item.centre, math.dist(item.centre, item.start)
        first = math.atan2(item.start[1] - cy, item.start[0] - cx)
        last = math.atan2(item.end[1] - cy, item.end[0] - cx)
        sweep = (last - first) % (2 * math.pi)
        sweep = sweep - 2 * math.pi if item.clockwise else sweep
        return [
            (cx + r * math.cos(first + sweep * n / 24), cy + r * math.sin(first + sweep * n / 24)) for n in range(25)
        ]
    return []


def _area(item: Polygon) -> dict[str, Any]:
    xs: list[float | None] = []
    ys: list[float | None] = []
    for ring in (item.points, *item.holes):
        xs += [None] * bool(xs) + [x for x, _ in ring] + [ring[0][0]]
        ys += [None] * bool(ys) + [y for _, y in ring] + [ring[0][1]]
    colour = VERDICT_COLOURS[item.verdict] if item.role == "finding" and item.verdict else INK
    fill = POCHE if item.solid else "rgba(0,0,0,0)" if item.clear else item.finish or PAPER
    told = plotly_text(item.title)
    return {
        "type": "scatter",
        "x": xs,
        "y": ys,
        "mode": "lines",
        "fill": "toself",
        "fillcolor": fill,
        "hoveron": "fills",
        "text": told,
        "name": told,
        "hoverinfo": "text" if told else "skip",
        "meta": item.subject,
        "line": {"color": colour, "width": STROKES[item.weight] + 0.3, "dash": _DASH.get(item.weight, "solid")},
    }


def _flush(pending: dict[str, tuple[list[float | None], list[float | None]]], traces: list[dict[str, Any]]) -> None:
    """Write the lines that were gathered, one trace a weight, before the next area covers them."""
    for weight, (xs, ys) in pending.items():
        line = {"color": INK, "width": STROKES[weight] + 0.3, "dash": _DASH.get(weight, "solid")}  # type: ignore[index]
        traces.append({"type": "scatter", "x": xs, "y": ys, "mode": "lines", "line": line, "hoverinfo": "skip"})
    pending.clear()


def _string(item: Dimension, system: Any) -> dict[str, Any]:
    away = item.offset_mm + _STAND_OFF_MM * item.tier
    stops = [(x + item.outward[0] * away, y + item.outward[1] * away) for x, y in item.stops]
    texts = shown_parts(item.parts_mm, system)[0] if item.tier else (show_size(item.total_mm, system),)
    xs: list[float] = []
    ys: list[float] = []
    words: list[str] = []
    for (ax, ay), (bx, by), text in zip(stops, stops[1:], texts, strict=False):
        xs += [ax, (ax + bx) / 2, bx]
        ys += [ay, (ay + by) / 2, by]
        words += ["", plotly_text(text), ""]
    colour = VERDICT_COLOURS[item.verdict] if item.role == "finding" and item.verdict else INK
    told = plotly_text(item.title)
    return {
        "type": "scatter",
        "x": xs,
        "y": ys,
        "mode": "lines+markers+text",
        "text": words,
        "textposition": "top center",
        "textfont": {"size": 10},
        "marker": {
            "size": [5, 0, 5] * (len(xs) // 3),
            "symbol": "line-ne",
            "color": colour,
            "line": {"width": 1, "color": colour},
        },
        "line": {"color": colour, "width": 0.8},
        "hoverinfo": "text" if told else "skip",
        "hovertext": told,
    }


def _words(labels: list[Label]) -> dict[str, Any]:
    return {
        "type": "scatter",
        "mode": "text",
        "x": [label.at[0] for label in labels],
        "y": [label.at[1] for label in labels],
        "text": [plotly_text(label.text) for label in labels],
        "textfont": {"size": 11},
        "hoverinfo": "skip",
    }


def _marks(marks: list[Numbered]) -> dict[str, Any]:
    verdicts = [mark.verdict or "not assessed" for mark in marks]
    return {
        "type": "scatter",
        "mode": "markers+text",
        "x": [mark.at[0] for mark in marks],
        "y": [mark.at[1] for mark in marks],
        "text": [str(mark.number) for mark in marks],
        "textfont": {"size": 11},
        "hovertext": [plotly_text(f"{mark.number}: {mark.title}") for mark in marks],
        "hoverinfo": "text",
        "marker": {
            "size": 20,
            "color": PAPER,
            "symbol": [_SYMBOLS[v] for v in verdicts],
            "line": {"width": 2, "color": [VERDICT_COLOURS[v] for v in verdicts]},
        },
    }
