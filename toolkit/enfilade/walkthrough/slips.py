"""What is wrong with the figures of the lines that an audience hears: what whoever tells them is to know first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from enfilade.findings import Finding
from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.project.speaking import SpokenLine
from enfilade.script.claims import claims
from enfilade.script.figures import Figures
from enfilade.script.resolve import resolved
from enfilade.walkthrough.findings_part import line_names
from enfilade.walkthrough.telling import Telling

__all__ = ["Slip", "slips_of"]


@dataclass(frozen=True)
class Slip:
    """One figure of one line that is not what it should be.

    Attributes:
        place: Where it is said: `Kitchen, line 3`.
        what: What is wrong.
        expected: What would have been right.
        broken: A field stands for nothing, so that it is read as it was typed; else the record contradicts a figure.
    """

    place: str
    what: str
    expected: str
    broken: bool

    def __str__(self) -> str:
        expected = f"; expected {self.expected}" if self.expected else ""
        words = " ".join(f"{self.place}: {self.what}{expected}".split())
        # Control characters of a record must not steer the terminal.
        plain = "".join(sign if sign.isprintable() else "\ufffd" for sign in words)
        return f"{plain.rstrip('.')}."


def slips_of(project: Project, findings: Iterable[Finding], telling: Telling) -> tuple[Slip, ...]:
    """Return every field that stands for nothing and every contradicted figure of the lines that are told.

    Fields are read as this audience is told them, since that is what would stand in the documents; figures are held
    against the whole record, of which more is known.

    Args:
        project: The whole record.
        findings: What was found on it.
        telling: What the audience is told.
    """
    places, whole = line_names(project), Figures(project, findings)
    found: list[Slip] = []
    for owner, room, told, heard in _lists(project, telling.project, telling.audience):
        originals = {line.id: line for line in heard}
        if len(told) == len(heard):  # in the same order, though a name may be taken out of an id
            originals |= {line.id: original for line, original in zip(told, heard, strict=True)}
        for number, line in enumerate(told, 1):
            original = originals.get(line.id, line)
            place = places.get(f"{owner}/{original.id}", f"{owner}, line {number}")
            found += _broken(place, line, telling.figures)
            found += _contradicted(place, original, room, whole)
    return tuple(found)


def _lists(
    project: Project, told: Project, audience: Audience
) -> Iterator[tuple[str, str | None, Sequence[SpokenLine], Sequence[SpokenLine]]]:
    """Yield each list of lines as it is told, with the lines of the record that the audience hears, and its owner."""

    def heard(lines: Iterable[SpokenLine]) -> list[SpokenLine]:
        return [line for line in lines if audience in line.hear]

    for before, stop in zip(project.script, told.script, strict=True):
        yield before.id, before.space, stop.lines, heard(before.lines)
    for whole, part in zip(project.show.speaking.parts, told.show.speaking.parts, strict=True):
        yield whole.id, None, part.recap, heard(whole.recap)
        yield whole.id, None, part.lead_in, heard(whole.lead_in)


def _broken(place: str, line: SpokenLine, figures: Figures) -> Iterator[Slip]:
    if not ("{" in line.text or "}" in line.text):
        return
    for fault in resolved(line.text, figures).faults:
        field = fault.place.partition(", ")[2]
        nothing = f"{field} stands for nothing: {fault.what}" if len(field) > 1 else f"{field}: {fault.what}"
        yield Slip(place, nothing, fault.expected, broken=True)


def _contradicted(place: str, line: SpokenLine, room: str | None, figures: Figures) -> Iterator[Slip]:
    for claim in claims(line, room, figures):
        if claim.outcome == "contradicts":
            yield Slip(place, f"the line says {claim.text}", claim.why.removeprefix("the record has "), broken=False)
