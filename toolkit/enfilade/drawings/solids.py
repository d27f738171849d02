"""The house in three dimensions: wall faces with their openings, floors, ceilings, and what stands in the rooms."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import Final

import shapely

from enfilade.checks.view import House
from enfilade.drawings.perspective_pieces import Piece, pieces
from enfilade.geometry.boxes import Box, Segment
from enfilade.geometry.outlines import polygon_of
from enfilade.geometry.points import Point
from enfilade.geometry.solid import Hole, Panel, Prism
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.doorways import Doorway, near_to_far
from enfilade.project.spaces import DroppedCeiling, Opening, Space
from enfilade.project.standing import Stand
from enfilade.project.thing import Thing

__all__ = ["CEILING_MM", "OUTER_WALL_MM", "Body", "HouseSolids", "Reveal", "RoomSolids", "WallFace", "house_solids"]

CEILING_MM: Final = 2438.4
"""Height at which a ceiling is drawn that is recorded nowhere near: 8 ft (common practice, no source)."""

OUTER_WALL_MM: Final = 200.0
"""Depth at which the reveal of an opening is drawn when neither the wall's thickness nor a room beyond is recorded
(own choice, for drawing only)."""

_NO_VIEW_BLOCKED: Final = frozenset({"rug", "receptacle", "switch", "window treatment"})
"""Kinds that hide nothing: flat on the floor or the wall, or drawn aside from the glass."""

_SMALL_LIGHT_MM: Final = 260.0
"""A light hides nothing whose longest side on the plan is less than this (own choice)."""
_THIN_LIGHT_MM: Final = 130.0
"""Nor does one that is no thicker than this in any one direction, on the plan or upright (own choice)."""


@dataclass(frozen=True)
class WallFace:
    """One face of a standing wall, or what stands over an open side; its panel bears the wall's id."""

    panel: Panel
    space: str
    colour: str | None
    """Recorded colour of its finish, as `#rrggbb`."""


@dataclass(frozen=True)
class Reveal:
    """The thickness of a wall at an opening, seen from one space.

    Attributes:
        door: The opening as this space has it.
        near: Its width on this space's wall, left to right as seen from inside [mm].
        far: The same on the other face of the wall, left and right kept [mm].
        bottom_mm, top_mm: Sill and head above the floor [mm].
        outdoors: Nothing of the house lies beyond.
        colour: Of the wall that it is in.
    """

    door: Doorway
    near: Segment
    far: Segment
    bottom_mm: float
    top_mm: float
    outdoors: bool
    colour: str | None

    @property
    def opening(self) -> Opening:
        """Return the record."""
        assert self.door.opening is not None
        return self.door.opening

    @property
    def glass(self) -> bool:
        """Tell whether glass stands in it."""
        return self.opening.kind == "window"


@dataclass(frozen=True)
class Body:
    """What stands in a room.

    Attributes:
        id: The thing's, or the dropped ceiling's.
        space: Where it stands.
        stand: The thing and its footprint; None for a part of the ceiling.
        pieces: The upright bodies that it is made of; each prism bears the body's id.
        colour: Recorded colour of its finish.
        blocks: It hides what is behind it.
    """

    id: str
    space: str
    stand: Stand | None
    pieces: tuple[Piece, ...]
    colour: str | None
    blocks: bool

    @property
    def prisms(self) -> tuple[Prism, ...]:
        """Return its shapes."""
        return tuple(piece.prism for piece in self.pieces)


@dataclass(frozen=True)
class RoomSolids:
    """One space.

    Attributes:
        space: Its record.
        ceiling_mm: Height of the ceiling, recorded or taken for drawing [mm].
        walls: Faces of its standing walls, and of what stands over its open sides.
        reveals: Openings in those faces.
        bodies: What stands, hangs or is set in it, and parts of the ceiling that hang lower.
        floor_colour, ceiling_colour: Recorded colours.
    """

    space: Space
    ceiling_mm: float
    walls: tuple[WallFace, ...]
    reveals: tuple[Reveal, ...]
    bodies: tuple[Body, ...]
    floor_colour: str | None
    ceiling_colour: str | None


