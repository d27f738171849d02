"""Counters and appliances put in order: runs, left to right, round inside corners."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from shapely.geometry.base import BaseGeometry

from enfilade.errors import NotFound
from enfilade.geometry.boxes import Box, Segment
from enfilade.geometry.fronts import Span, free_front, open_spans, standing_before
from enfilade.geometry.points import angle_between_deg, distance, dot, minus

__all__ = ["Piece", "Role", "Run", "Station", "counter_runs"]

Role = Literal["counter", "sink", "cooking", "cold", "oven", "tall", "other"]

_STRAIGHT_DEG: Final = 1.0
"""Fronts that turn by no more than this go on straight (our own choice, above what a survey is off by)."""
_SHARPEST_DEG: Final = 135.0
"""Fronts that turn inwards by more than this face each other and are no corner of one run (our own choice)."""
_SET_IN_TURN_DEG: Final = 50.0
"""What is set in a top at more than this to its front is worked at from another side (our own choice: a sink
set across a corner stands at 45 degrees)."""


@dataclass(frozen=True)
class Station:
    """Something with a front at which one works.

    Attributes:
        id: Its name; several sides of one island share it and differ in `front`.
        role: What it is; only `counter` offers counter frontage.
        box: Footprint.
        front: The edge from which it is used.
        bottom_mm, top_mm: Height range above the floor.
        host: The counter in which it is set (a sink, a cooktop); None when it stands by itself. What merely
            stands under a counter that goes on above it is not a station.
    """

    id: str
    role: Role
    box: Box
    front: Segment
    bottom_mm: float
    top_mm: float
    host: str | None = None


@dataclass(frozen=True)
class Piece:
    """One unbroken stretch of one station's front in a run.

    Attributes:
        station_id, role: Of the station.
        front: The stretch, left to right.
        start_mm, end_mm: Distance along the run from its left end, gaps between fronts not counted.
        depth_mm: Of the station, square to this front.
        height_mm: Top of the station above the floor.
        corner_before, corner_after: Whether the run turns an inside corner at its left or right end.
    """

    station_id: str
    role: Role
    front: Segment
    start_mm: float
    end_mm: float
    depth_mm: float
    height_mm: float
    corner_before: bool = False
    corner_after: bool = False

    @property
    def length_mm(self) -> float:
        """Return the frontage [mm]."""
        return self.end_mm - self.start_mm


@dataclass(frozen=True)
class Run:
    """Pieces that follow each other, left to right as seen facing them.

    Attributes:
        pieces: In order; at least one.
        closed: The last is followed by the first: fronts all the way round.
    """

    pieces: tuple[Piece, ...]
    closed: bool = False

    @property
    def length_mm(self) -> float:
        """Return the whole frontage [mm]."""
        return self.pieces[-1].end_mm

    def find(self, station_id: str) -> tuple[int, ...]:
        """Return the places of a station's pieces in `pieces`; none when it is not in this run."""
        return tuple(i for i, piece in enumerate(self.pieces) if piece.station_id == station_id)


def counter_runs(
    stations: Sequence[Station], obstacles: Iterable[BaseGeometry] = (), *, join_mm: float = 25.0
) -> tuple[Run, ...]:
    """Put the fronts of a room in order.

    Args:
        stations: What stands in the room, and what is set in its counters.
        obstacles: Other footprints that take a front away (a pier, a wall).
        join_mm: Fronts side by side, or the two ends at an inside corner, still follow each other across
            a gap up to this wide; the same distance before a front is searched for what stands there.
    Returns:
        Runs, in the order of their first station. A peninsula's end and an island's corners break a run:
        fronts follow each other only in line, or where the room has an inside corner.
    Raises:
        NotFound: A host is not among the stations.
    """
    pieces = list(_pieces(stations, list(obstacles), join_mm))
    following = _links(pieces, join_mm)
    followers = {after for after, _ in following.values()}
    starts = [i for i in range(len(pieces)) if i not in followers]
    chains = [(_chain(start, following), False) for start in starts]
    used = {i for chain, _ in chains for i in chain}
    for i in range(len(pieces)):
        if i not in used:
            chain = _chain(i, following)
            used.update(chain)
            chains.append((chain, True))
    order = {id(station): number for number, station in enumerate(stations)}
    first = sorted(chains, key=lambda found: min(order[id(pieces[i][0])] for i in found[0]))
    return tuple(_run([pieces[i] for i in chain], closed, chain, following) for chain, closed in first)


_Raw = tuple[Station, Segment, float]


