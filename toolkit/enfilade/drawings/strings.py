"""Dimension strings on the sheet: where each line lies, and which way its figures are written."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from enfilade.drawings.items import Dimension, Point
from enfilade.drawings.style import TEXT
from enfilade.drawings.writing import text_width
from enfilade.lengths import System, shown_parts

__all__ = ["Figure", "Strung", "strung"]

_SIZE: Final = TEXT["dimension"]
_FIRST_PX: Final = 10.0
_LINE_PX: Final = 17.0
_ACROSS_PX: Final = 11.0

ToSheet = Callable[[Point], Point]


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of a string: its words, middle, and direction on the sheet [deg, clockwise as SVG turns]."""

    text: str
    at: Point
    turn_deg: float
    leader: tuple[Point, Point] | None = None

    @property
    def rect(self) -> tuple[float, float, float, float]:
        """Return the upright rectangle round it [px]."""
        half = text_width(self.text, _SIZE) / 2 + 2
        c, s = abs(math.cos(math.radians(self.turn_deg))), abs(math.sin(math.radians(self.turn_deg)))
        wide, high = half * c + 6 * s, half * s + 6 * c
        x, y = self.at
        return x - wide, y - high, x + wide, y + high


@dataclass(frozen=True, slots=True)
class Strung:
    """A string laid out on the sheet [px]."""

    item: Dimension
    line: tuple[Point, Point]
    stops: tuple[Point, ...]
    witnesses: tuple[tuple[Point, Point], ...]
    figures: tuple[Figure, ...]
    far: float

    @property
    def points(self) -> Iterable[Point]:
        """Return points that bound it."""
        yield from self.line
        for figure in self.figures:
            x0, y0, x1, y1 = figure.rect
            yield from ((x0, y0), (x1, y1))


def strung(
    items: Sequence[Dimension], to_sheet: ToSheet, scale: float, system: System, *, sparse: bool = False
) -> list[Strung]:
    """Lay out the strings that stand off to a side; on each side the tiers follow each other outwards.

    Args:
        items: Strings with a tier above 0.
        to_sheet: House coordinates [mm] to the sheet [px].
        scale: [px/mm].
        sparse: Leave out figures that do not fit into their part; else they are written across it.
    """
    sides: dict[tuple[int, int], list[Dimension]] = {}
    for item in items:
        sides.setdefault((round(item.outward[0] * 50), round(item.outward[1] * 50)), []).append(item)
    done: list[Strung] = []
    for group in sides.values():
        depth = _FIRST_PX
        for tier in sorted({item.tier for item in group}):
            here = [_one(item, to_sheet, scale, system, depth, sparse) for item in group if item.tier == tier]
            depth = max(one.far for one in here)
            done += here
    return done


def _one(item: Dimension, to_sheet: ToSheet, scale: float, system: System, depth: float, sparse: bool) -> Strung:
    # Millimetres stand without their unit on a drawing; the sheet says so once.
    texts = [text.removesuffix(" mm") for text in shown_parts(item.parts_mm, system)[0]]
    (dx, dy), (ox, oy) = (item.direction[0], -item.direction[1]), (item.outward[0], -item.outward[1])
    turn = math.degrees(math.atan2(dy, dx))
    turn = turn - 180 if turn >= 90 - 1e-6 else turn + 180 if turn < -90 - 1e-6 else turn
    up = (math.sin(math.radians(turn)), -math.cos(math.radians(turn)))
    outward_text = up[0] * ox + up[1] * oy > 0
    fits = [text_width(text, _SIZE) + 5 <= part * scale for text, part in zip(texts, item.parts_mm, strict=True)]
    line_at = depth + (4.0 if outward_text else _LINE_PX - 3.0)
    bases = [to_sheet(stop) for stop in item.stops]
    lift = item.offset_mm * scale

    def out(point: Point, by: float) -> Point:
        return (point[0] + ox * (lift + by), point[1] + oy * (lift + by))

    stops = tuple(out(base, line_at) for base in bases)
    figures, far = [], line_at + (_LINE_PX - 4.0 if outward_text else 4.0)
    ends = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(stops)]
    shifts = _spread([None if fit else i for i, fit in enumerate(fits)], ends, (dx, dy))
    across_turn = turn - 90 if turn > -45 else turn + 90
    for i, (text, fit) in enumerate(zip(texts, fits, strict=True)):
        x, y = ends[i]
        if fit:
            figures.append(Figure(text, (x + up[0] * 6.2, y + up[1] * 6.2), turn))
            continue
        if sparse:
            continue
        half = text_width(text, _SIZE) / 2
        sx, sy = x + dx * shifts[i], y + dy * shifts[i]
        at = (sx + ox * (half + 6), sy + oy * (half + 6))
        leader = ((x, y), (sx + ox * 4, sy + oy * 4)) if abs(shifts[i]) > 1.5 else None
        figures.append(Figure(text, at, across_turn, leader))
        far = max(far, line_at + 2 * half + 10)
    witnesses = tuple(
        (out(base, 3.0 - (item.offset_mm * scale if item.tier == 1 else 0.0)), out(base, line_at + 3.0))
        for base in bases
    )
    return Strung(item, (stops[0], stops[-1]), stops, witnesses, tuple(figures), far)


def _spread(across: list[int | None], middles: list[Point], direction: Point) -> dict[int, float]:
    """Return how far each figure written across is moved along the string, so that none lies on its neighbour [px]."""
    places = [(i, middles[i][0] * direction[0] + middles[i][1] * direction[1]) for i in across if i is not None]
    shifts: dict[int, float] = {}
    group: list[tuple[int, float]] = []

    def settle() -> None:
        if not group:
            return
        centre = sum(at for _, at in group) / len(group)
        start = centre - _ACROSS_PX * (len(group) - 1) / 2
        for number, (i, at) in enumerate(group):
            shifts[i] = start + _ACROSS_PX * number - at

    for i, at in places:
        if group:
            centre = sum(p for _, p in group) / len(group)
            if at >= centre + _ACROSS_PX * (len(group) + 1) / 2:
                settle()
                group = []
        group.append((i, at))
    settle()
    return shifts
