"""Window and skylight area by floor area."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.checks.registry import check
from enfilade.checks.rooms import HABITABLE
from enfilade.checks.shown import both_areas
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.outlines import area_m2
from enfilade.project.doorways import Doorway
from enfilade.project.spaces import Glazing, Opening
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.glazing import glazing_needed, glazing_share

__all__ = ["glazed_area", "kitchen_daylight", "room_daylight"]

# Said with every glazed area: where the glass stands decides what kind it must be.
_SAFETY: Final = "Low panes, glass beside doors and glass near water may have to be safety glazing."


@dataclass(frozen=True)
class _Area:
    """What one opening adds to daylight or air [m2]; None when it is not known."""

    door: Doorway
    m2: float | None
    line: str
    assumed: tuple[str, ...] = ()


@check(reads={"openings"}, uses={"kitchen"})
def kitchen_daylight(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the glazed area against the floor of the kitchen, or of the whole room of which it is part."""
    if rules.has("K31", "glazing"):
        yield _share(view, rules, rules.row("K31", "glazing"), glazed_area(view))


@check(reads={"openings"}, uses=set(HABITABLE))
def room_daylight(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the glazed and the openable area of each habitable room against the model code.

    The code lets electric light and mechanical ventilation stand in for them; that is not judged.
    """
    also = ("The code lets electric light and mechanical ventilation take the place of windows.",)
    if rules.has("I303a", "glazing"):
        yield _share(view, rules, rules.row("I303a", "glazing"), glazed_area(view), also)
    if rules.has("I303a", "openable"):
        yield _share(view, rules, rules.row("I303a", "openable"), _openable_area(view), also)


def glazed_area(view: View) -> list[_Area]:
    """Return the glass of each window, skylight and glazed door that leads outdoors.

    Where the glass is not recorded the whole opening is taken, and said so.
    """
    found = []
    for door in view.room_doorways():
        opening = door.opening
        if opening is None or door.beyond is not None or opening.kind == "pass-through":
            continue
        glass = opening.glazing
        if glass == "none" or (glass is None and opening.kind not in ("window", "skylight")):
            continue
        area = _whole(opening)
        assumed: tuple[str, ...] = (f"{opening.id}.glazing.area_m2",)
        if isinstance(glass, Glazing) and glass.area_m2 is not None:
            area, assumed = glass.area_m2, ()
        found.append(_Area(door, area, f"{opening.name or opening.kind}: {both_areas(area * 1e6)} of glass", assumed))
    return found


def _openable_area(view: View) -> list[_Area]:
    """Return what each opening outdoors opens; a door opens wholly, a sliding door by half."""
    found = []
    for door in view.room_doorways():
        opening = door.opening
        if opening is None or door.beyond is not None or opening.kind in ("pass-through", "cased opening"):
            continue
        if opening.kind not in ("window", "skylight") and opening.beyond != "none" and not opening.entry:
            continue  # A door of which it is not recorded where it leads.
        area, assumed = _opens(opening)
        name = opening.name or opening.kind
        line = f"{name}: " + ("how much opens is not recorded" if area is None else f"{both_areas(area * 1e6)} to open")
        found.append(_Area(door, area, line, assumed))
    return found


def _opens(opening: Opening) -> tuple[float | None, tuple[str, ...]]:
    if isinstance(opening.glazing, Glazing) and opening.glazing.openable_m2 is not None:
        return opening.glazing.openable_m2, ()
    if opening.kind in ("window", "skylight"):
        return (0.0, ()) if opening.operable is False else (None, ())
    share = 0.5 if opening.kind == "sliding door" else 1.0
    return share * _whole(opening), (f"{opening.id}.glazing.openable_m2",)


def _whole(opening: Opening) -> float:
    return opening.width_mm * opening.height_mm / 1e6


def _share(view: View, rules: Yardstick, row: Row, areas: Sequence[_Area], also: tuple[str, ...] = ()) -> Finding:
    floor = sum(area_m2(space.outline) for space in view.room)
    unknown = [area for area in areas if area.m2 is None]
    share = glazing_share(sum(area.m2 or 0.0 for area in areas), floor)
    names = " and ".join(space.name for space in view.room)
    asked = glazing_needed(floor, by=rules).working if rules.has("I303a", "glazing") else ()
    working = (
        f"floor of {names}: {both_areas(floor * 1e6)}",
        *(area.line for area in areas),
        *(line for line in asked if line.endswith("openable") == (row.part == "openable")),
    )
    marks = tuple(Mark("measure", (area.door.segment.a, area.door.segment.b)) for area in areas)
    also = also if row.part == "openable" else (*also, _SAFETY)
    measured, here = Quantity(share, "%"), (view.space.id,)
    if unknown and not row.requirement.met_by(measured):
        return row.not_assessed(
            space=view.space.id,
            subjects=here,
            because="missing fact",
            needs=tuple(f"{area.door.id}.glazing.openable_m2" for area in unknown),
            working=working,
            marks=marks,
            also=also,
            cautions=("glass",),
        )
    return row.finding(
        space=view.space.id,
        subjects=here,
        measured=measured,
        working=working,
        marks=marks,
        assumed=tuple(name for area in areas for name in area.assumed),
        also=also,
        cautions=("glass",),
    )
