"""What is done to single lines of the script: begun, written, taken out, put in another place."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.parts.fields import set_field
from enfilade.capture.sight import Sight, number_of, text_of
from enfilade.capture.telling import line_at
from enfilade.editing.forms.called import shortened
from enfilade.editing.forms.paths import Path
from enfilade.editing.forms.rows import with_row_added, with_row_moved
from enfilade.editing.forms.script_lines import with_line_added, with_line_moved, with_line_out
from enfilade.errors import BadRecord, NotFound, Refused
from enfilade.project.project import Project
from enfilade.project.speaking import Part, SpokenLine, Stop

__all__ = ["BEGUN", "HANDLERS", "born", "part_at", "path_of_line", "stop_at"]

BEGUN: Final = "begun line"
"""First step of the path under which a line is kept that has no words yet: then the list, then the line before it."""
_BORN: Final = "born lines"
_DEEPEST: Final = 12
_LONGEST: Final = 2000


def born(sight: Sight) -> dict[Path, Path]:
    """Return the lines that were begun on this page and have words by now: where they were begun, and their path."""
    found: dict[Path, Path] = sight.kept.setdefault(_BORN, {})
    return found


def path_of_line(message: dict[str, Any]) -> Path:
    """Return the path of a message.

    Raises:
        Refused: It has none that could lead to a line.
    """
    path = message.get("path")
    good = isinstance(path, list) and 1 < len(path) <= _DEEPEST
    if not good or not all(isinstance(step, str) and len(step) <= _LONGEST for step in path or ()):
        raise Refused("the page sent no place", do="load the page again")
    return tuple(path or ())


def stop_at(project: Project, id: str) -> Stop:
    """Return a stop, or raise NotFound."""
    found = next((one for one in project.script if one.id == id), None)
    if found is None:
        raise NotFound("this stop is not there any more", do="load the page again")
    return found


def part_at(project: Project, id: str) -> Part:
    """Return a part, or raise NotFound."""
    found = next((one for one in project.show.speaking.parts if one.id == id), None)
    if found is None:
        raise NotFound("this part is not there any more", do="load the page again")
    return found


def _say(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Take what was typed into a line; one that was begun is written down with its first words."""
    path, typed = path_of_line(message), message.get("typed")
    if path[0] != BEGUN:
        return set_field(desk, path, typed)
    if not isinstance(typed, str):
        raise Refused("the page sent no line", do="load the page again")
    if (there := born(sight).get(path)) is not None:
        return set_field(desk, (*there, "text"), typed)
    desk.drafts.keep(path, typed, "")
    if not typed.strip():
        return {"say": ""}
    try:
        project, line = _written(desk.project, path, typed)
    except BadRecord as refusal:
        desk.drafts.keep(path, typed, refusal.faults[0].what)
        raise
    # It joins what is typed into the same line next: one step of undo.
    desk.change("wrote a line", project, joins="/".join((*line, "text")))
    desk.drafts.drop(path)
    born(sight)[path] = line
    return {"say": "", "shown": typed}


def _written(project: Project, begun: Path, text: str) -> tuple[Project, Path]:
    """Return the project with a line that was begun, and the path to it."""
    where, after = begun[1:-1], begun[-1]
    if where[:1] == ("spaces",) and len(where) == 2:
        project, stop, line = with_line_added(project, where[1], text)
        return project, ("script", stop, "lines", line)
    ids = [one.id for one in _rows(project, where)]
    at = ids.index(after) + 1 if after in ids else 0
    project, line = with_row_added(project, where, {"text": text})
    return with_row_moved(project, (*where, line), at), (*where, line)


def _rows(project: Project, where: Path) -> tuple[SpokenLine, ...]:
    """Return the lines of a list: those of a stop, or a recap or lead-in."""
    if len(where) == 3 and where[0] == "script" and where[2] == "lines":
        return stop_at(project, where[1]).lines
    if len(where) == 5 and where[:3] == ("show", "speaking", "parts") and where[4] in ("recap", "lead_in"):
        rows: tuple[SpokenLine, ...] = getattr(part_at(project, where[3]), where[4])
        return rows
    raise NotFound("no line can be said there", do="load the page again")


def _begin(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Begin a line after another, or as the first."""
    path = (BEGUN, *path_of_line(message), text_of(message, "after", longest=64))
    if path[1] == "spaces":
        desk.project.space(path[2])
    else:
        _rows(desk.project, path[1:-1])
    # One that was begun in the same place has its words by now, and is called by its own name from here on.
    born(sight).pop(path, None)
    desk.drafts.keep(path, "", "")
    return {"say": "A new line", "path": list(path)}


def _leave(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Leave a line that was begun and never written."""
    path = path_of_line(message)
    if path[0] != BEGUN:
        raise NotFound("this line is not there any more", do="load the page again")
    desk.drafts.drop(path)
    return "The new line is left out"


def _take_out(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    path = path_of_line(message)
    owner, line = line_at(desk.project, path)
    desk.change(f"took out “{shortened(line.text, 40)}”", with_line_out(desk.project, owner, line.id))
    desk.drafts.drop((*path, "text"))
    return f"Taken out: {shortened(line.text, 60)}"


def _move(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    path, by = path_of_line(message), int(number_of(message, "by"))
    _, line = line_at(desk.project, path)
    rows = _rows(desk.project, path[:-1])
    at = [one.id for one in rows].index(line.id)
    to = min(max(at + by, 0), len(rows) - 1)
    if to == at:
        return "It stands there already"
    desk.change(f"moved “{shortened(line.text, 40)}”", with_row_moved(desk.project, path, to))
    return f"Line {to + 1} of {len(rows)}"


def _to_stop(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Say a line in another room, last of what is said there."""
    path, stop = path_of_line(message), text_of(message, "stop", longest=64)
    owner, line = line_at(desk.project, path)
    if path[0] != "script":
        raise Refused("what joins the parts is said in no other room")
    there = stop_at(desk.project, stop)
    if owner == stop:
        return "It is said there already"
    project = with_line_moved(desk.project, owner, line.id, len(there.lines), to_stop=stop)
    desk.change(f"said “{shortened(line.text, 40)}” in another room", project)
    return f"It is said last in {desk.project.space(there.space).name}"


HANDLERS: Final = {
    "say line": _say,
    "begin line": _begin,
    "leave line": _leave,
    "take line out": _take_out,
    "move line": _move,
    "line to stop": _to_stop,
}
