"""A scene as one standalone SVG sheet, written without a browser."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from enfilade.drawings.footer import Block, footer_block, key_block
from enfilade.drawings.items import Dimension, Item, Label, Numbered, Scene
from enfilade.drawings.labels import Placed
from enfilade.drawings.laid import Laid, Mark, extent, fit_scale
from enfilade.drawings.shapes import (
    Frame,
    arrow_markup,
    figure_text,
    item_markup,
    leader_markup,
    mark_markup,
    number,
    string_markup,
    text_markup,
    written_on,
)
from enfilade.drawings.strings import Strung
from enfilade.drawings.style import FONT, GREY, INK, PAPER, TABULAR, TEXT, VERDICT_COLOURS
from enfilade.drawings.writing import attribute, xml_text
from enfilade.errors import NotFound
from enfilade.lengths import INCH_MM, System

__all__ = ["PAPERS", "SCALES", "scale_words", "svg_and_names", "svg_sheet"]

_PX_PER_MM: Final = 96 / INCH_MM

SCALES: Final[dict[str, float]] = {
    "1:10": 10,
    "1:20": 20,
    "1:25": 25,
    "1:50": 50,
    "1:100": 100,
    "1:200": 200,
    "1:500": 500,
    "1 in": 12,
    "1/2 in": 24,
    "3/8 in": 32,
    "1/4 in": 48,
    "3/16 in": 64,
    "1/8 in": 96,
    "1/16 in": 192,
}
"""Scales of drawings by name, as how many times smaller than life; `1/4 in` is 1/4 in to the foot."""

PAPERS: Final[dict[str, tuple[float, float]]] = {
    # ISO 216 and the North American sizes of ANSI/ASME Y14.1 [mm], the short side first.
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "letter": (215.9, 279.4),
    "tabloid": (279.4, 431.8),
}

_MARGIN: Final = 24.0
_GAP: Final = 14.0
_TALLEST: Final = 1.3


def svg_sheet(
    scene: Scene,
    *,
    system: System | None = None,
    title: str | None = None,
    width_px: float = 960.0,
    scale: str | None = None,
    paper: str | None = None,
    frame: bool = True,
    keys: bool = True,
) -> str:
    """Return a scene as SVG text: a sheet with margins, drawing, key, scale bar and title block.

    Args:
        scene: What to draw.
        system: Units of figures; None takes the scene's.
        title: Instead of the scene's own.
        width_px: Width of the sheet when no scale or paper is asked for; the drawing fills it [px].
        scale: A name of `SCALES`; the sheet is as large as that takes, and prints at scale.
        paper: A name of `PAPERS`; alone, the largest scale of the system at which all fits is taken.
        frame: Draw the title block; a page with a heading of its own leaves it out.
        keys: Print findings, names that did not fit, and notes under the drawing.
    Raises:
        NotFound: No such scale or paper.
    """
    for name, known in ((scale, SCALES), (paper, PAPERS)):
        if name is not None and name not in known:
            raise NotFound(f"{name!r} is not known", expected=", ".join(known))
    sheet = _Sheet(scene, system or scene.system, title or scene.title, frame, keys)
    if scale is not None and paper is None:
        return sheet.at_scale(scale)
    if paper is not None:
        return sheet.on_paper(paper, scale)
    return sheet.to_width(max(width_px, 160.0))


def svg_and_names(
    scene: Scene, width_px: float = 960.0, *, scale: str | None = None
) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Return a scene as SVG text without title block or key, and what its numbers and letters stand for.

    For a page that tells the names in its own words: tag and name, in the order of the drawing. With a scale, a name of
    `SCALES`, it is as large as that takes.
    """
    sheet = _Sheet(scene, scene.system, scene.title, frame=False, keys=False)
    svg = sheet.at_scale(scale) if scale is not None else sheet.to_width(max(width_px, 160.0))
    return svg, tuple(sheet.names)


def scale_words(name: str) -> str:
    """Return how a scale is told: `scale 1:50`, `scale 1/4 in = 1 ft`."""
    return f"scale {name}" if ":" in name else f"scale {name} = 1 ft"


