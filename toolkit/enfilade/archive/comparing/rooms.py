"""Rooms and areas side by side, by what the rooms are for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, get_args

from enfilade.archive.comparing.columns import Column
from enfilade.geometry.outlines import area_m2
from enfilade.lengths import System
from enfilade.project.project import Project
from enfilade.project.spaces import Space, Use
from enfilade.quantities import Quantity, show_quantity
from enfilade.walkthrough.pages import Table

__all__ = ["NOTHING", "USES", "house_area_m2", "room_table", "rooms_of"]

NOTHING: Final = "\u2013"
"""Stands where a project has nothing of a kind."""
USES: Final[tuple[str, ...]] = get_args(Use)
_OUTDOORS: Final = "outside"


def room_table(columns: Sequence[Column]) -> Table:
    """Return how many rooms of each use there are and how large, and the whole house."""
    units = columns[0].project.show.units
    rows = [
        (use.capitalize(), *(_cell(rooms_of(column.project, use), units) for column in columns))
        for use in USES
        if any(rooms_of(column.project, use) for column in columns)
    ]
    indoors = [[one for one in column.project.spaces if one.use != _OUTDOORS] for column in columns]
    rows.append(("Whole house", *(_cell(spaces, units, always=True) for spaces in indoors)))
    note = "Floor areas between finished walls, from the outlines on record. What is outside is not in the whole house."
    return Table("Rooms and areas", ("Rooms", *(column.head for column in columns)), tuple(rows), note=note)


def rooms_of(project: Project, use: str) -> list[Space]:
    """Return the rooms of one use."""
    return [space for space in project.spaces if space.use == use]


def house_area_m2(project: Project, use: str | None = None) -> float:
    """Return the floor area of the rooms of one use, or of all that is indoors [m2]."""
    return sum(area_m2(one.outline) for one in project.spaces
               if (one.use != _OUTDOORS if use is None else one.use == use))  # fmt: skip


def _cell(spaces: Sequence[Space], units: System, *, always: bool = False) -> str:
    if not spaces:
        return NOTHING
    area = show_quantity(Quantity(sum(area_m2(space.outline) for space in spaces), "m2"), units)
    rooms = f"{len(spaces)} room{'' if len(spaces) == 1 else 's'}, "
    return f"{rooms}{area}" if always or len(spaces) > 1 else area
