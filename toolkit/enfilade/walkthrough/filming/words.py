"""A planned shot in words: where the camera stands, how it moves, what is wrong and what would help."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Final

import numpy as np

from enfilade.checks.shown import Names
from enfilade.geometry.points import Point
from enfilade.lengths import System, show_length
from enfilade.trade.lens import field_of_view_deg
from enfilade.walkthrough.filming.camera import FULL, Setup
from enfilade.walkthrough.filming.ground import CAMERA_RADIUS_MM, Ground
from enfilade.walkthrough.filming.planner import Planned

__all__ = ["Teller", "lens_words"]

_MOVABLE: Final = {"seat", "furniture", "waste", "table", "rug", "light"}
_TRACK_MM: Final = 1200.0
_LOWER_MM: Final = 450.0
_WIDEST_MM: Final = 8.0
_LONG_MM: Final = 3000.0


def lens_words(focal_mm: float) -> str:
    """Write a focal length.

    >>> lens_words(24.0), lens_words(13.5)
    ('24 mm', '13.5 mm')
    """
    return f"{focal_mm:g} mm"


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
            parts.append(f"{self._long(_away(setup, planned))} from {_the(planned.name)}")
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
            yield f"{self._long(off)} from {_the(name)}"

    def _level(self, setup: Setup) -> str:
        if setup.pitch_deg:
            way = "up" if setup.pitch_deg > 0 else "down"
            return f"tilted {way} by {abs(setup.pitch_deg):.0f}°, so that upright lines run together"
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
            low = max(300.0, setup.eye[2] - _LOWER_MM)
            return f"pedestal up from {self._high(low)} to {self._high(setup.eye[2])}"
        longer = [lens for lens in planned.kit.lenses_mm if lens > setup.focal_mm]
        to = longer[0] if longer else 1.5 * setup.focal_mm
        return f"zoom in from {lens_words(setup.focal_mm)} to {lens_words(to)}"

    def _turned(self, planned: Planned, setup: Setup) -> str:
        across = planned.shot.move == "pan"
        side = planned.kit.width_mm if across else planned.kit.height_mm
        field = field_of_view_deg(side, setup.focal_mm)
        extent = _extent_deg(setup, planned, across=across)
        # A subject that fits is come upon from the side; a larger one is passed over from end to end.
        over = max(5, round(max(extent - 0.9 * field, field / 3) / 5) * 5)
        words = "pan from left to right" if across else "tilt up"
        rests = f", coming to rest on {_the(planned.name)}" if 0 < extent < 0.9 * field else ""
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

    # What is wrong

    def trouble(self, planned: Planned) -> str:
        """Return why a shot does not show what it should, and what would help; empty when it does."""
        if planned.works:
            return ""
        if planned.setup is None and len(self.ground.places(planned.space)):
            return (
                f"No camera can stand before {_the(planned.name)}: what it shows is turned away from every free place. "
                "Give the camera a place, or show the room."
            )
        if planned.setup is None:
            wide = self._long(2 * CAMERA_RADIUS_MM)
            return (
                f"Nowhere in {self._rooms[planned.space]} is a circle of floor {wide} wide free, in which a camera and "
                "a person can stand. Move something out for the shot, or give the camera a place."
            )
        return " ".join(self._troubles(planned, planned.setup))

    def _troubles(self, planned: Planned, setup: Setup) -> Iterator[str]:
        inside = [id for id, within in planned.stuck_in if within]
        if inside:
            yield f"The camera stands in {_the(self.names.one(inside[0]))}. Give it another place."
        elif planned.fixed and planned.stands_in is None:
            yield "The camera stands outside every room. Give it a place in one."
        if planned.seen is None:
            if planned.share < planned.least:
                yield self._room_too_tight(planned, setup)
            return
        if not planned.fits:
            yield self._too_big(planned, setup)
        if planned.seen.missing and len(planned.seen.missing) < len(planned.subject.ids if planned.subject else ()):
            lost = " and ".join(map(_the, self.names.of(*planned.seen.missing[:3])))
            yield f"Nothing is seen of {lost} from there."
        if not planned.seen.enough and planned.fits:
            yield self._hidden(planned)

    def _room_too_tight(self, planned: Planned, setup: Setup) -> str:
        lens = "The lens asked for" if planned.shot.focal_mm else "The widest lens at hand"
        place = "there" if planned.fixed else "the best place where a camera can stand"
        share = f"{planned.share:.0%} of the floor of {planned.name}"
        says = f"{lens}, {lens_words(planned.kit.lenses_mm[0])}, sees {share} from {place}"
        if planned.better_mm is not None:
            return f"{says}; a {lens_words(planned.better_mm)} lens would see {planned.least:.0%}."
        return f"{says}, and no wider lens would see {planned.least:.0%}. Show it in two shots, or ask a closer size."

    def _too_big(self, planned: Planned, setup: Setup) -> str:
        whole, sees, tall = _sizes(planned, setup)
        lens = "The lens asked for" if planned.shot.focal_mm else "The widest lens at hand"
        place = "there" if planned.fixed else "the farthest place where a camera can stand"
        of = "height" if tall else "width"
        if setup.fills <= 0:
            name = _sentence(_the(planned.name))
            return f"{name} lies behind the camera or turns its back to it. Give the camera another place."
        says = (
            f"{lens}, {lens_words(setup.focal_mm)}, sees {self._long(sees)} of the {self._long(whole)} of its {of} "
            f"at {place}"
        )
        needed = math.floor(setup.focal_mm * FULL / setup.fills)
        if needed >= _WIDEST_MM:
            return f"{says}; a {lens_words(needed)} lens would do."
        move = "tilt" if tall else "pan"
        return f"{says}. No lens that keeps lines straight would do; {move} across it, or show it in two shots."

    def _hidden(self, planned: Planned) -> str:
        seen = planned.seen
        assert seen is not None
        if seen.share <= 0 and not seen.hidden_by:
            return f"{_sentence(_the(planned.name))} turns its back to the camera, or lies out of the picture."
        best = "" if planned.fixed else " at best"
        if not seen.hidden_by:
            part = f"{seen.share:.0%} of {_the(planned.name)} is in the picture{best}"
            return f"{part}. Turn the camera, or take a wider lens."
        ids = [id for id, _ in seen.hidden_by[:2]]
        hides = " and ".join(map(_the, self.names.of(*ids)))
        verb = "hide" if len(ids) > 1 else "hides"
        says = f"{hides[:1].upper()}{hides[1:]} {verb} part of {_the(planned.name)}: {seen.share:.0%} is seen{best}."
        movable = [id for id in ids if self._kind(id) in _MOVABLE]
        if movable:
            return f"{says} Move {' and '.join(map(_the, self.names.of(*movable)))} aside for the shot."
        return f"{says} Show less of it, or show it in two shots."

    def _kind(self, id: str) -> str:
        stand = self.ground.house.standing.get(id)
        return stand.thing.kind if stand is not None else ""

    def notes(self, planned: Planned) -> tuple[str, ...]:
        """Return what whoever films should know, besides what was noted by hand."""
        found = []
        if not planned.asked:
            found.append("What it should show does not stand in the house; the room is shown.")
        if planned.setup is not None and planned.stands_in is not None and not planned.fixed:
            if planned.stands_in not in self.ground.room(planned.space):
                found.append(self._from_elsewhere(planned, planned.stands_in))
            found += self._height_note(planned, planned.setup)
        for id, inside in planned.stuck_in:
            if not inside:
                found.append(f"The camera is over {_the(self.names.one(id))}: it needs an arm.")
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

    def _height_note(self, planned: Planned, setup: Setup) -> list[str]:
        usual = self.ground.house.project.show.filming.camera_height_mm
        if abs(setup.eye[2] - usual) < 1.0:
            return []
        way = "higher" if setup.eye[2] > usual else "lower"
        off = self._long(abs(setup.eye[2] - usual))
        return [f"The lens is {off} {way} than usual, to see it clear of what is before it."]

    def _high(self, value_mm: float) -> str:
        return show_length(value_mm if self.system == "metric" else round(value_mm / 25.4) * 25.4, self.system)

    def _long(self, value_mm: float) -> str:
        """Write a distance as it is read: metres with one decimal when it is long and metric, to the inch in feet."""
        if self.system == "metric":
            return f"{value_mm / 1000:.1f} m" if value_mm >= 1000 else f"{round(value_mm / 10) * 10:.0f} mm"
        return show_length(round(value_mm / 25.4) * 25.4, "us")


def _away(setup: Setup, planned: Planned) -> float:
    assert planned.subject is not None
    gaps = np.hypot(*(planned.subject.points[:, :2] - np.array(setup.eye[:2])).T)
    return float(gaps.min())


def _extent_deg(setup: Setup, planned: Planned, *, across: bool) -> float:
    """Return the angle that a subject takes up, across or upright; 0 for a room."""
    if planned.subject is None:
        return 0.0
    to = planned.subject.points - np.array(setup.eye)
    yaw = math.radians(setup.yaw_deg)
    ahead = to[:, 0] * math.cos(yaw) + to[:, 1] * math.sin(yaw)
    aside = to[:, 0] * math.sin(yaw) - to[:, 1] * math.cos(yaw)
    angle = np.degrees(np.arctan2(aside if across else to[:, 2], np.abs(ahead) if not across else ahead))
    return float(angle.max() - angle.min())


def _sizes(planned: Planned, setup: Setup) -> tuple[float, float, bool]:
    """Return the size of a subject that is too big, how much of it is seen [mm], and whether that is its height."""
    assert planned.subject is not None
    points = planned.subject.points
    yaw = math.radians(setup.yaw_deg)
    right: Point = (math.sin(yaw), -math.cos(yaw))
    wide = points[:, :2] @ np.array(right)
    extents = _extent_deg(setup, planned, across=True), _extent_deg(setup, planned, across=False)
    fields = (
        field_of_view_deg(planned.kit.width_mm, setup.focal_mm),
        field_of_view_deg(planned.kit.height_mm, setup.focal_mm),
    )
    tall = extents[1] / fields[1] > extents[0] / fields[0]
    whole = float(np.ptp(points[:, 2]) if tall else np.ptp(wide))
    return whole, whole * min(1.0, FULL / max(setup.fills, FULL)), tall


def _the(name: str) -> str:
    """Put the article before a name that takes one.

    >>> _the("sink"), _the("the old bench"), _the("maker A's oven"), _the("chair 6, land side")
    ('the sink', 'the old bench', "maker A's oven", 'chair 6, land side')
    """
    first = name.split(" ", 1)[0] if name else ""
    own = first.lower() in ("the", "a", "an") or first.endswith(("'s", "’s"))
    return name if own or re.search(r"\s\d+\b", name) else f"the {name}"


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]
