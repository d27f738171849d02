"""Figures in lines: fields that stand for something, and typed figures that the record agrees with."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from enfilade.checks.kept import Kept
from enfilade.checks.registry import EVERYTHING, check
from enfilade.checks.script_told import ToldLine, told_lines
from enfilade.checks.view import View
from enfilade.errors import Fault
from enfilade.findings import Finding
from enfilade.quantities import Quantity
from enfilade.script.claims import Claim, claims
from enfilade.script.resolve import Resolved, resolved
from enfilade.standards.yardsticks import Yardstick

__all__ = ["claim_words", "fault_words", "fields_that_stand_for_something", "figures_that_agree"]

# What a line says of the same figures is the same: an edit of one line, or a thing that is moved, asks for no other.
_RESOLVED: Final[Kept[Resolved]] = Kept(2048)
_CLAIMED: Final[Kept[tuple[Claim, ...]]] = Kept(2048)


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
        found = _resolved(view, told)
        yield row.finding(
            space=told.room,
            subjects=(told.subject,),
            measured=Quantity(len(found.faults), "count"),
            working=(told.quoted, *map(fault_words, found.faults)),
        )


def _resolved(view: View, told: ToldLine) -> Resolved:
    return _RESOLVED.get((view.figures, told.line), lambda: resolved(told.line.text, view.figures))


def fault_words(fault: Fault) -> str:
    """Write what is wrong with a field: `{width of iland}, at sign 7: `iland` is no record; expected `island``."""
    sign, _, field = fault.place.partition(", ")
    expected = f"; expected {fault.expected}" if fault.expected else ""
    return f"{field}, at {sign}: {fault.what}{expected}"


@check(reads=EVERYTHING, scope="house")
def figures_that_agree(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count, for each line with typed figures, those that the record of what it names or shows contradicts."""
    if not rules.has("T2"):
        return
    row = rules.row("T2")
    for told in told_lines(view):
        made = _claimed(view, told)
        if not made:
            continue
        # What is contradicted comes first.
        ordered = sorted(made, key=lambda claim: claim.outcome != "contradicts")
        working = (told.quoted, *map(claim_words, ordered))
        where, subjects = told.room, (told.subject,)
        if all(claim.outcome == "not compared" for claim in made):
            needs = tuple(dict.fromkeys(f"what {claim.text} is of" for claim in made))
            yield row.not_assessed(space=where, subjects=subjects, because="missing fact", needs=needs, working=working)
            continue
        wrong = sum(claim.outcome == "contradicts" for claim in made)
        yield row.finding(space=where, subjects=subjects, measured=Quantity(wrong, "count"), working=working)


def _claimed(view: View, told: ToldLine) -> tuple[Claim, ...]:
    return _CLAIMED.get((view.figures, told.line, told.room), lambda: claims(told.line, told.room, view.figures))


def claim_words(claim: Claim) -> str:
    """Write what was found of a typed figure: `the line says 9 feet; the record has 7 ft 6 in (width of counter)`."""
    if claim.outcome == "contradicts":
        return f"the line says {claim.text}; {claim.why}"
    return f"“{claim.text}” {'agrees' if claim.outcome == 'agrees' else 'is not compared'}: {claim.why}"
