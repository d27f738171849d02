"""Where a thing stands, and the clear widths round it, as a screen reader says them."""

from __future__ import annotations

from typing import Final

from enfilade.editing.things.clear_round import SIDES, clear_widths_round
from enfilade.editing.things.house import House, opening_of
from enfilade.lengths import TOLERANCE_MM, show_length, show_size
from enfilade.listing import capital, the
from enfilade.project.placing import AgainstWall, SetIn
from enfilade.project.project import Project
from enfilade.project.thing import Side

__all__ = ["called", "clear_words", "place_words"]

_WHERE: Final[dict[Side, str]] = {"front": "in front", "back": "behind", "left": "to its left", "right": "to its right"}


def called(project: Project, id: str) -> str:
    """Return what people call a thing or an opening, with a capital.

    Raises:
        NotFound: No such thing or opening.
    """
    if id in project.things_by_id:
        name = project.thing(id).called
    else:
        opening = opening_of(project, id)
        name = opening.name or opening.kind
    return capital(name)


def place_words(project: Project, id: str) -> str:
    """Return where a thing or an opening stands, and what is round it, in sentences.

    Raises:
        NotFound: No such thing or opening.
    """
    house, system = House(project), project.show.units
    around = _around(house, id)
    tail = f" Clear: {around}." if around else ""
    if id not in project.things_by_id:
        opening = opening_of(project, id)
        wall = the(house.wall(opening.wall).name or "wall")
        return f"In {wall}, {show_length(opening.offset_mm, system)} from its {opening.from_end} end.{tail}"
    place = project.thing(id).place
    if isinstance(place, AgainstWall):
        wall = the(house.wall(place.wall).name or "wall")
        gap = f", {show_size(place.gap_mm, system)} off it" if place.gap_mm > TOLERANCE_MM else ""
        return f"Against {wall}, {show_length(place.offset_mm, system)} from its {place.from_end} end{gap}.{tail}"
    if isinstance(place, SetIn):
        host = the(project.thing(place.host).called)
        return f"Set in {host}, {show_size(place.offset_mm, system)} from the left end of its {place.side}.{tail}"
    turned = f", turned {place.turn_deg:g} degrees" if place.turn_deg else ""
    return f"Stands free{turned}.{tail}"


def clear_words(project: Project, id: str) -> str:
    """Return a thing and its clear widths in a line: `Island: 41" to the range in front, 36 1/16" to the wall behind`.

    Raises:
        NotFound: No such thing or opening.
    """
    around = _around(House(project), id)
    return f"{called(project, id)}: {around}" if around else called(project, id)


def _around(house: House, id: str) -> str:
    system = house.project.show.units
    round_it, told = clear_widths_round(house, id), []
    host = getattr(getattr(house.project.things_by_id.get(id), "place", None), "host", None)
    for side in SIDES:
        found = round_it[side]
        if found is not None and found.distance_mm > TOLERANCE_MM:
            told.append(f"{show_size(found.distance_mm, system)} to {the(found.called)} {_WHERE[side]}")
        elif found is not None and found.among == "things" and found.id != host:
            told.append(f"touches {the(found.called)} {_WHERE[side]}")
    return ", ".join(told)
