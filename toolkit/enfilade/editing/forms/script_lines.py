"""Lines to speak, one by one: added, moved to another place or room, taken out; and stops put into parts.

Fields of a line are typed as all fields are (`with_typed`, at `("script", STOP, "lines", LINE, FIELD)`). What stands
here is what a row by itself cannot know: that a redraft must not bring a line back, and that a stop takes its part
from the stop before it.
"""

from __future__ import annotations

from enfilade.editing.forms.left_out import remembered
from enfilade.editing.forms.rows import with_row_added, with_row_moved
from enfilade.editing.ids import new_id
from enfilade.editing.parts import part_of_each, with_parts_named, without_needless
from enfilade.errors import NotFound
from enfilade.project.project import Project
from enfilade.project.speaking import Part, SpokenLine, Stop

__all__ = ["with_line_added", "with_line_moved", "with_line_out", "with_stop_in_part", "with_stop_moved"]

_GONE = "this is not in the project any more"
_AGAIN = "load the page again"


def with_line_added(project: Project, space: str, text: str, at: int | None = None) -> tuple[Project, str, str]:
    """Return the project with one more line in a room, and the ids of its stop and of the line.

    Args:
        project: The house.
        space: The room; it gets a stop when it has none.
        text: What is said.
        at: Place among the lines, from 0; None: the last.
    Raises:
        NotFound: No such room.
        BadRecord: The text cannot be taken.
    """
    project.space(space)
    stop = next((one.id for one in project.script if one.space == space), None)
    if stop is None:
        project, stop = with_row_added(project, ("script",), {"space": space})
    project, line = with_row_added(project, ("script", stop, "lines"), {"text": text})
    if at is not None:
        project = with_row_moved(project, ("script", stop, "lines", line), at)
    return project, stop, line


def with_line_out(project: Project, owner: str, line: str) -> Project:
    """Return the project without a line; what the draft told there stays out when it is drafted again.

    Args:
        project: The house.
        owner: Id of the stop or the part that it is said in.
        line: Id of the line.
    Raises:
        NotFound: No such line.
    """
    for stop in project.script:
        if stop.id == owner and (found := _line(stop.lines, line)) is not None:
            lines = tuple(one for one in stop.lines if one is not found)
            return _with_stop(project, _remembering(stop.model_copy(update={"lines": lines}), found))
    for part in project.show.speaking.parts:
        found = _line((*part.recap, *part.lead_in), line) if part.id == owner else None
        if found is not None:
            return _without_joining_line(project, part, found)
    raise NotFound(_GONE, do=_AGAIN)


def with_line_moved(project: Project, stop: str, line: str, to: int, *, to_stop: str | None = None) -> Project:
    """Return the project with a line in another place, of its own stop or of another.

    Args:
        project: The house.
        stop, line: Ids of the stop that it is said in, and of the line.
        to: Its new place, from 0; beyond the ends it is the first or the last.
        to_stop: Id of the stop that it goes to; None: it stays in its own. It gets another id where its own is taken.
    Raises:
        NotFound: No such line or stop.
        BadRecord: The other stop is full.
    """
    if to_stop is None or to_stop == stop:
        return with_row_moved(project, ("script", stop, "lines", line), to)
    here, there = _stop(project, stop), _stop(project, to_stop)
    moved = _line(here.lines, line)
    if moved is None:
        raise NotFound(_GONE, do=_AGAIN)
    taken = {one.id for one in there.lines}
    id = moved.id if moved.id not in taken else new_id(moved.id, taken)
    lines = list(there.lines)
    lines.insert(min(max(to, 0), len(lines)), moved if id == moved.id else moved.model_copy(update={"id": id}))
    left = tuple(one for one in here.lines if one is not moved)
    # Plain data is checked, how many lines there are too.
    changed = {here.id: {**dict(here), "lines": left}, there.id: {**dict(there), "lines": tuple(lines)}}
    return project.with_records(script=[changed.get(one.id, one) for one in project.script])


def with_stop_moved(project: Project, stop: str, to: int) -> Project:
    """Return the project with a stop in another place of the script; it joins the part of the stop before it there.

    Every other stop stays in its part.

    Args:
        project: The house.
        stop: Id of the stop.
        to: Its new place, from 0; beyond the ends it is the first or the last.
    Raises:
        NotFound: No such stop.
    """
    moved = _stop(project, stop)
    stops = [one for one in with_parts_named(project) if one.id != moved.id]
    to = min(max(to, 0), len(stops))
    neighbour = stops[to - 1] if to else stops[0] if stops else None
    part = neighbour.part if neighbour is not None else moved.part
    stops.insert(to, moved.model_copy(update={"part": part}))
    return project.with_records(script=without_needless(stops))


def with_stop_in_part(project: Project, stop: str, part: str) -> Project:
    """Return the project with a stop told in a part; the stops after it stay in theirs.

    Args:
        project: The house.
        stop: Id of the stop.
        part: Id of the part.
    Raises:
        NotFound: No such stop or part.
    """
    moved = _stop(project, stop)
    if part not in {one.id for one in project.show.speaking.parts}:
        raise NotFound(_GONE, do=_AGAIN)
    if dict(zip((one.id for one in project.script), part_of_each(project), strict=True))[moved.id] == part:
        return project
    stops = (one.model_copy(update={"part": part}) if one.id == moved.id else one for one in with_parts_named(project))
    return project.with_records(script=without_needless(tuple(stops)))


def _without_joining_line(project: Project, part: Part, line: SpokenLine) -> Project:
    speaking = project.show.speaking
    told = {name: tuple(one for one in getattr(part, name) if one is not line) for name in ("recap", "lead_in")}
    parts = tuple(part.model_copy(update=told) if one is part else one for one in speaking.parts)
    show = project.show.model_copy(update={"speaking": speaking.model_copy(update={"parts": parts})})
    project = project.model_copy(update={"show": show})
    # A part keeps no list of what was taken out; the first stop keeps it, and a redraft asks all stops.
    first = next(iter(project.script), None)
    return project if first is None else _with_stop(project, _remembering(first, line))


def _remembering(stop: Stop, line: SpokenLine) -> Stop:
    return stop if line.drafted is None else remembered(stop, [line.drafted.about])


def _with_stop(project: Project, changed: Stop) -> Project:
    return project.with_records(script=[changed if one.id == changed.id else one for one in project.script])


def _stop(project: Project, id: str) -> Stop:
    found = next((one for one in project.script if one.id == id), None)
    if found is None:
        raise NotFound(_GONE, do=_AGAIN)
    return found


def _line(lines: tuple[SpokenLine, ...], id: str) -> SpokenLine | None:
    return next((one for one in lines if one.id == id), None)
