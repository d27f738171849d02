"""Stretches of a wall: what stands along it and opens in it, and what is left between."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import shapely

from enfilade.editing.things.house import House
from enfilade.geometry.fronts import open_spans
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.doorways import PASSAGES
from enfilade.project.placing import AgainstWall
from enfilade.project.spaces import Opening
from enfilade.project.standing import Stand
from enfilade.project.surfaces import Seat

__all__ = ["LOOSE", "Ends", "Stretch", "Taken", "free_stretches", "taken_on", "takes_wall", "things_along"]

_THIN: Final = {"rug", "light", "receptacle", "switch", "window treatment", "extinguisher"}
"""Kinds that take nothing away from a wall."""
LOOSE: Final = {"seat", "furniture", "table", "rug"}
"""Kinds that are moved aside by hand."""
_SHORTEST_MM: Final = 10.0


Ends = Literal["corner", "thing", "other", "opening"]


@dataclass(frozen=True, slots=True)
class Taken:
    """A stretch of a wall where something stands or opens, from the wall's left end [mm].

    Attributes:
        what: `thing` on this wall, `other` for a thing that stands elsewhere and reaches here, or `opening`.
    """

    start_mm: float
    end_mm: float
    id: str
    called: str
    what: Literal["thing", "other", "opening"]


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of a wall on which nothing stands.

    Attributes:
        wall: Id of the wall.
        start_mm, end_mm: From the wall's left end, as seen from inside.
        left, right: What ends it: people's words for the thing or opening, or `corner`.
        left_what, right_what: Whether that is a `corner`, an `opening`, or a `thing` on this or `other` walls.
    """

    wall: str
    start_mm: float
    end_mm: float
    left: str
    right: str
    left_what: Ends = "corner"
    right_what: Ends = "corner"

    @property
    def length_mm(self) -> float:
        """Return how long it is."""
        return round(self.end_mm - self.start_mm, 6)


def taken_on(
    house: House, wall: str, *, depth_mm: float, bottom_mm: float, top_mm: float, without: Container[str] = ()
) -> list[Taken]:
    """Return what stands along a wall or opens in it within a depth and a height range, from left to right.

    Args:
        depth_mm: How far before the wall is looked, above 0.
        bottom_mm, top_mm: Heights between which something is to stand.
        without: Ids that do not count.
    Raises:
        NotFound: No such wall.
    """
    found = [*_openings(house, wall, bottom_mm, top_mm), *things_along(house, wall, depth_mm, bottom_mm, top_mm)]
    return sorted((one for one in found if one.id not in without), key=lambda one: (one.start_mm, one.end_mm))


def free_stretches(
    house: House,
    wall: str,
    *,
    depth_mm: float,
    bottom_mm: float,
    top_mm: float,
    without: Container[str] = (),
    taken: Sequence[Taken] | None = None,
) -> list[Stretch]:
    """Return the stretches of a wall that are left, from left to right.

    Args:
        depth_mm, bottom_mm, top_mm, without: As for `taken_on`.
        taken: What ends a stretch, when that is not all of it.
    Raises:
        NotFound: No such wall.
    """
    length_mm = house.line(wall).length_mm
    if taken is None:
        taken = taken_on(house, wall, depth_mm=depth_mm, bottom_mm=bottom_mm, top_mm=top_mm, without=without)
    spans = [(one.start_mm, one.end_mm) for one in taken]
    found = []
    for start, end in open_spans((0.0, length_mm), spans, _SHORTEST_MM):
        left = max((one for one in taken if one.end_mm <= start + TOLERANCE_MM), key=_end, default=None)
        right = min((one for one in taken if one.start_mm >= end - TOLERANCE_MM), key=_start, default=None)
        left = None if start <= TOLERANCE_MM else left
        right = None if end >= length_mm - TOLERANCE_MM else right
        found.append(
            Stretch(
                wall,
                start,
                end,
                left.called if left else "corner",
                right.called if right else "corner",
                left.what if left else "corner",
                right.what if right else "corner",
            )
        )
    return found


def things_along(house: House, wall: str, depth_mm: float, bottom_mm: float, top_mm: float) -> Iterator[Taken]:
    """Yield what stands within a depth before a wall and shares a height range, in the order of the record."""
    line, space = house.line(wall), house.owner(wall).id
    # What only touches the strip, beside it or before it, is not in it.
    strip = line.moved(TOLERANCE_MM).strip(
        max(depth_mm - 2 * TOLERANCE_MM, TOLERANCE_MM),
        TOLERANCE_MM,
        max(line.length_mm - TOLERANCE_MM, 2 * TOLERANCE_MM),
    )
    for stand in house.things_in(*house.rooms[space]):
        if not takes_wall(stand) or not _shares(stand, bottom_mm, top_mm):
            continue
        inside = shapely.get_coordinates(house.footprint(stand.id).intersection(strip)).tolist()
        places = [line.place((x, y))[0] for x, y in inside]
        if not places or max(places) - min(places) <= TOLERANCE_MM:
            continue
        place = stand.thing.place
        if isinstance(place, AgainstWall) and place.wall == wall:
            left = place.offset_mm if place.from_end == "left" else None
            start = left if left is not None else line.length_mm - place.offset_mm - stand.thing.width_mm
            yield Taken(start, start + stand.thing.width_mm, stand.id, stand.thing.called, "thing")
        else:
            # The strip was drawn in; what reaches its end reaches the end of the wall.
            start = 0.0 if min(places) <= 2 * TOLERANCE_MM else min(places)
            far = max(places) >= line.length_mm - 2 * TOLERANCE_MM
            end = line.length_mm if far else max(places)
            yield Taken(round(start, 6), round(end, 6), stand.id, stand.thing.called, "other")


def takes_wall(stand: Stand) -> bool:
    """Tell whether a thing takes room along a wall; chairs, stools and what is thin do not."""
    thing = stand.thing
    return thing.kind not in _THIN and not (isinstance(thing, Seat) and thing.what in ("chair", "stool"))


def _shares(stand: Stand, bottom_mm: float, top_mm: float) -> bool:
    return min(stand.thing.top_mm, top_mm) - max(stand.thing.bottom_mm, bottom_mm) > TOLERANCE_MM


def _openings(house: House, wall: str, bottom_mm: float, top_mm: float) -> Iterator[Taken]:
    line = house.line(wall)
    for door in house.doors[house.owner(wall).id]:
        opening = door.opening
        if door.wall != wall or opening is None or opening.kind == "skylight":
            continue
        low, high = opening.sill_mm, opening.sill_mm + opening.height_mm
        # Nothing stands in a way through, however low it is.
        passage = opening.kind in PASSAGES
        if passage or min(high, top_mm) - max(low, bottom_mm) > TOLERANCE_MM:
            start, end = line.place(door.segment.a)[0], line.place(door.segment.b)[0]
            yield Taken(
                round(max(0.0, start), 6),
                round(min(line.length_mm, end), 6),
                opening.id,
                _called(opening),
                "opening",
            )


def _called(opening: Opening) -> str:
    """Return what people call an opening; where its name does not say what it is, its kind first."""
    says = opening.kind.rpartition(" ")[2] in opening.name.lower()
    return (opening.name if says else f"{opening.kind} “{opening.name}”") if opening.name else opening.kind


def _end(taken: Taken) -> float:
    return taken.end_mm


def _start(taken: Taken) -> float:
    return taken.start_mm
