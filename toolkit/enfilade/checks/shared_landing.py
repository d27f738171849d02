"""Landing areas that share one counter (Kitchen guideline 24), and the counters that serve as landing areas (11)."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

from enfilade.checks.demands import Claim, Demand, demands
from enfilade.checks.landings import LANDING_KINDS, Kitchen, Where, kitchen
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark, Requirement
from enfilade.lengths import TOLERANCE_MM, show_inches
from enfilade.quantities import Quantity, convert
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.landing import shared_landing

__all__ = ["Shared", "landing_areas", "shared_counters", "shared_landings"]

# Ways are weighed all at once up to this many; beyond it one appliance after the other is settled.
_WEIGHED: Final = 4096
_WHERE: Final[dict[Where, str]] = {
    "left": "on the left of", "right": "on the right of", "above": "above", "below": "below", "across": "across from",
}  # fmt: skip


@dataclass(frozen=True)
class Shared:
    """A stretch of counter that two or more landings share, the two that are judged first."""

    claims: tuple[Claim, ...]
    required_mm: float
    sum_mm: float
    working: tuple[str, ...]

    @property
    def length_mm(self) -> float:
        """Return the counter that there is, as far as it serves both [mm]."""
        return max(claim.landing.length_mm for claim in self.claims)

    @property
    def short_mm(self) -> float:
        """Return what it lacks [mm]."""
        return max(0.0, self.required_mm - self.length_mm - TOLERANCE_MM)


def shared_counters(found: Kitchen) -> list[Shared]:
    """Return the counters that landings share, each appliance using the landing that leaves least lacking.

    Every sink and cooking surface may turn its longer landing either way, and whatever may land on
    several counters takes one of them; what lacks least, and then shares least, is taken.
    """
    asked = [demand for demand in demands(found) if demand.good_ways]
    free = [demand.good_ways for demand in asked]
    if math.prod(len(ways) for ways in free) > _WEIGHED:
        return _shared(found, _settled(found, asked))
    return _shared(found, min(product(*free), key=lambda ways: _weight(found, ways)))


def _settled(found: Kitchen, asked: Sequence[Demand]) -> list[tuple[Claim, ...]]:
    chosen = [demand.good_ways[0] for demand in asked]
    for index, demand in enumerate(asked):
        tried = [[*chosen[:index], way, *chosen[index + 1 :]] for way in demand.good_ways]
        chosen = min(tried, key=lambda ways: _weight(found, ways))
    return chosen


def _weight(found: Kitchen, ways: Sequence[Sequence[Claim]]) -> tuple[float, ...]:
    shared = _shared(found, ways)
    lacking = round(sum(one.short_mm for one in shared), 3)
    third = sum(len(one.claims) - 2 for one in shared)
    short = sum(one.short_mm > 0 for one in shared)
    asked = (round(sum(one.required_mm for one in shared), 3), round(sum(one.sum_mm for one in shared), 3))
    return (lacking, short, third, len(shared), *asked)


def _shared(found: Kitchen, ways: Sequence[Sequence[Claim]]) -> list[Shared]:
    by_counter: dict[tuple[int, float], list[Claim]] = defaultdict(list)
    for way in ways:
        for claim in way:
            if claim.landing.key is not None:
                by_counter[claim.landing.key].append(claim)
    return [_pair(found, claims) for _, claims in sorted(by_counter.items()) if len(claims) > 1]


def _pair(found: Kitchen, claims: list[Claim]) -> Shared:
    """Put the two neighbours of a counter first, left to right; then what lies above, below or across."""
    order = {"right": 0, "left": 1, "above": 2, "below": 3, "across": 4}

    def rank(claim: Claim) -> tuple[bool, int, float]:
        spot = found.spot(claim.owner)
        beside = claim.landing.where in ("left", "right") and spot is not None
        # What ends the counter is its neighbour; what stands under or over it is not.
        ends = beside and spot is not None and spot.run.pieces[found.piece_at(spot)] not in claim.landing.pieces
        return not ends, order[claim.landing.where], -claim.asked_mm

    ranked = sorted(claims, key=rank)
    joint = shared_landing(ranked[0].asked_mm, ranked[1].asked_mm, by=found.rules)
    return Shared(tuple(ranked), joint.required_mm, joint.sum_mm, joint.working)


@check(reads=LANDING_KINDS, uses={"kitchen"}, options={"side_by_side_landing"})
def shared_landings(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold each counter that two landings share against the longer of them and 12 in more.

    A third landing on the same counter is told, not judged: the source gives no rule for it.
    """
    if not rules.has("K24"):
        return
    row, found, space = rules.row("K24"), kitchen(view, rules), view.space.id
    shared = shared_counters(found)
    for one in shared:
        first, second = one.claims[:2]
        owners = (first.owner.id, second.owner.id)
        counters = first.landing.counters
        names = found.names.of(*owners)
        sides = f"{names[0]} asks {both(first.asked_mm)}, {names[1]} {both(second.asked_mm)}"
        yield row.finding(
            space=space,
            subjects=(*owners, *counters),
            measured=Quantity(one.length_mm, "mm"),
            required=Requirement("at least", convert(one.required_mm, "mm", row.unit), row.unit),
            working=(sides, *one.working, *first.landing.working),
            marks=first.landing.marks,
            assumed=(
                *first.owner.thing.assumed("place"),
                *second.owner.thing.assumed("place"),
                *found.found.assumed_tops(),
            ),
            also=(f"The two landings added up would be {show_inches(one.sum_mm)}.",),
        )
        for third in one.claims[2:]:
            yield row.not_assessed(
                space=space,
                subjects=(third.owner.id, *owners, *counters),
                part="third landing",
                because="source silent",
                working=(f"{found.names.one(third.owner.id)} asks {both(third.asked_mm)} of the same counter", sides),
                marks=third.landing.marks,
            )
    if not shared:
        yield row.not_assessed(
            space=space, subjects=(space,), because="does not apply", working=("no counter serves two landings",)
        )


