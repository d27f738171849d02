"""Appliances, dining places and waste beside the household and its largest regular gathering."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from enfilade.checks.beside import CENTRES, counted, point_mark
from enfilade.checks.count_records import Asked, Counted, asked_by
from enfilade.checks.household_size import household_size
from enfilade.checks.registry import check
from enfilade.checks.shown import Names
from enfilade.checks.view import View
from enfilade.findings import Finding, Requirement
from enfilade.lengths import inches, show_inches
from enfilade.project.appliances import Cooktop, Dishwasher, Range, Refrigerator, Waste
from enfilade.project.people import Household
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import Seat, Surface
from enfilade.quantities import Quantity, convert, show_quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.household import (
    Estimate,
    dining_edge,
    dishwasher_settings,
    refrigerator_by_person,
    refrigerator_volume,
)
from enfilade.trade.seating import seats_along

__all__ = ["APPLIANCES", "appliance_counts", "burners_and_ovens", "dining_places", "dishwasher_settings_there",
           "refrigerator_volume_there"]  # fmt: skip

_SURFACES: Final = ("counter", "island", "peninsula", "table", "desk")
APPLIANCES: Final = ("refrigerator", "dishwasher", "cooktop", "range", "oven", "microwave", "waste", "seat", *_SURFACES)
"""Kinds that the counts of appliances read."""

_SEATED: Final = ("chair", "armchair", "stool")
_NEAR_WIDTH_MM: Final = inches(1)
"""A dishwasher off a nominal width by no more than this has that width (our own choice)."""


def appliance_counts(view: View, rules: Yardstick) -> tuple[Counted, ...]:
    """Return the counts of a house: refrigerator, dishwasher, burners, ovens, dining places, waste.

    Args:
        view: Of the whole house; reads APPLIANCES and `household`.
        rules: Where what is asked comes from.
    """
    return (
        _cold(view, rules),
        _settings(view, rules),
        *_cooking(view),
        _places(view, rules),
        _bins(view, rules),
    )


@check(reads={"refrigerator", "household"}, scope="house")
def refrigerator_volume_there(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the recorded volume of all refrigerators against the rules of thumb for a household of this size.

    They disagree, so each is its own finding. More than a rule's upper end is no shortfall. The last
    rule leaves the freezer apart; where refrigerator and freezer are recorded as one it is judged
    only when even both together are too little.
    """
    count, size = _cold(view, rules), household_size(view, rules)
    names = (("Q3", "two people"), ("Q4", ""), ("P4", ""))
    for number, (rule, part) in enumerate(names):
        if not rules.has(rule, part):
            continue
        row = rules.row(rule, part)
        if count.there is None or size.people is None:
            why: Sequence[str] = count.needs
            here = _kitchen(view)
            if not why and here is not None and not count.subjects:
                why = (f"{here}: {CENTRES['cold']}",)
            yield _unknown(view, row, why) if why else _none(view, row, "no refrigerator is recorded")
            continue
        asked = count.asked[number] if number < len(count.asked) else None
        if asked is None:
            continue
        mixed = rule == "P4" and any(_holds_both(s) for s in view.house_things("refrigerator"))
        required = Requirement("at least", asked.low.value, asked.low.unit)
        if mixed and required.met_by(count.there):
            needs = [f"{s.id}: the volume of its refrigerator part" for s in view.house_things("refrigerator")]
            yield _unknown(view, row, needs, asked.working)
            continue
        yield row.finding(
            space=_kitchen(view),
            subjects=count.subjects,
            measured=count.there,
            required=required,
            working=(*asked.working, *count.working),
            marks=point_mark(view.house_things("refrigerator")),
            assumed=(
                *size.assumed,
                *(n for s in view.house_things("refrigerator") for n in s.thing.assumed("volume_l")),
            ),
            title=f"Refrigerator volume for the household{', freezer apart' if rule == 'P4' else ''}",
        )


def _holds_both(stand: Stand) -> bool:
    return isinstance(stand.thing, Refrigerator) and stand.thing.holds == "both"


