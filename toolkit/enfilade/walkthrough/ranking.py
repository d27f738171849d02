"""Which findings are most worth mending."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from enfilade.checks.answers import falls_short_unsettled
from enfilade.findings import Finding
from enfilade.project.choices import Answer

__all__ = ["by_urgency", "worth_mending"]

# Our own choice of order: what a code asks weighs most, a rule of thumb least.
_WEIGHT: Final = {"code": 4.0, "access": 3.0, "recommended": 2.0, "practice": 1.0}


def by_urgency(findings: Iterable[Finding]) -> list[Finding]:
    """Return the findings that fall short, the most urgent first.

    Code before access before recommendation before practice; a hazard before what is only
    inconvenient; then by the share of what is asked that is missing.
    """
    short = (finding for finding in findings if finding.verdict == "falls short")
    return sorted(short, key=lambda finding: (-_urgency(finding), finding.id))


def worth_mending(
    findings: Iterable[Finding], answers: Mapping[str, Answer] = MappingProxyType({}), most: int = 5
) -> list[Finding]:
    """Return the few findings most worth mending: one a rule and thing, so that five lines say five things.

    What is accepted or not relevant is left out for as long as the answer holds.
    """
    chosen: dict[tuple[str, tuple[str, ...]], Finding] = {}
    for finding in by_urgency(falls_short_unsettled(findings, answers)):
        chosen.setdefault((finding.rule, finding.subjects[:1]), finding)
    return list(chosen.values())[:most]


def _urgency(finding: Finding) -> float:
    required, margin = finding.required, finding.margin
    asked = 0.0
    if required is not None:
        asked = required.value[0] if isinstance(required.value, tuple) else required.value
    share = min(1.0, -margin / asked) if margin is not None and asked > 0 else 0.5
    return _WEIGHT[finding.level] + (0.5 if finding.caution else 0.0) + 0.9 * share
