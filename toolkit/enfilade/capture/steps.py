"""What was done, step by step, so that each can be undone and done again without touching another window's work."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from enfilade.editing.merging.apart import NewNames, renamed
from enfilade.editing.merging.merging import merged
from enfilade.editing.merging.three_ways import Place
from enfilade.errors import Refused
from enfilade.project.project import Project

__all__ = ["Steps"]

MOST: Final = 300
"""So many steps are remembered; states share what did not change, so that a step costs little."""


@dataclass
class _Step:
    words: str
    before: Project
    after: Project
    joins: str = ""


class Steps:
    """The steps of one window, the last one last."""

    def __init__(self) -> None:
        self._done: list[_Step] = []
        self._undone: list[_Step] = []

    @property
    def undo_words(self) -> str:
        """Return what would be undone; empty when nothing."""
        return self._done[-1].words if self._done else ""

    @property
    def redo_words(self) -> str:
        """Return what would be done again; empty when nothing."""
        return self._undone[-1].words if self._undone else ""

    def add(self, words: str, before: Project, after: Project, joins: str = "") -> None:
        """Remember a step.

        Args:
            words: What was done: `moved island`.
            before: The house before it.
            after: The house with it.
            joins: Steps in a row that join by the same word are one step, such as typing in one field.
        """
        last = self._done[-1] if self._done else None
        if joins and last is not None and last.joins == joins and last.after is before and not self._undone:
            last.words, last.after = words, after
            if last.before == after:
                self._done.pop()  # It was typed back.
        else:
            self._done.append(_Step(words, before, after, joins))
            del self._done[:-MOST]
        self._undone.clear()

    def undo(self, now: Project) -> tuple[Project, str]:
        """Return the house without the last step, and in words what was undone.

        Raises:
            Refused: There is no step, or nothing of it can be undone: it is forgotten then.
        """
        if not self._done:
            raise Refused("there is nothing to undo")
        step = self._done.pop()
        project, left = _exchanged(now, step.after, step.before)
        if project is None:
            raise Refused(f"“{step.words}” cannot be undone: {left}", do="the step before it can")
        self._undone.append(step)
        return project, f"{step.words}{left}"

    def redo(self, now: Project) -> tuple[Project, str]:
        """Return the house with the last step that was undone, likewise.

        Raises:
            Refused: As for `undo`.
        """
        if not self._undone:
            raise Refused("there is nothing to do again")
        step = self._undone.pop()
        project, left = _exchanged(now, step.before, step.after)
        if project is None:
            raise Refused(f"“{step.words}” cannot be done again: {left}")
        self._done.append(step)
        return project, f"{step.words}{left}"

    def rename(self, names: NewNames) -> None:
        """Give records new names in all states; states that were the same object stay so."""
        known: dict[int, Project] = {}
        for step in (*self._done, *self._undone):
            for name in ("before", "after"):
                project = getattr(step, name)
                setattr(step, name, known.setdefault(id(project), renamed(project, names)))


def _exchanged(now: Project, this: Project, that: Project) -> tuple[Project | None, str]:
    """Return `now` with that state of the step instead of this one, and what stays as another window left it."""
    if now is this:
        return that, ""
    answers: dict[Place, Any] = {}
    result = merged(this, now, that)
    while result.clashes:
        if any(not clash.place or clash.place in answers for clash in result.clashes):
            return None, "what was done since does not fit without it"
        answers |= {clash.place: ("mine", clash.theirs) for clash in result.clashes}
        result = merged(this, now, that, answers)
    if not result.taken:
        return None, "another window has changed the same since"
    return result.project, "; the rest stays as another window left it" if answers else ""