@dataclass(frozen=True, eq=False)
class HouseSolids:
    """A house in three dimensions. Two are equal when they are the same object, so that drawings can be remembered."""

    house: House
    rooms: Mapping[str, RoomSolids] = field(repr=False)

    @cached_property
    def panels(self) -> tuple[Panel, ...]:
        """Every wall face, with the holes that one looks through: passages stand open, windows are glass."""
        return tuple(wall.panel for room in self.rooms.values() for wall in room.walls)

    @cached_property
    def prisms(self) -> tuple[Prism, ...]:
        """What hides a view; a prism bears the id of its thing, which may have several.

        Rugs, outlets, small lights, and shades and curtains are not among them, nor the thin legs of furniture.
        """
        return tuple(
            piece.prism
            for room in self.rooms.values()
            for body in room.bodies
            if body.blocks
            for piece in body.pieces
            if piece.blocks
        )

    @cached_property
    def bodies(self) -> dict[str, Body]:
        """Everything that stands, by id."""
        return {body.id: body for room in self.rooms.values() for body in room.bodies}

    def space_at(self, point: Point) -> str | None:
        """Return the space over whose floor a point lies, None when it lies over none."""
        here = shapely.Point(point)
        return next((name for name, room in self.rooms.items() if polygon_of(room.space.outline).covers(here)), None)


@lru_cache(maxsize=2)
def house_solids(house: House) -> HouseSolids:
    """Return what a house looks like in three dimensions: one worked out house, in which nothing removed stands.

    Those of the last two houses are remembered.
    """
    colours = {finish.id: finish.colour for finish in house.project.finishes}
    heights = _ceilings(house)
    return HouseSolids(house, {name: _room(house, space, heights, colours) for name, space in house.spaces.items()})


def _ceilings(house: House) -> dict[str, float]:
    """Return the height of every ceiling: recorded, else that of a neighbour, else the usual one [mm]."""
    found: dict[str, float] = {}
    for name, space in house.spaces.items():
        near = [door.beyond for door in house.doorways[name] if door.beyond is not None]
        known = [height for other in near if (height := house.spaces[other].ceiling_mm) is not None]
        tops = [s.thing.top_mm for s in house.by_space[name]] + [
            door.opening.sill_mm + door.opening.height_mm for door in house.doorways[name] if door.opening is not None
        ]
        assumed = max([known[0] if known else CEILING_MM, *tops])
        found[name] = space.ceiling_mm if space.ceiling_mm is not None else assumed
    return found


def _room(house: House, space: Space, heights: Mapping[str, float], colours: Mapping[str, str | None]) -> RoomSolids:
    height = heights[space.id]
    doors = house.doorways[space.id]
    finish = {wall.id: colours.get(wall.finish or "") for wall in space.walls}
    faces = []
    for wall in space.walls:
        line = house.lines[wall.id]
        if not wall.open:
            holes = tuple(_hole(line, door, height) for door in doors if door.wall == wall.id and _looked_through(door))
            faces.append(WallFace(Panel(wall.id, line.a, line.b, 0.0, height, holes), space.id, finish[wall.id]))
    faces += _over_open_sides(house, space, heights, colours)
    reveals = tuple(
        _reveal(house, door, height, finish.get(door.wall))
        for door in doors
        if door.opening is not None and _looked_through(door)
    )
    hung = [_dropped(space, drop, height, colours) for drop in space.dropped if drop.height_mm < height]
    return RoomSolids(
        space=space,
        ceiling_mm=height,
        walls=tuple(faces),
        reveals=reveals,
        bodies=(*_bodies(house, space, height, colours), *hung),
        floor_colour=colours.get(space.floor_finish or ""),
        ceiling_colour=colours.get(space.ceiling_finish or ""),
    )


