"""SVG markup of single items, at a scale and place on the sheet."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from enfilade.drawings.items import Arc, Circle, Item, Line, Point, Polygon
from enfilade.drawings.strings import Strung
from enfilade.drawings.style import DASHES, GREY, INK, PAPER, POCHE, STROKES, TEXT, VERDICT_COLOURS, VERDICT_SIGNS
from enfilade.drawings.writing import text_width, xml_text
from enfilade.findings import Verdict

__all__ = [
    "Frame",
    "arrow_markup",
    "figure_text",
    "item_markup",
    "leader_markup",
    "mark_markup",
    "number",
    "string_markup",
    "text_markup",
    "written_on",
]

_HALO_PX: Final = 4.0
"""Twice as far as the halo of a word reaches: lines stop short of its letters, and between them (own choice)."""


@dataclass(frozen=True, slots=True)
class Frame:
    """How millimetres become sheet units: scale [px/mm] and the sheet place of (0, 0) [px]."""

    scale: float
    x: float
    y: float

    def __call__(self, point: Point) -> Point:
        """Return a point's place on the sheet."""
        return self.x + point[0] * self.scale, self.y - point[1] * self.scale


def number(value: float) -> str:
    """Return a coordinate with at most two decimals."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _points(points: Iterable[Point], frame: Frame) -> str:
    return " ".join(f"{number(x)},{number(y)}" for x, y in map(frame, points))


def _stroke(item: Item) -> str:
    colour = VERDICT_COLOURS[item.verdict] if item.role == "finding" and item.verdict else INK
    width = 1.4 if item.role == "finding" else STROKES[item.weight]
    dash = ""
    if item.weight == "hidden":
        dash = f' stroke-dasharray="{DASHES.get(item.role, DASHES[""])}"'
    elif item.role == "finding" and item.verdict == "not assessed":
        dash = ' stroke-dasharray="6 3"'
    return f'stroke="{colour}" stroke-width="{number(width)}"{dash}'


def item_markup(item: Item, frame: Frame) -> str:
    """Return the markup of a shape; empty for words, strings and marks, which are laid out elsewhere."""
    if isinstance(item, Line):
        return f'<polyline fill="none" {_stroke(item)} points="{_points(item.points, frame)}"/>'
    if isinstance(item, Polygon):
        return _polygon(item, frame)
    if isinstance(item, Circle):
        x, y = frame(item.centre)
        fill = INK if item.filled else "none"
        radius = number(item.radius_mm * frame.scale)
        return f'<circle cx="{number(x)}" cy="{number(y)}" r="{radius}" fill="{fill}" {_stroke(item)}/>'
    if isinstance(item, Arc):
        return _arc(item, frame)
    return ""


def _polygon(item: Polygon, frame: Frame) -> str:
    if item.solid:
        fill = POCHE
    elif item.clear:
        fill = "none"
    else:
        fill = item.finish or PAPER
    if item.role == "finding" and item.verdict:
        fill = f'{VERDICT_COLOURS[item.verdict]}" fill-opacity="0.1'
    elif item.role == "floor":
        return f'<polygon fill="{fill}" points="{_points(item.points, frame)}"/>'
    if item.holes:
        rings = " ".join(f"M{_points(ring, frame)}Z" for ring in (item.points, *item.holes))
        return f'<path fill="{fill}" fill-rule="evenodd" {_stroke(item)} d="{rings}"/>'
    return f'<polygon fill="{fill}" {_stroke(item)} points="{_points(item.points, frame)}"/>'


def _arc(item: Arc, frame: Frame) -> str:
    (x0, y0), (x1, y1) = frame(item.start), frame(item.end)
    radius = math.dist(item.centre, item.start) * frame.scale
    a, b = ((p[0] - item.centre[0], p[1] - item.centre[1]) for p in (item.start, item.end))
    turn = math.degrees(math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])) % 360
    large = int((360 - turn if item.clockwise else turn) > 180)
    # y is turned over on the sheet, where SVG's sweep 1 runs clockwise as seen: clockwise stays clockwise.
    sweep = int(item.clockwise)
    path = f"M{number(x0)},{number(y0)}A{number(radius)},{number(radius)} 0 {large} {sweep} {number(x1)},{number(y1)}"
    return f'<path fill="none" {_stroke(item)} d="{path}"/>'


def text_markup(
    text: str,
    at: Point,
    size: float,
    *,
    turn_deg: float = 0.0,
    anchor: str = "middle",
    bold: bool = False,
    colour: str = INK,
    halo: str | None = None,
) -> str:
    """Return one line of text whose middle height lies at a point; a halo of a colour interrupts lines under it."""
    x, y = at
    turn = f' transform="rotate({number(turn_deg)} {number(x)} {number(y)})"' if abs(turn_deg) > 0.05 else ""
    weight = ' font-weight="600"' if bold else ""
    ring = ""
    if halo:
        ring = f' stroke="{halo}" stroke-width="{number(_HALO_PX)}" stroke-linejoin="round" paint-order="stroke"'
    return (
        f'<text x="{number(x)}" y="{number(y)}" dy="0.34em" font-size="{number(size)}" text-anchor="{anchor}" '
        f'fill="{colour}"'
        f"{weight}{ring}{turn}>{xml_text(text)}</text>"
    )


def _segment(a: Point, b: Point, width: float = STROKES["dimension"], colour: str = INK) -> str:
    return (
        f'<line x1="{number(a[0])}" y1="{number(a[1])}" x2="{number(b[0])}" y2="{number(b[1])}" '
        f'stroke="{colour}" stroke-width="{number(width)}"/>'
    )


def leader_markup(place: Point, at: Point, colour: str = INK, width: float = STROKES["dimension"]) -> str:
    """Return a line from a dot on a place to what is written about it."""
    x, y = place
    return f'{_segment(place, at, width, colour)}<circle cx="{number(x)}" cy="{number(y)}" r="2" fill="{colour}"/>'


def written_on(ground: str) -> str:
    """Return ink or paper, whichever stands out from a colour `#rrggbb`."""
    red, green, blue = (int(ground[at : at + 2], 16) / 255 for at in (1, 3, 5))
    # Relative luminance of sRGB, IEC 61966-2-1, its curve taken as a square; in equal contrast at about 0.18.
    return INK if 0.2126 * red**2 + 0.7152 * green**2 + 0.0722 * blue**2 > 0.18 else PAPER


def string_markup(one: Strung) -> str:
    """Return a string with its witness lines, slashes and figures."""
    dx, dy = one.item.direction[0], -one.item.direction[1]
    ux, uy = (dx - dy) * 3.2 / math.sqrt(2), (dy + dx) * 3.2 / math.sqrt(2)
    if (ux > 0) == (uy > 0):
        ux, uy = -uy, ux  # Slashes rise to the right on every side.
    parts = [_segment(a, b, 0.35, GREY) for a, b in one.witnesses]
    parts.append(_segment(*one.line))
    parts += [_segment((x - ux, y - uy), (x + ux, y + uy), 1.0) for x, y in one.stops]
    for figure in one.figures:
        if figure.leader:
            parts.append(_segment(*figure.leader, 0.35))
        parts.append(text_markup(figure.text, figure.at, TEXT["dimension"], turn_deg=figure.turn_deg))
    return "".join(parts)


def arrow_markup(a: Point, b: Point, colour: str, bold: bool) -> str:
    """Return a measured line in the drawing itself, with arrow heads."""
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    parts = [_segment(a, b, 1.3 if bold else 0.7, colour)]
    head = min(7.0, length / 3)
    for (x, y), way in ((a, 1.0), (b, -1.0)):
        bx, by = x + ux * head * way, y + uy * head * way
        wing = head * 0.32
        parts.append(
            f'<polygon fill="{colour}" '
            f'points="{number(x)},{number(y)} {number(bx - uy * wing)},{number(by + ux * wing)} '
            f'{number(bx + uy * wing)},{number(by - ux * wing)}"/>'
        )
    return "".join(parts)


def figure_text(text: str, at: Point, bold: bool) -> str:
    """Return the figure of a measured line on white, about a point."""
    (x, y), wide = at, text_width(text, TEXT["dimension"], bold) + 6
    ground = f'<rect x="{number(x - wide / 2)}" y="{number(y - 7)}" width="{number(wide)}" height="14" fill="{PAPER}"/>'
    return ground + text_markup(text, at, TEXT["dimension"], bold=bold)


def mark_markup(at: Point, label: str, verdict: Verdict, radius: float = 9.0) -> str:
    """Return a numbered mark whose form tells the verdict: diamond, circle or square."""
    x, y = at
    colour, sign = VERDICT_COLOURS[verdict], VERDICT_SIGNS[verdict]
    style = f'fill="{PAPER}" stroke="{colour}" stroke-width="2"'
    if sign == "diamond":
        r = radius * 1.3
        points = " ".join(f"{number(px)},{number(py)}" for px, py in ((x, y - r), (x + r, y), (x, y + r), (x - r, y)))
        form = f'<polygon points="{points}" {style}/>'
    elif sign == "square":
        r = radius * 0.95
        form = (
            f'<rect x="{number(x - r)}" y="{number(y - r)}" width="{number(2 * r)}" height="{number(2 * r)}" {style}/>'
        )
    else:
        form = f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(radius)}" {style}/>'
    size = 10.0 if len(label) < (3 if radius > 8.0 else 2) else 8.5
    return form + (text_markup(label, at, size, bold=True) if label else "")
