"""Findings on a drawing: their lines and areas, a numbered mark each, and the words for the key."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from shapely import LineString
from shapely import Polygon as Shape

from enfilade.drawings.items import Circle, Dimension, Item, KeyLine, Line, Numbered, Point, Polygon
from enfilade.drawings.wording import finding_sentence
from enfilade.findings import Finding, Mark, Verdict
from enfilade.geometry.points import distance
from enfilade.lengths import System

__all__ = ["marked"]


def marked(
    findings: Iterable[Finding],
    verdicts: Sequence[Verdict],
    plane: str,
    system: System,
    where: Callable[[str], Point | None],
    numbers: Mapping[str, int] | None = None,
    onto: Callable[[Finding], tuple[Mark, ...]] = lambda _: (),
) -> tuple[list[Item], tuple[KeyLine, ...]]:
    """Return what to draw for the findings of some verdicts, and the key that tells them in words.

    Args:
        plane: `plan`, or the id of the wall on whose elevation is drawn; there only findings with marks in that
            plane or at that wall are numbered, and those without any mark; of both the latter, those all of whose
            subjects show there.
        where: The place of a subject on this drawing; None when it is not there.
        numbers: By finding, the numbers that other drawings gave already; what they do not name continues the count.
            What has no place on this drawing either is told without a number of its own.
        onto: The marks of a finding that other drawings bear, as they show on this one.
    """
    items: list[Item] = []
    key: list[KeyLine] = []
    known = dict(numbers or {})
    last = max(known.values(), default=0)
    drawn: set[tuple[str, tuple[Point, ...]]] = set()
    for finding in findings:
        if finding.verdict not in verdicts:
            continue
        own = [mark for mark in finding.marks if mark.plane == plane and mark.points]
        if plane != "plan" and not own:
            own = list(onto(finding))
            elsewhere = bool(finding.marks) and not own
            if elsewhere or not finding.subjects or any(where(subject) is None for subject in finding.subjects):
                continue
        at = _anchor(own[0]) if own else next((p for p in map(where, finding.subjects) if p is not None), None)
        if at is not None and finding.id not in known:
            last += 1
            known[finding.id] = last
        number = known[finding.id] if at is not None else 0
        sentence = finding_sentence(finding, system)
        for mark in own:
            # Two rules may measure one line; it is drawn once.
            place = (mark.role, tuple((round(x), round(y)) for x, y in mark.points))
            if place not in drawn:
                drawn.add(place)
                items += _shape(mark, finding, sentence)
        if at is not None:
            items.append(
                Numbered(
                    role="finding", subject=finding.id, verdict=finding.verdict, title=sentence, at=at, number=number
                )
            )
        key.append(KeyLine(number, finding.id, finding.verdict, sentence))
    return items, tuple(sorted(key, key=lambda line: line.number or math.inf))


def _anchor(mark: Mark) -> Point:
    points = mark.points
    if mark.role == "area" and len(points) > 2:
        inside = Shape(points).buffer(0).representative_point()
        return points[0] if inside.is_empty else (inside.x, inside.y)
    if len(points) > 1:
        middle = LineString(points).interpolate(0.5, normalized=True)
        return (middle.x, middle.y)
    return points[0]


def _shape(mark: Mark, finding: Finding, title: str) -> list[Item]:
    common: dict[str, Any] = {"role": "finding", "subject": finding.id, "verdict": finding.verdict, "title": title}
    points = tuple(mark.points)
    if mark.role == "measure" and len(points) == 2 and distance(*points) > 1.0:
        (a, b), length = points, distance(*points)
        direction = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
        return [Dimension(**common, weight="edge", start=a, direction=direction, outward=(direction[1], -direction[0]),
                          parts_mm=(length,), tier=0)]  # fmt: skip
    if mark.role == "area" and len(points) > 2:
        return [Polygon(**common, weight="edge", points=points, clear=True)]
    if len(points) > 1:
        return [Line(**common, weight="edge", points=points)]
    return [Circle(**common, weight="edge", centre=points[0], radius_mm=40.0)]
