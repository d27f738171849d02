"""Work aisles and walkways of the kitchen: the clear width between what faces each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from enfilade.checks.facing_sides import Facing, facings, floor_between
from enfilade.checks.floor import FLOOR_KINDS
from enfilade.checks.layout import RUN_KINDS, layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["walkways", "work_aisles"]

_READS: Final = {*RUN_KINDS, *FLOOR_KINDS}
# Wider than 8 ft is open floor, not a way between two things (our own choice).
_OPEN_FLOOR_MM: Final = 2438.4
_RIGHT_ANGLE_DEG: Final = 5.0
# Two walkways meet when their floors come this near each other: about the corner of an island.
_MEET_MM: Final = 50.0


def work_aisles(view: View) -> list[Facing]:
    """Return the aisles of a space on which a sink or appliance fronts, between two fronts."""
    return [facing for facing in facings(view) if facing.ours and facing.work and not facing.wall]


def walkways(view: View) -> list[Facing]:
    """Return the ways of a space on which no sink or appliance fronts, up to 8 ft wide."""
    return [facing for facing in facings(view) if _is_walkway(facing)]


def _is_walkway(facing: Facing) -> bool:
    if not facing.ours or facing.work or facing.width_mm > _OPEN_FLOOR_MM:
        return False
    # Behind seats the width is measured from the edge of the table or counter, by its own guideline.
    return not (facing.seats and facing.wall)


def _finding(row: Row, view: View, facing: Facing, assumed: tuple[str, ...] = ()) -> Finding:
    a, b = facing.ids
    return row.finding(
        space=view.space.id,
        subjects=(a, b),
        measured=Quantity(facing.width_mm, "mm"),
        working=(
            f"clear between {a} and {b}, where it is narrowest: {both(facing.width_mm)}",
            f"working there: {', '.join(facing.work)}" if facing.work else "no sink or appliance fronts on it",
            *(f"people sit on this side of {name}" for name in facing.seats),
        ),
        marks=(Mark("measure", facing.line, both(facing.width_mm)),),
        assumed=assumed,
    )


@check(reads={*_READS, "household"}, uses={"kitchen"})
def work_aisle(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure each aisle between facing fronts on which one works, at its narrowest, for the cooks that there are.

    Fronts are the edges of counters, tall units, appliances and all sides of islands; a table or another
    piece that stands opposite narrows an aisle too. What faces a bare wall is not measured by this guideline.
    """
    together = view.household.cooks_together
    one, two = (rules.row("K6", part) if rules.has("K6", part) else None for part in ("one cook", "two cooks"))
    judged = two if (together or 1) > 1 else one
    aisles = work_aisles(view)
    assumed = layout(view).assumed_tops()
    if judged is not None:
        for facing in aisles:
            tops = tuple(name for name in assumed if name.partition(".")[0] in facing.ids)
            yield _finding(judged, view, facing, tops)
        if not aisles:
            yield judged.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="does not apply",
                working=("No front faces the sink or an appliance across an aisle.", *_walls_opposite(view)),
            )
    if together is None and two is not None:
        for facing in aisles:
            yield two.not_assessed(
                space=view.space.id,
                subjects=facing.ids,
                because="missing fact",
                needs=("household.cooks_together",),
                working=(
                    f"clear between {facing.ids[0]} and {facing.ids[1]}: {both(facing.width_mm)}",
                    "How many cook together is not recorded: held against one cook.",
                ),
            )


def _walls_opposite(view: View) -> list[str]:
    opposite = [facing for facing in facings(view) if facing.ours and facing.work and facing.wall]
    return [f"clear between {f.ids[0]} and {f.ids[1]}: {both(f.width_mm)}" for f in opposite]


@check(reads=_READS, uses={"kitchen"})
def walkway(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure each way of the kitchen on which nobody works, at its narrowest: between fronts, islands, tables, walls.

    Ways wider than 8 ft are open floor and left out; behind seats that face a wall another guideline measures.
    """
    if not rules.has("K7"):
        return
    row = rules.row("K7")
    found = walkways(view)
    for facing in found:
        yield _finding(row, view, facing)
    if not found:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("No way leads between two things of the kitchen without a sink or appliance beside it.",),
        )


@check(reads=_READS, uses={"kitchen"})
def walkways_at_right_angles(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Take the wider of each two walkways that meet at a right angle."""
    if not rules.has("K7a"):
        return
    row = rules.row("K7a")
    found = walkways(view)
    floors = [floor_between(facing) for facing in found]
    met = 0
    for i, first in enumerate(found):
        for j in range(i + 1, len(found)):
            second = found[j]
            if not _square(first, second) or floors[i].distance(floors[j]) > _MEET_MM:
                continue
            met += 1
            wider = max((first, second), key=lambda facing: facing.width_mm)
            yield row.finding(
                space=view.space.id,
                subjects=tuple(dict.fromkeys((*first.ids, *second.ids))),
                measured=Quantity(wider.width_mm, "mm"),
                working=tuple(
                    f"walkway between {f.ids[0]} and {f.ids[1]}: {both(f.width_mm)}" for f in (first, second)
                ),
                marks=tuple(Mark("measure", f.line, both(f.width_mm)) for f in (first, second)),
            )
    if not met:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("No two walkways of the kitchen meet at a right angle.",),
        )


def _square(a: Facing, b: Facing) -> bool:
    cosine = a.along[0] * b.along[0] + a.along[1] * b.along[1]
    return abs(cosine) <= math.sin(math.radians(_RIGHT_ANGLE_DEG))
