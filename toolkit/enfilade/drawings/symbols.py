"""Things on the plan: outlines by what they are, and plain symbols drawn from lines and circles."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Any, Final

from enfilade.drawings.items import Arc, Circle, Item, Label, Line, Polygon, Role, Weight
from enfilade.drawings.part import is_upper
from enfilade.geometry.boxes import Box, Segment, ellipse
from enfilade.geometry.points import Point
from enfilade.project.appliances import Sink
from enfilade.project.furnishings import Fixture
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import Seat, SeatRow, Surface, Table

__all__ = ["SERVICES", "role_of", "thing_items"]

SERVICES: Final = ("receptacle", "switch", "light", "extinguisher")
_COUNTERS: Final = ("counter", "island", "peninsula")
_FURNITURE: Final = ("table", "desk", "seat", "rug", "bed", "furniture", "furniture piece", "screen")
_CHAIR_MM: Final = 430.0
"""Side of a chair or stool drawn at a row of seats (drafting habit, no source)."""


def role_of(stand: Stand, under: bool) -> Role:
    """Return what a thing is on the plan."""
    kind = stand.thing.kind
    if kind in SERVICES:
        return "service"
    if is_upper(stand.thing) or kind == "hood":
        return "upper"
    if under:
        return "under"
    return "counter" if kind in _COUNTERS else "furniture" if kind in _FURNITURE else "thing"


def thing_items(stand: Stand, role: Role, title: str, colour: str | None, *, seats: bool = True) -> Iterator[Item]:
    """Yield a thing's outline, which carries its title, and its symbol; chairs of its seat rows when `seats`."""
    if role == "service":
        yield from _service(stand, title)
        return
    thing, box = stand.thing, stand.box
    points: tuple[Point, ...] = box.corners
    if isinstance(thing, Table) and thing.round:
        points = tuple((x, y) for x, y in ellipse(box, 64).exterior.coords[:-1])
    if seats and isinstance(thing, Surface):
        yield from (item for row in thing.seating for item in _seats(thing, box, row))
    weight: Weight = "edge"
    if role in ("upper", "under") or thing.kind == "window treatment":
        weight = "hidden"
    elif thing.kind in ("rug", "filler"):
        weight = "dimension"
    elif thing.kind == "column":
        weight = "cut"
    yield Polygon(
        role=role,
        subject=thing.id,
        weight=weight,
        points=points,
        title=title,
        finish=colour,
        clear=role in ("upper", "under"),
        solid=thing.kind == "column",
    )
    if role not in ("upper", "under") and (symbol := _SYMBOLS.get(thing.kind)):
        yield from symbol(stand)


def _stroke(stand: Stand, *places: tuple[float, float], weight: Weight = "dimension") -> Line:
    return Line(role="symbol", subject=stand.id, weight=weight, points=tuple(stand.box.at(u, v) for u, v in places))


def _ring(stand: Stand, u: float, v: float, radius_mm: float, filled: bool = False) -> Circle:
    return Circle(
        role="symbol",
        subject=stand.id,
        weight="dimension",
        centre=stand.box.at(u, v),
        radius_mm=radius_mm,
        filled=filled,
    )


def _panel(
    stand: Stand, u: float, v: float, wide: float, deep: float, corner: float = 0.0, weight: Weight = "dimension"
) -> Polygon:
    """Return a rectangle about a place on a thing, its corners cut off or rounded when asked."""
    w, d = max(wide, 2.0) / 2, max(deep, 2.0) / 2
    r = min(corner, w, d)
    places: list[tuple[float, float]] = []
    for su, sv, turn in ((1, -1, -90), (1, 1, 0), (-1, 1, 90), (-1, -1, 180)):
        steps = (0,) if r == 0 else (0, 30, 60, 90)
        for step in steps:
            t = math.radians(turn + step)
            places.append((u + su * (w - r) + r * math.cos(t), v + sv * (d - r) + r * math.sin(t)))
    return Polygon(
        role="symbol", subject=stand.id, weight=weight, points=tuple(stand.box.at(a, b) for a, b in places), clear=True
    )


def _half(stand: Stand) -> tuple[float, float]:
    return stand.box.width_mm / 2, stand.box.depth_mm / 2


