"""Every place to keep things, taken apart into shelves and drawers: frontage, height, and part of the whole."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Final, Literal

from enfilade.checks.kept import Kept
from enfilade.checks.view import View
from enfilade.geometry.boxes import shared_mm2
from enfilade.lengths import TOLERANCE_MM, inches
from enfilade.project.standing import Stand
from enfilade.project.storage import Storage
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.storage import Frontage, shelf_frontage, turntable_frontage

__all__ = ["STORAGE", "Group", "Layer", "Unit", "storage_units", "unit_of"]

STORAGE: Final = ("base cabinet", "wall cabinet", "tall cabinet", "open shelf", "furniture piece", "appliance garage")
"""Kinds that things are kept in."""

Group = Literal["wall", "base", "drawer", "pantry", "misc"]
"""The parts into which the guideline splits a kitchen's frontage."""

# A box counts with its nominal depth; a door and what lies behind the back add up to 1 1/2 in to it (our own
# choice). What is deeper, such as a wall cabinet of 15 in, counts as deep as it is.
_DOOR_MM: Final = inches(1.5)
# Share of a sink's plan that a cabinet must hold to be its sink base (our own choice).
_SINK_COVERED: Final = 0.5


@dataclass(frozen=True)
class Layer:
    """One shelf or drawer: its height above the floor, its share of the frontage, and its part [mm]."""

    what: Literal["shelf", "drawer"]
    height_mm: float
    frontage_mm: float
    group: Group


@dataclass(frozen=True)
class Unit:
    """One cabinet or shelf.

    Attributes:
        stand: The thing and where it stands.
        frontage: As the guideline counts it; None when shelves and drawers are not recorded.
        layers: Its shelves and drawers, lowest first; empty when unknown.
        needs: The facts that are missing.
        assumed: What was taken without being recorded.
    """

    stand: Stand
    frontage: Frontage | None
    layers: tuple[Layer, ...]
    needs: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()

    @property
    def thing(self) -> Storage:
        """Return its record."""
        assert isinstance(self.stand.thing, Storage)
        return self.stand.thing

    def in_group(self, group: Group) -> float:
        """Return its frontage in one part [mm]."""
        return self._by_group.get(group, 0.0)

    @cached_property
    def _by_group(self) -> dict[Group, float]:
        found: dict[Group, float] = {}
        for layer in self.layers:
            found[layer.group] = found.get(layer.group, 0.0) + layer.frontage_mm
        return found


def storage_units(view: View, rules: Yardstick) -> list[Unit]:
    """Return every unit of storage in a space; a check that asks must read STORAGE, and `sink` for sink bases."""
    key = ("storage units", rules.name, rules.house_rules, "sink" in view.reads)
    if key not in view.memo:
        sinks = view.things("sink") if "sink" in view.reads else []
        view.memo[key] = [_kept_unit(stand, sinks, rules) for stand in view.things(*STORAGE)]
    units: list[Unit] = view.memo[key]
    return units


_UNITS: Final = Kept[Unit](512)


def _kept_unit(stand: Stand, sinks: Iterable[Stand], rules: Yardstick) -> Unit:
    near = tuple(sink for sink in sinks if sink.box.polygon.intersects(stand.box.polygon))
    return _UNITS.get((stand, rules, *near), partial(unit_of, stand, near, rules))


def unit_of(stand: Stand, sinks: Iterable[Stand], rules: Yardstick) -> Unit:
    """Return one unit taken apart.

    Where only shelves or only drawers are recorded there are none of the other. Of a sink base of
    which neither is recorded, the bottom counts alone.
    """
    thing = stand.thing
    assert isinstance(thing, Storage)
    shelves, drawers, assumed = thing.shelves, thing.drawers, list(thing.assumed("shelves", "drawers", "width_mm"))
    if shelves is None and drawers is None and _sink_base(stand, sinks):
        shelves, drawers = int(rules.row("F8", "shelves").number), int(rules.row("F8", "drawers").number)
        assumed += [f"{thing.id}.shelves"]
    needs = []
    if shelves is None and drawers is None:
        needs += [f"{thing.id}.shelves", f"{thing.id}.drawers"]
    if thing.corner in ("blind", "swing-out", "pull-out") and thing.accessible_width_mm is None:
        needs += [f"{thing.id}.accessible_width_mm"]
    if needs:
        return Unit(stand, None, (), tuple(needs))
    frontage = _frontage(thing, shelves or 0, drawers or 0, rules)
    layers = _layers(thing, frontage, shelves or 0, drawers or 0, rules)
    if shelves and thing.shelf_heights_mm is None:
        assumed += [f"{thing.id}.shelf_heights_mm"]
    return Unit(stand, frontage, layers, assumed=tuple(dict.fromkeys(assumed)))