def _pieces(stations: Sequence[Station], obstacles: list[BaseGeometry], probe_mm: float) -> Iterator[_Raw]:
    standing = [s for s in stations if s.host is None]
    names = {s.id for s in standing}
    for station in stations:
        if station.host is not None and station.host not in names:
            raise NotFound(f"{station.id} is set in {station.host!r}", expected="a counter that stands in the room")
    shapes = [*(s.box.polygon for s in standing), *obstacles]
    owners = [*(s.id for s in standing), *(None for _ in obstacles)]
    before = standing_before([s.front for s in standing], shapes, probe_mm)
    for station, near in zip(standing, before, strict=True):
        others = [shapes[j] for j in near if owners[j] != station.id]
        set_in = [s for s in stations if s.host == station.id and _serves(s, station.front)]
        for free in free_front(station.front, others, probe_mm):
            yield from _cut(station, free, set_in)


def _serves(set_in: Station, front: Segment) -> bool:
    return abs(angle_between_deg(set_in.front.outward, front.outward)) <= _SET_IN_TURN_DEG


def _cut(host: Station, free: Segment, set_in: Sequence[Station]) -> Iterator[_Raw]:
    """Yield the host's front between what is set in it, and those stretches themselves."""
    depth_mm = _depth(host.box, free)
    cuts: list[tuple[Span, Station]] = []
    for station in set_in:
        places = [free.place(corner)[0] for corner in station.box.corners]
        span = (max(0.0, min(places)), min(free.length_mm, max(places)))
        if span[1] - span[0] >= 1.0:
            cuts.append((span, station))
    for a, b in open_spans((0.0, free.length_mm), [span for span, _ in cuts], 1.0):
        yield host, free.part(a, b), depth_mm
    for (a, b), station in cuts:
        yield station, free.part(a, b), _depth(station.box, free)


def _depth(box: Box, front: Segment) -> float:
    ahead = [front.place(corner)[1] for corner in box.corners]
    return max(ahead) - min(ahead)


def _links(pieces: list[_Raw], join_mm: float) -> dict[int, tuple[int, bool]]:
    """Return, for each piece that is followed, by which, and whether round a corner; nearest ends first."""
    found = []
    for i, j in _candidates([front for _, front, _ in pieces], math.sqrt(2) * join_mm):
        a, b = pieces[i], pieces[j]
        corner = _follows(a, b, join_mm)
        if corner is not None:
            found.append((distance(a[1].b, b[1].a), i, j, corner))
    following: dict[int, tuple[int, bool]] = {}
    followed: set[int] = set()
    for _, i, j, corner in sorted(found):
        if i not in following and j not in followed:
            following[i] = (j, corner)
            followed.add(j)
    return following


def _candidates(fronts: list[Segment], gap_mm: float) -> list[tuple[int, int]]:
    """Return which front may be followed by which: the other one begins about where it ends, seen along it."""
    if not fronts:
        return []
    starts, ends = np.array([front.a for front in fronts]), np.array([front.b for front in fronts])
    along = ((starts[None] - ends[:, None]) * np.array([front.direction for front in fronts])[:, None]).sum(axis=2)
    near = np.abs(along) <= gap_mm
    np.fill_diagonal(near, False)
    return [(i, j) for i, j in np.argwhere(near).tolist()]


def _follows(a: _Raw, b: _Raw, join_mm: float) -> bool | None:
    """Tell how `b` follows `a`: False in line, True round an inside corner, None not at all."""
    front, other = a[1], b[1]
    turn_deg = angle_between_deg(front.direction, other.direction)
    if abs(turn_deg) <= _STRAIGHT_DEG:
        gap = minus(other.a, front.b)
        ahead_mm = dot(gap, front.outward)
        overlap_mm = min(0.0, ahead_mm) - max(-a[2], ahead_mm - b[2])
        return False if abs(dot(gap, front.direction)) <= join_mm and overlap_mm > 1.0 else None
    # An inside corner turns clockwise; noise of a joint cut at both ends may be the join along each front.
    inside = -_SHARPEST_DEG <= turn_deg < 0
    return True if inside and distance(front.b, other.a) <= math.sqrt(2) * join_mm else None


def _chain(start: int, following: dict[int, tuple[int, bool]]) -> list[int]:
    chain = [start]
    while chain[-1] in following and following[chain[-1]][0] != start:
        chain.append(following[chain[-1]][0])
    return chain


def _run(raw: list[_Raw], closed: bool, chain: list[int], following: dict[int, tuple[int, bool]]) -> Run:
    after = [following[number][1] if number in following else False for number in chain]
    before = [after[-1] if closed else False, *after[:-1]]
    pieces, start_mm = [], 0.0
    for (station, front, depth_mm), *corners in zip(raw, before, after, strict=True):
        end_mm = start_mm + front.length_mm
        pieces.append(Piece(station.id, station.role, front, start_mm, end_mm, depth_mm, station.top_mm, *corners))
        start_mm = end_mm
    return Run(tuple(pieces), closed)
