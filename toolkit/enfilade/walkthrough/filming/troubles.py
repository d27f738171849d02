"""Why a shot does not show what it should, and what would help."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from enfilade.checks.shown import Names
from enfilade.lengths import System
from enfilade.listing import capital, the
from enfilade.trade.lens import field_of_view_deg
from enfilade.walkthrough.filming.camera import FULL, Setup
from enfilade.walkthrough.filming.ground import CAMERA_RADIUS_MM, Ground
from enfilade.walkthrough.filming.phrases import lens_words, long_words, percent
from enfilade.walkthrough.filming.planner import Planned

__all__ = ["Troubles"]

_MOVABLE: Final = {"seat", "furniture", "waste", "table", "rug", "light"}
_WIDEST_MM: Final = 8.0


class Troubles:
    """Tells what is wrong with shots.

    Args:
        ground: The house.
        names: What people call things, openings and walls, by id.
        system: Units for reading.
    """

    def __init__(self, ground: Ground, names: Names, system: System) -> None:
        self.ground, self.names, self.system = ground, names, system
        self._rooms = {space.id: space.name for space in ground.house.spaces.values()}

    def trouble(self, planned: Planned) -> str:
        """Return why a shot does not show what it should, and what would help; empty when it does."""
        if planned.works:
            return ""
        if planned.setup is None and len(self.ground.places(planned.space)):
            return (
                f"No camera can stand before {the(planned.name)}: what it shows is turned away from every free place. "
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
            yield f"The camera stands in {the(self.names.one(inside[0]))}. Give it another place."
        elif planned.fixed and planned.stands_in is None:
            yield "The camera stands outside every room. Give it a place in one."
        if planned.seen is None:
            if planned.share < planned.least:
                yield self._room_too_tight(planned, setup)
            return
        if not planned.fits:
            yield self._too_big(planned, setup)
        if planned.seen.missing and len(planned.seen.missing) < len(planned.subject.ids if planned.subject else ()):
            lost = " and ".join(map(the, self.names.of(*planned.seen.missing[:3])))
            yield f"Nothing is seen of {lost} from there."
        if not planned.seen.enough and planned.fits:
            yield self._hidden(planned)

    def _room_too_tight(self, planned: Planned, setup: Setup) -> str:
        widest = setup.focal_mm <= planned.kit.lenses_mm[0]
        lens = (
            "The lens asked for" if planned.shot.focal_mm else "The widest lens at hand" if widest else "A lens at hand"
        )
        place = "there" if planned.fixed else "the best place where a camera can stand"
        share = f"{percent(planned.share)} of the floor of {planned.name}"
        says = f"{lens}, {lens_words(setup.focal_mm)}, sees {share} from {place}"
        if planned.better_mm is not None:
            return f"{says}; a {lens_words(planned.better_mm)} lens would see {planned.least:.0%}."
        return f"{says}, and no wider lens would see {planned.least:.0%}. Show it in two shots, or ask a closer size."

    def _too_big(self, planned: Planned, setup: Setup) -> str:
        whole, sees, tall = _sizes(planned, setup)
        lens = "The lens asked for" if planned.shot.focal_mm else "The widest lens at hand"
        place = "there" if planned.fixed else "the farthest place where a camera can stand"
        of = "height" if tall else "width"
        if setup.fills <= 0:
            name = capital(the(planned.name))
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
            return f"{capital(the(planned.name))} turns its back to the camera, or lies out of the picture."
        best = "" if planned.fixed else " at best"
        if not seen.hidden_by:
            part = f"{percent(seen.share)} of {the(planned.name)} is in the picture{best}"
            return f"{part}. Turn the camera, or take a wider lens."
        ids = [id for id, _ in seen.hidden_by[:2]]
        hides = " and ".join(map(the, self.names.of(*ids)))
        verb = "hide" if len(ids) > 1 else "hides"
        says = f"{capital(hides)} {verb} part of {the(planned.name)}: {percent(seen.share)} is seen{best}."
        movable = [id for id in ids if self._kind(id) in _MOVABLE]
        if movable:
            return f"{says} Move {' and '.join(map(the, self.names.of(*movable)))} aside for the shot."
        return f"{says} Show less of it, or show it in two shots."

    def _kind(self, id: str) -> str:
        stand = self.ground.house.standing.get(id)
        return stand.thing.kind if stand is not None else ""

    def _long(self, value_mm: float) -> str:
        return long_words(value_mm, self.system)


def _sizes(planned: Planned, setup: Setup) -> tuple[float, float, bool]:
    """Return the size of a subject that is too big, how much of it is seen [mm], and whether that is its height."""
    assert planned.subject is not None
    points = planned.subject.points
    yaw = math.radians(setup.yaw_deg)
    right = np.array([math.sin(yaw), -math.cos(yaw)])
    wide = points[:, :2] @ right
    extents = tuple(setup.extent_deg(planned.subject, across=across) for across in (True, False))
    fields = (
        field_of_view_deg(planned.kit.width_mm, setup.focal_mm),
        field_of_view_deg(planned.kit.height_mm, setup.focal_mm),
    )
    tall = extents[1] / fields[1] > extents[0] / fields[0]
    whole = float(np.ptp(points[:, 2]) if tall else np.ptp(wide))
    return whole, whole * min(1.0, FULL / max(setup.fills, FULL)), tall