class _Sheet:
    names: Sequence[tuple[str, str]] = ()
    """What tags stand for, once the drawing is written."""

    def __init__(self, scene: Scene, system: System, title: str, frame: bool, keys: bool) -> None:
        self.scene, self.system, self.title, self.frame, self.keys = scene, system, title, frame, keys

    def to_width(self, width: float) -> str:
        room = width - 2 * _MARGIN
        scale = self._fit(room, room * _TALLEST)
        return self._written(scale, "drawn to fit; measure by the bar", width, None, "")

    def at_scale(self, name: str) -> str:
        scale = _PX_PER_MM / SCALES[name]
        x0, _, x1, _ = self._extent(scale)
        # What is written under a drawing takes more room than a narrow one has.
        width = max(x1 - x0 + 2 * _MARGIN, 420.0 if self.frame or self.keys else 0.0)
        return self._written(scale, scale_words(name), width, None, "mm")

    def on_paper(self, name: str, scale_name: str | None) -> str:
        short, long = (side * _PX_PER_MM for side in PAPERS[name])
        x0, y0, x1, y1 = self.scene.bounds
        lying = x1 - x0 >= y1 - y0
        sheets = [(long, short), (short, long)] if lying else [(short, long), (long, short)]
        names = [scale_name] if scale_name else [n for n in SCALES if (":" in n) == (self.system == "metric")]
        for each in names:
            scale = _PX_PER_MM / SCALES[each]
            for wide, high in sheets:
                if self._fits(scale, wide, high):
                    return self._written(scale, scale_words(each), wide, high, "mm")
        wide, high = sheets[0]
        if scale_name is not None:  # Asked for all the same: the sheet grows with it.
            return self._written(_PX_PER_MM / SCALES[scale_name], scale_words(scale_name), wide, high, "mm")
        scale = self._fit(wide - 2 * _MARGIN, max(high - 2 * _MARGIN - self._under(0.01, wide), high / 2))
        return self._written(scale, "drawn to fit; measure by the bar", wide, high, "mm")

    def _fits(self, scale: float, wide: float, high: float) -> bool:
        a, b, c, d = self._extent(scale)
        tall = d - b + 2 * _MARGIN
        return c - a <= wide - 2 * _MARGIN and tall < high and tall + self._under(scale, wide) <= high

    def _under(self, scale: float, width: float) -> float:
        drawn = _Drawn(self.scene, Frame(scale, 0.0, 0.0), self.system)
        return sum(block.height + _GAP for block in self._blocks(drawn, "1:100", scale, width))

    def _fit(self, room_w: float, room_h: float) -> float:
        return fit_scale(self.scene, room_w, room_h, self.system)

    def _extent(self, scale: float) -> tuple[float, float, float, float]:
        return extent(self.scene, scale, self.system)

    def _written(self, scale: float, scale_words: str, width: float, height: float | None, unit: str) -> str:
        x0, y0, x1, y1 = self._extent(scale)
        left = max(_MARGIN - x0, (width - (x1 - x0)) / 2 - x0)
        top = _MARGIN - y0
        drawn = _Drawn(self.scene, Frame(scale, left, top), self.system)
        blocks = self._blocks(drawn, scale_words, scale, width)
        below = sum(block.height + _GAP for block in blocks)
        y = top + y1 + _GAP
        total = y + below + _MARGIN - _GAP
        if height is not None and height > total:
            top += (height - total) / 2
            drawn = _Drawn(self.scene, Frame(scale, left, top), self.system)
            total, y = height, height - _MARGIN - below + _GAP
        self.names = drawn.key
        under = []
        for block in blocks:
            under.append(f'<g transform="translate({number(_MARGIN)} {number(y)})">{block.markup}</g>')
            y += block.height + _GAP
        return self._svg(drawn.markup + "".join(under), width, total, Frame(scale, left, top), unit)

    def _blocks(self, drawn: _Drawn, scale_words: str, scale: float, width: float) -> list[Block]:
        room = width - 2 * _MARGIN
        blocks = []
        if self.keys:
            key = key_block(self.scene, drawn.key, room, self.system)
            blocks += [key] if key.height else []
        if self.frame:
            blocks.append(footer_block(self.scene, self.title, scale_words, scale, self.system, room))
        return blocks

    def _svg(self, body: str, width: float, height: float, frame: Frame, unit: str) -> str:
        size = f'width="{number(width)}" height="{number(height)}"'
        if unit == "mm":
            size = f'width="{number(width / _PX_PER_MM)}mm" height="{number(height / _PX_PER_MM)}mm"'
        name = self.scene.id
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {number(width)} {number(height)}" role="img" '
            f'aria-labelledby="{name}-title {name}-desc" font-family="{FONT}" style="{TABULAR}" fill="{INK}" '
            f'data-scale="{frame.scale:.8f}" data-origin-x="{number(frame.x)}" data-origin-y="{number(frame.y)}">'
            f'<title id="{name}-title">{xml_text(self.title)}</title>'
            f'<desc id="{name}-desc">{xml_text(self._words())}</desc>'
            f'<rect width="{number(width)}" height="{number(height)}" fill="{PAPER}"/>{body}</svg>'
        )

    def _words(self) -> str:
        return " ".join(
            [
                self.scene.description,
                *(f"{k.number}: {k.text}." if k.number else f"{k.text}." for k in self.scene.key),
                *self.scene.notes,
            ]
        )


