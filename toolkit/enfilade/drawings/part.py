"""The part of a house that one drawing shows, resolved into house coordinates once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import Final, Literal

from enfilade.findings import Finding
from enfilade.geometry.boxes import Segment
from enfilade.project.doorways import Doorway, doorways
from enfilade.project.project import Project
from enfilade.project.spaces import Opening, Space
from enfilade.project.standing import Stand, stands, wall_segments
from enfilade.project.thing import Thing

__all__ = ["CUT_PLANE_MM", "Part", "Stage", "is_upper"]

Stage = Literal["as found", "proposed", "as built"]

CUT_PLANE_MM: Final = 1219.2
"""Plans are cut 4 ft above the floor (drafting practice, no source); what hangs higher is dashed."""

# How far beyond a room its neighbours are looked for: farther than a thick wall, nearer than the next room but one (own
# choice).
_NEAR_MM: Final = 1000.0


class Part:
    """The spaces that are drawn, their near neighbours, and what stands in them at one stage.

    Args:
        project: The house.
        space: Id of one space; None for the whole house.
        findings: What the drawing may mark.
        stage: `as found` leaves out what is new, `as built` what was removed; `proposed` shows both.
    Raises:
        NotFound: The space does not exist.
    """

    def __init__(self, project: Project, space: str | None, findings: Sequence[Finding], stage: Stage | None) -> None:
        self.project = project
        self.system = project.show.units
        self.stage: Stage = stage or project.show.stage
        self.space = project.space(space) if space is not None else None
        self.spaces: tuple[Space, ...] = project.spaces if self.space is None else (self.space,)
        self.near = project.spaces if self.space is None else _near(project, self.space)
        self.lines: dict[str, Segment] = wall_segments(self.near)
        self.owner = {wall.id: one for one in self.near for wall in one.walls}
        ids = {one.id for one in self.spaces}
        self.findings = [f for f in findings if space is None or f.space in (space, None)]
        self.things = self._things(ids)
        self.products = {product.id: product for product in project.products}
        self.finishes = {finish.id: finish for finish in project.finishes}

    def _things(self, ids: set[str]) -> dict[str, Stand]:
        here = [thing for thing in self.project.things if thing.space in ids and self.shows(thing.state)]
        needed: list[Thing] = list(here) if self.space is not None else list(self.project.things)
        lines = self.lines
        if self.space is not None:
            known = {thing.id for thing in here}
            for thing in needed:  # grows while hosts are found
                host = self.project.things_by_id.get(getattr(thing.place, "host", ""))
                if host is not None and host.id not in known:
                    known.add(host.id)
                    needed.append(host)
            if any(getattr(thing.place, "wall", None) not in (None, *lines) for thing in needed):
                lines = wall_segments(self.project.spaces)
        standing = stands(needed, lines)
        return {thing.id: standing[thing.id] for thing in here}

    def shows(self, state: str) -> bool:
        """Tell whether a record of this state is drawn at this stage."""
        return not (state == "new" and self.stage == "as found") and not (
            state == "removed" and self.stage == "as built"
        )

    def gone(self, state: str) -> bool:
        """Tell whether a record is drawn as removed."""
        return state == "removed" and self.stage == "proposed"

    @cached_property
    def openings(self) -> dict[str, tuple[Opening, list[Doorway]]]:
        """The openings of the drawn spaces, each with its sides, drawn spaces first."""
        walls = {wall.id for one in self.spaces for wall in one.walls}
        here = [o for o in self.project.openings if (o.wall in walls or o.beyond in walls) and self.shows(o.state)]
        known = [opening for opening in here if opening.wall in self.lines]
        sides = doorways(known, self.near, self.lines)
        ids = [one.id for one in self.spaces]
        found: dict[str, tuple[Opening, list[Doorway]]] = {}
        for space_id in (*ids, *(other for other in sides if other not in ids)):
            for door in sides[space_id]:
                if door.opening is not None:
                    found.setdefault(door.id, (door.opening, []))[1].append(door)
        return found

    def opening_order(self) -> dict[str, list[tuple[Opening, Segment]]]:
        """Return the openings of each drawn wall, by wall, as segments on it."""
        found: dict[str, list[tuple[Opening, Segment]]] = {}
        for opening, doors in self.openings.values():
            for door in doors:
                found.setdefault(door.wall, []).append((opening, door.segment))
        return found

    @cached_property
    def open_sides(self) -> list[tuple[str, Segment, str | None]]:
        """The open sides of the drawn spaces: wall id, line, and the id of the space beyond."""
        sides = doorways((), self.near, self.lines)
        return [(d.id, d.segment, d.beyond) for one in self.spaces for d in sides[one.id] if d.opening is None]

    @property
    def title_block(self) -> dict[str, str]:
        """What every sheet of the project bears."""
        show = self.project.show
        return {
            "project": self.project.name,
            "version": show.version,
            "date": show.date.isoformat() if show.date else "",
            "stage": self.stage,
            "studio": show.studio.name,
        }

    def name_of(self, space_id: str | None) -> str | None:
        """Return the name of a space, None when there is none."""
        return next((one.name for one in self.project.spaces if one.id == space_id), None)

    def colour(self, finish: str | None, filled: bool) -> str | None:
        """Return the recorded colour of a finish when drawings are filled."""
        found = self.finishes.get(finish or "")
        return found.colour if filled and found is not None else None


def is_upper(thing: Thing) -> bool:
    """Tell whether a thing hangs above the plane at which a plan is cut."""
    return thing.bottom_mm >= CUT_PLANE_MM and thing.kind != "window treatment"


def _near(project: Project, space: Space) -> tuple[Space, ...]:
    """Return a space and those that may share a wall or an opening with it, in the order of the record."""
    x0, y0, x1, y1 = _bounds(space.outline)
    walls = {wall.id for wall in space.walls}
    joined = {o.wall for o in project.openings if o.beyond in walls} | {
        o.beyond for o in project.openings if o.wall in walls
    }
    found = []
    for other in project.spaces:
        a0, b0, a1, b1 = _bounds(other.outline)
        near = a0 <= x1 + _NEAR_MM and a1 >= x0 - _NEAR_MM and b0 <= y1 + _NEAR_MM and b1 >= y0 - _NEAR_MM
        if other.id == space.id or near or any(wall.id in joined for wall in other.walls):
            found.append(other)
    return tuple(found)


def _bounds(points: Iterable[tuple[float, float]]) -> tuple[float, float, float, float]:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
