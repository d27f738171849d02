"""What each appliance and sink asks of the counters round it, before two of them share one.

A demand lists the ways in which it can be satisfied; each way claims lengths of certain stretches of counter.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from enfilade.checks.landings import SIDES, Kitchen, Landing, Side
from enfilade.geometry.runs import Role
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.appliances import Microwave, Oven, Refrigerator, Sink
from enfilade.project.standing import Stand

__all__ = [
    "Claim",
    "Demand",
    "arrangements",
    "cold_ways",
    "demands",
    "holds_food",
    "latch_of",
    "microwave_ways",
    "opens_into_walkway",
    "oven_ways",
    "rule_of",
    "two_sides",
    "within",
]

_RULES = {"cooktop": "K17", "range": "K17", "refrigerator": "K16", "microwave": "K22", "oven": "K23"}
_CENTRES: tuple[Role, ...] = ("sink", "cooking", "cold")


@dataclass(frozen=True)
class Claim:
    """A length that one thing asks of one landing [mm]."""

    owner: Stand
    rule: str
    asked_mm: float
    landing: Landing

    @property
    def short_mm(self) -> float:
        """Return what the landing lacks, 0 when it is long enough [mm]."""
        short = self.asked_mm - self.landing.length_mm
        return short if short > TOLERANCE_MM else 0.0


@dataclass(frozen=True)
class Demand:
    """What one thing asks, and each way to satisfy it: all claims of one way together."""

    owner: Stand
    rule: str
    ways: tuple[tuple[Claim, ...], ...]

    @property
    def good_ways(self) -> tuple[tuple[Claim, ...], ...]:
        """Return the ways that lack least by themselves."""
        lacking = [sum(claim.short_mm for claim in way) for way in self.ways]
        least = min(lacking, default=0.0)
        return tuple(way for way, short in zip(self.ways, lacking, strict=True) if short <= least + TOLERANCE_MM)


def holds_food(stand: Stand) -> bool:
    """Tell whether what a thing holds has to be set down to cook: all but a refrigerator for wine alone."""
    return not (isinstance(stand.thing, Refrigerator) and stand.thing.holds == "wine")


def rule_of(stand: Stand) -> str:
    """Return the guideline by which a sink or appliance asks for its landing."""
    if isinstance(stand.thing, Sink):
        return "K15" if stand.thing.role == "auxiliary" else "K11"
    return _RULES[stand.thing.kind]


def two_sides(found: Kitchen, stand: Stand) -> tuple[Landing, Landing]:
    """Return the landings left and right of a sink or cooking surface; beside the latter only counter at its height."""
    level = stand.thing.top_mm if rule_of(stand) == "K17" else None
    return found.beside(stand, "left", level_mm=level), found.beside(stand, "right", level_mm=level)


def arrangements(found: Kitchen, stand: Stand) -> tuple[tuple[Landing, Landing], ...]:
    """Return both ways round of a sink or cooking surface: its longer landing, and the other.

    At the height of the thing itself are both landings of a cooking surface (guideline 17) and the longer one of
    an auxiliary sink (guideline 15).
    """
    rule, level = rule_of(stand), stand.thing.top_mm
    longer, other = (None if rule == "K11" else level), (level if rule == "K17" else None)
    return tuple(
        (found.beside(stand, first, level_mm=longer), found.beside(stand, second, level_mm=other))
        for first, second in zip(SIDES, SIDES[::-1], strict=True)
    )


def cold_ways(found: Kitchen, stand: Stand) -> list[tuple[Landing, ...]]:
    """Return the ways in which a refrigerator has its landing beside it; several landings when it needs each.

    An unknown handle leaves both sides open; so do drawers. An undercounter unit also takes the counter above.
    """
    thing = stand.thing
    assert isinstance(thing, Refrigerator)
    left, right = found.beside(stand, "left"), found.beside(stand, "right")
    above = found.over(stand)
    if above is not None:
        return [(above,), (left,), (right,)]
    if thing.doors == "single" and thing.handle is not None:
        return [(left if thing.handle == "left" else right,)]
    if (
        thing.doors in ("side by side", "two doors over a drawer")
        and found.rules.option("side_by_side_landing") == "both sides"
    ):
        return [(left, right)]
    return [(left,), (right,)]


def microwave_ways(found: Kitchen, stand: Stand) -> list[tuple[Landing, ...]]:
    """Return the ways in which a microwave has its landing: the counter below or above it, or at its handle."""
    thing = stand.thing
    assert isinstance(thing, Microwave)
    over = found.over(stand)
    sides: Iterable[Side] = (thing.handle,) if thing.handle in ("left", "right") else SIDES
    return [*([(over,)] if over else []), *((found.beside(stand, side),) for side in sides)]


def oven_ways(found: Kitchen, stand: Stand) -> list[tuple[Landing, ...]]:
    """Return the ways in which an oven has its landing next to or above it."""
    over = found.over(stand)
    above = [(over,)] if over and over.where == "above" else []
    return [*above, *((found.beside(stand, side),) for side in SIDES)]


def within(found: Kitchen, stand: Stand, length_mm: float, reach_mm: float) -> list[Landing]:
    """Return the landings across from a thing that are long enough and near enough, nearest first."""
    return [landing for landing in found.across(stand, length_mm) if landing.distance_mm <= reach_mm + TOLERANCE_MM]


def opens_into_walkway(found: Kitchen, stand: Stand, landing: Landing) -> bool:
    """Tell whether the floor between a thing and the counter across has no work centre on either side (guideline 7)."""
    spot = found.spot(stand)
    if spot is not None:
        here = spot.run.pieces[found.piece_at(spot)].front.outward
        own = [p for p in spot.run.pieces if p.front.outward[0] * here[0] + p.front.outward[1] * here[1] > 0.99]
        if any(piece.role in _CENTRES for piece in own):
            return False
    facing = landing.pieces[0].front.outward
    across = [
        p
        for p in found.found.runs[landing.run].pieces
        if p.front.outward[0] * facing[0] + p.front.outward[1] * facing[1] > 0.99
    ]
    return not any(piece.role in _CENTRES for piece in across)


def latch_of(stand: Stand) -> Side | None:
    """Return the side at which an oven's door opens: recorded, or opposite the hinge of its leaf."""
    thing = stand.thing
    if isinstance(thing, Oven) and thing.latch is not None:
        return thing.latch
    for leaf in thing.leaves:
        if leaf.kind == "hinged" and leaf.hinge is not None:
            return "right" if leaf.hinge == "left" else "left"
    return None


