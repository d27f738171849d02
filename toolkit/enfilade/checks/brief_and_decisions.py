"""What was asked for beside what was decided: needs, decisions, reasons."""

from __future__ import annotations

from collections.abc import Iterator

from enfilade.checks.beside import counted
from enfilade.checks.registry import check
from enfilade.checks.view import View
from enfilade.findings import Finding
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["decisions_without_need", "decisions_without_reason", "needs_without_decision"]


@check(reads={"brief", "decisions"}, scope="house")
def needs_without_decision(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count, for each need of the brief, the decisions that name it; of those the working tells which are open."""
    if not rules.has("R1"):
        return
    row = rules.row("R1")
    if not view.brief.needs:
        yield row.not_assessed(space=None, subjects=(), because="missing fact", needs=("brief.needs",))
    for need in view.brief.needs:
        named = [decision for decision in view.decisions if need.id in decision.needs]
        open_ = [f"decision {decision.number} is still open" for decision in named if decision.status == "undecided"]
        yield row.finding(
            space=need.spaces[0] if len(need.spaces) == 1 else None,
            subjects=(need.id,),
            measured=Quantity(len(named), "count"),
            working=(f"need {need.number}: named by {counted(len(named), 'decision')}", *open_),
        )


@check(reads={"brief", "decisions"}, scope="house")
def decisions_without_need(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count, for each decision, the needs of the brief that it names."""
    if not rules.has("R2"):
        return
    row = rules.row("R2")
    yield from _no_decisions(row, view)
    for decision in view.decisions:
        where = decision.spaces[0] if len(decision.spaces) == 1 else None
        if not view.brief.needs:
            needs = ("brief.needs",)
            yield row.not_assessed(space=where, subjects=(decision.id,), because="missing fact", needs=needs)
            continue
        yield row.finding(
            space=where,
            subjects=(decision.id,),
            measured=Quantity(len(decision.needs), "count"),
            working=(f"decision {decision.number} names {counted(len(decision.needs), 'need')}",),
        )


@check(reads={"decisions"}, scope="house")
def decisions_without_reason(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Tell whether each decision that was taken says why; one that is open needs no reason yet."""
    if not rules.has("R3"):
        return
    row = rules.row("R3")
    yield from _no_decisions(row, view)
    for decision in view.decisions:
        where = decision.spaces[0] if len(decision.spaces) == 1 else None
        if decision.status == "undecided":
            yield row.not_assessed(space=where, subjects=(decision.id,), because="does not apply")
            continue
        yield row.finding(
            space=where,
            subjects=(decision.id,),
            measured=Quantity(float(bool(decision.reason.strip())), "count"),
            working=(f"decision {decision.number}: {'a' if decision.reason.strip() else 'no'} reason is recorded",),
        )


def _no_decisions(row: Row, view: View) -> Iterator[Finding]:
    if not view.decisions:
        yield row.not_assessed(space=None, subjects=(), because="missing fact", needs=("decisions",))
