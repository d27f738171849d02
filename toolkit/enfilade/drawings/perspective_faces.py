"""The faces of a house, ready to be looked at: rooms with their openings, things with what is drawn on them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final, Literal

import numpy as np
import numpy.typing as npt
import shapely

from enfilade.drawings.perspective_marks import (
    Mark,
    Sheet,
    front_marks,
    glazing_marks,
    leaf_marks,
    lid_marks,
    side_marks,
)
from enfilade.drawings.perspective_pieces import Piece
from enfilade.drawings.solids import Body, HouseSolids, Reveal, RoomSolids
from enfilade.geometry.camera import Vector
from enfilade.geometry.hidden_surfaces import Face, Surfaces
from enfilade.geometry.outlines import counter_clockwise, is_convex
from enfilade.geometry.points import Point, turned, unit
from enfilade.geometry.solid import Prism
from enfilade.project.project import Project

__all__ = ["Model", "Skin", "model_of"]

_PANE: Final = 0.6
"""How far into the thickness of the wall a window stands, as a share (own choice)."""
_LEAF_MM: Final = 40.0
_UP, _DOWN = (0.0, 0.0, 1.0), (0.0, 0.0, -1.0)

Kind = Literal["room", "thing", "outdoors"]


@dataclass(frozen=True, eq=False)
class Skin:
    """A face, and how it is drawn.

    Attributes:
        face: Its shape.
        body: Id of the thing, wall, opening or space that it belongs to.
        kind: Part of the room itself, of a thing in it, or what closes an opening to the outdoors.
        group: No line is drawn between faces of one group.
        colour: Recorded colour.
        marks: What is drawn on it.
    """

    face: Face
    body: str
    kind: Kind
    group: tuple[object, ...]
    colour: str | None = None
    marks: tuple[Mark, ...] = ()


class Model:
    """All faces of a house, made ready once.

    Attributes:
        skins: Every face.
        surfaces: The same, ready to be looked at.
        prisms: The shapes of every thing, with its id, for telling whether the eye is in one.
        leaves: The open leaves of doors, with the id of the opening.
    """

    def __init__(self, solids: HouseSolids) -> None:
        self.skins = tuple(_skins(solids))
        self.surfaces = Surfaces([skin.face for skin in self.skins])
        self.prisms = [(body.id, prism) for body in solids.bodies.values() for prism in body.prisms]
        reveals = [reveal for room in solids.rooms.values() for reveal in room.reveals]
        self.leaves = [(reveal.door.id, leaf) for reveal in reveals if (leaf := _leaf(reveal)) is not None]
        self.normals = self.surfaces.normals
        self.faces: dict[str, list[int]] = {}
        for number, skin in enumerate(self.skins):
            self.faces.setdefault(skin.body, []).append(number)

    def of(self, bodies: Iterable[str]) -> npt.NDArray[np.bool_]:
        """Tell of every face whether it is one of some bodies'."""
        found = np.zeros(len(self.skins), dtype=np.bool_)
        for body in bodies:
            found[self.faces.get(body, [])] = True
        return found

    @cached_property
    def footprints(self) -> npt.NDArray[np.object_]:
        """Return the outlines on the plan of all prisms, then of all leaves."""
        return np.array([shapely.Polygon(prism.footprint) for _, prism in (*self.prisms, *self.leaves)], dtype=object)


@lru_cache(maxsize=2)
def model_of(solids: HouseSolids) -> Model:
    """Return the faces of a house; those of the last two houses are remembered."""
    return Model(solids)


def _skins(solids: HouseSolids) -> Iterator[Skin]:
    numbers = iter(range(10**9))
    project = solids.house.project
    for room in solids.rooms.values():
        yield from _shell(solids, room)
        for reveal in room.reveals:
            yield from _opening(reveal, room, numbers)
        for body in room.bodies:
            yield from _body(body, project, numbers)


def _shell(solids: HouseSolids, room: RoomSolids) -> Iterator[Skin]:
    name, height = room.space.id, room.ceiling_mm
    whole = min(solids.house.rooms[name])
    ring = counter_clockwise(room.space.outline)
    yield Skin(Face(_flat(ring, 0.0)), name, "room", ("floor", whole, room.floor_colour), room.floor_colour)
    yield Skin(
        Face(_flat(ring[::-1], height)),
        name,
        "room",
        ("ceiling", whole, round(height), room.ceiling_colour),
        room.ceiling_colour,
    )
    for wall in room.walls:
        p = wall.panel
        a, b = p.a, p.b
        ring3 = ((*a, p.bottom_mm), (*b, p.bottom_mm), (*b, p.top_mm), (*a, p.top_mm))
        dx, dy = (b[0] - a[0]) / p.length_mm, (b[1] - a[1]) / p.length_mm
        holes = []
        for hole in p.holes:
            if hole.to_mm - hole.from_mm > 1 and hole.top_mm - hole.bottom_mm > 1:
                ends = [(a[0] + dx * x, a[1] + dy * x) for x in (hole.from_mm, hole.to_mm)]
                (c, d), (low, high) = ends, (hole.bottom_mm, hole.top_mm)
                holes.append(((*c, low), (*d, low), (*d, high), (*c, high)))
        # Walls in one plane, with one finish, run on into each other.
        plane = ("wall", whole, round(dx, 4), round(dy, 4), round(a[0] * dy - a[1] * dx), wall.colour)
        yield Skin(Face(ring3, tuple(holes)), p.id, "room", plane, wall.colour)


