"""What can be searched, and what was said to lessons, without the names of a client."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection, bindparam, delete, func, or_, select, text, update

from enfilade.archive import tables as t
from enfilade.archive.contents import insert_once
from enfilade.archive.forgetting.plan import Held, Plan
from enfilade.archive.indexing import marks_of_age, searched, words_in
from enfilade.project.names import Names

__all__ = ["changed_notes", "forget_answers", "forget_figures", "forget_notes", "others_who_name"]


def changed_notes(connection: Connection, held: Held, names: Names) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the text of each note that holds a name, and how the note is to read."""
    n = t.notes.c
    for row in connection.execute(select(n.id, n.record, n.space, n.text).where(n.project == held.row)).all():
        record, space, said = names.out_of_ids(row.record), names.out_of_ids(row.space), names.out_of(row.text)
        if (record, space, said) != (row.record, row.space, row.text):
            yield row.text, {"row": row.id, "record": record, "space": space, "text": said}


def forget_notes(connection: Connection, held: Held, names: Names) -> int:
    """Rewrite the notes of a project and the vocabulary, and return how many were changed."""
    changed = list(changed_notes(connection, held, names))
    if not changed:
        return 0
    if connection.dialect.name == "postgresql":
        indexed = text(
            "UPDATE notes SET record = :record, space = :space, text = :text, "
            f"search = to_tsvector('english', :folded) || {marks_of_age('id')} WHERE id = :row"
        )
        connection.execute(indexed, [{**row, "folded": searched(row["text"])} for _, row in changed])
    else:
        columns: dict[str, Any] = {name: bindparam(f"new_{name}") for name in ("record", "space", "text")}
        rewriting = update(t.notes).where(t.notes.c.id == bindparam("row")).values(columns)
        rows = [{"row": row["row"], **{f"new_{name}": row[name] for name in columns}} for _, row in changed]
        connection.execute(rewriting, rows)
        # The index keeps removed words until its parts are merged; made anew it holds none.
        connection.execute(text("INSERT INTO notes_text (notes_text) VALUES ('rebuild')"))
    before = {word for said, _ in changed for word in words_in(said)}
    after = sorted({word for _, row in changed for word in words_in(row["text"])})
    if after:
        known = [{"released": held.released, "word": word} for word in after]
        connection.execute(insert_once(connection, t.words), known)
    _forget_words(connection, held.released, before.difference(after))
    return len(changed)


def _forget_words(connection: Connection, released: bool, words: set[str]) -> None:
    """Remove words from the vocabulary that no note holds any more."""
    texts = connection.execute(select(t.notes.c.text).where(t.notes.c.released == released)).scalars()
    for said in texts if words else ():
        words -= words_in(said)
        if not words:
            break
    for word in sorted(words):
        connection.execute(delete(t.words).where(t.words.c.released == released, t.words.c.word == word))


def forget_figures(connection: Connection, held: Held, names: Names) -> None:
    """Rewrite the ids in the figures of a project."""
    f = t.figures.c
    for row in connection.execute(select(f.id, f.record, f.space).where(f.project == held.row)).all():
        record, space = names.out_of_ids(row.record), names.out_of_ids(row.space)
        if (record, space) != (row.record, row.space):
            connection.execute(update(t.figures).where(f.id == row.id).values(record=record, space=space))


def forget_answers(connection: Connection, plan: Plan, held: Held, id: str) -> int:
    """Rewrite what was said to lessons: to a project's own reminders, and elsewhere to what was learnt on it."""
    a, names = t.answers.c, plan.names
    learnt = a.lesson.startswith(f"{held.id}/", autoescape=True)
    query = select(a.id, a.project, a.lesson, a.about, a.reason, a.who).where(or_(a.project == held.row, learnt))
    changed = 0
    for row in connection.execute(query).all():
        from_, _, decision = row.lesson.partition("/")
        new = {
            "lesson": f"{id}/{names.out_of_ids(decision)}" if from_ == held.id else row.lesson,
            "about": names.out_of_ids(row.about) if row.project == held.row else row.about,
            "reason": names.out_of_text(row.reason),
            "who": names.out_of_text(row.who),
        }
        if any(getattr(row, name) != value for name, value in new.items()):
            connection.execute(update(t.answers).where(a.id == row.id).values(new))
            changed += 1
    return changed


def others_who_name(connection: Connection, plan: Plan) -> int:
    """Return how many other projects have notes in which a word of these names stands; they are left alone."""
    n = t.notes.c
    rows = [held.row for held in plan.held]
    telling = [word for word in plan.names.telling if len(word) > 3]
    if not telling:
        return 0
    alike = or_(*(func.lower(n.text).contains(word, autoescape=True) for word in telling[:100]))
    found: set[int] = set()
    for project, said in connection.execute(select(n.project, n.text).where(n.project.not_in(rows), alike)):
        if project not in found and not words_in(said).isdisjoint(telling):
            found.add(project)
    return len(found)
