"""A run of cabinets and appliances laid along a wall: project in, project out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

from enfilade.editing.ids import new_id
from enfilade.editing.runs.reading_runs import ReadRun, RunItem, parse_run, read_run
from enfilade.editing.runs.run_proposals import Proposal, left_over_words, proposals, run_left_over
from enfilade.editing.runs.run_stretches import End, run_stretch, run_stretches
from enfilade.editing.runs.run_units import STRIPS, Unit, run_units
from enfilade.editing.runs.run_words import Row, run_widths
from enfilade.editing.things.default_sizes import Size, default_size
from enfilade.editing.things.house import House, all_ids
from enfilade.editing.things.placing_things import things_removed
from enfilade.editing.things.stretches import Stretch, Taken, taken_on
from enfilade.errors import Refused
from enfilade.lengths import TOLERANCE_MM, System
from enfilade.listing import the
from enfilade.project.placing import AgainstWall, SetIn
from enfilade.project.project import Project

__all__ = [
    "Proposal",
    "ReadRun",
    "RunItem",
    "in_the_way",
    "left_over_words",
    "parse_run",
    "proposals",
    "read_run",
    "run_laid",
    "run_left_over",
    "run_stretch",
    "run_stretches",
]

_UNDER_A_TOP: Final = {"base cabinet", "dishwasher", "waste"}
_JOINED: Final = {"counter", "peninsula"}


def run_laid(
    project: Project,
    wall: str,
    items: Sequence[RunItem],
    from_end: End = "left",
    *,
    row: Row = "lower",
    start_mm: float | None = None,
    end_mm: float | None = None,
    replace: bool = False,
) -> tuple[Project, list[str]]:
    """Return the project with a run laid along a wall, and the ids of what is new in the order in which it was typed.

    Cabinets and appliances get the generic depths and heights of their kind, marked as assumed; their widths are the
    ones that were typed. On the floor a counter goes over each stretch of cabinets and appliances under counter height,
    broken by ranges, refrigerators, tall cabinets and spaces; sinks and cooktops are set in it over the middle of their
    cabinets, ovens in their towers. Counters, and what is set in something, follow in the list of ids.

    Args:
        wall: Id of the wall.
        items: As `parse_run` reads them.
        from_end: End of the wall, as seen from inside, at which the first item stands; all offsets are from it.
        row: On the floor, or hung on the wall.
        start_mm, end_mm: The stretch, from the wall's left end; when None, the first stretch from `from_end`.
        replace: What stands against this wall where the run goes is taken out, with all that is set in it.
    Raises:
        NotFound: No such wall.
        Refused: The run is longer than the stretch; something stands in the way (with its name); the wall is open.
        OutOfRange: The stretch does not lie on the wall.
    """
    stretch = run_stretch(project, wall, row, from_end, start_mm=start_mm, end_mm=end_mm, replace=replace)
    left_mm = run_left_over(stretch, items)
    if left_mm < -TOLERANCE_MM:
        words = left_over_words(left_mm, project.show.units)
        raise Refused(f"the run is {words} for its stretch", expected="widths that fit into it")
    if not items:
        raise Refused("no width was typed", expected="widths in order along the wall")
    house = House(project)
    units = list(run_units(project, stretch, items, from_end, row))
    project = _cleared(house, stretch, units, replace)
    return _laid(project, wall, units, from_end, row)


def in_the_way(
    project: Project,
    wall: str,
    items: Sequence[RunItem],
    from_end: End = "left",
    *,
    row: Row = "lower",
    start_mm: float | None = None,
    end_mm: float | None = None,
    replace: bool = False,
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what stands where a run would go: names of what can be replaced, and of what cannot.

    Raises:
        NotFound, Refused, OutOfRange: As for `run_laid`; a run that is too long is looked at as far as it fits.
    """
    stretch = run_stretch(project, wall, row, from_end, start_mm=start_mm, end_mm=end_mm, replace=replace)
    house = House(project)
    met = _met(house, stretch, list(run_units(project, stretch, items, from_end, row)))
    ours = dict.fromkeys(one.called for one in met if one.what == "thing")
    return tuple(ours), tuple(dict.fromkeys(one.called for one in met if one.what != "thing"))


