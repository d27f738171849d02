"""The elevation of one wall: what stands against it or near it, with heights and the hinges of its doors."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import shapely

from enfilade.drawings.items import Circle, Dimension, Item, Label, Line, Point, Polygon, Role, Scene
from enfilade.drawings.marks import marked
from enfilade.drawings.measures import breaks
from enfilade.drawings.part import Part, Stage, is_upper
from enfilade.drawings.schedule import cabinet_tags
from enfilade.drawings.wording import findings_by_subject, opening_title, thing_title
from enfilade.errors import NotFound
from enfilade.findings import Finding, Verdict
from enfilade.geometry.boxes import Segment
from enfilade.geometry.elevations import WallShape, on_wall
from enfilade.geometry.fronts import open_spans
from enfilade.geometry.outlines import polygon_of
from enfilade.lengths import TOLERANCE_MM, show_length
from enfilade.project.appliances import Cooktop, Refrigerator, Sink
from enfilade.project.furnishings import WindowTreatment
from enfilade.project.project import Project
from enfilade.project.spaces import Opening, Space, Swing, Wall
from enfilade.project.standing import Stand
from enfilade.project.storage import OpenShelf, Storage
from enfilade.project.surfaces import Surface
from enfilade.project.thing import Leaf

__all__ = ["elevation_scene"]

_NEAR_MM: Final = 760.0
"""What begins within 30 in of the wall shows on its elevation; what stands further off belongs to the room (own choice)."""

_BEFORE_CEILING_MM: Final = 300.0
_TELLING_MM: Final = 100.0
_SEEN_THROUGH: Final = ("sink", "cooktop", "window treatment")
_FLAT: Final = ("rug", "seat", "table")


@dataclass(frozen=True)
class _Shown:
    """A thing as it shows on the wall."""

    stand: Stand
    shape: WallShape
    nearness_mm: float

    @property
    def corners(self) -> tuple[Point, ...]:
        s = self.shape
        return ((s.left_mm, s.bottom_mm), (s.right_mm, s.bottom_mm), (s.right_mm, s.top_mm), (s.left_mm, s.top_mm))


def elevation_scene(
    project: Project,
    wall_id: str,
    findings: Sequence[Finding] = (),
    *,
    filled: bool = False,
    marks: bool = True,
    verdicts: Sequence[Verdict] = ("falls short",),
    stage: Stage | None = None,
) -> Scene:
    """Return the elevation of one wall as seen from inside its room.

    Args:
        wall_id: Id of the wall; x is measured from its left end, y from the finished floor.
        findings, filled, marks, verdicts, stage: As for `plan_scene`.
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
    height = known if known is not None else max([2000.0, *tops]) + _BEFORE_CEILING_MM
    told = findings_by_subject(part.findings)
    items: list[Item] = list(_face(part, space, wall, line, height, filled))
    for opening, left, right, low, high in openings:
        title = opening_title(opening, part.system, None, told.get(opening.id, ()))
        items += _opening(part, opening, wall_id, left, right, low, low + high, title)
    labels: list[Item] = []
    tags = cabinet_tags(project, part.things, space.id)
    standing = [one for one in shown if not part.gone(one.stand.thing.state)]
    for one in shown:
        thing = one.stand.thing
        title = thing_title(thing, part.system, part.products, part.finishes, told.get(thing.id, ()))
        if part.gone(thing.state):
            items.append(
                Polygon(role="removed", subject=thing.id, weight="hidden", points=one.corners, clear=True, title=title)
            )
            continue
        items += _thing(one, title, part.colour(thing.finish, filled))
        labels += _name(one, tags.get(thing.id, ""), standing)
    items += [*_edges(line.length_mm, height, known is not None), *labels]
    items += _strings(line, standing, openings, height if known is not None else None)
    key: tuple = ()
    if marks:
        more, key = marked(part.findings, verdicts, wall_id, part.system, lambda id: _place(id, shown, openings))
        items += more
    name = _called(space, wall)
    notes = () if known is not None else ("The height of the ceiling is not recorded; drawn above what stands here.",)
    length = show_length(line.length_mm, part.system)
    return Scene(
        id=f"elevation-{wall_id}",
        kind="elevation",
        title=f"{space.name}: {name}",
        description=f"Elevation of {name} in {space.name}, {length} long. {len(shown)} things, {len(openings)} openings.",
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


def _shown(part: Part, line: Segment) -> list[_Shown]:
    """Return what shows, farthest from the person first."""
    found = []
    for stand in part.things.values():
        if stand.thing.kind in _FLAT:
            continue
        shape = on_wall(line, stand.box, stand.thing.bottom_mm, stand.thing.top_mm)
        inside = shape.right_mm > TOLERANCE_MM and shape.left_mm < line.length_mm - TOLERANCE_MM
        if inside and shape.distance_mm <= _NEAR_MM:
            nearest = max(line.place(corner)[1] for corner in stand.box.corners)
            found.append(_Shown(stand, shape, nearest))
    return sorted(found, key=lambda one: (round(one.nearness_mm), one.shape.bottom_mm, one.stand.id))


_Placed = tuple[Opening, float, float, float, float]


def _openings(part: Part, wall_id: str, line: Segment) -> list[_Placed]:
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


def _rect(left: float, low: float, right: float, high: float) -> tuple[Point, ...]:
    return ((left, low), (right, low), (right, high), (left, high))


def _opening(
    part: Part, opening: Opening, wall_id: str, left: float, right: float, low: float, high: float, title: str
) -> Iterator[Item]:
    gone = part.gone(opening.state)
    yield Polygon(
        role="removed" if gone else "opening",
        subject=opening.id,
        weight="hidden" if gone else "edge",
        points=_rect(left, low, right, high),
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
            points=_rect(left + inset, low + inset, right - inset, high - inset),
        )
        yield Line(role="opening", subject=opening.id, weight="edge", points=((left - 40, low), (right + 40, low)))
    elif opening.kind in ("door", "sliding door", "pocket door"):
        yield Polygon(
            role="opening",
            subject=opening.id,
            weight="dimension",
            clear=True,
            points=_rect(left + inset, low, right - inset, high - inset),
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
        yield from _hinge_mark(opening.id, left + inset, low, right - inset, high - inset, hinge)
    yield Label(
        role="label",
        subject=opening.id,
        text=opening.name or opening.kind,
        size="note",
        at=((left + right) / 2, (low + high) / 2),
        width_mm=right - left - 2 * inset,
        height_mm=high - low,
    )


def _hinge_mark(subject: str, left: float, low: float, right: float, high: float, hinge: str) -> Iterator[Item]:
    """Yield the dashed lines that meet at the side on which a leaf hangs."""
    middle_x, middle_y = (left + right) / 2, (low + high) / 2
    ends = {
        "left": ((right, low), (left, middle_y), (right, high)),
        "right": ((left, low), (right, middle_y), (left, high)),
        "bottom": ((left, high), (middle_x, low), (right, high)),
        "top": ((left, low), (middle_x, high), (right, low)),
    }
    yield Line(role="symbol", subject=subject, weight="hidden", points=ends[hinge])


def _thing(one: _Shown, title: str, colour: str | None) -> Iterator[Item]:
    thing, shape = one.stand.thing, one.shape
    left, right, low, high = shape.left_mm, shape.right_mm, shape.bottom_mm, shape.top_mm
    hidden = isinstance(thing, Sink | Cooktop | WindowTreatment)
    role: Role = (
        "counter"
        if isinstance(thing, Surface)
        else "service"
        if thing.kind in ("receptacle", "switch", "light")
        else "thing"
    )
    yield Polygon(role=role, subject=thing.id, weight="hidden" if hidden else "edge", points=one.corners, title=title,
                  finish=None if hidden else colour, clear=hidden)  # fmt: skip
    if shape.facing == "front" and not hidden:
        yield from _leaves(one)
    if thing.kind == "sink":
        x = (left + right) / 2
        yield Line(
            role="symbol",
            subject=thing.id,
            weight="dimension",
            points=((x, high), (x, high + 250), (x - 30, high + 290), (x - 60, high + 250)),
        )
    if isinstance(thing, OpenShelf):
        count = thing.shelves or 0
        for n in range(1, count):
            y = low + (high - low) * n / count
            yield Line(role="symbol", subject=thing.id, weight="dimension", points=((left, y), (right, y)))
    if thing.kind == "receptacle":
        for x in (left + (right - left) / 3, right - (right - left) / 3):
            yield Circle(role="symbol", subject=thing.id, weight="dimension", centre=(x, (low + high) / 2), radius_mm=8)


def _leaves(one: _Shown) -> Iterator[Item]:
    """Yield the fronts of doors and drawers, with the marks of their hinges."""
    thing, shape = one.stand.thing, one.shape
    leaves = [leaf for leaf in thing.leaves if leaf.side == "front"]
    drawers = [leaf for leaf in leaves if leaf.kind == "drawer"]
    unsized = [leaf for leaf in drawers if leaf.bottom_mm is None and leaf.top_mm is None]
    # Drawers without recorded heights are spread evenly over the front.
    even = (shape.top_mm - shape.bottom_mm) / max(len(unsized), 1)
    if thing.opens is None and isinstance(thing, Storage) and thing.drawers and not thing.shelves:
        heights = [
            shape.bottom_mm + (shape.top_mm - shape.bottom_mm) * n / thing.drawers for n in range(thing.drawers + 1)
        ]
        for low, high in pairwise(heights):
            yield from _drawer(thing.id, shape.left_mm, low, shape.right_mm, high)
    if not leaves and isinstance(thing, Refrigerator) and thing.handle and thing.doors == "single":
        hinge = "right" if thing.handle == "left" else "left"
        yield from _hinge_mark(thing.id, shape.left_mm, shape.bottom_mm, shape.right_mm, shape.top_mm, hinge)
    for leaf in leaves:
        left = shape.left_mm + leaf.from_left_mm
        right = left + leaf.width_mm if leaf.width_mm is not None else shape.right_mm
        low = leaf.bottom_mm if leaf.bottom_mm is not None else shape.bottom_mm
        high = leaf.top_mm if leaf.top_mm is not None else shape.top_mm
        if leaf in unsized and len(unsized) > 1:
            number = next(i for i, other in enumerate(unsized) if other is leaf)
            low, high = shape.bottom_mm + even * number, shape.bottom_mm + even * (number + 1)
        yield from _leaf(thing.id, leaf, left, low, right, high)


def _leaf(subject: str, leaf: Leaf, left: float, low: float, right: float, high: float) -> Iterator[Item]:
    if leaf.kind in ("drawer", "pull-out"):
        yield from _drawer(subject, left, low, right, high)
        return
    yield Polygon(role="symbol", subject=subject, weight="dimension", points=_rect(left, low, right, high), clear=True)
    mark = (
        leaf.hinge if leaf.kind in ("hinged", "folding") else {"drop-down": "bottom", "lift-up": "top"}.get(leaf.kind)
    )
    if mark:
        yield from _hinge_mark(subject, left, low, right, high, mark)
    elif leaf.kind == "sliding":
        y, x, reach = (low + high) / 2, (left + right) / 2, (right - left) / 5
        yield Line(role="symbol", subject=subject, weight="dimension", points=((x - reach, y), (x + reach, y)))


def _drawer(subject: str, left: float, low: float, right: float, high: float) -> Iterator[Item]:
    yield Polygon(role="symbol", subject=subject, weight="dimension", points=_rect(left, low, right, high), clear=True)
    pull, x, y = min(80.0, (right - left) / 4), (left + right) / 2, high - min(60.0, (high - low) / 3)
    yield Line(role="symbol", subject=subject, weight="edge", points=((x - pull, y), (x + pull, y)))


def _name(one: _Shown, tag: str, shown: list[_Shown]) -> list[Item]:
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
    y = (shape.bottom_mm + shape.top_mm) / 2
    number = next(i for i, other in enumerate(shown) if other is one)
    nearer = [
        o.shape
        for o in shown[number + 1 :]
        if o.shape.bottom_mm < y < o.shape.top_mm and o.stand.thing.kind not in _SEEN_THROUGH
    ]
    free = open_spans((shape.left_mm, shape.right_mm), [(s.left_mm, s.right_mm) for s in nearer], 1.0)
    if not free:
        return []
    left, right = max(free, key=lambda span: span[1] - span[0])
    return [Label(role="label", subject=thing.id, text=thing.called, tag=tag, at=((left + right) / 2, y), width_mm=right - left,
                  height_mm=shape.top_mm - shape.bottom_mm)]  # fmt: skip


def _strings(line: Segment, shown: list[_Shown], openings: list[_Placed], ceiling: float | None) -> Iterator[Item]:
    length = line.length_mm
    skip = ("receptacle", "switch", "light", "extinguisher", "window treatment", "panel")
    solid = [s for s in shown if s.stand.thing.kind not in skip and s.shape.distance_mm < 100.0]
    rows: list[tuple[bool, list[tuple[float, float]]]] = [(False, []), (True, [])]
    for one in solid:
        if one.stand.thing.kind in ("sink", "cooktop", "counter", "peninsula"):
            continue
        rows[is_upper(one.stand.thing)][1].append((one.shape.left_mm, one.shape.right_mm))
    doors = [(left, right) for _, left, right, low, _ in openings if low < 300.0]
    panes = [(left, right) for _, left, right, low, _ in openings if low >= 300.0]
    rows[0][1].extend(doors)
    rows[1][1].extend(panes)
    for upper, spans in rows:
        tier = 1
        y, out = (ceiling or 0.0, (0.0, 1.0)) if upper else (0.0, (0.0, -1.0))
        if upper and not spans:
            continue
        if upper and ceiling is None:
            y = max([2000.0, *(s.shape.top_mm for s in shown)]) + _BEFORE_CEILING_MM
        parts = breaks(spans, length)
        for each in ([parts] if len(parts) > 1 else []) + ([] if upper else [(length,)]):
            yield Dimension(
                role="dimension",
                weight="dimension",
                start=(0.0, y),
                direction=(1.0, 0.0),
                outward=out,
                parts_mm=each,
                tier=tier,
            )
            tier += 1
    top = ceiling if ceiling is not None else max([s.shape.top_mm for s in solid], default=0.0)
    if top <= 0:
        return
    half = length / 2
    left_side = [s for s in solid if min(s.shape.right_mm, half) - max(s.shape.left_mm, 0.0) > _TELLING_MM]
    right_side = [s for s in solid if min(s.shape.right_mm, length) - max(s.shape.left_mm, half) > _TELLING_MM]
    strings = [(0.0, (-1.0, 0.0), _heights(left_side, openings, 0, half, top))]
    strings.append((length, (1.0, 0.0), _heights(right_side, openings, half, length, top)))
    for x, out, parts in strings:
        rows_here = ([parts] if len(parts) > 1 else []) + ([(top,)] if x == 0.0 else [])
        for number, each in enumerate(rows_here, 1):
            yield Dimension(
                role="dimension",
                weight="dimension",
                start=(x, 0.0),
                direction=(0.0, 1.0),
                outward=out,
                parts_mm=each,
                tier=number,
            )


def _heights(shown: list[_Shown], openings: list[_Placed], left: float, right: float, top: float) -> tuple[float, ...]:
    """Return the parts of the height at which tops and undersides lie on one side of the wall."""
    spans = [
        (s.shape.bottom_mm, s.shape.top_mm)
        for s in shown
        if s.stand.thing.kind not in ("sink", "cooktop", "dishwasher")
    ]
    spans += [(low, low + high) for _, a, b, low, high in openings if left <= (a + b) / 2 <= right]
    return breaks(spans, top)


def _place(id: str, shown: list[_Shown], openings: list[_Placed]) -> Point | None:
    for one in shown:
        if one.stand.id == id:
            return ((one.shape.left_mm + one.shape.right_mm) / 2, (one.shape.bottom_mm + one.shape.top_mm) / 2)
    for opening, left, right, low, high in openings:
        if opening.id == id:
            return ((left + right) / 2, low + high / 2)
    return None
