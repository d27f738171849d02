"""Lessons in the archive's tables, brought to the state of a new version."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection, delete, func, insert, select, update

from enfilade.archive import tables as t
from enfilade.archive.bulk import add_rows
from enfilade.archive.lessons.lesson import Lesson, facets_of, lessons_of
from enfilade.archive.stated import findings_kept
from enfilade.project.project import Project

__all__ = ["learn", "learnt_from", "unlearn"]


def learnt_from(project: Project, findings: bytes | None) -> list[Lesson]:
    """Return the lessons of a version, with the figures of the findings that were kept with it."""
    taught = any(one.hindsight.strip() and one.findings for one in project.decisions)
    return lessons_of(project, (findings_kept(findings) or ()) if taught else ())


def learn(connection: Connection, project: int, number: int, lessons: Sequence[Lesson], released: bool) -> None:
    """Bring the lessons of a project to the state of its new version; those that no longer stand are closed.

    Args:
        project: Row of the project.
        number: Of the new version.
        lessons: All of them.
        released: It is a copy for students.
    """
    one = t.lessons.c
    query = select(one.id, one.content).where(one.project == project, one.until.is_(None))
    standing = {row.content: row.id for row in connection.execute(query)}
    now = {lesson.as_text(): lesson for lesson in lessons}
    if gone := [id for content, id in standing.items() if content not in now]:
        connection.execute(update(t.lessons).where(one.id.in_(gone)).values(until=number - 1))
        connection.execute(delete(t.lesson_facets).where(t.lesson_facets.c.lesson.in_(gone)))
    new = [(content, lesson) for content, lesson in now.items() if content not in standing]
    if not new:
        return
    ids = _added(connection, [(released, project, lesson.record, content, number) for content, lesson in new])
    facets = sorted(
        (released, facet, id) for id, (_, lesson) in zip(ids, new, strict=True) for facet in facets_of(lesson)
    )
    columns = (("released", "boolean"), ("facet", "text"), ("lesson", "bigint"))
    add_rows(connection, "lesson_facets", columns, facets)


def _added(connection: Connection, rows: Sequence[tuple[bool, int, str, str, int]]) -> Sequence[int]:
    """Add lessons, and return their numbers in the same order."""
    names = ("released", "project", "record", "content", "since")
    if connection.dialect.name != "sqlite":
        adding = insert(t.lessons).returning(t.lessons.c.id, sort_by_parameter_order=True)
        return connection.execute(adding, [dict(zip(names, row, strict=True)) for row in rows]).scalars().all()
    # Who writes is alone, so that the numbers of the rows are known beforehand.
    first = int(connection.execute(select(func.max(t.lessons.c.id))).scalar() or 0) + 1
    numbered = [(*row, first + at) for at, row in enumerate(rows)]
    add_rows(connection, "lessons", tuple((name, "") for name in (*names, "id")), numbered)
    return range(first, first + len(rows))


def unlearn(connection: Connection, project: int) -> None:
    """Remove all lessons of a project, so that they can be learnt anew from its versions."""
    ids = select(t.lessons.c.id).where(t.lessons.c.project == project)
    connection.execute(delete(t.lesson_facets).where(t.lesson_facets.c.lesson.in_(ids)))
    connection.execute(delete(t.lessons).where(t.lessons.c.project == project))
