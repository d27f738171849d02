"""Ventilation of cooking, and the controls of the hood."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from enfilade.checks.above_cooking import COOKING
from enfilade.checks.beside import AT_WALL_MM, does_not_apply, lacks, over, point_mark
from enfilade.checks.fuel import fuel_told
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Requirement
from enfilade.project.appliances import Hood, Microwave
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity, convert
from enfilade.standards.yardsticks import Yardstick

__all__ = ["cooking_ventilation", "hood_controls"]

# A flow that was rounded to a whole m3/h is off by up to 0.3 cfm; published flows are whole cfm.
_ROUNDED_CFM: Final = 0.3


@check(reads={*COOKING, "hood", "microwave"}, uses={"kitchen"})
def cooking_ventilation(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the hood above each cooking surface, or the downdraft beside it, against the flows asked.

    A hood, or a microwave combined with one, belongs to a surface when its plan overlaps it from above, or
    when it stands at the surface within 12 in as a downdraft. Nothing recorded counts as no flow.
    """
    surfaces = view.things(*COOKING)
    if not surfaces:
        for row in rules.rows("K19"):
            if not row.definition:
                yield lacks(view, row, "cooking")
    for surface in surfaces:
        served = _hood_of(surface, _hoods(view))
        yield from _ducted(view, rules, surface, served)
        yield from _flow(view, rules, surface, served)
        yield from _make_up_air(view, rules, surface, served)


def _hoods(view: View) -> list[Stand]:
    """Return what draws off air: hoods, and microwaves combined with one."""
    combined = [s for s in view.things("microwave") if isinstance(s.thing, Microwave) and s.thing.in_hood]
    return [*view.things("hood"), *combined]


def _drawing(stand: Stand) -> Hood | Microwave:
    assert isinstance(stand.thing, Hood | Microwave)
    return stand.thing


def _hood_of(surface: Stand, hoods: Sequence[Stand]) -> Stand | None:
    above = [hood for hood in hoods if over(surface, hood)]
    if above:
        # A hood by itself draws the air; a microwave above it is then only a microwave.
        return min(above, key=lambda hood: (hood.thing.kind != "hood", hood.thing.bottom_mm, hood.id))
    low = [hood for hood in hoods if hood.thing.bottom_mm < surface.thing.top_mm]
    near = [hood for hood in low if hood.box.polygon.distance(surface.box.polygon) <= AT_WALL_MM]
    return min(near, key=lambda hood: (hood.box.polygon.distance(surface.box.polygon), hood.id), default=None)


def _subjects(surface: Stand, hood: Stand | None) -> tuple[str, ...]:
    return (surface.id,) if hood is None else (surface.id, hood.id)


def _ducted(view: View, rules: Yardstick, surface: Stand, stand: Stand | None) -> Iterator[Finding]:
    if not rules.has("K19", "ducted"):
        return
    row, subjects = rules.row("K19", "ducted"), _subjects(surface, stand)
    ducted = False if stand is None else _drawing(stand).ducted
    if ducted is None and stand is not None:
        yield row.not_assessed(
            space=view.space.id,
            subjects=subjects,
            because="missing fact",
            needs=(f"{stand.id}.ducted",),
            working=(f"where the air of {stand.thing.called} goes is not recorded",),
            **fuel_told([surface]),
        )
        return
    if stand is None:
        working = f"no hood or downdraft is recorded at {surface.thing.called}"
    else:
        working = f"{stand.thing.called}: " + ("air goes outdoors" if ducted else "air comes back into the room")
    yield row.finding(
        space=view.space.id,
        subjects=subjects,
        measured=Quantity(float(bool(ducted)), "count"),
        working=(working,),
        marks=point_mark([stand or surface]),
        assumed=stand.thing.assumed("ducted") if stand else (),
        **fuel_told([surface]),
    )


def _cfm(hood: Stand | None) -> float | None:
    """Return the recorded flow [cfm]; 0 without a hood, None when it is unknown."""
    if hood is None:
        return 0.0
    metric = _drawing(hood).flow_m3h
    if metric is None:
        return None
    flow = convert(metric, "m3/h", "cfm")
    return float(round(flow)) if abs(flow - round(flow)) <= _ROUNDED_CFM else flow


