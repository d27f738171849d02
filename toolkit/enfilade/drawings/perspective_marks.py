"""What is drawn on the faces of things: doors and drawers, bowls of sinks, burners, the glass of ovens."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

from enfilade.drawings.fronts import Shown, front_items
from enfilade.drawings.items import Circle, Line, Polygon
from enfilade.geometry.camera import Vector
from enfilade.geometry.elevations import WallShape
from enfilade.project.appliances import Cooking, Sink
from enfilade.project.furnishings import Furniture
from enfilade.project.standing import Stand
from enfilade.project.storage import Storage
from enfilade.project.thing import Thing

__all__ = ["Mark", "Sheet", "Tone", "front_marks", "glazing_marks", "leaf_marks", "lid_marks", "side_marks"]

Tone = Literal["", "dark", "glass", "inside"]
"""What a mark is filled with: nothing, a dark surface, glass, or the face's own colour."""

Spot = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Mark:
    """A line or a patch in or behind a face; it shows where the face shows.

    Attributes:
        points: In order; of a patch, its ring [mm].
        closed: The last point joins the first.
        tone: What it is filled with.
        drawn: It is drawn as a line.
        within: Ring through which it is seen, for what lies behind the face.
        facing: Direction in which a patch behind the face is turned; it shows to an eye on that side.
    """

    points: tuple[Vector, ...]
    closed: bool = True
    tone: Tone = ""
    drawn: bool = True
    within: tuple[Vector, ...] = ()
    facing: Vector | None = None


