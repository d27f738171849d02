"""The lines to speak in the room, as plain text that is kept while it is typed."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.editing.forms.lines import lines_of, with_lines
from enfilade.errors import BadRecord, Refused

__all__ = ["HANDLERS", "NAME", "say_lines", "shown"]

NAME: Final = "lines"


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return what is said in the room, a paragraph a line."""
    room = sight.room
    if room is None:
        return {"nothing": "Lines to speak are written once a room is drawn."}
    stop = lines_of(desk.project, room)
    draft = desk.drafts.get((NAME, room))
    lines = stop.lines if stop is not None else ()
    return {
        "room": room,
        "name": desk.project.space(room).name,
        "text": "\n".join(line.text for line in lines),
        "words": f"{count} words" if (count := sum(len(line.text.split()) for line in lines)) else "",
        **({"typed": draft.typed, "error": draft.error} if draft is not None else {}),
    }


def say_lines(desk: Desk, room: str, typed: Any) -> dict[str, Any]:
    """Take the lines of a room as they were typed, or keep them beside the project with the reason.

    Raises:
        BadRecord: They cannot be taken.
    """
    if not isinstance(typed, str):
        raise Refused("the page sent no lines", do="load the page again")
    try:
        project = with_lines(desk.project, room, typed)
    except BadRecord as refusal:
        desk.drafts.keep((NAME, room), typed, refusal.faults[0].what)
        raise
    desk.change(f"wrote the lines of {desk.project.space(room).name}", project, joins=f"{NAME}/{room}")
    desk.drafts.drop((NAME, room))
    return {"say": ""}


HANDLERS: Final[dict[str, Any]] = {}
