"""Fronts on an elevation: outlines, doors with the marks of their hinges, drawers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from enfilade.drawings.items import Circle, Item, Line, Point, Polygon, Role
from enfilade.geometry.elevations import WallShape
from enfilade.project.appliances import Cooktop, Refrigerator, Sink
from enfilade.project.furnishings import WindowTreatment
from enfilade.project.standing import Stand
from enfilade.project.storage import OpenShelf, Storage
from enfilade.project.surfaces import Surface
from enfilade.project.thing import Leaf

__all__ = ["Shown", "front_items", "hinge_mark", "rect"]


@dataclass(frozen=True)
class Shown:
    """A thing as it shows on a wall, and how far before the wall its nearest point is [mm]."""

    stand: Stand
    shape: WallShape
    nearness_mm: float

    @property
    def corners(self) -> tuple[Point, ...]:
        """Return its corners, from the lower left."""
        s = self.shape
        return ((s.left_mm, s.bottom_mm), (s.right_mm, s.bottom_mm), (s.right_mm, s.top_mm), (s.left_mm, s.top_mm))


def rect(left: float, low: float, right: float, high: float) -> tuple[Point, ...]:
    """Return the corners of a rectangle on the wall."""
    return ((left, low), (right, low), (right, high), (left, high))


def hinge_mark(subject: str, left: float, low: float, right: float, high: float, hinge: str) -> Iterator[Item]:
    """Yield the dashed lines that meet at the side on which a leaf hangs."""
    middle_x, middle_y = (left + right) / 2, (low + high) / 2
    ends = {
        "left": ((right, low), (left, middle_y), (right, high)),
        "right": ((left, low), (right, middle_y), (left, high)),
        "bottom": ((left, high), (middle_x, low), (right, high)),
        "top": ((left, low), (middle_x, high), (right, low)),
    }
    yield Line(role="symbol", subject=subject, weight="hidden", points=ends[hinge])


def front_items(one: Shown, title: str, colour: str | None) -> Iterator[Item]:
    """Yield a thing as it shows on the wall: its outline, which carries its title, doors, drawers and symbols."""
    thing, shape = one.stand.thing, one.shape
    left, right, low, high = shape.left_mm, shape.right_mm, shape.bottom_mm, shape.top_mm
    hidden = isinstance(thing, Sink | Cooktop | WindowTreatment)
    role: Role = (
        "counter"
        if isinstance(thing, Surface)
        else "service"
        if thing.kind in ("receptacle", "switch", "light")
        else "thing"
    )
    yield Polygon(role=role, subject=thing.id, weight="hidden" if hidden else "edge", points=one.corners, title=title,
                  finish=None if hidden else colour, clear=hidden)  # fmt: skip
    if shape.facing == "front" and not hidden:
        yield from _leaves(one)
    if thing.kind == "sink":
        x = (left + right) / 2
        yield Line(
            role="symbol",
            subject=thing.id,
            weight="dimension",
            points=((x, high), (x, high + 250), (x - 30, high + 290), (x - 60, high + 250)),
        )
    if isinstance(thing, OpenShelf):
        count = thing.shelves or 0
        for n in range(1, count):
            y = low + (high - low) * n / count
            yield Line(role="symbol", subject=thing.id, weight="dimension", points=((left, y), (right, y)))
    if thing.kind == "receptacle":
        for x in (left + (right - left) / 3, right - (right - left) / 3):
            yield Circle(role="symbol", subject=thing.id, weight="dimension", centre=(x, (low + high) / 2), radius_mm=8)


def _leaves(one: Shown) -> Iterator[Item]:
    """Yield the fronts of doors and drawers, with the marks of their hinges."""
    thing, shape = one.stand.thing, one.shape
    leaves = [leaf for leaf in thing.leaves if leaf.side == "front"]
    drawers = [leaf for leaf in leaves if leaf.kind == "drawer"]
    unsized = [leaf for leaf in drawers if leaf.bottom_mm is None and leaf.top_mm is None]
    # Drawers without recorded heights are spread evenly over the front.
    even = (shape.top_mm - shape.bottom_mm) / max(len(unsized), 1)
    if thing.opens is None and isinstance(thing, Storage) and thing.drawers and not thing.shelves:
        heights = [
            shape.bottom_mm + (shape.top_mm - shape.bottom_mm) * n / thing.drawers for n in range(thing.drawers + 1)
        ]
        for low, high in pairwise(heights):
            yield from _drawer(thing.id, shape.left_mm, low, shape.right_mm, high)
    if not leaves and isinstance(thing, Refrigerator) and thing.handle and thing.doors == "single":
        hinge = "right" if thing.handle == "left" else "left"
        yield from hinge_mark(thing.id, shape.left_mm, shape.bottom_mm, shape.right_mm, shape.top_mm, hinge)
    for leaf in leaves:
        left = shape.left_mm + leaf.from_left_mm
        right = left + leaf.width_mm if leaf.width_mm is not None else shape.right_mm
        low = leaf.bottom_mm if leaf.bottom_mm is not None else shape.bottom_mm
        high = leaf.top_mm if leaf.top_mm is not None else shape.top_mm
        if leaf in unsized and len(unsized) > 1:
            number = next(i for i, other in enumerate(unsized) if other is leaf)
            low, high = shape.bottom_mm + even * number, shape.bottom_mm + even * (number + 1)
        yield from _leaf(thing.id, leaf, left, low, right, high)


def _leaf(subject: str, leaf: Leaf, left: float, low: float, right: float, high: float) -> Iterator[Item]:
    if leaf.kind in ("drawer", "pull-out"):
        yield from _drawer(subject, left, low, right, high)
        return
    yield Polygon(role="symbol", subject=subject, weight="dimension", points=rect(left, low, right, high), clear=True)
    mark = (
        leaf.hinge if leaf.kind in ("hinged", "folding") else {"drop-down": "bottom", "lift-up": "top"}.get(leaf.kind)
    )
    if mark:
        yield from hinge_mark(subject, left, low, right, high, mark)
    elif leaf.kind == "sliding":
        y, x, reach = (low + high) / 2, (left + right) / 2, (right - left) / 5
        yield Line(role="symbol", subject=subject, weight="dimension", points=((x - reach, y), (x + reach, y)))


def _drawer(subject: str, left: float, low: float, right: float, high: float) -> Iterator[Item]:
    yield Polygon(role="symbol", subject=subject, weight="dimension", points=rect(left, low, right, high), clear=True)
    pull, x, y = min(80.0, (right - left) / 4), (left + right) / 2, high - min(60.0, (high - low) / 3)
    yield Line(role="symbol", subject=subject, weight="edge", points=((x - pull, y), (x + pull, y)))
