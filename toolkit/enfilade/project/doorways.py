"""Openings as one side sees them: where they stand in that space's wall, and how their leaf turns."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import shapely

from enfilade.geometry.boxes import Segment
from enfilade.geometry.outlines import opposed
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.spaces import Opening, Space, Swing
from enfilade.project.standing import opening_segment

__all__ = ["PASSAGES", "Doorway", "Hinge", "doorways", "leaf_hinge", "near_to_far", "open_edges"]

PASSAGES = ("door", "cased opening", "sliding door", "pocket door")
"""Kinds of openings that people walk through."""

# What is left of a leaf's width when it stands open at a right angle: the guidelines print a 34 in
# door for 32 in clear (Kitchen guideline 1).
LEAF_LOSS_MM = 50.8


@dataclass(frozen=True)
class Hinge:
    """A leaf in plan: where it hangs, where its free edge is when shut, and which way it turns."""

    at: tuple[float, float]
    closed_end: tuple[float, float]
    clockwise: bool
    angle_deg: float


@dataclass(frozen=True)
class Doorway:
    """An opening, or the open side of a space, seen from one space.

    Attributes:
        id: The opening's id, or the open wall's.
        opening: The record; None for an open side.
        space: The space from which it is seen.
        wall: Its wall in that space.
        segment: Its width on that wall, left to right as seen from inside.
        beyond: The space on the other side; None outdoors or unknown.
        hinge: The leaf when it turns into this space.
    """

    id: str
    opening: Opening | None
    space: str
    wall: str
    segment: Segment
    beyond: str | None
    hinge: Hinge | None = None

    @property
    def passage(self) -> bool:
        """Tell whether people walk through it."""
        return self.opening is None or self.opening.kind in PASSAGES

    @property
    def clear_width_mm(self) -> float:
        """Return the recorded clear width, or what a hinged leaf of the recorded width leaves [mm]."""
        if self.opening is None:
            return self.segment.length_mm
        if self.opening.clear_width_mm is not None:
            return self.opening.clear_width_mm
        hinged = self.opening.kind == "door" and self.opening.swing != "none"
        return self.opening.width_mm - (LEAF_LOSS_MM if hinged else 0.0)


def doorways(
    openings: Iterable[Opening], spaces: Iterable[Space], lines: Mapping[str, Segment]
) -> dict[str, tuple[Doorway, ...]]:
    """Return what opens on each space, by its id: openings in the order of the record, then open sides."""
    spaces = tuple(spaces)
    owner = {wall.id: space.id for space in spaces for wall in space.walls}
    found: dict[str, list[Doorway]] = {space.id: [] for space in spaces}
    for opening in openings:
        near = opening_segment(opening, lines[opening.wall])
        other = opening.beyond if opening.beyond in lines else None
        here, there = owner[opening.wall], (owner[other] if other else None)
        far = near_to_far(near, lines[other]) if other else None
        found[here].append(Doorway(opening.id, opening, here, opening.wall, near, there, _hinge_near(opening, near)))
        if far is not None and other is not None and there is not None and there != here:
            found[there].append(Doorway(opening.id, opening, there, other, far, here, _hinge_far(opening, far)))
    neighbours = _Neighbours(spaces, lines)
    for space in spaces:
        for wall in space.walls:
            if wall.open:
                found[space.id].append(
                    Doorway(wall.id, None, space.id, wall.id, lines[wall.id], neighbours.of(space, lines[wall.id]))
                )
    return {space_id: tuple(doors) for space_id, doors in found.items()}


def open_edges(spaces: Iterable[Space], lines: Mapping[str, Segment]) -> dict[str, frozenset[str]]:
    """Return for each space the spaces that form one room with it, itself included, through open sides."""
    spaces = tuple(spaces)
    neighbours = _Neighbours(spaces, lines)
    joined: dict[str, set[str]] = {space.id: {space.id} for space in spaces}
    for space in spaces:
        for wall in space.walls:
            neighbour = neighbours.of(space, lines[wall.id]) if wall.open else None
            if neighbour is not None:
                whole = joined[space.id] | joined[neighbour]
                for member in whole:
                    joined[member] = whole
    return {space_id: frozenset(whole) for space_id, whole in joined.items()}


def leaf_hinge(front: Segment, side: str, angle_deg: float) -> Hinge:
    """Return the hinge of a leaf on a front, hung at its left or right end and turning outwards."""
    if side == "left":
        return Hinge(front.a, front.b, clockwise=True, angle_deg=angle_deg)
    return Hinge(front.b, front.a, clockwise=False, angle_deg=angle_deg)


def _hinge_near(opening: Opening, near: Segment) -> Hinge | None:
    swing = opening.swing
    if not isinstance(swing, Swing) or swing.into != "this side":
        return None
    return leaf_hinge(near, swing.hinge, swing.angle_deg)


def _hinge_far(opening: Opening, far: Segment) -> Hinge | None:
    swing = opening.swing
    if not isinstance(swing, Swing) or swing.into != "other side":
        return None
    # Left seen from the first side is right seen from here.
    return leaf_hinge(far, "right" if swing.hinge == "left" else "left", swing.angle_deg)


def near_to_far(near: Segment, line: Segment) -> Segment:
    """Return the same opening on the wall beyond, left to right as seen from the space beyond."""
    return Segment(line.at(line.place(near.b)[0]), line.at(line.place(near.a)[0]))


class _Neighbours:
    """Finds the space on the other side of an open side."""

    def __init__(self, spaces: Iterable[Space], lines: Mapping[str, Segment]) -> None:
        self._walls = [(space.id, lines[wall.id]) for space in spaces for wall in space.walls]
        self._tree = shapely.STRtree([shapely.LineString([line.a, line.b]) for _, line in self._walls])

    def of(self, space: Space, line: Segment) -> str | None:
        """Return the space whose side runs along `line`, facing the other way, for the longest stretch."""
        best, longest = None, TOLERANCE_MM
        near = self._tree.query(shapely.LineString([line.a, line.b]), predicate="dwithin", distance=TOLERANCE_MM)
        for index in sorted(near.tolist()):
            other, facing = self._walls[index]
            if other == space.id or not opposed(line, facing):
                continue
            (right, _), (left, _) = line.place(facing.a), line.place(facing.b)
            stretch = min(line.length_mm, right) - max(0.0, left)
            if stretch > longest:
                best, longest = other, stretch
        return best
