"""Answers to findings, and whether they still hold."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import Enum

from enfilade.errors import EnfiladeError
from enfilade.findings import Finding
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.choices import Answer
from enfilade.quantities import Quantity, convert

__all__ = ["Standing", "answers_by_finding", "falls_short_unanswered", "falls_short_unsettled", "standing_of"]


class Standing(Enum):
    """How an answer stands to the finding as it is now."""

    HOLDS = "holds"
    WORSENED = "worsened"


def answers_by_finding(answers: Iterable[Answer]) -> dict[str, Answer]:
    """Return the last answer given to each finding."""
    return {answer.finding: answer for answer in answers}


def standing_of(answer: Answer, finding: Finding) -> Standing:
    """Tell whether an answer holds: it does until the measured figure worsens.

    An answer that kept no figure holds for as long as the finding is there.
    """
    if answer.measured is None or answer.unit is None or finding.measured is None or finding.required is None:
        return Standing.HOLDS
    try:
        then = finding.required.margin(Quantity(answer.measured, answer.unit))
        slack = convert(TOLERANCE_MM, "mm", finding.required.unit) if finding.required.unit in ("mm", "in") else 1e-6
    except EnfiladeError:
        return Standing.WORSENED  # It was answered in a unit that is no longer what is measured.
    now = finding.margin
    return Standing.WORSENED if now is not None and now < then - slack else Standing.HOLDS


def falls_short_unanswered(findings: Iterable[Finding], answers: Mapping[str, Answer]) -> list[Finding]:
    """Return the findings that fall short and to which no answer holds."""
    return [f for f in findings if f.verdict == "falls short" and _holding(f, answers) is None]


def falls_short_unsettled(findings: Iterable[Finding], answers: Mapping[str, Answer]) -> list[Finding]:
    """Return the findings that fall short and still ask for something: unanswered, or to mend."""
    return [
        finding
        for finding in findings
        if finding.verdict == "falls short"
        and ((answer := _holding(finding, answers)) is None or answer.kind == "to mend")
    ]


def _holding(finding: Finding, answers: Mapping[str, Answer]) -> Answer | None:
    answer = answers.get(finding.id)
    return answer if answer is not None and standing_of(answer, finding) is Standing.HOLDS else None
