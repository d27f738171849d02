"""Room doors that turn into a room: how far they open, and what opens behind them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.checks.corner_clashes import filler
from enfilade.checks.door_swings import APPLIANCES, areas
from enfilade.checks.floor import FLOOR_KINDS, footprint
from enfilade.checks.open_in_aisles import OPENS, ROOMS
from enfilade.checks.open_shapes import WALL_MM, Opened, door_sweep, opened_in, swing_of
from enfilade.checks.registry import check
from enfilade.checks.shown import both, both_areas, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark, Requirement
from enfilade.geometry.boxes import Segment, common_part
from enfilade.geometry.swings import free_opening_angle, open_leaf, overlap_mm2
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.doorways import Doorway, Hinge
from enfilade.project.standing import Stand
from enfilade.project.surfaces import Seat
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

_DOOR_MM: Final = 40.0
"""Thickness taken for a room door that stands open; the record has none (our own choice)."""
# A tenth of a degree is 1 1/2 mm at the edge of a door 36 in wide: no more than a hinge gives (our own choice).
_SLACK_DEG: Final = 0.1


@check(reads={*FLOOR_KINDS, "openings"})
def room_doors_open(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Compare how far each hinged door of the room opens with how far it is recorded to, a right angle when not said.

    Walls hold it, and whatever stands or hangs lower than its head; chairs and stools do not. The leaf is taken
    as a line from its hinge, without thickness and handle. Judged in the room into which it turns.
    """
    if not rules.has("D5"):
        return
    row = rules.row("D5")
    spoken = False
    for door in view.doorways():
        opening = door.opening
        if opening is None or opening.kind != "door" or opening.swing == "none":
            continue
        first_side = door.wall == opening.wall
        if door.hinge is not None and door_sweep(door) is not None:
            spoken = True
            yield _opens(row, view, door, door.hinge)
        elif first_side and swing_of(door) is None:
            spoken = True
            yield row.not_assessed(
                space=view.space.id, subjects=(door.id,), because="missing fact", needs=(f"{door.id}.swing",)
            )
        elif first_side and door.beyond is None:
            spoken = True
            line = "The door turns out of the house, where nothing is recorded."
            yield row.not_assessed(space=view.space.id, subjects=(door.id,), because="does not apply", working=(line,))
    if view.space.use == "kitchen" and not spoken:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("No room door turns into this room.",),
        )


def _opens(row: Row, view: View, door: Doorway, hinge: Hinge) -> Finding:
    free, holder = _free_deg(view, door, hinge)
    held = names(view).one(holder or "")
    leaf = open_leaf(hinge.at, hinge.closed_end, max(free, 1.0), hinge.clockwise, _DOOR_MM)
    return row.finding(
        space=view.space.id,
        subjects=(door.id,),
        measured=Quantity(free, "deg"),
        required=Requirement("at least", hinge.angle_deg, "deg"),
        working=(
            f"recorded to open {hinge.angle_deg:g}°",
            _how_far(free, None if holder is None else held),
        ),
        marks=(Mark("area", tuple((x, y) for x, y in leaf.exterior.coords[:-1]), names(view).one(door.id)),),
    )


def _how_far(free_deg: float, held: str | None) -> str:
    if held is not None and free_deg < 1.0:
        return f"cannot open; {held} is in its way"
    return f"opens {free_deg:.1f}°; {'nothing holds it' if held is None else f'then {held} is in its way'}"


def _free_deg(view: View, door: Doorway, hinge: Hinge) -> tuple[float, str | None]:
    """Return how far a door opens [deg], and the id of what holds it; None when nothing does."""
    reach = door_sweep(door)
    free, holder = hinge.angle_deg, None
    for name, shape in _in_the_way(view, door).items():
        if reach is None or not shape.intersects(reach):
            continue
        angle = free_opening_angle(hinge.at, hinge.closed_end, hinge.clockwise, [shape], limit_deg=hinge.angle_deg)
        # Rounded, so that of two that hold it equally the first of the record is named wherever the house stands.
        if round(angle, 3) < round(min(free, hinge.angle_deg - _SLACK_DEG), 3):
            free, holder = angle, name
    return round(free, 6), holder


