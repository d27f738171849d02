"""Pass-through and U-shaped kitchens: the clear width and the ways in that the access standard asks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from enfilade.checks.facing_sides import Facing, facings
from enfilade.checks.floor import FLOOR_KINDS
from enfilade.checks.layout import RUN_KINDS, Layout, layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.points import angle_between_deg
from enfilade.geometry.runs import Run
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

# Halfway between the turn of one right angle and that of two.
_TWO_CORNERS_DEG: Final = 135.0
_ROWS: Final = (("A8041", ""), ("A8041", "entries"), ("A8042", ""))


@check(reads={*RUN_KINDS, *FLOOR_KINDS, "openings"}, uses={"kitchen"})
def kitchen_shape(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Tell a pass-through from a U-shaped kitchen, and measure the least width between what faces each other.

    A run that turns two inside corners, each of about a right angle, encloses three sides: a U. Otherwise a
    kitchen whose fronts face other fronts or a wall is one that is passed through. Without cooking surface
    neither is asked.
    """
    rows = [rules.row(rule, part) for rule, part in _ROWS if rules.has(rule, part)]
    if not rows:
        return
    found = layout(view)
    here = (view.space.id,)
    if not any(stand.thing.kind in ("cooktop", "range") for stand in found.stands.values()):
        exception = rules.row("A8042x") if rules.has("A8042x") else None
        for row in (*rows, *([exception] if exception else ())):
            yield row.not_assessed(
                space=view.space.id,
                subjects=here,
                because="does not apply",
                working=("No cooktop or range is recorded in this kitchen.",),
            )
        return
    bends = [run for run in found.runs if _turn_deg(run) > _TWO_CORNERS_DEG]
    wide = [facing for facing in facings(view) if facing.ours and _front_of(found, facing)]
    if bends:
        arms = {piece.station_id for run in bends for piece in run.pieces}
        wide = [facing for facing in wide if facing.a in arms or facing.b in arms]
    for row in rows:
        if row.rule == ("A8041" if bends else "A8042"):
            shape = "encloses three sides" if bends else "turns fewer than two inside corners"
            yield row.not_assessed(
                space=view.space.id, subjects=here, because="does not apply", working=(f"The counter run {shape}.",)
            )
        elif row.part == "entries":
            yield _entries(row, view, bool(wide))
        elif not wide:
            yield row.not_assessed(
                space=view.space.id,
                subjects=here,
                because="does not apply",
                working=("No front of this kitchen faces another one or a wall.",),
            )
        else:
            yield _least(row, view, wide)


def _turn_deg(run: Run) -> float:
    """Return by how much a run turns at its inside corners [deg]; a diagonal corner turns by two halves."""
    following = (*run.pieces[1:], run.pieces[0])
    return sum(
        abs(angle_between_deg(piece.front.direction, after.front.direction))
        for piece, after in zip(run.pieces, following, strict=True)
        if piece.corner_after
    )


def _front_of(found: Layout, facing: Facing) -> bool:
    """Tell whether a front of the kitchen faces another one or a wall; tables and the like can be moved."""
    sides = ((facing.a, facing.a_role), (facing.b, facing.b_role))
    fronts = [role == "front" and name in found.stands for name, role in sides]
    return all(front or role == "wall" for front, (_, role) in zip(fronts, sides, strict=True)) and any(fronts)


def _least(row: Row, view: View, wide: list[Facing]) -> Finding:
    least = wide[0]
    called = names(view).of(*(name for facing in wide for name in facing.ids))
    return row.finding(
        space=view.space.id,
        subjects=least.ids,
        measured=Quantity(least.width_mm, "mm"),
        working=tuple(
            f"clear between {a} and {b}: {both(facing.width_mm)}"
            for a, b, facing in zip(called[::2], called[1::2], wide, strict=True)
        ),
        marks=(Mark("measure", least.line, both(least.width_mm)),),
    )


def _entries(row: Row, view: View, passed: bool) -> Finding:
    doors = [door for door in view.doorways() if door.passage]
    if not passed:
        return row.not_assessed(space=view.space.id, subjects=(view.space.id,), because="does not apply")
    if not doors:
        return row.not_assessed(
            space=view.space.id, subjects=(view.space.id,), because="missing fact", needs=("openings",)
        )
    return row.finding(
        space=view.space.id,
        subjects=(view.space.id,),
        measured=Quantity(len(doors), "count"),
        working=(f"ways in: {names(view).listed(door.id for door in doors)}",),
        marks=tuple(Mark("point", (door.segment.midpoint,), names(view).one(door.id)) for door in doors),
        also=("How long and narrow a pass-through kitchen is, is not said; read here as every kitchen that is no U.",),
    )
