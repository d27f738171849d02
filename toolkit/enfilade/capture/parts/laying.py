"""A run of cabinets and appliances laid by typing its widths: read while it is typed, drawn to scale, then laid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.editing.forms.refusals import plain_words
from enfilade.editing.runs.laying import (
    RunItem,
    in_the_way,
    left_over_words,
    proposals,
    read_run,
    run_laid,
    run_left_over,
    run_stretch,
    run_stretches,
)
from enfilade.editing.runs.run_stretches import up_to_what_stands
from enfilade.editing.runs.run_strip import strip_of
from enfilade.editing.runs.run_words import Row
from enfilade.editing.things.house import House
from enfilade.editing.things.stretches import Stretch
from enfilade.errors import BadRecord, EnfiladeError, Fault, Refused
from enfilade.lengths import TOLERANCE_MM, System, show_length, show_size
from enfilade.listing import the
from enfilade.project.project import Project
from enfilade.project.spaces import Space

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "laying"
_LONGEST: Final = 20_000


@dataclass(frozen=True)
class _Sheet:
    """What was chosen and typed: the wall, the end that the first stands at, which stretch, and the widths."""

    wall: str = ""
    from_end: str = "left"
    row: str = "lower"
    stretch: str = ""
    text: str = ""
    replace: bool = False

    @property
    def end(self) -> Any:
        return "right" if self.from_end == "right" else "left"

    @property
    def rows(self) -> Row:
        return "upper" if self.row == "upper" else "lower"


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the walls on which a run can be laid, what was typed for one, and what was read of it."""
    if sight.room is None:
        return {"nothing": "A run is laid along a wall once a room is drawn."}
    project, space = desk.project, desk.project.space(sight.room)
    walls = [[wall.id, _wall(space, index)] for index, wall in enumerate(space.walls) if not wall.open]
    if not walls:
        return {"nothing": f"No wall stands round {the(space.name)}: a run needs one."}
    sheet = _kept(desk, space)
    return {
        "room": space.id,
        "walls": walls,
        "sheet": _plain(sheet),
        "reading": _reading(project, sheet),
        "unit": "inches" if project.show.units == "us" else "mm",
        "example": "36 base, 24 dishwasher, 36 sink, 30 range, 18"
        if project.show.units == "us"
        else "900 base, 600 dishwasher, 900 sink, 600 range, 450",
    }


def _wall(space: Space, index: int) -> str:
    return space.walls[index].name or f"wall {index + 1}"


def _kept(desk: Desk, space: Space) -> _Sheet:
    draft = desk.drafts.get((NAME, space.id))
    sheet = _sheet_of(draft.typed if draft is not None else None)
    return sheet if sheet.wall in _walls(space) else _Sheet(**(_plain(sheet) | {"wall": _first(desk, space)}))


def _walls(space: Space) -> list[str]:
    return [wall.id for wall in space.walls if not wall.open]


def _first(desk: Desk, space: Space) -> str:
    lines = House(desk.project).lines
    return max(_walls(space), key=lambda one: round(lines[one].length_mm, 3), default="")


def _plain(sheet: _Sheet) -> dict[str, Any]:
    return {name: getattr(sheet, name) for name in _Sheet.__dataclass_fields__}


def _sheet_of(plain: object) -> _Sheet:
    """Return a sheet that came from outside; what is no short text is left as it is at first."""
    known = plain if isinstance(plain, dict) else {}
    words = {
        name: value
        for name in ("wall", "from_end", "row", "stretch", "text")
        if isinstance(value := known.get(name), str) and len(value) <= _LONGEST
    }
    return _Sheet(**words, replace=known.get("replace") is True)


def _reading(project: Project, sheet: _Sheet) -> dict[str, Any]:
    """Return what was read: a row each, what is wrong, what is left over, ways to use it, and the run to scale."""
    system = project.show.units
    read = read_run(sheet.text, system, sheet.rows)
    told: dict[str, Any] = {
        "rows": [_row(item, system) for item in read.items],
        "faults": [{"no": one.number, "start": one.start, "end": one.end, "words": str(one)} for one in read.faults],
        "stretches": [],
        "words": "",
        "trouble": "",
        "proposals": [],
        "there": [],
        "strip": None,
        "ready": False,
    }
    try:
        stretches = run_stretches(project, sheet.wall, sheet.rows, replace=sheet.replace)
        told["stretches"] = [[f"{one.start_mm:.6f}/{one.end_mm:.6f}", _stretch(one, system)] for one in stretches]
        stretch = _chosen(project, sheet)
    except EnfiladeError as error:
        return told | {"trouble": plain_words(str(error), project)}
    if read.items and not sheet.replace:
        run_mm = sum(item.width_mm for item in read.items)
        stretch = up_to_what_stands(project, stretch, run_mm, sheet.end, sheet.rows)
    left_mm = run_left_over(stretch, read.items)
    told["strip"] = strip_of(project, stretch, read.items, sheet.end, sheet.rows)
    if not read.items:
        return told | {"words": f"The stretch is {show_size(stretch.length_mm, system)} long, {_between(stretch)}."}
    words = f"{left_over_words(left_mm, system)}{' so far' if read.faults else ''}"
    told["words"] = f"Of {show_size(stretch.length_mm, system)}, {_between(stretch)}, {words}."
    if not read.faults:
        ways = proposals(sheet.text, read.items, stretch, system, sheet.end, sheet.rows)
        told["proposals"] = [{"words": one.words, "text": one.text} for one in ways]
    ours, others = _there(project, sheet, stretch, read.items)
    told["there"] = list(ours)
    if others:
        told["trouble"] = f"{_listed(others)} would stand where the run goes: move it, or choose another stretch."
    told["ready"] = not read.faults and not others and left_mm >= -TOLERANCE_MM and (not ours or sheet.replace)
    return told


