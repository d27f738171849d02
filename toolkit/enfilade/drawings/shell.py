"""Walls and openings on the plan: inner faces, the thickness between rooms, leaves and panes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

import shapely
from shapely import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from enfilade.drawings.items import Arc, Item, Label, Line, Polygon
from enfilade.drawings.part import Part
from enfilade.drawings.wording import findings_by_subject, opening_title
from enfilade.findings import Point
from enfilade.geometry.boxes import Segment, polygons_of
from enfilade.geometry.outlines import opposed, polygon_of
from enfilade.geometry.points import angle_between_deg, minus, turned
from enfilade.lengths import TOLERANCE_MM, show_length
from enfilade.project.doorways import Doorway, Hinge
from enfilade.project.spaces import Opening, Space

__all__ = ["STANDARD_WALL_MM", "gap_behind", "shell_items", "wall_bodies"]

STANDARD_WALL_MM: Final = 114.3
"""Thickness drawn where none is known: 4 1/2 in, a stud wall with its boards (common practice, no source)."""

_THICKEST_MM: Final = 500.0
_LEAF_MM: Final = 35.0
_INFILL: Final = "#c8c8c8"


def shell_items(part: Part, filled: bool) -> tuple[list[Item], list[Item], BaseGeometry]:
    """Return the floors, then walls and openings, and the bodies of the walls."""
    floors: list[Item] = [
        Polygon(role="floor", subject=space.id, weight="dimension", points=space.outline, title=space.name,
                finish=part.colour(space.floor_finish, filled))
        for space in part.spaces
    ]  # fmt: skip
    bodies = wall_bodies(part)
    walls = [*_bodies(bodies), *_faces(part), *_removed(part)]
    return floors, [*walls, *_open_sides(part), *_openings(part)], bodies


def gap_behind(part: Part) -> dict[str, list[tuple[Segment, float]]]:
    """Return, for each drawn wall, the stretches behind which another room stands, with the wall's thickness there."""
    walls = [(wall.id, space.id, part.lines[wall.id]) for space in part.near for wall in space.walls]
    tree = shapely.STRtree([shapely.LineString([line.a, line.b]) for _, _, line in walls])
    found: dict[str, list[tuple[Segment, float]]] = {}
    for space in part.spaces:
        for wall in space.walls:
            line = part.lines[wall.id]
            at = shapely.LineString([line.a, line.b])
            for index in sorted(tree.query(at, predicate="dwithin", distance=_THICKEST_MM).tolist()):
                _, other_space, other = walls[index]
                if other_space == space.id or not opposed(line, other):
                    continue
                (right, depth), (left, _) = line.place(other.a), line.place(other.b)
                start, end = max(0.0, left), min(line.length_mm, right)
                if -_THICKEST_MM <= depth <= TOLERANCE_MM and end - start > TOLERANCE_MM:
                    found.setdefault(wall.id, []).append((line.part(start, end), max(0.0, -depth)))
    return found


def wall_bodies(part: Part) -> BaseGeometry:
    """Return what is cut of the walls: between rooms as thick as the gap, elsewhere a standard band outside."""
    floors = [polygon_of(space.outline) for space in part.spaces]
    gaps = gap_behind(part)
    usual, own = _recorded(part, gaps)
    band = [floor.buffer(usual, join_style="mitre", mitre_limit=4.0) for floor in floors]
    strips = [piece.strip(-thick) for found in gaps.values() for piece, thick in found if thick > TOLERANCE_MM]
    strips += [part.lines[wall].strip(-thick) for wall, thick in own.items() if thick > usual]
    rooms = shapely.union_all([polygon_of(space.outline) for space in part.near])
    cuts = [_hole(part, opening, door) for opening, doors in part.openings.values() for door in doors]
    for space in part.spaces:
        for wall in space.walls:
            if wall.open or not part.shows(wall.state) or part.gone(wall.state):
                depth = max([usual, *(thick for _, thick in gaps.get(wall.id, ()))])
                cuts.append(part.lines[wall.id].moved(1.0).strip(-depth - 2.0))
    body = shapely.union_all([*band, *strips])
    return body.difference(shapely.union_all([rooms, *(cut for cut in cuts if cut is not None)]))


def _recorded(part: Part, gaps: Mapping[str, object]) -> tuple[float, dict[str, float]]:
    """Return the usual thickness of walls that nothing is known behind, and of those whose openings record it.

    The usual one is what most openings in such walls record, else the standard band.
    """
    own: dict[str, float] = {}
    drawn = {wall.id for space in part.spaces for wall in space.walls}
    for opening, doors in part.openings.values():
        for door in doors:
            if opening.depth_mm is not None and door.wall in drawn and door.wall not in gaps:
                own[door.wall] = max(own.get(door.wall, 0.0), opening.depth_mm)
    counts = Counter(round(thick, 1) for thick in own.values())
    usual = counts.most_common(1)[0][0] if counts else STANDARD_WALL_MM
    return usual, own