def _sink_base(stand: Stand, sinks: Iterable[Stand]) -> bool:
    shape = stand.box.polygon
    return stand.thing.kind == "base cabinet" and any(
        shared_mm2(shape, sink.box.polygon) > _SINK_COVERED * sink.box.polygon.area for sink in sinks
    )


def _frontage(thing: Storage, shelves: int, drawers: int, rules: Yardstick) -> Frontage:
    printed = rules.row("F6", "cabinet width").value_mm
    turntable = thing.corner == "turntable" and thing.kind == "base cabinet"
    if turntable and abs(thing.width_mm - printed) <= TOLERANCE_MM:
        return turntable_frontage(by=rules)
    accessible = thing.accessible_width_mm
    return shelf_frontage(
        thing.width_mm,
        _counted_depth(thing.depth_mm, rules),
        shelves=shelves,
        drawers=drawers,
        accessible_mm=None if accessible is None else min(accessible, thing.width_mm),
        angled=thing.angled,
        swing_out=thing.corner == "swing-out",
        by=rules,
    )


def _counted_depth(depth_mm: float, rules: Yardstick) -> float:
    """Return the nominal depth of a cabinet whose door or scribe makes it a little deeper [mm]."""
    for part in ("base depth", "wall depth"):
        nominal = rules.row("F1", part).value_mm
        if nominal - TOLERANCE_MM <= depth_mm <= nominal + _DOOR_MM:
            return nominal
    return depth_mm


def _layers(thing: Storage, frontage: Frontage, shelves: int, drawers: int, rules: Yardstick) -> tuple[Layer, ...]:
    """Return shelves and drawers with their heights.

    Heights that are not recorded are spread evenly: drawers above the shelves of a base cabinet, below
    those of any other unit.
    A turntable whose shelves are not recorded is one layer in the middle of the unit.
    """
    heights = _shelf_heights(thing, shelves, drawers)
    drawn = _drawer_heights(thing, shelves, drawers)
    if not heights and frontage.shelves_mm:
        heights = [(thing.bottom_mm + thing.top_mm) / 2]
    each = [("shelf", h, frontage.shelves_mm / len(heights)) for h in heights]
    each += [("drawer", h, frontage.drawers_mm / len(drawn)) for h in drawn]
    high_mm = rules.row("K27c").value_mm
    return tuple(
        Layer("shelf" if what == "shelf" else "drawer", height, length, _group(thing, what, height, high_mm))
        for what, height, length in sorted(each, key=lambda one: one[1])
    )


def _spread(thing: Storage, count: int) -> list[float]:
    step = (thing.top_mm - thing.bottom_mm) / count if count else 0.0
    return [thing.bottom_mm + i * step for i in range(count)]


def _shelf_heights(thing: Storage, shelves: int, drawers: int) -> Sequence[float]:
    given = thing.shelf_heights_mm
    if given is not None and len(given) == shelves:
        return given
    spread = _spread(thing, shelves + drawers)
    return spread[:shelves] if thing.kind == "base cabinet" else spread[drawers:]


def _drawer_heights(thing: Storage, shelves: int, drawers: int) -> Sequence[float]:
    given = thing.drawer_heights_mm
    if given is None or len(given) != drawers:
        spread = _spread(thing, shelves + drawers)
        return spread[shelves:] if thing.kind == "base cabinet" else spread[:drawers]
    # Drawers alone fill a unit from its top down to the toe space; those under shelves start at its bottom.
    from_top = thing.kind == "base cabinet" or not shelves
    bottom, found = max(thing.bottom_mm, thing.top_mm - sum(given)) if from_top else thing.bottom_mm, []
    for height in given:
        found.append(bottom)
        bottom += height
    return found


def _group(thing: Storage, what: str, height_mm: float, high_mm: float) -> Group:
    if thing.misc or thing.kind == "furniture piece" or height_mm >= high_mm - TOLERANCE_MM:
        return "misc"
    if thing.kind == "tall cabinet":
        return "pantry"
    if what == "drawer":
        return "drawer"
    return "base" if thing.kind == "base cabinet" else "wall"
