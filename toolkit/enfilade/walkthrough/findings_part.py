"""Findings in words, with the answers that were given to them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping

from enfilade.checks.answers import Standing, standing_of
from enfilade.checks.sentences import (
    BECAUSE,
    LEVELS,
    VERDICTS,
    asks,
    field_words,
    margin_words,
    measured_words,
    need_words,
    sentence,
)
from enfilade.findings import Finding
from enfilade.lengths import System
from enfilade.listing import listed
from enfilade.project.choices import Answer
from enfilade.project.project import Project
from enfilade.walkthrough.pages import FindingGroup, FindingPart, RoomPage

__all__ = ["about", "answer_words", "carried_cautions", "finding_parts", "grouped", "line_names", "names_of"]

_NAMED = 5


def names_of(project: Project) -> dict[str, str]:
    """Return what people call everything that a finding may be about, by id."""
    names = {wall.id: wall.name for space in project.spaces for wall in space.walls if wall.name}
    names |= {opening.id: opening.name or opening.kind for opening in project.openings}
    names |= {need.id: f"need {need.number}" for need in project.brief.needs}
    names |= {decision.id: f"decision {decision.number}, {decision.title}" for decision in project.decisions}
    names |= line_names(project)
    return names | {thing.id: thing.called for thing in project.things}


def line_names(project: Project) -> dict[str, str]:
    """Return where every line is said, `Kitchen, line 3`, by the id of its stop or part and its own: `stop/line`.

    Lines of a room are counted through, whatever stops they stand in.
    """
    names: dict[str, str] = {}
    counted: Counter[str] = Counter()
    rooms = {space.id: space.name for space in project.spaces}
    for stop in project.script:
        for line in stop.lines:
            counted[stop.space] += 1
            names[f"{stop.id}/{line.id}"] = f"{rooms.get(stop.space, stop.space)}, line {counted[stop.space]}"
    for number, part in enumerate(project.show.speaking.parts, 1):
        for words, lines in (("recap", part.recap), ("lead-in", part.lead_in)):
            for at, line in enumerate(lines, 1):
                names[f"{part.id}/{line.id}"] = f"{part.title or f'part {number}'}, {words}, line {at}"
    return names


def finding_parts(
    findings: Iterable[Finding],
    answers: Mapping[str, Answer],
    system: System,
    numbers: Mapping[str, int],
    names: Mapping[str, str],
) -> tuple[FindingPart, ...]:
    """Return findings in words.

    Args:
        findings: In the order in which they are told.
        answers: The last answer to each, by the finding's id.
        system: Units for reading.
        numbers: The number that marks each on the plan; 0 when it is not marked.
        names: What people call the subjects, by id.
    """
    return tuple(
        _part(finding, answers.get(finding.id), system, numbers.get(finding.id, 0), names) for finding in findings
    )


def about(finding: Finding, names: Mapping[str, str]) -> str:
    """Return what a finding is about, by name; the first few where it is about many things."""
    called = list(dict.fromkeys(names[subject] for subject in finding.subjects if subject in names))
    return listed(called, _NAMED)


def _part(
    finding: Finding, answer: Answer | None, system: System, number: int, names: Mapping[str, str]
) -> FindingPart:
    return FindingPart(
        id=finding.id,
        anchor="finding-" + re.sub(r"[^A-Za-z0-9]+", "-", finding.id),
        number=number,
        title=finding.title,
        about=about(finding, names),
        sentence=sentence(finding, system, names),
        verdict=VERDICTS[finding.verdict],
        level=LEVELS[finding.level],
        measured=measured_words(finding, system),
        asks=asks(finding.required, system) if finding.required else "\u2013",
        margin=margin_words(finding, system),
        label=finding.source.label or finding.source.document,
        source=str(finding.source),
        known=finding.source.known,
        working=finding.working,
        also=finding.also,
        caution=finding.caution,
        assumed=tuple(_assumed(value, names) for value in finding.assumed),
        answer=answer_words(answer, finding) if answer else "",
        because=BECAUSE[finding.because] if finding.because else "",
        needs=tuple(need_words(need, names) for need in finding.needs),
    )


def grouped(parts: Iterable[FindingPart]) -> tuple[FindingGroup, ...]:
    """Return findings that say the same of several things together, in the order in which each is first met."""
    found: dict[tuple[object, ...], list[FindingPart]] = {}
    for part in parts:
        said = (part.title, part.because, part.level, part.label, part.source, part.known, part.caution, part.also)
        found.setdefault(said, []).append(part)
    return tuple(
        FindingGroup(
            title=first.title,
            because=first.because,
            level=first.level,
            label=first.label,
            source=first.source,
            known=first.known,
            caution=first.caution,
            also=first.also,
            parts=(first, *rest),
        )
        for first, *rest in found.values()
    )


def carried_cautions(page: RoomPage, parts: Iterable[FindingPart]) -> tuple[str, ...]:
    """Return the cautions of a room that some of its findings carry, each once."""
    carried = {part.caution for part in parts if part.caution}
    return tuple(caution for caution in page.cautions if any(caution in joined for joined in carried))


def _assumed(value: str, names: Mapping[str, str]) -> str:
    """Write an assumed value, `id.field`, as people say it: `bottom of microwave`."""
    id, _, field = value.rpartition(".")
    return f"{field_words(field)} of {names.get(id, id)}" if id else value


def answer_words(answer: Answer, finding: Finding) -> str:
    """Write an answer: what was said, why, by whom and when; and that it lapsed when the figure worsened."""
    said = {"to mend": "To mend", "accepted": "Accepted", "not relevant here": "Not relevant here"}[answer.kind]
    who = ", ".join(part for part in (answer.by, answer.on.isoformat() if answer.on else "") if part)
    words = f"{said}{f' ({who})' if who else ''}"
    if answer.reason:
        words += f": {answer.reason}"
    if standing_of(answer, finding) is Standing.WORSENED:
        words = f"The figure has worsened since this was answered; the answer no longer holds. It was: {words}"
    return words
