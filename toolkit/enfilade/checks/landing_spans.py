"""Stretches of a counter's edge: what of it is usable, from which edge on, and how far it lies across an aisle."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from shapely.geometry.base import BaseGeometry

from enfilade.checks.shown import both
from enfilade.geometry.boxes import Segment
from enfilade.geometry.counters import Side, Stretch, straight_counter
from enfilade.geometry.fronts import Span, free_front
from enfilade.geometry.runs import Piece, Run
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.standing import Stand

__all__ = [
    "STANDS_ON_MM",
    "along",
    "away",
    "from_edge",
    "gap_to",
    "joined_with",
    "round_corner",
    "spans_behind",
    "unwrapped",
    "usable_spans",
]

STANDS_ON_MM: Final = 50.0
"""A microwave or garage whose bottom is this near a counter top stands on it (our own choice)."""


def usable_spans(
    pieces: Sequence[Piece], depth_mm: float, heights_mm: Span, blocks: Iterable[Stand]
) -> tuple[list[Span], tuple[str, ...]]:
    """Return the stretches along the run whose clear depth and height serve, joined, and why the rest does not."""
    spans: list[Span] = []
    limits: list[str] = []
    offset, reached = 0.0, 0.0
    for piece in pieces:
        if reached > piece.start_mm + 1.0:
            offset += reached  # Past the start of a closed run, places count on.
        reached = piece.end_mm
        if piece.depth_mm < depth_mm - TOLERANCE_MM:
            limits.append(f"{both(piece.length_mm)} of it is only {both(piece.depth_mm)} deep")
            continue
        low, high = heights_mm
        if not low - TOLERANCE_MM <= piece.height_mm <= high + TOLERANCE_MM:
            limits.append(f"{both(piece.length_mm)} of it stands {both(piece.height_mm)} high")
            continue
        on_it = [block for block in blocks if abs(block.thing.bottom_mm - piece.height_mm) <= STANDS_ON_MM]
        open_parts = spans_behind(piece.front, depth_mm, (block.box.polygon for block in on_it))
        if piece.length_mm - sum(b - a for a, b in open_parts) > TOLERANCE_MM:
            before = piece.front.moved(-depth_mm).strip(depth_mm)
            names = ", ".join(dict.fromkeys(b.thing.called for b in on_it if b.box.polygon.intersects(before)))
            limits.append(f"{names} on it: less than {both(depth_mm)} of depth before it")
        for a, b in open_parts:
            start, end = piece.start_mm + offset + a, piece.start_mm + offset + b
            if spans and abs(spans[-1][1] - start) < 1.0:
                spans[-1] = (spans[-1][0], end)
            else:
                spans.append((start, end))
    return spans, tuple(limits)


def spans_behind(front: Segment, depth_mm: float, shapes: Iterable[BaseGeometry]) -> list[Span]:
    """Return the stretches of a front edge behind which no shape lies within a depth, from its left end [mm]."""
    if depth_mm <= 1.0:
        return [(0.0, front.length_mm)]
    free = free_front(front.moved(-depth_mm), shapes, depth_mm)
    return [(front.place(part.a)[0], front.place(part.b)[0]) for part in free]


def joined_with(stretch: Stretch, here: Piece, run: Run, index: int) -> Stretch:
    """Return a stretch with the piece from which it was sought, and what lies on its other side."""
    left = straight_counter(run, index, "left").pieces
    right = straight_counter(run, index, "right").pieces
    return Stretch((*left, here, *(p for p in right if p not in left)), stretch.ended_by, stretch.beyond)


def round_corner(run: Run, stretch: Stretch, stand: Stand, side: Side) -> tuple[Stretch, float]:
    """Return the counter round the corner that ends a stretch, and the place along the run of a thing's edge on it."""
    beyond = stretch.beyond
    if beyond is None or beyond.role != "counter":
        return stretch, 0.0
    index = next(i for i, piece in enumerate(run.pieces) if piece is beyond)
    further = straight_counter(run, index, side)
    pieces = (beyond, *further.pieces) if side == "right" else (*further.pieces, beyond)
    places = [beyond.front.place(corner)[0] for corner in stand.box.corners]
    at = min(max(places), beyond.front.length_mm) if side == "right" else max(min(places), 0.0)
    return Stretch(pieces, further.ended_by, further.beyond), beyond.start_mm + at


def unwrapped(run: Run, pieces: Sequence[Piece], edge_mm: float, side: Side) -> float:
    """Return what to add to a place on a run closed without a corner, so that it lies in the stretch counted on."""
    if not run.closed:
        return 0.0
    start, length = pieces[0].start_mm, sum(p.length_mm for p in pieces)
    wanted = start if side == "right" else start + length
    return round((wanted - edge_mm) / run.length_mm) * run.length_mm


def from_edge(spans: Sequence[Span], edge_mm: float, side: Side) -> float:
    """Return how far a usable stretch goes on from an edge."""
    for a, b in spans:
        if a - 1.0 <= edge_mm <= b + 1.0:
            far = b - edge_mm if side == "right" else edge_mm - a
            if far > TOLERANCE_MM:
                return far
    return 0.0


def along(line: Segment, other: Segment) -> Span:
    """Return between which places along a line another one lies [mm]."""
    places = (line.place(other.a)[0], line.place(other.b)[0])
    return min(places), max(places)


def away(front: Segment, gap: Segment) -> str:
    """Return how far away a landing is, front to front, and to its far end where it lies off to one side."""
    ahead_mm = front.place(gap.b)[1]
    if gap.length_mm - ahead_mm <= TOLERANCE_MM:
        return f"{both(ahead_mm)} away"
    return f"{both(ahead_mm)} away front to front and off to one side, {both(gap.length_mm)} to the end of the landing"


def gap_to(front: Segment, part: Segment, asked_mm: float) -> Segment:
    """Return the line from a front to the far end of a landing across from it; straight ahead where it can be."""
    a, b = along(front, part)
    least, most = a, max(a, b - asked_mm)
    start = min(max((front.length_mm - asked_mm) / 2, least), most)
    left, right = max(0.0, -start), max(0.0, start + asked_mm - front.length_mm)
    # A landing wider than the front stands out on both sides, which takes it no further away.
    beyond = max(left, right) - max(0.0, asked_mm - front.length_mm) / 2
    if beyond <= TOLERANCE_MM:
        place = from_mm = min(max(start + asked_mm / 2, 0.0), front.length_mm)
    elif left > right:
        place, from_mm = -beyond, 0.0
    else:
        place, from_mm = front.length_mm + beyond, front.length_mm
    ahead_mm = front.place(part.at(part.place(front.at(place))[0]))[1]
    return Segment(front.at(from_mm), front.at(place, max(ahead_mm, TOLERANCE_MM)))
