"""Islands and peninsulas: large enough for what they carry and for the people who sit at them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from enfilade.checks.beside import does_not_apply
from enfilade.checks.layout import RUN_KINDS, Layout, layout
from enfilade.checks.registry import check
from enfilade.checks.seats import Places, places, ruled_knee
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark, Requirement
from enfilade.geometry.boxes import Segment
from enfilade.geometry.points import dot
from enfilade.project.standing import Stand, side_of
from enfilade.quantities import Quantity, convert
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.islands import cooking_depth, cooking_edge, sink_and_cooking_edge, sink_edge
from enfilade.trade.seating import seats_along

__all__ = ["back_to_back", "edge_for_work", "island_seats", "island_size"]

_ISLANDS: Final = ("island", "peninsula")
_SIDES: Final = ("front", "back", "left", "right")
_OPPOSITE: Final = {"front": "back", "back": "front", "left": "right", "right": "left"}


@check(reads=_ISLANDS, uses={"kitchen"})
def island_size(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the longer and the shorter side of each island's top against the smallest useful island."""
    for part, size in (("length", max), ("width", min)):
        if not rules.has("N4", part):
            continue
        row = rules.row("N4", part)
        islands = view.things("island")
        if not islands:
            yield does_not_apply(view, row, "no island is recorded here")
        for stand in islands:
            thing = stand.thing
            measured = size(thing.width_mm, thing.depth_mm)
            side = stand.box.front if measured == thing.width_mm else stand.box.left
            yield row.finding(
                space=view.space.id,
                subjects=(stand.id,),
                measured=Quantity(measured, "mm"),
                working=(f"top of {thing.called}: {both(thing.width_mm)} by {both(thing.depth_mm)}",),
                marks=(Mark("measure", (side.a, side.b), both(measured)),),
                assumed=thing.assumed("width_mm", "depth_mm"),
            )


