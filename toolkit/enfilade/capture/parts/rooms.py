"""The rooms of the house: which one is on the page, its walls taped again, its place among the others."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from typing import Any, Final, Literal

from enfilade.capture.desk import Desk
from enfilade.capture.sheets import room_words
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.forms.refusals import plain_words
from enfilade.editing.rooms.room_records import wall_called
from enfilade.editing.rooms.rooms import (
    in_the_way,
    overlapping,
    room_joined,
    room_lined,
    room_moved,
    space_removed,
    wall_lengths,
    wall_re_measured,
)
from enfilade.editing.rooms.survey_sheet import typed_length
from enfilade.errors import BadRecord, EnfiladeError, Fault, NotFound, Refused
from enfilade.geometry.outlines import area_m2
from enfilade.lengths import TOLERANCE_MM, parse_length, show_length, show_size
from enfilade.project.project import Project
from enfilade.project.spaces import Space
from enfilade.quantities import Quantity, show_quantity

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "rooms"
_FORM: Final = ("lining", "wall", "beyond", "offset", "thickness", "right", "up")


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return every room with its use and area, and what can be done with the one that is on the page."""
    project, system = desk.project, desk.project.show.units
    here = next((space for space in project.spaces if space.id == sight.room), None)
    return {
        "rooms": [
            {
                "id": space.id,
                "name": space.name,
                "use": space.use,
                "area": show_quantity(Quantity(area_m2(space.outline), "m2"), system),
                "here": space is here,
            }
            for space in project.spaces
        ],
        "present": _present(desk, here) if here and sight.act == "measure" else None,
        "measuring": sight.act == "measure",
        "unit": "inches" if system == "us" else "mm",
    }


def _present(desk: Desk, space: Space) -> dict[str, Any]:
    project, system = desk.project, desk.project.show.units
    walls = []
    for index, (wall, length) in enumerate(zip(space.walls, wall_lengths(space), strict=True)):
        draft = desk.drafts.get(_wall_draft(wall.id))
        typed = draft.typed if draft and isinstance(draft.typed, str) else None
        walls.append(
            {
                "id": wall.id,
                "name": wall_called(space, index),
                "length": show_length(length, system),
                "typed": typed,
                "error": draft.error if draft and typed is not None else "",
            }
        )
    return {
        "id": space.id,
        "name": space.name,
        "walls": walls,
        "assumed": space.basis == "assumed",
        "lining": _lining(space, project),
        "others": [
            {"id": wall.id, "name": f"{other.name}, {wall_called(other, index)}"}
            for other in project.spaces
            if other is not space
            for index, wall in enumerate(other.walls)
        ],
        "overlaps": list(overlapping(project, space.id)),
        "holds": list(in_the_way(project, space.id)),
        "typed": _form(desk, space.id),
    }


def _lining(space: Space, project: Project) -> dict[str, Any] | None:
    if space.measured_to != "framing":
        return None
    return {"size": show_size(space.lining_mm, project.show.units), "assumed": space.lining_basis == "assumed"}


def _wall_draft(wall: str) -> tuple[str, ...]:
    return ("taped again", wall)


def _form_draft(space: str) -> tuple[str, ...]:
    return ("place of a room", space)


def _form(desk: Desk, space: str) -> dict[str, str]:
    """Return what was typed about a room's lining and its place, and not done yet."""
    draft = desk.drafts.get(_form_draft(space))
    typed = draft.typed if draft is not None and isinstance(draft.typed, dict) else {}
    return {name: typed[name] if isinstance(typed.get(name), str) else "" for name in _FORM}


