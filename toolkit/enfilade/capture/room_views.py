"""The page of a room as far as it is told of: its story, and perspectives of it."""

from __future__ import annotations

import math
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight, text_of
from enfilade.capture.telling import told_now
from enfilade.drawings.perspective_eye import standing_camera
from enfilade.drawings.solids import house_solids
from enfilade.editing.forms.paths import spot_of, with_row
from enfilade.editing.ids import new_id
from enfilade.errors import Refused
from enfilade.project.spaces import View
from enfilade.project.speaking import Eye
from enfilade.walkthrough.views import views

__all__ = ["FIELDS", "HANDLERS", "open_rooms"]

FIELDS: Final = ("story", "views")
_ROOMS: Final = "open rooms"
_AHEAD_MM: Final = 2000.0


def open_rooms(sight: Sight) -> set[str]:
    """Return the rooms whose pages are open."""
    opened: set[str] = sight.kept.setdefault(_ROOMS, set())
    return opened


def _open(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    space = desk.project.space(text_of(message, "space", longest=64))
    if message.get("open") is True:
        open_rooms(sight).add(space.id)
        return f"Page of {space.name} open"
    open_rooms(sight).discard(space.id)
    return "Closed"


def _drawn(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return the perspectives of a room, drawn from the record alone."""
    space = desk.project.space(text_of(message, "space", longest=64))
    drawn = views(told_now(desk, sight).telling, space.id)
    say = "" if drawn else "Nothing stands in this room that a perspective could show"
    return {"say": say, "pictures": [{"words": one.title, "svg": one.svg} for one in drawn]}


def _add(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Record a perspective from where a person would stand."""
    space = desk.project.space(text_of(message, "space", longest=64))
    camera = standing_camera(house_solids(told_now(desk, sight).telling.house), space.id)
    if camera is None:
        raise Refused("nothing stands in this room that a perspective could show")
    x, y, z = camera.eye
    turn = math.radians(camera.yaw_deg)
    toward = round(x + _AHEAD_MM * math.cos(turn), 1), round(y + _AHEAD_MM * math.sin(turn), 1)
    title = f"{space.name}, as a person sees it"
    view = View(
        id=new_id(title, {one.id for one in space.views}),
        title=title,
        eye=Eye(x_mm=round(x, 1), y_mm=round(y, 1), height_mm=round(z, 1)),
        toward=toward,
        width_deg=camera.width_deg,
    )
    changed = space.model_copy(update={"views": (*space.views, view)})
    desk.change(f"added a perspective of {space.name}", with_row(spot_of(desk.project, ("spaces", space.id)), changed))
    return _drawn(desk, sight, message) | {"say": f"A perspective of {space.name} is added"}


HANDLERS: Final = {"open room": _open, "perspectives": _drawn, "add view": _add}
