"""The plan as an interactive figure: pointing at a thing tells its name, size, product, finish and findings."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from enfilade.drawings.items import Item, Label, Point, Polygon, Scene
from enfilade.drawings.labels import Placed
from enfilade.drawings.laid import Laid, extent, fit_scale
from enfilade.drawings.plotly_layout import TITLE_PX, plain_layout
from enfilade.drawings.plotly_shapes import line_trace, shape_traces
from enfilade.drawings.plotly_text import hover_text, plotly_lines, plotly_text
from enfilade.drawings.scene import plan_scene
from enfilade.drawings.shapes import Frame
from enfilade.drawings.style import GREY, INK, PAPER, TEXT, VERDICT_COLOURS, VERDICT_SIGNS
from enfilade.findings import Finding
from enfilade.lengths import shown_parts
from enfilade.project.project import Project

if TYPE_CHECKING:
    from plotly.graph_objects import Figure

__all__ = ["plan_figure"]

# Words keep their size in pixels while the plan grows with the width of the page. They are laid out on a sheet that
# is smaller than a narrow notebook cell, so that a font wider than ours still leaves them apart there.
_SHEET_PX: Final = (620.0, 660.0)
_GROWN_PX: Final = (960.0, 720.0)
_HALO: Final = ", ".join(f"{x}px {y}px 1px {PAPER}" for x in (-1, 0, 1) for y in (-1, 0, 1) if x or y)
_LARGEST_PX: Final = 12.0
_PAD_PX: Final = 10.0


def plan_figure(
    project: Project, space: str | None = None, findings: Sequence[Finding] = (), *, filled: bool = False
) -> Figure:
    """Return the plan of a room, or of the house, as a plotly figure with equal scales.

    Names are written where they find room; pointing at a thing tells all of them.

    Args:
        project, space, findings, filled: As for `plan_scene`.
    Raises:
        NotFound: The space does not exist.
    """
    from plotly.graph_objects import Figure

    scene = _rooms_told(plan_scene(project, space, findings, filled=filled))
    scale = fit_scale(scene, *_SHEET_PX, scene.system, sparse=True)
    sheet = _Sheet(Laid(scene, Frame(scale, 0.0, 0.0), scene.system, sparse=True), scale)
    traces = [*shape_traces(scene.items), *sheet.string_traces(), *sheet.measured_traces(), *sheet.label_traces()]
    traces += [*sheet.told_traces(scene.items), *sheet.mark_traces()]
    title = f"{scene.title}, dimensions in mm" if scene.system == "metric" else scene.title
    layout = plain_layout(title) | _axes(extent(scene, scale, scene.system, sparse=True), scale)
    # The dictionaries are ours and valid: checking each of a hundred traces again takes a second.
    return Figure(data=traces, layout=layout | {"annotations": sheet.turned}, skip_invalid=True)


def _rooms_told(scene: Scene) -> Scene:
    """Return a scene whose floors tell the sizes of rooms when pointed at, so that names can stand alone."""
    details = {item.subject: item.detail for item in scene.items if isinstance(item, Label) and item.detail}
    items: list[Item] = []
    for item in scene.items:
        if isinstance(item, Polygon) and item.role == "floor" and item.subject in details:
            items.append(replace(item, title=f"{item.title}: {'; '.join(details[item.subject])}"))
        elif isinstance(item, Label) and item.detail:
            items.append(replace(item, detail=()))
        else:
            items.append(item)
    return replace(scene, items=tuple(items))


def _axes(box: tuple[float, float, float, float], scale: float) -> dict[str, Any]:
    """Return axes that frame a box of the sheet [px] with one scale, and a height in proportion to it."""
    x0, y0, x1, y1 = box[0] - _PAD_PX, box[1] - _PAD_PX, box[2] + _PAD_PX, box[3] + _PAD_PX
    grown = min(_GROWN_PX[0] / (x1 - x0), _GROWN_PX[1] / (y1 - y0))
    axis = {"visible": False, "constrain": "domain"}
    return {
        "xaxis": axis | {"range": [x0 / scale, x1 / scale]},
        "yaxis": axis
        | {"range": [-y1 / scale, -y0 / scale], "scaleanchor": "x", "scaleratio": 1, "constraintoward": "top"},
        "margin": {"l": 4, "r": 4, "t": TITLE_PX, "b": 4},
        "height": round((y1 - y0) * grown + TITLE_PX + 4),
        "hoverdistance": 10,
    }


class _Sheet:
    """A plan laid out, as traces in millimetres; words that are turned stand apart, as only annotations can turn."""

    def __init__(self, laid: Laid, scale: float) -> None:
        self.laid, self.scale = laid, scale
        self.turned: list[dict[str, Any]] = []

    def _mm(self, point: Point) -> Point:
        return point[0] / self.scale, -point[1] / self.scale

    def string_traces(self) -> Iterator[dict[str, Any]]:
        """Yield the strings outside the walls: extension lines, lines, slashes and figures."""
        strings = self.laid.strings
        if not strings:
            return
        thin = [pair for one in strings for pair in one.witnesses]
        yield line_trace((map(self._mm, pair) for pair in thin), GREY, 0.35)
        yield line_trace((map(self._mm, one.line) for one in strings), INK, 0.6)
        yield self._points([stop for one in strings for stop in one.stops]) | {
            "mode": "markers",
            "marker": {"symbol": "line-ne", "size": 7, "line": {"width": 1, "color": INK}},
            "hoverinfo": "skip",
        }
        words = [
            (plotly_text(f.text), f.at, f.turn_deg, TEXT["dimension"], INK) for one in strings for f in one.figures
        ]
        yield from self._written(words)

    def measured_traces(self) -> Iterator[dict[str, Any]]:
        """Yield measured lines in the drawing itself; their figures stand on white."""
        for one in self.laid.measured:
            yield line_trace([map(self._mm, (one.a, one.b))], one.colour, 1.3 if one.bold else 0.7)
            # Plotly turns its arrows clockwise from straight up, and their tips lie on the point.
            way = math.degrees(math.atan2(one.b[0] - one.a[0], one.a[1] - one.b[1]))
            yield self._points([one.a, one.b]) | {
                "mode": "markers",
                "marker": {"symbol": "arrow", "size": 8, "angle": [way + 180, way], "color": one.colour},
                "hoverinfo": "skip",
            }
            text = plotly_lines([one.text], int(one.bold))
            self._turn(text, one.at, 0.0, TEXT["dimension"], INK, bgcolor=PAPER, borderpad=1)

    def label_traces(self) -> Iterator[dict[str, Any]]:
        """Yield the names that found room."""
        yield from self._written([_label(placed) for placed in self.laid.labels])

    def told_traces(self, items: Sequence[Item]) -> Iterator[dict[str, Any]]:
        """Yield unseen points for what has no area to point at: figures of dimensions, and signs that are letters."""
        frame, system = self.laid.frame, self.laid.system
        told = [(one.at, one.item.title) for one in self.laid.measured]
        told += [(frame(i.at), i.title) for i in items if isinstance(i, Label) and i.size == "sign" and i.title]
        for one in self.laid.strings:
            more = f"; {one.item.title}" if one.item.title else ""
            for (a, b), text in zip(pairwise(one.stops), shown_parts(one.item.parts_mm, system)[0], strict=True):
                told.append((((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), text + more))
        if told:
            yield self._points([at for at, _ in told]) | {
                "mode": "markers",
                "marker": {"size": 14, "opacity": 0},
                "hovertext": [hover_text(title) for _, title in told],
                "hoverinfo": "text",
            }

    def mark_traces(self) -> Iterator[dict[str, Any]]:
        """Yield the numbered marks of findings, with leaders from those that had to move."""
        marks = self.laid.marks
        for one in marks:
            if one.at != one.place:
                yield line_trace([map(self._mm, (one.place, one.at))], VERDICT_COLOURS[one.verdict], 1.0)
        if marks:
            yield self._points([one.at for one in marks]) | {
                "mode": "markers+text",
                "text": [f"<b>{one.item.number}</b>" for one in marks],
                "textfont": {"size": 10, "color": INK},
                "hovertext": [hover_text(f"{one.item.number}  {one.item.title}") for one in marks],
                "hoverinfo": "text",
                "marker": {
                    "size": 18,
                    "color": PAPER,
                    "opacity": 1,
                    "symbol": [VERDICT_SIGNS[one.verdict] for one in marks],
                    "line": {"width": 2, "color": [VERDICT_COLOURS[one.verdict] for one in marks]},
                },
            }

    def _points(self, points: Sequence[Point]) -> dict[str, Any]:
        places = [self._mm(point) for point in points]
        return {"type": "scatter", "x": [x for x, _ in places], "y": [y for _, y in places]}

    def _written(self, words: Sequence[tuple[str, Point, float, float, str]]) -> Iterator[dict[str, Any]]:
        """Yield upright words (text, middle, turn, size, colour) as one trace; set the others aside."""
        upright = [word for word in words if abs(word[2]) < 0.05]
        for word in words:
            if abs(word[2]) >= 0.05:
                self._turn(*word)
        if upright:
            sizes, colours = [word[3] for word in upright], [word[4] for word in upright]
            yield self._points([at for _, at, *_ in upright]) | {
                "mode": "text",
                "text": [text for text, *_ in upright],
                "textposition": "middle center",
                "textfont": {"size": sizes, "color": colours, "shadow": _HALO},
                "hoverinfo": "skip",
            }

    def _turn(self, text: str, at: Point, turn_deg: float, size: float, colour: str, **more: Any) -> None:
        x, y = self._mm(at)
        font = {"size": size, "color": colour, "shadow": _HALO}
        self.turned.append(
            {"x": x, "y": y, "text": text, "textangle": turn_deg, "showarrow": False, "font": font, **more}
        )


def _label(placed: Placed) -> tuple[str, Point, float, float, str]:
    colour = GREY if placed.label.size == "note" else INK
    return plotly_lines(placed.lines, placed.bold), placed.at, placed.turn_deg, min(placed.size, _LARGEST_PX), colour
