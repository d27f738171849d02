"""Outlines drawn in, wall by wall: from the framing to the finished face."""

from __future__ import annotations

from collections.abc import Sequence

from enfilade.errors import Refused
from enfilade.geometry.outlines import check_outline, walls
from enfilade.geometry.points import NOISE_MM, Point, cross, dot, minus, unit

__all__ = ["inset"]


def inset(corners: Sequence[Point], by_mm: float | Sequence[float]) -> tuple[Point, ...]:
    """Return an outline with each wall moved into the room, corner for corner.

    Args:
        corners: Corners in order, either way round [mm].
        by_mm: How far, for all walls or one number a wall; below 0 moves it out [mm].
    Returns:
        As many corners, in the same order.
    Raises:
        Refused: Walls that lie in one line move by different amounts, or no room is left.

    >>> inset([(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)], 10.0)
    ((10.0, 10.0), (3990.0, 10.0), (3990.0, 2990.0), (10.0, 2990.0))
    """
    check_outline(corners)
    count = len(corners)
    depths = [float(by_mm)] * count if isinstance(by_mm, int | float) else list(by_mm)
    if len(depths) != count:
        raise Refused(f"{len(depths)} depths for {count} walls", expected="one a wall")
    inward = [wall.outward for wall in walls(corners)]
    along = [unit(minus(corners[(i + 1) % count], corners[i])) for i in range(count)]
    moved = tuple(_corner(corners[i], i, depths, inward, along) for i in range(count))
    # A room that is narrower than twice the depth comes out turned over: its walls then run backwards.
    if any(dot(minus(moved[(i + 1) % count], moved[i]), along[i]) < NOISE_MM for i in range(count)):
        raise Refused("no room is left between its walls", expected="walls farther apart than what is taken off")
    check_outline(moved)
    return moved


def _corner(corner: Point, i: int, depths: Sequence[float], inward: Sequence[Point], along: Sequence[Point]) -> Point:
    """Return where the moved wall before corner `i` meets the moved wall after it."""
    (da, na), (db, nb) = (depths[i - 1], inward[i - 1]), (depths[i], inward[i])
    turn = cross(along[i - 1], along[i])
    if abs(turn) < NOISE_MM:
        if abs(da - db) > NOISE_MM:
            raise Refused("two walls in one line move by different amounts", expected="one depth for both")
        return (corner[0] + na[0] * da, corner[1] + na[1] * da)
    # The corner moves by s along the wall after it and t along the wall before: n_a . v = d_a and n_b . v = d_b.
    whole = cross(na, nb)
    x = (da * nb[1] - db * na[1]) / whole
    y = (db * na[0] - da * nb[0]) / whole
    return (corner[0] + x, corner[1] + y)
