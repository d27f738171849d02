"""Where strings, figures, words and marks of a scene stand on a sheet, before any renderer styles them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from enfilade.drawings.crossed import Crossed
from enfilade.drawings.items import Arc, Circle, Dimension, Label, Numbered, Point, Polygon, Scene
from enfilade.drawings.labels import Placer, Taken
from enfilade.drawings.shapes import Frame
from enfilade.drawings.strings import strung
from enfilade.drawings.style import INK, TEXT, VERDICT_COLOURS
from enfilade.drawings.wording import show_size
from enfilade.drawings.writing import text_width
from enfilade.findings import Verdict
from enfilade.lengths import System

__all__ = ["Laid", "Mark", "Measured", "extent", "fit_scale"]

# Where a mark may stand that finds its own place taken: so far from it, in these directions, the nearest first.
_AWAY_PX: Final = (30.0, 56.0, 84.0, 112.0, 144.0, 180.0)
_TURNS: Final = tuple(math.radians(turn) for turn in (-45, 45, 135, -135, 0, 180, -90, 90, -22, 22, 158, -158))


@dataclass(frozen=True, slots=True)
class Mark:
    """A numbered mark: the place that it tells of, and where it stands [px]."""

    item: Numbered
    verdict: Verdict
    place: Point
    at: Point


@dataclass(frozen=True, slots=True)
class Measured:
    """A measured line in the drawing itself, with the middle of its figure [px]."""

    item: Dimension
    a: Point
    b: Point
    text: str
    at: Point

    @property
    def bold(self) -> bool:
        """Tell whether it marks a finding."""
        return self.item.role == "finding" and self.item.verdict is not None

    @property
    def colour(self) -> str:
        """Return the colour of its verdict, or ink."""
        return VERDICT_COLOURS[self.item.verdict] if self.bold and self.item.verdict else INK


class Laid:
    """A scene laid out on a sheet: each thing that is written stands where it found room.

    Args:
        scene: What is drawn.
        frame: Where it stands on the sheet.
        system: Units of figures.
        sparse: Leave out figures and names that find no room, as something else tells them; else figures are written
            across their line, and names leave a letter for a key.
    """

    def __init__(self, scene: Scene, frame: Frame, system: System, *, sparse: bool = False) -> None:
        self.frame, self.system = frame, system
        self.taken = Taken()
        self.strings = strung(_strings(scene), frame, frame.scale, system, sparse=sparse)
        for one in self.strings:
            for figure in one.figures:
                self.taken.add(figure.rect)
        self.marks = tuple(self._marks(scene))
        self.measured = tuple(self._measured(scene))
        self._keep_clear(scene)
        outlines, lines = self._outlines(scene), self._lines(scene)
        placer = Placer(self.taken, outlines, lines, _grounds(scene), frame, keyed=not sparse)
        order = {"sign": 0, "room": 1, "thing": 2, "note": 3}
        labels = sorted((i for i in scene.items if isinstance(i, Label)), key=lambda i: (order[i.size], i.may_drop))
        self.labels = tuple(spot for label in labels if (spot := placer.place(label, frame(label.at))))
        self.key = placer.key

    def _keep_clear(self, scene: Scene) -> None:
        """Take the places of small signs, bowls and burners, so that no words are written over them."""
        for item in scene.items:
            if scene.kind == "plan" and item.role in ("symbol", "service") and isinstance(item, Polygon):
                xs, ys = zip(*map(self.frame, item.points), strict=True)
                self.taken.add((min(xs), min(ys), max(xs), max(ys)))
            small = item.role == "finding" or (item.role in ("service", "symbol") and scene.kind == "plan")
            if small and isinstance(item, Circle):
                (x, y), r = self.frame(item.centre), item.radius_mm * self.frame.scale
                self.taken.add((x - r, y - r, x + r, y + r))

    def _lines(self, scene: Scene) -> Crossed:
        """Return what words had better not be written across."""
        found = Crossed.of(scene.items, self.frame)
        for one in self.measured:
            found.add(one.a, one.b)
        return found

    def _outlines(self, scene: Scene) -> Taken:
        """Return where things and doors are drawn, which the name of a room had better leave free."""
        drawn = Taken()
        for item in scene.items:
            if item.role in ("thing", "counter", "furniture", "swing") and isinstance(item, Polygon | Arc):
                points = item.points if isinstance(item, Polygon) else (item.centre, item.start, item.end)
                xs, ys = zip(*map(self.frame, points), strict=True)
                drawn.add((min(xs), min(ys), max(xs), max(ys)))
        return drawn

    def _marks(self, scene: Scene) -> Iterator[Mark]:
        """Yield the numbered marks, moved off each other."""
        for item in scene.items:
            if not isinstance(item, Numbered) or item.verdict is None:
                continue
            x, y = self.frame(item.at)
            spots = [(x, y)] + [(x + r * math.cos(t), y + r * math.sin(t)) for r in _AWAY_PX for t in _TURNS]
            at = _freest(self.taken, spots)
            self.taken.add(_square(at))
            yield Mark(item, item.verdict, (x, y), at)

    def _measured(self, scene: Scene) -> Iterator[Measured]:
        """Yield measured lines that lie in the drawing itself, their figures off what is written already."""
        for item in scene.items:
            if not isinstance(item, Dimension) or item.tier > 0:
                continue
            a, b = self.frame(item.stops[0]), self.frame(item.stops[-1])
            if math.dist(a, b) < 1.0:
                continue
            text = show_size(item.total_mm, self.system)
            half = text_width(text, TEXT["dimension"], True) / 2 + 3
            spots = _beside(a, b, half)
            at = min(
                spots,
                key=lambda s: (
                    round(self.taken.overlap((s[0] - half, s[1] - 7, s[0] + half, s[1] + 7))),
                    spots.index(s),
                ),
            )
            self.taken.add((at[0] - half, at[1] - 7, at[0] + half, at[1] + 7))
            yield Measured(item, a, b, text, at)


def extent(scene: Scene, scale: float, system: System, *, sparse: bool = False) -> tuple[float, float, float, float]:
    """Return the least box on the sheet round the drawing and its strings, (0, 0) standing at (0, 0) [px].

    Args:
        scale: [px/mm].
        sparse: As for `Laid`.
    """
    frame = Frame(scale, 0.0, 0.0)
    x0, y0, x1, y1 = scene.bounds
    points: list[Point] = [frame((x0, y0)), frame((x1, y1))]
    for one in strung(_strings(scene), frame, scale, system, sparse=sparse):
        points += one.points
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def fit_scale(scene: Scene, room_w: float, room_h: float, system: System, *, sparse: bool = False) -> float:
    """Return the scale at which the drawing and its strings fill a room on the sheet [px/mm]."""
    x0, y0, x1, y1 = scene.bounds
    wide, high = max(x1 - x0, 1.0), max(y1 - y0, 1.0)
    scale = min(room_w / wide, room_h / high)
    for _ in range(3):
        a, b, c, d = extent(scene, scale, system, sparse=sparse)
        left_w, left_h = room_w - (c - a - wide * scale), room_h - (d - b - high * scale)
        scale = max(min(left_w / wide, left_h / high), 1e-4)
    a, _, c, _ = extent(scene, scale, system, sparse=sparse)
    return scale * min(1.0, room_w / (c - a)) if c > a else scale


def _grounds(scene: Scene) -> list[tuple[Point, ...]]:
    """Return the outlines of floors, or of the wall that is seen."""
    if scene.kind == "plan":
        return [item.points for item in scene.items if isinstance(item, Polygon) and item.role == "floor"]
    x0, y0, x1, y1 = scene.bounds
    return [((x0, y0), (x1, y0), (x1, y1), (x0, y1))]


def _strings(scene: Scene) -> list[Dimension]:
    return [item for item in scene.items if isinstance(item, Dimension) and item.tier > 0]


def _beside(a: Point, b: Point, half: float) -> list[Point]:
    """Return where the figure of a line may stand: on it, or beside it when it is short."""
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    needed = abs(ux) * half * 2 + abs(uy) * 14 + 16
    on = [(a[0] + (b[0] - a[0]) * s, a[1] + (b[1] - a[1]) * s) for s in (0.5, 0.3, 0.7, 0.2, 0.8)]
    mid, out = on[0], abs(uy) * half + abs(ux) * 8 + 4
    off = [(mid[0] - uy * out * k, mid[1] + ux * out * k) for k in (-1, 1, -1.8, 1.8)]
    return [*on, *off] if length >= needed else off


def _freest(taken: Taken, spots: Iterable[Point]) -> Point:
    """Return the first spot at which a mark covers nothing, or else the one where it covers least."""
    best, least = (0.0, 0.0), math.inf
    for spot in spots:
        covered = taken.overlap(_square(spot))
        if covered < least:
            best, least = spot, covered
        if covered < 1.0:
            break
    return best


def _square(at: Point) -> tuple[float, float, float, float]:
    return at[0] - 13, at[1] - 13, at[0] + 13, at[1] + 13
