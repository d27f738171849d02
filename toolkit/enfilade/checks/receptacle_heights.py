"""Heights of receptacles and switches: above and below the counter, and within reach."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from enfilade.checks.beside import middle_mm, point_mark
from enfilade.checks.layout import COUNTERS
from enfilade.checks.receptacles import serving_counter
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.checks.wall_counter import NEAR_WALL_MM
from enfilade.findings import Finding, Requirement
from enfilade.geometry.boxes import Segment
from enfilade.lengths import TOLERANCE_MM, show_inches
from enfilade.project.services import Receptacle
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import Surface
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["receptacle_and_counter", "receptacle_reach", "switch_and_outlet_reach"]

_SIDES = ("front", "back", "left", "right")


@check(reads={"receptacle", *COUNTERS}, uses={"kitchen"}, options={"receptacle_edition"})
def receptacle_and_counter(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure how far each counter receptacle lies above or below the counter that it serves, middle to top.

    Below a counter the top's overhang on that side is measured too; editions from 2023 are silent there.
    """
    parts = ("above", "below", "overhang")
    if not all(rules.has("IE4", part) for part in parts):
        return
    above, below, overhang = (rules.row("IE4", part) for part in parts)
    found = serving_counter(view)
    if not found:
        yield above.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("no receptacle here serves a counter",),
        )
    for stand, _ in found:
        top = _counter_at(stand, view.things(*COUNTERS))
        if top is None:
            yield above.not_assessed(
                space=view.space.id,
                subjects=(stand.id,),
                because="missing fact",
                needs=(f"the counter at {stand.id}",),
                marks=point_mark([stand]),
            )
            continue
        gap_mm = middle_mm(stand) - top.thing.top_mm
        if gap_mm >= 0:
            yield _height(view, above, stand, top, gap_mm, "above")
        elif rules.option("receptacle_edition") == "2023":
            yield below.not_assessed(
                space=view.space.id,
                subjects=(stand.id, top.id),
                because="source silent",
                working=(f"below the top of {top.thing.called}: editions from 2023 give no figure",),
                marks=point_mark([stand]),
            )
        else:
            yield _height(view, below, stand, top, -gap_mm, "below")
            over_mm = _overhang(stand, top)
            yield overhang.finding(
                space=view.space.id,
                subjects=(stand.id, top.id),
                measured=Quantity(over_mm, "mm"),
                working=(f"the top hangs over by {both(over_mm)} on this side",),
                marks=point_mark([stand]),
            )


def _height(view: View, row: Row, stand: Stand, top: Stand, gap_mm: float, where: str) -> Finding:
    return row.finding(
        space=view.space.id,
        subjects=(stand.id, top.id),
        measured=Quantity(gap_mm, "mm"),
        working=(f"its middle lies {both(gap_mm)} {where} the top of the {top.thing.called}",),
        marks=point_mark([stand]),
        assumed=(*stand.thing.assumed("bottom_mm", "top_mm"), *top.thing.assumed("top_mm")),
    )


def _counter_at(stand: Stand, tops: Sequence[Stand]) -> Stand | None:
    """Return the counter that a receptacle stands at, over or under; the nearest within 6 in in plan."""
    near = [(round(stand.box.polygon.distance(top.box.polygon), 3), top.id, top) for top in tops]
    at = [one for one in near if one[0] <= NEAR_WALL_MM]
    return min(at, key=lambda one: one[:2])[2] if at else None


def _overhang(stand: Stand, top: Stand) -> float:
    thing = top.thing
    sides: dict[str, Segment] = {name: side_of(top.box, name) for name in _SIDES}
    nearest = min(_SIDES, key=lambda name: abs(sides[name].place((stand.box.x, stand.box.y))[1]))
    return float(getattr(thing.overhang, f"{nearest}_mm")) if isinstance(thing, Surface) else 0.0


