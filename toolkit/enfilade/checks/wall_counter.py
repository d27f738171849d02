"""The wall line behind counters: pieces between what divides them, round the corners of the room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import shapely

from enfilade.checks.layout import Layout
from enfilade.checks.view import View
from enfilade.findings import Point
from enfilade.geometry.boxes import Segment, common_part
from enfilade.geometry.elevations import on_wall
from enfilade.geometry.fronts import Span
from enfilade.geometry.points import distance
from enfilade.lengths import TOLERANCE_MM, inches
from enfilade.project.standing import Stand
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.receptacles import counts_behind

__all__ = ["NEAR_WALL_MM", "Stretch", "WallPiece", "wall_pieces"]

NEAR_WALL_MM: Final = inches(6)
"""A counter or receptacle this near to a wall is at it (our own choice)."""
_JOIN_MM: Final = 25.0
"""Counters and wall ends that lie no further apart than this join: a scribe or a filler (our own choice)."""


@dataclass(frozen=True)
class Stretch:
    """Part of one wall with counter before it: between two places along the wall [mm]."""

    wall: str
    line: Segment
    start_mm: float
    end_mm: float

    @property
    def length_mm(self) -> float:
        """Return its length [mm]."""
        return self.end_mm - self.start_mm


@dataclass(frozen=True)
class WallPiece:
    """A piece of counter that counts as one: along one wall, or round corners of the room.

    Attributes:
        stretches: Left to right as seen from inside.
        counters: Ids of the counters along it, left to right.
        left, right: Id of the sink or cooking surface that ends it there, or empty.
        height_mm: Height of the counter at its left end.
    """

    stretches: tuple[Stretch, ...]
    counters: tuple[str, ...]
    left: str
    right: str
    height_mm: float

    @property
    def length_mm(self) -> float:
        """Return its length along the wall line [mm]."""
        return sum(stretch.length_mm for stretch in self.stretches)

    @property
    def subjects(self) -> tuple[str, ...]:
        """Return what names it: what ends it and the counters between, in order."""
        return tuple(filter(None, (self.left, *self.counters, self.right)))

    def place(self, point: Point, height_mm: float, above_mm: float) -> float | None:
        """Return how far along the piece a point in or at its wall lies [mm]; None when it does not serve it.

        Args:
            point: Of a receptacle, in plan.
            height_mm: Of its middle, above the floor.
            above_mm: How far above the counter it may be.
        """
        if not 0 <= height_mm - self.height_mm <= above_mm + TOLERANCE_MM:
            return None
        before, near = 0.0, list[tuple[float, float]]()
        for stretch in self.stretches:
            along, ahead = stretch.line.place(point)
            inside = stretch.start_mm - TOLERANCE_MM <= along <= stretch.end_mm + TOLERANCE_MM
            if inside and abs(ahead) <= NEAR_WALL_MM:
                near.append((abs(ahead), before + min(max(along - stretch.start_mm, 0.0), stretch.length_mm)))
            before += stretch.length_mm
        # In a corner two walls are near: it is in the nearer one.
        return min(near)[1] if near else None

    def path(self) -> tuple[Point, ...]:
        """Return its line in plan."""
        return tuple(p for s in self.stretches for p in (s.line.at(s.start_mm), s.line.at(s.end_mm)))


@dataclass(frozen=True)
class _Part:
    """A stretch with what ends it."""

    stretch: Stretch
    left: str
    right: str


def wall_pieces(view: View, found: Layout, rules: Yardstick) -> list[WallPiece]:
    """Return the pieces of counter along the walls of a space.

    A sink or cooking surface divides the line unless enough counter lies behind it to count; what
    stands on the floor divides it by not being counter. Islands and peninsulas have no wall line.
    """
    tops = [s for s in found.stands.values() if s.thing.kind == "counter" or s.id in found.bare or _carries(s, found)]
    dividers = [s for s in found.stands.values() if s.thing.kind in ("sink", "cooktop")]
    parts = [p for wall, line in view.walls.items() for p in _on_one_wall(wall, line, tops, dividers, rules)]
    return [_piece(chain, tops) for chain in _chains(parts)]


def _carries(stand: Stand, found: Layout) -> bool:
    return stand.thing.kind == "dishwasher" and not found.covered(stand)


def _on_one_wall(
    wall: str, line: Segment, tops: Sequence[Stand], dividers: Sequence[Stand], rules: Yardstick
) -> Iterator[_Part]:
    spans: list[Span] = []
    ends: list[Span] = []
    for top in tops:
        shape = on_wall(line, top.box, top.thing.bottom_mm, top.thing.top_mm)
        if shape.facing == "front" and abs(shape.distance_mm) <= NEAR_WALL_MM:
            spans.append((max(0.0, shape.left_mm), min(line.length_mm, shape.right_mm)))
        elif shape.distance_mm <= NEAR_WALL_MM:
            ends += _shadow(line, top)
    # The end of another counter belongs to this wall's line only where a counter of this wall goes on from it.
    spans += [e for e in ends if any(a - _JOIN_MM <= e[1] and e[0] <= b + _JOIN_MM for a, b in spans)]
    cuts = sorted(_cuts(line, dividers, rules))
    for start, end in _joined(spans):
        here, left = start, ""
        for a, b, divider in cuts:
            if b <= here or a >= end:
                continue
            if a - here > TOLERANCE_MM:
                yield _Part(Stretch(wall, line, here, a), left, divider)
            here, left = b, divider
        if end - here > TOLERANCE_MM:
            yield _Part(Stretch(wall, line, here, end), left, "")


def _shadow(line: Segment, top: Stand) -> list[Span]:
    """Return the stretch of a wall that the end of a counter stands at."""
    parts = shapely.get_parts(common_part(line.strip(NEAR_WALL_MM), top.box.polygon))
    places = [[line.place((x, y))[0] for x, y in shapely.get_coordinates(part).tolist()] for part in parts]
    return [(min(along), max(along)) for along in places if along]


def _joined(spans: Iterable[Span]) -> list[Span]:
    joined: list[Span] = []
    for start, end in sorted(span for span in spans if span[1] - span[0] > TOLERANCE_MM):
        if joined and start - joined[-1][1] <= _JOIN_MM:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return joined


def _cuts(line: Segment, dividers: Iterable[Stand], rules: Yardstick) -> Iterator[tuple[float, float, str]]:
    for stand in dividers:
        shape = on_wall(line, stand.box, stand.thing.bottom_mm, stand.thing.top_mm)
        corner = shape.facing == "angled"
        if shape.facing != "front" and not corner:
            continue
        if shape.distance_mm <= TOLERANCE_MM or not counts_behind(shape.distance_mm, corner=corner, by=rules):
            yield shape.left_mm, shape.right_mm, stand.id


def _chains(parts: Sequence[_Part]) -> list[list[_Part]]:
    """Return the parts put together where one ends in the corner of the room in which the next begins."""
    following: dict[int, int] = {}
    for i, a in enumerate(parts):
        for j, b in enumerate(parts):
            at_end = a.stretch.line.length_mm - a.stretch.end_mm <= _JOIN_MM and b.stretch.start_mm <= _JOIN_MM
            same = distance(a.stretch.line.b, b.stretch.line.a) <= _JOIN_MM
            if i != j and at_end and same and not a.right and not b.left:
                following[i] = j
    starts = [i for i in range(len(parts)) if i not in following.values()]
    chains, used = [], set()
    for start in [*starts, *range(len(parts))]:
        chain, here = [], start
        while here not in used:
            used.add(here)
            chain.append(parts[here])
            if here not in following:
                break
            here = following[here]
        if chain:
            chains.append(chain)
    return chains


def _piece(chain: Sequence[_Part], tops: Sequence[Stand]) -> WallPiece:
    along: list[str] = []
    height_mm = 0.0
    for part in chain:
        line, here = part.stretch.line, []
        for top in tops:
            shape = on_wall(line, top.box, top.thing.bottom_mm, top.thing.top_mm)
            shared = min(shape.right_mm, part.stretch.end_mm) - max(shape.left_mm, part.stretch.start_mm)
            if shape.facing == "front" and abs(shape.distance_mm) <= NEAR_WALL_MM and shared > TOLERANCE_MM:
                here.append((shape.left_mm, top.id, top.thing.top_mm))
        here.sort()
        along += [name for _, name, _ in here if name not in along]
        height_mm = height_mm or (here[0][2] if here else 0.0)
    return WallPiece(tuple(part.stretch for part in chain), tuple(along), chain[0].left, chain[-1].right, height_mm)