def _cold(view: View, rules: Yardstick) -> Counted:
    every = [s.thing for s in view.house_things("refrigerator") if isinstance(s.thing, Refrigerator)]
    cold = [thing for thing in every if thing.holds != "wine"]
    known = [thing.volume_l for thing in cold if thing.volume_l is not None]
    missing = [f"{thing.id}.volume_l" for thing in cold if thing.volume_l is None]
    size = household_size(view, rules)
    people = size.people
    asked: tuple[Asked, ...] = ()
    if people is not None:
        estimates = (
            (("Q3", "two people"), refrigerator_volume(people, by=rules) if rules.has("Q3", "two people") else None),
            (("Q4", ""), refrigerator_by_person(people, by=rules) if rules.has("Q4") else None),
            (("P4", ""), refrigerator_by_person(people, practice=True, by=rules) if rules.has("P4") else None),
        )
        asked = tuple(_asked(rules.row(*name), one) for name, one in estimates if one is not None)
    else:
        missing.append("household.people")
    there = Quantity(sum(known), "l") if cold and len(known) == len(cold) else None
    added = " + ".join(f"{litres:g}" for litres in known)
    lines = () if there is None else (f"recorded: {added} = {there.value:g} l ({show_quantity(there, 'us')})",)
    needs = tuple(missing) if cold else ()
    return Counted(
        "Refrigerator volume", there, asked, (*size.working, *lines), needs, tuple(thing.id for thing in cold)
    )


def _asked(row: Row, estimate: Estimate) -> Asked:
    return asked_by(row, estimate.method, low=estimate.low, high=estimate.high, working=estimate.working)


