"""Two windows' work on one house, brought together by record: what each changed is taken, what both did is asked."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass
from typing import Any, Final

from enfilade.editing.forms.refusals import plain_words
from enfilade.editing.merging.saying import Words
from enfilade.editing.merging.three_ways import GONE, Answers, Change, Clash, Place, ThreeWays
from enfilade.errors import BadRecord
from enfilade.listing import capital
from enfilade.project.project import Project

__all__ = ["Merged", "differences", "merged"]

_MOST_DROPPED: Final = 30
"""So many records that were taken away are tried one by one; beyond that the question is put as a whole."""


@dataclass(frozen=True)
class Merged:
    """Two windows' work brought together.

    Attributes:
        project: Both, and verified; while anything clashes, this side's own, unchanged.
        taken: What came from the other side, in words: `Island (width)`.
        changes: The same as values.
        clashes: What both changed differently, or what of each does not fit together.
    """

    project: Project
    taken: tuple[str, ...]
    changes: tuple[Change, ...]
    clashes: tuple[Clash, ...]


def merged(base: Project, mine: Project, theirs: Project, answers: Answers | None = None) -> Merged:
    """Return what became of `base` in two places, by record and by field.

    Records and lists that are equal on this side stay the same objects. A record that one side took away and the other
    changed, or needs, is a clash; so is all, when what each side did cannot stand together.

    Args:
        base: What both began with.
        mine: What it became here.
        theirs: What it became there.
        answers: Which side to take at the places of clashes that were asked, with their value that was asked about.
    """
    answers = answers or {}
    if mine == theirs:
        return Merged(mine, (), (), ())
    ways, project = _tried(base, mine, theirs, answers)
    if ways.clashes:
        return Merged(mine, (), (), tuple(ways.clashes))
    fault = _fault(project)
    if fault and ways.dropped:
        ways, project, fault = _with_what_is_needed(base, mine, theirs, answers, ways, fault)
    if ways.clashes:
        return Merged(mine, (), (), tuple(ways.clashes))
    if fault:
        which, about = answers.get((), (None, None))
        if which is None or about != theirs:
            return Merged(mine, (), (), (Clash((), base, mine, theirs, fault),))
        project = mine if which == "mine" else theirs
        return Merged(project, (), differences(mine, project), ())
    changes = tuple(ways.taken)
    return Merged(project, Words(mine, theirs, base).records(changes), changes, ())


def differences(before: Project, after: Project) -> tuple[Change, ...]:
    """Return what became another value from one state of a house to a later one."""
    ways, _ = _tried(before, before, after, {})
    return tuple(ways.taken)


def _tried(
    base: Project, mine: Project, theirs: Project, answers: Answers, kept: Container[Place] = ()
) -> tuple[ThreeWays, Project]:
    ways = ThreeWays(answers, kept)
    changed: dict[str, Any] = {}
    for name in Project.model_fields:
        value = ways.value((name,), *(getattr(one, name) for one in (base, mine, theirs)))
        if value is not getattr(mine, name):
            changed[name] = value
    return ways, mine.model_copy(update=changed) if changed else mine


def _fault(project: Project) -> str:
    """Return in words why the records of a house do not fit together; empty when they do."""
    try:
        project.verified()
    except BadRecord as error:
        words = Words(project)
        faults = [f"{capital(words.record(tuple(one.place.split('/'))))}: {one.what}" for one in error.faults[:2]]
        return plain_words("; ".join(faults), project)
    return ""


def _with_what_is_needed(
    base: Project, mine: Project, theirs: Project, answers: Answers, ways: ThreeWays, fault: str
) -> tuple[ThreeWays, Project, str]:
    """Try again with what one side took away put back, as little of it as is needed; each is a clash then."""
    needed = list(ways.dropped)
    again, project = _tried(base, mine, theirs, answers, needed)
    if again.clashes or _fault(project) or len(needed) > _MOST_DROPPED:
        return ways, project, fault
    for place in ways.dropped:
        fewer = [one for one in needed if one != place]
        less, smaller = _tried(base, mine, theirs, answers, fewer)
        if not less.clashes and not _fault(smaller):
            needed, again, project = fewer, less, smaller
    for place in needed:
        here, there = (_at(one, place) for one in (mine, theirs))
        which, about = answers.get(place, (None, None))
        if which is None or about != there:
            again.clashes.append(Clash(place, _at(base, place), here, there, f"it is needed: {fault}"))
        elif (here if which == "mine" else there) is GONE:
            return ways, project, fault  # Who insists on taking away what is needed is asked about all.
    return again, project, ""


def _at(project: Project, place: Place) -> Any:
    """Return what stands at the place of a record."""
    value: Any = project
    for step in place:
        if isinstance(value, tuple):
            value = next((one for one in value if one.id == step), GONE)
        else:
            value = getattr(value, step, GONE)
    return value
