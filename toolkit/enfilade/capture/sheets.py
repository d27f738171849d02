"""Sheets that a person fills in before they make a room: kept among the drafts, put away and taken out again."""

from __future__ import annotations

import secrets
from typing import Any

from enfilade.capture.desk import Desk
from enfilade.editing.rooms.rooms import overlapping
from enfilade.errors import Refused
from enfilade.geometry.outlines import area_m2
from enfilade.project.project import Project
from enfilade.quantities import Quantity, show_quantity

__all__ = ["begin", "begun_and_sheet", "is_open", "keep", "put_away", "room_words", "take_out"]

Path = tuple[str, ...]


def is_open(desk: Desk, path: Path) -> bool:
    """Tell whether a sheet is on the page: begun, and not put away."""
    typed = _typed(desk, path)
    return typed is not None and typed.get("away") is not True


def begun_and_sheet(desk: Desk, path: Path) -> tuple[str, Any]:
    """Return the mark of the sheet that is open, by which what was typed into an earlier one is told apart, and it.

    Raises:
        Refused: What is kept there cannot be read.
    """
    typed = _typed(desk, path)
    if typed is None or not isinstance(typed.get("opened"), str):
        raise Refused("this sheet cannot be read")
    return typed["opened"], typed.get("sheet")


def begin(desk: Desk, path: Path, blank: dict[str, Any]) -> None:
    """Put a blank sheet on the page."""
    desk.drafts.keep(path, {"opened": secrets.token_hex(4), "sheet": blank})


def take_out(desk: Desk, path: Path, blank: dict[str, Any]) -> None:
    """Put a sheet on the page as it was left, or a blank one."""
    typed = _typed(desk, path)
    if typed is None:
        begin(desk, path, blank)
    elif typed.get("away") is True:
        desk.drafts.keep(path, {"opened": secrets.token_hex(4), "sheet": typed.get("sheet")})


def put_away(desk: Desk, path: Path) -> None:
    """Take a sheet off the page; what is on it stays."""
    typed = _typed(desk, path)
    if typed is not None:
        desk.drafts.keep(path, {**typed, "away": True})


def keep(desk: Desk, path: Path, message: dict[str, Any], sheet: dict[str, Any]) -> None:
    """Keep what is on a sheet, unless it was finished or put away while the message was on its way."""
    typed = _typed(desk, path)
    if typed is not None and typed.get("opened") == message.get("opened") and typed.get("away") is not True:
        desk.drafts.keep(path, {"opened": typed["opened"], "sheet": sheet})


def room_words(project: Project, id: str) -> str:
    """Return what a screen reader hears of a room that was just drawn or changed."""
    space = project.space(id)
    area = show_quantity(Quantity(area_m2(space.outline), "m2"), project.show.units)
    inside = overlapping(project, id)
    return f"{space.name}: {area}" + (f"; it stands on the floor of {', '.join(inside)}" if inside else "")


def _typed(desk: Desk, path: Path) -> dict[str, Any] | None:
    draft = desk.drafts.get(path)
    return draft.typed if draft is not None and isinstance(draft.typed, dict) else None