def _cleared(house: House, stretch: Stretch, units: Sequence[Unit], replace: bool) -> Project:
    """Return the project without what stands where the run goes.

    Raises:
        Refused: It is not to be replaced, or cannot be.
    """
    met = _met(house, stretch, units)
    stay = [one for one in met if one.what != "thing" or not replace]
    if stay:
        *most, last = dict.fromkeys(the(one.called) for one in stay)
        names = f"{', '.join(most)} and {last}" if most else last
        only = all(one.what == "thing" for one in stay)
        do = "lay it in their place, or on another stretch" if only else "move it, or lay the run on another stretch"
        raise Refused(f"{names} {'stand' if most else 'stands'} where the run goes", do=do)
    return things_removed(house.project, [one.id for one in met])[0] if met else house.project


def _met(house: House, stretch: Stretch, units: Sequence[Unit]) -> list[Taken]:
    found: dict[str, Taken] = {}
    counter = default_size("counter", house.project.show.units)
    for unit in units:
        size = unit.size
        high_mm = max(size.top_mm, counter.top_mm) if unit.kind in _UNDER_A_TOP else size.top_mm
        taken = taken_on(house, stretch.wall, depth_mm=size.depth_mm, bottom_mm=size.bottom_mm, top_mm=high_mm)
        for one in taken:
            end_mm = min(one.end_mm, unit.right_mm, stretch.end_mm)
            over_mm = end_mm - max(one.start_mm, unit.left_mm, stretch.start_mm)
            # A counter of the next wall lies over the corner, and the new one ends at it.
            joins = one.what == "other" and house.project.thing(one.id).kind in _JOINED
            if over_mm > TOLERANCE_MM and not joins:
                found.setdefault(one.id, one)
    inner = {id for id in found if _host_of(house, id) in found or _sits_in_top(house, id)}
    return [one for id, one in found.items() if id not in inner]


def _host_of(house: House, id: str) -> str | None:
    place = getattr(house.project.things_by_id.get(id), "place", None)
    return place.host if isinstance(place, SetIn) else None


def _sits_in_top(house: House, id: str) -> bool:
    host = _host_of(house, id)
    return host is not None and house.project.thing(host).kind in _JOINED


