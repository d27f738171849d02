"""The floor on which a wheelchair turns: a circle, or a T."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.checks.floor import FLOOR_KINDS, room_floor
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.fits import circle_fits, largest_circle, t_turn_fits
from enfilade.geometry.outlines import polygon_of
from enfilade.geometry.points import angle_between_deg
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand
from enfilade.project.thing import KneeSpace
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["knee_floors"]

_ROOMS: Final = {"scullery", "breakfast", "dining", "living", "study", "bedroom", "bath", "laundry", "entry"}
_STEPS: Final = 8
"""Halvings by which the largest T is found: to 24 in / 256, about 1/10 in."""


@dataclass(frozen=True)
class _Turn:
    """The largest turning spaces on a floor, and the T that is asked [mm]."""

    circle_mm: float
    square_mm: float
    arm_mm: float
    asked_square_mm: float
    asked_arm_mm: float
    shape: Polygon | None


@check(reads={*FLOOR_KINDS}, uses={"kitchen"}, options={"wheelchair_turn"})
def kitchen_turn(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Look for a turning circle, or a T, on the free floor; recorded knee spaces under tops take part.

    A knee space narrower than its top is taken in the middle of it.
    """
    if rules.has("K6a", None):
        yield from _turning(view, rules, "K6a", "circle", "K6a", ("square", "arm"))


