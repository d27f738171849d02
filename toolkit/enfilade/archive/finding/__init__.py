"""Searching the archive: by words, by number, and by both."""

from enfilade.archive.finding.answers import Answers, Hit, state_words
from enfilade.archive.finding.find import find
from enfilade.archive.finding.plans import _DRAWN, plan_of
from enfilade.archive.finding.rooms import _READ
from enfilade.archive.finding.vocabulary import _KNOWN

__all__ = ["Answers", "Hit", "find", "let_go", "plan_of", "state_words"]


def let_go() -> None:
    """Let go of what was read of every archive to answer quickly: after something was forgotten."""
    for held in (_DRAWN, _READ, _KNOWN):
        held.clear()