def _keep_form(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Keep what is being typed, so that a page that is loaded again shows it."""
    space, typed = text_of(message, "space", longest=64), message.get("typed")
    if not isinstance(typed, dict):
        raise Refused("the page sent nothing that was typed", do="load the page again")
    if any(one.id == space for one in desk.project.spaces):
        kept = {name: text_of(typed, name, longest=400) for name in _FORM}
        desk.drafts.keep(_form_draft(space), kept) if any(kept.values()) else desk.drafts.drop(_form_draft(space))
    return ""


def _taken(desk: Desk, space: str, *names: str) -> None:
    """Forget what was typed once it is done."""
    left = _form(desk, space) | dict.fromkeys(names, "")
    desk.drafts.keep(_form_draft(space), left) if any(left.values()) else desk.drafts.drop(_form_draft(space))


def _here(desk: Desk, sight: Sight) -> Space:
    if sight.room is None:
        raise NotFound("no room is drawn yet")
    return desk.project.space(sight.room)


def _keep_wall(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Keep a length that is being typed, so that a page that is loaded again shows it."""
    wall, typed = text_of(message, "wall", longest=64), text_of(message, "typed", longest=400)
    if wall in desk.project.walls_by_id:
        desk.drafts.keep(_wall_draft(wall), typed, "")
    return ""


def _tape_wall(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    wall, typed = text_of(message, "wall", longest=64), text_of(message, "typed", longest=400)
    if wall not in desk.project.walls_by_id:
        raise NotFound("this wall is not in the house any more", do="load the page again")
    keeps: Literal["left", "right"] = "right" if message.get("keeps") == "right" else "left"
    if not typed.strip():
        desk.drafts.drop(_wall_draft(wall))
        return ""
    before = desk.project
    try:
        after = wall_re_measured(before, wall, typed_length(typed, before.show.units), keeps)
    except EnfiladeError as error:
        words = plain_words(error.what, before)
        told = "; ".join(part for part in (words, plain_words(error.do, before)) if part)
        desk.drafts.keep(_wall_draft(wall), typed, told)
        raise BadRecord("rooms", [Fault(f"walls/{wall}/length", told, error.expected)]) from error
    desk.drafts.drop(_wall_draft(wall))
    space, index, _ = before.walls_by_id[wall]
    desk.change(f"taped {wall_called(space, index)} again", after)
    return _wall_words(before, after, space.id)


def _wall_words(before: Project, after: Project, space_id: str) -> str:
    """Return which walls have another length now, and which rooms moved along."""
    system = after.show.units
    old, new = before.space(space_id), after.space(space_id)
    changed = [
        f"{wall_called(new, i)} {show_length(length, system)}"
        for i, (was, length) in enumerate(zip(wall_lengths(old), wall_lengths(new), strict=True))
        if abs(was - length) > TOLERANCE_MM / 100
    ]
    along = [
        b.name for a, b in zip(before.spaces, after.spaces, strict=True) if a.id != space_id and a.outline != b.outline
    ]
    inside = overlapping(after, space_id)
    words = [", ".join(changed) if changed else "no wall changed"]
    words += [f"{', '.join(along)} moved along"] if along else []
    words += [f"{new.name} now stands on the floor of {', '.join(inside)}"] if inside else []
    return "; ".join(words)


def _all_taped(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    space = _here(desk, sight)
    new = {name: getattr(space, name) for name in Space.model_fields} | {"basis": "measured"}
    spaces = [new if one is space else one for one in desk.project.spaces]
    desk.change(f"measured {space.name}", desk.project.with_records(spaces=spaces))
    return f"{space.name} is measured"


def _line(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    space, typed = _here(desk, sight), text_of(message, "typed", longest=400)
    system = desk.project.show.units
    with _told_at("lining", desk.project):
        thickness = parse_length(typed, bare="in" if system == "us" else "mm")
        project = room_lined(desk.project, space.id, thickness)
    desk.change(f"measured the lining of {space.name}", project)
    _taken(desk, space.id, "lining")
    return f"Lining {show_size(thickness, system)}; {room_words(project, space.id)}"


def _join(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    space = _here(desk, sight)
    wall, beyond = text_of(message, "wall", longest=64), text_of(message, "beyond", longest=64)
    with _told_at("offset", desk.project):
        offset = _length(desk, message, "offset")
    with _told_at("thickness", desk.project):
        thickness = _length(desk, message, "thickness")
    try:
        project = room_joined(desk.project, space.id, wall, beyond, offset, thickness)
    except EnfiladeError as error:
        raise Refused(plain_words(str(error), desk.project)) from error
    other = project.walls_by_id[beyond][0]
    desk.change(f"set {space.name} beside {other.name}", project)
    _taken(desk, space.id, "wall", "beyond", "offset", "thickness")
    return f"{space.name} stands behind {other.name}. {room_words(project, space.id)}"


def _move(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    space = _here(desk, sight)
    with _told_at("right", desk.project):
        right = _length(desk, message, "right")
    with _told_at("up", desk.project):
        up = _length(desk, message, "up")
    try:
        project = room_moved(desk.project, space.id, right, up)
    except EnfiladeError as error:
        raise Refused(plain_words(str(error), desk.project)) from error
    desk.change(f"moved {space.name}", project)
    _taken(desk, space.id, "right", "up")
    return f"Moved. {room_words(project, space.id)}"


def _remove(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    space = _here(desk, sight)
    project = space_removed(desk.project, space.id, with_all=message.get("all") is True)
    desk.change(f"took {space.name} out of the house", project)
    sight.settle(project)
    return f"{space.name} is out of the house. Undo brings it back."


def _length(desk: Desk, message: dict[str, Any], name: str) -> float:
    text = text_of(message, name, longest=400)
    return parse_length(text, bare="in" if desk.project.show.units == "us" else "mm") if text.strip() else 0.0


@contextlib.contextmanager
def _told_at(place: str, project: Project) -> Iterator[None]:
    """Tell a refusal at the field that was typed."""
    try:
        yield
    except EnfiladeError as error:
        raise BadRecord("rooms", [Fault(place, plain_words(error.what, project), error.expected)]) from error


HANDLERS: Final = {
    "keep wall": _keep_wall,
    "keep place": _keep_form,
    "tape wall": _tape_wall,
    "all walls taped": _all_taped,
    "lining taped": _line,
    "join room": _join,
    "move room": _move,
    "take room out": _remove,
}
