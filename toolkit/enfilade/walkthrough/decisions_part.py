"""Decisions in words."""

from __future__ import annotations

from collections.abc import Iterable

from enfilade.project.amounts import money_words
from enfilade.project.choices import Decision
from enfilade.project.project import Project
from enfilade.walkthrough.pages import DecisionPart, OptionPart, Undecided

__all__ = ["decision_parts", "undecided"]

_STATUS = {
    "undecided": "Undecided",
    "planned": "Planned",
    "built": "Built",
    "changed on site": "Changed on site",
}


def decision_parts(project: Project, decisions: Iterable[Decision]) -> tuple[DecisionPart, ...]:
    """Return decisions in words, in the order of their numbers."""
    needs = {need.id: f"{need.number}. {need.text}" for need in project.brief.needs}
    return tuple(_part(project, decision, needs) for decision in sorted(decisions, key=lambda one: one.number))


def _part(project: Project, decision: Decision, needs: dict[str, str]) -> DecisionPart:
    currency = project.show.currency
    who = []
    if decision.by:
        who.append(f"{'To be decided' if decision.status == 'undecided' else 'Decided'} by {decision.by}")
    if decision.on:
        who.append(f"on {decision.on.isoformat()}")
    if decision.due and decision.status == "undecided":
        who.append(f"due {decision.due.isoformat()}")
    if decision.approved_on:
        who.append(f"approved by the client on {decision.approved_on.isoformat()}")
    return DecisionPart(
        number=decision.number,
        title=decision.title,
        status=_STATUS[decision.status],
        reason=decision.reason,
        needs=tuple(needs[id] for id in decision.needs if id in needs),
        options=tuple(
            OptionPart(option.text, option.why_not, money_words(option.cost, currency), option.id == decision.choice)
            for option in decision.options
        ),
        things=tuple(project.things_by_id[id].called for id in decision.things if id in project.things_by_id),
        changed=decision.changed,
        hindsight=decision.hindsight,
        who=", ".join(who),
    )


def undecided(project: Project) -> tuple[Undecided, ...]:
    """Return what is still to be decided, the most pressing first."""
    names = {space.id: space.name for space in project.spaces}
    still = [decision for decision in project.decisions if decision.status == "undecided"]
    return tuple(
        Undecided(
            decision.number,
            decision.title,
            ", ".join(names.get(id, id) for id in decision.spaces) or "whole house",
            decision.by,
            decision.due.isoformat() if decision.due else "",
        )
        for decision in sorted(still, key=lambda one: (one.due is None, str(one.due), one.number))
    )