def _in_the_way(view: View, door: Doorway) -> Mapping[str, BaseGeometry]:
    """Return what may hold a door: walls other than its own, and what stands or hangs lower than its head."""
    found: dict[str, BaseGeometry] = {}
    head_mm = 0.0 if door.opening is None else door.opening.sill_mm + door.opening.height_mm
    for stand in view.room_things(*FLOOR_KINDS):
        thing = stand.thing
        loose = isinstance(thing, Seat) and thing.what in ("chair", "stool")
        if thing.bottom_mm < head_mm - TOLERANCE_MM and not loose:
            found[stand.id] = footprint(stand)
    for name, line in view.room_walls.items():
        if not _own_wall(line, door):
            found[name] = line.moved(-WALL_MM).strip(WALL_MM)
    return found


def _own_wall(line: Segment, door: Doorway) -> bool:
    return all(abs(door.segment.place(end)[1]) <= TOLERANCE_MM for end in (line.a, line.b))


@check(reads={*FLOOR_KINDS, "openings"}, uses=ROOMS)
def room_doors_before_cabinets(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Overlap each room door, opened as far as it goes, with what the cabinets behind it open.

    Appliances behind doors are the matter of guideline 2.
    """
    if not rules.has("D4"):
        return
    row = rules.row("D4")
    stands = [s for s in view.room_things(*OPENS) if s.thing.kind not in APPLIANCES]
    judged = False
    for door in view.doorways():
        if door_sweep(door) is not None and door.hinge is not None:
            judged = True
            yield _before_cabinets(row, view, door, door.hinge, stands)
    if not judged:
        unsaid = [
            f"{door.id}.swing"
            for door in view.doorways()
            if door.opening is not None and door.opening.kind == "door" and door.opening.swing is None
        ]
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="missing fact" if unsaid else "does not apply",
            needs=unsaid,
            working=() if unsaid else ("No room door turns into this room.",),
        )


def _before_cabinets(row: Row, view: View, door: Doorway, hinge: Hinge, stands: list[Stand]) -> Finding:
    free, _ = _free_deg(view, door, hinge)
    leaf = open_leaf(hinge.at, hinge.closed_end, max(free, 1.0), hinge.clockwise, _DOOR_MM)
    met: dict[str, tuple[float, Opened]] = {}
    for one in opened_in(view, stands):
        area = overlap_mm2(leaf, one.swept)
        if area > met.get(one.id, (0.0,))[0]:
            met[one.id] = (area, one)
    called = dict(zip(met, names(view).of(*met), strict=True))
    lines = [f"over the path of {called[one.id]}: {both_areas(area)}" for area, one in met.values()]
    return row.finding(
        space=view.space.id,
        subjects=(door.id, view.space.id),
        measured=Quantity(sum(area for area, _ in met.values()), "mm2"),
        working=(
            f"the door, taken {both(_DOOR_MM)} thick, stands open at {free:.1f}° of {hinge.angle_deg:g}°",
            *(lines or ["over the path of no cabinet door or drawer"]),
            *(_shift(leaf, one, called[one.id]) for _, one in met.values()),
        ),
        marks=(
            Mark("area", tuple((x, y) for x, y in leaf.exterior.coords[:-1]), names(view).one(door.id)),
            *(mark for _, one in met.values() for mark in areas(common_part(leaf, one.swept))),
        ),
    )


def _shift(leaf: Polygon, one: Opened, called: str) -> str:
    widths = [filler(one.swept, leaf, (s * one.closed.direction[0], s * one.closed.direction[1])) for s in (1.0, -1.0)]
    known = [width for width in widths if width is not None]
    return f"{called} clears it {both(min(known))} further along its wall" if known else f"{called} does not clear it"
