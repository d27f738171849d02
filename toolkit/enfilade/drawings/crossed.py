"""The lines of a drawing on its sheet, so that words can be written where they cross the fewest."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final

from enfilade.drawings.items import Arc, Item, Line, Point, Polygon
from enfilade.drawings.shapes import Frame

__all__ = ["Crossed"]

_CELL: Final = 48.0
_CHORDS: Final = 8


@dataclass
class Crossed:
    """Lines of the sheet, in pieces no longer than a cell [px]."""

    cells: dict[tuple[int, int], list[tuple[Point, Point]]] = field(default_factory=dict)

    @classmethod
    def of(cls, items: Iterable[Item], frame: Frame) -> Crossed:
        """Return the lines of items; floors, circles and words are left out."""
        found = cls()
        for item in items:
            for a, b in _edges(item):
                found.add(frame(a), frame(b))
        return found

    def add(self, a: Point, b: Point) -> None:
        """Add a straight line."""
        pieces = max(1, math.ceil(math.dist(a, b) / _CELL))
        stops = [(a[0] + (b[0] - a[0]) * n / pieces, a[1] + (b[1] - a[1]) * n / pieces) for n in range(pieces + 1)]
        for piece in pairwise(stops):
            (x0, y0), (x1, y1) = piece
            for i in range(_cell(min(x0, x1)), _cell(max(x0, x1)) + 1):
                for j in range(_cell(min(y0, y1)), _cell(max(y0, y1)) + 1):
                    self.cells.setdefault((i, j), []).append(piece)

    def within(self, rect: tuple[float, float, float, float]) -> float:
        """Return how much line lies in a rectangle of the sheet [px]."""
        x0, y0, x1, y1 = rect
        pieces: set[tuple[Point, Point]] = set()
        for i in range(_cell(x0), _cell(x1) + 1):
            for j in range(_cell(y0), _cell(y1) + 1):
                pieces.update(self.cells.get((i, j), ()))
        # An exact sum does not depend on the order of a set: the same drawing gives the same bytes.
        return math.fsum(_inside(a, b, rect) for a, b in pieces)


def _cell(value: float) -> int:
    return math.floor(value / _CELL)


def _edges(item: Item) -> Iterator[tuple[Point, Point]]:
    if isinstance(item, Line):
        yield from pairwise(item.points)
    elif isinstance(item, Polygon) and item.role != "floor":
        for ring in (item.points, *item.holes):
            yield from pairwise((*ring, ring[0]))
    elif isinstance(item, Arc):
        yield from pairwise(_chords(item))


def _chords(item: Arc) -> list[Point]:
    x, y = item.centre
    a, b = (math.atan2(p[1] - y, p[0] - x) for p in (item.start, item.end))
    turn = -((a - b) % math.tau) if item.clockwise else (b - a) % math.tau
    radius = math.dist(item.centre, item.start)
    angles = [a + turn * n / _CHORDS for n in range(_CHORDS + 1)]
    return [(x + radius * math.cos(t), y + radius * math.sin(t)) for t in angles]


def _inside(a: Point, b: Point, rect: tuple[float, float, float, float]) -> float:
    """Return the length of the part of a line that lies in a rectangle [px]."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    low, high = 0.0, 1.0
    for step, near, far in ((dx, rect[0] - a[0], rect[2] - a[0]), (dy, rect[1] - a[1], rect[3] - a[1])):
        if abs(step) < 1e-9:
            if near > 0 or far < 0:
                return 0.0
            continue
        first, last = sorted((near / step, far / step))
        low, high = max(low, first), min(high, last)
        if low >= high:
            return 0.0
    return (high - low) * math.hypot(dx, dy)
