"""The lessons that come back for a house."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sqlalchemy import Connection, select

from enfilade.archive import tables as t
from enfilade.archive.lessons.looking import Found, lessons_like, lessons_lost
from enfilade.archive.lessons.offering import offers
from enfilade.archive.lessons.reasons import House
from enfilade.archive.lessons.reminder import Answered, Reason, Reminder
from enfilade.archive.stated import Stated, kept_state, stated
from enfilade.project.project import Project

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["MOST", "reminders"]

MOST: Final = 100
"""So many reminders are told (own choice: nobody reads more)."""
_EACH_MORE: Final = 0.02
"""So much stronger each further reason makes a reminder (own choice: it parts those whose best reasons are equal)."""


def reminders(store: Store, project: Project | Stated | str) -> tuple[Reminder, ...]:
    """Return the lessons of the archive that bear on a house, the strongest first; at most 100.

    A lesson comes back where something of the same rule falls short, a need asks much the same, a decision is on much
    the same subject (both by their words: token sort ratio of at least 72 of 100), or a thing of the same kind stands
    in a room of the same use. Each comes back once, for its best reason. A house is not reminded of its own lessons,
    but of those whose decision it has lost.

    Args:
        store: The archive; where it shows copies for students alone, their lessons.
        project: A project at hand, saved or not; the same with its findings; or the id of one in the archive.
    Raises:
        NotFound: The archive has no project of that id, or its yardstick is unknown.
        BadRecord, Refused: What the archive holds, or the house rules in its folder, cannot be read.
    """
    state = _state(store, project)
    house, id = House(state), state.project.id
    with store.reading() as connection:
        found = lessons_like(connection, store.released, id, house.facets)
        found += lessons_lost(connection, store.released, id, [one.id for one in state.project.decisions])
        answers = _answers(connection, store.released, id)
    reasons = house.reasons([one.lesson for one in found])
    told = [_reminder(one, why, answers.get(f"{one.project}/{one.lesson.record}", []), state)
            for one, why in zip(found, reasons, strict=True) if why]  # fmt: skip
    told.sort(key=lambda one: (not one.open, -one.strength, -one.on.timestamp(), one.id))
    return tuple(told[:MOST])


def _state(store: Store, project: Project | Stated | str) -> Stated:
    if isinstance(project, str):
        return kept_state(store, project)
    return project if isinstance(project, Stated) else stated(project)


def _answers(connection: Connection, released: bool, project: str) -> dict[str, list[Answered]]:
    """Return what a project said to lessons, the newest last."""
    a, p = t.answers.c, t.projects.c
    query = (
        select(a.lesson, a.kind, a.reason, a.who, a.on, a.about)
        .join(t.projects, p.id == a.project)
        .where(p.project == project, a.released == released)
        .order_by(a.on, a.id)
    )
    found: dict[str, list[Answered]] = {}
    for lesson, *said in connection.execute(query):
        found.setdefault(lesson, []).append(Answered(*said))
    return found


def _reminder(found: Found, reasons: tuple[Reason, ...], answers: list[Answered], state: Stated) -> Reminder:
    lesson = f"{found.project}/{found.lesson.record}"
    best, last = reasons[0], answers[-1] if answers else None
    # An answer stands until something of a weightier sort brings the lesson back.
    still = last is not None and best.sort >= min(_sort(one) for one in answers)
    about = last.about if last is not None and still else best.about
    strength = min(1.0, best.strength + _EACH_MORE * (len(reasons) - 1))
    return Reminder(
        f"{lesson}/{about}", found.lesson, found.project, found.name, found.version, found.on, reasons, strength, last,
        not still, offers(found.lesson, state.rules),
    )  # fmt: skip


def _sort(answered: Answered) -> int:
    return Reason(answered.about, "", 0.0).sort
