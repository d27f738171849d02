"""Words on the drawing: each finds room where nothing else is written, or leaves a number and goes to the key."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Final

from enfilade.drawings.items import Label, Point
from enfilade.drawings.style import TEXT
from enfilade.drawings.writing import broken, clean, text_width

__all__ = ["Placed", "Placer", "Taken"]

_CELL: Final = 48.0
Rect = tuple[float, float, float, float]


@dataclass
class Taken:
    """Rectangles of the sheet that are written on [px]."""

    cells: dict[tuple[int, int], list[Rect]] = field(default_factory=dict)

    def _around(self, rect: Rect) -> Iterator[tuple[int, int]]:
        x0, y0, x1, y1 = (math.floor(v / _CELL) for v in rect)
        for i in range(x0, min(x1, x0 + 200) + 1):
            for j in range(y0, min(y1, y0 + 200) + 1):
                yield i, j

    def add(self, rect: Rect) -> None:
        """Take a rectangle."""
        for cell in self._around(rect):
            self.cells.setdefault(cell, []).append(rect)

    def overlap(self, rect: Rect) -> float:
        """Return how much of what is written a rectangle would cover [px2]."""
        seen: set[Rect] = set()
        for cell in self._around(rect):
            seen.update(self.cells.get(cell, ()))
        x0, y0, x1, y1 = rect
        wide = ((min(x1, b0) - max(x0, a0), min(y1, b1) - max(y0, a1)) for a0, a1, b0, b1 in seen)
        return sum(w * h for w, h in wide if w > 0 and h > 0)


@dataclass(frozen=True, slots=True)
class Placed:
    """Lines of text about a middle [px], turned clockwise [deg]; `bold` lines come first."""

    label: Label
    lines: tuple[str, ...]
    at: Point
    turn_deg: float
    size: float
    bold: int = 0

    @property
    def rect(self) -> Rect:
        """Return the upright rectangle round it."""
        return _rect(self.at, _width(self.lines, self.size, self.bold), _height(self.lines, self.size), self.turn_deg)


class Placer:
    """Places labels one after another, and keeps the key of those that left a number."""

    def __init__(self, taken: Taken, scale: float) -> None:
        self.taken = taken
        self.scale = scale
        self.key: list[tuple[str, str]] = []
        self._letters = 0

    def place(self, label: Label, at: Point) -> Placed | None:
        """Return where a label goes; None when it may be dropped and there is no room."""
        size = TEXT[label.size]
        wide, high = label.width_mm * self.scale, label.height_mm * self.scale
        turn = -label.turn_deg
        text = clean(label.text)
        if label.size == "sign":
            return self._keep(Placed(label, (text,), at, 0.0, size))
        for placed in self._candidates(label, text, at, wide, high, turn, size):
            if self.taken.overlap(placed.rect) <= 0:
                return self._keep(placed)
        if label.may_drop or label.size == "note":
            return None
        tag = label.tag or self._letter()
        self.key.append((tag, text))
        short = Placed(label, (tag,), at, 0.0, TEXT["thing"], int(label.size == "room"))
        options = [Placed(label, (tag,), spot, 0.0, short.size, short.bold) for spot in self._spots(short, wide, high, turn)]
        return self._keep(min(options, key=lambda one: self.taken.overlap(one.rect)))

    def _keep(self, placed: Placed) -> Placed:
        x0, y0, x1, y1 = placed.rect
        self.taken.add((x0 - 1, y0 - 1, x1 + 1, y1 + 1))
        return placed

    def _letter(self) -> str:
        self._letters += 1
        number, letters = self._letters, ""
        while number:
            number, rest = divmod(number - 1, 26)
            letters = chr(97 + rest) + letters
        return letters

    def _candidates(
        self, label: Label, text: str, at: Point, wide: float, high: float, turn: float, size: float
    ) -> Iterator[Placed]:
        if label.size == "room":
            yield from self._room(label, text, at, wide)
            return
        along = broken(text, wide - 4, size)
        across = broken(text, high - 4, size)
        upright = turn - 90 if turn > -1e-6 else turn + 90
        upright = upright + 180 if upright <= -90 - 1e-6 else upright
        options: list[tuple[list[str], float]] = []
        if along and _height(along, size) <= high - 1:
            options.append((along, turn))
        if across and _height(across, size) <= wide - 1:
            options.append((across, upright))
        if len(options) == 2 and len(options[1][0]) < len(options[0][0]) - 1:
            options.reverse()
        for lines, direction in options:
            first = Placed(label, tuple(lines), at, direction, size)
            for spot in self._spots(first, wide, high, turn):
                yield Placed(label, tuple(lines), spot, direction, size)

    def _room(self, label: Label, text: str, at: Point, wide: float) -> Iterator[Placed]:
        size = TEXT["room"]
        name = broken(text, wide - 6, size, 3)
        if not name:
            return
        small = [line for line in label.detail if text_width(line, TEXT["note"]) <= wide]
        for lines in ((*name, *small), tuple(name)):
            for dx, dy in ((0.0, 0.0), (0.0, -26.0), (0.0, 26.0), (-40.0, 0.0), (40.0, 0.0), (0.0, -52.0), (0.0, 52.0)):
                yield Placed(label, lines, (at[0] + dx, at[1] + dy), 0.0, size, len(name))

    def _spots(self, placed: Placed, wide: float, high: float, turn: float) -> Iterable[Point]:
        """Return the middle of the label's room, then places off it that still lie inside."""
        x0, y0, x1, y1 = placed.rect
        turned = abs(math.sin(math.radians(turn))) > 0.5
        room_w, room_h = (high, wide) if turned else (wide, high)
        spare_x, spare_y = max(0.0, (room_w - (x1 - x0)) / 2 - 1), max(0.0, (room_h - (y1 - y0)) / 2 - 1)
        x, y = placed.at
        yield x, y
        for share in (0.5, 1.0):
            for ux, uy in ((-1, 0), (1, 0), (0, -1), (0, 1), (-1, -1), (1, 1), (-1, 1), (1, -1)):
                if (ux == 0 or spare_x > 1) and (uy == 0 or spare_y > 1):
                    yield x + ux * spare_x * share, y + uy * spare_y * share


def _width(lines: Iterable[str], size: float, bold: int = 0) -> float:
    widths = [
        text_width(line, size, True) if n < bold else text_width(line, TEXT["note"] if bold else size)
        for n, line in enumerate(lines)
    ]
    return max(widths, default=0.0)


def _height(lines: Iterable[str], size: float) -> float:
    return size * 1.15 * len(tuple(lines))


def _rect(at: Point, wide: float, high: float, turn_deg: float) -> Rect:
    c, s = abs(math.cos(math.radians(turn_deg))), abs(math.sin(math.radians(turn_deg)))
    w, h = (wide * c + high * s) / 2, (wide * s + high * c) / 2
    return at[0] - w, at[1] - h, at[0] + w, at[1] + h