@check(reads={"receptacle", *COUNTERS}, uses={"kitchen"})
def receptacle_reach(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the middle of each counter receptacle against the reach, which a counter below it lowers.

    Over a counter deeper than 25 in the source gives no reach: what is too high over 25 in is too high
    there too, and the rest is not assessed.
    """
    if not all(rules.has("K30", part) for part in ("reach", "reach over counter", "counter depth", "force")):
        return
    plain, over, force = (rules.row("K30", part) for part in ("reach", "reach over counter", "force"))
    depth = rules.row("K30", "counter depth")
    found = serving_counter(view)
    if not found:
        for row in (plain, force):
            yield row.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="does not apply",
                working=("no receptacle here serves a counter",),
            )
    for stand, thing in found:
        depth_mm = _reached_over(stand, view.things(*COUNTERS))
        working = [f"floor to its middle {both(middle_mm(stand))}"]
        if depth_mm is not None:
            working.append(f"over a counter {both(depth_mm)} deep")
        row = plain if depth_mm is None or depth_mm < depth.low_mm - TOLERANCE_MM else over
        deep = depth_mm is not None and depth_mm > depth.high_mm + TOLERANCE_MM
        if deep and row.requirement.met_by(Quantity(middle_mm(stand), "mm")):
            working.append(f"the source gives no reach over a counter deeper than {show_inches(depth.high_mm)}")
            yield row.not_assessed(
                space=view.space.id,
                subjects=(stand.id,),
                because="source silent",
                working=working,
                marks=point_mark([stand]),
            )
        else:
            yield _reach(view, row, stand, working)
        yield _one_hand(view, force, stand, thing)


def _reached_over(stand: Stand, tops: Sequence[Stand]) -> float | None:
    """Return the depth of the counter between a person and what lies above it [mm]; None without one."""
    top = _counter_at(stand, [top for top in tops if top.thing.kind == "counter"])
    return None if top is None or middle_mm(stand) < top.thing.top_mm else top.box.depth_mm


def _reach(view: View, row: Row, stand: Stand, working: Sequence[str], title: str | None = None) -> Finding:
    return row.finding(
        space=view.space.id,
        subjects=(stand.id,),
        measured=Quantity(middle_mm(stand), "mm"),
        working=working,
        marks=point_mark([stand]),
        title=title,
        assumed=stand.thing.assumed("bottom_mm", "top_mm"),
    )


def _one_hand(view: View, row: Row, stand: Stand, thing: Receptacle) -> Finding:
    if thing.one_hand is None:
        needs = (f"{stand.id}.one_hand",)
        return row.not_assessed(space=view.space.id, subjects=(stand.id,), because="missing fact", needs=needs)
    return row.finding(
        space=view.space.id,
        subjects=(stand.id,),
        measured=Quantity(float(thing.one_hand), "count"),
        required=Requirement("at least", 1, "count"),
        title="Receptacles used with one hand and a small force",
        working=("recorded as used with one hand and a small force" if thing.one_hand else "not so recorded",),
        also=(f"The printed figure is a force of at most {row.printed}; it is not measured here.",),
    )


@check(reads={"receptacle", "switch", *COUNTERS})
def switch_and_outlet_reach(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold switches, and receptacles that serve no counter, against the forward reach, in every room."""
    parts = (("A3082", "high"), ("A3082", "low"), ("A3082b", "over 20 in"), ("A3082b", "over 25 in"), ("A309", ""))
    if not all(rules.has(rule, part) for rule, part in parts):
        return
    counters = {stand.id for stand, _ in serving_counter(view)}
    tops = [top for top in view.things(*COUNTERS) if top.thing.kind == "counter"]
    for stand in view.things("receptacle", "switch"):
        if stand.id in counters:
            continue
        yield _reach(view, rules.row("A3082", "low"), stand, (f"floor to its middle {both(middle_mm(stand))}",))
        below = [top for top in tops if _behind(stand, top)]
        deep_mm = max((t.box.depth_mm for t in below if t.thing.top_mm <= middle_mm(stand)), default=None)
        yield _highest(view, rules, stand, deep_mm)
        if isinstance(stand.thing, Receptacle):
            yield _one_hand(view, rules.row("A309"), stand, stand.thing)


def _behind(stand: Stand, top: Stand) -> bool:
    """Tell whether one reaches over a counter to what lies above it or in the wall behind; not beside its end."""
    along, ahead = top.box.front.place((stand.box.x, stand.box.y))
    return 0 <= along <= top.box.width_mm and -top.box.depth_mm - NEAR_WALL_MM <= ahead <= -TOLERANCE_MM


def _highest(view: View, rules: Yardstick, stand: Stand, deep_mm: float | None) -> Finding:
    if deep_mm is None:
        return _reach(view, rules.row("A3082", "high"), stand, (f"floor to its middle {both(middle_mm(stand))}",))
    line = f"floor to its middle {both(middle_mm(stand))}, over a counter {both(deep_mm)} deep"
    for part in ("over 20 in", "over 25 in"):
        row = rules.row("A3082b", part)
        if row.key_mm is not None and deep_mm <= row.key_mm + TOLERANCE_MM:
            return _reach(view, row, stand, (line,))
    row = rules.row("A3082b", "over 25 in")
    if not row.requirement.met_by(Quantity(middle_mm(stand), "mm")):
        return _reach(view, row, stand, (line,))
    # Deeper than the source lets anyone reach, and low enough for 25 in: nothing to measure against.
    return row.not_assessed(
        space=view.space.id, subjects=(stand.id,), because="source silent", working=(line,), marks=point_mark([stand])
    )
