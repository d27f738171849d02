"""What is said to a reminder: taken up, dismissed with a reason, or made a house rule."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Final

from sqlalchemy import Connection, insert, select, update

from enfilade.archive import tables as t
from enfilade.archive.bulk import plain_text
from enfilade.archive.lessons.reminder import KINDS, Answered, parted
from enfilade.archive.versions import moment_words
from enfilade.errors import NotFound, Refused
from enfilade.project.readable import readable

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["answer", "answerable", "rule_told"]

_LONGEST_REASON: Final = 20_000
_LONGEST_WHO: Final = 400


def answer(store: Store, project_id: str, reminder_id: str, kind: str, reason: str = "", who: str = "") -> Answered:
    """Keep what is said to a reminder; said again, it takes the place of what was said before.

    Args:
        store: The archive.
        project_id: The project that was reminded; it must have been kept.
        reminder_id: The reminder's id.
        kind: `accepted`, `dismissed` or `house rule`.
        reason: Why; a lesson is not dismissed without one.
        who: Who says it.
    Raises:
        Refused: The kind is unknown, it is dismissed without a reason, or the archive cannot be written.
        NotFound: The archive has no such project, or no such lesson.
    """
    if kind not in KINDS:
        raise Refused(f"{readable(str(kind))!r} is no answer to a lesson", expected=", ".join(KINDS))
    if kind == "dismissed" and not reason.strip():
        raise Refused("a lesson is not dismissed without a reason", do="say why it does not hold here")
    if len(reason) > _LONGEST_REASON or len(who) > _LONGEST_WHO:
        raise Refused("the answer is too long", expected=f"{_LONGEST_REASON} signs, and {_LONGEST_WHO} for who says it")
    lesson, about = _record_of(reminder_id)
    on = moment_words(dt.datetime.now(dt.UTC))
    given = {"kind": kind, "reason": plain_text(reason.strip()), "who": plain_text(who.strip()), "on": on}

    def work(connection: Connection) -> None:
        row = _project(connection, store.released, project_id)
        _refuse_unknown(connection, store.released, lesson)
        a = t.answers.c
        where = (a.project == row, a.lesson == lesson, a.about == about)
        if connection.execute(update(t.answers).where(*where).values(**given)).rowcount == 0:
            new = {"released": store.released, "project": row, "lesson": lesson, "about": about}
            connection.execute(insert(t.answers).values(**new, **given))

    store.writing(work)
    return Answered(kind, given["reason"], given["who"], on, about)


def rule_told(store: Store, project_id: str, reminder_id: str) -> str:
    """Return the house rule that a reminder was answered by, `K6/two cooks = 60 in`; empty where it was not."""
    lesson, about = _record_of(reminder_id)
    a, p = t.answers.c, t.projects.c
    query = (
        select(a.reason)
        .join(t.projects, p.id == a.project)
        .where(p.project == plain_text(project_id), p.released == store.released, a.lesson == lesson)
        .where(a.about == about, a.kind == "house rule")
    )
    with store.reading() as connection:
        return connection.execute(query).scalar() or ""


def answerable(store: Store, project_id: str, reminder_id: str) -> None:
    """Tell whether a reminder can be answered, before anything is written.

    Raises:
        NotFound, Refused: As for `answer`.
    """
    lesson, _ = _record_of(reminder_id)
    with store.reading() as connection:
        _project(connection, store.released, project_id)
        _refuse_unknown(connection, store.released, lesson)


def _record_of(reminder_id: str) -> tuple[str, str]:
    lesson, about = parted(plain_text(reminder_id))
    if not lesson:
        raise NotFound(f"{readable(reminder_id)!r} is no lesson that was told", expected="the id below it")
    return lesson, about


def _project(connection: Connection, released: bool, project: str) -> int:
    p = t.projects.c
    # Held to the end of the transaction, so that two who answer at once do so one after the other.
    query = select(p.id).where(p.project == plain_text(project), p.released == released)
    row = connection.execute(query.with_for_update()).scalar()
    if row is None:
        raise NotFound(f"{readable(project)!r} is not in the archive yet", do="keep it, then answer")
    return int(row)


def _refuse_unknown(connection: Connection, released: bool, lesson: str) -> None:
    project, _, record = lesson.partition("/")
    query = (
        select(t.lessons.c.id)
        .join(t.projects, t.projects.c.id == t.lessons.c.project)
        .where(t.projects.c.project == project, t.lessons.c.released == released, t.lessons.c.record == record)
    )
    if connection.execute(query.limit(1)).first() is None:
        raise NotFound(f"no lesson of {readable(lesson)} is in the archive", expected="the id of a reminder")
