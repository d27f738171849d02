"""Landings beside sinks, and sinks near corners."""

from __future__ import annotations

from collections.abc import Iterator

from enfilade.checks.beside import does_not_apply, lacks
from enfilade.checks.demands import arrangements
from enfilade.checks.landings import LANDING_KINDS, Kitchen, Landing, kitchen
from enfilade.checks.layout import Layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding
from enfilade.geometry.counters import LEVEL_MM, straight_counter
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.appliances import Sink
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["sink_heights", "sink_landing", "sink_near_corner"]


def _sinks(found: Layout) -> list[Stand]:
    return [centre.stand for centre in found.centres_of("sink")]


def _auxiliary(stand: Stand) -> bool:
    return isinstance(stand.thing, Sink) and stand.thing.role == "auxiliary"


@check(reads=LANDING_KINDS, uses={"kitchen"})
def sink_landing(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the counter on both sides of each sink, from its edge to what ends the counter.

    The longer side is held against the longer landing: the most favourable reading. A corner ends the
    counter; the longer landing of an auxiliary sink is at its height. A dishwasher below is counter.
    """
    found = kitchen(view, rules)
    for rule, auxiliary in (("K11", False), ("K15", True)):
        sinks = [sink for sink in _sinks(found.found) if _auxiliary(sink) == auxiliary]
        for part in ("longer side", "shorter side"):
            if not rules.has(rule, part):
                continue
            row = rules.row(rule, part)
            if not sinks and auxiliary:
                yield does_not_apply(view, row, "no auxiliary sink is recorded here")
            elif not sinks:
                yield lacks(view, row, "sink", "no main sink is recorded here")
            for sink in sinks:
                yield _side(found, view, sink, rule, part)


def _side(found: Kitchen, view: View, sink: Stand, rule: str, part: str) -> Finding:
    row = found.rules.row(rule, part)
    if found.spot(sink) is None:
        return row.not_assessed(
            space=view.space.id,
            subjects=(sink.id,),
            because="missing fact",
            needs=(f"{sink.id}.place",),
            working=("its front is at no counter run",),
        )
    longer, shorter = min(arrangements(found, sink), key=lambda pair: _lacking(found, rule, pair))
    left, right = (longer, shorter) if longer.where == "left" else (shorter, longer)
    landing = longer if part == "longer side" else shorter
    corner = _corner_note(found, landing) if rule == "K11" and landing.length_mm < row.value_mm - TOLERANCE_MM else ()
    return row.finding(
        space=view.space.id,
        subjects=(sink.id,),
        measured=Quantity(landing.length_mm, "mm"),
        working=(
            *left.working,
            *right.working,
            f"the {'longer' if landing is longer else 'other'}: {both(landing.length_mm)}",
        ),
        marks=landing.marks,
        assumed=(*sink.thing.assumed("width_mm", "place"), *found.found.assumed_tops()),
        also=corner,
    )


def _lacking(found: Kitchen, rule: str, pair: tuple[Landing, Landing]) -> tuple[float, float]:
    """Return what a longer and a shorter landing lack together, and then how short the longer is [mm]."""
    parts = zip(("longer side", "shorter side"), pair, strict=True)
    asked = ((found.rules.row(rule, part).value_mm if found.rules.has(rule, part) else 0.0, one) for part, one in parts)
    lacks = sum(max(0.0, value - one.length_mm) for value, one in asked)
    return round(lacks, 3), -round(pair[0].length_mm, 3)


def _corner_note(found: Kitchen, landing: Landing) -> tuple[str, ...]:
    if landing.ended_by != "corner" or not found.rules.has("K11c", "return frontage"):
        return ()
    asked = found.rules.row("K11c", "return frontage").value_mm
    back = return_frontage(found, landing)
    if back < asked - TOLERANCE_MM:
        return ()
    return (f"Round the corner {both(back)} of counter follow; the rule for a sink near a corner is judged by itself.",)


def return_frontage(found: Kitchen, landing: Landing) -> float:
    """Return the counter that follows round the corner that ends a landing, from the corner on [mm]."""
    return _round_corner(found, landing)[0]


def _round_corner(found: Kitchen, landing: Landing) -> tuple[float, str]:
    beyond = landing.beyond
    if landing.ended_by != "corner" or beyond is None:
        return 0.0, "no counter round the corner"
    if beyond.role != "counter":
        return 0.0, f"round the corner stands {found.names.one(beyond.station_id)}"
    run = found.found.runs[landing.run]
    index = next(i for i, piece in enumerate(run.pieces) if piece is beyond)
    further = straight_counter(run, index, "right" if landing.where == "right" else "left")
    pieces = (beyond, *(p for p in further.pieces if p is not beyond))
    spans, limits = found.usable(sorted(pieces, key=lambda p: p.start_mm))
    edge = beyond.start_mm if landing.where == "right" else beyond.end_mm
    span = next(((a, b) for a, b in spans if a - 1.0 <= edge <= b + 1.0), (edge, edge))
    return span[1] - span[0], "; ".join((f"counter round the corner: {both(span[1] - span[0])}", *limits))


@check(reads=LANDING_KINDS, uses={"kitchen"})
def sink_near_corner(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure from a sink to the inside corner beside it, and the counter that follows round that corner."""
    found = kitchen(view, rules)
    parts = [part for part in ("sink to corner", "return frontage", "centreline to corner") if rules.has("K11c", part)]
    cornered = [
        (sink, landing)
        for sink in _sinks(found.found)
        for landing in two_sides_any(found, sink)
        if landing.ended_by == "corner"
    ]
    for part in parts:
        row = rules.row("K11c", part)
        if not _sinks(found.found):
            yield lacks(view, row, "sink")
        elif not cornered:
            yield does_not_apply(view, row, "no sink has an inside corner at the end of its counter")
        for sink, landing in cornered:
            yield _near_corner(found, view, part, sink, landing)


def two_sides_any(found: Kitchen, sink: Stand) -> tuple[Landing, Landing]:
    """Return the counters on both sides of a sink, at whatever height."""
    return found.beside(sink, "left"), found.beside(sink, "right")


def _near_corner(found: Kitchen, view: View, part: str, sink: Stand, landing: Landing) -> Finding:
    row = found.rules.row("K11c", part)
    name = f"{part}, {landing.where}"
    assumed = (*sink.thing.assumed("width_mm", "place"), *found.found.assumed_tops())
    edge_mm = landing.whole_mm
    working: tuple[str, ...]
    if part == "sink to corner":
        measured, working = edge_mm, (f"sink edge to the inside corner: {both(edge_mm)}",)
    elif part == "centreline to corner":
        spot = found.spot(sink)
        half = (spot.end_mm - spot.start_mm) / 2 if spot else sink.thing.width_mm / 2
        measured = edge_mm + half
        working = (f"half the sink {both(half)} and {both(edge_mm)} to the corner: {both(measured)}",)
    else:
        short = (
            found.rules.row("K11c", "short side").value_mm if found.rules.has("K11c", "short side") else row.value_mm
        )
        if edge_mm >= short - TOLERANCE_MM:
            return row.not_assessed(
                space=view.space.id,
                subjects=(sink.id,),
                because="does not apply",
                part=name,
                working=(f"that side has {both(edge_mm)}, not less than {both(short)}",),
            )
        measured, words = _round_corner(found, landing)
        working = (f"that side has {both(edge_mm)}, less than {both(short)}", words)
    return row.finding(
        space=view.space.id,
        subjects=(sink.id,),
        measured=Quantity(measured, "mm"),
        part=name,
        working=working,
        assumed=assumed,
        marks=landing.marks,
    )


@check(reads=LANDING_KINDS, uses={"kitchen"})
def sink_heights(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Where counters beside a sink differ in height, measure the counter at the height of the sink on both sides.

    The height of a sink is that of the counter in which it is set, or its own rim.
    """
    found = kitchen(view, rules)
    for part in ("longer side", "shorter side"):
        if not rules.has("K11d", part):
            continue
        row = rules.row("K11d", part)
        sinks = [sink for sink in _sinks(found.found) if not _auxiliary(sink)]
        differing = [sink for sink in sinks if _heights_differ(found, sink)]
        if not sinks:
            yield lacks(view, row, "sink", "no main sink is recorded here")
        elif not differing:
            yield does_not_apply(view, row, "counters beside the sinks are at one height")
        for sink in differing:
            level = _height(found, sink)
            lengths = sorted((_at_height(landing, level) for landing in two_sides_any(found, sink)), reverse=True)
            yield row.finding(
                space=view.space.id,
                subjects=(sink.id,),
                measured=Quantity(lengths[0 if part == "longer side" else 1], "mm"),
                working=(
                    f"the sink stands at {both(level)}",
                    f"counter at that height: {both(lengths[0])} and {both(lengths[1])}",
                ),
                assumed=(*sink.thing.assumed("top_mm"), *found.found.assumed_tops()),
            )


def _height(found: Kitchen, sink: Stand) -> float:
    host = found.found.host_of(sink)
    return (host or sink).thing.top_mm


def _at_height(landing: Landing, level_mm: float) -> float:
    level = landing.pieces and abs(landing.pieces[0].height_mm - level_mm) <= LEVEL_MM
    return landing.length_mm if level else 0.0


def _heights_differ(found: Kitchen, sink: Stand) -> bool:
    level = _height(found, sink)
    for landing in two_sides_any(found, sink):
        if landing.pieces and abs(landing.pieces[0].height_mm - level) > LEVEL_MM:
            return True
        if landing.ended_by == "piece" and landing.beyond is not None and landing.beyond.role == "counter":
            return True
    return False
