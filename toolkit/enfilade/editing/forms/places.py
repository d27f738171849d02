"""Another way of standing, with the thing left where it stands as well as can be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from enfilade.editing.forms.field_shape import tag_word
from enfilade.editing.quoting import quoted
from enfilade.errors import Refused
from enfilade.geometry.boxes import Box, Segment
from enfilade.geometry.points import distance, dot
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.project import Project
from enfilade.project.standing import Stand, side_of, stands, wall_segments
from enfilade.project.thing import Thing

__all__ = ["place_another_way", "turned_round"]

_DIGITS: Final = 3
_SIDES: Final = ("front", "right", "back", "left")


def place_another_way(project: Project, thing: Thing, how: str) -> Free | AgainstWall | SetIn:
    """Return where a thing stands, told in another way: `free`, `wall` or `set in`.

    Against a wall it takes the wall of its room that its back is nearest to and most nearly along; set in another, the
    thing of its room under its middle, or else the nearest that may carry it. Where the new way allows no other turn,
    the middle of the thing stays.

    Raises:
        Refused: There is no such way, or nothing to stand against or in.
    """
    if how == tag_word(type(thing.place))[1]:
        return thing.place
    lines = wall_segments(project.spaces)
    standing = stands(project.things, lines)
    box = standing[thing.id].box
    if how == "free":
        turn = round((box.turn_deg + 180) % 360 - 180, 6)
        return Free(x_mm=round(box.x, _DIGITS), y_mm=round(box.y, _DIGITS), turn_deg=turn)
    if how == "wall":
        return _against(project, thing, box, lines)
    if how == "set in":
        return _set_in(thing, box, standing)
    raise Refused(f"{quoted(how)} is no way to stand", expected="free, against a wall, or set in another thing")


def turned_round(offset_mm: float, width_mm: float, length_mm: float) -> float:
    """Return the offset of the same place from the other end of its wall [mm]."""
    return round(length_mm - offset_mm - width_mm, 9)


def _against(project: Project, thing: Thing, box: Box, lines: Mapping[str, Segment]) -> AgainstWall:
    space = project.space(thing.space)
    walls = [wall.id for wall in space.walls if not wall.open] or [wall.id for wall in space.walls]

    def away(id: str) -> tuple[float, float]:
        line = lines[id]
        # The back of a thing stands to a wall when both face the same way.
        askew = 1 - dot(line.outward, box.outward)
        return round(askew, 2), abs(line.place((box.x, box.y))[1])

    wall = min(walls, key=away)
    along, out = lines[wall].place((box.x, box.y))
    return AgainstWall(
        wall=wall,
        offset_mm=round(along - thing.width_mm / 2, _DIGITS),
        gap_mm=round(out - thing.depth_mm / 2, _DIGITS),
    )


def _set_in(thing: Thing, box: Box, standing: Mapping[str, Stand]) -> SetIn:
    below = _all_in(thing.id, standing)
    hosts = [one for one in standing.values() if one.thing.space == thing.space and one.id not in below]
    if not hosts:
        raise Refused("nothing else stands in this room", expected="a thing that carries it, such as a counter")
    host = min(hosts, key=lambda one: _fit(one, thing, box))
    side = max(_SIDES, key=lambda name: round(dot(side_of(host.box, name).outward, box.outward), 6))
    along, out = side_of(host.box, side).place((box.x, box.y))
    return SetIn(
        host=host.id,
        side=side,
        offset_mm=round(along - thing.width_mm / 2, _DIGITS),
        setback_mm=round(-out - thing.depth_mm / 2, _DIGITS),
    )


def _fit(host: Stand, thing: Thing, box: Box) -> tuple[bool, float, float, float]:
    """Return how well a thing carries another: under its middle, at its height, no larger than need be, near."""
    x, y = host.box.front.place((box.x, box.y))
    area = host.box.width_mm * host.box.depth_mm
    holds = 0 <= x <= host.box.width_mm and -host.box.depth_mm <= y <= 0 and area >= box.width_mm * box.depth_mm
    # A sink ends at the top that it is set in; what stands on a top begins there.
    apart = min(abs(host.thing.top_mm - thing.top_mm), abs(host.thing.top_mm - thing.bottom_mm))
    far = distance((host.box.x, host.box.y), (box.x, box.y))
    return not holds, apart if holds else far, area, far


def _all_in(id: str, standing: Mapping[str, Stand]) -> set[str]:
    """Return a thing and all that is set in it, which it can never be set in itself."""
    found = {id}
    while True:
        more = {
            one.id
            for one in standing.values()
            if isinstance(one.thing.place, SetIn) and one.thing.place.host in found and one.id not in found
        }
        if not more:
            return found
        found |= more
