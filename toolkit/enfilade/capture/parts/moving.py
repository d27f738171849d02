"""What a hand does on the plan: moving, turning, exact distances, taking out, copying. It shows nothing of its own."""

from __future__ import annotations

from typing import Any, Final, Literal, get_args

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight, number_of, text_of
from enfilade.checks.sentences import sentence
from enfilade.editing.forms.refusals import plain_words
from enfilade.editing.quoting import told_back
from enfilade.editing.things.clear_round import SIDES, clear_widths_round
from enfilade.editing.things.moving import Among, moved, nudged, turned
from enfilade.editing.things.offsets import clear_typed, offset_typed
from enfilade.editing.things.place_words import called, place_words
from enfilade.editing.things.placing_things import thing_copied, things_removed
from enfilade.editing.things.steps import Fineness
from enfilade.errors import BadRecord, EnfiladeError, Fault, NotFound, Refused
from enfilade.lengths import parse_length
from enfilade.listing import the
from enfilade.project.project import Project
from enfilade.walkthrough.ranking import by_urgency

__all__ = ["HANDLERS", "NAME", "shown", "words_of"]

NAME: Final = "moving"
_END: Final = ("left", "right")


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return nothing: the plan shows what moves."""
    return {}


def words_of(project: Project, id: str, what: str) -> str:
    """Return what was done to a thing and where it stands now, as a screen reader says it."""
    return f"{called(project, id)} {what}. {place_words(project, id)}"


def _named(desk: Desk, message: dict[str, Any]) -> tuple[str, Among]:
    """Return what a message speaks of: an id, and the list it is of."""
    id, among = text_of(message, "id", longest=64), message.get("list")
    if among is None:
        among = "things" if id in desk.project.things_by_id else "openings"
    if among == "things" and id in desk.project.things_by_id:
        return id, "things"
    if among == "openings" and any(one.id == id for one in desk.project.openings):
        return id, "openings"
    raise NotFound("this is not in the project any more", do="choose something that is")


def _put(desk: Desk, id: str, project: Project, what: str, joins: str = "") -> str:
    if project is desk.project:
        return words_of(project, id, "stays where it is")
    room = project.thing(id).space if id in project.things_by_id else None
    before = {one.id for one in desk.findings(room) if one.verdict == "falls short"} if room else set()
    desk.change(f"{what} {_the(desk.project, id)}", project, joins)
    words = words_of(project, id, what)
    if room is None or desk.project is not project:
        return words
    short = [one for one in by_urgency(desk.findings(room)) if one.id not in before]
    if not short:
        return words
    more = f", and {len(short) - 1} more" if len(short) > 1 else ""
    return f"{words} Now falls short: {sentence(short[0], project.show.units)}{more}"


def _the(project: Project, id: str) -> str:
    name = called(project, id)
    return the(project.thing(id).called if id in project.things_by_id else name[:1].lower() + name[1:])


def _plainly(desk: Desk, error: BadRecord) -> Refused:
    fault = error.faults[0]
    return Refused(plain_words(fault.what, desk.project), expected=plain_words(fault.expected, desk.project))


def _move(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    id, among = _named(desk, message)
    wall = message.get("wall")
    if wall is not None and (not isinstance(wall, str) or wall not in desk.project.walls_by_id):
        raise Refused("the page named a wall that is not there", do="load the page again")
    x, y, turn = (number_of(message, name) for name in ("x", "y", "turn"))
    try:
        project = moved(desk.project, id, x, y, turn, wall, among=among)
    except BadRecord as error:
        raise _plainly(desk, error) from error
    return _put(desk, id, project, "moved")


def _nudge(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    id, among = _named(desk, message)
    step = message.get("step")
    if step is not None and step not in get_args(Fineness):
        raise Refused("the page sent no step", do="load the page again")
    try:
        project = nudged(desk.project, id, number_of(message, "dx"), number_of(message, "dy"), step=step, among=among)
    except BadRecord as error:
        raise _plainly(desk, error) from error
    return _put(desk, id, project, "moved", joins=f"nudge {among} {id}")


def _turn(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    id, among = _named(desk, message)
    if among == "openings":
        raise Refused(f"{_the(desk.project, id)} stands in its wall and cannot be turned", do="say how it swings")
    try:
        project = turned(desk.project, id, number_of(message, "deg"))
    except BadRecord as error:
        raise _plainly(desk, error) from error
    return _put(desk, id, project, "turned", joins=f"turn {id}")


def _offset(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Set the distance from one end of the wall or host; without a length only the end changes."""
    id, _ = _named(desk, message)
    end = message.get("end")
    if end not in _END:
        raise Refused("the page named no end", expected="left or right")
    typed = message.get("typed")
    mm = None if typed in (None, "") else _length(desk, typed)
    try:
        project = offset_typed(desk.project, id, _end(end), mm)
    except EnfiladeError as error:
        raise _at_field("offset", desk, error) from error
    return _put(desk, id, project, "moved")


def _clear(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Set the clear width before one side."""
    id, _ = _named(desk, message)
    if id not in desk.project.things_by_id:
        raise Refused("a clear width is that of a thing", do="type the distance from an end of the wall")
    side = next((one for one in SIDES if one == message.get("side")), None)
    if side is None:
        raise Refused("the page named no side", expected=", ".join(SIDES))
    mm = _length(desk, message.get("typed"))
    before = clear_widths_round(desk.project, id)[side]
    try:
        project = clear_typed(desk.project, id, side, mm)
    except EnfiladeError as error:
        raise _at_field("clear", desk, error) from error
    to = f" from {the(before.called)}" if before is not None else ""
    return f"{_put(desk, id, project, 'moved')} Measured{to}."


def _remove(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    id, _ = _named(desk, message)
    name = _the(desk.project, id)
    project, words = things_removed(desk.project, [id])
    desk.change(f"took out {name}", project)
    return words


def _copy(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    id, among = _named(desk, message)
    if among != "things":
        raise Refused("openings are not copied", do="add another one")
    try:
        project, new = thing_copied(desk.project, id)
    except BadRecord as error:
        raise _plainly(desk, error) from error
    desk.change(f"copied {_the(desk.project, id)}", project)
    sight.selected = ("things", new)
    return words_of(project, new, "copied")


def _length(desk: Desk, typed: object) -> float:
    if isinstance(typed, bool) or not isinstance(typed, str | int | float):
        raise Refused("no length was typed", expected="a length")
    try:
        return parse_length(typed, bare="in" if desk.project.show.units == "us" else "mm")
    except EnfiladeError as error:
        raise BadRecord("moving", [Fault("offset", told_back(error.what, typed), error.expected)]) from error


def _end(end: object) -> Literal["left", "right"]:
    return "left" if end == "left" else "right"


def _at_field(place: str, desk: Desk, error: EnfiladeError) -> BadRecord:
    faults = error.faults if isinstance(error, BadRecord) else (Fault(place, error.what, error.expected or error.do),)
    told = [
        Fault(place, plain_words(one.what, desk.project), plain_words(one.expected, desk.project)) for one in faults
    ]
    return BadRecord("moving", told)


HANDLERS: Final = {
    "move": _move,
    "nudge": _nudge,
    "turn": _turn,
    "offset": _offset,
    "clear": _clear,
    "remove": _remove,
    "copy": _copy,
}