def _opening(reveal: Reveal, room: RoomSolids, numbers: Iterator[int]) -> Iterator[Skin]:
    near, far, low, high = reveal.near, reveal.far, reveal.bottom_mm, reveal.top_mm
    if high - low < 1:
        return
    id, colour = reveal.door.id, reveal.colour
    right = near.direction
    sides = (
        ((near.a, far.a), (right[0], right[1], 0.0), "left"),
        ((near.b, far.b), (-right[0], -right[1], 0.0), "right"),
    )
    for (p, q), facing, name in sides:
        yield _quad(((*p, low), (*q, low), (*q, high), (*p, high)), facing, id, ("reveal", id, name), colour)
    corners = (near.a, near.b, far.b, far.a)
    floor = room.floor_colour if low < 1 else colour
    yield _quad(tuple((*p, low) for p in corners), _UP, id, ("reveal", id, "sill"), floor)
    yield _quad(tuple((*p, high) for p in corners), _DOWN, id, ("reveal", id, "head"), colour)
    yield from _filled_opening(reveal)
    leaf = _leaf(reveal)
    if leaf is not None:
        yield from _leaf_skins(leaf, id, next(numbers))


def _filled_opening(reveal: Reveal) -> Iterator[Skin]:
    """Yield what stands in an opening: glass and its frame, or the closed leaf of a door that leads outdoors."""
    opening, id = reveal.opening, reveal.door.id
    share = _PANE if opening.kind == "window" else 0.4 if opening.kind != "cased opening" else 1.0
    a, b = (_between(p, q, share) for p, q in ((reveal.near.a, reveal.far.a), (reveal.near.b, reveal.far.b)))
    if math.dist(a, b) < 1:
        return
    low, high = reveal.bottom_mm, reveal.top_mm
    ring = ((*a, low), (*b, low), (*b, high), (*a, high))
    sheet = _sheet(a, b, low, high)
    if reveal.outdoors:
        glazed = opening.glazing is not None and opening.glazing != "none"
        marks: Iterable[Mark] = ()
        if opening.kind == "window" or (glazed and opening.kind in ("sliding door", "pocket door")):
            marks = glazing_marks(sheet, sliding=opening.kind != "window")
        elif opening.kind in ("door", "sliding door", "pocket door"):
            hinge = getattr(opening.swing, "hinge", "left")
            marks = leaf_marks(sheet, glazed=glazed, handle="left" if hinge == "right" else "right")
        yield Skin(Face(ring), id, "outdoors", ("pane", id), None, tuple(marks))
    elif opening.kind == "window":
        edge = min(55.0, sheet.width_mm / 8, sheet.height_mm / 8)
        w, h = sheet.width_mm, sheet.height_mm
        hole = tuple(
            sheet.at(x, y) for x, y in ((edge, edge), (w - edge, edge), (w - edge, h - edge), (edge, h - edge))
        )
        yield Skin(Face(ring, (hole,)), id, "outdoors", ("pane", id), None)


def _leaf(reveal: Reveal) -> Prism | None:
    """Return the open leaf of a door between rooms that turns into this one."""
    hinge = reveal.door.hinge
    if hinge is None or reveal.outdoors or reveal.top_mm - reveal.bottom_mm < 1:
        return None
    (x, y), (cx, cy) = hinge.at, hinge.closed_end
    sense = -1.0 if hinge.clockwise else 1.0
    dx, dy = turned((cx - x, cy - y), sense * hinge.angle_deg)
    # Open leaves stand beside the passage, and before the wall where they turn all the way.
    tx, ty = turned(unit((dx, dy)), sense * (90.0 if hinge.angle_deg <= 135 else -90.0))
    tx, ty = tx * _LEAF_MM, ty * _LEAF_MM
    ring = ((x, y), (x + dx, y + dy), (x + dx + tx, y + dy + ty), (x + tx, y + ty))
    return Prism(reveal.door.id, ring, reveal.bottom_mm + 8, reveal.top_mm)


