"""Dimension strings along walls, and clear widths between fronts that face each other."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.drawings.items import Dimension, Item
from enfilade.drawings.part import Part, is_upper
from enfilade.drawings.symbols import SERVICES
from enfilade.findings import Finding, Verdict
from enfilade.geometry.boxes import Segment, shared_mm2
from enfilade.geometry.clear_widths import ClearWidth, clear_width_between
from enfilade.geometry.outlines import polygon_of
from enfilade.geometry.points import Point, distance, dot
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.placing import SetIn
from enfilade.project.standing import Stand

__all__ = ["AISLE_RULES", "aisle_items", "breaks", "house_strings", "wall_strings"]

AISLE_RULES: Final = ("K6", "K7", "K7a", "K8", "K8a")
"""Rules whose measured lines are the clear widths of a room."""

_SKIP: Final = (*SERVICES, "window treatment", "rug", "hood", "panel", "seat")
_AGAINST_MM: Final = 60.0
# Wider than this is open floor, whose width nobody needs on the drawing (own choice).
_WIDEST_AISLE_MM: Final = 1828.8
_LEAST_OVERLAP_MM: Final = 250.0
# Each front is held against each other; a room with more than this is a store, and is measured by the checks alone.
_MOST_FRONTS: Final = 150


def breaks(spans: Iterable[tuple[float, float]], length_mm: float) -> tuple[float, ...]:
    """Return the parts into which spans cut a length, in order; together they are the length.

    Edges closer than 0.8 mm are one; what lies beyond the ends is cut off.

    >>> breaks([(100.0, 400.0), (400.0, 700.0)], 1000.0)
    (100.0, 300.0, 300.0, 300.0)
    """
    edges = sorted(min(max(edge, 0.0), length_mm) for span in spans for edge in span)
    stops = [0.0]
    for edge in edges:
        if edge - stops[-1] > TOLERANCE_MM and length_mm - edge > TOLERANCE_MM:
            stops.append(edge)
    stops.append(length_mm)
    return tuple(b - a for a, b in pairwise(stops))


def wall_strings(part: Part, bodies: BaseGeometry) -> Iterator[Item]:
    """Yield the strings outside each wall of one room, beyond the bodies of its walls: things, openings, the whole."""
    openings = part.opening_order()
    shape = [point for space in part.spaces for point in space.outline]
    built = [*shape, *((x, y) for x, y in shapely.get_coordinates(bodies).tolist())]
    against = _against(part)
    placed: dict[tuple[int, int], list[tuple[float, float, int]]] = {}
    for space in part.spaces:
        for wall in space.walls:
            line = part.lines[wall.id]
            if line.length_mm < 60.0 or wall.open:
                continue
            doors = [
                (line.place(seg.a)[0], line.place(seg.b)[0])
                for opening, seg in openings.get(wall.id, ())
                if opening.kind != "skylight" and not part.gone(opening.state)
            ]
            strings = [breaks(spans, line.length_mm) for spans in (against.get(wall.id, []), doors) if spans]
            strings = [parts for parts in strings if len(parts) > 1]
            back = (-line.outward[0], -line.outward[1])
            offset = max(dot((p[0] - line.a[0], p[1] - line.a[1]), back) for p in shape)
            if offset > TOLERANCE_MM and _shadowed(line, back, offset, part):
                # The room itself lies behind: the length alone, close to the wall.
                yield Dimension(
                    role="dimension",
                    subject=wall.id,
                    weight="dimension",
                    start=line.a,
                    direction=line.direction,
                    outward=back,
                    parts_mm=(line.length_mm,),
                    offset_mm=_thickness(line, bodies),
                    tier=1,
                )
                continue
            offset = max(dot((p[0] - line.a[0], p[1] - line.a[1]), back) for p in built)
            base = _free_tier(placed, line, back, len(strings) + 1)
            for tier, parts in enumerate([*strings, (line.length_mm,)], base):
                yield Dimension(
                    role="dimension",
                    subject=wall.id,
                    weight="dimension",
                    start=line.a,
                    direction=line.direction,
                    outward=back,
                    parts_mm=parts,
                    offset_mm=offset,
                    tier=tier,
                )


def _thickness(line: Segment, bodies: BaseGeometry) -> float:
    """Return how thick the wall is drawn behind the middle of its face [mm]."""
    middle = line.length_mm / 2
    return float(shapely.LineString([line.at(middle), line.at(middle, -600.0)]).intersection(bodies).length)


def _shadowed(line: Segment, back: Point, offset: float, part: Part) -> bool:
    """Tell whether the room itself lies behind a wall, so that a string outside would cross it."""
    strip = line.moved(-5.0).strip(-(offset - 5.0), 5.0, line.length_mm - 5.0)
    return any(polygon_of(space.outline).intersection(strip).area > 100.0 for space in part.spaces)


def _free_tier(
    placed: dict[tuple[int, int], list[tuple[float, float, int]]], line: Segment, back: Point, need: int
) -> int:
    """Return the first tier on that side of the room which strings beside it leave free."""
    side = (round(back[0] * 100), round(back[1] * 100))
    ends = sorted((dot(line.a, line.direction), dot(line.b, line.direction)))
    taken = [top for a, b, top in placed.get(side, ()) if min(b, ends[1]) - max(a, ends[0]) > TOLERANCE_MM]
    base = max(taken, default=0) + 1
    placed.setdefault(side, []).append((ends[0], ends[1], base + need - 1))
    return base


def _against(part: Part) -> dict[str, list[tuple[float, float]]]:
    """Return the spans that things take of each wall against which they stand with their backs, below the cut plane.

    A counter counts only where no cabinet or appliance under it does: cabinets are what is ordered and set.
    """
    walls = [(w.id, part.lines[w.id]) for space in part.spaces for w in space.walls if not w.open]
    found: dict[str, list[tuple[float, float]]] = {}
    tops: dict[str, list[tuple[float, float]]] = {}
    for stand in part.things.values():
        thing = stand.thing
        if is_upper(thing) or thing.kind in _SKIP or isinstance(thing.place, SetIn) or part.gone(thing.state):
            continue
        back = stand.box.back
        for wall_id, line in walls:
            (right, off), (left, other) = line.place(back.a), line.place(back.b)
            near = -_AGAINST_MM * 2 <= off <= _AGAINST_MM and abs(off - other) <= 5.0
            if near and right - left > 0.9 * back.length_mm and left < line.length_mm and right > 0:
                into = tops if thing.kind in ("counter", "peninsula") else found
                into.setdefault(wall_id, []).append((left, right))
                break
            if near and left - right > 0.9 * back.length_mm and right < line.length_mm and left > 0:
                into = tops if thing.kind in ("counter", "peninsula") else found
                into.setdefault(wall_id, []).append((right, left))
                break
    for wall_id, spans in tops.items():
        held = found.setdefault(wall_id, [])
        held += [s for s in spans if not any(min(s[1], b) - max(s[0], a) > 10.0 for a, b in list(held))]
    return found


def house_strings(part: Part, bodies: BaseGeometry) -> Iterator[Item]:
    """Yield the width and depth of the whole house, in the direction of its longest wall."""
    lines = [part.lines[w.id] for space in part.spaces for w in space.walls]
    if not lines:
        return
    longest = max(lines, key=lambda line: line.length_mm)
    angle = math.degrees(math.atan2(longest.direction[1], longest.direction[0])) % 90
    angle -= 90 if angle > 45 else 0
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    u, v = (c, s), (-s, c)
    points = [p for space in part.spaces for p in space.outline]
    us, vs = [dot(p, u) for p in points], [dot(p, v) for p in points]
    low = (min(us) * u[0] + min(vs) * v[0], min(us) * u[1] + min(vs) * v[1])
    built = [(x, y) for x, y in shapely.get_coordinates(bodies).tolist()]
    for direction, outward, length in ((u, (s, -c), max(us) - min(us)), (v, (-c, -s), max(vs) - min(vs))):
        offset = max((dot((p[0] - low[0], p[1] - low[1]), outward) for p in built), default=0.0)
        yield Dimension(
            role="dimension",
            weight="dimension",
            start=low,
            direction=direction,
            outward=outward,
            parts_mm=(length,),
            offset_mm=max(offset, 0.0),
            tier=1,
            title="inside face to inside face",
        )


def aisle_items(part: Part, findings: Sequence[Finding], numbered: Sequence[Verdict] = ()) -> Iterator[Item]:
    """Yield the clear widths of a room up to 6 ft: as the checks measured them, or else between facing fronts.

    Findings of the verdicts in `numbered` are drawn with their marks, not here.
    """
    drawn: list[tuple[Point, Point]] = []
    for finding in findings:
        if finding.rule not in AISLE_RULES or finding.verdict == "not assessed":
            continue
        for mark in finding.marks:
            if mark.role == "measure" and mark.plane == "plan" and len(mark.points) == 2:
                a, b = mark.points
                known = any(
                    max(distance(a, p), distance(b, q)) < 30 or max(distance(a, q), distance(b, p)) < 30
                    for p, q in drawn
                )
                if distance(a, b) > 1.0 and not known:
                    drawn.append((a, b))
                if 1.0 < distance(a, b) <= _WIDEST_AISLE_MM and not known and finding.verdict not in numbered:
                    yield _clear(a, b, "+".join(finding.subjects), finding.title)
    if not drawn:
        for width in _widths(part):
            yield _clear(width.a_point, width.b_point, f"{width.a_id}+{width.b_id}", "clear width")


def _clear(a: Point, b: Point, subject: str, title: str) -> Dimension:
    length = distance(a, b)
    direction = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    return Dimension(
        role="clear-width",
        subject=subject,
        weight="dimension",
        start=a,
        direction=direction,
        outward=(direction[1], -direction[0]),
        parts_mm=(length,),
        tier=0,
        title=title,
    )


def _widths(part: Part) -> list[ClearWidth]:
    """Return the clear widths between fronts, and between fronts and what stands or rises across, one for each pair."""
    bodies = [s for s in part.things.values() if _bounds_an_aisle(s) and not part.gone(s.thing.state)]
    tops = [s.box.polygon for s in bodies if s.thing.kind in ("counter", "island", "peninsula")]
    tree = shapely.STRtree(tops)
    fronts: list[tuple[str, Segment]] = []
    for stand in bodies:
        box = stand.box
        if stand.thing.kind == "base cabinet" and any(
            shared_mm2(tops[i], box.polygon) > 0.5 * box.polygon.area for i in tree.query(box.polygon).tolist()
        ):
            continue
        sides = ("front", "back", "left", "right") if stand.thing.kind == "island" else ("front",)
        fronts += [(stand.id, getattr(box, side)) for side in sides]
    if len(fronts) > _MOST_FRONTS:
        return []
    walls = [(w.id, part.lines[w.id]) for space in part.spaces for w in space.walls if not w.open]
    things = {name for name, _ in fronts}
    found = [
        width
        for width in clear_width_between([*_joined(fronts), *walls])
        if (width.a_id in things or width.b_id in things)
        and 50.0 < width.width_mm < _WIDEST_AISLE_MM
        and width.overlap_mm > _LEAST_OVERLAP_MM
    ]
    return _apart(found)


def _bounds_an_aisle(stand: Stand) -> bool:
    thing = stand.thing
    return (
        thing.kind
        in (
            "base cabinet",
            "tall cabinet",
            "counter",
            "island",
            "peninsula",
            "range",
            "refrigerator",
            "oven",
        )
        and not is_upper(thing)
        and not isinstance(thing.place, SetIn)
    )


def _joined(fronts: list[tuple[str, Segment]]) -> list[tuple[str, Segment]]:
    """Return fronts with those that follow each other in one line made one."""
    lines = list(fronts)
    merged = True
    while merged:  # Each round joins at least two, so there are at most as many rounds as fronts.
        merged = False
        kept: list[tuple[str, Segment]] = []
        for name, front in lines:
            place = next((i for i, (_, other) in enumerate(kept) if _in_line(other, front)), None)
            if place is None:
                kept.append((name, front))
                continue
            first, other = kept[place]
            (left, _), (right, _) = other.place(front.a), other.place(front.b)
            kept[place] = (first, other.part(min(0.0, left), max(other.length_mm, right)))
            merged = True
        lines = kept
    return lines


def _in_line(one: Segment, other: Segment) -> bool:
    """Tell whether two fronts lie in one line, face the same way, and meet within an inch."""
    (left, off), (right, end) = one.place(other.a), one.place(other.b)
    same = abs(off) < 3.0 and abs(end) < 3.0 and dot(one.direction, other.direction) > 0.999
    return same and left <= one.length_mm + 25.0 and right >= -25.0


def _apart(found: list[ClearWidth]) -> list[ClearWidth]:
    """Return widths, narrowest first, without those that would be drawn on top of another of the same size."""
    kept: list[ClearWidth] = []
    for width in found:
        mid = ((width.a_point[0] + width.b_point[0]) / 2, (width.a_point[1] + width.b_point[1]) / 2)
        near = any(
            distance(mid, ((k.a_point[0] + k.b_point[0]) / 2, (k.a_point[1] + k.b_point[1]) / 2)) < 350.0
            or ({k.a_id, k.b_id} & {width.a_id, width.b_id} and abs(k.width_mm - width.width_mm) < 3.0)
            for k in kept
        )
        if not near:
            kept.append(width)
    return kept[:12]
