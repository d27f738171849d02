"""Sinks, landings, work surfaces and cooking surfaces for a person who works seated (access rows)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from enfilade.checks.beside import does_not_apply, lacks
from enfilade.checks.demands import two_sides
from enfilade.checks.landings import LANDING_KINDS, SIDES, Kitchen, kitchen
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding
from enfilade.geometry.counters import counter_stretches
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.appliances import Cooktop, Range, Refrigerator, Sink
from enfilade.project.fields import Fact
from enfilade.project.standing import Stand
from enfilade.project.storage import BaseCabinet
from enfilade.project.surfaces import Surface
from enfilade.project.thing import KneeSpace
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["freezer_within_reach", "low_landing", "seated_cooking", "seated_sink", "work_surface"]


@dataclass(frozen=True)
class _Height:
    """A height, fixed or adjustable, with the record field that would make it known."""

    stand: Stand
    mm: float
    lowest_mm: float | None = None
    highest_mm: float | None = None

    @property
    def adjustable(self) -> bool:
        return self.lowest_mm is not None or self.highest_mm is not None


def _height_of(stand: Stand, mm: float | None = None) -> _Height:
    thing = stand.thing
    height = thing.top_mm if mm is None else mm
    if isinstance(thing, Surface | Sink):
        return _Height(stand, height, thing.adjustable_from_mm, thing.adjustable_to_mm)
    return _Height(stand, height)


def _heights(
    view: View, rules: Yardstick, rule: str, fixed: str, adjustable: str, height: _Height
) -> Iterator[Finding]:
    """Hold a fixed height against one row, or the worse end of an adjustable one against the other."""
    space, subjects = view.space.id, (height.stand.id,)
    if rules.has(rule, fixed):
        row = rules.row(rule, fixed)
        if height.adjustable:
            yield row.not_assessed(
                space=space, subjects=subjects, because="does not apply", working=("it is adjustable",)
            )
        else:
            yield row.finding(
                space=space,
                subjects=subjects,
                measured=Quantity(height.mm, "mm"),
                working=(f"height of {height.stand.thing.called}: {both(height.mm)}",),
                assumed=height.stand.thing.assumed("top_mm"),
            )
    if rules.has(rule, adjustable):
        row = rules.row(rule, adjustable)
        if not height.adjustable:
            yield row.not_assessed(
                space=space, subjects=subjects, because="does not apply", working=("no adjustable height is recorded",)
            )
        elif height.lowest_mm is None or height.highest_mm is None:
            lacking = "adjustable_from_mm" if height.lowest_mm is None else "adjustable_to_mm"
            yield row.not_assessed(
                space=space, subjects=subjects, because="missing fact", needs=(f"{height.stand.id}.{lacking}",)
            )
        else:
            ends = [Quantity(height.lowest_mm, "mm"), Quantity(height.highest_mm, "mm")]
            words = (
                f"adjustable from {both(height.lowest_mm)} to {both(height.highest_mm)}; the end further out is told"
            )
            yield row.finding(
                space=space,
                subjects=subjects,
                measured=min(ends, key=row.requirement.margin),
                working=(words,),
                assumed=height.stand.thing.assumed("adjustable_from_mm"),
            )


def _counted(
    view: View, row: Row, stand: Stand, fact: bool | None, words: str, need: str, *, bare: bool = False
) -> Finding:
    """Hold a recorded yes or no, counted as 1 or 0, against a row; `bare` counts what is lacking."""
    if fact is None:
        return row.not_assessed(space=view.space.id, subjects=(stand.id,), because="missing fact", needs=(need,))
    return row.finding(
        space=view.space.id,
        subjects=(stand.id,),
        measured=Quantity(int(fact != bare), "count"),
        working=(words,),
        assumed=stand.thing.assumed(need.rpartition(".")[2]),
    )


@check(reads=LANDING_KINDS, uses={"kitchen"})
def seated_sink(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold one sink against the access rows: the one with knee space, else the main sink."""
    found = kitchen(view, rules)
    names = [("K10a", part) for part in ("rim height", "adjustable rim", "bowl depth", "exposed pipes")]
    names += [("A606", "forward approach")]
    names += [("A606", "exposed pipes")] if not rules.has("K10a", "exposed pipes") else []
    names += [("A606", "")] if not rules.has("K10a", "rim height") else []
    sinks = [centre.stand for centre in found.found.centres_of("sink")]
    if not sinks:
        yield from (lacks(view, rules.row(*name), "sink") for name in names if rules.has(*name))
        return
    stand = next((s for s in sinks if isinstance(_knees_at(found, s), KneeSpace)), sinks[0])
    sink = stand.thing
    assert isinstance(sink, Sink)
    yield from _heights(view, rules, "K10a", "rim height", "adjustable rim", _height_of(stand))
    if ("A606", "") in names and rules.has("A606"):
        yield from _heights(view, rules, "A606", "", "", _height_of(stand))
    if rules.has("K10a", "bowl depth"):
        row = rules.row("K10a", "bowl depth")
        if sink.bowl_depth_mm is None:
            yield row.not_assessed(
                space=view.space.id, subjects=(stand.id,), because="missing fact", needs=(f"{stand.id}.bowl_depth_mm",)
            )
        else:
            yield row.finding(
                space=view.space.id,
                subjects=(stand.id,),
                measured=Quantity(sink.bowl_depth_mm, "mm"),
                working=(f"inside depth of the bowl: {both(sink.bowl_depth_mm)}",),
                assumed=sink.assumed("bowl_depth_mm"),
            )
    for name in names:
        if name[1] == "exposed pipes" and rules.has(*name):
            words = "pipes are covered" if sink.pipes_covered else "pipes are bare"
            yield _counted(
                view, rules.row(*name), stand, sink.pipes_covered, words, f"{stand.id}.pipes_covered", bare=True
            )
    if rules.has("A606", "forward approach"):
        knees = _knees_at(found, stand)
        fact = None if knees is None else isinstance(knees, KneeSpace)
        words = "knee space is recorded below it" if fact else "no knee space below it"
        yield _counted(view, rules.row("A606", "forward approach"), stand, fact, words, f"{stand.id}.knee_space")


