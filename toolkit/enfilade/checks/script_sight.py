"""What can be seen from a room through its doorways: whether a straight line leads through all of them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from enfilade.checks.view import House
from enfilade.geometry.boxes import Box, Segment
from enfilade.geometry.points import Point
from enfilade.lengths import TOLERANCE_MM

__all__ = ["finish_seen_from", "product_seen_from", "seen_from"]

_DOORWAYS = 5
"""Through so many doorways at most one looks."""


def seen_from(house: House, space: str, box: Box, there: str) -> bool:
    """Tell whether some straight line leads from a room to a thing in another, through every doorway between.

    Doors are taken as open. What stands in between is not looked at, and walls only by the doorways in them, so in a
    room with a corner that stands out a line may be found that the corner cuts.

    Args:
        house: The house, worked out.
        space: Id of the room from which one looks.
        box: Footprint of what is looked at.
        there: Id of the room in which it stands.
    """
    sides = (box.front, box.back, box.left, box.right)
    return any(_one_line([*gates, side]) for gates in _ways(house, space, there, (space,), ()) for side in sides)


def finish_seen_from(house: House, space: str, finish: str, there: str) -> bool:
    """Tell the same of what bears a finish in another room: a thing, a wall, or the floor or ceiling.

    Of a floor or ceiling something is seen wherever one sees into the room. Of the wall that one looks through the
    other face is not seen.
    """
    room = house.spaces[there]
    if any(
        stand.thing.finish == finish and seen_from(house, space, stand.box, there) for stand in house.by_space[there]
    ):
        return True
    walls = [wall.id for wall in room.walls if wall.finish == finish and wall.state != "removed"]
    everywhere = finish in (room.floor_finish, room.ceiling_finish)
    for gates in _ways(house, space, there, (space,), ()) if walls or everywhere else ():
        if everywhere and _one_line(gates):
            return True
        faces = [house.lines[wall] for wall in walls if wall in house.lines]
        if any(not _lies_on(gates[-1], face) and _one_line([*gates, face]) for face in faces if gates):
            return True
    return False


def product_seen_from(house: House, space: str, product: str, there: str) -> bool:
    """Tell the same of the things that are bought as a product."""
    return any(
        stand.thing.product == product and seen_from(house, space, stand.box, there) for stand in house.by_space[there]
    )


def _lies_on(gate: Segment, wall: Segment) -> bool:
    """Tell whether a doorway is in a wall: its middle lies on the line of it."""
    (ax, ay), (dx, dy), (x, y) = wall.a, wall.direction, gate.midpoint
    return abs(dx * (y - ay) - dy * (x - ax)) <= TOLERANCE_MM


def _ways(
    house: House, here: str, there: str, met: tuple[str, ...], gates: tuple[Segment, ...]
) -> Iterator[tuple[Segment, ...]]:
    """Yield the doorways on each way from one room to another, both faces of each wall."""
    if here == there:
        yield gates
        return
    if len(met) > _DOORWAYS:
        return
    for door in house.doorways[here]:
        beyond = door.beyond
        if not door.passage or beyond is None or beyond in met:
            continue
        faces = [other.segment for other in house.doorways[beyond] if other.id == door.id]
        yield from _ways(house, beyond, there, (*met, beyond), (*gates, door.segment, *faces))


def _one_line(gates: Sequence[Segment]) -> bool:
    """Tell whether one straight line crosses every segment: if any does, one does through two of their ends."""
    if len(gates) < 2:
        return True
    ends = [end for gate in gates for end in (gate.a, gate.b)]
    return any(all(_crosses(a, b, gate) for gate in gates) for a, b in combinations(ends, 2) if a != b)


def _crosses(a: Point, b: Point, gate: Segment) -> bool:
    (ax, ay), dx, dy = a, b[0] - a[0], b[1] - a[1]
    length = math.hypot(dx, dy)
    if length < TOLERANCE_MM:
        return False
    off_a = (dx * (gate.a[1] - ay) - dy * (gate.a[0] - ax)) / length
    off_b = (dx * (gate.b[1] - ay) - dy * (gate.b[0] - ax)) / length
    return min(off_a, off_b) <= TOLERANCE_MM and max(off_a, off_b) >= -TOLERANCE_MM
