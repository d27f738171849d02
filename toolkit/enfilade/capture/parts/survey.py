"""A room drawn by its walls, as they are taped: the sheet that is filled in, and the walk as it stands so far."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sheets import begin, begun_and_sheet, is_open, keep, put_away, room_words, take_out
from enfilade.capture.sight import Sight
from enfilade.editing.forms.refusals import plain_words
from enfilade.editing.rooms.rooms import USUAL_LINING_MM, still_open
from enfilade.editing.rooms.survey_sheet import (
    BLANK,
    HEADINGS,
    USES,
    Sheet,
    Walls,
    read_walls,
    room_from_sheet,
    sheet_of,
)
from enfilade.errors import BadRecord, EnfiladeError, Fault, Refused
from enfilade.geometry.outlines import area_m2
from enfilade.geometry.traverse import Walked, diagonal_difference_mm, outline_of, spread, walked
from enfilade.lengths import TOLERANCE_MM, System, show_length, show_size
from enfilade.project.project import Project
from enfilade.quantities import Quantity, show_quantity

__all__ = ["DRAFT", "HANDLERS", "NAME", "shown", "walk_words"]

NAME: Final = "survey"
DRAFT: Final = ("survey",)
"""Where an unfinished survey is kept."""


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the sheet as it was typed, and the walls so far; nothing while no room is being drawn."""
    if not is_open(desk, DRAFT):
        return {}
    system = desk.project.show.units
    try:
        opened, typed = begun_and_sheet(desk, DRAFT)
        sheet = sheet_of(typed)
    except Refused:
        opened, sheet = "", BLANK
    return {
        "opened": opened,
        "sheet": asdict(sheet),
        "walk": _walk(sheet, desk.project),
        "uses": list(USES),
        "headings": list(HEADINGS),
        "usual": show_size(USUAL_LINING_MM, system),
        "unit": "inches" if system == "us" else "mm",
    }


def _walk(sheet: Sheet, project: Project) -> dict[str, Any]:
    """Return the walls as they can be drawn, and in words what is still open. Points are in mm, y up."""
    system = project.show.units
    read = read_walls(sheet, system)
    told: dict[str, Any] = {
        "faults": [_plain(fault, project) for fault in read.faults],
        "walls": [],
        "points": [],
        "gap": [],
        "words": "No wall is taped yet.",
        "trouble": "",
        "closes": False,
        "open": True,
    }
    if not read.legs:
        return told
    try:
        walk = walked(read.legs, (0.0, 0.0), HEADINGS[sheet.heading])
    except EnfiladeError as error:
        return told | {"trouble": plain_words(str(error), project), "words": ""}
    as_taped = walk
    unfinished = still_open(walk)
    if sheet.spread and not unfinished:
        walk = spread(walk)
    closes = walk.error_mm < TOLERANCE_MM
    told |= {
        "walls": [_wall(i, step, walk, system) for i, step in enumerate(as_taped.steps)],
        "points": [list(point) for point in (walk.corners if closes else (*walk.corners, walk.end))],
        "gap": [] if closes else [list(walk.end), list(walk.start)],
        "words": walk_words(as_taped, system, spread=walk is not as_taped),
        "closes": closes,
        "open": unfinished,
    }
    if not unfinished:
        told |= _room(walk, read, project)
    return told


def _wall(index: int, step: tuple[float, float], walk: Walked, system: System) -> dict[str, str]:
    taped, drawn = math.hypot(*step), math.hypot(*walk.steps[index])
    words = show_length(taped, system)
    now = show_length(drawn, system)
    return {"reads": words, "drawn": now if now != words else ""}


def _room(walk: Walked, read: Walls, project: Project) -> dict[str, Any]:
    system = project.show.units
    try:
        corners = outline_of(walk)
    except EnfiladeError as error:
        return {"trouble": plain_words(str(error), project)}
    differences = []
    for index, diagonal in read.diagonals.items():
        try:
            off = diagonal_difference_mm(corners, diagonal)
        except EnfiladeError:
            continue  # Its corner is not walked yet.
        differences.append({"row": index, "words": _diagonal_words(off, system)})
    return {"area": show_quantity(Quantity(area_m2(corners), "m2"), system), "diagonals": differences}


def _diagonal_words(off_mm: float, system: System) -> str:
    if abs(off_mm) < TOLERANCE_MM:
        return "agrees with the walls"
    return f"{show_size(abs(off_mm), system)} {'longer' if off_mm > 0 else 'shorter'} than the walls make it"


def walk_words(walk: Walked, system: System, *, spread: bool = False) -> str:
    """Return in words how a walk closes: `1/2" open, 1 in 1300`."""
    if still_open(walk):
        return f"{show_length(walk.error_mm, system)} from where the first wall began."
    turns = walk.turn_error_deg
    odd = f" The corners add up to {abs(walk.turned_deg or 0):g}° of turning; once round is 360°." if turns else ""
    if walk.error_mm < TOLERANCE_MM or walk.one_in is None:
        return f"The walls close.{odd}"
    open_by = f"{show_size(walk.error_mm, system)} open, 1 in {_rounded(walk.one_in)}"
    tail = "spread over the walls" if spread else "the last wall takes it up"
    return f"Closing error: {open_by}; {tail}.{odd}"


def _rounded(number: float) -> int:
    """Return a number to two digits, rounded down: a survey is not called better than it is."""
    step = 10 ** max(0, math.floor(math.log10(number)) - 1)
    return int(number // step * step)


def _draw(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    take_out(desk, DRAFT, asdict(BLANK))
    return "Draw a room by its walls"


def _set(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    keep(desk, DRAFT, message, asdict(sheet_of(message.get("sheet"))))
    return ""


def _leave(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    put_away(desk, DRAFT)
    return "Put away as it is; nothing was drawn"


def _clear(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    begin(desk, DRAFT, asdict(BLANK))
    return "The sheet is empty"


def _accept(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sheet = sheet_of(message.get("sheet"))
    _set(desk, sight, message)
    try:
        project, id = room_from_sheet(desk.project, sheet)
    except BadRecord as error:
        faults = [Fault(_place(one.place), *_said(one, desk.project)) for one in error.faults]
        raise BadRecord("survey", faults) from error
    except EnfiladeError as error:
        raise Refused(plain_words(str(error), desk.project)) from error
    name = project.space(id).name
    desk.change(f"drew {name}", project)
    desk.drafts.drop(DRAFT)
    sight.room, sight.selected = id, None
    return room_words(project, id)


def _place(place: str) -> str:
    """Return where a fault is told on the sheet: the record's own fields have the sheet's names."""
    field = place.rpartition("/")[2].removesuffix("_mm")
    return field if place.startswith("spaces/") and field in ("name", "use", "ceiling", "lining") else place


def _plain(fault: Fault, project: Project) -> dict[str, str]:
    what, expected = _said(fault, project)
    return {"place": fault.place, "what": what, "expected": expected}


def _said(fault: Fault, project: Project) -> tuple[str, str]:
    return plain_words(fault.what, project), fault.expected


HANDLERS: Final = {
    "draw room": _draw,
    "survey": _set,
    "leave survey": _leave,
    "clear survey": _clear,
    "make room": _accept,
}
