"""Plans that show where the camera stands: its positions, numbered, and what angle each takes in."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.drawings.items import Circle, Dimension, Item, Label, Line, Point, Polygon
from enfilade.drawings.scene import plan_scene
from enfilade.drawings.style import INK
from enfilade.drawings.svg import svg_sheet
from enfilade.geometry.outlines import polygon_of
from enfilade.geometry.points import distance
from enfilade.project.project import Project
from enfilade.walkthrough.pages import Drawing

__all__ = ["Marked", "position_plan"]

Bounds = tuple[float, float, float, float]

_WIDTH_PX: Final = 400.0
"""As wide as it is printed, or less: what is written on it then is printed as large as it was drawn, or larger."""
_DRAWN_PX: Final = _WIDTH_PX - 48.0
_DISC_PX: Final = 9.5
_HALO_PX: Final = 2.0
_HALO_CORNERS: Final = 24
_OFF_PX: Final = (22.0, 32.0, 44.0, 58.0)
_FARTHEST_PX: Final = 56.0
"""Angles are told by their beginning; drawn to their ends they would cross the whole plan."""
_BODY_PX: Final = (11.0, 7.0)


@dataclass(frozen=True)
class Marked:
    """One camera on a plan.

    Attributes:
        position: The number of the place where it stands.
        eye: On the plan [mm].
        yaw_deg: Where it looks.
        field_deg: What angle it takes in.
        reach_mm: How far away what it shows is.
        title: What a pointer is told: which shots it is for.
    """

    position: int
    eye: Point
    yaw_deg: float
    field_deg: float
    reach_mm: float
    title: str


def position_plan(project: Project, space: str, cameras: Sequence[Marked], named: Iterable[str] = ()) -> Drawing:
    """Return the plan of a room with the positions from which it is filmed.

    A position is a small camera; its number stands beside it in a filled circle, and thin lines begin the angle that it
    takes in.

    Args:
        project: The house.
        space: The room.
        cameras: Those that stand in it.
        named: Ids of what is shown: only these things bear their names.
    """
    scene = plan_scene(project, space, (), marks=False)
    name = project.space(space).name
    bounds = _with_cameras(scene.bounds, cameras)
    mm = max(bounds[2] - bounds[0], (bounds[3] - bounds[1]) / 1.3) / _DRAWN_PX
    # Strings of dimensions and all other names are on the plan of the room's page; here they would crowd the angles.
    shown = set(named)
    kept = [
        item
        for item in scene.items
        if not isinstance(item, Dimension | Label) or (isinstance(item, Label) and item.subject in shown)
    ]
    marks = list(_marks(cameras, mm, _floors(project), _busy(kept, mm)))
    positions = sorted({camera.position for camera in cameras})
    told = f"position {positions[0]}" if len(positions) == 1 else f"positions {', '.join(map(str, positions))}"
    drawn = replace(
        scene,
        id=f"shots-{space}",
        title=f"{name}: where the camera stands",
        description=f"Plan of {name} with camera {told}.",
        items=(*kept, *marks),
        bounds=bounds,
        notes=(),
    )
    return Drawing(f"{name}: camera {told}", svg_sheet(drawn, frame=False, keys=True, width_px=_WIDTH_PX))


def _floors(project: Project) -> BaseGeometry:
    """Return all floors; rooms that run on into each other are one, walls part the rest."""
    whole = shapely.union_all([polygon_of(space.outline) for space in project.spaces])
    return whole.buffer(0.5, join_style="mitre")


def _busy(items: Iterable[Item], mm: float) -> BaseGeometry:
    """Return where things are drawn and named; a number had better stand beside them."""
    drawn: list[BaseGeometry] = []
    for item in items:
        if isinstance(item, Label):
            drawn.append(shapely.Point(item.at).buffer(_DISC_PX * mm))
        elif isinstance(item, Circle):
            drawn.append(shapely.Point(item.centre).buffer(item.radius_mm))
        elif isinstance(item, Polygon) and item.role not in ("floor", "wall", "removed", "upper", "ceiling"):
            drawn.append(shapely.Polygon(item.points).buffer(0) if len(item.points) > 2 else shapely.Point())
    return shapely.union_all(drawn)


def _with_cameras(bounds: Bounds, cameras: Sequence[Marked]) -> Bounds:
    xs, ys = [camera.eye[0] for camera in cameras], [camera.eye[1] for camera in cameras]
    off = 300.0
    return (
        min([bounds[0], *(x - off for x in xs)]),
        min([bounds[1], *(y - off for y in ys)]),
        max([bounds[2], *(x + off for x in xs)]),
        max([bounds[3], *(y + off for y in ys)]),
    )


def _marks(cameras: Sequence[Marked], mm: float, floor: BaseGeometry, busy: BaseGeometry) -> Iterator[Item]:
    by_position: dict[int, list[Marked]] = {}
    for camera in cameras:
        by_position.setdefault(camera.position, []).append(camera)
    angles: list[Item] = []
    for several in by_position.values():
        # One angle is drawn once, however many shots it is for.
        for camera in {(round(c.yaw_deg), round(c.field_deg)): c for c in reversed(several)}.values():
            angles += _angle(camera, mm, floor)
    yield from angles
    lines = shapely.union_all([shapely.LineString(item.points) for item in angles if isinstance(item, Line)])
    eyes = [several[0].eye for several in by_position.values()]
    around = _Around(floor, busy, lines, eyes, [])
    for position, several in by_position.items():
        at = _beside(several, mm, around)
        around.placed.append(at)
        title = "; ".join(dict.fromkeys(camera.title for camera in several))
        yield from _number(position, several[0].eye, at, mm, title)


def _angle(camera: Marked, mm: float, floor: BaseGeometry) -> Iterator[Item]:
    """Yield the bounds of what a camera takes in, and the camera itself: a body with its lens to the front."""
    yaw, half = math.radians(camera.yaw_deg), math.radians(camera.field_deg / 2)
    reach = min(camera.reach_mm / math.cos(half), _FARTHEST_PX * mm)
    for side in (yaw + half, yaw - half):
        end = _inside(floor, camera.eye, _from(camera.eye, side, reach))
        yield Line(role="symbol", weight="dimension", points=(camera.eye, end))
    long, wide = (size * mm for size in _BODY_PX)
    back = _from(camera.eye, yaw + math.pi, long)
    ring = [_from(back, yaw + math.pi / 2, wide / 2), _from(camera.eye, yaw + math.pi / 2, wide / 2)]
    ring += [_from(camera.eye, yaw - math.pi / 2, wide / 2), _from(back, yaw - math.pi / 2, wide / 2)]
    nose = [_from(_from(camera.eye, yaw, 4 * mm), yaw + side, 4.5 * mm) for side in (math.pi / 2, -math.pi / 2)]
    yield Polygon(role="symbol", weight="edge", points=(camera.eye, *nose), solid=True)
    yield Polygon(role="symbol", weight="edge", points=tuple(ring), solid=True)


def _inside(floor: BaseGeometry, eye: Point, end: Point) -> Point:
    """Return where a line from a camera leaves the room, or its end when it does not."""
    if not floor.covers(shapely.Point(eye)):
        return end
    met = shapely.get_coordinates(shapely.LineString([eye, end]).intersection(floor.boundary)).tolist()
    x, y = min((*met, end), key=lambda point: distance(eye, (point[0], point[1])))
    return x, y


def _number(position: int, eye: Point, at: Point, mm: float, title: str) -> Iterator[Item]:
    gap = distance(eye, at)
    if gap > _DISC_PX * mm:
        share = (gap - _DISC_PX * mm) / gap
        end = (eye[0] + (at[0] - eye[0]) * share, eye[1] + (at[1] - eye[1]) * share)
        yield Line(role="symbol", weight="dimension", points=(eye, end))
    radius = _DISC_PX * mm * (1.0 if position < 100 else 1.35)
    # A white ring parts the number from what it stands on.
    ring = [_from(at, math.tau * n / _HALO_CORNERS, radius + _HALO_PX * mm) for n in range(_HALO_CORNERS)]
    yield Polygon(role="floor", points=tuple(ring))
    yield Circle(role="symbol", centre=at, radius_mm=radius, filled=True, title=title)
    yield Label(role="label", at=at, text=str(position), size="sign", ground=INK, title=title)


@dataclass(frozen=True)
class _Around:
    """What stands where a number might: floors, things and their names, angles, cameras, numbers placed before."""

    floor: BaseGeometry
    busy: BaseGeometry
    lines: BaseGeometry
    eyes: Sequence[Point]
    placed: list[Point]


def _beside(several: Sequence[Marked], mm: float, around: _Around) -> Point:
    """Return where the number of a position stands: behind its cameras, off all that is drawn and numbered already."""
    eye = several[0].eye
    x = sum(math.cos(math.radians(camera.yaw_deg)) for camera in several)
    y = sum(math.sin(math.radians(camera.yaw_deg)) for camera in several)
    back = math.atan2(-y, -x)
    turns = [0.0, 0.5, -0.5, 1.0, -1.0, 1.5, -1.5, 2.0, -2.0, 2.6, -2.6, math.pi]
    spots = [_from(eye, back + turn, off * mm) for off in _OFF_PX for turn in turns]
    radius = (_DISC_PX + _HALO_PX) * mm

    discs = shapely.buffer(shapely.points(spots), radius, quad_segs=16)
    off_floor = ~shapely.covers(around.floor, discs)
    over = shapely.area(shapely.intersection(discs, around.busy)) / shapely.area(discs)
    crossed = shapely.intersects(discs, around.lines)
    crowding = 0.5 * off_floor + 0.8 * over + 0.3 * crossed
    for number, spot in enumerate(spots):
        crowding[number] += 2.0 * sum(distance(spot, other) < 2.2 * radius for other in around.placed)
        crowding[number] += sum(distance(spot, other) < 1.7 * radius for other in around.eyes)
    return spots[int(crowding.round(3).argmin())]


def _from(point: Point, angle: float, off: float) -> Point:
    return point[0] + off * math.cos(angle), point[1] + off * math.sin(angle)