def _laid(project: Project, wall: str, units: Sequence[Unit], from_end: End, row: Row) -> tuple[Project, list[str]]:
    house, system = House(project), project.show.units
    length_mm, space = house.line(wall).length_mm, house.owner(wall).id
    taken, new, inner = all_ids(project), [], []

    def made(kind: str, words: str, size: Size, place: AgainstWall | SetIn, **more: Any) -> dict[str, Any]:
        id = new_id(words, taken)
        taken.add(id)
        return {
            "id": id, "kind": kind, "space": space, "place": place, "state": "new",
            "width_mm": round(size.width_mm, 6), "depth_mm": size.depth_mm,
            "bottom_mm": round(size.bottom_mm, 6), "top_mm": round(size.top_mm, 6), **more,
        }  # fmt: skip

    def against(left_mm: float, width_mm: float) -> AgainstWall:
        offset_mm = left_mm if from_end == "left" else length_mm - left_mm - width_mm
        return AgainstWall(wall=wall, from_end=from_end, offset_mm=round(offset_mm, 6) + 0.0)

    # What was typed is known; the rest of the size is assumed.
    typed = {"bases": {"depth_mm": "assumed", "bottom_mm": "assumed", "top_mm": "assumed"}}
    for unit in units:
        place = against(unit.left_mm, unit.size.width_mm)
        new.append(made(unit.kind, unit.item.word.word, unit.size, place, **typed, **unit.item.word.fields))
        if unit.item.word.set_in and unit.kind == "tall cabinet":
            size = default_size(unit.item.word.set_in, system)
            size = replace(size, width_mm=min(size.width_mm, unit.size.width_mm))
            place_in = SetIn(host=new[-1]["id"], offset_mm=round((unit.size.width_mm - size.width_mm) / 2, 6))
            inner.append(made(unit.item.word.set_in, unit.item.word.set_in, size, place_in, basis="assumed"))
    counters = _counters(house, wall, units, system) if row == "lower" else []
    for left_mm, right_mm in counters:
        size = replace(default_size("counter", system), width_mm=right_mm - left_mm)
        proud_mm = round(size.depth_mm - default_size("base cabinet", system).depth_mm, 6)
        overhang = {"overhang": {"front_mm": proud_mm}} if proud_mm > 0 else {}
        new.append(made("counter", "counter", size, against(left_mm, size.width_mm), basis="assumed", **overhang))
        for unit in units:
            if (
                unit.item.word.set_in
                and left_mm - TOLERANCE_MM <= unit.left_mm
                and unit.right_mm <= right_mm + TOLERANCE_MM
            ):
                sunk, offset_mm = _sunk(unit, left_mm, system)
                setback_mm = round((size.depth_mm - sunk.depth_mm) / 2, 6)
                place_in = SetIn(host=new[-1]["id"], offset_mm=offset_mm, setback_mm=setback_mm)
                inner.append(made(unit.item.word.set_in, unit.item.word.set_in, sunk, place_in, basis="assumed"))
    records = [*new, *inner]
    return project.with_records(things=[*project.things, *records]), [record["id"] for record in records]


def _sunk(unit: Unit, counter_left_mm: float, system: System) -> tuple[Size, float]:
    """Return the size of what is set over a cabinet, and its offset from the left end of the counter."""
    usual, width_mm = default_size(unit.item.word.set_in, system), unit.size.width_mm
    margin_mm = run_widths(system).margin_mm if unit.item.word.set_in == "sink" else 0.0
    size = replace(usual, width_mm=min(usual.width_mm, max(width_mm - margin_mm, width_mm / 2)))
    return size, round(unit.left_mm - counter_left_mm + (width_mm - size.width_mm) / 2, 6)


def _counters(house: House, wall: str, units: Sequence[Unit], system: System) -> list[tuple[float, float]]:
    """Return the stretches over which a counter goes, from left to right, each ended at a counter of the next wall."""
    low_mm = default_size("counter", system).bottom_mm
    spans: list[tuple[float, float, bool]] = []
    for unit in sorted(units, key=lambda one: one.left_mm):
        strip = unit.kind in STRIPS and unit.size.top_mm <= low_mm + TOLERANCE_MM
        if unit.kind not in _UNDER_A_TOP and not strip:
            continue
        last = spans[-1] if spans else None
        if last is not None and abs(last[1] - unit.left_mm) <= TOLERANCE_MM:
            spans[-1] = (last[0], unit.right_mm, last[2] or not strip)
        else:
            spans.append((unit.left_mm, unit.right_mm, not strip))
    size = default_size("counter", system)
    taken = taken_on(house, wall, depth_mm=size.depth_mm, bottom_mm=size.bottom_mm, top_mm=size.top_mm)
    ends = [one for one in taken if one.what == "other" and house.project.thing(one.id).kind in _JOINED]
    found = []
    for left_mm, right_mm, carries in spans:
        for one in ends:
            if one.start_mm <= left_mm < one.end_mm < right_mm:
                left_mm = one.end_mm
            if left_mm < one.start_mm < right_mm <= one.end_mm:
                right_mm = one.start_mm
        if carries and right_mm - left_mm > TOLERANCE_MM:
            found.append((round(left_mm, 6), round(right_mm, 6)))
    return found
