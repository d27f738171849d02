"""Task light, the switch at the way in, and daylight."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.checks.beside import counted, point_mark
from enfilade.checks.layout import RUN_KINDS, layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import polygons_of
from enfilade.geometry.counters import counter_stretches
from enfilade.geometry.runs import Piece
from enfilade.lengths import TOLERANCE_MM, inches
from enfilade.project.services import Light, Switch
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["switched_light", "task_light", "work_surfaces"]

# Own choices: the shortest counter that is a place of work, how near a light must be to be its own,
# and how far from a way in a switch is at it.
_LEAST_MM: Final = inches(12)
_NEAR_MM: Final = inches(12)
_AT_WAY_IN_MM: Final = inches(36)


def work_surfaces(view: View) -> list[Polygon]:
    """Return the plan of each stretch of counter from 12 in, each sink and each cooking surface."""
    found: list[Polygon] = []
    for run in layout(view).runs:
        for stretch in counter_stretches(run):
            if stretch.length_mm >= _LEAST_MM - TOLERANCE_MM:
                found += polygons_of(_hull(tuple(_area(piece) for piece in stretch.pieces)))
        found += [_area(piece) for piece in run.pieces if piece.role in ("sink", "cooking")]
    return found


# Remembered: from one look at a kitchen to the next, few counters move.
@lru_cache(maxsize=512)
def _hull(areas: tuple[Polygon, ...]) -> BaseGeometry:
    return shapely.union_all(areas).convex_hull


def _area(piece: Piece) -> Polygon:
    return piece.front.reversed().strip(piece.depth_mm)


@check(reads={"light", *RUN_KINDS}, uses={"kitchen"})
def task_light(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count the work surfaces that no task light lies over or within 12 in of, in plan."""
    if not rules.has("K31", "task light"):
        return
    row, here = rules.row("K31", "task light"), (view.space.id,)
    surfaces = work_surfaces(view)
    if not surfaces:
        yield row.not_assessed(
            space=view.space.id, subjects=here, because="does not apply", working=("no work surface is recorded here",)
        )
    elif not view.room_things("light"):
        needs = (f"the lights of {view.space.id}",)
        yield row.not_assessed(space=view.space.id, subjects=here, because="missing fact", needs=needs)
    else:
        lights = [s for s in view.room_things("light") if isinstance(s.thing, Light) and s.thing.purpose == "task"]
        dark = [area for area in surfaces if not _lit(area, lights)]
        yield row.finding(
            space=view.space.id,
            subjects=here,
            measured=Quantity(len(dark), "count"),
            working=(
                f"{counted(len(surfaces), 'work surface')}: counters from {both(_LEAST_MM)}, sinks, cooking surfaces",
                f"{counted(len(lights), 'task light')}; surfaces without one within {both(_NEAR_MM)}: {len(dark)}",
            ),
            marks=tuple(Mark("area", _corners(area)) for area in dark),
            assumed=layout(view).assumed_tops(),
        )


def _lit(area: Polygon, lights: Sequence[Stand]) -> bool:
    return any(light.box.polygon.distance(area) <= _NEAR_MM + TOLERANCE_MM for light in lights)


def _corners(area: Polygon) -> tuple[tuple[float, float], ...]:
    return tuple((x, y) for x, y in area.exterior.coords[:-1])


@check(reads={"light", "switch", "openings"}, uses={"kitchen"})
def switched_light(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count the lights of the room with a switch within 36 in of a way in.

    The source says 'at the entrance'; the distance, straight in plan, is our own reading.
    """
    if not rules.has("K31", "switched light"):
        return
    row, here = rules.row("K31", "switched light"), (view.space.id,)
    ways = [d for d in (*view.doorways(), *view.room_doorways()) if d.passage]
    lights, switches = view.room_things("light"), view.room_things("switch")
    lacking = [what for what, known in (("lights", lights), ("switches", switches), ("ways in", ways)) if not known]
    if lacking:
        needs = tuple(f"the {what} of {view.space.id}" for what in lacking)
        yield row.not_assessed(space=view.space.id, subjects=here, because="missing fact", needs=needs)
        return
    lines = [door.segment.line for door in ways]
    nearest = [min(line.distance(shapely.Point(s.box.x, s.box.y)) for line in lines) for s in switches]
    at_way = [s for s, mm in zip(switches, nearest, strict=True) if mm <= _AT_WAY_IN_MM + TOLERANCE_MM]
    controlled = {light for s in at_way if isinstance(s.thing, Switch) for light in s.thing.controls}
    switched = [light for light in lights if light.id in controlled]
    yield row.finding(
        space=view.space.id,
        subjects=here,
        measured=Quantity(len(switched), "count"),
        working=(
            f"switches within {both(_AT_WAY_IN_MM)} of a way in: {len(at_way)}, for {counted(len(switched), 'light')}",
        ),
        marks=point_mark(at_way),
        also=("How near 'at the entrance' is, the source does not say; 36 in is our own reading.",),
    )