def demands(found: Kitchen) -> Iterator[Demand]:
    """Yield what each sink and appliance asks, in the order of the record; rules that are switched off ask nothing."""
    for stand in found.found.stands.values():
        if isinstance(stand.thing, Sink) or stand.thing.kind in ("cooktop", "range"):
            yield from _two_sided(found, stand)
        elif stand.thing.kind in ("refrigerator", "microwave", "oven"):
            yield from _one_sided(found, stand)


def _two_sided(found: Kitchen, stand: Stand) -> Iterator[Demand]:
    rule, rules = rule_of(stand), found.rules
    if not (rules.has(rule, "longer side") and rules.has(rule, "shorter side")):
        return
    longer, shorter = rules.row(rule, "longer side").value_mm, rules.row(rule, "shorter side").value_mm
    ways = tuple(
        (Claim(stand, rule, longer, first), Claim(stand, rule, shorter, second))
        for first, second in arrangements(found, stand)
    )
    yield Demand(stand, rule, ways)


def _one_sided(found: Kitchen, stand: Stand) -> Iterator[Demand]:
    rule, rules = rule_of(stand), found.rules
    part = "" if rule == "K22" else "landing"
    if not rules.has(rule, part) or not holds_food(stand):
        return
    asked = rules.row(rule, part).value_mm
    find = {"K16": cold_ways, "K22": microwave_ways, "K23": oven_ways}[rule]
    ways = find(found, stand)
    if rule != "K22" and rules.has(rule, "across"):
        across = within(found, stand, asked, rules.row(rule, "across").value_mm)
        ways += [(way,) for way in across if rule == "K16" or not opens_into_walkway(found, stand, way)]
    claimed = (tuple(Claim(stand, rule, asked, landing) for landing in way) for way in ways)
    yield Demand(stand, rule, tuple(claimed))
