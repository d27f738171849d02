"""The clear floor and the knee space at each work centre, for a person who sits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from shapely.geometry.base import BaseGeometry

from enfilade.checks.beside import CENTRES
from enfilade.checks.floor import FLOOR_KINDS, obstacles
from enfilade.checks.floor_before import Blocks, deepest, standing_edge, widest
from enfilade.checks.layout import RUN_KINDS, TALL_MM
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand
from enfilade.project.thing import KneeSpace
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

_CENTRES: Final = ("sink", "cooktop", "range", "refrigerator")
_REACH_MM: Final = 3000.0
"""How far the floor is looked at: beyond any depth that a source asks (our own choice)."""
_WITH_KNEES: Final = ("sink", "cooktop", "range", "counter", "island", "peninsula", "base cabinet")
_KNEE_FIELDS: Final = {
    "knee width": "width_mm",
    "knee height": "height_mm",
    "knee depth": "depth_mm",
    "toe depth": "toe_depth_mm",
    "toe height": "toe_height_mm",
}


@dataclass(frozen=True)
class _Floor:
    """A clear floor before a front: how wide and how long it is, and its outline."""

    how: str
    width_mm: float
    length_mm: float
    ring: tuple[tuple[float, float], ...]


@check(reads={*FLOOR_KINDS}, uses={"kitchen"})
def clear_floor(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the clear floor before each sink, cooking surface and refrigerator, forward or alongside.

    The floor holds the middle of the front; of both ways to come up to it the one with more to spare is taken.
    """
    if not (rules.has("K6c", "width") and rules.has("K6c", "length")):
        return
    width_row, length_row = rules.row("K6c", "width"), rules.row("K6c", "length")
    centres = view.things(*_CENTRES)
    if not centres:
        for row in (width_row, length_row):
            yield row.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="missing fact",
                needs=tuple(f"{view.space.id}: {what}" for what in CENTRES.values()),
            )
        return
    line_of = [stand for stand in view.things(*RUN_KINDS) if stand.thing.bottom_mm < TALL_MM]
    stands: dict[str, BaseGeometry | Segment] = dict(obstacles(view.room_things(*FLOOR_KINDS)))
    blocks: Blocks = {**stands, **view.room_walls}
    for stand in centres:
        edge = standing_edge(stand, line_of, length_row.value_mm)
        floor = _best(edge, blocks, width_row.value_mm, length_row.value_mm)
        for row, value in ((width_row, floor.width_mm), (length_row, floor.length_mm)):
            yield row.finding(
                space=view.space.id,
                subjects=(stand.id,),
                measured=Quantity(value, "mm"),
                working=(
                    f"clear floor before {names(view).one(stand.id)}, {floor.how}: "
                    f"{both(floor.width_mm)} by {both(floor.length_mm)}",
                ),
                marks=(Mark("area", floor.ring),),
                assumed=stand.thing.assumed("width_mm", "depth_mm"),
            )


def _best(edge: Segment, blocks: Blocks, width: float, length: float) -> _Floor:
    found = [
        *_floors(edge, blocks, "alongside", wide=length, deep=width),
        *_floors(edge, blocks, "forward", wide=width, deep=length),
    ]

    def spare(floor: _Floor) -> tuple[float, str]:
        return round(min(floor.width_mm - width, floor.length_mm - length, 0.0), 3), floor.how

    return max(found, key=spare)


def _floors(edge: Segment, blocks: Blocks, how: str, *, wide: float, deep: float) -> Iterator[_Floor]:
    """Yield the floor of the asked breadth, as deep as it goes, and that of the asked depth, as broad as it goes."""
    middle = edge.length_mm / 2
    window = edge.part(middle - wide, middle + wide)
    met = deepest(window, blocks, wide, _REACH_MM)
    depths = [deep] if met is None or met[0] <= TOLERANCE_MM else [min(met[0], deep), deep]
    for number, depth in enumerate(depths):
        free = widest(window, blocks, depth, wide)
        across = 0.0 if free is None else free.length_mm
        reach = met[0] if met is not None and number == 0 and len(depths) == 2 else depth if across else 0.0
        stretch = window if free is None else free
        ring = (stretch.a, stretch.at(0.0, depth), stretch.at(stretch.length_mm, depth), stretch.b)
        yield _Floor(how, reach, across, ring) if how == "alongside" else _Floor(how, across, reach, ring)


@check(reads={*_WITH_KNEES}, uses={"kitchen"})
def knee_spaces(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Compare each recorded knee space at a sink, cooking surface or counter with the sizes of a knee space."""
    rows = [row for row in rules.rows("K6b") if row.part in _KNEE_FIELDS]
    if not rows:
        return
    stands = view.things(*_WITH_KNEES)
    known = [stand for stand in stands if isinstance(_knee(stand), KneeSpace)]
    for stand in known:
        knee = _knee(stand)
        if isinstance(knee, KneeSpace):
            for row in rows:
                yield _knee_finding(row, view, stand, knee)
    if known:
        return
    unknown = [f"{stand.id}.knee_space" for stand in stands if _knee(stand) is None and stand.thing.kind in _CENTRES]
    for row in rows:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="missing fact" if unknown or not stands else "does not apply",
            needs=unknown if stands else (f"{view.space.id}: a sink",),
            working=("No knee space is recorded at a sink, cooking surface or counter.",),
        )


def _knee(stand: Stand) -> KneeSpace | str | None:
    knee: KneeSpace | str | None = getattr(stand.thing, "knee_space", None)
    return knee


def _knee_finding(row: Row, view: View, stand: Stand, knee: KneeSpace) -> Finding:
    field = _KNEE_FIELDS[row.part]
    value: float | None = getattr(knee, field)
    if value is None:
        return row.not_assessed(
            space=view.space.id,
            subjects=(stand.id,),
            because="missing fact",
            needs=(f"{stand.id}.knee_space.{field}",),
        )
    return row.finding(
        space=view.space.id,
        subjects=(stand.id,),
        measured=Quantity(value, "mm"),
        working=(f"recorded under {names(view).one(stand.id)}: {both(value)}",),
        assumed=stand.thing.assumed("knee_space"),
    )
