"""Decisions as they are told: each of them, once, and with its reason."""

from __future__ import annotations

from collections.abc import Iterator

from enfilade.checks.beside import counted
from enfilade.checks.registry import check
from enfilade.checks.script_told import tellings, told_lines, words_of
from enfilade.checks.view import View
from enfilade.findings import Finding
from enfilade.project.choices import Decision
from enfilade.project.fields import AUDIENCES
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["decisions_told", "decisions_told_once", "decisions_told_with_reason"]


def _where(decision: Decision) -> str | None:
    return decision.spaces[0] if len(decision.spaces) == 1 else None


@check(reads={"script", "show", "decisions"}, scope="house")
def decisions_told_once(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count how often each decision that is told is told, across the parts; a recap and a lead-in may repeat it."""
    if not rules.has("T4") or not told_lines(view):
        return
    row, times = rules.row("T4"), tellings(view.script)
    quoted = {id(told.line): told.quoted for told in told_lines(view)}
    for decision in view.decisions:
        # To whom it is told most often: lines for one audience alone repeat nothing for another.
        most = max((times.get((decision.id, one), []) for one in AUDIENCES), key=len)
        if most:
            yield row.finding(
                space=_where(decision),
                subjects=(decision.id,),
                measured=Quantity(len(most), "count"),
                working=tuple(f"decision {decision.number} is told: {quoted[id(line)]}" for line in most),
            )


@check(reads={"script", "show", "decisions"}, scope="house")
def decisions_told(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count the times that each decision which was taken is told; one that the studio alone may hear needs none."""
    if not rules.has("T5") or not told_lines(view):
        return
    row, times = rules.row("T5"), tellings(view.script)
    for decision in view.decisions:
        where, subjects = _where(decision), (decision.id,)
        heard = [one for one in decision.hear if one != "studio"]
        if decision.status == "undecided" or not heard:
            yield row.not_assessed(space=where, subjects=subjects, because="does not apply")
            continue
        told = max(len(times.get((decision.id, one), [])) for one in heard)
        not_to = [one for one in heard if told and (decision.id, one) not in times]
        yield row.finding(
            space=where,
            subjects=subjects,
            measured=Quantity(told, "count"),
            working=(
                f"decision {decision.number} is told {counted(told, 'time')}",
                *((f"not to {words_of(not_to)}",) if not_to else ()),
            ),
        )


@check(reads={"script", "show", "decisions"}, scope="house")
def decisions_told_with_reason(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Tell whether each decision that is told has a reason on record; one that is open needs none yet."""
    if not rules.has("T6") or not told_lines(view):
        return
    row = rules.row("T6")
    told = {id for one in told_lines(view) for id in one.line.decisions}
    for decision in (one for one in view.decisions if one.id in told):
        where, subjects = _where(decision), (decision.id,)
        if decision.status == "undecided":
            yield row.not_assessed(space=where, subjects=subjects, because="does not apply")
            continue
        reason = bool(decision.reason.strip())
        yield row.finding(
            space=where,
            subjects=subjects,
            measured=Quantity(float(reason), "count"),
            working=(f"decision {decision.number}: {'a' if reason else 'no'} reason is recorded",),
        )
