"""The house as it is told, worked out once for a state of it and shared by the parts of the page that tell of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.checks.answers import answers_by_finding
from enfilade.checks.run import project_yardstick
from enfilade.checks.view import House
from enfilade.editing.forms.paths import Path
from enfilade.editing.parts import stops_by_part
from enfilade.errors import NotFound
from enfilade.lengths import FOOT_MM, System
from enfilade.project.project import Project
from enfilade.project.speaking import SpokenLine
from enfilade.walkthrough.findings_part import names_of
from enfilade.walkthrough.order import room_order
from enfilade.walkthrough.pages import Spoken, SpokenPart, TalkPart
from enfilade.walkthrough.spoken import spoken
from enfilade.walkthrough.telling import Telling

__all__ = ["Told", "far_words", "line_at", "line_paths", "time_words", "told_now"]

_KEPT: Final = "told"


@dataclass(frozen=True)
class Told:
    """A state of the house as the studio tells it: everything that is recorded."""

    telling: Telling

    @property
    def project(self) -> Project:
        """Return the house."""
        return self.telling.project

    @cached_property
    def spoken(self) -> Spoken:
        """Return the script with its times."""
        return spoken(self.telling)

    @cached_property
    def lines(self) -> dict[str, SpokenPart]:
        """Return every spoken line with its time, by `stop/line` or `part/line`."""
        return {line.id: line for part in self.spoken.parts for line in _lines_of(part)}


def told_now(desk: Desk, sight: Sight) -> Told:
    """Return the house as it is told now."""
    kept = sight.kept.get(_KEPT)
    project = desk.project
    if isinstance(kept, Told) and kept.project is project:
        return kept
    house = House(project, kept.telling.house if isinstance(kept, Told) else None)
    findings = tuple(desk.findings())
    telling = Telling(
        project=project,
        house=house,
        findings=findings,
        answers=answers_by_finding(project.answers),
        rules=project_yardstick(project),
        names=names_of(project),
        audience="studio",
        order=tuple(room_order(house)),
    )
    told = sight.kept[_KEPT] = Told(telling)
    return told


def line_paths(project: Project) -> Iterator[tuple[str, Path, SpokenLine]]:
    """Yield every line as `stop/line` or `part/line`, with the path to its record, in the order in which it is said."""
    for talk in stops_by_part(project):
        part = talk.part
        if part is not None:
            yield from _under(part.id, ("show", "speaking", "parts", part.id, "recap"), part.recap)
        for stop in talk.stops:
            yield from _under(stop.id, ("script", stop.id, "lines"), stop.lines)
        if part is not None:
            yield from _under(part.id, ("show", "speaking", "parts", part.id, "lead_in"), part.lead_in)


def _under(owner: str, path: Path, lines: Sequence[SpokenLine]) -> Iterator[tuple[str, Path, SpokenLine]]:
    yield from ((f"{owner}/{line.id}", (*path, line.id), line) for line in lines)


def line_at(project: Project, path: Path) -> tuple[str, SpokenLine]:
    """Return the id of a line's stop or part, and the line.

    Raises:
        NotFound: No line stands there.
    """
    for id, there, line in line_paths(project):
        if there == path:
            return id.partition("/")[0], line
    raise NotFound("this line is not there any more", do="load the page again")


def _lines_of(part: TalkPart) -> Iterator[SpokenPart]:
    yield from part.recap
    for stop in part.stops:
        yield from stop.lines
    yield from part.lead_in


def time_words(seconds: float) -> str:
    """Write a time as people say it, to the second.

    >>> time_words(0.0), time_words(12.4), time_words(382.7), time_words(480.0)
    ('0 s', '12 s', '6 min 23 s', '8 min')
    """
    minutes, rest = divmod(int(seconds + 0.5), 60)
    if not minutes:
        return f"{rest} s"
    return f"{minutes} min {rest} s" if rest else f"{minutes} min"


def far_words(length_mm: float, system: System) -> str:
    """Write how far one walks: whole feet, or metres, below ten with one decimal.

    >>> far_words(12_300.0, "metric"), far_words(4_300.0, "metric"), far_words(4_300.0, "us")
    ('12 m', '4.3 m', '14 ft')
    """
    if system == "us":
        return f"{length_mm / FOOT_MM:.0f} ft"
    metres = length_mm / 1000
    return f"{metres:.0f} m" if metres >= 9.95 else f"{metres:.1f} m"