@check(reads={"dishwasher", "household"}, scope="house")
def dishwasher_settings_there(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the recorded place settings of all dishwashers against the people at the largest regular gathering."""
    machines = view.house_things("dishwasher")
    row = _settings_row(machines, rules)
    if row is None:
        return
    count, guests = _settings(view, rules), view.household.largest_gathering
    if not machines:
        yield _none(view, row, "no dishwasher is recorded")
    elif count.there is None or guests is None:
        usual = tuple(line for asked in count.asked for line in asked.working)
        yield _unknown(view, row, count.needs, usual)
    else:
        yield row.finding(
            space=_kitchen(view),
            subjects=count.subjects,
            measured=count.there,
            required=Requirement("at least", guests, "count"),
            working=(*count.working, f"people at the largest regular gathering: {guests}"),
            marks=point_mark(machines),
            title="Place settings of all dishwashers",
            also=("A setting for each person in one load is our own reading; no source says how many are needed.",),
        )


def _settings_row(machines: Sequence[Stand], rules: Yardstick) -> Row | None:
    width_mm = machines[0].thing.width_mm if machines else 0.0
    rows = [row for row in rules.rows("Q14") if row.key_mm is not None]
    near = [row for row in rows if row.key_mm is not None and abs(row.key_mm - width_mm) <= _NEAR_WIDTH_MM]
    return next(iter(near or rows), None)


def _settings(view: View, rules: Yardstick) -> Counted:
    machines = view.house_things("dishwasher")
    things = [s.thing for s in machines if isinstance(s.thing, Dishwasher)]
    known = [thing.place_settings for thing in things if thing.place_settings is not None]
    missing = [f"{thing.id}.place_settings" for thing in things if thing.place_settings is None]
    if view.household.largest_gathering is None:
        missing.append("household.gatherings")
    usual: list[Asked] = []
    for thing in things:
        rows = (row for row in rules.rows("Q14") if row.key_mm is not None)
        row = next((r for r in rows if abs((r.key_mm or 0.0) - thing.width_mm) <= _NEAR_WIDTH_MM), None)
        if row is not None and row.key is not None:
            usual.append(_asked(row, dishwasher_settings(int(row.key), by=rules)))
    there = Quantity(sum(known), "count") if things and len(known) == len(things) else None
    lines = () if there is None else (f"recorded: {sum(known)} place settings",)
    needs, ids = tuple(missing) if things else (), tuple(thing.id for thing in things)
    return Counted("Dishwasher place settings", there, tuple(usual), lines, needs, ids)


@check(reads={"cooktop", "range", "oven", "household"}, scope="house")
def burners_and_ovens(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count burners and ovens beside the household; no source says how many it needs."""
    if not rules.has("R6"):
        return
    lines = [f"{one.name}: {'not recorded' if one.there is None else f'{one.there.value:g}'}" for one in _cooking(view)]
    yield rules.row("R6").not_assessed(
        space=_kitchen(view),
        subjects=(_kitchen(view) or "household",),
        because="source silent",
        working=(*lines, _people_line(view.household)),
    )


def _cooking(view: View) -> tuple[Counted, ...]:
    tops = [s.thing for s in view.house_things("cooktop", "range") if isinstance(s.thing, Cooktop | Range)]
    missing = tuple(f"{thing.id}.burners" for thing in tops if thing.burners is None)
    burners = sum(thing.burners or 0 for thing in tops)
    ovens = [*view.house_things("oven"), *view.house_things("range")]
    people = (_people_line(view.household),)
    there = None if missing else Quantity(burners, "count")
    return (
        Counted("Burners", there, (), people, missing, tuple(thing.id for thing in tops)),
        Counted("Ovens", Quantity(len(ovens), "count"), (), people, (), tuple(s.id for s in ovens)),
    )


def _people_line(household: Household) -> str:
    size = "of unknown size" if household.count is None else f"of {household.count}"
    guests = household.largest_gathering
    return f"household {size}, largest regular gathering {'not recorded' if guests is None else f'of {guests}'}"


@check(reads={*_SURFACES, "seat", "household"}, scope="house")
def dining_places(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the places to sit and eat in the house against the people at the largest regular gathering.

    A row of seats counts as many as are recorded and its edge has room for at 24 in each; a surface
    without rows counts the chairs recorded at it.
    """
    if not rules.has("Q13", "width"):
        return
    row, count, guests = rules.row("Q13", "width"), _places(view, rules), view.household.largest_gathering
    if guests is None:
        yield _unknown(view, row, ("household.gatherings",), count.working)
        return
    yield row.finding(
        space=None,
        subjects=count.subjects or (_kitchen(view) or "household",),
        measured=count.there or Quantity(0, "count"),
        required=Requirement("at least", guests, "count"),
        working=(*count.working, *(line for asked in count.asked for line in asked.working)),
        title="Dining places for the largest gathering",
    )


def _places(view: View, rules: Yardstick) -> Counted:
    row = rules.row("Q13", "width") if rules.has("Q13", "width") else None
    lines, ids, total = [], [], 0
    chairs: dict[str, int] = {}
    for stand in view.house_things("seat"):
        if isinstance(stand.thing, Seat) and stand.thing.at is not None and stand.thing.what in _SEATED:
            chairs[stand.thing.at] = chairs.get(stand.thing.at, 0) + 1
    surfaces = [(s, s.thing) for s in view.house_things(*_SURFACES) if isinstance(s.thing, Surface)]
    eaten_at = {thing.id: thing.called for _, thing in surfaces if thing.kind != "desk"}
    at = [key for key in eaten_at if key in chairs or any(t.id == key and t.seating for _, t in surfaces)]
    called = dict(zip(at, Names(eaten_at).of(*at), strict=True))
    for stand, thing in surfaces:
        if thing.kind == "desk":
            continue
        here = 0
        for seats in thing.seating:
            whole_mm = side_of(stand.box, seats.side).length_mm - max(seats.from_left_mm, 0.0)
            edge_mm = max(1.0, whole_mm if seats.length_mm is None else min(whole_mm, seats.length_mm))
            legs = (seats.legs_mm,) if seats.legs_mm else ()
            fit = seats_along(edge_mm, legs_mm=legs, seat_width_mm=row.value_mm if row else None, by=rules)
            here += min(seats.count, fit.count)
            room = f"room for {fit.count} on {show_inches(edge_mm)}"
            lines.append(f"{called[thing.id]}, {seats.side}: {seats.count} recorded, {room}")
        if not thing.seating and thing.id in chairs:
            here = chairs[thing.id]
            lines.append(f"{called[thing.id]}: {counted(here, 'chair')}")
        if here:
            ids.append(thing.id)
            total += here
    guests = view.household.largest_gathering
    asked: tuple[Asked, ...] = ()
    if row is not None and guests is not None:
        edge = dining_edge(guests, by=rules)
        asked = (Asked(Quantity(guests, "count"), Quantity(guests, "count"), edge.method, row.source, edge.working),)
    needs = () if guests is not None else ("household.gatherings",)
    return Counted("Dining places", Quantity(total, "count"), asked, tuple(lines), needs, tuple(ids))


def _bins(view: View, rules: Yardstick) -> Counted:
    found = [s.thing for s in view.house_things("waste") if isinstance(s.thing, Waste)]
    asked = (asked_by(rules.row("K14")),) if rules.has("K14") else ()
    volumes = [thing.volume_l for thing in found if thing.volume_l is not None]
    lines = [f"{thing.called}: {thing.purpose}, {counted(thing.bins, 'bin')}" for thing in found]
    if volumes:
        litres = sum(volumes)
        lines.append(f"recorded volume {litres:g} l ({convert(litres, 'l', 'cu ft'):.1f} cu ft)")
    total = sum(thing.bins for thing in found)
    return Counted("Waste receptacles", Quantity(total, "count"), asked, tuple(lines), (), tuple(t.id for t in found))


def _kitchen(view: View) -> str | None:
    return next((space.id for space in view.spaces if space.use == "kitchen"), None)


def _unknown(view: View, row: Row, needs: Sequence[str], working: Sequence[str] = ()) -> Finding:
    here = _kitchen(view)
    return row.not_assessed(
        space=here, subjects=(here or "household",), because="missing fact", needs=needs, working=working
    )


def _none(view: View, row: Row, line: str) -> Finding:
    here = _kitchen(view)
    return row.not_assessed(space=here, subjects=(here or "household",), because="does not apply", working=(line,))
