"""Doors and drawers that meet at an inside corner, and the filler that parts them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.checks.door_swings import APPLIANCES, areas, meeting_pairs
from enfilade.checks.open_in_aisles import EXPECTED, OPENS, ROOMS
from enfilade.checks.open_shapes import Opened, missing_facts, opened_in
from enfilade.checks.registry import check
from enfilade.checks.shown import Names, both, names
from enfilade.checks.view import View
from enfilade.errors import EnfiladeError
from enfilade.findings import Finding
from enfilade.geometry.points import Point, dot
from enfilade.geometry.swings import clearing_shift, overlap_mm2
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["away_from", "filler"]

_KINDS: Final = (*OPENS, "wall cabinet")
# Fronts that stand at 25 to 155 degrees to each other make a corner; others are side by side or across an aisle.
_CORNER: Final = math.cos(math.radians(25.0))


def away_from(moving: Opened, fixed: Opened) -> Point:
    """Return the direction along the wall of one thing that leads away from the corner with another."""
    along = moving.closed.direction
    sign = 1.0 if dot(along, fixed.closed.outward) >= 0 else -1.0
    return (sign * along[0], sign * along[1])


def filler(moving: BaseGeometry, fixed: BaseGeometry, direction: Point) -> float | None:
    """Return the width along the wall by which one of two shapes must stand further off [mm], or None."""
    try:
        return clearing_shift(moving, fixed, direction)
    except EnfiladeError:
        return None


def _corner(a: Opened, b: Opened) -> bool:
    both_appliances = a.stand.thing.kind in APPLIANCES and b.stand.thing.kind in APPLIANCES
    return abs(dot(a.closed.outward, b.closed.outward)) < _CORNER and not both_appliances


@check(reads={*_KINDS}, uses=ROOMS)
def both_open_at_corner(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Overlap the open doors and drawers of each two things that stand at an angle to each other.

    The filler is the least width along either wall that ends the overlap.
    """
    if not rules.has("D2", "both open"):
        return
    row = rules.row("D2", "both open")
    stands = view.things(*_KINDS)
    leaves = list(opened_in(view, stands))
    pairs, called = meeting_pairs(leaves, _corner), names(view)
    for (a, b), (area, shape) in pairs.items():
        yield row.finding(
            space=view.space.id,
            subjects=(a, b),
            measured=Quantity(area, "mm2"),
            working=(
                f"{' and '.join(called.of(a, b))} open at once: they lie over each other for {area:.0f} mm²",
                *_cure(leaves, a, b, called),
            ),
            marks=areas(shape),
        )
    none = "No two doors or drawers at a corner meet when both are open."
    yield from _rest(row, view, stands, leaves, bool(pairs), none)


def _cure(leaves: list[Opened], a: str, b: str, called: Names) -> Iterator[str]:
    """Yield the width that parts every two leaves of two things, beside each of them."""
    for (first, second), name in zip(((a, b), (b, a)), called.of(a, b), strict=True):
        moving, fixed = [x for x in leaves if x.id == first], [x for x in leaves if x.id == second]
        widths = [filler(m.open_shape, f.open_shape, away_from(m, f)) for m in moving for f in fixed if _meet(m, f)]
        known = [width for width in widths if width is not None]
        if known:
            yield f"a filler of {both(max(known))} on the corner side of {name} parts them"


def _meet(a: Opened, b: Opened) -> bool:
    level = min(a.high_mm, b.high_mm) - max(a.low_mm, b.low_mm) > TOLERANCE_MM
    return level and _corner(a, b) and overlap_mm2(a.open_shape, b.open_shape) > 0


def _rest(row: Row, view: View, stands: list[Stand], leaves: list[Opened], found: bool, none: str) -> Iterator[Finding]:
    here = (view.space.id,)
    unknown = missing_facts(stand for stand in stands if stand.thing.kind in EXPECTED)
    if unknown:
        yield row.not_assessed(space=view.space.id, subjects=here, because="missing fact", needs=unknown)
    elif not any(_corner(a, b) for a in leaves for b in leaves):
        line = "No two things that open stand at an angle to each other."
        yield row.not_assessed(space=view.space.id, subjects=here, because="does not apply", working=(line,))
    elif not found:
        yield row.finding(space=view.space.id, subjects=here, measured=Quantity(0.0, "mm2"), working=(none,))


@check(reads={*_KINDS}, uses=ROOMS)
def past_closed_fronts(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Overlap what a door or drawer sweeps with the closed front and handle of what opens round the corner."""
    if not rules.has("D2", "past a closed front"):
        return
    row = rules.row("D2", "past a closed front")
    handle_mm = rules.row("D3", "handle").value_mm if rules.has("D3", "handle") else 0.0
    stands = view.things(*_KINDS)
    leaves = list(opened_in(view, stands))
    called = names(view)
    closed = {id(leaf): leaf.closed.strip(max(handle_mm, 1.0)) for leaf in leaves}
    worst: dict[tuple[str, str], tuple[float, Opened, Opened]] = {}
    for moving, fixed in _near(leaves, list(closed.values())):
        area = overlap_mm2(moving.swept, closed[id(fixed)])
        key = (moving.id, fixed.id)
        if area > 0 and area > worst.get(key, (0.0,))[0]:
            worst[key] = (area, moving, fixed)
    for (mover, stays), (area, moving, fixed) in sorted(worst.items(), key=lambda one: one[0]):
        strip = closed[id(fixed)]
        width = filler(moving.swept, strip, away_from(moving, fixed))
        one, next_to_it = called.of(mover, stays)
        cure = () if width is None else (f"a filler of {both(width)} on the corner side of {one} clears it",)
        yield row.finding(
            space=view.space.id,
            subjects=(mover, stays),
            measured=Quantity(area, "mm2"),
            working=(
                f"handle of {next_to_it} taken {both(handle_mm)} proud of its front",
                f"{one} opens over it for {area:.0f} mm²",
                *cure,
            ),
            marks=areas(moving.swept.intersection(strip)),
            assumed=(f"{stays}.handle",),
        )
    none = "Every door and drawer at a corner comes out past the next."
    yield from _rest(row, view, stands, leaves, bool(worst), none)


def _near(leaves: list[Opened], fronts: list[BaseGeometry]) -> Iterable[tuple[Opened, Opened]]:
    if not leaves:
        return
    swept = [leaf.swept for leaf in leaves]
    for i, j in sorted(zip(*(half.tolist() for half in shapely.STRtree(fronts).query(swept)), strict=True)):
        a, b = leaves[i], leaves[j]
        if a.id != b.id and _corner(a, b) and _passes(a, b):
            yield a, b


def _passes(moving: Opened, fixed: Opened) -> bool:
    """Tell whether a leaf passes the closed face of another at some height."""
    spans = []
    for one in (moving, fixed):
        thing, leaf = one.stand.thing, one.leaf
        spans.append((
            thing.bottom_mm if leaf.bottom_mm is None else leaf.bottom_mm,
            thing.top_mm if leaf.top_mm is None else leaf.top_mm,
        ))  # fmt: skip
    return min(spans[0][1], spans[1][1]) - max(spans[0][0], spans[1][0]) > TOLERANCE_MM
