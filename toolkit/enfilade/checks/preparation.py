"""The preparation area beside a sink."""

from __future__ import annotations

from collections.abc import Iterator

from enfilade.checks.beside import lacks
from enfilade.checks.demands import rule_of
from enfilade.checks.landings import LANDING_KINDS, SIDES, Kitchen, Landing, kitchen
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Requirement
from enfilade.lengths import TOLERANCE_MM, show_inches
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity, convert
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.landing import shared_landing

__all__ = ["preparation_area"]


@check(reads=LANDING_KINDS, uses={"kitchen"}, options={"preparation_shares_landing"})
def preparation_area(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the longest unbroken counter next to a sink that is deep enough to prepare food on.

    Whether it may lie on the sink's landing is an option; the finding tells both readings.
    """
    found = kitchen(view, rules)
    if not rules.has("K12", "width"):
        return
    rows = [rules.row("K12", part) for part in ("width", "depth") if rules.has("K12", part)]
    sinks = [centre.stand for centre in found.found.centres_of("sink")]
    best = _best(found, sinks)
    for row in rows:
        if not sinks:
            yield lacks(view, row, "sink")
        elif best is None:
            yield row.finding(
                space=view.space.id,
                subjects=(sinks[0].id,),
                measured=Quantity(0.0, "mm"),
                working=("no counter stands next to a sink",),
            )
        else:
            yield _judged(found, view, row, *best)


def _best(found: Kitchen, sinks: list[Stand]) -> tuple[Stand, Landing] | None:
    """Return the sink and the counter beside it to prepare on: the longest that is deep enough, else the longest."""
    deep = found.rules.row("K12", "depth").value_mm if found.rules.has("K12", "depth") else 0.0
    sides = [(sink, side) for sink in sinks for side in SIDES]
    at_depth = [(sink, found.beside(sink, side, depth_mm=deep)) for sink, side in sides]
    anyhow = [(sink, found.beside(sink, side, depth_mm=0.0)) for sink, side in sides]
    for group in (at_depth, anyhow):
        sink, landing = max(group, key=lambda pair: pair[1].length_mm, default=(None, None))
        if sink is not None and landing is not None and landing.length_mm > TOLERANCE_MM:
            return sink, landing
    return None


def _judged(found: Kitchen, view: View, row: Row, sink: Stand, landing: Landing) -> Finding:
    assumed = (*sink.thing.assumed("width_mm", "place"), *found.found.assumed_tops())
    subjects = (sink.id, *landing.counters)
    if row.part == "depth":
        pieces = [p for p in landing.pieces if landing.line is not None and _within(p.front.midpoint, landing)]
        depth = min((p.depth_mm for p in pieces or landing.pieces), default=0.0)
        return row.finding(
            space=view.space.id,
            subjects=subjects,
            measured=Quantity(depth, "mm"),
            assumed=assumed,
            working=(f"depth of the counter next to {sink.thing.called}: {both(depth)}",),
        )
    required, also = _readings(found, row, sink)
    return row.finding(
        space=view.space.id,
        subjects=subjects,
        measured=Quantity(landing.length_mm, "mm"),
        required=required,
        working=landing.working,
        marks=landing.marks,
        assumed=assumed,
        also=also,
    )


def _within(point: tuple[float, float], landing: Landing) -> bool:
    assert landing.line is not None
    return -1.0 < landing.line.place(point)[0] < landing.line.length_mm + 1.0


def _readings(found: Kitchen, row: Row, sink: Stand) -> tuple[Requirement | None, tuple[str, ...]]:
    """Return the requirement under the chosen reading, and what the other reading asks."""
    rule, rules = rule_of(sink), found.rules
    if not (rules.has("K24") and rules.has(rule, "shorter side")):
        return None, ()
    joint = shared_landing(row.value_mm, rules.row(rule, "shorter side").value_mm, by=rules).required_mm
    if rules.option("preparation_shares_landing"):
        return None, (f"If the preparation area counts like a landing, it and the sink's share {show_inches(joint)}.",)
    required = Requirement("at least", convert(joint, "mm", row.unit), row.unit)
    return required, (f"If the preparation area may lie on the sink's landing, {row.printed} are enough.",)
