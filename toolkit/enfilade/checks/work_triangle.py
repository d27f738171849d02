"""The work triangle of each cook: its sum, its sides, and what they cut."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations
from typing import Final

import shapely

from enfilade.checks.cooks import Cook, cooks, holds_food, missing_centres
from enfilade.checks.floor import FLOOR_KINDS, obstacles
from enfilade.checks.floor_before import standing_edge
from enfilade.checks.layout import RUN_KINDS, Centre, Layout, layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.points import angle_between_deg
from enfilade.geometry.walks import length_inside
from enfilade.lengths import show_length
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.work_centres import work_triangle

# Fronts of one straight run differ by no more than this (a range beside a counter); what is in line with an
# end of a leg is the run at which the cook stands, not something in the way.
_IN_LINE_MM: Final = 160.0
_ZONE: Final = ("dishwasher", "oven", "microwave")


def _together(view: View) -> int:
    return view.household.cooks_together or 1


def _said(view: View) -> tuple[str, ...]:
    if view.household.cooks_together is None:
        return ("How many cook together is not recorded: one triangle is drawn.",)
    return ()


@check(reads={*RUN_KINDS, "household"}, uses={"kitchen"})
def triangle(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the triangle of each cook between centre fronts: the sum of three straight sides, and each side."""
    found = layout(view)
    missing = missing_centres(found, view.space.id)
    if missing:
        for part in ("sum", "leg"):
            if rules.has("K3", part):
                yield rules.row("K3", part).not_assessed(
                    space=view.space.id, subjects=(view.space.id,), because="missing fact", needs=missing
                )
        return
    together = cooks(found, _together(view))
    for cook in together:
        if rules.has("K3", "sum"):
            yield _sum(view, rules, found, cook, together)
        if rules.has("K3", "leg"):
            for a, b in combinations(cook.centres, 2):
                pair = {a.stand.id, b.stand.id}
                # A leg between two centres that cooks share is one leg, told with the first of them.
                if not any(pair <= set(_ids(earlier)) for earlier in together[: together.index(cook)]):
                    yield _leg(view, rules, found, cook, a, b)


def _ids(cook: Cook) -> tuple[str, ...]:
    return tuple(centre.stand.id for centre in cook.centres)


def _sum(view: View, rules: Yardstick, found: Layout, cook: Cook, together: list[Cook]) -> Finding:
    three = work_triangle(*cook.points)
    working = [*_said(view), *three.working, f"in all {show_length(three.sum_mm, 'us')} ({three.sum_mm:.0f} mm)"]
    if len(together) > 1:
        zone = [*_ids(cook), *_zone(found, cook, together)]
        working.append(f"cook {cook.number} works at {names(view).listed(zone)}")
        if cook.shares:
            shared = (c.stand.id for c in cook.centres if c.kind in cook.shares)
            working.append(f"shared with another cook: {names(view).listed(shared)}")
    return rules.row("K3", "sum").finding(
        space=view.space.id,
        subjects=_ids(cook),
        part=f"sum, cook {cook.number}",
        measured=Quantity(three.sum_mm, "mm"),
        working=working,
        marks=(Mark("area", cook.points, f"cook {cook.number}"),),
        assumed=_assumed(cook.centres),
        also=(*_from_the_edge(rules.row("K3", "sum"), found, cook.centres, three.sum_mm), *_practice(rules, together)),
    )


def _practice(rules: Yardstick, together: list[Cook]) -> tuple[str, ...]:
    if len(together) > 1 and rules.has("P5"):
        return (f"{rules.row('P5').words} {len(together)} triangles are drawn for {len(together)} cooks.",)
    return ()


def _zone(found: Layout, cook: Cook, together: list[Cook]) -> list[str]:
    """Return the other appliances that are nearer to this cook's triangle than to any other's."""
    near = []
    for stand in found.stands.values():
        if stand.thing.kind in _ZONE:
            point = stand.box.front.midpoint
            reach = {one.number: round(min(math.dist(point, p) for p in one.points), 3) for one in together}
            if min(reach, key=lambda number: (reach[number], number)) == cook.number:
                near.append(stand.id)
    return near


def _from_to(view: View, a: Centre, b: Centre) -> str:
    return " to ".join(names(view).of(a.stand.id, b.stand.id))


def _assumed(centres: tuple[Centre, ...]) -> tuple[str, ...]:
    return tuple(name for centre in centres for name in centre.stand.thing.assumed("width_mm", "depth_mm"))


def _from_the_edge(row: Row, found: Layout, centres: tuple[Centre, ...], length_mm: float) -> tuple[str, ...]:
    """Return a sentence where it decides whether one measures from the sink itself or from its counter's edge.

    The source says front edge of the sink; its travelled distance starts where the cook stands.
    """
    points = [standing_edge(centre.stand, found.tops).midpoint for centre in centres]
    edge_mm = sum(math.dist(a, b) for a, b in combinations(points, 2))
    met, met_from_edge = (row.requirement.met_by(Quantity(length, "mm")) for length in (length_mm, edge_mm))
    if met == met_from_edge:
        return ()
    words = "holds" if met_from_edge else "does not hold"
    return (f"Measured from the counter edges at which the cook stands it is {both(edge_mm)}, and {words}.",)


