"""What hangs above a cooking surface."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.checks.beside import inset, lacks, over, wall_behind
from enfilade.checks.fuel import fuel_told
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import common_part
from enfilade.project.appliances import Hood, Microwave
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["COOKING", "clear_above_cooking"]

COOKING: Final = ("cooktop", "range")
_ABOVE: Final = ("hood", "microwave", "wall cabinet", "tall cabinet", "open shelf", "appliance garage")


@check(reads={*COOKING, *_ABOVE}, uses={"kitchen"})
def clear_above_cooking(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure from each cooking surface straight up to whatever hangs above it.

    A noncombustible underside is protected, and so is a hood unless another underside is recorded for it (our
    own reading). Of other things whose underside is not recorded, the larger distance is met by either and less
    than the smaller one by neither; between the two the fact is missing. What a lower thing hides wholly is not
    judged.
    """
    if not (rules.has("K18", "protected") and rules.has("K18", "unprotected")):
        return
    surfaces = view.things(*COOKING)
    if not surfaces:
        yield lacks(view, rules.row("K18", "unprotected"), "cooking")
    hanging = view.things(*_ABOVE)
    for surface in surfaces:
        above = list(_exposed(surface, hanging))
        if not above:
            yield rules.row("K18", "unprotected").not_assessed(
                space=view.space.id,
                subjects=(surface.id,),
                because="does not apply",
                working=(f"nothing hangs above {surface.thing.called}",),
                **fuel_told([surface]),
            )
        for other in above:
            yield _judged(view, rules, surface, other)


def _exposed(surface: Stand, hanging: Iterable[Stand]) -> Iterator[Stand]:
    """Yield what hangs above a surface, lowest first, unless lower things hide it wholly."""
    hidden: BaseGeometry = shapely.Polygon()
    whole = inset(surface.box)
    for other in sorted((s for s in hanging if over(surface, s)), key=lambda s: (s.thing.bottom_mm, s.id)):
        if not common_part(whole, other.box.polygon).difference(hidden.buffer(1.0)).is_empty:
            yield other
        hidden = hidden.union(other.box.polygon)


def _judged(view: View, rules: Yardstick, surface: Stand, other: Stand) -> Finding:
    protected, unprotected = rules.row("K18", "protected"), rules.row("K18", "unprotected")
    gap_mm = other.thing.bottom_mm - surface.thing.top_mm
    working = [f"from {surface.thing.called} up to {other.thing.called}: {both(gap_mm)}"]
    subjects = (surface.id, other.id)
    marks, told = _marks(view, surface, other, gap_mm), fuel_told([surface])
    if isinstance(other.thing, Microwave) and other.thing.in_hood:
        return protected.not_assessed(
            space=view.space.id,
            subjects=subjects,
            because="source silent",
            needs=(f"the maker's instructions for the height of {other.id}",),
            working=working,
            marks=marks,
            **told,
        )
    row: Row | None = None
    known = other.thing.underside
    if known is None and isinstance(other.thing, Hood):
        known = "noncombustible"
        working.append("a hood is taken as noncombustible, for nothing else is recorded")
    if known is not None:
        row = protected if known == "noncombustible" else unprotected
    else:
        gap = Quantity(gap_mm, "mm")
        if unprotected.requirement.met_by(gap):
            row = unprotected
            working.append("the underside is not recorded; this is enough for either kind")
        elif not protected.requirement.met_by(gap):
            row = protected
            working.append("the underside is not recorded; this is too little for either kind")
    if row is None:
        return unprotected.not_assessed(
            space=view.space.id,
            subjects=subjects,
            because="missing fact",
            needs=(f"{other.id}.underside",),
            working=working,
            marks=marks,
            **told,
        )
    return row.finding(
        space=view.space.id,
        subjects=subjects,
        measured=Quantity(gap_mm, "mm"),
        working=working,
        marks=marks,
        assumed=(*surface.thing.assumed("top_mm"), *other.thing.assumed("bottom_mm", "underside")),
        **told,
    )


def _marks(view: View, surface: Stand, other: Stand, gap_mm: float) -> tuple[Mark, ...]:
    wall = wall_behind(surface, view.walls)
    if wall is None:
        return (Mark("point", ((surface.box.x, surface.box.y),), both(gap_mm)),)
    middle = (wall.shape.left_mm + wall.shape.right_mm) / 2
    line = ((middle, surface.thing.top_mm), (middle, other.thing.bottom_mm))
    return (Mark("measure", line, both(gap_mm), wall.id),)