@check(reads=LANDING_KINDS, uses={"kitchen"}, options={"side_by_side_landing"})
def landing_areas(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure depth and height of each counter that an appliance or sink lands on, each stretch once.

    The shallowest piece of what serves is told, and of the whole counter where too little serves. Where one
    counter suffices, others on which the same thing could land are left out. What an appliance garage takes
    of the depth stands in the working.
    """
    found, space = kitchen(view, rules), view.space.id
    stretches: dict[tuple[int, float], Claim] = {}
    for demand in demands(found):
        for claim in (claim for way in demand.good_ways for claim in way):
            if claim.landing.key is not None:
                stretches.setdefault(claim.landing.key, claim)
    for part in ("depth", "height"):
        if not rules.has("K11b", part):
            continue
        row = rules.row("K11b", part)
        if not stretches:
            yield row.not_assessed(
                space=space, subjects=(space,), because="does not apply", working=("no landing area is recorded here",)
            )
        for claim in stretches.values():
            landing, owner = claim.landing, claim.owner
            pieces = landing.pieces if claim.short_mm else landing.serving
            piece = min(pieces, key=lambda piece: piece.depth_mm)
            measured = piece.depth_mm if part == "depth" else landing.pieces[0].height_mm
            front = piece.front
            middle = front.length_mm / 2
            across = Mark("measure", (front.at(middle), front.at(middle, -piece.depth_mm)), show_inches(piece.depth_mm))
            yield row.finding(
                space=space,
                subjects=(owner.id, *landing.counters),
                part=f"{part}, {landing.where}",
                measured=Quantity(measured, "mm"),
                working=(
                    f"{part} of the counter {_WHERE[landing.where]} {owner.thing.called}: {both(measured)}",
                    *landing.working[1:],
                ),
                marks=(across,) if part == "depth" else landing.marks,
                assumed=found.found.assumed_tops(),
            )