def _flow(view: View, rules: Yardstick, surface: Stand, hood: Stand | None) -> Iterator[Finding]:
    runs = hood.thing.runs if hood is not None and isinstance(hood.thing, Hood) else "intermittent"
    flow = _cfm(hood)
    for part in ("recommended", f"code, {runs}"):
        if not rules.has("K19", part):
            continue
        row = rules.row("K19", part)
        if flow is None and hood is not None:
            yield row.not_assessed(
                space=view.space.id,
                subjects=_subjects(surface, hood),
                because="missing fact",
                needs=(f"{hood.id}.flow_m3h",),
                working=(f"the flow of {hood.thing.called} is not recorded",),
                **fuel_told([surface]),
            )
        else:
            yield row.finding(
                space=view.space.id,
                subjects=_subjects(surface, hood),
                measured=Quantity(flow or 0.0, "cfm"),
                working=(_flow_line(hood, flow),),
                marks=point_mark([hood or surface]),
                assumed=hood.thing.assumed("flow_m3h") if hood else (),
                **fuel_told([surface]),
            )


def _flow_line(hood: Stand | None, flow: float | None) -> str:
    if hood is None:
        return "no hood or downdraft is recorded: 0 cfm"
    return f"{hood.thing.called}: {_drawing(hood).flow_m3h:g} m³/h = {flow:.4g} cfm"


def _make_up_air(view: View, rules: Yardstick, surface: Stand, stand: Stand | None) -> Iterator[Finding]:
    """Judge the flow up to the limit; above it, whether make-up air is recorded."""
    if not rules.has("K19", "make-up air"):
        return
    row, subjects, flow = rules.row("K19", "make-up air"), _subjects(surface, stand), _cfm(stand)
    if stand is None:
        yield row.not_assessed(
            space=view.space.id,
            subjects=subjects,
            because="does not apply",
            working=(f"no hood or downdraft is recorded at {surface.thing.called}",),
            **fuel_told([surface]),
        )
        return
    there = _drawing(stand).make_up_air
    if flow is not None and flow <= row.number:
        yield row.finding(
            space=view.space.id,
            subjects=subjects,
            measured=Quantity(flow, "cfm"),
            required=row.requirement,
            working=(_flow_line(stand, flow), f"up to {row.printed} no make-up air is asked"),
            **fuel_told([surface]),
        )
    elif flow is None or there is None:
        yield row.not_assessed(
            space=view.space.id,
            subjects=subjects,
            because="missing fact",
            needs=(f"{stand.id}.flow_m3h",) if flow is None else (f"{stand.id}.make_up_air",),
            working=() if flow is None else (_flow_line(stand, flow), f"over {row.printed} make-up air is asked"),
            **fuel_told([surface]),
        )
    else:
        yield row.finding(
            space=view.space.id,
            subjects=subjects,
            measured=Quantity(float(there), "count"),
            required=Requirement("at least", 1, "count"),
            working=(
                _flow_line(stand, flow),
                f"over {row.printed} make-up air is asked; {'it is' if there else 'none is'} provided",
            ),
            marks=point_mark([stand]),
            **fuel_told([surface]),
        )


@check(reads={"hood", "microwave"}, uses={"kitchen"})
def hood_controls(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold the recorded height of the controls of each hood, and of each microwave with a hood, against the reach."""
    if not rules.has("K19a"):
        return
    row, hoods = rules.row("K19a"), _hoods(view)
    if not hoods:
        yield does_not_apply(view, row, "no hood is recorded here")
    for stand in hoods:
        height_mm = _drawing(stand).control_height_mm
        if height_mm is None:
            yield row.not_assessed(
                space=view.space.id,
                subjects=(stand.id,),
                because="missing fact",
                needs=(f"{stand.id}.control_height_mm",),
                working=(f"the height of the controls of {stand.thing.called} is not recorded",),
            )
        else:
            yield row.finding(
                space=view.space.id,
                subjects=(stand.id,),
                measured=Quantity(height_mm, "mm"),
                working=(f"floor to the controls of {stand.thing.called}: {both(height_mm)}",),
                marks=point_mark([stand]),
                assumed=stand.thing.assumed("control_height_mm"),
            )
