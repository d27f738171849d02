"""The numbers that cabinets bear on drawings and in schedules."""

from __future__ import annotations

from typing import Final

from enfilade.drawings.part import Part, is_upper
from enfilade.geometry.outlines import walls
from enfilade.geometry.points import dot
from enfilade.project.project import Project
from enfilade.project.spaces import Space
from enfilade.project.standing import Stand

__all__ = ["CABINETS", "cabinet_tags", "tagged", "tags_on"]

CABINETS: Final = (
    "base cabinet",
    "tall cabinet",
    "wall cabinet",
    "open shelf",
    "furniture piece",
    "appliance garage",
    "filler",
    "panel",
)
_LONGEST: Final = 12
"""Most letters of a room's name in a number; rooms that begin alike for longer are told apart by a figure."""


def cabinet_tags(
    project: Project, standing: dict[str, Stand] | None = None, space: str | None = None
) -> dict[str, str]:
    """Return the number of each cabinet: what stands on the floor clockwise round the room, then what hangs.

    Args:
        standing: Where things stand, when that is known already.
        space: Only this space; None for the whole house.
    """
    letters = _letters(project)
    if standing is None:
        standing = Part(project, space, (), "proposed").things
    by_space: dict[str, list[Stand]] = {}
    for stand in standing.values():
        thing = stand.thing
        if thing.kind in CABINETS and thing.kind not in ("filler", "panel") and thing.state != "removed":
            by_space.setdefault(thing.space, []).append(stand)
    tags = {}
    for one in project.spaces:
        for number, stand in enumerate(_in_order(by_space.get(one.id, []), one), 1):
            tags[stand.id] = f"{letters[one.id]}-{number}"
    return tags


def tags_on(part: Part) -> dict[str, str]:
    """Return the numbers of the cabinets on the drawing of a room; at every stage those of its schedule."""
    space = part.space.id if part.space else None
    # As found, what is new does not stand yet, and the rest would be counted without it.
    return cabinet_tags(part.project, None if part.stage == "as found" else part.things, space)


def tagged(tag: str, name: str) -> str:
    """Return a name after its number, if it bears one."""
    return f"{tag} {name}" if tag else name


def _letters(project: Project) -> dict[str, str]:
    """Return for each space the fewest first letters of its name that no other space begins with."""
    names = {one.id: "".join(ch for ch in one.name.title() if ch.isalnum()) or one.id for one in project.spaces}
    taken: dict[str, int] = {}
    for name in names.values():
        for end in range(1, min(len(name), _LONGEST) + 1):
            taken[name[:end]] = taken.get(name[:end], 0) + 1
    found: dict[str, str] = {}
    used: set[str] = set()
    for space_id, name in names.items():
        longest = min(len(name), _LONGEST)
        short = next((name[:end] for end in range(1, longest + 1) if taken[name[:end]] == 1), name[:longest])
        number = 2
        while short in used:
            short, number = f"{name[:longest]}{number}", number + 1
        used.add(short)
        found[space_id] = short
    return found


def _in_order(cabinets: list[Stand], space: Space) -> list[Stand]:
    lines = walls(space.outline)
    if lines and lines[0].b == tuple(space.outline[0]):
        lines = lines[::-1]  # Drawn counter-clockwise: walk the walls from left to right all the same.
    starts, run = [], 0.0
    for line in lines:
        starts.append(run)
        run += line.length_mm

    def place(stand: Stand) -> tuple[bool, bool, float, str]:
        box = stand.box
        back = (-box.outward[0], -box.outward[1])
        best: tuple[float, float] | None = None
        for line, start in zip(lines, starts, strict=True):
            at, off = line.place((box.x, box.y))
            if (
                dot(line.outward, back) < -0.95
                and -1.0 <= off - box.depth_mm / 2 <= 150.0
                and 0 <= at <= line.length_mm
            ):
                near = (off, start + at)
                best = near if best is None else min(best, near)
        return is_upper(stand.thing), best is None, best[1] if best else 0.0, stand.id

    return sorted(cabinets, key=place)
