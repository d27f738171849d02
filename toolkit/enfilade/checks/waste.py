"""Waste and recycling receptacles."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from enfilade.checks.beside import counted, point_mark
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Requirement
from enfilade.project.appliances import Sink, Waste
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["waste_receptacles"]


@check(reads={"waste", "sink"}, uses={"kitchen"})
def waste_receptacles(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count waste receptacles up to one a sink, and one for recycling in the room.

    Bins are counted one by one, so that a pull-out with two bins for waste and recycling is both. A
    third bin for waste does not stand in for recycling. The source gives no distance to the sink;
    the nearest receptacle is told. Auxiliary sinks and compost are left out.
    """
    if not rules.has("K14"):
        return
    row = rules.row("K14")
    sinks = [s for s in view.things("sink") if isinstance(s.thing, Sink) and s.thing.role != "auxiliary"]
    here, room = view.things("waste"), view.room_things("waste")
    mixed = _bins(here, "waste and recycling")
    recycling = min(1, _bins(room, "recycling") + _bins(room, "waste and recycling"))
    # A mixed pull-out gives one bin to recycling when no other receptacle does, the rest to waste.
    spent = recycling if not _bins(room, "recycling") and mixed else 0
    waste = _bins(here, "waste") + max(0, mixed - spent)
    asked = max(int(row.number), len(sinks) + 1)
    enough = min(waste, asked - 1) + recycling
    called = names(view).of(*(sink.id for sink in sinks))
    yield row.finding(
        space=view.space.id,
        subjects=(view.space.id,),
        measured=Quantity(enough, "count"),
        required=Requirement("at least", asked, "count"),
        working=(
            f"{counted(len(sinks), 'sink')} for dishes or preparation: one receptacle each, and one for recycling",
            f"{counted(waste, 'bin')} for waste in the kitchen, {'one' if recycling else 'none'} for recycling",
            *(line for sink, name in zip(sinks, called, strict=True) for line in _nearest(sink, name, here)),
        ),
        marks=point_mark(room),
    )


def _bins(stands: Iterable[Stand], purpose: str) -> int:
    return sum(s.thing.bins for s in stands if isinstance(s.thing, Waste) and s.thing.purpose == purpose)


def _nearest(sink: Stand, name: str, stands: Iterable[Stand]) -> Iterator[str]:
    distances = [stand.box.polygon.distance(sink.box.polygon) for stand in stands]
    if distances:
        yield f"nearest receptacle to {name}: {both(min(distances))}"
