"""The free floor that a hinged door asks on the side that is judged."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from shapely.geometry.base import BaseGeometry

from enfilade.checks.entries import passages
from enfilade.checks.floor import FLOOR_KINDS, obstacles
from enfilade.checks.floor_before import Blocks, deepest, widest
from enfilade.checks.open_shapes import swing_of
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.doorways import Doorway
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

_REACH_MM: Final = 3000.0
"""How far before a door the floor is looked at: beyond any depth that a source asks (our own choice)."""
_LEAST_MM: Final = 25.4
"""Least depth to which the floor beside a door is looked at, so that there is something to look at (our own choice)."""


@dataclass(frozen=True)
class _Side:
    """One side of a hinged door: pulled or pushed, and where its latch is."""

    pull: bool
    latch: str
    closer: bool | None
    edge: Segment

    @property
    def word(self) -> str:
        return "pull" if self.pull else "push"

    def window(self, beside_latch_mm: float, beside_hinge_mm: float = 0.0) -> Segment:
        """Return the door's width on the wall, drawn out beside the latch and the hinge."""
        left, right = (
            (beside_hinge_mm, beside_latch_mm) if self.latch == "right" else (beside_latch_mm, beside_hinge_mm)
        )
        return self.edge.part(-left, self.edge.length_mm + right)


def _side(door: Doorway) -> _Side | None:
    swing, opening = swing_of(door), door.opening
    if swing is None or opening is None:
        return None
    near = door.wall == opening.wall
    hinge_left = (swing.hinge == "left") == near
    return _Side(door.hinge is not None, "right" if hinge_left else "left", swing.closer_and_latch, door.segment)


def _blocks(view: View) -> Blocks:
    found: dict[str, BaseGeometry | Segment] = dict(obstacles(view.room_things(*(view.reads & set(FLOOR_KINDS)))))
    return {**found, **view.room_walls}