def _hole(part: Part, opening: Opening, door: Doorway) -> Shape | None:
    if opening.kind == "skylight":
        return None
    # From a little inside the room to a little beyond, so that noise leaves no hair of wall across the opening.
    return door.segment.moved(1.0).strip(-_thickness(part, opening, door) - 2.0)


def _thickness(part: Part, opening: Opening, door: Doorway) -> float:
    """Return the thickness of the wall at an opening: to the face beyond, as recorded, or the standard."""
    other = opening.beyond if door.wall == opening.wall else opening.wall
    if other in part.lines:
        depth = -door.segment.place(part.lines[other].midpoint)[1]
        if -TOLERANCE_MM <= depth <= _THICKEST_MM:
            return max(depth, 0.0)
    return opening.depth_mm or STANDARD_WALL_MM


def _bodies(bodies: BaseGeometry) -> Iterator[Item]:
    for body in polygons_of(bodies):
        if body.area < 1.0:
            continue
        yield Polygon(
            role="wall",
            weight="dimension",
            solid=True,
            points=_ring(body.exterior.coords),
            holes=tuple(_ring(ring.coords) for ring in body.interiors),
        )


def _ring(coordinates: Iterable[tuple[float, ...]]) -> tuple[Point, ...]:
    """Return the corners of a closed ring, the first not repeated."""
    return tuple((x, y) for x, y, *_ in coordinates)[:-1]


def _faces(part: Part) -> Iterator[Item]:
    """Yield the inner face of each standing wall, without its openings: the heavy cut line."""
    on_walls = part.opening_order()
    for space in part.spaces:
        for wall in space.walls:
            if wall.open or not part.shows(wall.state) or part.gone(wall.state):
                continue
            line = part.lines[wall.id]
            title = f"{wall.name or 'Wall'}: {show_length(line.length_mm, part.system)}"
            title += "; new" if wall.state == "new" else ""
            at, spans = 0.0, []
            for opening, segment in sorted(on_walls.get(wall.id, ()), key=lambda pair: line.place(pair[1].a)[0]):
                start, end = line.place(segment.a)[0], line.place(segment.b)[0]
                if opening.kind != "skylight" and not part.gone(opening.state):
                    spans.append((at, start))
                    at = max(at, end)
            spans.append((at, line.length_mm))
            for start, end in spans:
                if end - start > TOLERANCE_MM:
                    yield Line(
                        role="wall", subject=wall.id, weight="cut", points=(line.at(start), line.at(end)), title=title
                    )


def _removed(part: Part) -> Iterator[Item]:
    for space in part.spaces:
        for wall in space.walls:
            if not wall.open and part.gone(wall.state):
                strip = part.lines[wall.id].strip(-STANDARD_WALL_MM)
                yield Polygon(
                    role="removed",
                    subject=wall.id,
                    weight="hidden",
                    clear=True,
                    points=_ring(strip.exterior.coords),
                    title=f"{wall.name or 'Wall'}: removed",
                )


def _open_sides(part: Part) -> Iterator[Item]:
    drawn: set[frozenset[str | None]] = set()
    for wall_id, line, beyond in part.open_sides:
        space = part.owner[wall_id].id
        pair = frozenset((space, beyond))
        if beyond is not None and pair in drawn and part.space is None:
            continue  # The same side as its neighbour sees it.
        drawn.add(pair)
        name = part.name_of(beyond)
        words = f"open to {name}" if name else "open"
        yield Line(role="opening", subject=wall_id, weight="hidden", points=(line.a, line.b), title=words)
        if part.space is not None:
            yield Label(
                role="label",
                subject=wall_id,
                text=words,
                at=line.at(line.length_mm / 2, 120.0),
                size="note",
                width_mm=line.length_mm,
                height_mm=240.0,
                turn_deg=upright(line),
                may_drop=True,
            )


def upright(line: Segment) -> float:
    """Return the direction of a line in which words read from below or from the right [deg]."""
    turn = angle_between_deg((1.0, 0.0), line.direction)
    return turn - 180 if turn > 90 + 1e-6 else turn + 180 if turn <= -90 + 1e-6 else turn


