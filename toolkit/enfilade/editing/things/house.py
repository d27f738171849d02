"""The declared house with everything where it really stands, worked out once for several questions."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Final

import shapely
from shapely import Polygon

from enfilade.errors import NotFound
from enfilade.geometry.boxes import Box, Segment, ellipse
from enfilade.geometry.outlines import polygon_of
from enfilade.geometry.points import Point, distance
from enfilade.project.doorways import Doorway, doorways, open_edges
from enfilade.project.placing import SetIn
from enfilade.project.project import Project
from enfilade.project.spaces import Opening, Space, Wall
from enfilade.project.standing import Stand, stands, wall_segments
from enfilade.project.surfaces import Table
from enfilade.project.thing import Thing

__all__ = ["House", "all_ids", "opening_of"]

_EDGE_MM: Final = 100.0
"""A middle so far outside a room still belongs to it, as a receptacle in the thickness of its wall does."""


class House:
    """A project resolved into house coordinates. Each part is worked out when it is first asked for."""

    def __init__(self, project: Project) -> None:
        self.project = project

    @cached_property
    def lines(self) -> dict[str, Segment]:
        """Every wall from its left end to its right, as seen from inside."""
        return wall_segments(self.project.spaces)

    @cached_property
    def stands(self) -> dict[str, Stand]:
        """Every thing with its footprint."""
        return stands(self.project.things, self.lines)

    @cached_property
    def floors(self) -> dict[str, Polygon]:
        """Every space's floor."""
        return {space.id: polygon_of(space.outline) for space in self.project.spaces}

    @cached_property
    def rooms(self) -> dict[str, frozenset[str]]:
        """For each space the spaces that form one room with it, itself included."""
        return open_edges(self.project.spaces, self.lines)

    @cached_property
    def doors(self) -> dict[str, tuple[Doorway, ...]]:
        """What opens on each space; what was removed is left out."""
        here = [opening for opening in self.project.openings if opening.state != "removed"]
        return doorways(here, self.project.spaces, self.lines)

    def owner(self, wall: str) -> Space:
        """Return the space that a wall belongs to.

        Raises:
            NotFound: No such wall.
        """
        found = self.project.walls_by_id.get(wall)
        if found is None:
            raise NotFound("this wall is not in the project any more")
        return found[0]

    def line(self, wall: str) -> Segment:
        """Return a wall as a segment, or raise NotFound."""
        self.owner(wall)
        return self.lines[wall]

    def wall(self, id: str) -> Wall:
        """Return the record of a wall, or raise NotFound."""
        self.owner(id)
        return self.project.walls_by_id[id][2]

    def box(self, id: str) -> Box:
        """Return the footprint of a thing, or raise NotFound."""
        self.project.thing(id)
        return self.stands[id].box

    def footprint(self, id: str) -> Polygon:
        """Return the plan of a thing; a round table is an ellipse."""
        stand = self.stands[id]
        round_top = isinstance(stand.thing, Table) and stand.thing.round
        return ellipse(stand.box) if round_top else stand.box.polygon

    def space_at(self, point: Point, first: str | None = None) -> str | None:
        """Return the space in which a point lies; `first` where it lies in several, or at the edge of it."""
        where = shapely.Point(point)
        order = sorted(self.floors, key=lambda one: one != first)
        inside = next((id for id in order if self.floors[id].covers(where)), None)
        if inside is not None:
            return inside
        near = [(self.floors[id].distance(where), id != first, id) for id in order]
        found = min(near, default=None)
        return found[2] if found is not None and found[0] <= _EDGE_MM else None

    def set_in(self, id: str) -> list[Thing]:
        """Return what is set in a thing, and in that, hosts before what they carry."""
        found: list[Thing] = []
        hosts = [id]
        while hosts:
            host = hosts.pop(0)
            inner = [t for t in self.project.things if isinstance(t.place, SetIn) and t.place.host == host]
            found += inner
            hosts += [thing.id for thing in inner]
        return found

    def things_in(self, *spaces: str) -> Iterator[Stand]:
        """Yield what stands in some spaces, without what was removed, in the order of the record."""
        for thing in self.project.things:
            if thing.space in spaces and thing.state != "removed":
                yield self.stands[thing.id]

    def host_side_of(self, place: SetIn) -> Segment:
        """Return the side of the host that something is set in, left to right as seen facing it."""
        segment: Segment = getattr(self.stands[place.host].box, place.side)
        return segment

    def nearest_wall(self, space: str, point: Point) -> str | None:
        """Return the wall of a space that is nearest to a point; open sides do not count."""
        walls = [wall.id for wall in self.project.space(space).walls if not wall.open]
        return min(walls, key=lambda one: _from_line(self.lines[one], point), default=None)


def _from_line(line: Segment, point: Point) -> float:
    along, ahead = line.place(point)
    beyond = max(0.0, -along, along - line.length_mm)
    return distance((0.0, 0.0), (beyond, ahead))


def all_ids(project: Project) -> set[str]:
    """Return the ids of all that may be named: things, openings, spaces and walls."""
    records = (*project.things, *project.openings, *project.spaces)
    return {record.id for record in records} | project.walls_by_id.keys()


def opening_of(project: Project, id: str) -> Opening:
    """Return an opening by id, or raise NotFound."""
    found = next((opening for opening in project.openings if opening.id == id), None)
    if found is None:
        raise NotFound("this is not in the project any more")
    return found
