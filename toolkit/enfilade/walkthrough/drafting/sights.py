"""What one sees first when one comes into a room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from enfilade.checks.floor import footprint
from enfilade.checks.view import House
from enfilade.drawings.perspective_eye import EYE_MM
from enfilade.geometry.outlines import polygon_of
from enfilade.geometry.points import Point, distance, minus
from enfilade.project.standing import Stand
from enfilade.project.surfaces import Seat
from enfilade.walkthrough.walking import HouseWalks

__all__ = ["Sight", "sights"]

_WORTH: Final = frozenset({
    "tall cabinet", "open shelf", "furniture piece", "counter", "island", "peninsula", "table", "desk", "seat", "range",
    "refrigerator", "fireplace", "screen", "bed", "fixture", "furniture",
})  # fmt: skip
_AHEAD_DEG: Final = 25.0
_SIDEWAYS_DEG: Final = 60.0
_NEAREST_MM: Final = 2000.0
"""What is nearer is passed rather than seen."""
_BLOCKED_MM: Final = 300.0
_WALL_MM: Final = 50.0
_LOW_MM: Final = 300.0
"""What is lower than this still shows its top."""

_FLAT_MM: Final = 60.0
"""What is thinner hangs on a wall: a mirror, a rack of hooks."""
_UNSAID: Final = frozenset({"toilet", "bidet", "urinal"})
_CHIEF: Final = frozenset({"island", "peninsula", "table", "range", "bed", "fireplace", "desk", "sofa", "tub"})
_CHIEF_WEIGHT: Final = 3.0
_WINDOW_WEIGHT: Final = 2.0
"""What a room is for draws the eye more than its size says (our own choice)."""

Where = Literal["ahead", "left", "right"]


@dataclass(frozen=True)
class Sight:
    """Something that is seen: its id, what it is called, where, and how large it looks [-]."""

    id: str
    name: str
    where: Where
    large: float


def sights(house: House, walks: HouseWalks, space: str, before: str | None) -> tuple[Sight, ...]:
    """Return what is seen first from where one comes in, the largest to the eye first.

    Args:
        house: The house, worked out.
        walks: The ways on foot in it.
        space: The room.
        before: The room that one comes from; None: from outdoors.
    """
    stance = _stance(house, walks, space, before)
    if stance is None:
        return ()
    eye, ahead = stance
    floor = shapely.union_all([polygon_of(one.outline) for one in house.room(house.spaces[space])]).buffer(_WALL_MM)
    tall = {
        stand.id: footprint(stand)
        for stand in house.by_space[space]
        if stand.thing.top_mm > EYE_MM > stand.thing.bottom_mm
    }
    found = []
    for id, name, place, size, points in (*_things(house, space), *_windows(house, space)):
        angle, away = _angle(ahead, minus(place, eye)), max(distance(eye, place), _NEAREST_MM)
        blocking = [shape for other, shape in tall.items() if other != id]
        if (
            abs(angle) <= _SIDEWAYS_DEG
            and sum(_seen(eye, point, floor, blocking) for point in points) > len(points) / 3
        ):
            where: Where = "ahead" if abs(angle) <= _AHEAD_DEG else "left" if angle > 0 else "right"
            found.append(Sight(id, name, where, size / away**2))
    names = [sight.name.casefold() for sight in found]
    return tuple(sorted((one for one in found if names.count(one.name.casefold()) == 1), key=lambda one: -one.large))


def _stance(house: House, walks: HouseWalks, space: str, before: str | None) -> tuple[Point, Point] | None:
    """Return where the eye is when one comes in, and which way it looks."""
    if before is None:
        doors = [door for door in house.doorways[space] if door.opening is not None and door.opening.entry]
    else:
        way = walks.way(before, space)
        if way is None:
            return None
        if way.last_door is None or way.last_door[1] != space:
            # The room is open to the one before: one looks from there.
            eye = walks.places[before]
            return eye, minus(walks.places[space], eye)
        doors = [door for door in house.doorways[space] if door.id == way.last_door[0]]
    return (doors[0].segment.midpoint, doors[0].segment.outward) if doors else None


def _seen(eye: Point, point: Point, floor: BaseGeometry, blocking: Sequence[Polygon]) -> bool:
    line = LineString([eye, point])
    return floor.covers(line) and not any(line.intersection(shape).length > _BLOCKED_MM for shape in blocking)


_Seen = tuple[str, str, Point, float, tuple[Point, ...]]
"""What could be seen: its id, what it is called, its middle, how large it is [mm2], and points of it to look at."""


def _things(house: House, space: str) -> Iterator[_Seen]:
    for stand in house.by_space[space]:
        thing = stand.thing
        if name := _name(stand):
            chief = thing.kind in _CHIEF or getattr(thing, "what", "") in _CHIEF
            size = max(thing.width_mm, thing.depth_mm) * max(thing.top_mm - thing.bottom_mm, _LOW_MM)
            middle, corners = (stand.box.x, stand.box.y), stand.box.polygon.exterior.coords[:4]
            points = (middle, *(((x + middle[0]) / 2, (y + middle[1]) / 2) for x, y in corners))
            yield stand.id, name, middle, size * (_CHIEF_WEIGHT if chief else 1.0), points


def _windows(house: House, space: str) -> Iterator[_Seen]:
    for door in house.doorways[space]:
        if door.opening is not None and door.opening.kind == "window" and _short(door.opening.name):
            size = door.segment.length_mm * door.opening.height_mm
            middle = door.segment.midpoint
            yield door.id, _short(door.opening.name), middle, size * _WINDOW_WEIGHT, (middle,)


def _angle(ahead: Point, towards: Point) -> float:
    """Return the angle from one direction to another, to the left above 0 [degrees]."""
    turn = ahead[0] * towards[1] - ahead[1] * towards[0]
    along = ahead[0] * towards[0] + ahead[1] * towards[1]
    return math.degrees(math.atan2(turn, along))


def _name(stand: Stand) -> str:
    """Return what a thing is called when it is worth a look; empty otherwise."""
    thing = stand.thing
    if thing.kind not in _WORTH or (isinstance(thing, Seat) and thing.what in ("chair", "stool")):
        return ""
    if (thing.kind != "screen" and thing.depth_mm < _FLAT_MM) or getattr(thing, "what", "") in _UNSAID:
        return ""
    return _short(thing.name or (thing.kind if thing.kind not in ("furniture", "furniture piece", "fixture") else ""))


def _short(name: str) -> str:
    """Return a name as one says it: what follows a comma tells it apart on paper; a numbered one is one of many."""
    said = " ".join(name.partition(",")[0].split())
    return "" if any(sign.isdigit() for sign in said) else said
