"""Landings beside and behind cooking surfaces."""

from __future__ import annotations

from collections.abc import Iterator

from enfilade.checks.beside import does_not_apply, lacks
from enfilade.checks.demands import two_sides
from enfilade.checks.fuel import fuel_told
from enfilade.checks.landings import LANDING_KINDS, SIDES, Kitchen, kitchen
from enfilade.checks.layout import TALL_MM
from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.clear_widths import clear_ahead
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import Island, Peninsula
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["behind_cooking", "cooking_landing", "enclosed_cooking"]

# Cooking surface and counter within half an inch are at one height (our own choice).
_ONE_HEIGHT_MM = 13.0
_TALL = ("tall cabinet", "refrigerator", "column", "oven", "panel")


def _surfaces(found: Kitchen) -> list[Stand]:
    return [centre.stand for centre in found.found.centres_of("cooking")]


@check(reads=LANDING_KINDS, uses={"kitchen"})
def cooking_landing(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure the counter on both sides of each cooking surface, at its height, up to what ends it.

    The longer side is held against the longer landing: the most favourable reading.
    """
    found = kitchen(view, rules)
    for part in ("longer side", "shorter side"):
        if not rules.has("K17", part):
            continue
        row = rules.row("K17", part)
        if not _surfaces(found):
            yield lacks(view, row, "cooking")
        for surface in _surfaces(found):
            if found.spot(surface) is None:
                yield row.not_assessed(
                    space=view.space.id,
                    subjects=(surface.id,),
                    because="missing fact",
                    needs=(f"{surface.id}.place",),
                    working=("its front is at no counter run",),
                    **fuel_told([surface]),
                )
                continue
            left, right = two_sides(found, surface)
            longer, shorter = (left, right) if left.length_mm >= right.length_mm else (right, left)
            landing = longer if part == "longer side" else shorter
            yield row.finding(
                space=view.space.id,
                subjects=(surface.id,),
                measured=Quantity(landing.length_mm, "mm"),
                working=(
                    *left.working,
                    *right.working,
                    f"the {'longer' if landing is longer else 'other'}: {both(landing.length_mm)}",
                ),
                marks=landing.marks,
                assumed=(*surface.thing.assumed("width_mm", "place", "top_mm"), *found.found.assumed_tops()),
                **fuel_told([surface]),
            )


@check(reads=LANDING_KINDS, uses={"kitchen"})
def behind_cooking(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure from the rear edge of a cooking surface to the far edge of the island or peninsula that carries it."""
    if not rules.has("K17b"):
        return
    row, found, space = rules.row("K17b"), kitchen(view, rules), view.space.id
    judged = False
    for surface in _surfaces(found):
        host = found.found.host_of(surface)
        if host is None or not isinstance(host.thing, Island | Peninsula):
            continue
        judged = True
        if abs(host.thing.top_mm - surface.thing.top_mm) > _ONE_HEIGHT_MM:
            heights = f"cooking surface at {both(surface.thing.top_mm)}, counter at {both(host.thing.top_mm)}"
            yield row.not_assessed(
                space=space,
                subjects=(surface.id, host.id),
                because="does not apply",
                working=(heights,),
                **fuel_told([surface]),
            )
            continue
        back = surface.box.back
        far_mm = max(back.place(corner)[1] for corner in host.box.corners)
        yield row.finding(
            space=space,
            subjects=(surface.id, host.id),
            measured=Quantity(max(0.0, far_mm), "mm"),
            working=(
                f"rear edge of {surface.thing.called} to the far edge of {host.thing.called}: {both(max(0.0, far_mm))}",
            ),
            marks=(Mark("measure", (back.midpoint, back.at(back.length_mm / 2, far_mm))),),
            assumed=(*surface.thing.assumed("depth_mm", "place"), *host.thing.assumed("depth_mm")),
            **fuel_told([surface]),
        )
    if not _surfaces(found):
        yield lacks(view, row, "cooking")
    elif not judged:
        yield does_not_apply(view, row, "no cooking surface stands on an island or peninsula")


@check(reads=LANDING_KINDS, uses={"kitchen"})
def enclosed_cooking(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Say where a wall or tall unit stands beside a cooking surface, nearer than its shorter landing.

    What the side clearance must then be stands in the maker's instructions; guideline 17 still tells the shortfall.
    """
    if not rules.has("K17c") or not rules.has("K17", "shorter side"):
        return
    row, found, space = rules.row("K17c"), kitchen(view, rules), view.space.id
    reach = rules.row("K17", "shorter side").value_mm
    solid = {s.id: s.box.polygon for s in view.things(*_TALL) if s.thing.top_mm > TALL_MM}
    for surface in _surfaces(found):
        for side in SIDES:
            near = clear_ahead(side_of(surface.box, side), {**view.walls, **solid}, reach)
            if near is None:
                yield row.not_assessed(
                    space=space,
                    subjects=(surface.id,),
                    part=side,
                    because="does not apply",
                    working=(f"nothing tall within {both(reach)} on the {side}",),
                    **fuel_told([surface]),
                )
                continue
            name, other = found.names.of(surface.id, near.obstacle_id)
            other = other if near.obstacle_id in solid else "a wall"
            yield row.not_assessed(
                space=space,
                subjects=(surface.id, near.obstacle_id),
                part=side,
                because="source silent",
                working=(f"{other} stands {both(near.distance_mm)} from {name} on the {side}",),
                needs=("the maker's instructions for the side clearance",),
                marks=(Mark("measure", (near.edge_point, near.obstacle_point)),),
                **fuel_told([surface]),
            )
    if not _surfaces(found):
        yield lacks(view, row, "cooking")
