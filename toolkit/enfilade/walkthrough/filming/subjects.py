"""What a shot shows, as points on the faces that can be seen."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from enfilade.checks.shown import Names
from enfilade.geometry.outlines import polygon_of
from enfilade.geometry.points import Point
from enfilade.geometry.sightlines import Floats
from enfilade.listing import joined
from enfilade.project.doorways import Doorway
from enfilade.project.standing import Stand
from enfilade.project.surfaces import Seat
from enfilade.project.thing import Thing
from enfilade.walkthrough.filming.faces import LOOKED_UNDER_MM, Faces, faces_of, thinned, upright
from enfilade.walkthrough.filming.ground import Ground

__all__ = ["Subject", "Subjects"]

_COVERED_MM: Final = 15.0
"""What stands nearer than this before a face covers it (own choice)."""
_MOST_POINTS: Final = 240
_FRONTLESS: Final = {"table", "rug", "light", "column", "receptacle", "switch"}


@dataclass(frozen=True, eq=False)
class Subject:
    """What is framed.

    Attributes:
        ids: Its things, openings and walls, in the order of the record.
        spaces: Where they stand, the first one's first.
        name: What people call it.
        points: On its faces that nothing covers, x, y, height in rows [mm].
        normals: Unit vector out of the face at each point.
        weights: Area that each point stands for [mm2].
        owner: Which of `ids` each point belongs to.
        front: Direction in which it faces on the plan; None when it has no front, or several.
        flat_mm: Height of the top of what is looked down on, such as a counter, a table or a rug; None for the rest.
    """

    ids: tuple[str, ...]
    spaces: tuple[str, ...]
    name: str
    points: Floats
    normals: Floats
    weights: Floats
    owner: np.ndarray
    front: Point | None
    flat_mm: float | None = None

    @property
    def centre(self) -> Floats:
        """Return the middle of the box round it [mm]."""
        middle: Floats = (self.points.min(axis=0) + self.points.max(axis=0)) / 2
        return middle

    def _worth(self, face: Floats, normal: Floats) -> float:
        """Return how large a face is; one to the front counts twice, and one that is looked at from below half."""
        spans = sorted(np.ptp(face, axis=0).tolist())
        to_front = self.front is not None and float(normal[:2] @ np.array(self.front)) > 0.9
        return float(spans[1] * spans[2]) * (2.0 if to_front else 0.5 if normal[2] < -0.9 else 1.0)

    def middle(self, part: float) -> Subject:
        """Return the middle of the side that it shows: of its largest face, the front before others.

        Args:
            part: Share of the width and height of that side; of several things the first is taken.
        """
        if part >= 1:
            return self
        first = self.owner == self.owner[0]
        points, normals = self.points[first], self.normals[first]
        # Face by face: all points of one plane that look the same way.
        depth = np.round((points * normals).sum(axis=1))
        planes = np.unique(np.column_stack([np.round(normals, 3), depth]), axis=0, return_inverse=True)[1].ravel()
        worth = [self._worth(points[planes == n], normals[planes == n][0]) for n in range(planes.max() + 1)]
        plane = planes == int(np.argmax(worth))
        face = points[plane]
        centre = (face.min(axis=0) + face.max(axis=0)) / 2
        return Subject(
            self.ids[:1], self.spaces, self.name, centre + (face - centre) * part, normals[plane],
            self.weights[first][plane], np.zeros(int(plane.sum()), dtype=int), self.front, self.flat_mm,
        )  # fmt: skip


class Subjects:
    """Finds subjects in a house, each thing's faces once.

    Args:
        ground: The house.
        names: What people call everything, by id.
        dense: How much closer points stand than for planning; more are needed to judge than to look.
    """

    def __init__(self, ground: Ground, names: Names, *, dense: float = 1.0) -> None:
        self.ground, self.names, self.dense = ground, names, dense
        self._faces: dict[str, Faces] = {}
        self._known: dict[tuple[str, ...], Subject | None] = {}
        self._openings: dict[str, Doorway] = {}
        for doors in ground.house.doorways.values():
            for door in doors:
                self._openings.setdefault(door.id, door)
        self._owner = {wall.id: space.id for space in ground.house.spaces.values() for wall in space.walls}
        self._floors = shapely.union_all([polygon_of(space.outline) for space in ground.house.spaces.values()])
        shapely.prepare(self._floors)

    def of(self, ids: Iterable[str], space: str) -> Subject | None:
        """Return the subject that ids make up, as seen from a room; None when none of them stands in the house."""
        known = tuple(dict.fromkeys(id for id in ids if self._space(id, space) is not None))
        key = (space, *known)
        if key not in self._known:
            self._known[key] = self._made(known, space) if known else None
        return self._known[key]

    def _made(self, ids: Sequence[str], space: str) -> Subject | None:
        found = {id: faces for id in ids if len((faces := self._seen(id, space))[0])}
        if not found:
            return None
        most = max(12, int(_MOST_POINTS * self.dense**2) // len(found))
        kept = [thinned(faces, most) for faces in found.values()]
        points, normals, weights = (np.concatenate(each) for each in zip(*kept, strict=True))
        fronts = np.array([front for id in found if (front := self._front(id, space)) is not None])
        mean = fronts.sum(axis=0) / len(found) if len(fronts) else np.zeros(2)
        size = float(np.hypot(*mean))
        return Subject(
            ids=tuple(found),
            spaces=tuple(dict.fromkeys(str(self._space(id, space)) for id in found)),
            name=joined(self.names.of(*found), 4),
            points=points,
            normals=normals,
            weights=weights,
            owner=np.repeat(np.arange(len(kept)), [len(faces[0]) for faces in kept]),
            front=(float(mean[0] / size), float(mean[1] / size)) if size > 0.5 else None,
            flat_mm=self._flat(tuple(found)),
        )

    def _flat(self, ids: Sequence[str]) -> float | None:
        """Return the height of the highest top when each of several things is larger from above than from its sides."""
        stands = [self.ground.house.standing.get(id) for id in ids]
        known = [stand for stand in stands if stand is not None]
        if len(known) < len(ids):
            return None
        deep = [stand.thing.depth_mm for stand in known]
        high = [stand.thing.top_mm - stand.thing.bottom_mm for stand in known]
        wide = [stand.thing.width_mm for stand in known]
        flat = all(d * w > h * max(d, w) for d, w, h in zip(deep, wide, high, strict=True))
        return max(stand.thing.top_mm for stand in known) if flat and max(high) < LOOKED_UNDER_MM else None

    def _space(self, id: str, seen_from: str) -> str | None:
        """Return where a thing, opening or wall stands; an opening in the room from which it is seen, if it can be."""
        if id in self.ground.house.standing:
            return self.ground.house.standing[id].thing.space
        if id in self._openings:
            room = self.ground.room(seen_from)
            here = [s for s in room if any(door.id == id for door in self.ground.house.doorways[s])]
            return here[0] if here else self._openings[id].space
        return self._owner.get(id)

    def _door(self, id: str, space: str) -> Doorway:
        where = self._space(id, space)
        return next(door for door in self.ground.house.doorways[str(where)] if door.id == id)

    def _front(self, id: str, space: str) -> Point | None:
        if id in self.ground.house.standing:
            stand = self.ground.house.standing[id]
            return stand.box.outward if _has_front(stand.thing) else None
        if id in self._openings:
            return self._door(id, space).segment.outward
        return self.ground.house.lines[id].outward

    def _seen(self, id: str, space: str) -> Faces:
        key = f"{self._space(id, space)}/{id}"
        if key not in self._faces:
            self._faces[key] = self._found(id, space)
        return self._faces[key]

    def _found(self, id: str, space: str) -> Faces:
        if id in self.ground.house.standing:
            return self._of_thing(self.ground.house.standing[id])
        step = 300.0 / self.dense
        if id in self._openings:
            door = self._door(id, space)
            low = door.opening.sill_mm if door.opening else 0.0
            high = low + door.opening.height_mm if door.opening else self.ground.solids.rooms[door.space].ceiling_mm
            return upright(door.segment, low, high, step)[:3]
        ceiling = self.ground.solids.rooms[self._owner[id]].ceiling_mm
        points, normals, weights, inner = upright(self.ground.house.lines[id], 0.0, ceiling, step)
        open_ = self._uncovered(inner, normals, self._owner[id])
        return points[open_], normals[open_], weights[open_]

    def _of_thing(self, stand: Stand) -> Faces:
        body = self.ground.solids.bodies[stand.id]
        shapes = [piece.prism for piece in body.pieces if piece.blocks] or list(body.prisms)
        faces = [faces_of(shape, self.dense) for shape in shapes]
        points, normals, weights, inner = (np.concatenate(each) for each in zip(*faces, strict=True))
        open_ = self._uncovered(inner, normals, body.space)
        if open_.any():
            return points[open_], normals[open_], weights[open_]
        # Sunk in another thing: it shows as its outline on top of that.
        top = normals[:, 2] > 0.9
        raised = points[top].copy()
        raised[:, 2] = max(self._top_over(stand, body.space), stand.thing.top_mm)
        return raised, normals[top], weights[top]

    def _top_over(self, stand: Stand, space: str) -> float:
        middle = shapely.Point(stand.box.x, stand.box.y)
        tops = [
            prism.top_mm
            for prism in self.ground.in_the_way([space]).prisms
            if prism.bottom_mm <= stand.thing.top_mm and shapely.Polygon(prism.footprint).covers(middle)
        ]
        return max(tops, default=0.0)

    def _uncovered(self, points: Floats, normals: Floats, space: str) -> np.ndarray:
        """Tell at which points nothing stands close before the face: no body, and no wall."""
        ahead = points + normals * _COVERED_MM
        clear = self.ground.in_the_way([space]).sight(points, ahead).clear
        return clear & np.asarray(shapely.intersects_xy(self._floors, ahead[:, 0], ahead[:, 1])) & (ahead[:, 2] > 0)


def _has_front(thing: Thing) -> bool:
    """Tell whether a thing is looked at from one side: chairs and stools are not, though they have a front."""
    return thing.kind not in _FRONTLESS and not (isinstance(thing, Seat) and thing.what in ("chair", "stool"))
