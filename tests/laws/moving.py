"""A whole house carried to another place on the plan and turned there."""

from __future__ import annotations

import math
from typing import Any

from enfilade.project.placing import Free
from enfilade.project.project import Project
from enfilade.project.spaces import DroppedCeiling, Space

__all__ = ["moved", "shifted"]

Point = tuple[float, float]


def moved(project: Project, by_mm: Point = (0.0, 0.0), turn_deg: float = 0.0) -> Project:
    """Return the same house, turned counter-clockwise about the origin and then shifted.

    Outlines, dropped ceilings and free places move; what stands against a wall or is set in
    another thing comes along by itself.
    """

    def to(point: Point) -> Point:
        return shifted(point, by_mm, turn_deg)

    def outline(record: Any) -> dict[str, Any]:
        return {"outline": tuple(map(to, record.outline))}

    def space(old: Space) -> Space:
        dropped: tuple[DroppedCeiling, ...] = tuple(part.model_copy(update=outline(part)) for part in old.dropped)
        return old.model_copy(update={**outline(old), "dropped": dropped})

    def thing(old: Any) -> Any:
        if not isinstance(old.place, Free):
            return old
        x, y = to((old.place.x_mm, old.place.y_mm))
        place = Free(x_mm=x, y_mm=y, turn_deg=(old.place.turn_deg + turn_deg) % 360)
        return old.model_copy(update={"place": place})

    return project.with_records(spaces=map(space, project.spaces), things=map(thing, project.things))


def shifted(point: Point, by_mm: Point, turn_deg: float) -> Point:
    """Return a point, turned about the origin and then shifted."""
    x, y = _turned(point, turn_deg)
    return (round(x + by_mm[0], 9), round(y + by_mm[1], 9))


def _turned(point: Point, turn_deg: float) -> Point:
    quarter = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}.get(turn_deg % 360)  # type: ignore[call-overload]
    c, s = quarter or (math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg)))
    return (point[0] * c - point[1] * s, point[0] * s + point[1] * c)
