"""Answers to findings: given in place, and taken back."""

from __future__ import annotations

import datetime as dt

from enfilade.editing.ids import new_id
from enfilade.errors import BadRecord, Fault, NotFound
from enfilade.findings import Finding
from enfilade.project.project import Project

__all__ = ["answer_taken_back", "answered"]


def answered(project: Project, finding: Finding, kind: str, reason: str, by: str, on: dt.date | None) -> Project:
    """Return the project with an answer to a finding, in place of the one that it had.

    The figure that was answered is kept with it, so that the answer lapses when the figure worsens.

    Args:
        kind: `to mend`, `accepted` (needs a reason and a name) or `not relevant here` (needs a reason).
    Raises:
        BadRecord: The answer lacks what its kind needs.
    """
    lacks = (
        [Fault("reason", f"{kind} needs a reason", "why it may stay")]
        if kind != "to mend" and not reason.strip()
        else []
    )
    if kind == "accepted" and not by.strip():
        lacks.append(Fault("by", "accepted needs a name", "who accepts it"))
    if lacks:
        raise BadRecord("answer", lacks)
    before = [answer for answer in project.answers if answer.finding == finding.id]
    taken = {answer.id for answer in project.answers if answer not in before}
    new: dict[str, object] = {
        "id": before[-1].id if before else new_id(f"answer {finding.rule} {finding.space or 'house'}", taken),
        "finding": finding.id,
        "kind": kind,
        "reason": reason.strip(),
        "by": by.strip(),
        "on": on,
    }
    if finding.measured is not None:
        new |= {"measured": finding.measured.value, "unit": finding.measured.unit}
    others = [answer for answer in project.answers if answer.finding != finding.id]
    return project.with_records(answers=[*others, new])


def answer_taken_back(project: Project, finding: str) -> Project:
    """Return the project without the answers to a finding.

    Raises:
        NotFound: It has none.
    """
    others = [answer for answer in project.answers if answer.finding != finding]
    if len(others) == len(project.answers):
        raise NotFound("this finding has no answer")
    return project.with_records(answers=others)
