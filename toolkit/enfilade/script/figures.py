"""The figures of a record to which spoken lines are bound."""

from __future__ import annotations

from collections.abc import Iterable

from enfilade.findings import Finding
from enfilade.project.project import Project

__all__ = ["Figures"]


class Figures:
    """What a line may say of a project: sizes, counts, names, amounts, and what was measured.

    Args:
        project: What may be told.
        findings: What was found on it.
    """

    def __init__(self, project: Project, findings: Iterable[Finding] = ()) -> None:
        self.project = project
        self.findings = tuple(findings)
