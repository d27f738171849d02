"""Work aisles and walkways of the kitchen: the clear width between what faces each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from enfilade.checks.facing_sides import Facing, facings, floor_between
from enfilade.checks.floor import FLOOR_KINDS
from enfilade.checks.layout import RUN_KINDS, layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["walkways", "work_aisles"]

_READS: Final = {*RUN_KINDS, *FLOOR_KINDS, "openings"}
# Wider than 8 ft is open floor, not a way between two things (our own choice).
_OPEN_FLOOR_MM: Final = 2438.4
# Off a right angle by no more than this is at a right angle (our own choice).
_RIGHT_ANGLE_DEG: Final = 5.0
# Two walkways meet when their floors come this near each other: about the corner of an island (our own choice).
_MEET_MM: Final = 50.0


def work_aisles(view: View) -> list[Facing]:
    """Return the aisles of a space on which a sink or appliance fronts, between two fronts.

    The side of a table, or the end of a run, that stands more than 8 ft off makes no aisle.
    """
    worked = (facing for facing in facings(view) if facing.ours and facing.work and not facing.wall)
    return [f for f in worked if "side" not in (f.a_role, f.b_role) or f.width_mm <= _OPEN_FLOOR_MM]


def bare_aisles(view: View) -> list[Facing]:
    """Return what lies between a sink or appliance and a wall that it faces, up to 8 ft wide."""
    opposite = (facing for facing in facings(view) if facing.ours and facing.work and facing.wall)
    return [facing for facing in opposite if facing.width_mm <= _OPEN_FLOOR_MM]


def walkways(view: View) -> list[Facing]:
    """Return the ways of a space on which no sink or appliance fronts, up to 8 ft wide."""
    return [facing for facing in facings(view) if _is_walkway(facing)]


def _is_walkway(facing: Facing) -> bool:
    if not facing.ours or facing.work or facing.width_mm > _OPEN_FLOOR_MM:
        return False
    # Behind seats the width is measured from the edge of the table or counter, by its own guideline.
    return not (facing.seats and facing.wall)


def _finding(row: Row, view: View, facing: Facing, assumed: tuple[str, ...] = ()) -> Finding:
    called = names(view)
    worked = f"working there: {called.listed(facing.work)}" if facing.work else "no sink or appliance fronts on it"
    return row.finding(
        space=view.space.id,
        subjects=facing.ids,
        measured=Quantity(facing.width_mm, "mm"),
        working=(
            f"clear {_between(view, facing)[0]}, where it is narrowest: {both(facing.width_mm)}",
            worked,
            *(f"people sit on this side of {called.one(top)}" for top in facing.seats),
        ),
        marks=(Mark("measure", facing.line, both(facing.width_mm)),),
        assumed=assumed,
    )


def _between(view: View, *ways: Facing) -> list[str]:
    """Return between what each of several ways of one sentence or finding lies."""
    called = names(view).of(*(name for way in ways for name in way.ids))
    return [f"between {a} and {b}" for a, b in zip(called[::2], called[1::2], strict=True)]


@check(reads={*_READS, "household"}, uses={"kitchen"})
def work_aisle(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure each aisle between facing fronts on which one works, at its narrowest, for the cooks that there are.

    Fronts are the edges of counters, tall units, appliances and all sides of islands; a table, the end of a run or
    another piece that stands opposite narrows an aisle too. Of what faces a bare wall the guideline says nothing.
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
        bare = bare_aisles(view)
        if not aisles and not bare:
            yield judged.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="does not apply",
                working=("No front faces the sink or an appliance across an aisle.", *_walls_opposite(view)),
            )
        for facing in bare:
            yield judged.not_assessed(
                space=view.space.id,
                subjects=facing.ids,
                because="source silent",
                working=(
                    f"clear {_between(view, facing)[0]}: {both(facing.width_mm)}",
                    "The guideline speaks of aisles between facing fronts, not of a front that faces a wall.",
                ),
                marks=(Mark("measure", facing.line, both(facing.width_mm)),),
            )
    if together is None and two is not None:
        for facing in aisles:
            yield two.not_assessed(
                space=view.space.id,
                subjects=facing.ids,
                because="missing fact",
                needs=("household.cooks_together",),
                working=(
                    f"clear {_between(view, facing)[0]}: {both(facing.width_mm)}",
                    "How many cook together is not recorded: held against one cook.",
                ),
            )


def _walls_opposite(view: View) -> list[str]:
    opposite = (facing for facing in facings(view) if facing.ours and facing.work and facing.wall)
    return [f"clear {_between(view, facing)[0]}: {both(facing.width_mm)}" for facing in opposite]


@check(reads=_READS, uses={"kitchen"})
def walkway(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure each way of the kitchen on which nobody works, at its narrowest: between fronts, islands, tables, walls.

    The ends of runs, the sides of furniture and two walls make a way where one walks on at both ends of it. Ways
    wider than 8 ft are open floor and left out; behind seats that face a wall another guideline measures.
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
    """Take the wider of each two walkways that meet at a right angle.

    Work aisles are no walkways: guideline 6 asks 42 in and more of them anyway, so that where one meets a walkway
    nothing is left to ask; the working names them.
    """
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
            # Rounded, so that of two that are equally wide the first stands for both wherever the house stands.
            pair = (first, second)
            wider = max(pair, key=lambda facing: round(facing.width_mm, 2))
            yield row.finding(
                space=view.space.id,
                subjects=tuple(dict.fromkeys((*first.ids, *second.ids))),
                # Which of them the two have in common, for two pairs may be made of the same three.
                part=" ".join(("round", *shared)) if (shared := sorted({*first.ids} & {*second.ids})) else "",
                measured=Quantity(wider.width_mm, "mm"),
                working=tuple(
                    f"walkway {where}: {both(way.width_mm)}"
                    for where, way in zip(_between(view, *pair), pair, strict=True)
                ),
                marks=tuple(Mark("measure", f.line, both(f.width_mm)) for f in pair),
            )
    if not met:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("No two walkways of the kitchen meet at a right angle.", *_beside_work(view, found)),
        )


def _beside_work(view: View, found: list[Facing]) -> Iterator[str]:
    """Yield the work aisles that a walkway meets at a right angle."""
    narrow = (facing for facing in work_aisles(view) if facing.width_mm <= _OPEN_FLOOR_MM)
    aisles = [(facing, floor_between(facing)) for facing in narrow]
    for way in found:
        floor = floor_between(way)
        for aisle, worked in aisles:
            if _square(way, aisle) and floor.distance(worked) <= _MEET_MM:
                there, here = _between(view, way, aisle)
                yield (
                    f"The walkway {there} meets a work aisle, which guideline 6 measures, "
                    f"{here}: {both(aisle.width_mm)}"
                )


def _square(a: Facing, b: Facing) -> bool:
    cosine = a.along[0] * b.along[0] + a.along[1] * b.along[1]
    return abs(cosine) <= math.sin(math.radians(_RIGHT_ANGLE_DEG))