@check(reads={*FLOOR_KINDS}, uses=_ROOMS, options={"wheelchair_turn"})
def turn_elsewhere(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Look for the same turning space in the rooms that are no kitchen, as the access standard asks."""
    if rules.has("A3041") or rules.has("A3042", None):
        yield from _turning(view, rules, "A3041", "", "A3042", ("square", "arm", "arm clear", "base clear"))


def _turning(
    view: View, rules: Yardstick, circle_rule: str, circle_part: str, t_rule: str, t_parts: tuple[str, ...]
) -> Iterator[Finding]:
    circle_row = rules.row(circle_rule, circle_part) if rules.has(circle_rule, circle_part) else None
    rows = [rules.row(t_rule, part) for part in t_parts if rules.has(t_rule, part)]
    least = rules.row("K6b", "knee height").value_mm if rules.has("K6b", "knee height") else 0.0
    knees = knee_floors(view.things(*FLOOR_KINDS), least)
    here = polygon_of(view.space.outline)
    free = shapely.union_all([room_floor(view), *knees.values()])
    # Turning half in the next part of an open room is turning in the room: only far floor is left out.
    asked = [row.value_mm for row in (circle_row, *rows) if row is not None]
    floor = free.intersection(here.buffer(max(asked, default=0.0) / 2, join_style="mitre"))
    turn = _largest(floor, rows)
    said = tuple(f"knee space under {name} takes part" for name in names(view).of(*knees))
    by_circle = circle_row is not None and circle_row.requirement.met_by(Quantity(turn.circle_mm, "mm"))
    by_t = bool(rows) and turn.shape is not None and _option(rules) == "circle or T"
    if circle_row is not None:
        line = f"largest clear circle: {both(turn.circle_mm)} across"
        if by_t and not by_circle:
            yield circle_row.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="does not apply",
                working=(line, "A T-shaped turning space takes the place of the circle."),
            )
        else:
            yield circle_row.finding(
                space=view.space.id,
                subjects=(view.space.id,),
                measured=Quantity(turn.circle_mm, "mm"),
                working=(line, *said),
                marks=_circle_mark(floor, circle_row, turn),
            )
    for row in rows:
        spared = "A turning circle is there." if by_circle else ""
        if _option(rules) == "circle":
            spared = "Only the circle is looked for."
        yield _t_finding(row, view, turn, spared, said)


def _option(rules: Yardstick) -> str | bool:
    if any(option.name == "wheelchair_turn" for option in rules.options):
        return rules.option("wheelchair_turn")
    return "circle or T"


def _t_finding(row: Row, view: View, turn: _Turn, spared: str, said: tuple[str, ...]) -> Finding:
    measured = {
        "square": turn.square_mm,
        "arm": turn.arm_mm,
        "arm clear": (turn.square_mm - turn.asked_arm_mm) / 2,
        "base clear": turn.square_mm - turn.asked_arm_mm,
    }[row.part]
    line = f"T with arms of {both(turn.asked_arm_mm)}: in a square of up to {both(turn.square_mm)}"
    if row.part == "arm":
        line = f"T in a square of {both(turn.asked_square_mm)}: with arms of up to {both(turn.arm_mm)}"
    if spared:
        return row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=(spared, line),
        )
    shape = turn.shape
    return row.finding(
        space=view.space.id,
        subjects=(view.space.id,),
        measured=Quantity(max(0.0, measured), "mm"),
        working=(line, *said),
        marks=() if shape is None else (Mark("area", tuple((x, y) for x, y in shape.exterior.coords[:-1])),),
    )


def _circle_mark(floor: BaseGeometry, row: Row, turn: _Turn) -> tuple[Mark, ...]:
    centre = circle_fits(floor, row.value_mm)
    if centre is None:
        circle = largest_circle(floor)
        return () if circle is None else (Mark("point", (circle.centre,), both(turn.circle_mm)),)
    ring = shapely.Point(centre).buffer(row.value_mm / 2, quad_segs=16).exterior.coords[:-1]
    return (Mark("area", tuple((x, y) for x, y in ring), both(row.value_mm)),)


def _largest(floor: BaseGeometry, rows: list[Row]) -> _Turn:
    circle = largest_circle(floor)
    across = circle.diameter_mm if circle is not None else 0.0
    printed = {row.part: row.value_mm for row in rows}
    if not {"square", "arm"} <= printed.keys():
        return _Turn(across, 0.0, 0.0, 0.0, 0.0, None)  # no source asks for a T
    square, arm = printed["square"], printed["arm"]
    turns = _directions(floor)

    def t_of(square_mm: float, arm_mm: float) -> Polygon | None:
        block = ((square_mm - arm_mm) / 2, square_mm - arm_mm)
        return t_turn_fits(floor, turns, square_mm=square_mm, arm_mm=arm_mm, block_mm=block)

    whole = t_of(square, arm)
    if whole is not None:
        return _Turn(across, square, arm, square, arm, whole)
    return _Turn(
        across,
        _most(arm, square, lambda size: t_of(size, arm) is not None),
        _most(0.0, arm, lambda width: width > 0.0 and t_of(square, width) is not None),
        square,
        arm,
        None,
    )


def _most(low: float, high: float, fits: Callable[[float], bool]) -> float:
    """Return the largest size that fits, from one that may to one that does not; 0 when even the least does not."""
    if low > 0.0 and not fits(low):
        return 0.0
    for _ in range(_STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low


# Edges shorter than 24 in (the side of one cabinet) set no direction in which somebody turns: our own choice.
_LONG_MM: Final = 609.6


def _directions(floor: BaseGeometry) -> list[float]:
    """Return the turns of the long edges of a floor: those of its walls and of what stands on it."""
    found: set[float] = set()
    for ring in shapely.get_parts(shapely.boundary(floor)):
        points = shapely.get_coordinates(ring)
        for (ax, ay), (bx, by) in zip(points[:-1].tolist(), points[1:].tolist(), strict=True):
            run = (bx - ax, by - ay)
            if run[0] ** 2 + run[1] ** 2 > _LONG_MM**2:
                found.add(round(angle_between_deg((1.0, 0.0), run) % 90, 3))
    return sorted(found) or [0.0]


def knee_floors(stands: list[Stand], least_height_mm: float = 0.0) -> dict[str, Polygon]:
    """Return the floor of each recorded knee space of at least a height, by the id of the thing it is under."""
    found = {}
    for stand in stands:
        knee = getattr(stand.thing, "knee_space", None)
        if isinstance(knee, KneeSpace) and knee.height_mm >= least_height_mm - TOLERANCE_MM:
            front = stand.box.front
            wide, deep = min(knee.width_mm, front.length_mm), min(knee.depth_mm, stand.box.depth_mm)
            start = (front.length_mm - wide) / 2
            found[stand.id] = front.moved(-deep).strip(deep, start, start + wide)
    return found
