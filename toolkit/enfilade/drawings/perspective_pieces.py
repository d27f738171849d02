"""What things are made of in three dimensions: tables of a top and legs, chairs of a seat and a back.

Nothing reaches beyond a thing's recorded width, depth and heights, save taps and the cords of hanging lamps. How thick
a leg or how wide an arm is drawn is our own choice: it makes the thing be recognised, and is no measure.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.geometry.boxes import Box
from enfilade.geometry.points import Point
from enfilade.geometry.solid import Prism
from enfilade.project.furnishings import Fixture, Furniture
from enfilade.project.placing import Free
from enfilade.project.standing import Stand
from enfilade.project.storage import Storage
from enfilade.project.surfaces import Seat, Surface, Table
from enfilade.project.thing import Thing

__all__ = ["Piece", "pieces"]

_TOE_MM: Final = (101.6, 76.2)
"""Height and depth of the toe space under a cabinet: 4 in and 3 in (common practice, no source)."""
_TOP_MM: Final = 38.0
_SEAT_MM: Final = 450.0
_ROUND: Final = 20
"""Sides of a round body."""


@dataclass(frozen=True)
class Piece:
    """One upright body of a thing.

    Attributes:
        prism: Its shape.
        role: What it is of the thing: `body`, `front` (it bears doors and drawers), `top`, `leg`, `seat`, `back` ...
        blocks: It hides what is behind it; thin legs do not.
        smooth: Its sides are facets of one round face.
        lids: Its top and underside show too.
    """

    prism: Prism
    role: str = "body"
    blocks: bool = True
    smooth: bool = False
    lids: bool = True


class _Maker:
    """Cuts pieces out of a thing's box. u runs to the right and v to the back, both from the middle [mm]."""

    def __init__(self, stand: Stand) -> None:
        self.id, self.box = stand.thing.id, stand.box
        self.w, self.d = stand.box.width_mm / 2, stand.box.depth_mm / 2
        self.low, self.top = stand.thing.bottom_mm, stand.thing.top_mm
        self.high = self.top - self.low

    def block(
        self, u0: float, u1: float, v0: float, v1: float, low: float, high: float, role: str = "body", **more: bool
    ) -> Iterator[Piece]:
        if u1 > u0 and v1 > v0 and high > low:
            ring = tuple(self.box.at(u, v) for u, v in ((u0, v0), (u1, v0), (u1, v1), (u0, v1)))
            yield Piece(Prism(self.id, ring, low, high), role, **more)

    def whole(self, low: float, high: float, role: str = "body", inset: float = 0.0) -> Iterator[Piece]:
        yield from self.block(inset - self.w, self.w - inset, inset - self.d, self.d - inset, low, high, role)

    def round(self, low: float, high: float, role: str = "body", share: float = 1.0, **more: bool) -> Iterator[Piece]:
        if high > low:
            ring = _ring(Box(self.box.x, self.box.y, 2 * self.w * share, 2 * self.d * share, self.box.turn_deg))
            yield Piece(Prism(self.id, ring, low, high), role, smooth=True, **more)

    def legs(self, low: float, high: float, thick: float, inset: float = 0.0) -> Iterator[Piece]:
        w, d = self.w - inset, self.d - inset
        for u in (-w, w - thick):
            for v in (-d, d - thick):
                yield from self.block(u, u + thick, v, v + thick, low, high, "leg", blocks=False, lids=False)


def _ring(box: Box, sides: int = _ROUND) -> tuple[Point, ...]:
    turns = [2 * math.pi * (n + 0.5) / sides for n in range(sides)]
    return tuple(box.at(box.width_mm / 2 * math.cos(t), box.depth_mm / 2 * math.sin(t)) for t in turns)