def _sink(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    bowls = stand.thing.bowls if isinstance(stand.thing, Sink) else 1
    rim = min(30.0, w / 6, d / 6)
    back = min(70.0, d / 3)  # the ledge with the faucet
    wide = (2 * w - rim * (bowls + 1)) / bowls
    for n in range(bowls):
        u = -w + rim + wide / 2 + n * (wide + rim)
        v = (rim - back) / 2
        yield _panel(stand, u, v, wide, 2 * d - rim - back, 60.0)
        yield _ring(stand, u, v, min(22.0, wide / 6))
    yield _stroke(stand, (0, d - back / 2), (0, d - back - min(150.0, d / 2)), weight="edge")
    yield _ring(stand, 0, d - back / 2, min(18.0, back / 3))


def _burners(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    count = getattr(stand.thing, "burners", None) or 4
    rows = 1 if count <= 2 else 2
    middle = count == 5
    columns = math.ceil((count - middle) / rows)
    reach_u, reach_v = 2 * w / columns, (2 * d - 60) / rows
    radius = max(min(reach_u, reach_v) / 2 - 25, 15.0)
    radius = min(radius, 120.0) * (0.78 if middle else 1.0)
    for n in range(count - middle):
        u = -w + reach_u * (n % columns + 0.5)
        v = -d + 60 + reach_v * (n // columns + 0.5)
        yield _ring(stand, u, v, radius)
        yield _ring(stand, u, v, radius * 0.35)
    if middle:
        yield _ring(stand, 0, 30, radius * 1.1)
        yield _ring(stand, 0, 30, radius * 0.4)


def _range(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    yield from _burners(stand)
    yield _stroke(stand, (-w, -d + 35), (w, -d + 35))


def _tall(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    yield _stroke(stand, (-w, -d), (w, d))
    yield _stroke(stand, (-w, d), (w, -d))


def _cold(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    yield _stroke(stand, (-w, -d + 40), (w, d))
    yield _stroke(stand, (-w, -d + 40), (w, -d + 40))


def _surface(stand: Stand) -> Iterator[Item]:
    """Yield what carries a top that stands out beyond it, dashed."""
    thing = stand.thing
    if isinstance(thing, Surface) and thing.kind in _COUNTERS:
        over, (w, d) = thing.overhang, _half(stand)
        least = max(over.front_mm, over.back_mm, over.left_mm, over.right_mm)
        left, right, front, back = -w + over.left_mm, w - over.right_mm, -d + over.front_mm, d - over.back_mm
        if least > 60.0 and right - left > 10 and back - front > 10:
            yield _stroke(
                stand, (left, front), (right, front), (right, back), (left, back), (left, front), weight="hidden"
            )


def _desk(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    yield _stroke(stand, (-w, d - 60), (w, d - 60))


def _seat(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    what = stand.thing.what if isinstance(stand.thing, Seat) else "chair"
    back = min(110.0 if what in ("sofa", "armchair") else 45.0, d / 2)
    if what == "stool":
        yield _ring(stand, 0, 0, min(w, d) * 0.8)
    elif what != "bench":
        yield _stroke(stand, (-w, d - back), (w, d - back))
    if what in ("sofa", "armchair"):
        arm = min(120.0, w / 3)
        yield from (_stroke(stand, (u, -d), (u, d - back)) for u in (-w + arm, w - arm))
        if what == "sofa" and w > 700:
            yield _stroke(stand, (0, -d), (0, d - back))


def _rug(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    yield _panel(stand, 0, 0, 2 * w - min(160, w), 2 * d - min(160, d))


def _bed(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    pillows = 2 if w > 650 else 1
    wide = (2 * w - 80 * (pillows + 1)) / pillows
    for n in range(pillows):
        yield _panel(stand, -w + 80 + wide / 2 + n * (wide + 80), d - 260, wide, 340, 90)
    yield _stroke(stand, (-w, d - 520), (w, d - 520))


def _fireplace(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    yield _stroke(stand, (-w * 0.7, -d), (-w * 0.5, d * 0.6), (w * 0.5, d * 0.6), (w * 0.7, -d), weight="edge")


def _fixture(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    what = stand.thing.what if isinstance(stand.thing, Fixture) else ""
    if what in ("toilet", "bidet"):
        tank = 0.3 * d if what == "toilet" else 0.0
        if tank:
            yield _panel(stand, 0, d - tank / 2 - d * 0.1, 2 * w * 0.95, tank + d * 0.1, 20)
        bowl = Box(*stand.box.at(0, -tank / 2), 2 * w * 0.78, 2 * d - tank - d * 0.25, stand.box.turn_deg)
        ring = tuple((x, y) for x, y in ellipse(bowl, 40).exterior.coords[:-1])
        yield Polygon(role="symbol", subject=stand.id, weight="dimension", points=ring, clear=True)
    elif what == "shower":
        yield from _tall(stand)
        yield _ring(stand, 0, 0, 40)
    elif what == "tub":
        yield _panel(stand, 0, 0, 2 * w - 140, 2 * d - 140, 180)
        yield _ring(stand, -w + 190 if w > d else 0, 0 if w > d else -d + 190, 22)
    else:
        yield _panel(stand, 0, -d * 0.1, 2 * w * 0.8, 2 * d * 0.68, min(w, d) * 0.6)
        yield _ring(stand, 0, -d * 0.1, 20)


def _waste(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    bins = getattr(stand.thing, "bins", 1)
    for n in range(bins):
        yield _ring(stand, 0, -d + 2 * d * (n + 0.5) / bins, min(w, d / bins) * 0.75)


def _garage(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    yield _stroke(stand, (-w, -d + 30), (w, -d + 30))


def _dishwasher(stand: Stand) -> Iterator[Item]:
    w, d = _half(stand)
    yield _stroke(stand, (-w, -d + 40), (w, -d + 40))


def _treatment(stand: Stand) -> Iterator[Item]:
    w, _ = _half(stand)
    yield _stroke(stand, (-w, 0), (w, 0))


def _service(stand: Stand, title: str) -> Iterator[Item]:
    """Yield the usual electrical signs, larger than life so that they can be seen."""
    thing, box, out = stand.thing, stand.box, 70.0
    common: dict[str, Any] = {"role": "service", "subject": thing.id, "title": title}
    if thing.kind == "light":
        if box.width_mm > 2.5 * box.depth_mm and box.width_mm > 300:
            yield Polygon(**common, weight="hidden", points=box.corners, clear=True)
            return
        radius = min(max(min(box.width_mm, box.depth_mm) / 2, 70.0), 180.0)
        yield Circle(**common, weight="dimension", centre=(box.x, box.y), radius_mm=radius)
        for way in (1.0, -1.0):
            s = radius * math.sqrt(0.5)
            yield Line(**common, weight="dimension", points=(box.at(-s, -s * way), box.at(s, s * way)))
        return
    # On the room's side of the wall: the front of the thing is where the hand comes from.
    v = -box.depth_mm / 2 - out
    if thing.kind == "receptacle":
        yield Circle(**common, weight="dimension", centre=box.at(0, v), radius_mm=out)
        for u in (-22.0, 22.0):
            yield Line(**common, weight="dimension", points=(box.at(u, v - 66), box.at(u, v + 110)))
    elif thing.kind == "switch":
        yield Line(**common, weight="dimension", points=(box.at(0, -box.depth_mm / 2), box.at(0, v + 20)))
        yield Label(**common, at=box.at(0, v - 40), text="S", size="sign")
    else:
        yield Polygon(**common, weight="dimension", points=(box.at(-70, v + 70), box.at(70, v + 70), box.at(0, v - 60)))
        yield Line(**common, weight="dimension", points=(box.at(0, v + 40), box.at(0, v - 20)))


def _seats(thing: Surface, box: Box, row: SeatRow) -> Iterator[Item]:
    """Yield the chairs of a row, tucked under the edge by a third."""
    side = side_of(box, row.side)
    length = min(row.length_mm or side.length_mm - row.from_left_mm, side.length_mm)
    each = length / row.count
    chair = min(_CHAIR_MM, each * 0.86)
    for n in range(row.count):
        at = row.from_left_mm + each * (n + 0.5)
        front, back = -chair * 0.35, chair * 0.65
        if isinstance(thing, Table) and thing.round:
            front, back = front - _sagitta(box, side, at), back - _sagitta(box, side, at)
        corner = [(at - chair / 2, front), (at + chair / 2, front), (at + chair / 2, back), (at - chair / 2, back)]
        rest = back - 40
        points: tuple[Point, ...] = tuple(side.at(a, out) for a, out in corner)
        title = f"Seat {n + 1} of {row.count}" + (", wheelchair" if row.wheelchair else "")
        yield Polygon(role="furniture", subject=thing.id, weight="dimension", points=points, title=title)
        yield Line(
            role="furniture",
            subject=thing.id,
            weight="dimension",
            points=(side.at(at - chair / 2, rest), side.at(at + chair / 2, rest)),
        )
        if row.arms:
            for u in (-chair / 2, chair / 2):
                yield Line(
                    role="furniture",
                    subject=thing.id,
                    weight="edge",
                    points=(side.at(at + u, 0), side.at(at + u, rest)),
                )
        if row.wheelchair:
            yield Arc(
                role="furniture",
                subject=thing.id,
                weight="dimension",
                centre=side.at(at, back / 2),
                start=side.at(at - chair * 0.3, back / 2),
                end=side.at(at + chair * 0.3, back / 2),
                clockwise=True,
            )


def _sagitta(box: Box, side: Segment, at: float) -> float:
    """Return how far the edge of a round top lies behind its box's side at a place along it [mm]."""
    deep = box.depth_mm if abs(side.length_mm - box.width_mm) < 1e-6 else box.width_mm
    share = min(1.0, abs(at - side.length_mm / 2) / (side.length_mm / 2))
    return deep / 2 * (1 - math.sqrt(1 - share**2))


_SYMBOLS: Final[dict[str, Callable[[Stand], Iterator[Item]]]] = {
    "sink": _sink,
    "cooktop": _burners,
    "range": _range,
    "tall cabinet": _tall,
    "refrigerator": _cold,
    "counter": _surface,
    "island": _surface,
    "peninsula": _surface,
    "desk": _desk,
    "seat": _seat,
    "rug": _rug,
    "bed": _bed,
    "fireplace": _fireplace,
    "fixture": _fixture,
    "waste": _waste,
    "appliance garage": _garage,
    "dishwasher": _dishwasher,
    "oven": _garage,
    "microwave": _garage,
    "window treatment": _treatment,
}
