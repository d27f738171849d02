"""Islands counted: their size beside their seats and the clear floor on each side. Verdicts are given elsewhere."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from shapely.geometry.base import BaseGeometry

from enfilade.checks.count_records import Asked, Before, IslandCount, SeatCount, SideClear, asked_by
from enfilade.checks.floor import AHEAD_MM, FLOOR_KINDS, footprint, is_obstacle
from enfilade.checks.layout import RUN_KINDS
from enfilade.checks.view import View
from enfilade.geometry.boxes import Segment, shared_mm2
from enfilade.geometry.clear_widths import ClearAhead, clear_ahead
from enfilade.geometry.points import dot
from enfilade.lengths import inches
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import Island, Peninsula, SeatRow
from enfilade.project.thing import Side
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.seating import seats_along

__all__ = ["SIDES", "island_counts", "side_clear"]

SIDES: Final[tuple[Side, ...]] = ("front", "back", "left", "right")
_LEAST_MM: Final = inches(2)
"""What covers less of a side stands beside it, not before it (our own choice)."""
_FACES: Final = -0.99
"""Cosine of 172 degrees: fronts nearer to opposed than this face each other (our own choice)."""
_MOSTLY: Final = 0.5
"""Share of a thing's plan from which it stands in an island, not at its edge (our own choice)."""
_NO_WORK: Final = {"panel", "column", "microwave"}
"""Kinds of a run at whose front nobody stands to work (our own choice)."""


def island_counts(view: View, rules: Yardstick) -> tuple[IslandCount, ...]:
    """Return every island and peninsula of a space.

    Args:
        view: Reads `FLOOR_KINDS` and `household`.
        rules: Where what is asked comes from.
    """
    return tuple(_island(view, rules, stand) for stand in view.things("island", "peninsula"))


def _island(view: View, rules: Yardstick, stand: Stand) -> IslandCount:
    thing = stand.thing
    assert isinstance(thing, Island | Peninsula)
    asked = tuple(asked_by(rules.row("N4", part)) for part in ("length", "width") if rules.has("N4", part))
    return IslandCount(
        id=stand.id,
        name=thing.called,
        length_mm=max(thing.width_mm, thing.depth_mm),
        width_mm=min(thing.width_mm, thing.depth_mm),
        asked=asked,
        seats=tuple(_seats(stand, row, rules) for row in thing.seating),
        sides=tuple(side_clear(view, rules, stand, side) for side in SIDES),
    )


def _seats(stand: Stand, row: SeatRow, rules: Yardstick) -> SeatCount:
    whole_mm = side_of(stand.box, row.side).length_mm - max(row.from_left_mm, 0.0)
    edge_mm = max(1.0, whole_mm if row.length_mm is None else min(whole_mm, row.length_mm))
    fit = seats_along(edge_mm, legs_mm=(row.legs_mm,) if row.legs_mm else (), by=rules)
    each = asked_by(rules.row("K9", "seat width"))
    return SeatCount(row.id, row.side, row.count, fit.count, edge_mm, each, fit.working)


def side_clear(view: View, rules: Yardstick, stand: Stand, side: Side) -> SideClear:
    """Return the clear floor before one side: to the nearest obstacle or wall straight ahead, at most 10 ft.

    What covers less than 2 in of the side does not count; neither do pushed-in chairs.
    """
    thing = stand.thing
    assert isinstance(thing, Island | Peninsula)
    if isinstance(thing, Peninsula) and side == thing.joined:
        return SideClear(side, "joined", None, None, ())
    edge = side_of(stand.box, side)
    others, shapes = _around(view, stand)
    met = clear_ahead(edge, shapes, AHEAD_MM, _LEAST_MM)
    seats = [row for row in thing.seating if row.side == side]
    if seats:
        asked = tuple(one for row in seats for one in _behind(row, rules))
        return _side(side, "behind seats", asked, met)
    if side in thing.working_sides or (met is not None and _works(edge, others.get(met.obstacle_id))):
        return _side(side, "work aisle", _aisle(view, rules), met)
    return _side(side, "walkway", (asked_by(rules.row("K7")),) if rules.has("K7") else (), met)


def _side(side: Side, what: Before, asked: tuple[Asked, ...], met: ClearAhead | None) -> SideClear:
    unique = tuple(dict.fromkeys(asked))
    if met is None:
        return SideClear(side, what, None, None, unique)
    return SideClear(side, what, met.distance_mm, met.obstacle_id, unique, (met.edge_point, met.obstacle_point))


def _around(view: View, stand: Stand) -> tuple[dict[str, Stand], Mapping[str, BaseGeometry | Segment]]:
    """Return what stands in the way round an island, without what is in it or under it; and its shapes, with walls."""
    kinds = view.reads & set(FLOOR_KINDS)
    key = ("round an island", kinds, stand.id)
    if key not in view.memo:
        others = {other.id: other for other in _others(view.room_things(*kinds), stand)}
        view.memo[key] = others, {**{name: footprint(other) for name, other in others.items()}, **view.room_walls}
    found: tuple[dict[str, Stand], Mapping[str, BaseGeometry | Segment]] = view.memo[key]
    return found


def _others(stands: Iterable[Stand], island: Stand) -> Iterator[Stand]:
    for other in stands:
        if other.id == island.id or not is_obstacle(other):
            continue
        shape = other.box.polygon
        if shared_mm2(island.box.polygon, shape) <= _MOSTLY * shape.area:
            yield other


def _works(edge: Segment, other: Stand | None) -> bool:
    """Tell whether the front of a counter, cabinet or appliance faces an edge."""
    if other is None or other.thing.kind not in RUN_KINDS or other.thing.kind in _NO_WORK:
        return False
    if other.thing.kind in ("island", "peninsula"):
        return True
    return dot(other.box.outward, edge.outward) < _FACES


def _aisle(view: View, rules: Yardstick) -> tuple[Asked, ...]:
    """Return what a work aisle is asked; both figures when it is not recorded how many cook together."""
    cooks = view.household.cooks_together
    parts = ("one cook", "two cooks") if cooks is None else ("one cook",) if cooks < 2 else ("two cooks",)
    return tuple(asked_by(rules.row("K6", part)) for part in parts if rules.has("K6", part))


def _behind(row: SeatRow, rules: Yardstick) -> tuple[Asked, ...]:
    """Return what is asked behind seats; all figures when it is not recorded who passes."""
    names = {
        "none": [("K8", "no traffic")],
        "edge past": [("K8", "edge past")],
        "walk past": [("K8", "walk past")],
        "wheelchair": [("K8a", "wheelchair past"), ("K8", "walk past")],
        None: [("K8", "no traffic"), ("K8", "edge past"), ("K8", "walk past")],
    }[row.passing]
    found = tuple(asked_by(rules.row(*name)) for name in names if rules.has(*name))
    return found[:1] if row.passing is not None else found
