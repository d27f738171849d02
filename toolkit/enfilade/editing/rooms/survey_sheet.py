"""The sheet on which a room is taped: what was typed for each wall, read into a walk, with what cannot be read."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Final, get_args

from enfilade.editing.quoting import quoted, told_back
from enfilade.editing.rooms.rooms import USUAL_LINING_MM, room_from_traverse
from enfilade.errors import BadRecord, EnfiladeError, Fault, Refused
from enfilade.geometry.traverse import LEFT_DEG, MOST_WALLS, RIGHT_DEG, Diagonal, Leg
from enfilade.lengths import System, parse_length, show_length
from enfilade.project.project import Project
from enfilade.project.spaces import Use

__all__ = ["BLANK", "HEADINGS", "USES", "Sheet", "Walls", "read_walls", "room_from_sheet", "sheet_of", "typed_length"]

HEADINGS: Final = {"north": 90.0, "east": 0.0, "south": -90.0, "west": 180.0}
"""Ways that the first wall may run, counter-clockwise from +x [deg]; plan north is +y."""

USES: Final[tuple[str, ...]] = get_args(Use)
_TURNS: Final = ("right", "left", "angle")
_LONGEST: Final = 400
_SHORT_MM: Final = 25.0
"""No wall is shorter; a number below it is one that was meant in other units."""


@dataclass(frozen=True)
class Typed:
    """One wall as it was typed: its length, the turn at its end, and the inside angle where that is not square."""

    length: str = ""
    turn: str = "right"
    angle: str = ""


@dataclass(frozen=True)
class TypedDiagonal:
    """A diagonal as it was typed: two corners, counted from 1, and a length."""

    a: str = ""
    b: str = ""
    length: str = ""


@dataclass(frozen=True)
class Sheet:
    """A survey of one room, as it was typed so far.

    Attributes:
        name, use, ceiling, lining: As typed.
        wide, deep: Of a plain room of four square walls, as typed; they count once the walls are filled in from them.
        measured_to: `finish` or `framing`.
        heading: Way that the first wall runs, one of `HEADINGS`.
        hand: The hand on which the room lies as one walks, `right` or `left`.
        walls: In order; the last may be empty.
        follows: One more wall follows from the others.
        spread: The closing error is spread over the walls.
        diagonals: Taped as a check.
    """

    name: str = ""
    use: str = "kitchen"
    ceiling: str = ""
    measured_to: str = "finish"
    lining: str = ""
    wide: str = ""
    deep: str = ""
    heading: str = "north"
    hand: str = "right"
    walls: tuple[Typed, ...] = (Typed(),)
    follows: bool = False
    spread: bool = False
    diagonals: tuple[TypedDiagonal, ...] = ()


BLANK: Final = Sheet()


@dataclass(frozen=True)
class Walls:
    """What the sheet says about the walls.

    Attributes:
        legs: As far as they can be read, up to the first wall that cannot.
        faults: What cannot be read, by place: `walls/2/length` is the third wall's.
        diagonals: Those that can be read, by their number on the sheet.
    """

    legs: tuple[Leg, ...]
    faults: tuple[Fault, ...]
    diagonals: Mapping[int, Diagonal] = field(default_factory=dict)


def sheet_of(plain: object) -> Sheet:
    """Return a sheet from plain data that came from a page.

    Raises:
        Refused: It is no such sheet.
    """
    if not isinstance(plain, Mapping):
        raise _no_sheet()
    chosen = {
        "use": _one_of(plain, "use", USES, BLANK.use),
        "measured_to": _one_of(plain, "measured_to", ("finish", "framing"), BLANK.measured_to),
        "heading": _one_of(plain, "heading", tuple(HEADINGS), BLANK.heading),
        "hand": _one_of(plain, "hand", ("right", "left"), BLANK.hand),
    }
    return Sheet(
        name=_text(plain, "name"),
        ceiling=_text(plain, "ceiling"),
        lining=_text(plain, "lining"),
        wide=_text(plain, "wide"),
        deep=_text(plain, "deep"),
        walls=tuple(
            Typed(_text(row, "length"), _one_of(row, "turn", _TURNS, "right"), _text(row, "angle"))
            for row in _rows(plain, "walls")
        ),
        follows=plain.get("follows") is True,
        spread=plain.get("spread") is True,
        diagonals=tuple(
            TypedDiagonal(_text(row, "a"), _text(row, "b"), _text(row, "length")) for row in _rows(plain, "diagonals")
        ),
        **chosen,
    )


def typed_length(text: str, system: System) -> float:
    """Return a length that was typed in the units of the project, above 0 [mm].

    Raises:
        Refused: It is none.
    """
    try:
        value = parse_length(text, bare="in" if system == "us" else "mm")
    except EnfiladeError as error:
        raise Refused(told_back(error.what, text), expected=error.expected, do=error.do) from error
    if value <= 0:
        raise Refused(f"{quoted(text)} is no length", expected="a length above 0")
    return value


def read_walls(sheet: Sheet, system: System) -> Walls:
    """Return the walls of a sheet, and what of it cannot be read. Empty walls at the end are left out."""
    rows = list(sheet.walls)
    while rows and not rows[-1].length.strip():
        rows.pop()
    legs: list[Leg] = []
    faults: list[Fault] = []
    for index, row in enumerate(rows):
        last = index == len(rows) - 1
        try:
            length = _wall_length(row, index, system)
        except EnfiladeError as error:
            faults.append(Fault(f"walls/{index}/length", error.what, error.expected or error.do))
            continue
        try:
            # Before a wall that follows, a corner that was not measured follows too.
            turn = None if last and row.turn == "angle" and not row.angle.strip() else _turn(row, sheet.hand)
        except EnfiladeError as error:
            faults.append(Fault(f"walls/{index}/angle", error.what, error.expected))
            continue
        if not faults:
            legs.append(Leg(length, turn))
    if sheet.follows and not faults and legs:
        legs.append(Leg(None, None))
    diagonals, wrong = _diagonals(sheet, system)
    return Walls(tuple(legs), (*faults, *wrong), diagonals)


def room_from_sheet(project: Project, sheet: Sheet) -> tuple[Project, str]:
    """Return the project with the room of a finished sheet, and its id.

    The lining of a framed room is an assumption whether it was typed or not: nothing hangs there yet to be measured.

    Raises:
        BadRecord: Something cannot be read, or is missing; places are those of the sheet.
        Refused: The walls do not come round, cross each other, or leave no room.
    """
    system = project.show.units
    read = read_walls(sheet, system)
    faults = [fault for fault in read.faults if fault.place.startswith("walls")]
    if not sheet.name.strip():
        faults.append(Fault("name", "the room has no name yet", "a name such as Kitchen"))
    ceiling, lining = _optional(sheet, "ceiling", system, faults), _optional(sheet, "lining", system, faults)
    if faults:
        raise BadRecord("survey", faults)
    if not read.legs:
        raise Refused("no wall is taped yet", expected="the length of each wall")
    return room_from_traverse(
        project,
        sheet.name,
        sheet.use,
        read.legs,
        heading_deg=HEADINGS[sheet.heading],
        measured_to="framing" if sheet.measured_to == "framing" else "finish",
        lining_mm=USUAL_LINING_MM if lining is None else lining,
        ceiling_mm=ceiling,
        spread=sheet.spread,
    )


def _optional(sheet: Sheet, name: str, system: System, faults: list[Fault]) -> float | None:
    text = str(getattr(sheet, name))
    try:
        return typed_length(text, system) if text.strip() else None
    except EnfiladeError as error:
        faults.append(Fault(name, error.what, error.expected or error.do))
        return None


def _wall_length(row: Typed, index: int, system: System) -> float:
    if not row.length.strip():
        raise Refused(f"wall {index + 1} has no length", expected="a length, or take the wall away")
    length = typed_length(row.length, system)
    if length < _SHORT_MM:
        raise Refused(
            f"{quoted(row.length)} reads as {show_length(length, system)}",
            expected="a wall, with its unit: 4.2 m, 12 ft",
        )
    return length


def _turn(row: Typed, hand: str) -> float:
    if row.turn != "angle":
        return RIGHT_DEG if row.turn == "right" else LEFT_DEG
    text = row.angle.strip().rstrip("°").strip()
    try:
        inside = float(text)
    except ValueError:
        raise Refused(f"{quoted(row.angle)} is no angle", expected="degrees such as 135") from None
    if not (math.isfinite(inside) and 0 < inside < 360):
        raise Refused(f"an inside angle of {quoted(text)} degrees", expected="above 0 and below 360")
    return (inside - 180.0) * (1.0 if hand == "right" else -1.0)


def _diagonals(sheet: Sheet, system: System) -> tuple[dict[int, Diagonal], list[Fault]]:
    found: dict[int, Diagonal] = {}
    faults: list[Fault] = []
    for index, row in enumerate(sheet.diagonals):
        if not row.length.strip():
            continue
        try:
            a, b = (_corner(text, len(sheet.walls) + sheet.follows) for text in (row.a, row.b))
            if a == b:
                raise Refused("a diagonal from a corner to itself", expected="two corners")
            found[index] = Diagonal(a, b, typed_length(row.length, system))
        except EnfiladeError as error:
            faults.append(Fault(f"diagonals/{index}", error.what, error.expected))
    return found, faults


def _corner(text: str, count: int) -> int:
    if not (text.strip().isdecimal() and len(text) < 6 and 1 <= int(text) <= count):
        raise Refused(f"{quoted(text)} is no corner", expected=f"a corner from 1 to {count}")
    return int(text) - 1


def _text(plain: Mapping[str, Any], name: str) -> str:
    value = plain.get(name, "")
    if not isinstance(value, str) or len(value) > _LONGEST:
        raise _no_sheet()
    return value


def _one_of(plain: Mapping[str, Any], name: str, words: tuple[str, ...], usual: str) -> str:
    value = plain.get(name, usual)
    if value not in words:
        raise _no_sheet()
    return str(value)


def _rows(plain: Mapping[str, Any], name: str) -> list[Mapping[str, Any]]:
    rows = plain.get(name, [])
    if (
        not isinstance(rows, list | tuple)
        or len(rows) > MOST_WALLS
        or not all(isinstance(row, Mapping) for row in rows)
    ):
        raise _no_sheet()
    return list(rows)


def _no_sheet() -> Refused:
    return Refused("the page sent no survey that can be read", do="load the page again")