@check(reads=_ISLANDS, uses={"kitchen"})
def island_seats(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the people on each edge against the seats that it takes, and the overhang against practice at 36 in high."""
    found = places(view.things(*_ISLANDS))
    if rules.has("N1"):
        row = rules.row("N1")
        if not found:
            yield does_not_apply(view, row, "no seats at an island or peninsula are recorded here")
        for one in found:
            legs = (one.row.legs_mm,) if one.row.legs_mm else ()
            fit = seats_along(one.edge_mm, legs_mm=legs, seat_width_mm=row.value_mm, by=rules)
            yield row.finding(
                space=view.space.id,
                subjects=one.subjects,
                measured=Quantity(one.row.count, "count"),
                required=Requirement("at most", fit.count, "count"),
                working=(*fit.working, f"recorded: {one.row.count}"),
                marks=(one.mark,),
                assumed=one.surface.assumed("width_mm", "depth_mm", "seating"),
            )
    if rules.has("N3"):
        yield from _overhangs(view, rules, found)


def _overhangs(view: View, rules: Yardstick, found: list[Places]) -> Iterator[Finding]:
    row = rules.row("N3")
    at_36 = [one for one in found if (ruled := ruled_knee(one, rules)) is not None and ruled.row.key == 36]
    if not at_36:
        yield does_not_apply(view, row, "no seats at an island or peninsula about 36 in high are recorded here")
    for one in at_36:
        over = one.surface.overhang.on(one.row.side)
        yield row.finding(
            space=view.space.id,
            subjects=one.subjects,
            measured=Quantity(over, "mm"),
            working=(f"overhang on the {one.row.side}: {both(over)}",),
            marks=(one.mark,),
            assumed=one.surface.assumed("overhang", "top_mm"),
        )


@check(reads=_ISLANDS, uses={"kitchen"})
def back_to_back(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Add up the knee depths of two rows of seats on opposite sides of one island."""
    rows = {row.key: row for row in rules.rows("N10")}
    if not rows or not any(row.key is not None for row in rules.rows("K9")):
        return
    found = places(view.things(*_ISLANDS))
    pairs = [
        (a, b)
        for i, a in enumerate(found)
        for b in found[i + 1 :]
        if a.stand is b.stand and b.row.side == _OPPOSITE[a.row.side]
    ]
    if not pairs:
        yield from (
            does_not_apply(view, row, "no two rows of seats face each other across an island") for row in rows.values()
        )
    for a, b in pairs:
        subjects = (a.stand.id, a.row.id, b.row.id)
        ruled = ruled_knee(a, rules)
        if ruled is None or ruled.row.key not in rows:
            row = next(iter(rows.values()))
            yield row.not_assessed(
                space=view.space.id,
                subjects=subjects,
                because="source silent",
                working=(f"top at {both(a.surface.top_mm)}: not near a printed height",),
            )
            continue
        row = rows[ruled.row.key]
        first, second = a.knee_mm or 0.0, b.knee_mm or 0.0
        base = a.stand.box.depth_mm if a.row.side in ("front", "back") else a.stand.box.width_mm
        yield row.finding(
            space=view.space.id,
            subjects=subjects,
            measured=Quantity(first + second, "mm"),
            required=row.requirement,
            working=(
                f"knee depths {both(first)} and {both(second)}: {both(first + second)}",
                f"what carries the top has {both(base - first - second)} of its {both(base)}",
            ),
            assumed=a.surface.assumed("overhang", "depth_mm", "top_mm"),
        )


@check(reads=RUN_KINDS, uses={"kitchen"})
def edge_for_work(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold each island edge against the length that its sink or cooking surface and their landings need.

    A sink is held against it only where it is the only one of the kitchen.
    """
    found = layout(view)
    judged: set[str] = set()
    sinks = found.centres_of("sink")
    for island in view.things(*_ISLANDS):
        for name in _SIDES:
            edge = side_of(island.box, name)
            cooking = _used_from(found, island, edge, "cooking")
            sink = _used_from(found, island, edge, "sink") if len(sinks) == 1 else None
            for finding in _edge(view, rules, island, edge, sink, cooking):
                judged.add(finding.id.rpartition(":")[0])
                yield finding
    carried = {
        "N7": "a cooking surface alone on an edge",
        "N8": "the only sink alone on an edge",
        "N9": "the only sink and a cooking surface on one edge",
    }
    for rule, words in carried.items():
        for row in rules.rows(rule):
            if f"{rule}:{row.part}" not in judged:
                yield does_not_apply(view, row, f"no island or peninsula carries {words}")


def _used_from(found: Layout, island: Stand, edge: Segment, kind: str) -> Stand | None:
    """Return the sink or cooking surface that is used from one edge of an island."""
    for centre in found.centres:
        host = found.host_of(centre.stand)
        if (
            centre.kind == kind
            and host is not None
            and host.id == island.id
            and dot(centre.stand.box.outward, edge.outward) > 0.7
        ):
            return centre.stand
    return None


def _edge(
    view: View, rules: Yardstick, island: Stand, edge: Segment, sink: Stand | None, cooking: Stand | None
) -> Iterator[Finding]:
    ready = all(rules.has(rule, part) for rule in ("K11", "K17") for part in ("longer side", "shorter side"))
    if not ready:
        return
    if sink is not None and cooking is not None:
        if rules.has("N9") and rules.has("K24"):
            need = sink_and_cooking_edge(sink.thing.width_mm, cooking.thing.width_mm, by=rules)
            yield _length(view, rules.row("N9"), island, edge, need.needed_mm, need.working, sink, cooking)
    elif cooking is not None and rules.has("N7", "length"):
        need = cooking_edge(cooking.thing.width_mm, by=rules)
        yield _length(view, rules.row("N7", "length"), island, edge, need.needed_mm, need.working, cooking)
    elif sink is not None and rules.has("N8"):
        need = sink_edge(sink.thing.width_mm, by=rules)
        yield _length(view, rules.row("N8"), island, edge, need.needed_mm, need.working, sink)
    if cooking is not None and rules.has("N7", "depth") and rules.has("K17b"):
        rear = -min(edge.place(corner)[1] for corner in cooking.box.corners)
        deep = -min(edge.place(corner)[1] for corner in island.box.corners)
        need = cooking_depth(rear, by=rules)
        row = rules.row("N7", "depth")
        line = Mark("measure", (edge.midpoint, edge.at(edge.length_mm / 2, -deep)), both(deep))
        yield row.finding(
            space=view.space.id,
            subjects=(island.id, cooking.id),
            measured=Quantity(deep, "mm"),
            required=Requirement("at least", convert(need.needed_mm, "mm", row.unit), row.unit),
            working=(*need.working, f"depth of {island.thing.called}: {both(deep)}"),
            marks=(line,),
            assumed=(*island.thing.assumed("depth_mm"), *cooking.thing.assumed("depth_mm", "place")),
        )


def _length(
    view: View, row: Row, island: Stand, edge: Segment, need_mm: float, working: tuple[str, ...], *carried: Stand
) -> Finding:
    return row.finding(
        space=view.space.id,
        subjects=(island.id, *(stand.id for stand in carried)),
        measured=Quantity(edge.length_mm, "mm"),
        required=Requirement("at least", convert(need_mm, "mm", row.unit), row.unit),
        working=(*working, f"edge of {island.thing.called}: {both(edge.length_mm)}"),
        marks=(Mark("measure", (edge.a, edge.b), both(edge.length_mm)),),
        assumed=(*island.thing.assumed("width_mm"), *(a for s in carried for a in s.thing.assumed("width_mm"))),
    )
