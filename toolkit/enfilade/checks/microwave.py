"""Heights of microwaves and of their controls."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from enfilade.checks.beside import point_mark
from enfilade.checks.layout import COUNTERS
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.appliances import Microwave
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["microwave_controls", "microwave_height", "microwave_shoulder"]

_UNDER = (*COUNTERS, "base cabinet")


@check(reads={"microwave", *_UNDER}, uses={"kitchen"})
def microwave_height(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the bottom of each microwave against its highest place and, below a counter, its lowest."""
    found = view.things("microwave")
    for part in ("highest", "lowest"):
        if not rules.has("K21", part):
            continue
        row = rules.row("K21", part)
        if not found:
            yield row.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="does not apply",
                working=("no microwave is recorded here",),
            )
        for stand in found:
            if part == "lowest" and not _below_counter(stand, view.things(*_UNDER)):
                working = ("it does not stand below a counter",)
                yield row.not_assessed(
                    space=view.space.id, subjects=(stand.id,), because="does not apply", working=working
                )
                continue
            yield row.finding(
                space=view.space.id,
                subjects=(stand.id,),
                measured=Quantity(stand.thing.bottom_mm, "mm"),
                working=(f"floor to the bottom of {stand.thing.called}: {both(stand.thing.bottom_mm)}",),
                marks=point_mark([stand]),
                assumed=stand.thing.assumed("bottom_mm"),
            )


def _below_counter(stand: Stand, tops: list[Stand]) -> bool:
    middle = shapely.Point(stand.box.x, stand.box.y)
    return any(top.thing.top_mm >= stand.thing.top_mm - TOLERANCE_MM and top.box.polygon.covers(middle) for top in tops)


@check(reads={"microwave", "household"}, uses={"kitchen"})
def microwave_shoulder(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure from the shoulder of the first person who cooks, of those measured, down to each microwave."""
    if not rules.has("K21", "below shoulder"):
        return
    row, found = rules.row("K21", "below shoulder"), view.things("microwave")
    if not found:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("no microwave is recorded here",),
        )
    cooks = [person for person in view.household.people if person.cooks]
    shoulders = [person.shoulder_height_mm for person in cooks if person.shoulder_height_mm is not None]
    for stand in found:
        if not shoulders:
            needs = [f"household.people.{person.id}.shoulder_height_mm" for person in cooks]
            yield row.not_assessed(
                space=view.space.id,
                subjects=(stand.id,),
                because="missing fact",
                needs=needs or ["household.people: who cooks, with shoulder_height_mm"],
            )
            continue
        bottom_mm = stand.thing.bottom_mm
        yield row.finding(
            space=view.space.id,
            subjects=(stand.id,),
            measured=Quantity(shoulders[0] - bottom_mm, "mm"),
            working=(f"shoulder at {both(shoulders[0])}, bottom of {stand.thing.called} at {both(bottom_mm)}",),
            marks=point_mark([stand]),
            assumed=stand.thing.assumed("bottom_mm"),
        )


@check(reads={"microwave"}, uses={"kitchen"})
def microwave_controls(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the recorded height of each microwave's controls against the reach."""
    if not rules.has("K21a"):
        return
    row, found = rules.row("K21a"), view.things("microwave")
    if not found:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("no microwave is recorded here",),
        )
    for stand in found:
        height_mm = stand.thing.control_height_mm if isinstance(stand.thing, Microwave) else None
        if height_mm is None:
            needs = (f"{stand.id}.control_height_mm",)
            yield row.not_assessed(space=view.space.id, subjects=(stand.id,), because="missing fact", needs=needs)
        else:
            yield row.finding(
                space=view.space.id,
                subjects=(stand.id,),
                measured=Quantity(height_mm, "mm"),
                working=(f"floor to the controls of {stand.thing.called}: {both(height_mm)}",),
                marks=point_mark([stand]),
                assumed=stand.thing.assumed("control_height_mm"),
            )
