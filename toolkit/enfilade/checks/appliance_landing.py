"""Landings for the refrigerator, the microwave and the oven."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from enfilade.checks.beside import does_not_apply, lacks
from enfilade.checks.demands import (
    cold_ways,
    holds_food,
    latch_of,
    microwave_ways,
    opens_into_walkway,
    oven_ways,
    within,
)
from enfilade.checks.landings import LANDING_KINDS, SIDES, Kitchen, Landing, Side, kitchen
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.appliances import Microwave, Refrigerator
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["microwave_landing", "oven_landing", "refrigerator_landing", "side_opening_oven"]

_ACROSS: Final = "Measured front to front; a landing off to one side, to its far end (our own reading of 'across')."


@check(reads=LANDING_KINDS, uses={"kitchen"}, options={"side_by_side_landing"})
def refrigerator_landing(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the counter that serves each refrigerator: at the handle, on either side, above, or across.

    A refrigerator for wine alone asks for none (our own reading). A landing across is taken only where none
    beside is long enough; it is measured front to front, and one off to one side to its far end.
    """
    if not rules.has("K16", "landing"):
        return
    found = kitchen(view, rules)
    stands = [stand for stand in view.things("refrigerator") if holds_food(stand)]
    if not stands:
        words = "no refrigerator for food is recorded here"
        yield from (lacks(view, row, "cold", words) for row in _both(rules, "K16"))
    for stand in stands:
        ways = cold_ways(found, stand)
        beside: list[Landing] = _least_of(ways)
        needs: tuple[str, ...] = ()
        if _handle_unknown(found, stand):
            beside, decides = _either_handle(beside, _asked(rules, "K16"))
            needs = (f"{stand.id}.handle",) if decides else ()
        yield from _landing(view, found, stand, "K16", beside, needs=needs, also=_one_side_note(found, stand))


def _either_handle(sides: list[Landing], asked_mm: float) -> tuple[list[Landing], bool]:
    """Return the landings of a door whose handle is unknown, and whether the handle decides.

    Where both sides are long enough, the shorter is told; where neither is, the longer.
    """
    enough = [landing.length_mm >= asked_mm - TOLERANCE_MM for landing in sides]
    return (sides[::-1] if all(enough) else sides), any(enough) and not all(enough)


def _handle_unknown(found: Kitchen, stand: Stand) -> bool:
    thing = stand.thing
    assert isinstance(thing, Refrigerator)
    return thing.doors == "single" and thing.handle is None and found.over(stand) is None


def _one_side_note(found: Kitchen, stand: Stand) -> tuple[str, ...]:
    """Say how the other reading of 'on either side' comes out."""
    thing = stand.thing
    assert isinstance(thing, Refrigerator)
    if thing.doors not in ("side by side", "two doors over a drawer") or found.over(stand) is not None:
        return ()
    asked = _asked(found.rules, "K16")
    sides = {side: found.beside(stand, side).length_mm for side in SIDES}
    long_enough = [side for side, length in sides.items() if length >= asked - TOLERANCE_MM]
    if len(long_enough) == 1:
        other: Side = "left" if long_enough[0] == "right" else "right"
        return (f"Only the {long_enough[0]} side has {both(asked)}; the {other} side has {both(sides[other])}.",)
    return ()


