"""Windows over cooking surfaces, what hangs at them, and fire extinguishers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Final

import shapely

from enfilade.checks.above_cooking import COOKING
from enfilade.checks.beside import counted, lacks, point_mark, wall_behind
from enfilade.checks.fuel import fuel_told
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.doorways import Doorway
from enfilade.project.furnishings import WindowTreatment
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["cooking_under_window", "extinguisher_height", "extinguisher_near_way_out"]

_NEAR_WAY_OUT: Final = (
    "'Near a way out' has no printed distance; it is read as nearer to it than to the cooking surface."
)


@check(reads={*COOKING, "window treatment", "openings"}, uses={"kitchen"})
def cooking_under_window(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count windows that open, and what may burn at windows, above each cooking surface.

    A window is above a surface when it stands in the wall behind it (within 12 in of its back), shares
    some of its width, and reaches higher than it.
    """
    surfaces = view.things(*COOKING)
    if not surfaces:
        for row in rules.rows("K20")[:2]:
            yield lacks(view, row, "cooking")
    for surface in surfaces:
        windows = _windows_above(view, surface)
        if rules.has("K20", "under window"):
            yield _under_window(view, rules, surface, windows)
        if rules.has("K20", "window dressing"):
            yield _dressing(view, rules, surface, windows)


def _windows_above(view: View, surface: Stand) -> list[Doorway]:
    wall = wall_behind(surface, view.walls)
    if wall is None:
        return []
    found = []
    for door in view.doorways():
        if door.opening is None or door.opening.kind != "window" or door.wall != wall.id:
            continue
        left, right = wall.line.place(door.segment.a)[0], wall.line.place(door.segment.b)[0]
        shared_mm = min(right, wall.shape.right_mm) - max(left, wall.shape.left_mm)
        head_mm = door.opening.sill_mm + door.opening.height_mm
        if shared_mm > TOLERANCE_MM and head_mm > surface.thing.top_mm:
            found.append(door)
    return found


def _under_window(view: View, rules: Yardstick, surface: Stand, windows: Sequence[Doorway]) -> Finding:
    opening = [d for d in windows if d.opening is not None and d.opening.operable]
    unknown = [d for d in windows if d.opening is not None and d.opening.operable is None]
    return _none_above(
        view,
        rules.row("K20", "under window"),
        surface,
        there=opening,
        needs=tuple(f"{door.id}.operable" for door in unknown),
        marks=_window_marks(opening or unknown),
        working=f"{counted(len(windows), 'window')} above {surface.thing.called}, {len(opening)} to open",
    )


def _dressing(view: View, rules: Yardstick, surface: Stand, windows: Sequence[Doorway]) -> Finding:
    row, ids = rules.row("K20", "window dressing"), {door.id for door in windows}
    if not windows:
        return row.not_assessed(
            space=view.space.id,
            subjects=(surface.id,),
            because="does not apply",
            working=(f"no window above {surface.thing.called}",),
            **fuel_told([surface]),
        )
    things = view.things("window treatment")
    hung = [(s, s.thing) for s in things if isinstance(s.thing, WindowTreatment) and s.thing.opening in ids]
    burning = [stand for stand, thing in hung if thing.flammable]
    unknown = [stand for stand, thing in hung if thing.flammable is None]
    return _none_above(
        view,
        row,
        surface,
        there=burning,
        needs=tuple(f"{stand.id}.flammable" for stand in unknown),
        marks=point_mark(burning or unknown),
        working=f"{len(hung)} hang at windows above {surface.thing.called}, {len(burning)} of them flammable",
    )


def _none_above(
    view: View,
    row: Row,
    surface: Stand,
    *,
    there: Sequence[Any],
    needs: Sequence[str],
    marks: tuple[Mark, ...],
    working: str,
) -> Finding:
    """Count what must not be above a surface; while none is known to be there, every one has to be known."""
    told: dict[str, Any] = {"space": view.space.id, "subjects": (surface.id,), "marks": marks, **fuel_told([surface])}
    if needs and not there:
        return row.not_assessed(because="missing fact", needs=needs, **told)
    return row.finding(measured=Quantity(len(there), "count"), working=(working,), **told)


def _window_marks(doors: Sequence[Doorway]) -> tuple[Mark, ...]:
    return tuple(Mark("measure", (door.segment.a, door.segment.b)) for door in doors)


@check(reads={*COOKING, "extinguisher", "openings"}, uses={"kitchen"})
def extinguisher_near_way_out(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count fire extinguishers that hang nearer to a way out of the room than to any cooking surface.

    The source says 'near a way out, away from the cooking surface' without a distance; nearer to
    the one than to the other, straight in plan, is our own reading.
    """
    if not rules.has("K20", "extinguisher"):
        return
    row = rules.row("K20", "extinguisher")
    surfaces, here = view.room_things(*COOKING), (view.space.id,)
    ways = [door.segment for door in view.room_doorways() if door.passage]
    if not surfaces:
        yield lacks(view, row, "cooking")
    elif not ways:
        needs = (f"a way out of {view.space.id} among the openings",)
        yield row.not_assessed(
            space=view.space.id, subjects=here, because="missing fact", needs=needs, **fuel_told(surfaces)
        )
    else:
        found = view.room_things("extinguisher")
        near, lines = [], []
        for stand in found:
            out_mm, cooking_mm = _distances(stand, ways, surfaces)
            distances = f"{both(out_mm)} to a way out, {both(cooking_mm)} to the cooking surface"
            lines.append(f"{stand.thing.called}: {distances}")
            if out_mm < cooking_mm - TOLERANCE_MM:
                near.append(stand)
        yield row.finding(
            space=view.space.id,
            subjects=here,
            measured=Quantity(len(near), "count"),
            working=lines or ("no fire extinguisher is recorded in this room",),
            marks=point_mark(found),
            **fuel_told(surfaces, (_NEAR_WAY_OUT,)),
        )


def _distances(stand: Stand, ways: Sequence[Segment], surfaces: Sequence[Stand]) -> tuple[float, float]:
    point = shapely.Point(stand.box.x, stand.box.y)
    out_mm = min(point.distance(way.line) for way in ways)
    return out_mm, min(point.distance(surface.box.polygon) for surface in surfaces)


@check(reads={"extinguisher"}, uses={"kitchen"})
def extinguisher_height(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the top of each fire extinguisher, where its handle is, against the reach."""
    if not rules.has("K20", "extinguisher height"):
        return
    row, found = rules.row("K20", "extinguisher height"), view.things("extinguisher")
    if not found:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("no fire extinguisher is recorded in this space",),
        )
    for stand in found:
        yield row.finding(
            space=view.space.id,
            subjects=(stand.id,),
            measured=Quantity(stand.thing.top_mm, "mm"),
            working=(f"taken at its top, where the handle is: {both(stand.thing.top_mm)}",),
            marks=point_mark([stand]),
            assumed=stand.thing.assumed("top_mm"),
        )