def _knees_at(found: Kitchen, stand: Stand) -> KneeSpace | Fact | None:
    """Return the knee space below a thing: its own record, or that of the cabinet or counter that carries it."""
    own = getattr(stand.thing, "knee_space", None)
    if own is not None:
        return own  # type: ignore[no-any-return]
    middle = stand.box.polygon.centroid
    below = [
        s for s in found.found.stands.values() if isinstance(s.thing, BaseCabinet) and s.box.polygon.covers(middle)
    ]
    return next((s.thing.knee_space for s in below if isinstance(s.thing, BaseCabinet) and s.thing.knee_space), None)


@check(reads=LANDING_KINDS, uses={"kitchen"})
def low_landing(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the lowest landing beside the sinks against the height for a seated person."""
    found = kitchen(view, rules)
    if not rules.has("K11a", None):
        return
    sinks = [
        c.stand
        for c in found.found.centres_of("sink")
        if isinstance(c.stand.thing, Sink) and c.stand.thing.role != "auxiliary"
    ]
    heights = [
        _height_of(found.found.stands[piece.station_id], piece.height_mm)
        for sink in sinks
        for side in SIDES
        for piece in found.beside(sink, side).pieces
    ]
    if not heights:
        yield from (does_not_apply(view, row, "no landing lies beside a sink") for row in rules.rows("K11a"))
        return
    best = min(heights, key=lambda h: (not h.adjustable, h.mm, h.stand.id))
    yield from _heights(view, rules, "K11a", "height", "adjustable height", best)


@check(reads=LANDING_KINDS, uses={"kitchen"})
def work_surface(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the widest counter with knee space below: its width, its height and what lies below."""
    found = kitchen(view, rules)
    if not rules.has("K12a", None) and not rules.has("A8043", None):
        return
    rule = "K12a" if rules.has("K12a", "width") else "A8043"
    named = [(rule, part) for part in ("width", "height", "adjustable height")]
    named += [("A8043", "work surfaces"), ("A8043", "sharp surfaces")]
    rows = [rules.row(*name) for name in named if rules.has(*name)]
    carriers = [s for s in found.found.stands.values() if isinstance(s.thing, Surface | BaseCabinet)]
    open_below = [s for s in carriers if isinstance(_record(s), KneeSpace)]
    unknown = [s.id for s in carriers if isinstance(s.thing, Surface) and _record(s) is None]
    space = view.space.id
    if not open_below and unknown:
        needs = tuple(f"{name}.knee_space" for name in unknown)
        yield from (
            row.not_assessed(space=space, subjects=(space,), because="missing fact", needs=needs) for row in rows
        )
        return
    if not open_below:
        for row in rows:
            if row.part in ("width", "work surfaces"):
                zero = Quantity(0.0, "mm") if row.part == "width" else Quantity(0, "count")
                yield row.finding(
                    space=space, subjects=(space,), measured=zero, working=("no counter has knee space below",)
                )
            else:
                yield does_not_apply(view, row, "no counter has knee space below")
        return
    best = max(open_below, key=lambda s: (_open_width(found, s), s.id))
    top = found.found.host_of(best) or best
    if rules.has(rule, "width"):
        width = _open_width(found, best)
        yield rules.row(rule, "width").finding(
            space=space,
            subjects=(best.id,),
            measured=Quantity(width, "mm"),
            working=(f"unbroken counter with knee space below it: {both(width)}",),
            assumed=(*best.thing.assumed("knee_space"), *found.found.assumed_tops()),
        )
    yield from _heights(view, rules, rule, "height", "adjustable height", _height_of(top))
    if rules.has("A8043", "work surfaces"):
        yield rules.row("A8043", "work surfaces").finding(
            space=space,
            subjects=tuple(s.id for s in open_below),
            measured=Quantity(len(open_below), "count"),
            working=(f"work surfaces with knee space below: {len(open_below)}",),
        )
    if rules.has("A8043", "sharp surfaces"):
        smooth = top.thing.smooth_below if isinstance(top.thing, Surface) else None
        words = "smooth below" if smooth else "something sharp or rough below"
        yield _counted(
            view, rules.row("A8043", "sharp surfaces"), top, smooth, words, f"{top.id}.smooth_below", bare=True
        )


def _record(stand: Stand) -> KneeSpace | Fact | None:
    thing = stand.thing
    return thing.knee_space if isinstance(thing, Surface | BaseCabinet) else None


def _open_width(found: Kitchen, stand: Stand) -> float:
    """Return the unbroken counter over a knee space: no wider than either [mm]."""
    knees = _record(stand)
    if not isinstance(knees, KneeSpace):
        return 0.0
    top = found.found.host_of(stand) or stand
    stretches = [stretch for run in found.found.runs for stretch in counter_stretches(run)]
    whole = [s.length_mm for s in stretches if any(piece.station_id == top.id for piece in s.pieces)]
    return min(knees.width_mm, max(whole, default=top.thing.width_mm))


@check(reads=LANDING_KINDS, uses={"kitchen"})
def seated_cooking(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold each cooking surface against the access rows: height, knee space at or beside it, underside, controls."""
    found = kitchen(view, rules)
    names = [("K17a", part) for part in ("height", "knee space", "bare underside")]
    names += [("A8064", part) for part in ("knee space", "bare underside") if not rules.has("K17a", part)]
    names += [("A8064", "reach across burners"), ("A8065", "front controls")]
    surfaces = [centre.stand for centre in found.found.centres_of("cooking")]
    for rule, part in (name for name in names if rules.has(*name)):
        row = rules.row(rule, part)
        stands = view.things("oven") if rule == "A8065" else surfaces
        if not stands and rule == "A8065":
            yield does_not_apply(view, row, "no oven by itself is recorded here")
        elif not stands:
            yield lacks(view, row, "cooking")
        for stand in stands:
            yield _cooking(view, found, row, stand)


def _cooking(view: View, found: Kitchen, row: Row, stand: Stand) -> Finding:
    thing = stand.thing
    if row.part == "height":
        return row.finding(
            space=view.space.id,
            subjects=(stand.id,),
            measured=Quantity(thing.top_mm, "mm"),
            working=(f"height of {thing.called}: {both(thing.top_mm)}",),
            assumed=thing.assumed("top_mm"),
        )
    controls = getattr(thing, "controls", None)
    if row.part == "front controls":
        fact = None if controls is None else controls == "front"
        return _counted(view, row, stand, fact, f"controls at the {controls}", f"{stand.id}.controls")
    assert isinstance(thing, Cooktop | Range)
    if row.part == "reach across burners":
        fact = None if controls is None else controls in ("front", "side")
        return _counted(view, row, stand, fact, f"controls at the {controls}", f"{stand.id}.controls", bare=True)
    if row.part == "bare underside":
        words = "insulated below" if thing.underside_insulated else "bare below"
        return _counted(
            view, row, stand, thing.underside_insulated, words, f"{stand.id}.underside_insulated", bare=True
        )
    near = [_knees_at(found, stand), *_beside(found, stand)]
    fact = True if any(isinstance(k, KneeSpace) for k in near) else None if None in near[:1] else False
    words = "knee space at or beside it" if fact else "no knee space at or beside it"
    return _counted(view, row, stand, fact, words, f"{stand.id}.knee_space")


def _beside(found: Kitchen, stand: Stand) -> Sequence[KneeSpace | Fact | None]:
    """Return the knee spaces recorded for the counters and cabinets next to a cooking surface."""
    ids = {p.station_id for landing in two_sides(found, stand) for p in landing.pieces}
    near = (s for s in found.found.stands.values() if s.id in ids or _touches(s, stand))
    return [_record(s) for s in near]


def _touches(other: Stand, stand: Stand) -> bool:
    near = float(other.box.polygon.distance(stand.box.polygon)) <= TOLERANCE_MM
    return near and isinstance(other.thing, BaseCabinet)


@check(reads={"refrigerator"}, uses={"kitchen"})
def freezer_within_reach(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the share of a freezer's height that lies below the greatest height within reach."""
    if not (rules.has("A8066", "freezer share") and rules.has("A8066", "freezer height")):
        return
    row, reach = rules.row("A8066", "freezer share"), rules.row("A8066", "freezer height").value_mm
    freezers = [
        s
        for s in view.things("refrigerator")
        if isinstance(s.thing, Refrigerator) and s.thing.holds in ("frozen", "both")
    ]
    if not view.things("refrigerator"):
        yield lacks(view, row, "cold")
    elif not freezers:
        yield does_not_apply(view, row, "no freezer is recorded here")
    for stand in freezers:
        thing = stand.thing
        assert isinstance(thing, Refrigerator)
        low, high = thing.freezer_bottom_mm, thing.freezer_top_mm
        lacking = _missing(stand.id, freezer_bottom_mm=low, freezer_top_mm=high)
        if low is None or high is None or high <= low:
            yield row.not_assessed(
                space=view.space.id,
                subjects=(stand.id,),
                because="missing fact",
                needs=lacking or (f"{stand.id}.freezer_top_mm",),
            )
            continue
        share = 100 * max(0.0, min(high, reach) - low) / (high - low)
        yield row.finding(
            space=view.space.id,
            subjects=(stand.id,),
            measured=Quantity(share, "%"),
            working=(f"freezer from {both(low)} to {both(high)}; up to {both(reach)}: {share:.0f}%",),
            assumed=thing.assumed("freezer_bottom_mm", "freezer_top_mm"),
        )


def _missing(id: str, **facts: float | None) -> tuple[str, ...]:
    names: Iterable[str] = (name for name, fact in facts.items() if fact is None)
    return tuple(f"{id}.{name}" for name in names)