@check(reads=LANDING_KINDS, uses={"kitchen"})
def microwave_landing(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the counter below or above each microwave, or beside its handle; the longest of them is taken."""
    if not rules.has("K22"):
        return
    row, found = rules.row("K22"), kitchen(view, rules)
    stands = view.things("microwave")
    if not stands:
        yield does_not_apply(view, row, "no microwave is recorded here")
    for stand in stands:
        ways = microwave_ways(found, stand)
        thing = stand.thing
        assert isinstance(thing, Microwave)
        landings = _least_of(ways)
        needs: tuple[str, ...] = ()
        over = any(one.where in ("above", "below") and one.length_mm >= row.value_mm - TOLERANCE_MM for one in landings)
        if thing.handle is None and not over:
            landings, decides = _either_handle(
                [one for one in landings if one.where in ("left", "right")], row.value_mm
            )
            needs = (f"{stand.id}.handle",) if decides else ()
        yield _beside(view, found, stand, row, landings, needs)


@check(reads=LANDING_KINDS, uses={"kitchen"})
def oven_landing(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the counter next to or above each oven; one across only where the oven opens into a work aisle.

    An aisle counts as a work aisle when a sink, cooking surface or refrigerator stands on either side of it;
    who walks through it is not asked. The oven of a range takes its landing from guideline 17.
    """
    if not rules.has("K23", "landing"):
        return
    found = kitchen(view, rules)
    stands = view.things("oven")
    if not stands:
        words = "no oven by itself is recorded here; that of a range takes guideline 17"
        yield from (does_not_apply(view, row, words) for row in _both(rules, "K23"))
    for stand in stands:
        yield from _landing(view, found, stand, "K23", _least_of(oven_ways(found, stand)))


@check(reads=LANDING_KINDS, uses={"kitchen"})
def side_opening_oven(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count counter next to the latch of a side-opening oven, or beside one that opens downwards."""
    found = kitchen(view, rules)
    latch_row = next((rules.row(*name) for name in (("K23a", ""), ("A8065", "latch side")) if rules.has(*name)), None)
    beside_row = rules.row("A8065", "beside") if rules.has("A8065", "beside") else None
    for row, wanted in ((latch_row, "side"), (beside_row, "bottom")):
        if row is None:
            continue
        stands = view.things("oven")
        if not stands:
            yield does_not_apply(view, row, "no oven by itself is recorded here")
        for stand in stands:
            yield _opening(view, found, stand, row, wanted)


def _opening(view: View, found: Kitchen, stand: Stand, row: Row, wanted: str) -> Finding:
    latch = latch_of(stand)
    drops = any(leaf.kind == "drop-down" for leaf in stand.thing.leaves)
    if latch is None and not drops:
        return row.not_assessed(
            space=view.space.id,
            subjects=(stand.id,),
            because="missing fact",
            needs=(f"{stand.id}.latch", f"{stand.id}.opens"),
        )
    if (wanted == "side") != (latch is not None):
        opens = "sideways" if latch is not None else "downwards"
        return row.not_assessed(
            space=view.space.id, subjects=(stand.id,), because="does not apply", working=(f"its door opens {opens}",)
        )
    landings = [found.beside(stand, side) for side in SIDES if latch in (None, side)]
    count = min(1, sum(landing.length_mm > TOLERANCE_MM for landing in landings))
    return row.finding(
        space=view.space.id,
        subjects=(stand.id,),
        measured=Quantity(count, "count"),
        working=tuple(line for landing in landings for line in landing.working),
        marks=tuple(mark for landing in landings for mark in landing.marks),
        assumed=(*stand.thing.assumed("latch", "opens", "place"), *found.found.assumed_tops()),
    )


def _asked(rules: Yardstick, rule: str) -> float:
    return rules.row(rule, "landing").value_mm


def _least_of(ways: Sequence[Sequence[Landing]]) -> list[Landing]:
    """Return the ways, the longest first; of a way that needs several landings, the shortest."""
    return sorted((min(way, key=lambda one: one.length_mm) for way in ways), key=lambda one: -one.length_mm)


def _both(rules: Yardstick, rule: str) -> list[Row]:
    return [rules.row(rule, part) for part in ("landing", "across") if rules.has(rule, part)]


def _landing(
    view: View,
    found: Kitchen,
    stand: Stand,
    rule: str,
    beside: list[Landing],
    *,
    needs: tuple[str, ...] = (),
    also: tuple[str, ...] = (),
) -> Iterator[Finding]:
    """Yield the landing of a refrigerator or oven, beside it or else across, and how far that one across is."""
    rules = found.rules
    row, asked = rules.row(rule, "landing"), _asked(rules, rule)
    across_row = rules.row(rule, "across") if rules.has(rule, "across") else None
    facing = found.across(stand, asked)
    words = facing[0].working[:1] if facing else (f"no counter of {both(asked)} across from {stand.thing.called}",)
    suffices = not needs and beside[0].length_mm >= asked - TOLERANCE_MM
    usable = within(found, stand, asked, across_row.value_mm) if across_row and not suffices else []
    if rule == "K23":
        blocked = [landing for landing in facing[:1] if opens_into_walkway(found, stand, landing)]
        usable = [landing for landing in usable if not opens_into_walkway(found, stand, landing)]
        if blocked:
            words = (
                *words,
                "no work centre stands on either side of that floor: a walkway, so a landing across does not count",
            )
            facing = facing if usable else []
    if usable:
        yield row.finding(
            space=view.space.id,
            subjects=(stand.id,),
            measured=Quantity(usable[0].length_mm, "mm"),
            working=(*_lines(beside), *usable[0].working),
            marks=usable[0].marks,
            also=(*also, _ACROSS),
            assumed=(*stand.thing.assumed("place", "width_mm", "depth_mm"), *found.found.assumed_tops()),
        )
    else:
        yield _beside(view, found, stand, row, beside, needs, also, words)
    if across_row is not None:
        yield _across(view, stand, across_row, (usable or facing)[:1], suffices, words)


def _across(
    view: View, stand: Stand, row: Row, facing: list[Landing], suffices: bool, words: tuple[str, ...]
) -> Finding:
    if suffices or not facing:
        reason = ("a landing beside it is long enough",) if suffices else ()
        return row.not_assessed(
            space=view.space.id, subjects=(stand.id,), because="does not apply", working=(*reason, *words)
        )
    landing = facing[0]
    gap = landing.gap
    return row.finding(
        space=view.space.id,
        subjects=(stand.id, *landing.counters),
        measured=Quantity(landing.distance_mm, "mm"),
        working=words,
        marks=() if gap is None else (Mark("measure", (gap.a, gap.b), both(landing.distance_mm)),),
        assumed=stand.thing.assumed("place", "depth_mm"),
        also=(_ACROSS,),
    )


def _beside(
    view: View,
    found: Kitchen,
    stand: Stand,
    row: Row,
    landings: list[Landing],
    needs: tuple[str, ...],
    also: tuple[str, ...] = (),
    words: tuple[str, ...] = (),
) -> Finding:
    shared = (*_lines(landings), *words)
    assumed = (*stand.thing.assumed("place", "width_mm", "handle"), *found.found.assumed_tops())
    if needs:
        return row.not_assessed(
            space=view.space.id,
            subjects=(stand.id,),
            because="missing fact",
            needs=needs,
            working=shared,
            assumed=assumed,
            also=also,
        )
    return row.finding(
        space=view.space.id,
        subjects=(stand.id,),
        measured=Quantity(landings[0].length_mm, "mm"),
        working=shared,
        marks=landings[0].marks,
        assumed=assumed,
        also=also,
    )


def _lines(landings: Sequence[Landing]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(line for landing in landings for line in landing.working))
