"""Doors and drawers that meet at an inside corner, and the filler that parts them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.checks.beside import does_not_apply
from enfilade.checks.door_swings import APPLIANCES, areas, meeting_pairs
from enfilade.checks.open_in_aisles import EXPECTED, OPENS, ROOMS
from enfilade.checks.open_shapes import Opened, missing_facts, opened_in, share_a_height
from enfilade.checks.registry import check
from enfilade.checks.shown import Names, both, both_areas, names
from enfilade.checks.view import View
from enfilade.errors import EnfiladeError
from enfilade.findings import Finding
from enfilade.geometry.boxes import common_part
from enfilade.geometry.points import Point, dot
from enfilade.geometry.swings import clearing_shift, overlap_mm2
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["away_from", "filler"]

_May = Callable[[Opened, Opened], bool]

_KINDS: Final = (*OPENS, "wall cabinet")
_DRAWERS: Final = {"drawer", "pull-out"}
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
    """Tell whether two leaves stand at an angle to each other; two appliances are left to guideline 2."""
    both_appliances = a.stand.thing.kind in APPLIANCES and b.stand.thing.kind in APPLIANCES
    return abs(dot(a.closed.outward, b.closed.outward)) < _CORNER and not both_appliances


def _drawers(a: Opened, b: Opened) -> bool:
    return _corner(a, b) and a.leaf.kind in _DRAWERS and b.leaf.kind in _DRAWERS


def _with_a_door(a: Opened, b: Opened) -> bool:
    return _corner(a, b) and not _drawers(a, b)


@check(reads={*_KINDS}, uses=ROOMS)
def both_open_at_corner(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Overlap the open doors of each two things that stand at an angle to each other, and doors with drawers.

    The filler is the least width along either wall that ends the overlap. Two drawers are held against closed
    fronts alone: only fillers as wide as a drawer is long would let both come out at a corner.
    """
    if not rules.has("D2", "both open"):
        return
    row = rules.row("D2", "both open")
    stands = view.things(*_KINDS)
    leaves = list(opened_in(view, stands))
    pairs, called = meeting_pairs(leaves, _with_a_door), names(view)
    for (a, b), (area, shape) in pairs.items():
        yield row.finding(
            space=view.space.id,
            subjects=(a, b),
            measured=Quantity(area, "mm2"),
            working=(
                f"{' and '.join(called.of(a, b))} open at once: they lie over each other for {both_areas(area)}",
                *_cure(leaves, a, b, called),
            ),
            marks=areas(shape),
        )
    line = "No door stands at an angle to another thing that opens."
    none = "No door at a corner meets another door or a drawer when both are open."
    yield from _rest(row, view, stands, _Corners(leaves, _with_a_door, line), bool(pairs), none)


def _cure(leaves: list[Opened], a: str, b: str, called: Names) -> Iterator[str]:
    """Yield the width that parts every two leaves of two things, beside each of them."""
    for (first, second), name in zip(((a, b), (b, a)), called.of(a, b), strict=True):
        width = _parting(leaves, first, second, _with_a_door)
        if width is not None:
            yield f"a filler of {both(width)} on the corner side of {name} parts them"


def _parting(leaves: list[Opened], mover: str, stays: str, may: _May) -> float | None:
    """Return the filler beside one thing that parts all its open leaves from those of another [mm], or None."""
    moving, fixed = [x for x in leaves if x.id == mover], [x for x in leaves if x.id == stays]
    pairs = [(m, f) for m in moving for f in fixed if may(m, f) and _meet(m, f)]
    widths = [filler(m.open_shape, f.open_shape, away_from(m, f)) for m, f in pairs]
    return max((width for width in widths if width is not None), default=None)


def _meet(a: Opened, b: Opened) -> bool:
    return share_a_height(a, b) and overlap_mm2(a.open_shape, b.open_shape) > 0


@dataclass(frozen=True)
class _Corners:
    """What opens, which two of it make a corner, and what is said when none do."""

    leaves: list[Opened]
    may: _May
    none: str

    @property
    def there(self) -> bool:
        return any(self.may(a, b) for a in self.leaves for b in self.leaves)


def _rest(row: Row, view: View, stands: list[Stand], corners: _Corners, found: bool, none: str) -> Iterator[Finding]:
    here = (view.space.id,)
    unknown = missing_facts(stand for stand in stands if stand.thing.kind in EXPECTED)
    if unknown:
        yield row.not_assessed(space=view.space.id, subjects=here, because="missing fact", needs=unknown)
    elif not corners.there:
        yield does_not_apply(view, row, corners.none)
    elif not found:
        yield row.finding(space=view.space.id, subjects=here, measured=Quantity(0.0, "mm2"), working=(none,))


@check(reads={*_KINDS}, uses=ROOMS)
def past_closed_fronts(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Overlap what a door or drawer sweeps with the closed front and handle of what opens round the corner.

    How far two drawers lie over each other when both are open is told beside, and not judged.
    """
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
    drawers = {
        pair: _both_out(leaves, *pair, area, called) for pair, (area, _) in meeting_pairs(leaves, _drawers).items()
    }
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
                f"{one} opens over it for {both_areas(area)}",
                *cure,
            ),
            marks=areas(common_part(moving.swept, strip)),
            assumed=(f"{stays}.handle",),
            also=[drawers[pair] for pair in ((mover, stays), (stays, mover)) if pair in drawers],
        )
    past = {pair: words for pair, words in drawers.items() if not {pair, pair[::-1]} & worst.keys()}
    for (a, b), words in past.items():
        yield row.finding(
            space=view.space.id,
            subjects=(a, b),
            measured=Quantity(0.0, "mm2"),
            working=(f"{' and '.join(called.of(a, b))} come out past each other's closed front",),
            assumed=(f"{a}.handle", f"{b}.handle"),
            also=(words,),
        )
    line = "No two things that open stand at an angle to each other."
    none = "Every door and drawer at a corner comes out past the next."
    yield from _rest(row, view, stands, _Corners(leaves, _corner, line), bool(worst or past), none)


def _both_out(leaves: list[Opened], a: str, b: str, area_mm2: float, called: Names) -> str:
    """Say how far the drawers of two things lie over each other when both are open."""
    widths = [width for pair in ((a, b), (b, a)) if (width := _parting(leaves, *pair, _drawers)) is not None]
    cure = f"only a filler of {both(min(widths))} would part them, so " if widths else ""
    shared = f"lie over each other for {both_areas(area_mm2)}; {cure}that is told and not judged."
    return f"Both pulled out at once, the drawers of {' and '.join(called.of(a, b))} {shared}"


def _near(leaves: list[Opened], fronts: list[BaseGeometry]) -> Iterable[tuple[Opened, Opened]]:
    if not leaves:
        return
    swept = [leaf.swept for leaf in leaves]
    for i, j in sorted(zip(*(half.tolist() for half in shapely.STRtree(fronts).query(swept)), strict=True)):
        a, b = leaves[i], leaves[j]
        if a.stand is not b.stand and _corner(a, b) and _passes(a, b):
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
