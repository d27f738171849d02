"""Searching the archive: by words, by number, and by both."""

from enfilade.archive.finding.answers import Answers, Hit
from enfilade.archive.finding.find import find
from enfilade.archive.finding.plans import plan_of

__all__ = ["Answers", "Hit", "find", "plan_of"]