def pieces(stand: Stand, ceiling_mm: float = 0.0, carried_by: Sequence[Box] = ()) -> tuple[Piece, ...]:
    """Return the upright bodies that a thing is made of.

    Args:
        stand: The thing and its footprint.
        ceiling_mm: Height of the ceiling, to which the cord of a hanging lamp reaches.
        carried_by: Footprints of what stands on the floor under a top: it needs no legs there.
    """
    thing, make = stand.thing, _Maker(stand)
    if isinstance(thing, Surface):
        found = list(_surface(thing, make, carried_by))
    elif thing.kind == "light":
        # What is held by a wall or by another thing hangs from no ceiling.
        found = list(_light(make, ceiling_mm if isinstance(thing.place, Free) else 0.0))
    else:
        found = list(_MAKERS.get(thing.kind, _box)(thing, make))
    return tuple(found) or (Piece(Prism(thing.id, stand.box.corners, thing.bottom_mm, thing.top_mm)),)


def _box(thing: Thing, make: _Maker) -> Iterator[Piece]:
    yield from make.whole(make.low, make.top, "front")


def _surface(thing: Surface, make: _Maker, carried_by: Sequence[Box]) -> Iterator[Piece]:
    thick = min(make.high, thing.thickness_mm or _TOP_MM)
    under = make.top - thick if make.low < 1 else make.low
    if isinstance(thing, Table) and thing.round:
        yield from make.round(under, make.top, "top")
        if not carried_by:
            yield from make.round(20.0, under, "leg", 0.12, lids=False)
            yield from make.round(0.0, 20.0, "body", 0.5)
        return
    yield from make.whole(under, make.top, "top")
    if thing.kind in ("table", "desk"):
        for leg in make.legs(0.0, under, 60.0, 40.0):
            if not any(box.holds(leg.prism.footprint[0], 20.0) for box in carried_by):
                yield leg
    elif make.low < 1:
        o = thing.overhang
        u0, u1 = max(0.0, o.left_mm) - make.w, make.w - max(0.0, o.right_mm)
        v0, v1 = max(0.0, o.front_mm) - make.d, make.d - max(0.0, o.back_mm)
        yield from make.block(u0, u1, v0, v1, 0.0, under, "front")


def _light(make: _Maker, ceiling_mm: float) -> Iterator[Piece]:
    long, short = max(make.w, make.d), min(make.w, make.d)
    shade = make.round if long < 2 * short else make.whole
    hangs = ceiling_mm - make.top
    if make.low < 1 or (make.low < 1250 and make.high > 1.2 * 2 * short):  # On the floor, or a table.
        foot, head = make.low + 20, make.top - min(0.4 * make.high, 1.1 * make.w * 2)
        yield from make.round(make.low, foot, "body", 0.6)
        yield from make.block(-8.0, 8.0, -8.0, 8.0, foot, head, "leg", blocks=False, lids=False)
        yield from make.round(head, make.top, "shade")
        return
    yield from shade(make.low, make.top, "shade")
    if 20 < hangs < 2500 and long > 90 and make.low > 1250:
        spread = 0.0 if long < 2 * short else 0.6 * long
        for at in {spread, -spread}:
            u, v = (at, 0.0) if make.w >= make.d else (0.0, at)
            yield from make.block(u - 4, u + 4, v - 4, v + 4, make.top, ceiling_mm, "cord", blocks=False, lids=False)


def _seat(thing: Thing, make: _Maker) -> Iterator[Piece]:
    what = thing.what if isinstance(thing, Seat) else "chair"
    if what == "bench":
        if thing.leaves:
            yield from make.whole(make.low, make.top, "front")
            return
        yield from make.whole(make.top - 45, make.top, "seat")
        for u in (-make.w + 60, make.w - 100):
            yield from make.block(u, u + 40, -make.d + 30, make.d - 30, make.low, make.top - 45, "leg", lids=False)
    elif what == "sofa" or (what == "armchair" and make.w > 325):
        yield from _upholstered(make)
    else:
        yield from _chair(make, arms=what == "armchair", stool=what == "stool")


def _upholstered(make: _Maker) -> Iterator[Piece]:
    arm, back = min(160.0, make.w * 0.22), make.d * 0.44
    seat, side = make.low + 0.52 * make.high, make.low + 0.76 * make.high
    foot = make.low + min(70.0, 0.1 * make.high)
    yield from make.block(-make.w + arm, make.w - arm, -make.d + 20, make.d - back, foot, seat, "seat")
    yield from make.block(-make.w + arm, make.w - arm, make.d - back, make.d, foot, make.top, "back")
    for u in (-make.w, make.w - arm):
        yield from make.block(u, u + arm, -make.d, make.d, foot, side, "arm")
    yield from make.legs(make.low, foot, 40.0, 30.0)