def _leg(view: View, rules: Yardstick, found: Layout, cook: Cook, a: Centre, b: Centre) -> Finding:
    length = math.dist(a.point, b.point)
    return rules.row("K3", "leg").finding(
        space=view.space.id,
        subjects=(a.stand.id, b.stand.id),
        part=f"leg, cook {cook.number}",
        measured=Quantity(length, "mm"),
        working=(f"{_from_to(view, a, b)}, centre front to centre front: {both(length)}",),
        marks=(Mark("measure", (a.point, b.point), both(length)),),
        also=_from_the_edge(rules.row("K3", "leg"), found, (a, b), length),
        assumed=_assumed((a, b)),
    )


@check(reads={*RUN_KINDS, "household"}, uses={"kitchen"})
def further_centres(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure from each further sink, cooking surface or refrigerator to the nearest centre of a triangle.

    A wine cooler holds no food and is no centre.
    """
    if not rules.has("K3b"):
        return
    row = rules.row("K3b")
    found = layout(view)
    together = cooks(found, _together(view))
    inside = {centre.stand.id: centre for cook in together for centre in cook.centres}
    further = [centre for centre in found.centres if centre.stand.id not in inside and holds_food(centre)]
    if not together or not further:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply" if together else "missing fact",
            needs=() if together else missing_centres(found, view.space.id),
            working=("No sink, cooking surface or refrigerator stands beside the triangles.",) if together else (),
        )
        return
    for centre in further:
        near = min(inside.values(), key=lambda other: round(math.dist(centre.point, other.point), 3))
        length = math.dist(centre.point, near.point)
        yield row.finding(
            space=view.space.id,
            subjects=(centre.stand.id, near.stand.id),
            measured=Quantity(length, "mm"),
            working=(f"{_from_to(view, centre, near)}, the nearest centre of a triangle: {both(length)}",),
            marks=(Mark("measure", (centre.point, near.point), both(length)),),
            also=("Which walk is meant is not said; read here as the one to the nearest centre of a triangle.",),
            assumed=_assumed((centre, near)),
        )


@check(reads={*RUN_KINDS, *FLOOR_KINDS, "household"}, uses={"kitchen"})
def legs_through_obstacles(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure how much of each side of a triangle lies inside an obstacle.

    The side is taken from the edge at which the cook stands, so that a sink set back from its counter's edge
    cuts nothing by that alone. An island in which a sink is set counts when the side passes through it.
    """
    if not rules.has("K3c"):
        return
    row = rules.row("K3c")
    found = layout(view)
    together = cooks(found, _together(view))
    if not together:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="missing fact",
            needs=missing_centres(found, view.space.id),
        )
    stands = {stand.id: stand for stand in view.room_things(*FLOOR_KINDS)}
    shapes = obstacles(stands.values())
    for cook in together:
        for a, b in combinations(cook.centres, 2):
            start, end = (standing_edge(c.stand, found.tops).midpoint for c in (a, b))
            side = shapely.LineString([start, end])
            others = {
                name: shape
                for name, shape in shapes.items()
                if shape.intersects(side)
                and name not in (a.stand.id, b.stand.id)
                and not _its_own_run(stands[name], (a, b))
            }
            length = length_inside(start, end, others.values())
            cut = [name for name, shape in others.items() if length_inside(start, end, [shape]) > 1.0]
            one, other, *inside = names(view).of(a.stand.id, b.stand.id, *cut)
            through = f"{both(length)} inside {', '.join(inside)}" if cut else "through nothing"
            yield row.finding(
                space=view.space.id,
                subjects=(a.stand.id, b.stand.id),
                part=f"cook {cook.number}",
                measured=Quantity(length, "mm"),
                working=(f"{one} to {other}: {through}",),
                marks=(Mark("path", (start, end)),),
                also=_hosted(view, found, (a, b), cut),
            )


def _hosted(view: View, found: Layout, ends: tuple[Centre, Centre], cut: list[str]) -> tuple[str, ...]:
    hosts = {host.id for end in ends if (host := found.host_of(end.stand)) is not None}
    own = (names(view).one(top) for top in cut if top in hosts)
    return tuple(f"One of the two is set in {top}; the side passes through it, and that is counted." for top in own)


def _its_own_run(stand: Stand, ends: tuple[Centre, Centre]) -> bool:
    """Tell whether a counter, cabinet or dishwasher stands in line with an end of the side."""
    if stand.thing.kind not in ("counter", "base cabinet", "dishwasher"):
        return False
    front = stand.box.front
    for end in ends:
        own = end.stand.box.front
        same = abs(angle_between_deg(front.direction, own.direction)) <= 1.0
        if same and abs(own.place(front.midpoint)[1]) <= _IN_LINE_MM:
            return True
    return False
