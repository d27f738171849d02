"""Rooms drawn from a tape survey or over a scanned plan, and their place among the others."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Final, Literal

from enfilade.editing.ids import new_id
from enfilade.editing.rooms.room_places import room_joined, room_moved
from enfilade.editing.rooms.room_records import overlapping, usual_wall_names
from enfilade.editing.rooms.room_removed import in_the_way, space_removed
from enfilade.editing.rooms.room_walls import corner_moved, room_lined, wall_lengths, wall_re_measured
from enfilade.errors import Refused
from enfilade.geometry.insets import inset
from enfilade.geometry.outlines import check_outline, walls
from enfilade.geometry.points import Point, angle_between_deg, distance, minus
from enfilade.geometry.traverse import Leg, Walked, outline_of, walked
from enfilade.geometry.traverse import spread as spread_over
from enfilade.lengths import inches
from enfilade.project.fields import Basis
from enfilade.project.project import Project

__all__ = [
    "USUAL_LINING_MM",
    "corner_moved",
    "in_the_way",
    "outline_by_points",
    "overlapping",
    "room_from_outline",
    "room_from_traverse",
    "room_joined",
    "room_lined",
    "room_moved",
    "space_removed",
    "still_open",
    "wall_lengths",
    "wall_re_measured",
]

MeasuredTo = Literal["finish", "framing"]

USUAL_LINING_MM: Final = inches(0.5)
"""One layer of gypsum board as it is most often hung: common practice, no source; offered as an assumption."""

_APART_MM: Final = 1000.0
"""Between a new room and the others, until it is joined to one of them."""
_UNFINISHED: Final = 1 / 20
"""An error above this share of the perimeter is a wall that is missing, not a slip of the tape. Own choice."""
_EAST: Final = (1.0, 0.0)
_NEARLY_SQUARE_DEG: Final = 3.0
"""How far from square a wall that was drawn over a picture may run, and still be taken for square. Own choice."""


def still_open(walk: Walked) -> bool:
    """Tell whether a walk is unfinished: it has fewer than 3 walls, or ends far from where it began."""
    return len(walk.ahead) < 3 or walk.error_mm > _UNFINISHED * walk.perimeter_mm


def room_from_traverse(
    project: Project,
    name: str,
    use: str,
    legs: Sequence[Leg],
    start: Point | None = None,
    heading_deg: float = 90.0,
    measured_to: MeasuredTo = "finish",
    lining_mm: float = 0.0,
    ceiling_mm: float | None = None,
    *,
    spread: bool = False,
    lining_basis: Basis = "assumed",
) -> tuple[Project, str]:
    """Return the project with a room that was walked wall by wall, and the room's id.

    Args:
        project: The house.
        name: What people call the room.
        use: What it is used for, as `Space.use` has it.
        legs: Its walls in order.
        start: Where the walk begins [mm]. None: the first room goes to the origin, others beside the house.
        heading_deg: Direction of the first wall, counter-clockwise from +x.
        measured_to: What the tape was held against. Framing: the outline is drawn in by the lining.
        lining_mm: Thickness that goes on each framed wall, 0 or more; not read for `finish`.
        ceiling_mm: Finished floor to ceiling, when it is known.
        spread: Spread the closing error over the walls; else the last wall takes it up.
        lining_basis: Where the thickness of the lining comes from.
    Raises:
        Refused: The walls do not come round, cross each other, or leave no room.
        OutOfRange: A length or a turn is out of range.
        BadRecord: A field cannot stand so.
    """
    walk = walked(legs, start or (0.0, 0.0), heading_deg)
    if still_open(walk):
        raise Refused(
            f"the walls do not come back to where they began: {walk.error_mm:.0f} mm are missing",
            expected="walls all the way round",
            do="add the walls that are missing, or let the last one follow from the others",
        )
    corners = outline_of(spread_over(walk) if spread else walk)
    return room_from_outline(
        project,
        name,
        use,
        corners,
        as_placed=start is not None,
        measured_to=measured_to,
        lining_mm=lining_mm,
        ceiling_mm=ceiling_mm,
        lining_basis=lining_basis,
    )


def room_from_outline(
    project: Project,
    name: str,
    use: str,
    corners: Sequence[Point],
    *,
    as_placed: bool = True,
    measured_to: MeasuredTo = "finish",
    lining_mm: float = 0.0,
    ceiling_mm: float | None = None,
    lining_basis: Basis = "assumed",
    basis: Basis = "measured",
) -> tuple[Project, str]:
    """Return the project with a room that has these corners as taped, and the room's id.

    Args:
        as_placed: The corners are where the room stands; else it is set beside the others.
        basis: Where its sizes come from; a plan that was drawn over is `assumed` until it is taped.
    Raises:
        Refused, BadRecord: As for `room_from_traverse`.
    """
    if not name.strip():
        raise Refused("the room has no name", expected="a name such as Kitchen")
    lining = lining_mm if measured_to == "framing" else 0.0
    if not (math.isfinite(lining) and lining >= 0):
        raise Refused(f"a lining of {lining:g} mm", expected="a thickness of 0 or more")
    check_outline(corners)
    outline = inset(corners, lining) if lining else tuple(corners)
    if not as_placed:
        outline = _beside(project, outline)
    id = new_id(name, {space.id for space in project.spaces})
    room: dict[str, Any] = {
        "id": id,
        "name": name.strip(),
        "use": use,
        "outline": outline,
        "walls": _new_walls(project, id, outline),
        "ceiling_mm": ceiling_mm,
        "basis": basis,
    }
    if measured_to == "framing":
        room |= {"measured_to": "framing", "lining_mm": lining, "lining_basis": lining_basis}
    return project.with_records(spaces=[*project.spaces, room]), id


def _new_walls(project: Project, space_id: str, outline: Sequence[Point]) -> list[dict[str, str]]:
    taken = set(project.walls_by_id)
    made = []
    for name in usual_wall_names(outline):
        id = new_id(f"{space_id} {name.removesuffix(' wall')}", taken)
        taken.add(id)
        made.append({"id": id, "name": name})
    return made


def _beside(project: Project, outline: Sequence[Point]) -> tuple[Point, ...]:
    """Return an outline moved to the origin, or to the right of all that stands there already."""
    left, low = min(x for x, _ in outline), min(y for _, y in outline)
    x, y = 0.0, 0.0
    if project.spaces:
        standing = [point for space in project.spaces for point in space.outline]
        x = max(point[0] for point in standing) + _APART_MM
        y = min(point[1] for point in standing)
    return tuple((px - left + x, py - low + y) for px, py in outline)


def outline_by_points(project: Project, points: Sequence[Point], *, square: bool = True) -> tuple[Point, ...]:
    """Return the outline of a room whose corners were marked in order over a scanned plan.

    Args:
        project: The house, whose walls tell which way is square.
        points: The corners in house coordinates [mm]; the first may be repeated at the end.
        square: Make the walls square to the house, or to each other, when all of them nearly are; what the hand
            slipped is spread as a closing error is.
    Raises:
        Refused: There are fewer than 3 corners, or the walls cross.
    """
    corners = list(points)
    if len(corners) > 3 and distance(corners[0], corners[-1]) < 1.0:
        corners.pop()
    check_outline(corners)
    if square:
        corners = list(_squared(corners, _axis_of(project)))
        check_outline(corners)
    return tuple(corners)


def _axis_of(project: Project) -> float:
    """Return the direction of the longest wall of the house, within 0 to 90; 0 before there is one [deg]."""
    lines = [wall for space in project.spaces for wall in walls(space.outline)]
    longest = max(lines, key=lambda wall: wall.length_mm, default=None)
    return angle_between_deg(_EAST, longest.direction) % 90.0 if longest else 0.0


def _squared(corners: Sequence[Point], axis_deg: float) -> Sequence[Point]:
    """Return the corners with every wall along the longest one or at a right angle to it, if all nearly are."""
    steps = [minus(corners[(i + 1) % len(corners)], corners[i]) for i in range(len(corners))]
    lies = angle_between_deg(_EAST, max(steps, key=lambda step: math.hypot(*step)))
    along_house = axis_deg + 90.0 * round((lies - axis_deg) / 90.0)
    base = along_house if abs(lies - along_house) <= _NEARLY_SQUARE_DEG else lies
    ways = [angle_between_deg(_EAST, step) for step in steps]
    headings = [base + 90.0 * round((way - base) / 90.0) for way in ways]
    if max(abs(way - heading) for way, heading in zip(ways, headings, strict=True)) > _NEARLY_SQUARE_DEG:
        return corners
    turns = [_turn(a, b) for a, b in zip(headings, [*headings[1:], headings[0]], strict=True)]
    legs = [Leg(math.hypot(*step), turn) for step, turn in zip(steps, turns, strict=True)]
    return spread_over(walked(legs, corners[0], headings[0])).corners


def _turn(before_deg: float, after_deg: float) -> float:
    return (after_deg - before_deg + 180.0) % 360.0 - 180.0
