"""Schedules: the cabinets of a room in order, its openings, products and finishes, as rows of plain values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import shapely

from enfilade.drawings.numbering import CABINETS, cabinet_tags
from enfilade.drawings.part import Part
from enfilade.geometry.boxes import Segment
from enfilade.project.project import Project
from enfilade.project.spaces import Opening, Space, Swing
from enfilade.project.standing import Stand
from enfilade.project.storage import Storage
from enfilade.project.thing import Thing

__all__ = [
    "CABINETS",
    "CabinetRow",
    "FinishRow",
    "OpeningRow",
    "ProductRow",
    "cabinet_schedule",
    "cabinet_tags",
    "finish_schedule",
    "opening_schedule",
    "product_schedule",
]

_TOUCH_MM: Final = 25.0
"""A side nearer than this to a wall or a neighbour is not exposed (own choice)."""


@dataclass(frozen=True, slots=True)
class CabinetRow:
    """One cabinet. Sizes in [mm]; an empty text or None is unknown.

    Attributes:
        number: Letters of the room and a running number, as drawings bear it.
        hinge: `left`, `right`, `left and right`, or empty when nothing hinged is recorded.
        finished_ends: `left`, `right`, `left, right` or `none`.
        ends_from: `recorded`, or `worked out` from which sides stand free.
        fillers: Widths of the filler strips that stand against its sides.
    """

    number: str
    thing: str
    name: str
    kind: str
    width_mm: float
    depth_mm: float
    height_mm: float
    bottom_mm: float
    hinge: str
    leaves: str
    finished_ends: str
    ends_from: str
    fillers: str
    fillers_mm: tuple[float, ...]
    finish: str
    product: str
    state: str
    assumed: bool


@dataclass(frozen=True, slots=True)
class OpeningRow:
    """One opening. Sizes in [mm]."""

    opening: str
    name: str
    kind: str
    space: str
    to: str
    width_mm: float
    height_mm: float
    sill_mm: float
    swing: str
    state: str
    assumed: bool


@dataclass(frozen=True, slots=True)
class ProductRow:
    """A product and the things that it is."""

    product: str
    name: str
    maker: str
    things: tuple[str, ...]
    count: int


@dataclass(frozen=True, slots=True)
class FinishRow:
    """A finish and where it is used."""

    finish: str
    name: str
    material: str
    colour: str
    where: tuple[str, ...]


def cabinet_schedule(project: Project, space: str) -> tuple[CabinetRow, ...]:
    """Return the cabinets of a room in the order of their numbers; what is removed is left out.

    Raises:
        NotFound: The space does not exist.
    """
    part = Part(project, space, (), "proposed")
    tags = cabinet_tags(project, part.things, space)
    live = [stand for stand in part.things.values() if stand.thing.state != "removed"]
    tree = shapely.STRtree([stand.box.polygon for stand in live])
    order = {name: number for number, name in enumerate(tags)}
    rows = []
    for stand in sorted((one for one in live if one.id in tags), key=lambda one: order[one.id]):
        near = tree.query(stand.box.polygon, predicate="dwithin", distance=2 * _TOUCH_MM)
        rows.append(_cabinet(part, [live[i] for i in sorted(near.tolist())], stand, tags[stand.id]))
    return tuple(rows)


def _cabinet(part: Part, beside: Sequence[Stand], stand: Stand, tag: str) -> CabinetRow:
    thing = stand.thing
    ends, ends_from = _ends(part, beside, stand)
    fillers = tuple(_fillers(beside, stand))
    hinges = sorted({leaf.hinge for leaf in thing.leaves if leaf.kind == "hinged" and leaf.hinge})
    return CabinetRow(
        number=tag,
        thing=thing.id,
        name=thing.called,
        kind=thing.kind,
        width_mm=thing.width_mm,
        depth_mm=thing.depth_mm,
        height_mm=thing.top_mm - thing.bottom_mm,
        bottom_mm=thing.bottom_mm,
        hinge=" and ".join(hinges),
        leaves=_leaves(thing),
        finished_ends=ends,
        ends_from=ends_from,
        fillers=", ".join(side for side, _ in fillers),
        fillers_mm=tuple(width for _, width in fillers),
        finish=part.finishes[thing.finish].name if thing.finish in part.finishes else "",
        product=part.products[thing.product].name if thing.product in part.products else "",
        state=thing.state,
        assumed=thing.basis == "assumed",
    )


def _leaves(thing: Thing) -> str:
    """Return what opens: `2 hinged, 1 drawer`; `none`; empty when unknown."""
    if thing.opens == "none":
        return "none"
    counts: dict[str, int] = {}
    for leaf in thing.leaves:
        counts[leaf.kind] = counts.get(leaf.kind, 0) + 1
    return ", ".join(f"{count} {kind}" for kind, count in counts.items())


def _ends(part: Part, beside: Sequence[Stand], stand: Stand) -> tuple[str, str]:
    """Return the finished ends, and whether they are recorded or worked out."""
    thing = stand.thing
    recorded = thing.finished_ends if isinstance(thing, Storage) else None
    if recorded == "none":
        return "none", "recorded"
    if recorded is not None:
        return ", ".join(recorded) or "none", "recorded"
    exposed = [side for side in ("left", "right") if not _covered(part, beside, stand, side)]
    return ", ".join(exposed) or "none", "worked out"


def _covered(part: Part, beside: Sequence[Stand], stand: Stand, side: str) -> bool:
    """Tell whether a side stands against a wall, or against something at least as deep and as high."""
    edge: Segment = getattr(stand.box, side)
    walls = [part.lines[w.id] for w in part.spaces[0].walls if not w.open]
    for line in walls:
        if all(
            abs(line.place(p)[1]) <= _TOUCH_MM and -1 <= line.place(p)[0] <= line.length_mm + 1
            for p in (edge.a, edge.b)
        ):
            return True
    thing = stand.thing
    for other in beside:
        hides = other.thing.kind in CABINETS or other.thing.kind in (
            "refrigerator",
            "range",
            "dishwasher",
            "oven",
            "column",
        )
        if other.id == stand.id or not hides:
            continue
        if other.thing.bottom_mm > thing.bottom_mm + _TOUCH_MM or other.thing.top_mm < thing.top_mm - _TOUCH_MM:
            continue
        places = [edge.place(corner) for corner in other.box.corners]
        near = min(ahead for _, ahead in places)
        spans = min(at for at, _ in places) <= _TOUCH_MM and max(at for at, _ in places) >= edge.length_mm - _TOUCH_MM
        if -_TOUCH_MM <= near <= _TOUCH_MM and spans:
            return True
    return False


def _fillers(beside: Sequence[Stand], stand: Stand) -> Iterator[tuple[str, float]]:
    for side in ("left", "right"):
        edge: Segment = getattr(stand.box, side)
        for other in beside:
            if other.thing.kind == "filler":
                places = [edge.place(corner) for corner in other.box.corners]
                touches = any(-_TOUCH_MM <= at <= edge.length_mm + _TOUCH_MM for at, _ in places)
                overlaps = other.thing.bottom_mm < stand.thing.top_mm and other.thing.top_mm > stand.thing.bottom_mm
                if touches and overlaps and abs(min(ahead for _, ahead in places)) <= 2.0:
                    yield side, other.thing.width_mm


def opening_schedule(project: Project, space: str | None = None) -> tuple[OpeningRow, ...]:
    """Return the openings of a room, or of the house, in the order of the record; removed ones are left out."""
    owner = {wall.id: one for one in project.spaces for wall in one.walls}
    rows = []
    for opening in project.openings:
        here, there = owner.get(opening.wall), owner.get(opening.beyond or "")
        if opening.state == "removed" or (space is not None and space not in {s.id for s in (here, there) if s}):
            continue
        to = there.name if there else "outdoors" if opening.beyond == "none" else ""
        rows.append(
            OpeningRow(
                opening=opening.id,
                name=opening.name or opening.kind,
                kind=opening.kind,
                space=here.name if here else "",
                to=to,
                width_mm=opening.width_mm,
                height_mm=opening.height_mm,
                sill_mm=opening.sill_mm,
                swing=_swing(opening, here, there),
                state=opening.state,
                assumed=opening.basis == "assumed",
            )
        )
    return tuple(rows)


def _swing(opening: Opening, here: Space | None, there: Space | None) -> str:
    swing = opening.swing
    if swing == "none":
        return "none"
    if not isinstance(swing, Swing):
        return ""
    into = here if swing.into == "this side" else there
    return f"hinged {swing.hinge}, into {into.name if into else 'the other side'}"


def product_schedule(project: Project, space: str | None = None) -> tuple[ProductRow, ...]:
    """Return the products that stand in a room, or in the house, in the order of the record."""
    used: dict[str, list[str]] = {}
    for thing in project.things:
        if thing.product and thing.state != "removed" and space in (None, thing.space):
            used.setdefault(thing.product, []).append(thing.id)
    return tuple(
        ProductRow(product.id, product.name, product.maker, tuple(used[product.id]), len(used[product.id]))
        for product in project.products
        if product.id in used
    )


def finish_schedule(project: Project, space: str | None = None) -> tuple[FinishRow, ...]:
    """Return the finishes of a room, or of the house, each with where it is used, in the order of the record."""
    used: dict[str, list[str]] = {}

    def use(finish: str | None, where: str) -> None:
        if finish is not None and where not in used.setdefault(finish, []):
            used[finish].append(where)

    for one in project.spaces:
        if space in (None, one.id):
            prefix = "" if space else f"{one.name}: "
            use(one.floor_finish, f"{prefix}floor")
            use(one.ceiling_finish, f"{prefix}ceiling")
            for wall in one.walls:
                use(wall.finish, f"{prefix}{wall.name or 'walls'}")
    for thing in project.things:
        if thing.state != "removed" and space in (None, thing.space):
            use(thing.finish, thing.called)
    return tuple(
        FinishRow(finish.id, finish.name, finish.material, finish.colour or "", tuple(used[finish.id]))
        for finish in project.finishes
        if finish.id in used
    )
