"""Shapes of a plan as plotly traces: each area that tells something is one of its own, lines are gathered."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Any, Final

from enfilade.drawings.items import Arc, Circle, Item, Line, Point, Polygon
from enfilade.drawings.plotly_text import hover_text
from enfilade.drawings.style import DASHES, INK, PAPER, POCHE, STROKES, VERDICT_COLOURS

__all__ = ["line_trace", "shape_traces"]

_CLEAR: Final = "rgba(0,0,0,0)"
_WASH: Final = 0.1


def shape_traces(items: Iterable[Item]) -> Iterator[dict[str, Any]]:
    """Yield the traces of shapes in the order in which they are painted; words, strings and marks are left out."""
    pending: dict[tuple[str, float, str], list[list[Point]]] = {}
    for item in items:
        if isinstance(item, Polygon) or (isinstance(item, Circle) and (item.title or item.filled)):
            yield from _gathered(pending)
            yield _area(item)
        elif isinstance(item, Line | Arc | Circle):
            pending.setdefault(_stroke(item), []).append(_points(item))
    yield from _gathered(pending)


def line_trace(lines: Iterable[Iterable[Point]], colour: str, width: float, dash: str = "solid") -> dict[str, Any]:
    """Return lines of one colour and width as one trace that tells nothing."""
    xs: list[float | None] = []
    ys: list[float | None] = []
    for line in lines:
        xs += [None] * bool(xs)
        ys += [None] * bool(ys)
        for x, y in line:
            xs.append(x)
            ys.append(y)
    style = {"color": colour, "width": width, "dash": dash}
    return {"type": "scatter", "x": xs, "y": ys, "mode": "lines", "line": style, "hoverinfo": "skip"}


def _gathered(pending: dict[tuple[str, float, str], list[list[Point]]]) -> Iterator[dict[str, Any]]:
    """Yield the lines gathered so far, one trace a stroke, before the next area covers them."""
    for stroke, lines in pending.items():
        yield line_trace(lines, *stroke)
    pending.clear()


def _stroke(item: Item) -> tuple[str, float, str]:
    """Return colour, width and dashes of an outline."""
    finding = item.role == "finding"
    colour = VERDICT_COLOURS[item.verdict] if finding and item.verdict else INK
    dash = "solid"
    if item.weight == "hidden":
        dash = ",".join(f"{part}px" for part in DASHES.get(item.role, DASHES[""]).split())
    elif finding and item.verdict == "not assessed":
        dash = "6px,3px"
    return colour, 1.4 if finding else STROKES[item.weight], dash


def _points(item: Line | Arc | Circle) -> list[Point]:
    if isinstance(item, Line):
        return list(item.points)
    (cx, cy), first = item.centre, 0.0
    if isinstance(item, Circle):
        r, sweep = item.radius_mm, 2 * math.pi
    else:
        r = math.dist(item.centre, item.start)
        first = math.atan2(item.start[1] - cy, item.start[0] - cx)
        sweep = (math.atan2(item.end[1] - cy, item.end[0] - cx) - first) % (2 * math.pi)
        sweep = sweep - 2 * math.pi if item.clockwise else sweep
    return [(cx + r * math.cos(first + sweep * n / 24), cy + r * math.sin(first + sweep * n / 24)) for n in range(25)]


def _area(item: Polygon | Circle) -> dict[str, Any]:
    rings = [_points(item)] if isinstance(item, Circle) else [[*r, r[0]] for r in (item.points, *item.holes) if r]
    colour, width, dash = _stroke(item)
    trace = line_trace(rings, colour, 0.0 if item.role == "floor" else width, dash)
    # Areas of findings lie over whole rooms; their numbered marks speak for them, so that things below still answer.
    told = "" if item.role == "finding" else hover_text(item.title)
    return trace | {
        "fill": "toself",
        "fillcolor": _fill(item),
        "hoveron": "fills",
        "text": told,
        "name": told,
        "hoverinfo": "text" if told else "skip",
        "meta": item.subject,
    }


def _fill(item: Polygon | Circle) -> str:
    if isinstance(item, Circle):
        return INK if item.filled else _CLEAR
    if item.role == "finding" and item.verdict:
        red, green, blue = bytes.fromhex(VERDICT_COLOURS[item.verdict].removeprefix("#"))
        return f"rgba({red},{green},{blue},{_WASH})"
    if item.solid:
        return POCHE
    return _CLEAR if item.clear else item.finish or PAPER
