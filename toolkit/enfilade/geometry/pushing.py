"""One wall of a room made longer or shorter by pushing the next one along, with no corner changing its angle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from enfilade.geometry.points import NOISE_MM, Point, along, cross, distance, dot, minus, unit

__all__ = ["Push", "pushed"]

_ONE_LINE = 1e-9


@dataclass(frozen=True, slots=True)
class Push:
    """An outline in which one wall has another length.

    Attributes:
        corners: As many as before, in the same order [mm].
        walls: Numbers (from 0) of the walls that moved sideways: one, or several in one line.
        shift: How far they moved, at a right angle to themselves [mm].
    """

    corners: tuple[Point, ...]
    walls: frozenset[int]
    shift: Point


def pushed(corners: Sequence[Point], wall: int, length_mm: float, *, at_end: bool = True) -> Push | None:
    """Return the outline with one wall of another length, or None where another wall would vanish or turn round.

    The wall at its end moves parallel to itself, and the one after that takes up the difference.

    Args:
        corners: Corners of a checked outline, in order [mm].
        wall: Number of the wall, from 0: it stands between corners `wall` and `wall + 1`.
        length_mm: Its new length, above 0 [mm].
        at_end: Its second corner moves; else its first.

    >>> pushed([(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)], 0, 4100.0).corners
    ((0.0, 0.0), (4100.0, 0.0), (4100.0, 3000.0), (0.0, 3000.0))
    """
    count = len(corners)
    if at_end:
        return _pushed(corners, wall, length_mm)
    # The other end is the same, with the outline read backwards: its wall k is then wall count - 2 - k.
    back = _pushed(corners[::-1], (count - 2 - wall) % count, length_mm)
    if back is None:
        return None
    return Push(back.corners[::-1], frozenset((count - 2 - k) % count for k in back.walls), back.shift)


def _pushed(corners: Sequence[Point], wall: int, length_mm: float) -> Push | None:
    count = len(corners)
    ring = list(corners)
    runs = [unit(minus(corners[(i + 1) % count], corners[i])) for i in range(count)]
    way = runs[wall]
    by = length_mm - distance(corners[wall], corners[(wall + 1) % count])
    at = (wall + 1) % count
    while abs(cross(way, runs[at])) < _ONE_LINE:  # the wall goes on in its own line, under another name
        ring[at] = along(ring[at], way, by)
        at = (at + 1) % count
    moved = [at]
    ring[at] = along(ring[at], way, by)
    while abs(cross(runs[at], runs[(at + 1) % count])) < _ONE_LINE:
        at = (at + 1) % count
        moved.append(at)
        ring[at] = along(ring[at], way, by)
    after = (at + 1) % count
    beyond = corners[(after + 1) % count]
    # Where the moved wall meets the line of the wall after it.
    run = runs[at]
    ring[after] = along(ring[at], run, cross(minus(beyond, ring[at]), runs[after]) / cross(run, runs[after]))
    for i in range(count):
        if dot(minus(ring[(i + 1) % count], ring[i]), runs[i]) < NOISE_MM:
            return None
    across = (run[1], -run[0])
    off = dot(way, across) * by
    return Push(tuple(ring), frozenset(moved), (across[0] * off, across[1] * off))
