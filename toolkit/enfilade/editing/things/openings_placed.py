"""Doors, windows and other openings put into walls: project in, project out."""

from __future__ import annotations

from typing import Literal

from enfilade.editing.ids import new_id
from enfilade.editing.things.default_sizes import default_opening
from enfilade.editing.things.house import House, all_ids
from enfilade.editing.things.stretches import free_stretches, taken_on
from enfilade.editing.things.walls_behind import wall_behind
from enfilade.errors import OutOfRange, Refused
from enfilade.lengths import LIMIT_MM, TOLERANCE_MM, show_length
from enfilade.listing import the
from enfilade.project.project import Project

__all__ = ["opening_added"]

_THIN_MM = 1.0


def opening_added(
    project: Project,
    wall: str,
    kind: str,
    offset_mm: float | None = None,
    *,
    from_end: Literal["left", "right"] = "left",
    width_mm: float | None = None,
) -> tuple[Project, str]:
    """Return the project with a new opening of generic size, marked as assumed, and its id.

    It is joined to the wall that lies behind it within 400 mm; where none does, nothing is said of what is beyond. A
    door is hung at its left and swings into this room; its record says otherwise where that is wrong.

    Args:
        wall: Id of the wall.
        kind: As the records name it: `door`, `window` ...
        offset_mm: From that end of the wall to its near edge; None puts it in the middle of the longest stretch in
            which nothing opens and, where possible, nothing stands.
        from_end: End of the wall that it is measured from, as seen from inside.
        width_mm: Its width, when it is known; None takes the usual one, or what the wall leaves.
    Raises:
        NotFound: No such wall or kind.
        OutOfRange: It would reach past an end of the wall.
        Refused: No wall stands there.
    """
    house, size = House(project), default_opening(kind, project.show.units)
    line, record = house.line(wall), house.wall(wall)
    name = the(record.name or "wall")
    if record.open:
        raise Refused(f"{name} is an open side: no wall stands there", expected="a side with a wall")
    wide = min(size.width_mm, line.length_mm) if width_mm is None else width_mm
    if not (0 < wide <= min(line.length_mm + TOLERANCE_MM, LIMIT_MM)):
        most = show_length(line.length_mm, project.show.units)
        raise OutOfRange(f"a {kind} of this width does not fit into {name}", expected=f"at most {most}")
    room_mm = max(0.0, line.length_mm - wide)
    if offset_mm is None:
        left_mm = _free_left(house, wall, wide, size.sill_mm, size.sill_mm + size.height_mm)
    elif -TOLERANCE_MM <= offset_mm <= room_mm + TOLERANCE_MM:
        left_mm = min(max(offset_mm, 0.0), room_mm)
        left_mm = left_mm if from_end == "left" else room_mm - left_mm
    else:
        raise OutOfRange(
            f"the {kind} would reach past an end of {name}", expected=f"0 to {show_length(room_mm, project.show.units)}"
        )
    behind = wall_behind(house, wall, left_mm, left_mm + wide) if kind != "skylight" else None
    id = new_id(kind, all_ids(project))
    hinged = {"swing": {"hinge": "left", "into": "this side"}} if kind == "door" else {}
    if kind in ("cased opening", "sliding door", "pocket door"):
        hinged = {"swing": "none"}  # type: ignore[dict-item]
    sizes = {"width_mm": round(wide, 6), "height_mm": size.height_mm, "sill_mm": size.sill_mm}
    new = {
        "id": id, "kind": kind, "wall": wall, "from_end": from_end,
        "offset_mm": round(left_mm if from_end == "left" else room_mm - left_mm, 6),
        **sizes, "state": "new", "basis": "assumed", **hinged,
        **({"beyond": behind[0]} if behind else {}),
        **({"depth_mm": behind[1]} if behind and behind[1] >= _THIN_MM else {}),
    }  # fmt: skip
    return project.with_records(openings=[*project.openings, new]), id


def _free_left(house: House, wall: str, width_mm: float, low_mm: float, high_mm: float) -> float:
    """Return the left edge of an opening in the middle of the longest stretch that is left for it."""
    depth_mm, line = 300.0, house.line(wall)
    whole = taken_on(house, wall, depth_mm=depth_mm, bottom_mm=low_mm, top_mm=high_mm)
    for taken in (whole, [one for one in whole if one.what == "opening"]):
        stretches = free_stretches(house, wall, depth_mm=depth_mm, bottom_mm=low_mm, top_mm=high_mm, taken=taken)
        wide = [one for one in stretches if one.length_mm >= width_mm - TOLERANCE_MM]
        if wide:
            best = max(wide, key=lambda one: round(one.length_mm, 3))
            return round(max(0.0, (best.start_mm + best.end_mm - width_mm) / 2), 6)
    return round(max(0.0, (line.length_mm - width_mm) / 2), 6)
