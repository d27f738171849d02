"""Perspectives on a room's page: those that are recorded, or one from where a person would stand."""

from __future__ import annotations

import math

from enfilade.drawings.perspective import in_frame, perspective
from enfilade.drawings.perspective_eye import camera_from, standing_camera, worth_seeing
from enfilade.drawings.solids import HouseSolids, house_solids
from enfilade.geometry.camera import Camera
from enfilade.geometry.points import distance
from enfilade.listing import the
from enfilade.project.doorways import Doorway
from enfilade.project.spaces import Space
from enfilade.walkthrough.filming.phrases import height_words, opening_words
from enfilade.walkthrough.pages import Drawing
from enfilade.walkthrough.telling import Telling

__all__ = ["views"]

_WIDE_PX = 1090.0
_AT_MM = 1200.0
_NEAR_MM = 2500.0
"""How near an opening, or a thing, must be for the words to name it (own choice)."""
_NAMED = 4
_AS_SEEN = ", as a person sees it"
_LEAST_SHARE = 0.004
"""What fills less of the picture is not named in its words (own choice)."""


def views(telling: Telling, space_id: str) -> tuple[Drawing, ...]:
    """Return the perspectives of a room: those that are recorded, else one where anything stands."""
    space = telling.house.spaces[space_id]
    solids = house_solids(telling.house)
    if space.views:
        drawn = []
        for view in space.views:
            eye = (view.eye.x_mm, view.eye.y_mm, view.eye.height_mm)
            camera = camera_from(eye, view.toward, view.toward_height_mm, view.width_deg)
            drawn.append(_drawing(telling, solids, space, camera, view.title))
        return tuple(drawn)
    if not worth_seeing(solids.rooms[space_id]):
        return ()
    camera_ = standing_camera(solids, space_id)
    return () if camera_ is None else (_drawing(telling, solids, space, camera_, ""),)


def _drawing(telling: Telling, solids: HouseSolids, space: Space, camera: Camera, title: str) -> Drawing:
    where = _where(telling, solids, camera, space)
    own = title.removesuffix(_AS_SEEN).rstrip(". ")
    heading = title or f"{space.name}{_AS_SEEN}"
    shown = [
        telling.names[id]
        for id, share in in_frame(solids, camera).items()
        if id in solids.bodies and id in telling.names and share > _LEAST_SHARE
    ]
    what = f" In the picture: {', '.join(dict.fromkeys(shown[:_NAMED]))}." if shown else ""
    svg = perspective(
        solids,
        camera,
        filled=True,
        title=heading,
        alt=f"Perspective of {space.name}, seen {where}.{what}",
        width_px=_WIDE_PX,
    )
    # A view without a title of its own is told in one breath: seeing is not said twice.
    told = f"{own}. Seen {where}" if own and own != space.name else f"{space.name}, seen {where}"
    return Drawing(f"{told}. Drawn from the record, in the recorded finishes.", svg)


def _where(telling: Telling, solids: HouseSolids, camera: Camera, space: Space) -> str:
    """Return in words where the eye stands: near what, how high, and in which room when that is another."""
    x, y, z = camera.eye
    height = f"{height_words(z, telling.project.show.units)} above the floor"
    room = solids.space_at((x, y))
    if room is None:
        return f"from outside the rooms, {height}"
    near = _nearest(telling, solids, room, (x, y))
    if room != space.id:
        return ", ".join(part for part in (f"from {telling.house.spaces[room].name}", near, height) if part)
    return f"{near}, {height}" if near else f"from {height}"


def _nearest(telling: Telling, solids: HouseSolids, room: str, eye: tuple[float, float]) -> str:
    """Return what the eye stands near to: an opening first, then a thing."""
    doors = [
        (distance(eye, door.segment.midpoint), _way(telling, door))
        for door in telling.house.doorways[room]
        if door.opening is not None
    ]
    ways = [(far, words) for far, words in doors if words and far < _AT_MM]
    if ways:
        return min(ways)[1]
    stands = [body.stand for body in worth_seeing(solids.rooms[room]) if body.stand is not None]
    close = [
        (far, telling.names[stand.id])
        for stand in stands
        if telling.names.get(stand.id) and (far := math.dist(eye, (stand.box.x, stand.box.y))) < _NEAR_MM
    ]
    return f"near {the(min(close)[1])}" if close else ""


def _way(telling: Telling, door: Doorway) -> str:
    """Return what it is to stand at an opening, in words."""
    if door.passage and door.beyond is not None:
        return f"at the way to {telling.house.spaces[door.beyond].name}"
    name = telling.names.get(door.id, "")
    return f"at {the(opening_words(name, door.opening.kind if door.opening else 'opening'))}" if name else ""
