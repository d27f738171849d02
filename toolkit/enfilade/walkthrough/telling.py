"""What the parts of a walkthrough are made from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from enfilade.checks.view import House
from enfilade.findings import Finding
from enfilade.project.choices import Answer
from enfilade.project.fields import Audience
from enfilade.project.issues import Issued
from enfilade.project.project import Project
from enfilade.script.figures import Figures
from enfilade.standards.yardsticks import Yardstick

__all__ = ["Telling"]

_NEVER: Final = Issued(None)


@dataclass(frozen=True)
class Telling:
    """What the parts of a walkthrough are made from.

    Attributes:
        project: What this audience may be told.
        house: The same house, worked out.
        findings: All findings, on the whole record.
        answers: The last answer to each finding, as far as it may be told.
        rules: What the house was held against.
        names: What people call everything, by id.
        audience: Who is told.
        order: Ids of the rooms, in the order in which they are told.
        issued: What this audience was told last, without names that it may not know.
    """

    project: Project
    house: House
    findings: tuple[Finding, ...]
    answers: Mapping[str, Answer]
    rules: Yardstick
    names: Mapping[str, str]
    audience: Audience
    order: tuple[str, ...]
    issued: Issued = _NEVER

    @cached_property
    def figures(self) -> Figures:
        """Return the figures to which spoken lines are bound: those that this audience may be told."""
        return Figures(self.project, self.findings)

    def of(self, space: str | None) -> list[Finding]:
        """Return the findings of one space, or of the house as a whole."""
        return [finding for finding in self.findings if finding.space == space]