class _Drawn:
    """The drawing itself in markup: shapes in order, then strings, marks and words, each where it found room."""

    def __init__(self, scene: Scene, frame: Frame, system: System) -> None:
        laid = Laid(scene, frame, system)
        self.key = laid.key
        self.markup = "".join(
            [
                *_groups(scene.items, frame),
                *(_string(one) for one in laid.strings),
                *(_group(one.item, arrow_markup(one.a, one.b, one.colour, one.bold)) for one in laid.measured),
                *(_group(one.item, figure_text(one.text, one.at, one.bold)) for one in laid.measured),
                *(_label(one) for one in laid.labels),
                *(_lead(one) for one in laid.marks if one.at != one.place),
                *(_mark(one) for one in laid.marks),
            ]
        )


def _lead(one: Mark) -> str:
    return _group(one.item, leader_markup(one.place, one.at, VERDICT_COLOURS[one.verdict], 1.0))


def _mark(one: Mark) -> str:
    return _group(one.item, mark_markup(one.at, str(one.item.number), one.verdict))


def _groups(items: Sequence[Item], frame: Frame) -> Iterator[str]:
    """Yield shapes, those of one record and role that follow each other in one group with its title."""
    shapes = [item for item in items if not isinstance(item, Label | Dimension | Numbered)]
    for (subject, role), group in groupby(shapes, key=lambda item: (item.subject, item.role)):
        several = list(group)
        markup = "".join(item_markup(item, frame) for item in several)
        title = next((item.title for item in several if item.title), "")
        told = f"<title>{xml_text(title)}</title>" if title else ""
        named = f" data-subject={attribute(subject)}" if subject else ""
        yield f'<g data-role="{role}"{named}>{told}{markup}</g>'


def _group(item: Item, markup: str) -> str:
    told = f"<title>{xml_text(item.title)}</title>" if item.title else ""
    named = f" data-subject={attribute(item.subject)}" if item.subject else ""
    verdict = f' data-verdict="{item.verdict}"' if item.verdict else ""
    return f'<g data-role="{item.role}"{named}{verdict}>{told}{markup}</g>'


def _string(one: Strung) -> str:
    return _group(one.item, string_markup(one))


def _label(placed: Placed) -> str:
    lines, (x, y), size = placed.lines, placed.at, placed.size
    pitch, turn = size * 1.15, math.radians(placed.turn_deg)
    ground = placed.label.ground if placed.leader is None else None
    ink = written_on(ground) if ground else INK
    parts = [leader_markup(*placed.leader)] if placed.leader else []
    for n, line in enumerate(lines):
        off = (n - (len(lines) - 1) / 2) * pitch
        at = (x - math.sin(turn) * off, y + math.cos(turn) * off)
        bold = n < placed.bold
        small = placed.bold > 0 and not bold
        parts.append(
            text_markup(
                line,
                at,
                TEXT["note"] if small else size,
                turn_deg=placed.turn_deg,
                bold=bold,
                halo=ground or PAPER,
                colour=GREY if small or placed.label.size == "note" else ink,
            )
        )
    return _group(placed.label, "".join(parts))
