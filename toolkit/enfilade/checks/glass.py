"""Glass that people may fall or walk against: whether it is recorded as safety glazing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from enfilade.checks.beside import does_not_apply
from enfilade.checks.registry import check
from enfilade.checks.shown import both, both_areas, door_called
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.boxes import Segment
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.doorways import Doorway
from enfilade.project.spaces import Glazing, Opening
from enfilade.quantities import Quantity, convert
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["glass_beside_doors", "large_low_panes"]

_LEAVES: Final = ("door", "sliding door", "pocket door")
_NO_GLASS: Final = "no window or glazed door stands in the walls of this room"
_WHOLE: Final = "Where the glass stands in its frame is not recorded: the edges of the whole opening are taken."
_ONE_PANE: Final = "Panes are not recorded one by one: all the glass of an opening is taken as one pane."
_EXCEPTIONS: Final = "The code has exceptions, which are not looked at."


@check(reads={"openings"})
def glass_beside_doors(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Tell of each window and glazed door near a door and low whether its glass is recorded as safety glazing.

    The distance is straight in plan, from the nearer edge of the glass to the nearer edge of the closed door. Glass
    is looked at from the space in whose wall it is recorded, with the doors of that room; the glass of the door
    itself is another rule.
    """
    if not all(rules.has("I308a", part) for part in ("", "door", "bottom edge")):
        return
    row, near, low = rules.row("I308a"), rules.row("I308a", "door"), rules.row("I308a", "bottom edge")
    doors = [door for door in view.room_doorways() if door.opening is not None and door.opening.kind in _LEAVES]
    found, glazed = False, _glazed(view)
    for glass, opening in glazed:
        others = [door for door in doors if door.id != glass.id]
        if not others or opening.sill_mm >= low.value_mm - TOLERANCE_MM:
            continue
        away_mm, _, door = min((_away(glass.segment, other.segment), other.id, other) for other in others)
        if away_mm > near.value_mm + TOLERANCE_MM:
            continue
        found = True
        working = (
            f"{door_called(glass)} stands {both(away_mm)} from {door_called(door)}, within {near.printed}",
            f"its lower edge is {both(opening.sill_mm)} above the floor, less than {low.printed}",
        )
        yield _judged(view, row, glass, opening, (glass.id, door.id), working, (_WHOLE, _EXCEPTIONS))
    if not found:
        words = f"no glass stands within {near.printed} of a door with its lower edge under {low.printed}"
        yield does_not_apply(view, row, words if glazed else _NO_GLASS)


@check(reads={"openings"})
def large_low_panes(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Tell of each large and low window or glazed door whether its glass is recorded as safety glazing.

    The floor of the room is taken as the walking surface, whatever stands on it: it lies right before the glass.
    """
    parts = ("area", "bottom edge", "top edge", "walking surface")
    if not all(rules.has("I308b", part) for part in ("", *parts)):
        return
    row = rules.row("I308b")
    area, low, high, floor = (rules.row("I308b", part) for part in parts)
    found, glazed = False, _glazed(view)
    for glass, opening in glazed:
        top_mm, size_mm2 = opening.sill_mm + opening.height_mm, _area_mm2(opening)
        large = convert(size_mm2, "mm2", area.unit) > area.number
        if not large or opening.sill_mm >= low.value_mm - TOLERANCE_MM or top_mm <= high.value_mm + TOLERANCE_MM:
            continue
        found = True
        name = door_called(glass)
        working = (
            f"{name}: {both_areas(size_mm2)} of glass, more than {area.printed}",
            f"it reaches from {both(opening.sill_mm)}, under {low.printed}, to {both(top_mm)}, over {high.printed}",
            f"the floor of the room lies right before it, within {floor.printed}",
        )
        yield _judged(view, row, glass, opening, (glass.id,), working, (_WHOLE, _ONE_PANE))
    if not found:
        words = f"no pane over {area.printed} reaches from under {low.printed} to over {high.printed} above the floor"
        yield does_not_apply(view, row, words if glazed else _NO_GLASS)


def _glazed(view: View) -> list[tuple[Doorway, Opening]]:
    """Return the windows and glazed doors that are recorded in the walls of this space."""
    openings = [(door, door.opening) for door in view.doorways() if door.opening is not None]
    return [(door, opening) for door, opening in openings if door.wall == opening.wall and _has_glass(opening)]


def _has_glass(opening: Opening) -> bool:
    if opening.kind == "window":
        return opening.glazing != "none"
    return opening.kind in _LEAVES and isinstance(opening.glazing, Glazing)


def _area_mm2(opening: Opening) -> float:
    glass = opening.glazing
    known = glass.area_m2 if isinstance(glass, Glazing) else None
    return opening.width_mm * opening.height_mm if known is None else known * 1e6


def _away(a: Segment, b: Segment) -> float:
    return float(a.line.distance(b.line))


def _judged(
    view: View,
    row: Row,
    glass: Doorway,
    opening: Opening,
    subjects: tuple[str, ...],
    working: tuple[str, ...],
    also: tuple[str, ...],
) -> Finding:
    known = opening.glazing.safety_glass if isinstance(opening.glazing, Glazing) else None
    marks = (Mark("measure", (glass.segment.a, glass.segment.b)),)
    if known is None:
        return row.not_assessed(
            space=view.space.id,
            subjects=subjects,
            because="missing fact",
            needs=(f"{glass.id}.glazing.safety_glass",),
            working=working,
            marks=marks,
            also=also,
        )
    recorded = "its glass is recorded as safety glazing" if known else "its glass is recorded as no safety glazing"
    return row.finding(
        space=view.space.id,
        subjects=subjects,
        measured=Quantity(int(known), "count"),
        working=(*working, recorded),
        marks=marks,
        also=also,
    )
