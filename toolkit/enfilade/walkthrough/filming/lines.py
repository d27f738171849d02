"""Every spoken line in the order of the script, with the room in which it is said."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from enfilade.editing.parts import stops_by_part
from enfilade.project.project import Project
from enfilade.project.speaking import SpokenLine

__all__ = ["ScriptLine", "script_lines"]


@dataclass(frozen=True, slots=True)
class ScriptLine:
    """A line in its place.

    Attributes:
        id: `stop/line`, or `part/line` for a recap or lead-in, as in the spoken script.
        space: The room in which it is said: a recap in that of the part's first stop, a lead-in in that of its last.
        line: The record.
    """

    id: str
    space: str
    line: SpokenLine


def script_lines(project: Project) -> Iterator[ScriptLine]:
    """Yield the lines in the order in which they are said; recap and lead-in of a part without stops are left out."""
    for talk in stops_by_part(project):
        if not talk.stops:
            continue
        part = talk.part
        if part is not None:
            yield from (ScriptLine(f"{part.id}/{line.id}", talk.stops[0].space, line) for line in part.recap)
        for stop in talk.stops:
            yield from (ScriptLine(f"{stop.id}/{line.id}", stop.space, line) for line in stop.lines)
        if part is not None:
            yield from (ScriptLine(f"{part.id}/{line.id}", talk.stops[-1].space, line) for line in part.lead_in)
