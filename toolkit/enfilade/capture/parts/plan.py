"""The plan that can be handled: the same display list as the drawings, and what of it a hand may take."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.scenes import room_scene
from enfilade.capture.sight import Sight, number_of, text_of
from enfilade.drawings.items import Dimension
from enfilade.drawings.numbering import tags_on
from enfilade.drawings.part import Part
from enfilade.drawings.svg import svg_and_names
from enfilade.drawings.wording import opening_title, thing_title
from enfilade.editing.things.clear_round import TOPS, counts_round, hangs
from enfilade.editing.things.house import House
from enfilade.editing.things.place_words import place_words
from enfilade.errors import NotFound, Refused
from enfilade.geometry.boxes import Box, ellipse
from enfilade.project.placing import AgainstWall, SetIn
from enfilade.project.project import Project
from enfilade.project.surfaces import Table
from enfilade.project.thing import Thing

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "plan"
_WIDEST_PX: Final = 6000.0
_NARROW_PX: Final = 560.0
_OPENING_DEPTH_MM: Final = 150.0


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the drawing, and every body on it with its place in house coordinates [mm]."""
    project = desk.project
    if sight.room is None:
        return {"room": "", "nothing": "No room is drawn yet. Draw the first one by its walls."}
    findings = desk.findings(sight.room)
    scene = room_scene(desk, sight, sight.room)
    if sight.plan_px < _NARROW_PX:
        # On a telephone the strings round the room would leave no room for it.
        items = tuple(item for item in scene.items if not (isinstance(item, Dimension) and item.tier > 0))
        scene = replace(scene, items=items)
    part, house = Part(project, sight.room, findings, None), House(project)
    svg, names = svg_and_names(scene, sight.plan_px)
    return {
        "room": project.space(sight.room).name,
        "svg": svg,
        "names": sorted(names, key=lambda pair: (len(pair[0]), pair[0])),
        "px": sight.plan_px,
        "key": [{"number": line.number, "finding": line.finding, "text": line.text} for line in scene.key],
        "notes": list(scene.notes),
        "bodies": [*_bodies(house, part, sight.room), *_openings(part)],
        "walls": _walls(house, sight.room),
        "selected": list(sight.selected) if sight.selected else None,
    }


def _bodies(house: House, part: Part, room: str) -> list[dict[str, Any]]:
    """Return what stands in the room, and in the rooms that are one with it: there it only bounds clear widths."""
    found, tags = [], tags_on(part)
    for stand in house.things_in(*house.rooms[room]):
        thing, box, place = stand.thing, stand.box, stand.thing.place
        if part.gone(thing.state) or not part.shows(thing.state):
            continue
        found.append(
            {
                "list": "things",
                "id": thing.id,
                "kind": thing.kind,
                "name": thing.called,
                "tag": tags.get(thing.id, ""),
                "x": box.x,
                "y": box.y,
                "w": box.width_mm,
                "d": box.depth_mm,
                "turn": box.turn_deg,
                "host": place.host if isinstance(place, SetIn) else None,
                "wall": place.wall if isinstance(place, AgainstWall) else None,
                "gap": place.gap_mm if isinstance(place, AgainstWall) else 0.0,
                "bottom": thing.bottom_mm,
                "top": thing.top_mm,
                "hangs": hangs(thing),
                "counts": counts_round(thing),
                "tops": thing.kind in TOPS,
                "ring": _ring(thing, box),
                "beyond": thing.space != room,
            }
        )
    return found


def _walls(house: House, room: str) -> list[dict[str, Any]]:
    return [
        {
            "id": wall.id,
            "name": wall.name or "wall",
            "open": wall.open,
            "a": house.lines[wall.id].a,
            "b": house.lines[wall.id].b,
            "beyond": space != room,
        }
        for space in sorted(house.rooms[room], key=lambda one: one != room)
        for wall in house.project.space(space).walls
    ]


def _openings(part: Part) -> list[dict[str, Any]]:
    walls = {wall.id for wall in part.space.walls} if part.space else set()
    bodies = []
    for opening, doors in part.openings.values():
        here = next((door for door in doors if door.wall in walls), None)
        if here is None or part.gone(opening.state):
            continue
        line = here.segment
        (x, y), (nx, ny) = line.midpoint, line.outward
        bodies.append(
            {
                "list": "openings",
                "id": opening.id,
                "kind": opening.kind,
                "name": opening.name or opening.kind,
                "tag": "",
                "x": x - nx * _OPENING_DEPTH_MM / 2,
                "y": y - ny * _OPENING_DEPTH_MM / 2,
                "w": line.length_mm,
                "d": _OPENING_DEPTH_MM,
                "turn": _turn(line.direction),
                "host": None,
                "wall": here.wall,
                "gap": 0.0,
                "bottom": opening.sill_mm,
                "top": opening.sill_mm + opening.height_mm,
                "hangs": False,
                "counts": False,
                "tops": False,
                "ring": None,
                "beyond": False,
            }
        )
    return bodies


def _ring(thing: Thing, box: Box) -> list[tuple[float, float]] | None:
    """Return the outline of what is no box."""
    if not (isinstance(thing, Table) and thing.round):
        return None
    return [(x, y) for x, y in ellipse(box, 48).exterior.coords][:-1]


def _turn(direction: tuple[float, float]) -> float:
    from math import atan2, degrees

    return degrees(atan2(direction[1], direction[0]))


def _select(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    records, id = message.get("list"), message.get("id")
    if id is None:
        sight.selected = None
        return "Nothing selected"
    if records not in ("things", "openings", "walls", "spaces") or not isinstance(id, str):
        raise Refused("the page selected something that is not there", do="load the page again")
    before, sight.selected = sight.selected, (records, id)
    sight.settle(desk.project)
    if sight.selected is None:
        sight.selected = before
        raise NotFound("this is not in the project any more", do="choose something that is")
    return selected_words(desk.project, records, id)


def selected_words(project: Project, records: str, id: str) -> str:
    """Return what a screen reader hears of what is selected: its name, size, and place."""
    if records == "things":
        thing = project.thing(id)
        products, finishes = {one.id: one for one in project.products}, {one.id: one for one in project.finishes}
        return f"{thing_title(thing, project.show.units, products, finishes)}. {place_words(project, id)}"
    if records == "openings":
        opening = next(one for one in project.openings if one.id == id)
        return f"{opening_title(opening, project.show.units, None)}. {place_words(project, id)}"
    if records == "walls":
        space, _, wall = project.walls_by_id[id]
        return f"{wall.name or 'wall'} of {space.name}"
    return project.space(id).name


def _width(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sight.plan_px = min(max(number_of(message, "px"), 240.0), _WIDEST_PX)
    return ""


def _room(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    id = text_of(message, "space", longest=64)
    space = next((one for one in desk.project.spaces if one.id == id), None)
    if space is None:
        raise NotFound("this room is not there any more", do="choose another one")
    sight.room, sight.selected = space.id, None
    return f"{space.name}"


HANDLERS: Final = {"select": _select, "plan width": _width, "room": _room}
