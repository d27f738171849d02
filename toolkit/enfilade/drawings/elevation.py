"""The elevation of one wall: what stands against it or near it, with heights and the hinges of its doors."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import shapely

from enfilade.drawings.elevation_strings import BEFORE_CEILING_MM, PlacedOpening, elevation_strings
from enfilade.drawings.fronts import Shown, front_items, hinge_mark, rect
from enfilade.drawings.items import Item, Label, Line, Point, Polygon, Scene
from enfilade.drawings.marks import marked
from enfilade.drawings.numbering import tagged, tags_on
from enfilade.drawings.part import Part, Stage
from enfilade.drawings.projected import NEAR_MM, projected
from enfilade.drawings.wording import findings_by_subject, opening_title, thing_title
from enfilade.errors import NotFound
from enfilade.findings import Finding, Verdict
from enfilade.geometry.boxes import Segment
from enfilade.geometry.elevations import WallShape, on_wall
from enfilade.geometry.fronts import open_spans
from enfilade.geometry.outlines import polygon_of
from enfilade.lengths import TOLERANCE_MM, show_length
from enfilade.project.project import Project
from enfilade.project.spaces import Opening, Space, Swing, Wall

__all__ = ["elevation_scene"]

_NARROW_MM: Final = 600.0
"""Cabinets of which less shows bear their number alone; their names stand in the key (own choice)."""

# The name of a thing stands at half its height, or where this much of its width is free (own choice).
_HEIGHTS: Final = (0.5, 0.3, 0.7, 0.15, 0.85)
_WIDE: Final = 0.8

_SEEN_THROUGH: Final = ("sink", "cooktop", "window treatment")
_FLAT: Final = ("rug", "seat", "table")


def elevation_scene(
    project: Project,
    wall_id: str,
    findings: Sequence[Finding] = (),
    *,
    filled: bool = False,
    marks: bool = True,
    verdicts: Sequence[Verdict] = ("falls short",),
    stage: Stage | None = None,
    numbers: Mapping[str, int] | None = None,
) -> Scene:
    """Return the elevation of one wall as seen from inside its room.

    Args:
        wall_id: Id of the wall; x is measured from its left end, y from the finished floor.
        findings, filled, marks, verdicts, stage, numbers: As for `plan_scene`.
    Raises:
        NotFound: The wall does not exist.
    """
    if wall_id not in project.walls_by_id:
        raise NotFound(f"wall {wall_id!r} is not in the project", expected="a wall id of one of its spaces")
    space, _, wall = project.walls_by_id[wall_id]
    part = Part(project, space.id, findings, stage)
    line = part.lines[wall_id]
    shown = _shown(part, line)
    openings = _openings(part, wall_id, line)
    tops = [s.shape.top_mm for s in shown] + [low + high for _, _, _, low, high in openings]
    known = space.ceiling_mm
    height = known if known is not None else max([2000.0, *tops]) + BEFORE_CEILING_MM
    told = findings_by_subject(part.findings)
    items: list[Item] = list(_face(part, space, wall, line, height, filled))
    for opening, left, right, low, high in openings:
        title = opening_title(opening, part.system, None, told.get(opening.id, ()))
        items += _opening(part, opening, wall_id, left, right, low, low + high, title)
    labels: list[Item] = []
    tags = tags_on(part)
    standing = [one for one in shown if not part.gone(one.stand.thing.state)]
    for one in shown:
        thing = one.stand.thing
        title = thing_title(thing, part.system, part.products, part.finishes, told.get(thing.id, ()))
        if part.gone(thing.state):
            items.append(
                Polygon(role="removed", subject=thing.id, weight="hidden", points=one.corners, clear=True, title=title)
            )
            continue
        items += front_items(one, title, part.colour(thing.finish, filled))
        labels += _name(one, tags.get(thing.id, ""), standing, part.colour(thing.finish, filled))
    items += [*_edges(line.length_mm, height, known is not None), *labels]
    items += elevation_strings(line, standing, openings, height if known is not None else None)
    key: tuple = ()
    if marks:
        spots = {one.stand.id: one.shape for one in shown} | _doors(openings)
        more, key = marked(
            part.findings,
            verdicts,
            wall_id,
            part.system,
            lambda subject: _middle(spots.get(subject)),
            numbers,
            lambda finding: projected(finding, line, wall_id, spots),
        )
        items += more
    name = _called(space, wall)
    notes = () if known is not None else ("The height of the ceiling is not recorded; drawn above what stands here.",)
    length = show_length(line.length_mm, part.system)
    return Scene(
        id=f"elevation-{wall_id}",
        kind="elevation",
        title=f"{space.name}: {name}",
        description=(
            f"Elevation of {name} in {space.name}, {length} long. {len(shown)} things, {len(openings)} openings."
        ),
        system=part.system,
        items=tuple(items),
        bounds=(0.0, 0.0, line.length_mm, height),
        key=key,
        notes=notes,
        **part.title_block,
    )


def _called(space: Space, wall: Wall) -> str:
    """Return the name of a wall, or one made of its id."""
    words = wall.id.removeprefix(f"{space.id}-").replace("-", " ")
    return wall.name or (words if "wall" in words else f"{words} wall")


def _shown(part: Part, line: Segment) -> list[Shown]:
    """Return what shows, farthest from the person first."""
    found = []
    for stand in part.things.values():
        if stand.thing.kind in _FLAT:
            continue
        shape = on_wall(line, stand.box, stand.thing.bottom_mm, stand.thing.top_mm)
        inside = shape.right_mm > TOLERANCE_MM and shape.left_mm < line.length_mm - TOLERANCE_MM
        if inside and shape.distance_mm <= NEAR_MM:
            nearest = max(line.place(corner)[1] for corner in stand.box.corners)
            found.append(Shown(stand, shape, nearest))
    return sorted(found, key=lambda one: (round(one.nearness_mm), one.shape.bottom_mm, one.stand.id))


def _openings(part: Part, wall_id: str, line: Segment) -> list[PlacedOpening]:
    """Return the openings of a wall: left, right, sill and height [mm]."""
    found = []
    for opening, segment in part.opening_order().get(wall_id, ()):
        if opening.kind != "skylight":
            left, right = line.place(segment.a)[0], line.place(segment.b)[0]
            found.append((opening, left, right, opening.sill_mm, opening.height_mm))
    return found


def _edges(length: float, height: float, known: bool) -> Iterator[Item]:
    """Yield floor, ceiling and the walls at both ends, over what stands there."""
    yield Line(role="ground", weight="cut", points=((-150.0, 0.0), (length + 150.0, 0.0)), title="finished floor")
    yield Line(
        role="ceiling",
        weight="cut" if known else "hidden",
        points=((0.0, height), (length, height)),
        title="ceiling" if known else "ceiling, height not recorded",
    )
    for x in (0.0, length):
        yield Line(role="wall", weight="cut", points=((x, 0.0), (x, height)))


def _face(part: Part, space: Space, wall: Wall, line: Segment, height: float, filled: bool) -> Iterator[Item]:
    length = line.length_mm
    face = ((0.0, 0.0), (length, 0.0), (length, height), (0.0, height))
    title = f"{wall.name or 'Wall'}: {show_length(length, part.system)}"
    finish = part.finishes.get(wall.finish or "")
    if finish is not None:
        title += f"; {finish.name}"
    yield Polygon(
        role="wall",
        subject=wall.id,
        weight="dimension",
        points=face,
        title=title,
        finish=part.colour(wall.finish, filled),
    )
    strip = line.strip(30.0)
    for drop in space.dropped:
        over = polygon_of(drop.outline).intersection(strip)
        if over.is_empty or over.area < 1.0:
            continue
        places = [line.place((x, y))[0] for x, y in shapely.get_coordinates(over).tolist()]
        left, right, low = max(0.0, min(places)), min(length, max(places)), drop.height_mm
        yield Polygon(
            role="ceiling",
            subject=drop.id,
            weight="edge",
            title=f"dropped ceiling at {show_length(low, part.system)}",
            points=((left, low), (right, low), (right, height), (left, height)),
        )
        yield Line(role="ceiling", subject=drop.id, weight="cut", points=((left, low), (right, low)))


def _opening(
    part: Part, opening: Opening, wall_id: str, left: float, right: float, low: float, high: float, title: str
) -> Iterator[Item]:
    gone = part.gone(opening.state)
    yield Polygon(
        role="removed" if gone else "opening",
        subject=opening.id,
        weight="hidden" if gone else "edge",
        points=rect(left, low, right, high),
        title=title,
        clear=gone,
    )
    inset = min(45.0, (right - left) / 8, (high - low) / 8)
    if gone:
        return
    if opening.kind == "window":
        yield Polygon(
            role="opening",
            subject=opening.id,
            weight="dimension",
            clear=True,
            points=rect(left + inset, low + inset, right - inset, high - inset),
        )
        yield Line(role="opening", subject=opening.id, weight="edge", points=((left - 40, low), (right + 40, low)))
    elif opening.kind in ("door", "sliding door", "pocket door"):
        yield Polygon(
            role="opening",
            subject=opening.id,
            weight="dimension",
            clear=True,
            points=rect(left + inset, low, right - inset, high - inset),
        )
    if opening.kind == "sliding door":
        yield Line(
            role="opening",
            subject=opening.id,
            weight="dimension",
            points=(((left + right) / 2, low), ((left + right) / 2, high - inset)),
        )
    if isinstance(opening.swing, Swing):
        # Recorded as seen from the opening's first wall; from the other side left is right.
        hinge = opening.swing.hinge if opening.wall == wall_id else "right" if opening.swing.hinge == "left" else "left"
        yield from hinge_mark(opening.id, left + inset, low, right - inset, high - inset, hinge)
    yield Label(
        role="label",
        subject=opening.id,
        text=opening.name or opening.kind,
        size="note",
        at=((left + right) / 2, (low + high) / 2),
        width_mm=right - left - 2 * inset,
        height_mm=high - low,
    )


def _name(one: Shown, tag: str, shown: list[Shown], ground: str | None) -> list[Item]:
    thing, shape = one.stand.thing, one.shape
    if thing.kind in (
        "receptacle",
        "switch",
        "light",
        "filler",
        "panel",
        "sink",
        "cooktop",
        "counter",
        "window treatment",
    ):
        return []
    number = next(i for i, other in enumerate(shown) if other is one)
    nearer = [o.shape for o in shown[number + 1 :] if o.stand.thing.kind not in _SEEN_THROUGH]
    rooms = [room for share in _HEIGHTS if (room := _room(shape, nearer, share))]
    if not rooms:
        return []
    enough = _WIDE * (shape.right_mm - shape.left_mm)
    left, right, low, high = max(rooms, key=lambda room: min(room[1] - room[0], enough))
    return [
        Label(
            role="label",
            subject=thing.id,
            text=tagged(tag, thing.called),
            tag=tag,
            at=((left + right) / 2, (low + high) / 2),
            width_mm=right - left,
            height_mm=high - low,
            upright=True,
            keyed=right - left < _NARROW_MM,
            ground=ground,
        )
    ]


def _room(shape: WallShape, nearer: Sequence[WallShape], share: float) -> tuple[float, float, float, float] | None:
    """Return the widest part of a shape at a share of its height that nothing hides: left, right, bottom and top."""
    y = shape.bottom_mm + (shape.top_mm - shape.bottom_mm) * share
    before = [(s.left_mm, s.right_mm) for s in nearer if s.bottom_mm < y < s.top_mm]
    free = open_spans((shape.left_mm, shape.right_mm), before, 1.0)
    if not free:
        return None
    left, right = max(free, key=lambda span: span[1] - span[0])
    beside = [s for s in nearer if s.left_mm < right - 1.0 and s.right_mm > left + 1.0]
    low = max([shape.bottom_mm, *(s.top_mm for s in beside if s.top_mm <= y)])
    high = min([shape.top_mm, *(s.bottom_mm for s in beside if s.bottom_mm >= y)])
    return left, right, low, high


def _doors(openings: Sequence[PlacedOpening]) -> dict[str, WallShape]:
    return {o.id: WallShape(left, right, low, low + high, 0.0, "front") for o, left, right, low, high in openings}


def _middle(shape: WallShape | None) -> Point | None:
    if shape is None:
        return None
    return (shape.left_mm + shape.right_mm) / 2, (shape.bottom_mm + shape.top_mm) / 2
