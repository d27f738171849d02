"""Turned and moved houses, for laws that must not depend on where north is."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from enfilade.geometry import Box, Point, Segment

IN = 25.4

turns = st.floats(-720, 720, allow_nan=False).filter(lambda t: abs(t) > 1e-3)
shifts = st.tuples(st.floats(-50_000, 50_000), st.floats(-50_000, 50_000))


class Placing:
    """Turn about the origin, then move."""

    def __init__(self, turn_deg: float, shift: Point) -> None:
        self.turn_deg = turn_deg
        self.c, self.s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
        self.shift = shift

    def point(self, p: Point) -> Point:
        return (p[0] * self.c - p[1] * self.s + self.shift[0], p[0] * self.s + p[1] * self.c + self.shift[1])

    def points(self, many: list[Point]) -> list[Point]:
        return [self.point(p) for p in many]

    def box(self, b: Box) -> Box:
        x, y = self.point((b.x, b.y))
        return Box(x, y, b.width_mm, b.depth_mm, b.turn_deg + self.turn_deg)

    def segment(self, s: Segment) -> Segment:
        return Segment(self.point(s.a), self.point(s.b))


placings = st.builds(Placing, turns, shifts)


def inch_box(x0: float, y0: float, x1: float, y1: float, turn_deg: float = 0.0) -> Box:
    """Return a box by its corners in inches; `turn_deg` is where its front faces (0: -y), a quarter turn."""
    w, d = (x1 - x0) * IN, (y1 - y0) * IN
    across = turn_deg % 180 == 0
    return Box((x0 + x1) / 2 * IN, (y0 + y1) / 2 * IN, w if across else d, d if across else w, turn_deg)
