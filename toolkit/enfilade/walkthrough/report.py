"""Findings as a plain text report for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping

from enfilade.checks.sentences import sentence
from enfilade.findings import Finding
from enfilade.project.choices import Answer
from enfilade.project.project import Project
from enfilade.walkthrough.findings_part import answer_words
from enfilade.walkthrough.ranking import by_urgency

__all__ = ["report"]

_WIDTH = 96


def report(project: Project, findings: Iterable[Finding], answers: Mapping[str, Answer]) -> str:
    """Return what falls short room by room, what lacks a fact, and a count of what holds."""
    findings = list(findings)
    lines: list[str] = []
    for space in [*project.spaces, None]:
        here = [f for f in findings if f.space == (space.id if space else None)]
        if here:
            lines += _room(space.name if space else "The whole house", here, answers, project)
    cautions = list(dict.fromkeys(f.caution for f in findings if f.caution and f.verdict == "falls short"))
    if cautions:
        lines += ["Cautions"] + [line for caution in cautions for line in _wrapped(caution, "  ")] + [""]
    lines.append(f"In all: {_tally(findings)}. Local codes and licensed practice decide.")
    return "\n".join(lines)


def _room(name: str, findings: list[Finding], answers: Mapping[str, Answer], project: Project) -> Iterator[str]:
    yield name
    for finding in by_urgency(findings):
        yield from _wrapped(sentence(finding, project.show.units), "  falls short   ")
        if finding.id in answers:
            yield from _wrapped(answer_words(answers[finding.id], finding), "                ")
    for finding in findings:
        if finding.verdict == "not assessed" and finding.because == "missing fact":
            yield from _wrapped(sentence(finding, project.show.units), "  not assessed  ")
    yield f"  {_tally(findings)}"
    yield ""


def _tally(findings: list[Finding]) -> str:
    def count(verdict: str, words: str) -> str:
        return f"{sum(f.verdict == verdict for f in findings)} {words}"

    return ", ".join((count("met", "hold"), count("falls short", "fall short"), count("not assessed", "not assessed")))


def _wrapped(text: str, lead: str) -> list[str]:
    # Control characters of a record must not steer the terminal.
    plain = "".join(sign if sign.isprintable() else "\ufffd" for sign in text)
    return textwrap.wrap(plain, _WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead)) or [lead]
