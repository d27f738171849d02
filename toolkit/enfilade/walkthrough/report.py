"""Findings as a plain text report for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping

from enfilade.checks.sentences import cautions_of, sentence, tally, unsaid
from enfilade.findings import Finding
from enfilade.lengths import System
from enfilade.project.choices import Answer
from enfilade.project.project import Project
from enfilade.walkthrough.findings_part import about, answer_words, names_of
from enfilade.walkthrough.ranking import by_urgency

__all__ = ["report"]

_WIDTH = 96
_MOST_WORKING = 12


def report(project: Project, findings: Iterable[Finding], answers: Mapping[str, Answer]) -> str:
    """Return what falls short room by room, what lacks a fact, and a count of what holds."""
    findings, names = list(findings), names_of(project)
    lines: list[str] = []
    for space in [*project.spaces, None]:
        here = [f for f in findings if f.space == (space.id if space else None)]
        if here:
            lines += _room(space.name if space else "The whole house", here, answers, project.show.units, names)
    cautions = cautions_of(finding for finding in findings if finding.verdict == "falls short")
    if cautions:
        lines += ["Cautions", *(line for caution in cautions for line in _wrapped(caution, "  ")), ""]
    return "\n".join([*lines, f"In all: {_tally(findings)}.", "Local codes and licensed practice decide."])


def _room(
    name: str, findings: list[Finding], answers: Mapping[str, Answer], system: System, names: Mapping[str, str]
) -> Iterator[str]:
    yield from _wrapped(name, "")
    open_ = [f for f in findings if f.verdict == "not assessed" and f.because == "missing fact"]
    for lead, found in (("  falls short   ", by_urgency(findings)), ("  not assessed  ", open_)):
        for finding in found:
            subject = about(finding, names)
            yield from _wrapped(f"{sentence(finding, system, names)}{f' ({subject})' if subject else ''}", lead)
            for words in _working(finding):
                yield from _wrapped(words, " " * len(lead))
            if finding.id in answers:
                yield from _wrapped(answer_words(answers[finding.id], finding), " " * len(lead))
    yield f"  {_tally(findings)}"
    yield ""


def _working(finding: Finding) -> tuple[str, ...]:
    more = unsaid(finding)
    return (*more[:_MOST_WORKING], *((f"and {len(more) - _MOST_WORKING} more",) if len(more) > _MOST_WORKING else ()))


def _tally(findings: list[Finding]) -> str:
    return ", ".join(f"{words.lower()}: {count}" for words, count in tally(findings).items())


def _wrapped(text: str, lead: str) -> list[str]:
    # Control characters of a record must not steer the terminal.
    plain = "".join(sign if sign.isprintable() else "\ufffd" for sign in text)
    return textwrap.wrap(plain, _WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead)) or [lead]
