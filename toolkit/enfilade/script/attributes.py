"""Everything that a line may say of a record: one table, by which figures are offered and fields are read."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from enfilade.geometry.outlines import area_m2
from enfilade.project.appliances import Cooktop, Sink
from enfilade.project.surfaces import Surface, Table
from enfilade.script.counting import subject_seats
from enfilade.script.index import Index, Sort, Subject
from enfilade.script.value import Value

__all__ = ["ATTRIBUTES", "Attribute", "Getter"]

Getter = Callable[[Index, Subject], Value | None]


@dataclass(frozen=True)
class Attribute:
    """One thing that can be said of some sorts of records.

    Attributes:
        words: How it is asked for, before `of`.
        of: By sort of record, what gives the figure; None from it means that the record does not hold it.
        also: Other words for it.
    """

    words: str
    of: dict[Sort, Getter]
    also: tuple[str, ...] = ()


def _length(mm: float | None) -> Value | None:
    return None if mm is None else Value("length", float(mm))


def _count(number: int | None, one: str, several: str) -> Value | None:
    return None if number is None else Value("count", float(number), one, several)


def _words(text: str | None) -> Value | None:
    return Value("words", text.strip()) if text and text.strip() else None


def _day(day: dt.date | None) -> Value | None:
    return None if day is None else Value("day", day)


def _field(name: str) -> Getter:
    """Return what reads one length off a record."""
    return lambda index, subject: _length(getattr(subject.record, name, None))


def _counted(name: str, one: str, several: str) -> Getter:
    return lambda index, subject: _count(getattr(subject.record, name, None), one, several)


def _text(name: str) -> Getter:
    return lambda index, subject: _words(getattr(subject.record, name, None))


def extents_mm(outline: Iterable[tuple[float, float]], first: tuple[float, float]) -> tuple[float, float]:
    """Return the shorter and the longer side of the box round a room, laid along its first wall [mm]."""
    corners = list(outline)
    (x, y), length = first, math.hypot(*first) or 1.0
    along = [(px * x + py * y) / length for px, py in corners]
    across = [(py * x - px * y) / length for px, py in corners]
    sides = (max(along) - min(along), max(across) - min(across))
    return min(sides), max(sides)


def _side(number: int) -> Getter:
    def side(index: Index, subject: Subject) -> Value | None:
        outline = subject.record.outline
        (ax, ay), (bx, by) = outline[0], outline[1]
        return _length(extents_mm(outline, (bx - ax, by - ay))[number])

    return side


def _wall_length(index: Index, subject: Subject) -> Value | None:
    space, number, _ = index.project.walls_by_id[subject.record.id]
    corners = space.outline
    return _length(math.dist(corners[number], corners[(number + 1) % len(corners)]))


def _height(index: Index, subject: Subject) -> Value | None:
    thing = subject.record
    if isinstance(thing, Surface | Sink | Cooktop):
        return _length(thing.top_mm)  # how high one works or eats, not how thick it is
    return _length(thing.top_mm - thing.bottom_mm)


def _footprint(index: Index, subject: Subject) -> Value | None:
    thing = subject.record
    mm2 = thing.width_mm * thing.depth_mm * (math.pi / 4 if isinstance(thing, Table) and thing.round else 1.0)
    return Value("area", mm2 / 1e6)


def _floor(index: Index, subject: Subject) -> Value | None:
    return Value("area", area_m2(subject.record.outline))


def _house_floor(index: Index, subject: Subject) -> Value | None:
    inside = [space.outline for space in index.project.spaces if space.use != "outside"]
    return Value("area", sum(area_m2(outline) for outline in inside)) if inside else None


def _lowest(index: Index, subject: Subject) -> Value | None:
    space = subject.record
    heights = [drop.height_mm for drop in space.dropped]
    return _length(min([*heights, *([space.ceiling_mm] if space.ceiling_mm else [])], default=None))


def _overhang(index: Index, subject: Subject) -> Value | None:
    overhang = getattr(subject.record, "overhang", None)
    widest = 0.0 if overhang is None else max(overhang.on(side) for side in ("front", "back", "left", "right"))
    return _length(widest) if widest > 0 else None


def _glass(index: Index, subject: Subject) -> Value | None:
    area = getattr(subject.record.glazing, "area_m2", None)
    return None if area is None else Value("area", area)


def _of_amount(name: str, kind: str) -> Getter:
    def amount(index: Index, subject: Subject) -> Value | None:
        number = getattr(subject.record, name, None)
        return None if number is None else Value(kind, float(number))  # type: ignore[arg-type]

    return amount


# What is bought: a product, a finish, or a thing by way of its product, or else of its finish.


def _bought(index: Index, subject: Subject) -> Any | None:
    if subject.sort != "thing":
        return subject.record
    project, thing = index.project, subject.record
    for records, id in ((project.products, thing.product), (project.finishes, thing.finish)):
        found = next((record for record in records if record.id == id), None)
        if found is not None:
            return found
    return None


def _purchase(read: Callable[[Any], Any], write: Callable[[Index, Any], Value | None]) -> dict[Sort, Getter]:
    def get(index: Index, subject: Subject) -> Value | None:
        record = _bought(index, subject)
        return None if record is None else write(index, read(record))

    return {"product": get, "finish": get, "thing": get}


def _money(index: Index, amount: Decimal | None) -> Value | None:
    return None if amount is None else Value("money", amount, currency=index.project.show.currency)


def _days(index: Index, number: int | None) -> Value | None:
    return _count(number, "day", "days")


def _of_day(index: Index, day: dt.date | None) -> Value | None:
    return _day(day)


def _quantity(index: Index, purchase: Any) -> Value | None:
    if purchase.quantity is None:
        return None
    unit = purchase.quantity_unit.strip()
    if unit == "square metres":
        return Value("area", purchase.quantity)
    return Value("count", purchase.quantity, unit.removesuffix("s"), unit)


def _borne(record_list: str, *fields: str) -> Getter:
    def borne(index: Index, subject: Subject) -> Value | None:
        for field in fields:
            id = getattr(subject.record, field, None)
            found = next((one for one in getattr(index.project, record_list) if one.id == id), None)
            if found is not None:
                return _words(found.name)
        return None

    return borne


def _room_name(index: Index, subject: Subject) -> Value | None:
    return _words(index.project.space(subject.record.space).name)


def _called(index: Index, subject: Subject) -> Value | None:
    record = subject.record
    return _words(getattr(record, "name", "") or getattr(record, "title", "") or getattr(record, "kind", ""))


def _cost(index: Index, subject: Subject) -> Value | None:
    chosen = subject.record.chosen
    return _money(index, chosen.cost if chosen is not None else None)


def _decision_day(name: str) -> dict[Sort, Getter]:
    return {"decision": lambda index, subject: _day(getattr(subject.record, name))}


def _options(index: Index, subject: Subject) -> Value | None:
    return _count(len(subject.record.options), "option", "options")


_MEASURED: Final[tuple[Attribute, ...]] = (
    # Side to side, as one faces it; of a room the shorter way across.
    Attribute("width", {
        "thing": _field("width_mm"), "opening": _field("width_mm"), "room": _side(0), "wall": _wall_length,
    }, ("breadth",)),
    # Front to back; of an opening the thickness of its wall.
    Attribute("depth", {"thing": _field("depth_mm"), "opening": _field("depth_mm")}),
    Attribute("length", {
        "thing": lambda index, one: _length(max(one.record.width_mm, one.record.depth_mm)),
        "room": _side(1), "wall": _wall_length,
    }),
    # Of worktops, tables, sinks and cooktops above the floor; of the rest from lower to upper edge.
    Attribute("height", {"thing": _height, "opening": _field("height_mm"), "room": _field("ceiling_mm")}),
    # Both edges are above the floor.
    Attribute("top", {"thing": _field("top_mm"), "opening": lambda index, one: _length(
        one.record.sill_mm + one.record.height_mm)}, ("head", "upper edge")),
    Attribute("bottom", {"thing": _field("bottom_mm"), "opening": _field("sill_mm")}, ("sill", "lower edge")),
    # The floor that it takes, or has.
    Attribute("area", {"thing": _footprint, "room": _floor, "house": _house_floor}),
    Attribute("ceiling", {"room": _field("ceiling_mm")}, ("ceiling height",)),
    Attribute("lowest ceiling", {"room": _lowest}),
    # What a person has to walk through.
    Attribute("clear width", {"opening": _field("clear_width_mm")}),
    Attribute("glass", {"opening": _glass}, ("glass area",)),
    Attribute("thickness", {"thing": _field("thickness_mm")}),
    # How far a top stands out, on the side where it does most.
    Attribute("overhang", {"thing": _overhang}),
    Attribute("bowl depth", {"thing": _field("bowl_depth_mm")}),
    Attribute("control height", {"thing": _field("control_height_mm")}),
    # Corner to corner.
    Attribute("screen size", {"thing": _field("diagonal_mm")}, ("diagonal",)),
    # Inside, as the data sheet has it.
    Attribute("volume", {"thing": _of_amount("volume_l", "volume")}),
    Attribute("air flow", {"thing": _of_amount("flow_m3h", "flow")}),
)  # fmt: skip

_COUNTED: Final[tuple[Attribute, ...]] = (
    # People who can sit at it, or at the worktops and tables of a room.
    Attribute("seats", dict.fromkeys(("thing", "room", "house"), subject_seats)),
    Attribute("burners", {"thing": _counted("burners", "burner", "burners")}),
    Attribute("bowls", {"thing": _counted("bowls", "bowl", "bowls")}),
    Attribute("drawers", {"thing": _counted("drawers", "drawer", "drawers")}),
    Attribute("shelves", {"thing": _counted("shelves", "shelf", "shelves")}),
    Attribute("bins", {"thing": _counted("bins", "bin", "bins")}),
    # That a dishwasher takes.
    Attribute("settings", {"thing": _counted("place_settings", "setting", "settings")}, ("place settings",)),
    # Ways that were weighed.
    Attribute("options", {"decision": _options}),
)  # fmt: skip

_NAMED: Final[tuple[Attribute, ...]] = (
    Attribute("name", dict.fromkeys(
        ("thing", "opening", "wall", "room", "product", "finish", "decision", "house"), _called), ("title",)),
    Attribute("room", {"thing": _room_name}),
    Attribute("product", {"thing": _borne("products", "product")}),
    # What its faces are made of.
    Attribute("finish", {"thing": _borne("finishes", "finish"), "wall": _borne("finishes", "finish")}),
    Attribute("floor", {"room": _borne("finishes", "floor_finish")}, ("floor finish",)),
    Attribute("ceiling finish", {"room": _borne("finishes", "ceiling_finish")}),
    Attribute("material", {"finish": _text("material")}),
    Attribute("maker", _purchase(lambda one: one.maker, lambda index, text: _words(text))),
)  # fmt: skip

_BOUGHT: Final[tuple[Attribute, ...]] = (
    # As ordered, else as quoted, else what is set aside.
    Attribute("price", _purchase(lambda one: one.purchase.expected, _money)),
    Attribute("allowance", _purchase(lambda one: one.purchase.allowance, _money)),
    Attribute("quote", _purchase(lambda one: one.purchase.quote, _money)),
    Attribute("quantity", _purchase(lambda one: one.purchase, _quantity)),
    # Days from order to site.
    Attribute("lead time", _purchase(lambda one: one.purchase.lead_time_days, _days)),
    # The last day to order, the day it must be on site, and the day until which the warranty holds.
    Attribute("order day", _purchase(lambda one: one.purchase.order_by, _of_day)),
    Attribute("site day", _purchase(lambda one: one.purchase.needed_on_site, _of_day)),
    Attribute("warranty", _purchase(lambda one: one.warranty_until, _of_day)),
    # Of the option that was taken.
    Attribute("cost", {"decision": _cost}),
    # When it was decided, must be decided, and was approved by the client.
    Attribute("day", _decision_day("on"), ("date",)),
    Attribute("due day", _decision_day("due")),
    Attribute("approval day", _decision_day("approved_on")),
    # The number that it goes by.
    Attribute("number", {
        "decision": lambda index, one: _count(one.record.number, "", ""),
        "need": lambda index, one: _count(one.record.number, "", ""),
    }),
)  # fmt: skip

ATTRIBUTES: Final[tuple[Attribute, ...]] = (*_MEASURED, *_COUNTED, *_NAMED, *_BOUGHT)
"""Every attribute, in the order in which they are offered. Those of findings stand in `figures.py`."""