@dataclass(frozen=True)
class Sheet:
    """A flat face to draw on: x to the right, y up (or to the back, on a top), both from its lower left corner [mm].

    Attributes:
        origin: Where x and y are 0.
        along, up, out: Unit vectors of x and y, and towards the side that shows.
        width_mm, height_mm: Its size.
    """

    origin: Vector
    along: Vector
    up: Vector
    out: Vector
    width_mm: float
    height_mm: float

    def at(self, x: float, y: float, behind_mm: float = 0.0) -> Vector:
        """Return a point on the face, or so far behind it."""
        (ox, oy, oz), (ax, ay, az), (ux, uy, uz), (nx, ny, nz) = self.origin, self.along, self.up, self.out
        d = -behind_mm
        return (ox + ax * x + ux * y + nx * d, oy + ay * x + uy * y + ny * d, oz + az * x + uz * y + nz * d)

    def line(self, *spots: Spot) -> Mark:
        return Mark(tuple(self.at(*spot) for spot in spots), closed=False)

    def rectangle(self, x0: float, y0: float, x1: float, y1: float, tone: Tone = "", drawn: bool = True) -> Mark:
        return Mark(tuple(self.at(*s) for s in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))), tone=tone, drawn=drawn)

    def circle(self, x: float, y: float, radius: float, tone: Tone = "", points: int = 18) -> Mark:
        turns = [2 * math.pi * n / points for n in range(points)]
        return Mark(tuple(self.at(x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns), tone=tone)

    def recess(
        self, x0: float, y0: float, x1: float, y1: float, deep_mm: float, tone: Tone = "inside"
    ) -> Iterator[Mark]:
        """Yield the inner faces of a hollow that is `deep_mm` deep."""
        front = [self.at(*spot) for spot in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
        back = [self.at(*spot, deep_mm) for spot in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
        mouth = tuple(front)
        inwards = (self.up, _opposite(self.along), _opposite(self.up), self.along)
        yield Mark(tuple(back), tone=tone, within=mouth, facing=self.out)
        for n, facing in enumerate(inwards):
            m = (n + 1) % 4
            yield Mark((front[n], front[m], back[m], back[n]), tone=tone, within=mouth, facing=facing)


def _opposite(v: Vector) -> Vector:
    return (-v[0], -v[1], -v[2])


def front_marks(stand: Stand, sheet: Sheet, low_mm: float) -> Iterator[Mark]:
    """Yield what is drawn on a thing's front.

    Args:
        stand: The thing.
        sheet: Its front face.
        low_mm: Height of the face's lower edge above the floor; doors and drawers are recorded from the floor [mm].
    """
    thing = stand.thing
    yield from _FRONTS.get(thing.kind, _doors)(stand, sheet, low_mm)


def _doors(stand: Stand, sheet: Sheet, low_mm: float) -> Iterator[Mark]:
    thing = stand.thing
    shape = WallShape(0.0, sheet.width_mm, thing.bottom_mm, thing.top_mm, 0.0, "front")
    leaf: tuple[Spot, ...] = ()
    for item in front_items(Shown(stand, shape, 0.0), "", None):
        if item.role != "symbol":
            continue
        if isinstance(item, Polygon):
            leaf = _inside(item.points, sheet, low_mm)
            yield Mark(tuple(sheet.at(*spot) for spot in leaf))
        elif isinstance(item, Line):
            spots = _inside(item.points, sheet, low_mm)
            # On an elevation dashed lines meet at the hinge; here a handle stands on the other side.
            yield _handle(sheet, spots, low_mm) if item.weight == "hidden" and len(spots) == 3 else sheet.line(*spots)
        elif isinstance(item, Circle):
            yield sheet.circle(item.centre[0], item.centre[1] - low_mm, item.radius_mm, points=8)
    if isinstance(thing, Storage) and not thing.leaves and thing.kind == "furniture piece" and thing.shelves:
        yield from _compartments(thing, stand, sheet)


def _inside(points: Sequence[Spot], sheet: Sheet, low_mm: float) -> tuple[Spot, ...]:
    return tuple((min(max(x, 0.0), sheet.width_mm), min(max(y - low_mm, 0.0), sheet.height_mm)) for x, y in points)


def _handle(sheet: Sheet, spots: tuple[Spot, ...], low_mm: float) -> Mark:
    (x0, y0), (x1, y1), (x2, y2) = spots
    long, off = 70.0, 45.0
    if abs(x0 - x2) < 1:  # Hung at a side.
        x = x0 + (off if x1 > x0 else -off)
        low, high = min(y0, y2), max(y0, y2)
        long = min(long, (high - low) / 3)
        over = low_mm + low > 1000  # A wall cabinet is opened from below.
        y = low + off if over else high - off - long
        if high - low > 1200:
            y = min(max(1050.0 - low_mm, low + off), high - off - long)
        return sheet.line((x, y), (x, y + long))
    y = y0 + (-off if y0 > y1 else off)
    wide = min(long, abs(x2 - x0) / 3)
    return sheet.line((x1 - wide, y), (x1 + wide, y))


def _compartments(thing: Storage, stand: Stand, sheet: Sheet) -> Iterator[Mark]:
    rows = min(thing.shelves or 1, 10)
    board = 25.0
    columns = max(1, round(sheet.width_mm / 900))
    foot = 70.0 if sheet.height_mm > 1000 else board
    high = (sheet.height_mm - foot - board) / rows
    wide = (sheet.width_mm - board) / columns
    for row in range(rows):
        for column in range(columns):
            x, y = board + wide * column, foot + high * row
            yield from sheet.recess(x, y, x + wide - board, y + high - board, stand.box.depth_mm - board)


def _oven(stand: Stand, sheet: Sheet, low_mm: float) -> Iterator[Mark]:
    w, h = sheet.width_mm, sheet.height_mm
    strip = min(110.0, 0.18 * h)
    yield from _oven_door(sheet, 12.0, 12.0, w - 12, h - strip)
    yield sheet.line((12.0, h - strip), (w - 12, h - strip))
    yield sheet.rectangle(w * 0.38, h - strip * 0.75, w * 0.62, h - strip * 0.3, "dark")


def _oven_door(sheet: Sheet, x0: float, y0: float, x1: float, y1: float) -> Iterator[Mark]:
    w, h = x1 - x0, y1 - y0
    yield sheet.rectangle(x0, y0, x1, y1)
    yield sheet.rectangle(x0 + 0.14 * w, y0 + 0.18 * h, x1 - 0.14 * w, y1 - 0.28 * h, "dark")
    yield sheet.line((x0 + 0.1 * w, y1 - 0.12 * h), (x1 - 0.1 * w, y1 - 0.12 * h))


def _microwave(stand: Stand, sheet: Sheet, low_mm: float) -> Iterator[Mark]:
    w, h = sheet.width_mm, sheet.height_mm
    yield sheet.line((0.76 * w, 0.0), (0.76 * w, h))
    yield sheet.rectangle(0.09 * w, 0.16 * h, 0.66 * w, 0.84 * h, "dark")
    yield sheet.rectangle(0.81 * w, 0.66 * h, 0.95 * w, 0.84 * h, "dark")


def _range(stand: Stand, sheet: Sheet, low_mm: float) -> Iterator[Mark]:
    w, h = sheet.width_mm, sheet.height_mm
    panel, drawer = h - min(120.0, 0.14 * h), min(150.0, 0.18 * h)
    yield sheet.line((0.0, panel), (w, panel))
    yield from _oven_door(sheet, 15.0, drawer + 12, w - 15, panel - 10)
    yield sheet.rectangle(15.0, 60.0, w - 15, drawer)
    count = max(4, min(6, round(w / 160)))
    for n in range(count):
        yield sheet.circle(w * (n + 0.7) / (count + 0.4), (panel + h) / 2, 19.0, points=10)


def _refrigerator(stand: Stand, sheet: Sheet, low_mm: float) -> Iterator[Mark]:
    yield sheet.line((0.0, 60.0), (sheet.width_mm, 60.0))
    yield from _doors(stand, sheet, low_mm)


def _fireplace(stand: Stand, sheet: Sheet, low_mm: float) -> Iterator[Mark]:
    w = min(0.56 * sheet.width_mm, 1000.0)
    h = min(0.62 * sheet.height_mm, 0.78 * w)
    x, hearth = (sheet.width_mm - w) / 2, min(60.0, 0.08 * sheet.height_mm)
    yield sheet.line((0.0, hearth), (sheet.width_mm, hearth))
    yield from sheet.recess(x, hearth, x + w, hearth + h, 0.75 * stand.box.depth_mm, "dark")
    if sheet.height_mm > 1600:
        shelf = hearth + h + 260
        yield sheet.rectangle(0.06 * sheet.width_mm, shelf, 0.94 * sheet.width_mm, shelf + 55)


def _screen(stand: Stand, sheet: Sheet, low_mm: float) -> Iterator[Mark]:
    edge = min(18.0, 0.04 * sheet.width_mm)
    yield sheet.rectangle(edge, edge, sheet.width_mm - edge, sheet.height_mm - edge, "dark")


def _furniture(stand: Stand, sheet: Sheet, low_mm: float) -> Iterator[Mark]:
    thing = stand.thing
    words = (thing.what if isinstance(thing, Furniture) else "").lower().split()
    w, h = sheet.width_mm, sheet.height_mm
    if "mirror" in words:
        edge = min(35.0, 0.06 * w)
        yield sheet.rectangle(edge, edge, w - edge, h - edge, "glass")
        for a, b in ((0.3, 0.62), (0.42, 0.7)):
            yield sheet.line((w * (a - 0.12), h * (a + 0.1)), (w * (b - 0.12), h * (b + 0.1)))
    elif "log" in words or "logs" in words:
        yield from sheet.recess(25.0, 25.0, w - 25, h - 25, 0.8 * stand.box.depth_mm, "dark")
    else:
        yield from _doors(stand, sheet, low_mm)


def _plain(stand: Stand, sheet: Sheet, low_mm: float) -> Iterator[Mark]:
    return iter(())


_FRONTS: Final[dict[str, Callable[[Stand, Sheet, float], Iterator[Mark]]]] = {
    "oven": _oven,
    "microwave": _microwave,
    "range": _range,
    "refrigerator": _refrigerator,
    "fireplace": _fireplace,
    "screen": _screen,
    "furniture": _furniture,
    "receptacle": _plain,
}


def lid_marks(thing: Thing, role: str, sheet: Sheet) -> Iterator[Mark]:
    """Yield what is drawn on the top of a piece: y of the sheet runs from the thing's front to its back."""
    w, d = sheet.width_mm, sheet.height_mm
    if role == "basin":
        count = thing.bowls if isinstance(thing, Sink) else 1
        rim = min(30.0, 0.08 * min(w, d))
        wide = (w - rim) / count
        recorded = thing.bowl_depth_mm if isinstance(thing, Sink) else None
        deep = recorded or 0.72 * (thing.top_mm - thing.bottom_mm)
        for n in range(count):
            x = rim + wide * n
            yield from sheet.recess(x, rim, x + wide - rim, d - rim, deep)
    elif isinstance(thing, Cooking):
        count = min(thing.burners or 4, 8)
        columns = (count + 1) // 2
        size = min(0.3 * d, 0.36 * w / columns, 115.0)
        spots = [(c, r) for c in range(columns) for r in (0, 1)][:count]
        for column, row in spots:
            x, y = w * (column + 0.5) / columns, d * (0.3 if row == 0 else 0.72)
            yield sheet.circle(x, y, size)
            yield sheet.circle(x, y, 0.45 * size, points=12)
    elif role == "bowl":
        yield sheet.circle(w / 2, d / 2, 0.36 * min(w, d))
    elif role == "mattress":
        for y in (0.62 * d, 0.68 * d):
            yield sheet.line((0.0, y), (w, y))


def side_marks(role: str, sheet: Sheet) -> Iterator[Mark]:
    """Yield what is drawn on the sides of a piece that has no front: folds of curtains, seams of cushions."""
    if role == "curtain":
        count = max(2, round(sheet.width_mm / 65))
        for n in range(1, count):
            yield sheet.line((sheet.width_mm * n / count, 0.0), (sheet.width_mm * n / count, sheet.height_mm))
    elif role in ("seat", "back") and sheet.width_mm > 1100:
        count = max(2, round(sheet.width_mm / 750))
        for n in range(1, count):
            yield sheet.line((sheet.width_mm * n / count, 0.0), (sheet.width_mm * n / count, sheet.height_mm))


def glazing_marks(sheet: Sheet, *, sliding: bool = False) -> Iterator[Mark]:
    """Yield frame and glass of a window, or of a glazed door that slides."""
    w, h = sheet.width_mm, sheet.height_mm
    edge = min(55.0, w / 8, h / 8)
    count = 2 if sliding or w > 1.15 * h or w > 1300 else 1
    wide = (w - edge) / count
    for n in range(count):
        x = edge + wide * n
        yield sheet.rectangle(x, edge, x + wide - edge, h - edge, "glass")


def leaf_marks(sheet: Sheet, *, glazed: bool = False, handle: Literal["left", "right"] = "right") -> Iterator[Mark]:
    """Yield the panels and the handle of a door leaf."""
    w, h = sheet.width_mm, sheet.height_mm
    edge, middle = min(120.0, w / 6), 0.42 * h
    for low, high in pairwise((0.0, middle, h)):
        top = high == h
        yield sheet.rectangle(edge, low + edge * (0.5 if top else 1.4), w - edge, high - edge * (1.0 if top else 0.5),
                              "glass" if glazed and top else "")  # fmt: skip
    x = w - 60 if handle == "right" else 60.0
    y = min(1000.0, 0.5 * h)
    yield sheet.line((x, y), (x + (-110 if handle == "right" else 110), y))
