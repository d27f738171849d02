"""The parts in which a house is told, and which stops belong to each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from enfilade.project.project import Project
from enfilade.project.speaking import Part, Stop

__all__ = ["TalkStops", "part_of_each", "stops_by_part", "with_parts_named", "without_needless"]


@dataclass(frozen=True)
class TalkStops:
    """A part with its stops, in the order in which they are told; the part is None while a house has none."""

    part: Part | None
    stops: tuple[Stop, ...]


def part_of_each(project: Project) -> tuple[str | None, ...]:
    """Return for each stop of the script the id of its part: its own, or that of the stop before it.

    Stops before the first that names a part belong to the first part; None when the house has no parts.
    """
    parts = project.show.speaking.parts
    known = {part.id for part in parts}
    here = parts[0].id if parts else None
    found = []
    for stop in project.script:
        here = stop.part if stop.part in known else here
        found.append(here)
    return tuple(found)


def stops_by_part(project: Project) -> tuple[TalkStops, ...]:
    """Return every part with its stops: parts in their own order, stops in the order of the script.

    A house without parts is one part, or none when nothing is said.
    """
    parts = project.show.speaking.parts
    if not parts:
        return (TalkStops(None, project.script),) if project.script else ()
    each = part_of_each(project)
    return tuple(
        TalkStops(part, tuple(stop for stop, own in zip(project.script, each, strict=True) if own == part.id))
        for part in parts
    )


def with_parts_named(project: Project) -> tuple[Stop, ...]:
    """Return the stops, each with its own part named, so that they can be put in another order."""
    return tuple(
        stop if stop.part == part else stop.model_copy(update={"part": part})
        for stop, part in zip(project.script, part_of_each(project), strict=True)
    )


def without_needless(stops: Sequence[Stop]) -> tuple[Stop, ...]:
    """Return stops whose part is only named where it is another than that of the stop before."""
    found: list[Stop] = []
    before: str | None = None
    for stop in stops:
        needless = stop.part is not None and stop.part == before
        before = stop.part if stop.part is not None else before
        found.append(stop.model_copy(update={"part": None}) if needless else stop)
    return tuple(found)
