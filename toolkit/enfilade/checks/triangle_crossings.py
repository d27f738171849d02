"""What comes between the work centres: tall units on the run, and ways through the room."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from shapely import Polygon

from enfilade.checks.cooks import cooks, missing_centres
from enfilade.checks.floor import FLOOR_KINDS
from enfilade.checks.layout import RUN_KINDS, TALL_MM, Layout, Spot, layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.checks.ways import BODY_MM, Way, through_length, ways
from enfilade.findings import Finding, Mark
from enfilade.geometry.runs import Piece
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick


@check(reads={*RUN_KINDS}, uses={"kitchen"})
def tall_units_between(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count the tall units between each two primary centres that stand on one run.

    A tall unit at the inside corner of a run is passed by and not counted, as the guideline tolerates it.
    """
    if not rules.has("K4"):
        return
    row = rules.row("K4")
    found = layout(view)
    primary = cooks(found, 1)
    if not primary:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="missing fact",
            needs=missing_centres(found, view.space.id),
        )
        return
    judged = 0
    for a, b in combinations(primary[0].centres, 2):
        ends = _on_one_run(found, a.stand.id, b.stand.id)
        if ends is None:
            continue
        judged += 1
        between = [piece for piece in _between(*ends) if _is_tall(piece)]
        counted = [piece for piece in between if not (piece.corner_before or piece.corner_after)]
        tall = list(dict.fromkeys(piece.station_id for piece in counted))
        passed = [piece.station_id for piece in between if piece not in counted]
        one, other, *parting = names(view).of(a.stand.id, b.stand.id, *tall)
        yield row.finding(
            space=view.space.id,
            subjects=(a.stand.id, b.stand.id),
            measured=Quantity(len(tall), "count"),
            working=(
                f"tall units on the run between {one} and {other}: {', '.join(parting) or 'none'}",
                *(f"{name} stands in the corner and is passed by" for name in names(view).of(*passed)),
            ),
            marks=tuple(Mark("measure", (p.front.a, p.front.b), names(view).one(p.station_id)) for p in counted),
        )
    if not judged:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("No two of the primary centres stand on one run.",),
        )


def _on_one_run(found: Layout, a: str, b: str) -> tuple[Spot, Spot] | None:
    for first in found.spots(a):
        for second in found.spots(b):
            if first.run is second.run:
                return (first, second) if first.start_mm <= second.start_mm else (second, first)
    return None


def _between(first: Spot, second: Spot) -> list[Piece]:
    """Return the pieces between two spots; on a run that closes on itself, the shorter way round."""
    run = first.run
    inside = [p for p in run.pieces if p.start_mm >= first.end_mm - 1.0 and p.end_mm <= second.start_mm + 1.0]
    if run.closed and run.length_mm - (second.end_mm - first.start_mm) < second.start_mm - first.end_mm:
        return [p for p in run.pieces if p.end_mm <= first.start_mm + 1.0 or p.start_mm >= second.end_mm - 1.0]
    return inside


def _is_tall(piece: Piece) -> bool:
    return piece.role in ("tall", "cold", "oven") and piece.height_mm > TALL_MM


@check(reads={*RUN_KINDS, *FLOOR_KINDS, "openings", "household"}, uses={"kitchen"})
def ways_through_triangle(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Measure how much of any shortest walk between two openings of the kitchen lies inside a work triangle.

    The figure is that of the walk that crosses most; pantry and closet doors lead nowhere else and make no way.
    """
    if not rules.has("K5"):
        return
    row = rules.row("K5")
    found = layout(view)
    together = cooks(found, view.household.cooks_together or 1)
    here = (view.space.id,)
    if not together:
        yield row.not_assessed(
            space=view.space.id, subjects=here, because="missing fact", needs=missing_centres(found, view.space.id)
        )
        return
    if not any(door.passage for door in view.doorways()):
        yield row.not_assessed(space=view.space.id, subjects=here, because="missing fact", needs=("openings",))
        return
    paths = ways(view)
    if not paths:
        yield row.not_assessed(
            space=view.space.id,
            subjects=here,
            because="does not apply",
            working=("The kitchen has fewer than two openings between which one can walk.",),
        )
        return
    for cook in together:
        shape = Polygon(cook.points)
        inside = [(through_length(way, shape), way) for way in paths]
        most, worst = max(inside, key=lambda one: round(one[0], 3))
        yield row.finding(
            space=view.space.id,
            subjects=tuple(centre.stand.id for centre in cook.centres),
            part=f"cook {cook.number}",
            measured=Quantity(most, "mm"),
            working=(
                f"shortest walks of a person {both(BODY_MM)} wide",
                *(f"{_from_to(view, way)}: {both(length)} inside the triangle" for length, way in inside),
            ),
            marks=(
                Mark("area", cook.points, f"cook {cook.number}"),
                Mark("path", worst.walk.points, _from_to(view, worst)),
            ),
        )


def _from_to(view: View, way: Way) -> str:
    return "from “{}” to “{}”".format(*names(view).of(way.a, way.b))
