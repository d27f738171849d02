"""A room walked wall by wall with a tape: its corners, how far it fails to close, and the error spread over the walls.

Surveyors call it a closed traverse, and the two ways of spreading its error the transit rule and the compass rule.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate
from typing import Final, Literal

from enfilade.errors import OutOfRange, Refused
from enfilade.geometry.outlines import check_outline
from enfilade.geometry.points import NOISE_MM, Point, distance, dot, minus, turned
from enfilade.lengths import LIMIT_MM, TOLERANCE_MM

__all__ = [
    "LEFT_DEG",
    "MOST_WALLS",
    "RIGHT_DEG",
    "Diagonal",
    "Leg",
    "Rule",
    "Walked",
    "corrections",
    "diagonal_difference_mm",
    "outline_of",
    "spread",
    "spread_rule",
    "walked",
]

Rule = Literal["transit", "compass"]

RIGHT_DEG: Final = -90.0
LEFT_DEG: Final = 90.0
MOST_WALLS: Final = 500
"""As many as the outline of a space may have."""

_EAST: Final = (1.0, 0.0)


@dataclass(frozen=True, slots=True)
class Leg:
    """One wall of the walk.

    Attributes:
        length_mm: As taped, above 0. None for the last wall alone: its length then follows from the others.
        turn_deg: How far one turns at its end, counter-clockwise, within -180 to 180. None before a last
            wall that follows: that wall then runs straight to the start. At the end of the last wall it
            tells whether the turns add up, and moves no corner.
    """

    length_mm: float | None
    turn_deg: float | None = RIGHT_DEG


@dataclass(frozen=True, slots=True)
class Diagonal:
    """A length taped across the floor, from one corner to another (counted from 0), as a check."""

    a: int
    b: int
    length_mm: float


@dataclass(frozen=True)
class Walked:
    """A walk as it was taped, or with its error spread.

    Attributes:
        ahead: Each wall as a vector in the frame of the first one, which runs along (1, 0) [mm].
        start: Where the walk begins [mm].
        heading_deg: Direction of the first wall, counter-clockwise from +x.
        turned_deg: All turns added up, the one at the end of the last wall included; None when one was left
            to follow. Once round a room makes 360 or -360.
    """

    ahead: tuple[Point, ...]
    start: Point
    heading_deg: float
    turned_deg: float | None

    @cached_property
    def steps(self) -> tuple[Point, ...]:
        """Return each wall as a vector on the plan [mm]."""
        return tuple(turned(step, self.heading_deg) for step in self.ahead)

    @cached_property
    def _reached(self) -> tuple[Point, ...]:
        return tuple(accumulate(self.steps, _plus, initial=self.start))

    @property
    def corners(self) -> tuple[Point, ...]:
        """Return where each wall begins [mm]. The last wall of a room drawn through them takes up the error."""
        return self._reached[:-1]

    @property
    def end(self) -> Point:
        """Return where the walk ends [mm]; the start, when it closes."""
        return self._reached[-1]

    @property
    def error(self) -> Point:
        """Return the closing error as a vector, from the start to where the walk ends [mm]."""
        return minus(self.end, self.start)

    @property
    def error_mm(self) -> float:
        """Return how far the walk fails to close [mm]."""
        return distance(self.end, self.start)

    @property
    def perimeter_mm(self) -> float:
        """Return the length of all walls together [mm]."""
        return sum(math.hypot(*step) for step in self.ahead)

    @property
    def one_in(self) -> float | None:
        """Return N where the error is 1 in N of the perimeter [-]; None when the walk closes."""
        return self.perimeter_mm / self.error_mm if self.error_mm > NOISE_MM else None

    @property
    def turn_error_deg(self) -> float | None:
        """Return by how much the turns miss once round; None when one of them was left to follow [deg]."""
        return None if self.turned_deg is None else abs(self.turned_deg) - 360.0

    @property
    def square(self) -> bool:
        """Tell whether every wall runs along the first one or at a right angle to it."""
        return all(min(abs(x), abs(y)) < NOISE_MM for x, y in self.ahead)


def walked(legs: Sequence[Leg], start: Point = (0.0, 0.0), heading_deg: float = 90.0) -> Walked:
    """Return the walk along walls; it need not close, and may be unfinished.

    Where the last wall follows and the turn before it is known, it goes on in its own direction until it stands
    beside the start: what is left of the error then lies across it. Where that turn is left open, it closes.

    Args:
        legs: The walls in order, at least one.
        start: Where it begins [mm].
        heading_deg: Direction of the first wall, counter-clockwise from +x; 90 runs to the north of the plan.
    Raises:
        OutOfRange: A length is not above 0, or a turn or the start is out of range; walls are counted from 1.
        Refused: A length or turn is missing that does not follow from the others, or there are too many walls.
    """
    if not all(map(math.isfinite, (*start, heading_deg))):
        raise OutOfRange(f"a walk from {start} along {heading_deg}", expected="finite numbers")
    _refuse_bad(legs)
    ahead: list[Point] = []
    heading: float | None = 0.0
    for leg in legs:
        if leg.length_mm is not None:
            assert heading is not None  # refused above
            along = turned(_EAST, heading)
            ahead.append((along[0] * leg.length_mm, along[1] * leg.length_mm))
        else:
            ahead.append(_last_wall(ahead, heading))
        heading = None if heading is None or leg.turn_deg is None else heading + leg.turn_deg
    return Walked(tuple(ahead), start, heading_deg, heading)


def _plus(a: Point, b: Point) -> Point:
    return (a[0] + b[0], a[1] + b[1])


def _refuse_bad(legs: Sequence[Leg]) -> None:
    if not 0 < len(legs) <= MOST_WALLS:
        raise Refused(f"a walk along {len(legs)} walls", expected=f"1 to {MOST_WALLS}")
    for number, leg in enumerate(legs, 1):
        last, before_last = number == len(legs), number == len(legs) - 1
        length, turn = leg.length_mm, leg.turn_deg
        if length is None:
            if not last:
                raise Refused(f"wall {number} has no length", expected="a length, which the last wall alone may lack")
            if number < 3:
                raise Refused(f"wall {number} cannot follow from the others", expected="two walls before it at least")
        elif not (math.isfinite(length) and 0 < length <= LIMIT_MM):
            raise OutOfRange(f"wall {number} is {length:g} mm long", expected="a length above 0")
        if turn is None:
            if not (last or (before_last and legs[-1].length_mm is None)):
                raise Refused(f"the corner after wall {number} has no turn", expected="right, left or an angle")
        elif not abs(turn) < 180.0:
            raise OutOfRange(f"the corner after wall {number} turns by {turn:g} degrees", expected="less than 180")


def _last_wall(before: Sequence[Point], heading: float | None) -> Point:
    home = (-sum(x for x, _ in before), -sum(y for _, y in before))
    along = turned(_EAST, heading) if heading is not None else None
    length = math.hypot(*home) if along is None else dot(home, along)
    if length < TOLERANCE_MM:
        raise Refused(
            "no last wall is left: the walk already ends at its start, or beyond it",
            expected="walls that leave one to be found",
            do="type its length, or turn the other way before it",
        )
    return home if along is None else (along[0] * length, along[1] * length)


def spread_rule(walk: Walked) -> Rule:
    """Return the rule by which an error is spread: `transit` keeps square walls square, `compass` suits all others."""
    return "transit" if walk.square else "compass"


def corrections(walk: Walked, rule: Rule | None = None) -> tuple[Point, ...]:
    """Return what is added to each wall so that the walk closes, in the frame of the first wall [mm].

    Args:
        walk: The walk.
        rule: `transit`: each part of the error is shared along an axis in proportion to how far each wall runs
            along it. `compass`: the error is shared in proportion to length. None: as `spread_rule` says.
    Source: transit rule and compass (Bowditch) rule as textbooks of plane surveying give them (recalled): Ghilani
        and Wolf, Elementary Surveying, 13th edition, chapter 10.
    """
    error = (sum(x for x, _ in walk.ahead), sum(y for _, y in walk.ahead))
    if (rule or spread_rule(walk)) == "compass":
        share = [math.hypot(*step) / walk.perimeter_mm for step in walk.ahead]
        return tuple((-error[0] * part, -error[1] * part) for part in share)
    whole = (sum(abs(x) for x, _ in walk.ahead), sum(abs(y) for _, y in walk.ahead))
    return tuple((_part(error[0], x, whole[0]), _part(error[1], y, whole[1])) for x, y in walk.ahead)


def _part(error_mm: float, run_mm: float, whole_mm: float) -> float:
    return -error_mm * abs(run_mm) / whole_mm if whole_mm > 0 else 0.0


def spread(walk: Walked, rule: Rule | None = None) -> Walked:
    """Return the walk with its error spread over its walls (see `corrections`), so that it closes.

    Turns are taken as they were typed: an error in them is told by `turn_error_deg`, and shared with the rest.
    """
    changes = corrections(walk, rule)
    ahead = tuple((x + dx, y + dy) for (x, y), (dx, dy) in zip(walk.ahead, changes, strict=True))
    return replace(walk, ahead=ahead)


def outline_of(walk: Walked) -> tuple[Point, ...]:
    """Return the corners of the room, checked.

    Raises:
        Refused: There are fewer than 3 walls, or they cross or touch one another.
    """
    if len(walk.ahead) < 3:
        raise Refused(f"a room of {len(walk.ahead)} walls", expected="at least 3")
    check_outline(walk.corners)
    return walk.corners


def diagonal_difference_mm(corners: Sequence[Point], diagonal: Diagonal) -> float:
    """Return how much longer a diagonal was taped than it is drawn; below 0 when shorter [mm].

    Raises:
        OutOfRange: A corner is not there, both are the same, or the length is not above 0.
    """
    a, b, count = diagonal.a, diagonal.b, len(corners)
    if not (0 <= a < count and 0 <= b < count) or a == b:
        raise OutOfRange(f"a diagonal between corners {a + 1} and {b + 1}", expected=f"two of the {count} corners")
    if not (math.isfinite(diagonal.length_mm) and 0 < diagonal.length_mm <= LIMIT_MM):
        raise OutOfRange(f"a diagonal of {diagonal.length_mm:g} mm", expected="a length above 0")
    return diagonal.length_mm - distance(corners[a], corners[b])
