"""Random changes to a house for tests: what one window may do to the good project, and what is left of it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from hypothesis import strategies as st

from enfilade.errors import BadRecord
from enfilade.project.project import Project
from project_folders import good_project

__all__ = ["Edit", "base_house", "edited", "edits"]

Edit = tuple[str, str, Any]
"""What is done, to which record, with which value."""


@cache
def base_house() -> Project:
    """Return the good project without its photograph, so that it can be saved anywhere."""
    return good_project().with_records(photographs=())


_NUMBERS = st.integers(1, 40)
_WIDTH = st.tuples(st.just("width"), st.sampled_from(["base", "table", "lamp"]), _NUMBERS)
_NOTE = st.tuples(st.just("note"), st.sampled_from(["base", "top", "bowl", "table", "lamp", "blind"]), _NUMBERS)
_MOVE = st.tuples(st.just("move"), st.sampled_from(["table", "lamp"]), _NUMBERS)
_TAKE_AWAY = st.tuples(st.just("take away"), st.sampled_from(["base", "table", "blind", "lamp", "top"]), st.none())
_ADD = st.tuples(st.just("add"), st.sampled_from(["stool", "chair", "bench"]), _NUMBERS)
_DECIDE = st.tuples(st.just("reason"), st.just("sink-size"), _NUMBERS)
_COST = st.tuples(st.just("cost"), st.sampled_from(["wide", "small"]), _NUMBERS)
_NEW_DECISION = st.tuples(st.just("decision"), st.sampled_from(["light", "floor"]), _NUMBERS)
_WALL = st.tuples(st.just("wall"), st.sampled_from(["kitchen-north", "hall-east"]), _NUMBERS)
_TURN = st.tuples(st.just("turn round"), st.sampled_from(["things", "openings"]), st.none())
_ADDRESS = st.tuples(st.just("address"), st.just(""), _NUMBERS)
_BASES = st.tuples(st.just("bases"), st.sampled_from(["width_mm", "depth_mm"]), st.none())


def edits() -> st.SearchStrategy[Edit]:
    """Return what one window may do, not all of which can be done to every house."""
    return st.one_of(
        _WIDTH, _NOTE, _MOVE, _TAKE_AWAY, _ADD, _DECIDE, _COST, _NEW_DECISION, _WALL, _TURN, _ADDRESS, _BASES
    )


def edited(project: Project, edit: Edit) -> Project:
    """Return the house with a change, or as it is where the change cannot be made."""
    what, id, value = edit
    try:
        return _DOES[what](project, id, value)
    except BadRecord:
        return project


def _with(project: Project, name: str, id: str, **update: Any) -> Project:
    records = [one.model_copy(update=update) if one.id == id else one for one in getattr(project, name)]
    return project.with_records(**{name: records})


def _without(project: Project, id: str) -> Project:
    return project.with_records(things=[one for one in project.things if one.id != id])


def _add(project: Project, id: str, value: int) -> Project:
    if id in project.things_by_id:
        return project
    new = {
        "id": id, "kind": "seat", "what": "stool", "space": "kitchen", "width_mm": 300 + value, "depth_mm": 300,
        "top_mm": 600, "place": {"how": "free", "x_mm": 1000 + value, "y_mm": 1000},
    }  # fmt: skip
    return project.with_records(things=[*project.things, new])


def _decision(project: Project, id: str, value: int) -> Project:
    if id in {one.id for one in project.decisions}:
        return project
    number = max(one.number for one in project.decisions) + 1
    return project.with_records(decisions=[*project.decisions, {"id": id, "number": number, "title": f"No. {value}"}])


def _cost(project: Project, id: str, value: int) -> Project:
    (first, *others) = project.decisions
    options = tuple(
        one.model_copy(update={"text": f"{value} dollars"}) if one.id == id else one for one in first.options
    )
    return project.with_records(decisions=[first.model_copy(update={"options": options}), *others])


def _wall(project: Project, id: str, value: int) -> Project:
    space = project.walls_by_id[id][0]
    walls = tuple(one.model_copy(update={"name": f"Wall {value}"}) if one.id == id else one for one in space.walls)
    return _with(project, "spaces", space.id, walls=walls)


def _move(project: Project, id: str, value: int) -> Project:
    thing = project.things_by_id.get(id)
    if thing is None:
        return project
    return _with(project, "things", id, place=thing.place.model_copy(update={"x_mm": 1800.0 + value}))


def _bases(project: Project, id: str, value: None) -> Project:
    thing = project.things_by_id.get("table")
    return project if thing is None else _with(project, "things", "table", bases={**thing.bases, id: "assumed"})


_DOES: dict[str, Callable[[Project, str, Any], Project]] = {
    "width": lambda project, name, value: _with(project, "things", name, width_mm=500.0 + value),
    "note": lambda project, name, value: _with(project, "things", name, note=f"Note {value}"),
    "move": _move,
    "take away": lambda project, name, _: project.with_records(
        things=[one for one in project.things if one.id != name]
    ),
    "add": _add,
    "reason": lambda project, name, value: _with(project, "decisions", name, reason=f"Because of {value}."),
    "cost": _cost,
    "decision": _decision,
    "wall": _wall,
    "turn round": lambda project, name, _: project.with_records(**{name: getattr(project, name)[::-1]}),
    "address": lambda project, _, value: project.model_copy(
        update={"client": project.client.model_copy(update={"address": f"{value} Mudflat Row"})}
    ),
    "bases": _bases,
}