def _chair(make: _Maker, *, arms: bool, stool: bool) -> Iterator[Piece]:
    seat = make.top if (stool and make.top < 800) or make.high < 500 else make.low + (650.0 if stool else _SEAT_MM)
    seat = min(seat, make.top)
    thick, leg = 35.0, 34.0
    yield from make.whole(seat - thick, seat, "seat")
    yield from make.legs(make.low, seat - thick, leg, 15.0)
    if stool and seat > 550:
        for u in (-make.w + 20, make.w - 44):
            yield from make.block(u, u + 24, -make.d + 40, make.d - 40, 230.0, 254.0, "leg", blocks=False, lids=False)
        for v in (-make.d + 20, make.d - 44):
            yield from make.block(-make.w + 40, make.w - 40, v, v + 24, 230.0, 254.0, "leg", blocks=False)
    if make.top - seat < 100:
        return
    post, rail = seat, make.top - 0.58 * (make.top - seat)
    for u in (-make.w + 10, make.w - 44):
        yield from make.block(u, u + 34, make.d - 34, make.d, post, rail, "leg", blocks=False, lids=False)
    yield from make.block(-make.w + 10, make.w - 10, make.d - 34, make.d, rail, make.top, "back")
    if arms:
        rest = seat + min(210.0, 0.55 * (make.top - seat))
        for u in (-make.w, make.w - 40):
            yield from make.block(u, u + 40, -make.d + 90, make.d - 34, rest - 30, rest, "arm", blocks=False)
            yield from make.block(u + 3, u + 37, -make.d + 90, -make.d + 124, seat, rest - 30, "leg", blocks=False)


def _bed(thing: Thing, make: _Maker) -> Iterator[Piece]:
    pillow = min(110.0, 0.25 * make.high)
    top = make.top - pillow
    frame = make.low + 0.45 * (top - make.low)
    yield from make.whole(make.low + 60, frame, "body", 25.0)
    yield from make.whole(frame, top, "mattress")
    yield from make.legs(make.low, make.low + 60, 60.0, 40.0)
    count = 2 if make.w > 650 else 1
    width = 2 * make.w / count
    for n in range(count):
        left = -make.w + n * width
        yield from make.block(
            left + 60, left + width - 60, make.d - 60 - min(480.0, make.d), make.d - 60, top, make.top, "pillow"
        )


def _cabinet(thing: Thing, make: _Maker) -> Iterator[Piece]:
    toe, deep = _TOE_MM
    if make.low > 1 or make.high < 4 * toe or 2 * make.d < 3 * deep:
        yield from make.whole(make.low, make.top, "front")
        return
    yield from make.block(-make.w, make.w, -make.d + deep, make.d, 0.0, toe, "toe")
    yield from make.whole(toe, make.top, "front")


def _shelves(thing: Thing, make: _Maker) -> Iterator[Piece]:
    count = max(1, min(12, (thing.shelves if isinstance(thing, Storage) else None) or 1))
    board = min(25.0, make.high)
    sides = make.high > 500 or make.low < 300
    if sides:
        for u in (-make.w, make.w - board):
            yield from make.block(u, u + board, -make.d, make.d, make.low, make.top, "side")
    reach = make.w - (board if sides else 0.0)
    heights = [make.low + (make.high - board) * n / max(count, 1) for n in range(count + (1 if sides else 0))]
    if isinstance(thing, Storage) and thing.shelf_heights_mm:
        heights = [h for h in thing.shelf_heights_mm[:12] if make.low <= h <= make.top - board] or heights
    for height in heights:
        yield from make.block(-reach, reach, -make.d, make.d, height, height + board, "shelf")


def _hood(thing: Thing, make: _Maker) -> Iterator[Piece]:
    lip = min(90.0, make.high)
    yield from make.whole(make.low, make.low + lip, "body")
    if make.high > 2 * lip:
        side = min(160.0, 0.6 * make.w)
        yield from make.block(-side, side, make.d - min(320.0, 1.6 * make.d), make.d, make.low + lip, make.top, "body")


