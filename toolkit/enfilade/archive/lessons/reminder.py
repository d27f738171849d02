"""A reminder: a lesson, what brought it back, and what was said to it."""

from __future__ import annotations

import datetime as dt
from dataclasses import asdict, dataclass
from typing import Any, Final, Literal

from enfilade.archive.lessons.lesson import Lesson

__all__ = ["KINDS", "SORTS", "AnswerKind", "Answered", "Proposal", "Reason", "Reminder", "parted"]

AnswerKind = Literal["accepted", "dismissed", "house rule"]
KINDS: Final[tuple[str, ...]] = ("accepted", "dismissed", "house rule")
SORTS: Final = ("findings", "needs", "decisions", "things")
"""Lists of the records that bring a lesson back, the strongest first."""


@dataclass(frozen=True)
class Reason:
    """A record of the house that brings a lesson back.

    Attributes:
        about: The record: `things/island`, `findings/K6:two-cooks:island+range`.
        why: In a sentence.
        strength: Up to 1.
    """

    about: str
    why: str
    strength: float

    @property
    def sort(self) -> int:
        """Its place in `SORTS`."""
        return SORTS.index(self.about.partition("/")[0])


@dataclass(frozen=True)
class Answered:
    """What was said to a reminder."""

    kind: str
    reason: str
    who: str
    on: str
    about: str


@dataclass(frozen=True)
class Proposal:
    """A row of the rules that a lesson could make stricter.

    Attributes:
        row: As a house rule names it: `K6/two cooks`.
        title: What it looks at.
        published: What is published: `at least 48 in`.
        measured: What was measured where the lesson was learnt, in the same unit; empty when unknown.
        how, unit: How a value bounds the figure, and its unit.
    """

    row: str
    title: str
    published: str
    measured: str
    how: str
    unit: str


@dataclass(frozen=True)
class Reminder:
    """A lesson that comes back.

    Attributes:
        id: The lesson and what it is about; the same next time.
        lesson: Its words, and where it was learnt.
        project, name: Where: id and name of the project.
        version: The version from which on it stands there.
        on: When that was kept [UTC].
        reasons: What brought it back, the best first; there is at least one.
        strength: Up to 1.
        answered: What was said to it; None: nothing yet.
        open: It waits for an answer: none was given, or something weightier has brought it back since.
        offers: Rows that could be made stricter by it; none where they are house rules already.
    """

    id: str
    lesson: Lesson
    project: str
    name: str
    version: int
    on: dt.datetime
    reasons: tuple[Reason, ...]
    strength: float
    answered: Answered | None
    open: bool
    offers: tuple[Proposal, ...] = ()

    @property
    def about(self) -> str:
        """The record that it is about."""
        return parted(self.id)[1]

    @property
    def why(self) -> str:
        """What brought it back, in a sentence."""
        return self.reasons[0].why

    def as_json(self) -> dict[str, Any]:
        """Return plain data for JSON."""
        return {
            "id": self.id, "text": self.lesson.text, "project": self.project, "name": self.name,
            "decision": self.lesson.record, "number": self.lesson.number, "title": self.lesson.title,
            "version": self.version, "on": self.on.date().isoformat(), "strength": round(self.strength, 3),
            "reasons": [asdict(one) for one in self.reasons], "open": self.open,
            "answered": asdict(self.answered) if self.answered else None,
            "offers": [asdict(one) for one in self.offers],
        }  # fmt: skip


def parted(id: str) -> tuple[str, str]:
    """Return the lesson and the record of a reminder's id; empty where it is none.

    >>> parted("river-house/island-length/things/island")
    ('river-house/island-length', 'things/island')
    """
    parts = id.split("/", 3)
    if len(parts) != 4 or parts[2] not in SORTS or not all(parts):
        return "", ""
    return "/".join(parts[:2]), "/".join(parts[2:])
