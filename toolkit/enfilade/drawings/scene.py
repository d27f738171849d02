"""The plan of a room or of the whole house as one display list. Elevations: see `elevation`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.drawings.elevation import elevation_scene
from enfilade.drawings.items import Item, Label, Polygon, Role, Scene
from enfilade.drawings.marks import marked
from enfilade.drawings.measures import aisle_items, house_strings, wall_strings
from enfilade.drawings.numbering import tagged, tags_on
from enfilade.drawings.part import Part, Stage, is_upper
from enfilade.drawings.shell import shell_items, space_size
from enfilade.drawings.symbols import role_of, thing_items
from enfilade.drawings.wording import findings_by_subject, thing_title
from enfilade.findings import Finding, Point, Verdict
from enfilade.geometry.boxes import Box, polygons_of, shared_mm2
from enfilade.geometry.outlines import area_m2, polygon_of
from enfilade.project.project import Project
from enfilade.project.spaces import Space
from enfilade.project.standing import Stand
from enfilade.project.surfaces import Seat
from enfilade.quantities import Quantity, show_quantity

__all__ = ["elevation_scene", "plan_scene"]

_TOPS: Final = ("counter", "island", "peninsula")
_UNDER: Final = ("base cabinet", "dishwasher", "oven", "microwave", "waste", "refrigerator")
# Painted in this order: what is lower first, so that what stands higher hides it.
_LAYERS: Final[tuple[Role, ...]] = ("furniture", "counter", "thing", "under", "upper", "service")


def plan_scene(
    project: Project,
    space: str | None = None,
    findings: Sequence[Finding] = (),
    *,
    filled: bool = False,
    marks: bool = True,
    verdicts: Sequence[Verdict] = ("falls short",),
    stage: Stage | None = None,
    order: Sequence[str] = (),
    numbers: Mapping[str, int] | None = None,
) -> Scene:
    """Return the plan of one room, or of the whole house.

    Args:
        project: The house.
        space: Id of a room: its things with names, strings of dimensions, clear widths. None: every room with its
            name and its number in the order in which they are told; receptacles, switches and lights are left out.
        findings: Results of checks; what the pointer is told of a thing names those that fall short.
        filled: Fill with the recorded colours of finishes.
        marks: Draw numbered marks and clear widths.
        verdicts: Whose findings are numbered.
        stage: `as found`, `proposed` or `as built`; None takes the project's own.
        order: Ids of the rooms in the order in which they are told; the rest follow as recorded.
        numbers: By id of a finding, the number that it bears on other drawings; None counts from 1.
    Raises:
        NotFound: The space does not exist.
    """
    part = Part(project, space, findings, stage)
    floors, walls, bodies = shell_items(part, filled)
    things = list(_things(part, filled, labels=space is not None))
    items: list[Item] = [*floors]
    rugs = [item for item in things if _lies(part, item)]
    items += [*rugs, *walls, *(item for item in things if not _lies(part, item))]
    key: tuple = ()
    if space is not None:
        items += wall_strings(part, bodies)
    else:
        items += [*_room_names(part, order), *house_strings(part, bodies)]
    if marks:
        if space is not None:
            items += aisle_items(part, part.findings, verdicts)
        more, key = marked(part.findings, verdicts, "plan", part.system, lambda subject: _place(part, subject), numbers)
        items += more
    name = part.space.name if part.space else project.name
    return Scene(
        id=f"plan-{space or 'house'}",
        kind="plan",
        title=f"{name}: plan" if space else f"{name}: plan of the house",
        description=_description(part, len(key)),
        system=part.system,
        items=tuple(items),
        bounds=_bounds(part, bodies, things),
        key=key,
        about="About the room" if space is not None else "About the house",
        notes=_notes(part),
        **part.title_block,
    )


def _lies(part: Part, item: Item) -> bool:
    stand = part.things.get(item.subject)
    return stand is not None and stand.thing.kind == "rug"


def _things(part: Part, filled: bool, *, labels: bool) -> Iterator[Item]:
    told = findings_by_subject(part.findings)
    tags = tags_on(part) if labels else {}
    tops = [stand for stand in part.things.values() if stand.thing.kind in _TOPS]
    tree = shapely.STRtree([top.box.polygon for top in tops])
    roles = {stand.id: role_of(stand, _under(stand, tops, tree)) for stand in part.things.values()}
    uppers = [stand for stand in part.things.values() if roles[stand.id] == "upper"]
    above = shapely.STRtree([stand.box.polygon for stand in uppers])
    # Where chairs and stools are recorded one by one, rows of seats are not drawn as well.
    seated = {stand.thing.at for stand in part.things.values() if isinstance(stand.thing, Seat)}
    ordered = sorted(part.things.values(), key=lambda stand: (_LAYERS.index(roles[stand.id]), stand.thing.top_mm))
    names: list[Item] = []
    for stand in ordered:
        title = thing_title(stand.thing, part.system, part.products, part.finishes, told.get(stand.id, ()))
        if roles[stand.id] == "service" and not labels:
            continue
        if part.gone(stand.thing.state):
            yield Polygon(
                role="removed", subject=stand.id, weight="hidden", points=stand.box.corners, clear=True, title=title
            )
            continue
        colour = part.colour(stand.thing.finish, filled)
        yield from thing_items(stand, roles[stand.id], title, colour, seats=stand.id not in seated)
        if labels and (label := _label(stand, roles[stand.id], tags.get(stand.id, ""), uppers, above)):
            names.append(label)
    yield from names


def _under(stand: Stand, tops: list[Stand], tree: shapely.STRtree) -> bool:
    """Tell whether a thing stands under a counter top that goes on above most of it."""
    if stand.thing.kind not in _UNDER:
        return False
    shape = stand.box.polygon
    for index in tree.query(shape).tolist():
        top = tops[index]
        if top.thing.top_mm >= stand.thing.top_mm and shared_mm2(top.box.polygon, shape) > 0.5 * shape.area:
            return True
    return False


def _label(stand: Stand, role: Role, tag: str, uppers: list[Stand], above: shapely.STRtree) -> Label | None:
    """Return the name of a thing after its number, in the part of it over which nothing hangs."""
    thing = stand.thing
    symbol_tells = thing.kind in ("sink", "cooktop", "range", "seat", "rug", "counter", "fixture")
    plain_top = thing.kind in ("counter", "sink", "cooktop", "seat") and not thing.name
    plain_top = plain_top or (isinstance(thing, Seat) and thing.what not in ("sofa", "bench"))
    if thing.kind == "extinguisher":
        at = stand.box.at(0.0, -stand.box.depth_mm / 2 - 240.0)
        return Label(
            role="label", subject=stand.id, at=at, text=thing.called, size="note", width_mm=900.0, height_mm=200.0
        )
    if role == "service" or thing.kind in ("filler", "panel", "column", "window treatment") or plain_top:
        return None
    box = stand.box
    if role != "upper":
        for index in above.query(box.polygon, predicate="intersects").tolist():
            box = _before(box, uppers[index].box)
    flat = box.turn_deg % 180
    turn = flat - 180 if flat > 90 + 1e-6 else flat
    return Label(
        role="label",
        subject=stand.id,
        at=(box.x, box.y),
        text=tagged(tag, thing.called),
        tag=tag,
        width_mm=box.width_mm,
        height_mm=box.depth_mm,
        turn_deg=turn,
        may_drop=symbol_tells,
    )


def _before(box: Box, hanging: Box) -> Box:
    """Return the part of a box in front of what hangs over its back, if that covers its width."""
    edge = box.front
    places = [edge.place(corner) for corner in hanging.corners]
    nearest = -max(ahead for _, ahead in places)
    if not 100.0 < nearest < box.depth_mm:
        return box
    x, y = edge.at(edge.length_mm / 2, -nearest / 2)
    return Box(x, y, box.width_mm, nearest, box.turn_deg)


def _room_names(part: Part, told: Sequence[str]) -> Iterator[Item]:
    ids = dict.fromkeys([*told, *(space.id for space in part.project.spaces)])
    order = {name: number for number, name in enumerate(ids, 1)}
    in_space: dict[str, list[shapely.Polygon]] = {}
    for stand in part.things.values():
        if stand.thing.kind not in ("rug", "light") and not is_upper(stand.thing):
            in_space.setdefault(stand.thing.space, []).append(stand.box.polygon)
    for space in part.spaces:
        at, reach = _roomiest(space, in_space.get(space.id, []))
        area = show_quantity(Quantity(area_m2(space.outline), "m2"), part.system)
        size = space_size(space, part.system)
        yield Label(
            role="label",
            subject=space.id,
            at=at,
            text=f"{order[space.id]}  {space.name}",
            size="room",
            detail=tuple(words for words in (size, area) if words),
            width_mm=reach * 2,
            height_mm=reach * 2,
            tag=str(order[space.id]),
            inside=space.outline,
        )


def _roomiest(space: Space, taken: list[shapely.Polygon]) -> tuple[Point, float]:
    """Return the middle of the widest free floor of a room, and how far it is free round it [mm]."""
    floor = polygon_of(space.outline)
    left = polygons_of(floor.difference(shapely.union_all(taken))) if taken else []
    free = shapely.MultiPolygon(left or [floor])
    circle = shapely.maximum_inscribed_circle(free, tolerance=50.0)
    (x, y), edge = circle.coords[0], circle.length
    # In an empty room the middle of the floor reads better than one of many equal circles.
    centre = floor.centroid
    if free.covers(centre) and free.boundary.distance(centre) > 0.85 * edge:
        x, y, edge = centre.x, centre.y, float(free.boundary.distance(centre))
    return (x, y), float(edge)


def _place(part: Part, id: str) -> Point | None:
    if id in part.things:
        return part.things[id].box.x, part.things[id].box.y
    if id in part.openings:
        return part.openings[id][1][0].segment.midpoint
    if id in part.lines and id in {w.id for space in part.spaces for w in space.walls}:
        return part.lines[id].midpoint
    return None


def _bounds(part: Part, bodies: BaseGeometry, things: list[Item]) -> tuple[float, float, float, float]:
    shapes: list[BaseGeometry] = [bodies, *(polygon_of(space.outline) for space in part.spaces)]
    shapes += [shapely.Polygon(item.points) for item in things if isinstance(item, Polygon) and len(item.points) > 2]
    shapes = [shape for shape in shapes if not shape.is_empty]
    if not shapes:
        return (0.0, 0.0, 1000.0, 1000.0)
    x0, y0, x1, y1 = (float(value) for value in shapely.total_bounds(shapes))
    return (x0, y0, x1, y1)


def _notes(part: Part) -> tuple[str, ...]:
    notes = []
    states = [s.thing.state for s in part.things.values()] + [opening.state for opening, _ in part.openings.values()]
    if any(map(part.gone, states)):
        notes.append("Dotted outlines: to be removed.")
    if any(part.gone(opening.state) for opening, _ in part.openings.values()):
        notes.append("Grey in a wall: an opening to be closed.")
    if any(is_upper(stand.thing) for stand in part.things.values()):
        notes.append("Dashed: above the plane of the plan, or below a counter.")
    assumed = sum(1 for stand in part.things.values() if stand.thing.basis == "assumed")
    if assumed:
        notes.append(f"{assumed} {'size is' if assumed == 1 else 'sizes are'} assumed; verify on site.")
    if any(space.basis == "assumed" for space in part.spaces):
        notes.append("The outline is assumed; verify on site.")
    return tuple(notes)


def _description(part: Part, numbered: int) -> str:
    things, openings = len(part.things), len(part.openings)
    if part.space is None:
        rooms = ", ".join(space.name for space in part.spaces[:40])
        head = f"Plan of {len(part.spaces)} rooms: {rooms}."
    else:
        size = space_size(part.space, part.system) or show_quantity(
            Quantity(area_m2(part.space.outline), "m2"), part.system
        )
        head = f"Plan of {part.space.name}, {size}."
    short = sum(1 for finding in part.findings if finding.verdict == "falls short")
    told = f" {short} findings fall short." if short != 1 else " 1 finding falls short."
    said = told if part.findings else ""
    return f"{head} {things} things, {openings} openings.{said}"
