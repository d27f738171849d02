"""Two sides brought together with an answer to each question, also to those that only an answer brings up."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from enfilade.editing.merging.merging import Merged, merged
from enfilade.editing.merging.three_ways import Answers, Clash, Place, Side
from enfilade.project.project import Project

__all__ = ["answered"]

_ROUNDS: Final = 20
"""So often an answer may bring up another question (own choice: a record, what needs it, and so on, are a few)."""


def answered(
    base: Project, mine: Project, theirs: Project, side: Callable[[Clash], Side | None]
) -> tuple[Merged, tuple[Clash, ...]]:
    """Merge, with each question answered as it comes up.

    Args:
        base, mine, theirs: As for `merged`.
        side: Which side to take for what both changed; None: nothing says so.
    Returns:
        What became of both, whose clashes nobody answered; and all that was asked, once each, in the order it came up.
    """
    answers: Answers = {}
    asked: dict[Place, Clash] = {}
    for _ in range(_ROUNDS):
        met = merged(base, mine, theirs, answers)
        new = [one for one in met.clashes if one.place not in asked]
        asked |= {one.place: one for one in new}
        given: Answers = {one.place: (taken, one.theirs) for one in new if (taken := side(one))}
        if not given:
            break
        answers = {**answers, **given}
    return met, tuple(asked.values())
