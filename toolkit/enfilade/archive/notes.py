"""What can be searched of a project: its sentences and its figures, each with the record that it stands in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from enfilade.findings import Finding
from enfilade.project.choices import Decision
from enfilade.project.project import Project

__all__ = ["Figure", "Note", "figures_of", "notes_of"]


@dataclass(frozen=True)
class Note:
    """A text that can be found.

    Attributes:
        kind: need, decision, reason, option, product, finish, finding, answer, lesson.
        record: Id of the record, or of the finding.
        space: Id of the room; empty for the whole house.
        use: What that room is.
        state: Verdict, status or kind of answer; or empty.
        rule: Of a finding or an answer; or empty.
    """

    kind: str
    record: str
    space: str
    use: str
    state: str
    rule: str
    text: str


@dataclass(frozen=True)
class Figure:
    """A number that can be found: mm, mm2, pieces, or the project's money."""

    what: str
    name: str
    value: float
    record: str
    space: str
    use: str
    state: str = ""
    rule: str = ""


def notes_of(project: Project, findings: Sequence[Finding] = ()) -> list[Note]:
    """Return the texts of a project that can be found, in the order of the record."""
    return list(dict.fromkeys(_notes(project, findings)))


def figures_of(project: Project, findings: Sequence[Finding] = ()) -> list[Figure]:
    """Return the figures of a project that can be found."""
    return []


def _notes(project: Project, findings: Sequence[Finding]) -> Iterator[Note]:
    uses = {space.id: space.use or "" for space in project.spaces}
    for need in project.brief.needs:
        yield from _in_rooms("need", need.id, need.spaces, uses, "", need.text)
    for decision in project.decisions:
        yield from _of_decision(decision, uses)


def _of_decision(decision: Decision, uses: Mapping[str, str]) -> Iterator[Note]:
    chosen = f" {decision.chosen.text}" if decision.chosen else ""
    yield from _in_rooms("decision", decision.id, decision.spaces, uses, decision.status, f"{decision.title}.{chosen}")


def _in_rooms(
    kind: str, record: str, spaces: Iterable[str], uses: Mapping[str, str], state: str, text: str
) -> Iterator[Note]:
    if text.strip():
        for space in list(spaces) or [""]:
            yield Note(kind, record, space, uses.get(space, ""), state, "", text)
