"""Receptacles at counters: protection, spacing along walls, islands, heights. Planning figures only."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from enfilade.checks.beside import AT_WALL_MM, counted, middle_mm, point_mark
from enfilade.checks.layout import COUNTERS, RUN_KINDS, layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.checks.wall_counter import WallPiece, wall_pieces
from enfilade.findings import Finding, Mark, Requirement
from enfilade.lengths import inches
from enfilade.project.services import Receptacle
from enfilade.project.standing import Stand
from enfilade.project.surfaces import Island, Peninsula
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.receptacles import island_receptacles, wall_counter_receptacles

__all__ = ["ground_fault", "island_spacing", "serving_counter", "wall_spacing"]

_AT_ISLAND_MM: Final = inches(3)
"""A receptacle this near to an island is on it (our own choice)."""
_OPTION: Final = "receptacle_edition"


def serving_counter(view: View) -> list[tuple[Stand, Receptacle]]:
    """Return the receptacles of a space that serve a counter or an island."""
    found = [(stand, stand.thing) for stand in view.things("receptacle") if isinstance(stand.thing, Receptacle)]
    return [(stand, thing) for stand, thing in found if thing.serves in ("counter", "island")]


def _unrecorded(view: View) -> tuple[str, ...]:
    """Return what is missing when a space holds not one receptacle: they are drawn last, so none means not yet."""
    return () if view.things("receptacle") else (f"the receptacles of {view.space.id}",)


@check(reads={"receptacle", *COUNTERS}, uses={"kitchen"})
def ground_fault(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count the receptacles that serve a counter without ground-fault protection."""
    if not rules.has("K30", "unprotected"):
        return
    row, here = rules.row("K30", "unprotected"), (view.space.id,)
    found = serving_counter(view)
    bare = [stand for stand, thing in found if thing.ground_fault_protected is False]
    unknown = [stand for stand, thing in found if thing.ground_fault_protected is None]
    missing = _unrecorded(view) if view.things(*COUNTERS) else ()
    if not found and not missing:
        yield row.not_assessed(
            space=view.space.id, subjects=here, because="does not apply", working=("no counter is recorded here",)
        )
    elif not found or (unknown and not bare):
        needs = missing or tuple(f"{stand.id}.ground_fault_protected" for stand in unknown)
        yield row.not_assessed(
            space=view.space.id, subjects=here, because="missing fact", needs=needs, marks=point_mark(unknown)
        )
    else:
        lines = [f"at the counters: {counted(len(found), 'receptacle')}, {len(bare)} without protection"]
        if unknown:
            listed = names(view).listed(stand.id for stand in unknown)
            lines.append(f"of {len(unknown)} more it is not recorded: {listed}")
        yield row.finding(
            space=view.space.id,
            subjects=here,
            measured=Quantity(len(bare), "count"),
            working=lines,
            marks=point_mark(bare),
            assumed=tuple(name for s, thing in found for name in thing.assumed("ground_fault_protected")),
        )


@check(reads={"receptacle", *RUN_KINDS}, uses={"kitchen"})
def wall_spacing(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count the receptacles along each piece of wall counter, and measure the furthest point from one.

    A receptacle serves a piece when it is within 6 in of its wall line and no more above the
    counter than the code's height. A piece goes on round an inside corner of the room.
    """
    if not all(rules.has("IE1", part) for part in ("reach", "count", "least width")):
        return
    pieces = wall_pieces(view, layout(view), rules)
    missing = _unrecorded(view)
    if not pieces:
        row = rules.row("IE1", "count")
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("no counter stands along a wall here",),
        )
    above_mm = rules.row("IE4", "above").value_mm if rules.has("IE4", "above") else AT_WALL_MM
    for piece in pieces:
        yield from _one_piece(view, rules, piece, missing, above_mm)


def _one_piece(
    view: View, rules: Yardstick, piece: WallPiece, missing: tuple[str, ...], above_mm: float
) -> Iterator[Finding]:
    count, reach = rules.row("IE1", "count"), rules.row("IE1", "reach")
    asked = wall_counter_receptacles(piece.length_mm, by=rules)
    working = [f"counter along the wall {both(piece.length_mm)}", *asked.working]
    path = Mark("path", piece.path())
    assumed = tuple(f"{name}.counter" for name in piece.counters if name in layout(view).bare)
    if not asked.count or missing:
        yield count.not_assessed(
            space=view.space.id,
            subjects=piece.subjects,
            because="missing fact" if asked.count else "does not apply",
            needs=missing if asked.count else (),
            working=working,
            marks=(path,),
        )
        return
    places: list[float] = []
    serving: list[Stand] = []
    for stand, _ in serving_counter(view):
        place = piece.place((stand.box.x, stand.box.y), middle_mm(stand), above_mm)
        if place is not None:
            places.append(place)
            serving.append(stand)
    yield count.finding(
        space=view.space.id,
        subjects=piece.subjects,
        measured=Quantity(len(places), "count"),
        required=Requirement("at least", asked.count, "count"),
        working=working,
        marks=(path, *point_mark(serving)),
        assumed=assumed,
    )
    if places:
        furthest_mm = _furthest(sorted(places), piece.length_mm)
        yield reach.finding(
            space=view.space.id,
            subjects=piece.subjects,
            measured=Quantity(furthest_mm, "mm"),
            working=(*working[:1], f"the point furthest from a receptacle: {both(furthest_mm)}"),
            marks=(path, *point_mark(serving)),
            assumed=assumed,
        )


def _furthest(places: Sequence[float], length_mm: float) -> float:
    """Return how far the point of a line that is furthest from any of the places lies from the nearest [mm]."""
    between = [(b - a) / 2 for a, b in pairwise(places)]
    return max(places[0], length_mm - places[-1], *between)


@check(reads={"receptacle", "island", "peninsula"}, uses={"kitchen"}, options={_OPTION})
def island_spacing(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count the receptacles at each island and peninsula against the chosen edition of the electrical code."""
    edition = str(rules.option(_OPTION))
    name = {"2017": ("IE2", ""), "2020": ("IE3", ""), "2023": ("IE3", "provision")}[edition]
    if not rules.has(*name):
        return
    row = rules.row(*name)
    islands = [s for s in view.things("island", "peninsula") if isinstance(s.thing, Island | Peninsula)]
    if not islands:
        yield row.not_assessed(
            space=view.space.id,
            subjects=(view.space.id,),
            because="does not apply",
            working=("no island or peninsula is recorded here",),
        )
    for island in islands:
        asked = island_receptacles(island.box.width_mm, island.box.depth_mm, edition=edition, by=rules)
        at = [stand for stand, _ in serving_counter(view) if _at(stand, island)]
        missing = _unrecorded(view)
        if asked.provision and not at:
            missing = (f"whether wiring for a receptacle is provided at {island.id}",)
        needed = bool(asked.count or asked.provision)
        if not needed or missing:
            yield row.not_assessed(
                space=view.space.id,
                subjects=(island.id,),
                because="missing fact" if needed else "does not apply",
                needs=missing if needed else (),
                working=asked.working,
            )
            continue
        yield row.finding(
            space=view.space.id,
            subjects=(island.id,),
            measured=Quantity(len(at), "count"),
            required=Requirement("at least", max(1, asked.count), "count"),
            working=(*asked.working, f"{len(at)} at it"),
            marks=point_mark(at),
            also=() if edition != "2023" else ("A receptacle that is there is taken as wired for.",),
        )


def _at(stand: Stand, island: Stand) -> bool:
    return bool(stand.box.polygon.distance(island.box.polygon) <= _AT_ISLAND_MM)
