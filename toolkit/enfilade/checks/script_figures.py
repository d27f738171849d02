"""Figures in lines: fields that stand for something, and typed figures that the record agrees with."""

from __future__ import annotations

from collections.abc import Iterator

from enfilade.checks.registry import EVERYTHING, check
from enfilade.checks.script_told import told_lines
from enfilade.checks.view import View
from enfilade.findings import Finding
from enfilade.quantities import Quantity
from enfilade.script.claims import claims
from enfilade.script.resolve import resolved
from enfilade.standards.yardsticks import Yardstick

__all__ = ["fields_that_stand_for_something", "figures_that_agree"]


@check(reads=EVERYTHING, scope="house")
def fields_that_stand_for_something(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count, for each line with a field, the fields that name nothing or a figure that the record does not hold.

    Fields of findings are looked at for their form alone, since nothing has been measured yet.
    """
    if not rules.has("T1"):
        return
    row = rules.row("T1")
    for told in told_lines(view):
        if not ("{" in told.line.text or "}" in told.line.text):
            continue
        found = resolved(told.line.text, view.figures)
        yield row.finding(
            space=told.room,
            subjects=(told.subject,),
            measured=Quantity(len(found.faults), "count"),
            working=(told.quoted, *map(str, found.faults)) if found.faults else (told.quoted,),
        )


@check(reads=EVERYTHING, scope="house")
def figures_that_agree(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count, for each line with typed figures, those that the record of what it names or shows contradicts."""
    if not rules.has("T2"):
        return
    row = rules.row("T2")
    for told in told_lines(view):
        made = claims(told.line, told.room, view.figures)
        if not made:
            continue
        working = (told.quoted, *(f"{claim.text}: {claim.outcome}, {claim.why}" for claim in made))
        where, subjects = told.room, (told.subject,)
        if all(claim.outcome == "not compared" for claim in made):
            needs = tuple(dict.fromkeys(f"what {claim.text} is of" for claim in made))
            yield row.not_assessed(space=where, subjects=subjects, because="missing fact", needs=needs, working=working)
            continue
        wrong = sum(claim.outcome == "contradicts" for claim in made)
        yield row.finding(space=where, subjects=subjects, measured=Quantity(wrong, "count"), working=working)