def _leaf_skins(leaf: Prism, id: str, solid: int) -> Iterator[Skin]:
    ring = counter_clockwise(leaf.footprint)
    for n, (p, q) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True)):
        sheet = _sheet(p, q, leaf.bottom_mm, leaf.top_mm)
        marks: tuple[Mark, ...] = ()
        if sheet.width_mm > 2 * _LEAF_MM:
            hung_left = math.dist(p, leaf.footprint[0]) <= _LEAF_MM + 1
            marks = tuple(leaf_marks(sheet, handle="right" if hung_left else "left"))
        yield Skin(Face(_upright(p, q, leaf), solid=solid), id, "thing", ("leaf", id, n), None, marks)
    yield Skin(Face(_flat(ring, leaf.top_mm), solid=solid), id, "thing", ("leaf", id, "top"), None)


def _body(body: Body, project: Project, numbers: Iterator[int]) -> Iterator[Skin]:
    order = 0
    link = body.stand.thing if body.stand is not None else None
    while link is not None and hasattr(link.place, "host") and order < 50:
        order, link = order + 1, project.things_by_id.get(link.place.host)
    for number, piece in enumerate(body.pieces):
        yield from _piece(body, piece, number, order, next(numbers))


def _piece(body: Body, piece: Piece, number: int, order: int, solid: int) -> Iterator[Skin]:
    prism, stand = piece.prism, body.stand
    if prism.top_mm - prism.bottom_mm < 0.5:
        return
    ring = counter_clockwise(prism.footprint)
    solid = solid if is_convex(ring) else -1
    kind: Kind = "thing" if stand is not None else "room"
    for n, (p, q) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True)):
        if math.dist(p, q) < 0.5:
            continue
        marks: tuple[Mark, ...] = ()
        if stand is not None and not piece.smooth:
            sheet = _sheet(p, q, prism.bottom_mm, prism.top_mm)
            if piece.role == "front" and n == 0:
                marks = tuple(front_marks(stand, sheet, prism.bottom_mm))
            elif n in (0, 2):
                marks = tuple(side_marks(piece.role, sheet))
        group = (body.id, number, "round" if piece.smooth else n)
        yield Skin(Face(_upright(p, q, prism), order=order, solid=solid), body.id, kind, group, body.colour, marks)
    if piece.lids:
        lid: tuple[Mark, ...] = ()
        if stand is not None:
            lid = tuple(lid_marks(stand.thing, piece.role, _lid_sheet(ring, piece, prism.top_mm)))
        top = Face(_flat(ring, prism.top_mm), order=order, solid=solid)
        yield Skin(top, body.id, kind, (body.id, number, "top"), body.colour, lid)
        if prism.bottom_mm > 1:
            under = Face(_flat(ring[::-1], prism.bottom_mm), order=order, solid=solid)
            yield Skin(under, body.id, kind, (body.id, number, "under"), body.colour)


def _lid_sheet(ring: tuple[Point, ...], piece: Piece, height: float) -> Sheet:
    if not piece.smooth:
        a, b, d = ring[0], ring[1], ring[-1]
        right, back = unit((b[0] - a[0], b[1] - a[1])), unit((d[0] - a[0], d[1] - a[1]))
        return Sheet((*a, height), (*right, 0.0), (*back, 0.0), _UP, math.dist(a, b), math.dist(a, d))
    xs, ys = zip(*ring, strict=True)
    x0, y0, x1, y1 = min(xs), min(ys), max(xs), max(ys)
    return Sheet((x0, y0, height), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), _UP, x1 - x0, y1 - y0)


def _sheet(p: Point, q: Point, low: float, high: float) -> Sheet:
    dx, dy = unit((q[0] - p[0], q[1] - p[1]))
    return Sheet((*p, low), (dx, dy, 0.0), _UP, (dy, -dx, 0.0), math.dist(p, q), high - low)


def _upright(p: Point, q: Point, prism: Prism) -> tuple[Vector, ...]:
    return ((*p, prism.bottom_mm), (*q, prism.bottom_mm), (*q, prism.top_mm), (*p, prism.top_mm))


def _flat(ring: Iterable[Point], height: float) -> tuple[Vector, ...]:
    return tuple((x, y, height) for x, y in ring)


def _between(p: Point, q: Point, share: float) -> Point:
    return (p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share)


def _quad(ring: tuple[Vector, ...], facing: Vector, body: str, group: tuple[object, ...], colour: str | None) -> Skin:
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = ring[0], ring[1], ring[2]
    p, q = (bx - ax, by - ay, bz - az), (cx - ax, cy - ay, cz - az)
    normal = (p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0])
    ahead = sum(n * f for n, f in zip(normal, facing, strict=True))
    turned_ = ring if ahead >= 0 else ring[::-1]
    return Skin(Face(turned_), body, "room", group, colour)