def _sink(thing: Thing, make: _Maker) -> Iterator[Piece]:
    yield from make.whole(make.low, make.top, "basin")
    v = make.d + 12
    yield from make.block(-11.0, 11.0, v, v + 22, make.top, make.top + 290, "tap", blocks=False)
    yield from make.block(-11.0, 11.0, v - 170, v, make.top + 268, make.top + 290, "tap", blocks=False)


def _fixture(thing: Thing, make: _Maker) -> Iterator[Piece]:
    what = thing.what if isinstance(thing, Fixture) else ""
    if what in ("toilet", "bidet"):
        rim = make.low + min(410.0, make.high)
        tank = min(200.0, 0.6 * make.d) if what == "toilet" and make.top > rim + 50 else 0.0
        deep = 2 * make.d - tank
        bowl = Box(*make.box.at(0.0, -tank / 2), 1.7 * make.w, deep, make.box.turn_deg)
        foot = Box(*make.box.at(0.0, -tank / 2), 1.1 * make.w, 0.6 * deep, make.box.turn_deg)
        yield Piece(Prism(make.id, _ring(foot), make.low, rim - 140), smooth=True, lids=False)
        yield Piece(Prism(make.id, _ring(bowl), rim - 140, rim), "bowl", smooth=True)
        yield from make.block(-0.5 * make.w, 0.5 * make.w, 0.0, make.d, make.low, rim - 1, "body")
        if tank:
            yield from make.block(-make.w, make.w, make.d - tank, make.d, rim - 30, make.top, "body")
    elif what == "shower":
        yield from make.whole(make.low, min(make.top, make.low + 60), "tray")
    elif what in ("tub", "basin", "laundry sink"):
        yield from make.whole(make.low, make.top, "basin")
    else:
        yield from make.whole(make.low, make.top, "front")


def _treatment(thing: Thing, make: _Maker) -> Iterator[Piece]:
    if make.low > 300 or make.high < 1200:  # A shade or blind, drawn up.
        yield from make.whole(make.top - min(max(0.13 * make.high, 90.0), make.high), make.top, "shade")
        return
    stack = min(340.0, 0.34 * make.w) if make.w > 300 else 2 * make.w
    for u in {-make.w, make.w - stack}:
        yield from make.block(u, u + stack, -make.d, make.d, make.low, make.top, "curtain")
    if make.w > 300:
        yield from make.block(-make.w, make.w, -12.0, 12.0, make.top - 24, make.top, "rod")


def _furniture(thing: Thing, make: _Maker) -> Iterator[Piece]:
    words = (thing.what if isinstance(thing, Furniture) else "").lower().split()
    if "table" in words and not thing.leaves and make.high < 900 and min(make.w, make.d) > 150 and "night" not in words:
        yield from make.whole(make.top - min(30.0, make.high), make.top, "top")
        yield from make.legs(make.low, make.top - 30, 45.0, 10.0)
    elif "piano" in words and make.high > 900:
        key = make.low + 0.55 * make.high
        yield from make.block(-make.w, make.w, -make.d + 0.5 * make.d, make.d, make.low, make.top, "body")
        yield from make.block(-make.w, make.w, -make.d, -0.5 * make.d, key, key + 110, "body")
        yield from make.block(-make.w, -make.w + 60, -make.d + 20, -0.5 * make.d, make.low, key, "leg", lids=False)
        yield from make.block(make.w - 60, make.w, -make.d + 20, -0.5 * make.d, make.low, key, "leg", lids=False)
    else:
        yield from make.whole(make.low, make.top, "front")


def _round_things(thing: Thing, make: _Maker) -> Iterator[Piece]:
    yield from make.round(make.low, make.top)


_MAKERS: Final[dict[str, Callable[[Thing, _Maker], Iterator[Piece]]]] = {
    "seat": _seat,
    "bed": _bed,
    "base cabinet": _cabinet,
    "tall cabinet": _cabinet,
    "dishwasher": _cabinet,
    "waste": _cabinet,
    "open shelf": _shelves,
    "hood": _hood,
    "sink": _sink,
    "fixture": _fixture,
    "window treatment": _treatment,
    "furniture": _furniture,
    "extinguisher": _round_things,
}