@check(reads={"openings", *FLOOR_KINDS})
def floor_at_doors(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the free floor before hinged doors, on the side that is judged, beside the latch and from the wall.

    Kitchen doors are held to the front approach of the guideline; every hinged door to whichever approach
    of the access standard its floor suits best.
    """
    if not rules.has("K2a", None) and not rules.has("A4044", None):
        return
    kitchen = view.space.use == "kitchen"
    judged = 0
    for door in passages(view):
        opening = door.opening
        if opening is None or opening.kind != "door" or opening.swing == "none":
            continue
        judged += 1
        side = _side(door)
        if side is None:
            yield from _unknown(rules, view, door, kitchen)
            continue
        blocks = _blocks(view)
        if kitchen and rules.has("K2a", None):
            yield from _front_approach(rules, view, door, side, blocks)
        if rules.has("A4044", None):
            yield from _best_approach(rules, view, door, side, blocks)
    if kitchen and not judged:
        for row in (*rules.rows("K2a"), *_first_of(rules)):
            yield row.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="does not apply",
                working=("No hinged door opens on the kitchen.",),
            )


def _first_of(rules: Yardstick) -> Iterator[Row]:
    """Yield the row that speaks for all approaches where none of them is measured."""
    if rules.has("A4044", "front pull, depth"):
        yield rules.row("A4044", "front pull, depth")


def _unknown(rules: Yardstick, view: View, door: Doorway, kitchen: bool) -> Iterator[Finding]:
    for row in (*(rules.rows("K2a") if kitchen else ()), *_first_of(rules)):
        yield row.not_assessed(
            space=view.space.id,
            subjects=(door.id, view.space.id),
            because="missing fact",
            needs=(f"{door.id}.swing",),
        )


def _front_approach(rules: Yardstick, view: View, door: Doorway, side: _Side, blocks: Blocks) -> Iterator[Finding]:
    depth_row = rules.row("K2a", "pull depth" if side.pull else "push depth")
    latch_row = rules.row("K2a", "pull latch side" if side.pull else "push latch side")
    asks_latch = side.pull or side.closer is True
    depth = _depth(depth_row, view, door, side, blocks)
    yield depth
    if asks_latch:
        yield _latch(latch_row, view, door, side, blocks, _to_depth(depth, depth_row))
    else:
        yield latch_row.not_assessed(
            space=view.space.id,
            subjects=(door.id, view.space.id),
            because="missing fact" if side.closer is None else "does not apply",
            needs=(f"{door.id}.swing.closer_and_latch",) if side.closer is None else (),
            working=("Asked of doors that have both a closer and a latch.",),
        )
    other = ("push depth", "push latch side") if side.pull else ("pull depth", "pull latch side")
    for part in other:
        if rules.has("K2a", part):
            yield rules.row("K2a", part).not_assessed(
                space=view.space.id,
                subjects=(door.id, view.space.id),
                because="does not apply",
                working=(f"In this room the door is on its {side.word} side.",),
            )


def _to_depth(depth: Finding, row: Row) -> float:
    """Return the depth to which the floor beside a door is looked at: as asked, or as deep as it is before the door.

    So what is too near before the door is told once, and not a second time as a want of floor beside it.
    """
    free_mm = row.value_mm if depth.measured is None else depth.measured.to("mm").value
    return max(min(free_mm, row.value_mm), _LEAST_MM)


def _free_depth(side: _Side, blocks: Blocks) -> float:
    found = deepest(side.edge, _ahead(blocks, side), side.edge.length_mm, _REACH_MM)
    return 0.0 if found is None else found[0]


def _free_beside(side: _Side, blocks: Blocks, depth_mm: float, *, latch: bool = True) -> float:
    """Return how far the floor beside the door is free along the wall, to a depth [mm]."""
    window = side.window(_REACH_MM, 0.0) if latch else side.window(0.0, _REACH_MM)
    middle = side.edge.midpoint
    free = widest(window, _ahead(blocks, side), depth_mm, window.place(middle)[0])
    if free is None:
        return 0.0
    to_right = (side.latch == "right") == latch
    reach = side.edge.place(free.b)[0] - side.edge.length_mm if to_right else -side.edge.place(free.a)[0]
    return max(0.0, min(reach, _REACH_MM))


def _ahead(blocks: Blocks, side: _Side) -> Blocks:
    """Return what may stand before the door's wall; the wall itself and those in its line do not."""
    return {
        name: shape
        for name, shape in blocks.items()
        if not (
            isinstance(shape, Segment)
            and all(abs(side.edge.place(end)[1]) <= TOLERANCE_MM for end in (shape.a, shape.b))
        )
    }


def _depth(row: Row, view: View, door: Doorway, side: _Side, blocks: Blocks) -> Finding:
    free = _free_depth(side, blocks)
    beyond = " or more" if free >= _REACH_MM else ""
    return row.finding(
        space=view.space.id,
        subjects=(door.id, view.space.id),
        measured=Quantity(free, "mm"),
        working=(
            f"free from the wall on the {side.word} side, before the door of {both(side.edge.length_mm)}: "
            f"{both(free)}{beyond}",
        ),
        marks=(Mark("area", tuple(_ring(side.edge, max(free, 1.0))), both(free)),),
        assumed=_assumed(row, door, side),
    )


def _assumed(row: Row, door: Doorway, side: _Side) -> tuple[str, ...]:
    """Return what was taken where the record is silent: that a door has not both a closer and a latch."""
    matters = row.rule == "A4044" and not row.part.startswith(("front pull", "hinge pull"))
    return (f"{door.id}.swing.closer_and_latch",) if matters and side.closer is None else ()


def _latch(row: Row, view: View, door: Doorway, side: _Side, blocks: Blocks, depth_mm: float, *,
           latch: bool = True) -> Finding:  # fmt: skip
    free = _free_beside(side, blocks, depth_mm, latch=latch)
    where = "latch" if latch else "hinge"
    beyond = " or more" if free >= _REACH_MM else ""
    return row.finding(
        space=view.space.id,
        subjects=(door.id, view.space.id),
        measured=Quantity(free, "mm"),
        working=(
            f"free beside the {where} on the {side.word} side, to a depth of {both(depth_mm)}: {both(free)}{beyond}",
        ),
        assumed=_assumed(row, door, side),
    )


def _ring(edge: Segment, depth_mm: float) -> list[tuple[float, float]]:
    return [edge.a, edge.at(0.0, depth_mm), edge.at(edge.length_mm, depth_mm), edge.b]


def _best_approach(rules: Yardstick, view: View, door: Doorway, side: _Side, blocks: Blocks) -> Iterator[Finding]:
    """Yield depth and width of the approach whose floor is nearest to, or furthest beyond, what is asked."""
    closer = side.closer is True
    found: list[tuple[float, int, list[Finding]]] = []
    for number, (depth_part, width_part, at_latch) in enumerate(_approaches(side.pull, closer)):
        if not (rules.has("A4044", depth_part) and rules.has("A4044", width_part)):
            continue
        depth_row, width_row = rules.row("A4044", depth_part), rules.row("A4044", width_part)
        pair = [_depth(depth_row, view, door, side, blocks)]
        to_depth = _to_depth(pair[0], depth_row)
        pair.append(_latch(width_row, view, door, side, blocks, to_depth, latch=at_latch))
        least = min(finding.margin or 0.0 for finding in pair)
        found.append((min(least, 0.0), -number, pair))
    if found:
        yield from max(found, key=lambda one: one[:2])[2]


def _approaches(pull: bool, closer: bool) -> Iterator[tuple[str, str, bool]]:
    """Yield the rows of each approach: depth, width, and whether the width lies at the latch."""
    if pull:
        yield "front pull, depth", "front pull, latch", True
        yield "hinge pull, depth", "hinge pull, latch", True
        yield "hinge pull, shallow, depth", "hinge pull, shallow, latch", True
        yield "latch pull with closer, depth" if closer else "latch pull, depth", "latch pull, latch", True
        return
    yield "front push, depth", "front push with closer, latch" if closer else "front push, latch", True
    # On the push side, whoever comes from the hinge side needs the width beside the hinge.
    yield "hinge push with closer, depth" if closer else "hinge push, depth", "hinge push, latch", False
    yield "latch push with closer, depth" if closer else "latch push, depth", "latch push, latch", True
