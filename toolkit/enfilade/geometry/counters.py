"""Lengths of counter read off a run."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from enfilade.errors import OutOfRange
from enfilade.geometry.points import Point
from enfilade.geometry.runs import Piece, Run

__all__ = ["EndedBy", "Side", "Stretch", "clear_between", "counter_stretches", "path_position", "straight_counter"]

Side = Literal["left", "right"]
EndedBy = Literal["corner", "end", "piece"]

LEVEL_MM: Final = 3.0
"""Counter tops that differ by no more than this are one surface (our own choice)."""


@dataclass(frozen=True)
class Stretch:
    """Counter without a break, at one height, on one straight front.

    Attributes:
        pieces: Left to right; empty when there is no counter on that side.
        length_mm: Their frontage together.
        least_depth_mm: Of the shallowest piece; 0 without pieces.
        ended_by: What ends it on the far side: an inside corner, the end of the run, or another piece
            (an appliance, or a counter at another height).
        beyond: The piece on the far side, also round a corner; None at the end of the run.
    """

    pieces: tuple[Piece, ...]
    ended_by: EndedBy
    beyond: Piece | None

    @property
    def length_mm(self) -> float:
        """Return the frontage [mm]."""
        return sum(piece.length_mm for piece in self.pieces)

    @property
    def least_depth_mm(self) -> float:
        """Return the depth of the shallowest piece [mm]."""
        return min((piece.depth_mm for piece in self.pieces), default=0.0)


def straight_counter(run: Run, index: int, side: Side, *, level_mm: float = LEVEL_MM) -> Stretch:
    """Return the counter beside a piece, as far as it goes straight at one height.

    Args:
        run: The run.
        index: Place of the piece in `run.pieces`; beside a counter only what is level with it goes on.
        side: Which side of it, as seen facing it.
        level_mm: How far the tops of neighbouring counters may differ and still be one surface.
    Raises:
        OutOfRange: There is no piece at `index`.
    """
    if not 0 <= index < len(run.pieces):
        raise OutOfRange(f"piece {index} of a run of {len(run.pieces)}", expected=f"0 to {len(run.pieces) - 1}")
    found: list[Piece] = []
    asked = run.pieces[index]
    here, height_mm = index, asked.height_mm if asked.role == "counter" else None
    while True:
        piece = run.pieces[here]
        after = _neighbour(run, here, side)
        beyond = None if after is None else run.pieces[after]
        corner = piece.corner_after if side == "right" else piece.corner_before
        if after is None or beyond is None:
            return _stretch(found, side, "end", None)
        if corner:
            return _stretch(found, side, "corner", beyond)
        level = height_mm is None or abs(beyond.height_mm - height_mm) <= level_mm
        if beyond.role != "counter" or not level or after == index:
            return _stretch(found, side, "piece", beyond)
        found.append(beyond)
        here, height_mm = after, beyond.height_mm


def _neighbour(run: Run, index: int, side: Side) -> int | None:
    after = index + (1 if side == "right" else -1)
    if run.closed:
        return after % len(run.pieces)
    return after if 0 <= after < len(run.pieces) else None


def _stretch(found: list[Piece], side: Side, ended_by: EndedBy, beyond: Piece | None) -> Stretch:
    ordered = found if side == "right" else found[::-1]
    return Stretch(tuple(ordered), ended_by, beyond)


def counter_stretches(run: Run, *, level_mm: float = LEVEL_MM) -> tuple[Stretch, ...]:
    """Return all the counter of a run, as stretches that are straight, level and unbroken, left to right."""
    found: list[Stretch] = []
    seen: set[int] = set()
    for index, piece in enumerate(run.pieces):
        if piece.role != "counter" or index in seen:
            continue
        before = straight_counter(run, index, "left", level_mm=level_mm).pieces
        after = straight_counter(run, index, "right", level_mm=level_mm)
        # On a run closed without a corner both ways meet: each piece counts once.
        pieces = (*before, piece, *(p for p in after.pieces if p not in before))
        seen.update(i for i, p in enumerate(run.pieces) if p in pieces)
        found.append(Stretch(pieces, after.ended_by, after.beyond))
    return tuple(found)


def path_position(run: Run, point: Point) -> tuple[float, float]:
    """Return how far along the run the front nearest to a point lies, and how far off it the point is [mm]."""
    places = []
    for piece in run.pieces:
        along_mm, ahead_mm = piece.front.place(point)
        held_mm = min(max(along_mm, 0.0), piece.front.length_mm)
        off_mm = ((along_mm - held_mm) ** 2 + ahead_mm**2) ** 0.5
        places.append((off_mm, piece.start_mm + held_mm))
    off_mm, position_mm = min(places)
    return position_mm, off_mm


def clear_between(run: Run, first: int, second: int) -> float:
    """Return the frontage between the nearest edges of two pieces, along the run and the shorter way round [mm].

    Pieces next to each other are 0 apart.
    """
    a, b = sorted((run.pieces[first], run.pieces[second]), key=lambda piece: piece.start_mm)
    straight_mm = max(0.0, b.start_mm - a.end_mm)
    return min(straight_mm, a.start_mm + run.length_mm - b.end_mm) if run.closed else straight_mm
