"""Lessons: what hindsight taught on one house, when another records the same."""

from __future__ import annotations

from enfilade.archive.lessons.answering import answer
from enfilade.archive.lessons.lesson import Lesson, lessons_of
from enfilade.archive.lessons.reminder import Answered, Reason, Reminder
from enfilade.archive.lessons.reminding import reminders
from enfilade.archive.lessons.ruling import Proposal, make_rule, rule_left

__all__ = ["Answered", "Lesson", "Proposal", "Reason", "Reminder", "answer", "lessons_of", "make_rule",
           "reminders", "rule_left"]  # fmt: skip
