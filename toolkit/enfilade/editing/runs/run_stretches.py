"""Where a run can go: the stretches of a wall between its corners, its openings, and what is tall."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Final, Literal

from enfilade.editing.runs.run_words import Row, run_widths
from enfilade.editing.things.default_sizes import default_size
from enfilade.editing.things.house import House
from enfilade.editing.things.stretches import Stretch, Taken, free_stretches, taken_on
from enfilade.errors import OutOfRange, Refused
from enfilade.lengths import TOLERANCE_MM, show_length
from enfilade.listing import the
from enfilade.project.placing import AgainstWall
from enfilade.project.project import Project

__all__ = ["Band", "End", "band_of", "run_stretch", "run_stretches", "up_to_what_stands"]

End = Literal["left", "right"]

_TALL_MM: Final = 1200.0
"""What stands higher interrupts a counter (own choice, a little above counter height)."""
_FIXED: Final = {"column", "fireplace"}


@dataclass(frozen=True, slots=True)
class Band:
    """What a run takes up before its wall: how deep, and between which heights [mm]."""

    depth_mm: float
    bottom_mm: float
    top_mm: float


def band_of(project: Project, row: Row) -> Band:
    """Return the band of a run of default sizes."""
    if row == "upper":
        size = default_size("wall cabinet", project.show.units)
        return Band(size.depth_mm, size.bottom_mm, size.top_mm)
    size = default_size("counter", project.show.units)
    return Band(size.depth_mm, 0.0, size.top_mm)


def run_stretches(project: Project | House, wall: str, row: Row = "lower", *, replace: bool = False) -> list[Stretch]:
    """Return the stretches in which a run can be laid, from left to right.

    They end at corners, openings, tall things, and things of another wall that stand in the corner. Other things may
    stand in them.

    Args:
        row: On the floor, or hung.
        replace: What stands against this wall is to go, and ends no stretch.
    Raises:
        NotFound: No such wall.
        Refused: No wall stands there.
    """
    house = project if isinstance(project, House) else House(project)
    record, band = house.wall(wall), band_of(house.project, row)
    if record.open:
        raise Refused(f"{the(record.name or 'wall')} is an open side: no wall stands there", expected="a wall")
    deep, low, high = band.depth_mm, band.bottom_mm, band.top_mm
    taken = taken_on(house, wall, depth_mm=deep, bottom_mm=low, top_mm=high)
    ends = [one for one in taken if _ends(house, one, band, row, replace)]
    solid = [one for one in ends if not _only_a_top(house, one, ends)]
    return free_stretches(house, wall, depth_mm=deep, bottom_mm=low, top_mm=high, taken=solid)


def run_stretch(
    project: Project | House,
    wall: str,
    row: Row = "lower",
    from_end: End = "left",
    *,
    start_mm: float | None = None,
    end_mm: float | None = None,
    replace: bool = False,
) -> Stretch:
    """Return the stretch for a run: the one given, or the first from that end of the wall.

    Args:
        start_mm, end_mm: From the wall's left end; without both, the first stretch that holds a cabinet is taken.
    Raises:
        NotFound: No such wall.
        Refused: No wall stands there, or it is full.
        OutOfRange: The stretch does not lie on the wall.
    """
    house = project if isinstance(project, House) else House(project)
    found = run_stretches(house, wall, row, replace=replace)
    length_mm, name = house.line(wall).length_mm, the(house.wall(wall).name or "wall")
    if start_mm is not None and end_mm is not None:
        if not -TOLERANCE_MM <= start_mm < end_mm <= length_mm + TOLERANCE_MM:
            most = show_length(length_mm, house.project.show.units)
            raise OutOfRange(f"this stretch does not lie on {name}", expected=f"a start before an end, 0 to {most}")
        same = [one for one in found if abs(one.start_mm - start_mm) + abs(one.end_mm - end_mm) <= TOLERANCE_MM]
        return same[0] if same else Stretch(wall, max(0.0, start_mm), min(length_mm, end_mm), "", "", "thing", "thing")
    # What is left beside a door may hold no cabinet at all.
    least_mm = run_widths(house.project.show.units).stock_mm[0]
    wide = [one for one in found if one.length_mm >= least_mm - TOLERANCE_MM]
    if not wide:
        raise Refused(f"{name} has no room for a run", expected="a wall with a stretch that is free")
    return wide[0] if from_end == "left" else wide[-1]


def up_to_what_stands(project: Project, stretch: Stretch, run_mm: float, from_end: End, row: Row) -> Stretch:
    """Return a stretch cut off where the first low thing stands on its wall beyond a run of a length [mm]."""
    house, band = House(project), band_of(project, row)
    begin, ahead = stretch.start_mm, from_end == "left"
    reach = begin + run_mm if ahead else stretch.end_mm - run_mm
    cut = stretch
    for thing in project.things:
        if not (isinstance(thing.place, AgainstWall) and thing.place.wall == stretch.wall) or thing.state == "removed":
            continue
        if thing.top_mm <= band.bottom_mm + TOLERANCE_MM or thing.bottom_mm >= band.top_mm - TOLERANCE_MM:
            continue
        places = [house.line(stretch.wall).place(corner)[0] for corner in house.stands[thing.id].box.corners]
        left, right = min(places), max(places)
        if ahead and reach - TOLERANCE_MM <= left < cut.end_mm:
            cut = dataclasses.replace(cut, end_mm=left, right=thing.called, right_what="thing")
        elif not ahead and cut.start_mm < right <= reach + TOLERANCE_MM:
            cut = dataclasses.replace(cut, start_mm=right, left=thing.called, left_what="thing")
    return cut


def _ends(house: House, taken: Taken, band: Band, row: Row, replace: bool) -> bool:
    if taken.what == "opening":
        return True
    thing = house.project.thing(taken.id)
    if taken.what == "other":
        return isinstance(thing.place, AgainstWall) or thing.kind in _FIXED
    tall = thing.top_mm >= _TALL_MM if row == "lower" else thing.bottom_mm < band.bottom_mm - TOLERANCE_MM
    return (tall and not replace) or thing.kind in _FIXED


def _only_a_top(house: House, taken: Taken, ends: list[Taken]) -> bool:
    """Tell whether a thing is a counter of another wall with cabinets under it: those end the stretch, not its edge."""
    if taken.what != "other" or house.project.thing(taken.id).kind != "counter":
        return False
    under = (one for one in ends if one.what == "other" and house.project.thing(one.id).kind != "counter")
    return any(min(one.end_mm, taken.end_mm) - max(one.start_mm, taken.start_mm) > TOLERANCE_MM for one in under)
