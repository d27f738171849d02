"""Where each thing and opening really stands: places resolved into house coordinates."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from enfilade.errors import NotFound, OutOfRange
from enfilade.geometry.boxes import Box, Segment
from enfilade.geometry.outlines import walls
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.spaces import Opening, Space
from enfilade.project.thing import Leaf, Thing

__all__ = ["Stand", "box_of", "leaf_front", "opening_segment", "side_of", "stands", "wall_segments"]


@dataclass(frozen=True)
class Stand:
    """A thing with the footprint that its place gives it."""

    thing: Thing
    box: Box

    @property
    def id(self) -> str:
        """Return the thing's id."""
        return self.thing.id


def wall_segments(spaces: Iterable[Space]) -> dict[str, Segment]:
    """Return every wall as a segment from its left end to its right, as seen from inside."""
    return {
        wall.id: segment for space in spaces for wall, segment in zip(space.walls, walls(space.outline), strict=True)
    }


def stands(things: Iterable[Thing], walls_by_id: Mapping[str, Segment]) -> dict[str, Stand]:
    """Return every thing with its footprint, by id.

    Raises:
        NotFound: A place names a wall or host that is not there.
        OutOfRange: Things are set in one another in a ring.
    """
    by_id = {thing.id: thing for thing in things}
    done: dict[str, Stand] = {}

    def resolve(thing: Thing) -> Stand:
        # A loop, not recursion: a long chain of hosts must not exhaust the stack.
        chain = [thing]
        while isinstance(chain[-1].place, SetIn) and chain[-1].place.host not in done:
            host = by_id.get(chain[-1].place.host)
            if host is None:
                raise NotFound(f"host {chain[-1].place.host!r} of {chain[-1].id!r} is not in the project")
            if len(chain) > len(by_id):
                raise OutOfRange(f"{thing.id!r} is set in itself, through {host.id!r}", expected="a host that stands")
            chain.append(host)
        for link in reversed(chain):
            done[link.id] = Stand(link, box_of(link, walls_by_id, done))
        return done[thing.id]

    return {name: done[name] if name in done else resolve(thing) for name, thing in by_id.items()}


def box_of(thing: Thing, walls_by_id: Mapping[str, Segment], hosts: Mapping[str, Stand]) -> Box:
    """Return the footprint of one thing, its host's being known already."""
    place = thing.place
    if isinstance(place, Free):
        return Box(place.x_mm, place.y_mm, thing.width_mm, thing.depth_mm, place.turn_deg)
    if isinstance(place, AgainstWall):
        line = walls_by_id.get(place.wall)
        if line is None:
            raise NotFound(f"wall {place.wall!r} of {thing.id!r} is not in the project")
        left = place.offset_mm if place.from_end == "left" else line.length_mm - place.offset_mm - thing.width_mm
        return _along(line, left + thing.width_mm / 2, place.gap_mm + thing.depth_mm / 2, thing)
    line = side_of(hosts[place.host].box, place.side)
    return _along(line, place.offset_mm + thing.width_mm / 2, -(place.setback_mm + thing.depth_mm / 2), thing)


def _along(line: Segment, along_mm: float, out_mm: float, thing: Thing) -> Box:
    (x, y), (dx, dy), (nx, ny) = line.a, line.direction, line.outward
    return Box(
        x + dx * along_mm + nx * out_mm,
        y + dy * along_mm + ny * out_mm,
        thing.width_mm,
        thing.depth_mm,
        math.degrees(math.atan2(dy, dx)),
    )


def side_of(box: Box, side: str) -> Segment:
    """Return one side of a footprint (`front`, `back`, `left`, `right`), left to right as seen facing it."""
    segment: Segment = getattr(box, side)
    return segment


def leaf_front(stand: Stand, leaf: Leaf) -> Segment:
    """Return the closed face of a door or drawer, left to right as seen facing it."""
    side = side_of(stand.box, leaf.side)
    width = leaf.width_mm if leaf.width_mm is not None else side.length_mm - leaf.from_left_mm
    return Segment(side.at(leaf.from_left_mm), side.at(leaf.from_left_mm + width))


def opening_segment(opening: Opening, wall: Segment) -> Segment:
    """Return the opening on its first wall, left to right as seen from inside that wall's space."""
    left = opening.offset_mm if opening.from_end == "left" else wall.length_mm - opening.offset_mm - opening.width_mm
    return Segment(wall.at(left), wall.at(left + opening.width_mm))
