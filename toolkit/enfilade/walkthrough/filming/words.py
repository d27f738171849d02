"""A planned shot in words: where the camera stands, how it is set, how it moves, and what to know besides."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from enfilade.checks.shown import Names
from enfilade.lengths import System
from enfilade.listing import the
from enfilade.trade.lens import field_of_view_deg
from enfilade.walkthrough.filming.camera import Setup
from enfilade.walkthrough.filming.ground import Ground
from enfilade.walkthrough.filming.phrases import (
    degrees_words,
    height_words,
    lens_words,
    long_words,
    wall_words,
)  # fmt: skip
from enfilade.walkthrough.filming.planner import Planned

__all__ = ["Teller"]

_TRACK_MM: Final = 1200.0
_LOWER_MM: Final = 450.0
_LOWEST_MM: Final = 300.0


class Teller:
    """Puts shots into words.

    Args:
        ground: The house.
        names: What people call everything, by id.
        system: Units for reading.
    """

    def __init__(self, ground: Ground, names: Names, system: System) -> None:
        self.ground, self.names, self.system = ground, names, system
        self._rooms = {space.id: space.name for space in ground.house.spaces.values()}

    # Where

    def where(self, planned: Planned) -> str:
        """Return where the camera stands, how high, and how it is set."""
        setup = planned.setup
        if setup is None:
            return ""
        room = self._rooms[planned.stands_in] if planned.stands_in is not None else "Outside every room"
        walls = " and ".join(self._from_walls(planned, setup))
        parts = [f"{room}, {walls}" if walls else room]
        if planned.subject is not None:
            parts.append(f"{self._long(_away(setup, planned))} from {the(planned.name)}")
        parts += [f"lens {self._high(setup.eye[2])} above the floor", self._level(setup)]
        return "; ".join(parts) + "."

    def _from_walls(self, planned: Planned, setup: Setup) -> Iterator[str]:
        """Yield the distances to the two nearest walls that stand at an angle to each other: where to put the foot."""
        if planned.stands_in is None:
            return
        space = self.ground.house.spaces[planned.stands_in]
        near = []
        for wall in space.walls:
            line = self.ground.house.lines[wall.id]
            along, off = line.place(setup.eye[:2])
            if not wall.open and off > 0 and 0 <= along <= line.length_mm:
                near.append((round(off, 3), wall.id, line.direction))
        near.sort(key=lambda one: (one[0], one[1]))
        chosen = near[:1]
        chosen += [one for one in near[1:] if abs(one[2][0] * near[0][2][0] + one[2][1] * near[0][2][1]) < 0.5][:1]
        named = self.names.of(*(wall for _, wall, _ in chosen))
        for (off, *_), name in zip(chosen, named, strict=True):
            yield f"{self._long(off)} from {the(wall_words(name))}"

    def _level(self, setup: Setup) -> str:
        if abs(setup.pitch_deg) > 0.05:
            way = "up" if setup.pitch_deg > 0 else "down"
            return f"tilted {way} by {degrees_words(abs(setup.pitch_deg))}, so that upright lines run together"
        if abs(setup.shift_mm) > 0.05:
            way = "up" if setup.shift_mm > 0 else "down"
            return f"level, shifted {way} by {abs(setup.shift_mm):.1f} mm, which the spare height of the sensor allows"
        return "level"

    # How it moves

    def move(self, planned: Planned) -> str:
        """Return the move with its figures."""
        setup, move = planned.setup, planned.shot.move
        if setup is None or move == "still":
            return move
        if move in ("pan", "tilt"):
            return self._turned(planned, setup)
        if move == "track":
            left, right = self._free_beside(planned, setup)
            if left + right < 150.0:
                return "track: no free floor beside the camera to move on"
            return f"track from left to right over {self._long(left + right)}"
        if move == "pedestal":
            low = max(min(_LOWEST_MM, setup.eye[2] / 2), setup.eye[2] - _LOWER_MM)
            return f"pedestal up from {self._high(low)} to {self._high(setup.eye[2])}"
        longer = [lens for lens in planned.kit.lenses_mm if lens > setup.focal_mm]
        to = longer[0] if longer else 1.5 * setup.focal_mm
        return f"zoom in from {lens_words(setup.focal_mm)} to {lens_words(to)}"

    def _turned(self, planned: Planned, setup: Setup) -> str:
        across = planned.shot.move == "pan"
        side = planned.kit.width_mm if across else planned.kit.height_mm
        field = field_of_view_deg(side, setup.focal_mm)
        extent = setup.extent_deg(planned.subject, across=across)
        # A subject that fits is come upon from the side; a larger one is passed over from end to end.
        over = max(5, round(max(extent - 0.9 * field, field / 3) / 5) * 5)
        words = "pan from left to right" if across else "tilt up"
        rests = f", coming to rest on {the(planned.name)}" if 0 < extent < 0.9 * field else ""
        return f"{words} over {over}°{rests}"

    def _free_beside(self, planned: Planned, setup: Setup) -> tuple[float, float]:
        """Return how far a camera can move to its left and to its right on free floor, at most half a track each."""
        if planned.stands_in is None:
            return 0.0, 0.0
        yaw = math.radians(setup.yaw_deg)
        right = np.array([math.sin(yaw), -math.cos(yaw)])
        steps = np.arange(1, int(_TRACK_MM / 2 / 25) + 1)[:, None] * 25.0
        ways = []
        for way in (-1, 1):
            free = self.ground.free(planned.stands_in, np.array(setup.eye[:2]) + way * steps * right)
            ways.append(float(25.0 * (len(free) if free.all() else int(np.argmin(free)))))
        return ways[0], ways[1]

    def notes(self, planned: Planned) -> tuple[str, ...]:
        """Return what whoever films should know, besides what was noted by hand."""
        found = []
        if not planned.asked:
            found.append("What it should show does not stand in the house; the room is shown.")
        if planned.setup is not None and planned.stands_in is not None and not planned.fixed:
            if planned.stands_in not in self.ground.room(planned.space):
                found.append(self._from_elsewhere(planned, planned.stands_in))
            found += self._height_note(planned.setup)
        for id, inside in planned.stuck_in:
            if not inside:
                found.append(f"The camera is over {the(self.names.one(id))}: it needs an arm.")
        if planned.seen is not None and planned.works and planned.setup is not None:
            fills = planned.setup.fills
            if planned.size.part >= 1 and fills > 1.3 * planned.size.fills:
                found.append(f"It fills {fills:.0%} of the picture, more than asked: there is no place farther away.")
        return tuple(found)

    def _from_elsewhere(self, planned: Planned, stands_in: str) -> str:
        room = self._rooms[stands_in]
        home = planned.subject.spaces if planned.subject is not None else (planned.space,)
        if stands_in in {one for space in home for one in self.ground.room(space)}:
            return f"It stands in {room}, where the camera goes for it."
        return f"From {room}, through the doorway: {self._rooms[home[0]]} is too small for it."

    def _height_note(self, setup: Setup) -> list[str]:
        usual = self.ground.house.project.show.filming.camera_height_mm
        if abs(setup.eye[2] - usual) < 1.0:
            return []
        way = "higher" if setup.eye[2] > usual else "lower"
        off = self._long(abs(setup.eye[2] - usual))
        return [f"The lens is {off} {way} than usual, to see it clear of what is before it."]

    def _long(self, value_mm: float) -> str:
        return long_words(value_mm, self.system)

    def _high(self, value_mm: float) -> str:
        return height_words(value_mm, self.system)


def _away(setup: Setup, planned: Planned) -> float:
    assert planned.subject is not None
    gaps = np.hypot(*(planned.subject.points[:, :2] - np.array(setup.eye[:2])).T)
    return float(gaps.min())