def _openings(part: Part) -> Iterator[Item]:
    told = findings_by_subject(part.findings)
    for opening, doors in part.openings.values():
        door = doors[0]
        turning = next((one for one in doors if one.hinge is not None), None)
        title = opening_title(opening, part.system, part.name_of(door.beyond), told.get(opening.id, ()))
        thick = _thickness(part, opening, door)
        if part.gone(opening.state):
            strip = door.segment.strip(-max(thick, 40.0))
            yield Polygon(
                role="removed",
                subject=opening.id,
                weight="hidden",
                points=_ring(strip.exterior.coords),
                finish=_INFILL,
                title=title,
            )
            continue
        yield from _frame(opening, door.segment, thick, title)
        yield from _leaf(opening, door.segment, thick, turning.hinge if turning else None, title)


def _frame(opening: Opening, line: Segment, thick: float, title: str) -> Iterator[Item]:
    """Yield the clear floor of the opening and its jambs."""
    if opening.kind == "skylight":
        yield Line(role="opening", subject=opening.id, weight="hidden", points=(line.a, line.b), title=title)
        yield Label(
            role="label",
            subject=opening.id,
            text=opening.name or "skylight",
            at=line.at(line.length_mm / 2, 120),
            width_mm=line.length_mm,
            height_mm=240,
            turn_deg=upright(line),
            size="note",
            may_drop=True,
        )
        return
    back = line.moved(-thick)
    yield Polygon(
        role="opening", subject=opening.id, weight="dimension", points=(line.a, line.b, back.b, back.a), title=title
    )
    for face, jamb in ((line.a, back.a), (line.b, back.b)):
        yield Line(role="opening", subject=opening.id, weight="edge", points=(face, jamb))


def _leaf(opening: Opening, line: Segment, thick: float, hinge: Hinge | None, title: str) -> Iterator[Item]:
    subject, half, mid = opening.id, line.length_mm / 2, line.moved(-thick / 2)

    def stroke(a: Point, b: Point, weight: str = "edge") -> Line:
        return Line(role="opening", subject=subject, weight=weight, points=(a, b), title=title)  # type: ignore[arg-type]

    if opening.kind == "window":
        # Two lines for the pane, between the lines of the two faces.
        yield from (stroke(mid.moved(off).a, mid.moved(off).b, "dimension") for off in (-thick / 10, thick / 10))
    elif opening.kind == "sliding door":
        yield stroke(mid.at(0, thick / 8), mid.at(half * 1.06, thick / 8))
        yield stroke(mid.at(half * 0.94, -thick / 8), mid.at(line.length_mm, -thick / 8))
    elif opening.kind == "pocket door":
        yield stroke(mid.at(half * 0.6), mid.b)
        yield stroke(mid.b, mid.at(line.length_mm + half * 1.2), "hidden")
    elif opening.kind in ("cased opening", "pass-through"):
        back = line.moved(-thick)
        yield from (stroke(edge.a, edge.b, "hidden") for edge in (line, back))
    elif opening.kind == "door":
        if hinge is not None:
            yield from _swing(subject, hinge, title)
        else:
            # No leaf that turns is recorded: the shut leaf, dashed when its swing is unknown.
            yield stroke(mid.a, mid.b, "hidden" if opening.swing is None else "edge")


def _swing(subject: str, hinge: Hinge, title: str) -> Iterator[Item]:
    reach = minus(hinge.closed_end, hinge.at)
    x, y = turned(reach, -hinge.angle_deg if hinge.clockwise else hinge.angle_deg)
    tip = (hinge.at[0] + x, hinge.at[1] + y)
    leaf = Segment(hinge.at, tip) if not hinge.clockwise else Segment(tip, hinge.at)
    side = leaf.moved(_LEAF_MM if hinge.angle_deg <= 90 else -_LEAF_MM)
    yield Polygon(role="swing", subject=subject, weight="edge", points=(leaf.a, leaf.b, side.b, side.a), title=title)
    yield Arc(
        role="swing",
        subject=subject,
        weight="dimension",
        centre=hinge.at,
        start=hinge.closed_end,
        end=tip,
        clockwise=hinge.clockwise,
        title=title,
    )


def space_size(space: Space, system: str) -> str:
    """Return the size of a rectangular room as `12' 0" x 10' 6"`; empty for other shapes."""
    if len(space.outline) != 4:
        return ""
    a, b, c, d = space.outline
    first, second = Segment(a, b), Segment(b, c)
    square = abs(abs(angle_between_deg(first.direction, second.direction)) - 90) < 0.5
    even = abs(Segment(c, d).length_mm - first.length_mm) < TOLERANCE_MM
    if not (square and even):
        return ""
    wide, deep = (first, second) if abs(first.direction[0]) >= abs(first.direction[1]) else (second, first)
    return f"{show_length(wide.length_mm, system)} \u00d7 {show_length(deep.length_mm, system)}"  # type: ignore[arg-type]
