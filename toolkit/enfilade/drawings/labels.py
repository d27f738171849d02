"""Words on the drawing: each finds room where nothing else is written, or leaves a tag and goes to the key."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from enfilade.drawings.crossed import Crossed
from enfilade.drawings.items import Label, Point
from enfilade.drawings.shapes import Frame
from enfilade.drawings.style import TEXT
from enfilade.drawings.writing import broken, clean, text_width

__all__ = ["Placed", "Placer", "Taken"]

_CELL: Final = 48.0
# A place later in the order is taken when it crosses this much less line for each place before it (own choice).
_LATE_PX: Final = 0.6
_STRUCK: Final = 0.9
_END_PX: Final = 5.0
# Most lines of a name; of what bears a number as well the key tells longer ones (own choice).
_LINES: Final = 3
_NUMBERED_LINES: Final = 2
_BESIDE_PX: Final = (6.0, 16.0, 28.0, 42.0)
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
        x0, y0, x1, y1 = rect
        total, seen = 0.0, set()
        for cell in self._around(rect):
            for other in self.cells.get(cell, ()):
                a0, a1, b0, b1 = other
                if a0 < x1 and b0 > x0 and a1 < y1 and b1 > y0 and other not in seen:
                    seen.add(other)
                    total += (min(x1, b0) - max(x0, a0)) * (min(y1, b1) - max(y0, a1))
        return total


@dataclass(frozen=True, slots=True)
class Placed:
    """Lines of text about a middle [px], turned clockwise [deg]; `bold` lines come first.

    A tag that stands beside its thing has a `leader`: from a place on the thing to the tag.
    """

    label: Label
    lines: tuple[str, ...]
    at: Point
    turn_deg: float
    size: float
    bold: int = 0
    leader: tuple[Point, Point] | None = None

    @property
    def rect(self) -> Rect:
        """Return the upright rectangle round it."""
        return _rect(self.at, _width(self.lines, self.size, self.bold), _height(self.lines, self.size), self.turn_deg)


class Placer:
    """Places labels one after another, and keeps the key of those that bear a number or left a letter.

    Without a key, a label that finds no room leaves its own tag where that covers nothing, or nothing at all.

    Args:
        taken: What is written on already.
        drawn: Where things are drawn, which names of rooms leave free.
        crossed: Lines, which words cross as little as they can.
        grounds: Outlines within which a tag may stand beside its thing [mm].
        keyed: There is a key.
    """

    def __init__(
        self,
        taken: Taken,
        drawn: Taken,
        crossed: Crossed,
        grounds: Sequence[Sequence[Point]],
        frame: Frame,
        *,
        keyed: bool = True,
    ) -> None:
        self.keyed = keyed
        self.grounds = [[frame(point) for point in ring] for ring in grounds]
        self.taken = taken
        self.drawn = drawn
        self.crossed = crossed
        self.frame = frame
        self.scale = frame.scale
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
        if label.inside and (room := self._in_room(label, text, at)):
            return self._keep(room)
        if (
            not (label.keyed and label.tag and self.keyed)
            and (name := self._clearest(self._candidates(label, text, at, wide, high, turn, size)))
            and not (label.tag and self.keyed and self._struck(name))
        ):
            if label.tag:
                self._tell(label.tag, text)
            return self._keep(name)
        if label.may_drop or label.size == "note":
            return None
        if not self.keyed and not label.tag:
            return None
        tag = label.tag or self._letter()
        self._tell(tag, text)
        short = Placed(label, (tag,), at, 0.0, TEXT["thing"], int(label.size == "room"))
        options = [replace(short, at=spot) for spot in self._spots(short, wide, high, turn)]
        best = self._clearest(options)
        if self.keyed and (best is None or self._struck(best)):
            beside = self._clearest(self._beside(short, wide, high, turn))
            best = best if beside is None or (best and not self._less(beside, best)) else beside
        if best is None and self.keyed:
            best = min(options, key=lambda option: self.taken.overlap(option.rect))
        return self._keep(best) if best else None

    def _tell(self, tag: str, text: str) -> None:
        """Tell in the key what a tag stands for."""
        self.key.append((tag, text.removeprefix(tag).strip() or text))

    def _beside(self, short: Placed, wide: float, high: float, turn: float) -> Iterator[Placed]:
        """Yield places round the room of a tag, nearest first, each with a leader from its near edge."""
        (x, y), (x0, y0, x1, y1) = short.at, _rect(short.at, wide, high, turn)
        w, h = _width(short.lines, short.size, short.bold) / 2, _height(short.lines, short.size) / 2
        for off in _BESIDE_PX:
            for su, sv in ((0, 1), (0, -1), (1, 0), (-1, 0), (1, 1), (-1, 1), (1, -1), (-1, -1)):
                spot = (x + su * ((x1 - x0) / 2 + w + off), y + sv * ((y1 - y0) / 2 + h + off))
                end = (spot[0] - su * (w + 2), spot[1] - sv * (h + 1))
                dot = (x + su * max(0.0, (x1 - x0) / 2 - 7), y + sv * max(0.0, (y1 - y0) / 2 - 7))
                one = replace(short, at=spot, leader=(dot, end))
                if any(_within(ring, one.rect) for ring in self.grounds):
                    yield one

    def _struck(self, name: Placed) -> bool:
        """Tell whether about as much line lies under a name as it is long, as where one runs along it."""
        return self.crossed.within(name.rect) > _STRUCK * _width(name.lines, name.size, name.bold)

    def _less(self, one: Placed, other: Placed) -> bool:
        """Tell whether one place lies across less line than half of what another does."""
        return self.crossed.within(one.rect) < self.crossed.within(other.rect) / 2

    def _clearest(self, options: Iterable[Placed]) -> Placed | None:
        """Return the place that covers no words and the fewest lines, early ones before late; None without any."""
        best: tuple[float, Placed] | None = None
        for number, option in enumerate(options):
            if self.taken.overlap(option.rect) > 0:
                continue
            over = self.crossed.within(option.rect)
            cost = over + _LATE_PX * number
            if best is None or cost < best[0]:
                best = (cost, option)
            if over <= 0:
                break
        return best[1] if best else None

    def _keep(self, placed: Placed) -> Placed:
        x0, y0, x1, y1 = placed.rect
        # Names at the end of each other would read as one.
        dx, dy = (_END_PX, 1.0) if abs(placed.turn_deg) < 45 else (1.0, _END_PX)
        self.taken.add((x0 - dx, y0 - dy, x1 + dx, y1 + dy))
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
        if label.inside:
            return
        most = _NUMBERED_LINES if label.tag else _LINES
        along = broken(text, wide - 4, size, most)
        across = broken(text, high - 4, size, most)
        upright = turn - 90 if turn > -1e-6 else turn + 90
        upright = upright + 180 if upright <= -90 - 1e-6 else upright
        options: list[tuple[list[str], float]] = []
        if along and _height(along, size) <= high - 1:
            options.append((along, turn))
        if across and not label.upright and _height(across, size) <= wide - 1:
            options.append((across, upright))
        if len(options) == 2 and len(options[1][0]) < len(options[0][0]) - 1:
            options.reverse()
        for lines, direction in options:
            first = Placed(label, tuple(lines), at, direction, size)
            for spot in self._spots(first, wide, high, turn):
                yield Placed(label, tuple(lines), spot, direction, size)

    def _in_room(self, label: Label, text: str, at: Point) -> Placed | None:
        """Return a name with its details where nothing is drawn, else alone, else where least is; None without room."""
        ring = [self.frame(point) for point in label.inside]
        x0, x1 = min(x for x, _ in ring), max(x for x, _ in ring)
        y0, y1 = min(y for _, y in ring), max(y for _, y in ring)
        size, detail = TEXT["room"], tuple(clean(line) for line in label.detail)
        forms: list[tuple[tuple[str, ...], int]] = []
        for width in (x1 - x0, (x1 - x0) / 2):
            if name := broken(text, width - 8, size):
                forms += [((*name, *detail), len(name)), (tuple(name), len(name))]
        spots = [(x0 + (x1 - x0) * i / 16, y0 + (y1 - y0) * j / 16) for i in range(1, 16) for j in range(1, 16)]
        spots = sorted([at, *spots], key=lambda spot: math.dist(spot, at))
        best: tuple[float, Placed] | None = None
        for lines, bold in dict.fromkeys(forms):
            for spot in spots:
                placed = Placed(label, lines, spot, 0.0, size, bold)
                if not _within(ring, placed.rect) or self.taken.overlap(placed.rect) > 0:
                    continue
                over = self.drawn.overlap(placed.rect)
                if over <= 0:
                    return placed
                if len(lines) == bold and (best is None or over < best[0]):
                    best = (over, placed)
        return best[1] if best and best[0] < 0.12 * _area(best[1].rect) else None

    def _spots(self, placed: Placed, wide: float, high: float, turn: float) -> Iterable[Point]:
        """Return the middle of the label's room, then places off it that still lie inside."""
        lean = math.radians(placed.turn_deg - turn)
        c, s = abs(math.cos(lean)), abs(math.sin(lean))
        w, h = _width(placed.lines, placed.size, placed.bold), _height(placed.lines, placed.size)
        spare_u, spare_v = max(0.0, (wide - w * c - h * s) / 2 - 1), max(0.0, (high - w * s - h * c) / 2 - 1)
        x, y = placed.at
        yield x, y
        ux, uy = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        for share in (0.35, 0.7, 1.0):
            for pu, pv in ((-1, 0), (1, 0), (0, -1), (0, 1), (-1, -1), (1, 1), (-1, 1), (1, -1)):
                if (pu == 0 or spare_u > 1) and (pv == 0 or spare_v > 1):
                    du, dv = pu * spare_u * share, pv * spare_v * share
                    yield x + ux * du - uy * dv, y + uy * du + ux * dv


def _within(ring: Sequence[Point], rect: Rect) -> bool:
    """Tell whether a rectangle lies in an outline: its corners and the middles of its long sides do."""
    x0, y0, x1, y1 = rect
    spots = ((x0, y0), (x1, y0), (x1, y1), (x0, y1), ((x0 + x1) / 2, y0), ((x0 + x1) / 2, y1))
    return all(_covers(ring, x, y) for x, y in spots)


def _covers(ring: Sequence[Point], x: float, y: float) -> bool:
    inside = False
    for (ax, ay), (bx, by) in zip(ring, [*ring[1:], *ring[:1]], strict=True):
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            inside = not inside
    return inside


def _area(rect: Rect) -> float:
    return (rect[2] - rect[0]) * (rect[3] - rect[1])


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
