"""What can be found by number in a project: sizes, seats, areas, findings and costs, each with its record and room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from enfilade.checks.where_bought import where_bought
from enfilade.findings import Finding
from enfilade.geometry.outlines import area_m2
from enfilade.project.appliances import Cooktop, Sink, Waste
from enfilade.project.choices import Purchase
from enfilade.project.project import Project
from enfilade.project.spaces import Space
from enfilade.project.surfaces import Island, Peninsula, Surface, Table
from enfilade.project.thing import Thing
from enfilade.quantities import Unit, convert
from enfilade.script.attributes import extents_mm

__all__ = ["Figure", "figures_of"]

_KEPT_IN: Final[dict[str, Unit]] = {"mm": "mm", "in": "mm", "mm2": "mm2", "m2": "mm2", "sq in": "mm2", "sq ft": "mm2"}
"""Units in which lengths and areas are kept; other figures keep the unit of their source."""


class Figure(NamedTuple):
    """A number that can be found: mm, mm2, pieces, or the project's money.

    Attributes:
        what: Kind of thing, or `room`, `finding`, `decision`, `product`, `finish`.
        name: length, width, depth, height, area, seats, bins; of a finding measured; cost, allowance, quote,
            ordered price. The length of a thing or room is its longer side.
        record: Id of the record, or of the finding.
        space: Id of the room; empty for the whole house.
        use: What that room is.
        state: Verdict of a finding, status of a decision; or empty.
        rule: Of a finding; or empty.
    """

    what: str
    name: str
    value: float
    record: str
    space: str
    use: str
    state: str = ""
    rule: str = ""


def figures_of(project: Project, findings: Sequence[Finding] = ()) -> list[Figure]:
    """Return the figures of a project that can be found. What is removed has none."""
    return [one for one in _figures(project, findings) if math.isfinite(one.value)]


def _figures(project: Project, findings: Sequence[Finding]) -> Iterator[Figure]:
    uses: dict[str, str] = {space.id: space.use for space in project.spaces}
    for space in project.spaces:
        for name, value in _of_room(space):
            yield Figure("room", name, value, space.id, space.id, space.use)
    for thing in project.things:
        if thing.state != "removed":
            for name, value in _of_thing(thing):
                yield Figure(thing.kind, name, value, thing.id, thing.space, uses.get(thing.space, ""))
    for finding in findings:
        where = finding.space or ""
        for name, value in _of_finding(finding):
            yield Figure("finding", name, value, finding.id, where, uses.get(where, ""), finding.verdict, finding.rule)
    yield from _costs(project, uses)


def _of_room(space: Space) -> Iterator[tuple[str, float]]:
    (ax, ay), (bx, by) = space.outline[:2]
    width, length = extents_mm(space.outline, (bx - ax, by - ay))
    yield "area", _plain(area_m2(space.outline) * 1e6)
    yield "length", _plain(length)
    yield "width", _plain(width)
    if space.ceiling_mm is not None:
        yield "height", _plain(space.ceiling_mm)


def _of_thing(thing: Thing) -> Iterator[tuple[str, float]]:
    surface = isinstance(thing, Surface)
    sides = (thing.width_mm, thing.depth_mm)
    # The width of a top is its shorter side; that of a cabinet or a machine is its front.
    yield "length", _plain(max(sides))
    yield "width", _plain(min(sides) if surface else thing.width_mm)
    yield "depth", _plain(thing.depth_mm)
    # How high one works or eats, not how thick it is.
    worked_at = surface or isinstance(thing, Sink | Cooktop)
    yield "height", _plain(thing.top_mm if worked_at else thing.top_mm - thing.bottom_mm)
    yield "area", _plain(thing.width_mm * thing.depth_mm * (math.pi / 4 if getattr(thing, "round", False) else 1.0))
    if isinstance(thing, Surface):
        seats = sum(row.count for row in thing.seating)
        if seats or isinstance(thing, Island | Peninsula | Table):
            yield "seats", float(seats)
    if isinstance(thing, Waste):
        yield "bins", float(thing.bins)


def _of_finding(finding: Finding) -> Iterator[tuple[str, float]]:
    if finding.measured is not None:
        value, unit = finding.measured.value, finding.measured.unit
        kept_in = _KEPT_IN.get(unit, unit)
        yield "measured", _plain(value if unit == kept_in else convert(value, unit, kept_in))


def _costs(project: Project, uses: dict[str, str]) -> Iterator[Figure]:
    for decision in project.decisions:
        if decision.chosen is not None and decision.chosen.cost is not None:
            for space in decision.spaces or ("",):
                cost = float(decision.chosen.cost)
                yield Figure("decision", "cost", cost, decision.id, space, uses.get(space, ""), decision.status)
    rooms, _ = where_bought(project)
    bought = (
        *(("product", one.id, one.purchase, rooms["products"].get(one.id)) for one in project.products),
        *(("finish", one.id, one.purchase, rooms["finishes"].get(one.id)) for one in project.finishes),
    )
    for what, record, purchase, where in bought:
        if where is not None:
            for space in where or ("",):
                for name, value in _prices(purchase):
                    yield Figure(what, name, value, record, space, uses.get(space, ""))


def _prices(purchase: Purchase) -> Iterator[tuple[str, float]]:
    """Yield each price on record, and as its cost the one that is nearest to what is paid."""
    named = (("ordered price", purchase.ordered_price), ("quote", purchase.quote), ("allowance", purchase.allowance))
    known = [(name, float(price)) for name, price in named if price is not None]
    if known:
        yield "cost", known[0][1]
        yield from known


def _plain(value: float) -> float:
    """Return a figure without the noise of coordinates."""
    return round(value, 3) + 0.0