def _row(item: RunItem, system: System) -> dict[str, Any]:
    return {"no": item.number, "what": item.word.word, "width": show_size(item.width_mm, system)}


def _stretch(stretch: Stretch, system: System) -> str:
    return f"{show_length(stretch.length_mm, system)}, {_between(stretch)}"


def _between(stretch: Stretch) -> str:
    ends = [
        the(end) if end != "corner" else "the corner" for end in (stretch.left or "there", stretch.right or "there")
    ]
    return "from corner to corner" if ends == ["the corner", "the corner"] else f"from {ends[0]} to {ends[1]}"


def _chosen(project: Project, sheet: _Sheet) -> Stretch:
    start, _, end = sheet.stretch.partition("/")
    try:
        span = (float(start), float(end)) if sheet.stretch else None
    except ValueError:
        span = None
    if span is None:
        return run_stretch(project, sheet.wall, sheet.rows, sheet.end, replace=sheet.replace)
    start_mm, end_mm = span
    return run_stretch(
        project, sheet.wall, sheet.rows, sheet.end, start_mm=start_mm, end_mm=end_mm, replace=sheet.replace
    )


def _there(
    project: Project, sheet: _Sheet, stretch: Stretch, items: tuple[RunItem, ...]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    return in_the_way(
        project,
        sheet.wall,
        items,
        sheet.end,
        row=sheet.rows,
        start_mm=stretch.start_mm,
        end_mm=stretch.end_mm,
        replace=sheet.replace,
    )


def _listed(names: tuple[str, ...]) -> str:
    words = ", ".join(the(name) for name in names)
    return f"{words[:1].upper()}{words[1:]}"


def _read(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Keep what is typed, and tell what is read of it."""
    space, sheet = _asked(desk, message)
    desk.drafts.keep((NAME, space.id), _plain(sheet))
    return {"say": "", "reading": _reading(desk.project, sheet)}


def _asked(desk: Desk, message: dict[str, Any]) -> tuple[Space, _Sheet]:
    room = message.get("room")
    space = next((one for one in desk.project.spaces if one.id == room), None)
    if space is None:
        raise Refused("this room is not there any more", do="choose another one")
    sheet = _sheet_of(message.get("sheet"))
    if sheet.wall not in _walls(space):
        raise BadRecord("laying", [Fault("wall", "this wall is not there any more", "a wall of this room")])
    return space, sheet


def _lay(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    space, sheet = _asked(desk, message)
    desk.drafts.keep((NAME, space.id), _plain(sheet))
    system, project = desk.project.show.units, desk.project
    read = read_run(sheet.text, system, sheet.rows)
    if read.faults or not read.items:
        fault = read.faults[0] if read.faults else None
        what, expected = (fault.what, fault.expected) if fault else ("no width is typed yet", "widths in order")
        raise BadRecord("laying", [Fault("text", what, expected)])
    try:
        stretch = _chosen(project, sheet)
        new, ids = run_laid(
            project,
            sheet.wall,
            read.items,
            sheet.end,
            row=sheet.rows,
            start_mm=stretch.start_mm,
            end_mm=stretch.end_mm,
            replace=sheet.replace,
        )
    except EnfiladeError as error:
        fault_of = (
            error.faults[0] if isinstance(error, BadRecord) else Fault("", error.what, error.expected or error.do)
        )
        told = (plain_words(words, project) for words in (fault_of.what, fault_of.expected))
        raise BadRecord("laying", [Fault("text", *told)]) from error
    gone = [thing.called for thing in project.things if thing.id not in new.things_by_id]
    name = the(_wall(space, next(i for i, wall in enumerate(space.walls) if wall.id == sheet.wall)))
    desk.change(f"laid a run along {name}", new)
    desk.drafts.keep((NAME, space.id), _plain(sheet) | {"text": "", "replace": False, "stretch": ""})
    sight.selected = ("things", ids[0])
    count = len([item for item in read.items if item.word.kind])
    out = f"; taken out: {', '.join(gone)}" if gone else ""
    left = left_over_words(run_left_over(stretch, read.items), system)
    return f"Laid {count} along {name}, {left}{out}. Their depths and heights are assumed."


HANDLERS: Final = {"read run": _read, "lay run": _lay}
