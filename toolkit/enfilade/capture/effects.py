"""What the last change on a page did to the budget and to the days to order by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.checks.budget_effect import effect
from enfilade.project.project import Project

__all__ = ["last_effect"]

_KEPT: Final = "budget effect"


@dataclass(frozen=True)
class _Told:
    before: Project
    now: Project
    step: str
    words: tuple[str, ...]


def last_effect(desk: Desk, sight: Sight) -> list[str]:
    """Return what the last change did, in sentences; nothing when it touched neither money nor days.

    What is typed into one field letter by letter is told against the house as it was before that field was begun.
    """
    told = sight.kept.get(_KEPT)
    now, step = desk.project, desk.undo_words
    if not isinstance(told, _Told):
        told = _Told(now, now, step, ())
    elif told.now is not now:
        before = told.before if step and step == told.step else told.now
        told = _Told(before, now, step, effect(before, now))
    sight.kept[_KEPT] = told
    return list(told.words)