def _looked_through(door: Doorway) -> bool:
    return door.opening is not None and door.opening.kind != "skylight"


def _hole(line: Segment, door: Doorway, height: float) -> Hole:
    assert door.opening is not None
    (left, _), (right, _) = line.place(door.segment.a), line.place(door.segment.b)
    low, high = door.opening.sill_mm, door.opening.sill_mm + door.opening.height_mm
    left, right = max(0.0, min(left, right)), min(line.length_mm, max(left, right))
    return Hole(left, max(left, right), min(low, height), min(high, height))


def _over_open_sides(
    house: House, space: Space, heights: Mapping[str, float], colours: Mapping[str, str | None]
) -> Iterator[WallFace]:
    """Yield the face over an open side where the room beyond has a lower ceiling."""
    for door in house.doorways[space.id]:
        if door.opening is not None or door.beyond is None:
            continue
        low, high = heights[door.beyond], heights[space.id]
        if low < high - TOLERANCE_MM:
            line = door.segment
            yield WallFace(Panel(door.wall, line.a, line.b, low, high), space.id, _beside(space, door.wall, colours))


def _beside(space: Space, wall: str, colours: Mapping[str, str | None]) -> str | None:
    """Return the colour of the standing wall next to an open side."""
    ids = [one.id for one in space.walls]
    at = ids.index(wall)
    around = [space.walls[(at + step) % len(ids)] for step in (1, -1)]
    return next((colours.get(one.finish or "") for one in around if not one.open and one.finish), None)


def _reveal(house: House, door: Doorway, height: float, colour: str | None) -> Reveal:
    opening = door.opening
    assert opening is not None
    other = opening.beyond if door.space == _owner(house, opening.wall) else opening.wall
    line = house.lines.get(other) if other is not None else None
    beyond = door.beyond is not None and line is not None
    if beyond and line is not None:
        back = near_to_far(door.segment, line)
        far = Segment(back.b, back.a)  # The far room sees left and right the other way about.
    else:
        far = door.segment.moved(-(opening.depth_mm or OUTER_WALL_MM))
    low, high = opening.sill_mm, min(opening.sill_mm + opening.height_mm, height)
    return Reveal(door, door.segment, far, min(low, high), high, not beyond, colour)


def _owner(house: House, wall: str) -> str:
    return house.project.walls_by_id[wall][0].id


def _bodies(house: House, space: Space, height: float, colours: Mapping[str, str | None]) -> Iterator[Body]:
    under: dict[str, list[Box]] = {}
    for stand in house.by_space[space.id]:
        host = getattr(stand.thing.place, "host", None)
        if host is not None and stand.thing.bottom_mm < 1 and stand.thing.kind != "seat":
            under.setdefault(host, []).append(stand.box)
    for stand in house.by_space[space.id]:
        thing = stand.thing
        made = pieces(stand, height, under.get(thing.id, ()))
        yield Body(thing.id, space.id, stand, made, colours.get(thing.finish or ""), blocks=_hides(thing))


def _hides(thing: Thing) -> bool:
    if thing.kind == "light":
        small = max(thing.width_mm, thing.depth_mm) < _SMALL_LIGHT_MM
        return not small and min(thing.depth_mm, thing.width_mm, thing.top_mm - thing.bottom_mm) > _THIN_LIGHT_MM
    return thing.kind not in _NO_VIEW_BLOCKED and thing.top_mm - thing.bottom_mm > TOLERANCE_MM


def _dropped(space: Space, drop: DroppedCeiling, height: float, colours: Mapping[str, str | None]) -> Body:
    shape = Prism(drop.id, tuple((x, y) for x, y in drop.outline), drop.height_mm, height)
    colour = colours.get(space.ceiling_finish or "")
    return Body(drop.id, space.id, None, (Piece(shape, "ceiling"),), colour, blocks=True)
