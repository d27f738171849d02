"""The tables of an archive.

`released` tells whether a row is a copy for students. What is released stands in rows of its own, also where the
bytes are the same, so that a rule of the database on this one column keeps the rest from whoever may read no more.
"""

from __future__ import annotations

from typing import Any, Final

from sqlalchemy import (
    Boolean,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    PrimaryKeyConstraint,
    Table,
    Text,
    UniqueConstraint,
)

__all__ = [
    "FORMAT", "answers", "figures", "files", "info", "lesson_facets", "lessons", "metadata", "notes", "pieces",
    "projects", "version_files", "versions", "words",
]  # fmt: skip

FORMAT: Final = 1
metadata: Final = MetaData()


def _released() -> Column[Any]:
    return Column("released", Boolean, nullable=False)


info = Table("info", metadata, Column("key", Text, primary_key=True), Column("value", Text, nullable=False))
"""`format`, `id` of the archive, and `holds`: `all`, or `released` in a file for students."""

projects = Table(
    "projects", metadata,
    Column("id", Integer, primary_key=True),
    _released(),
    Column("project", Text, nullable=False),  # the project's own id
    Column("name", Text, nullable=False),
    Column("latest", Integer, nullable=False),  # number of its newest version
    UniqueConstraint("released", "project"),
)  # fmt: skip

versions = Table(
    "versions", metadata,
    Column("id", Integer, primary_key=True),
    _released(),
    Column("project", ForeignKey("projects.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("on", Text, nullable=False),  # when it was kept, UTC, `2026-03-24T10:42:00Z`
    Column("who", Text, nullable=False),
    Column("why", Text, nullable=False),
    Column("format", Integer, nullable=False),  # of its project.json
    Column("yardstick", Text, nullable=False),
    Column("house_rules", Text, nullable=False),  # fingerprint of the studio's own, or empty
    Column("seal", LargeBinary, nullable=False),  # over the seal before it, these words and the files' digests
    UniqueConstraint("project", "number"),
)  # fmt: skip

pieces = Table(
    "pieces", metadata,
    Column("id", Integer, primary_key=True),
    _released(),
    Column("digest", LargeBinary, nullable=False),  # SHA-256 of what `data` holds, unpacked
    Column("data", LargeBinary, nullable=False),
    UniqueConstraint("released", "digest"),
)  # fmt: skip
"""Equal records are one piece, whichever project or version they stand in."""

files = Table(
    "files", metadata,
    Column("id", Integer, primary_key=True),
    _released(),
    Column("digest", LargeBinary, nullable=False),  # SHA-256 of the whole
    Column("size", Integer, nullable=False),
    Column("manifest", LargeBinary, nullable=False),  # of which pieces it is made: see `cutting`
    UniqueConstraint("released", "digest"),
)  # fmt: skip

version_files = Table(
    "version_files", metadata,
    _released(),
    Column("version", ForeignKey("versions.id"), nullable=False),
    Column("path", Text, nullable=False),
    Column("file", ForeignKey("files.id"), nullable=False),
    PrimaryKeyConstraint("version", "path"),
    sqlite_with_rowid=False,
)  # fmt: skip
Index("version_files_file", version_files.c.file)

notes = Table(
    "notes", metadata,
    Column("id", Integer, primary_key=True),
    _released(),
    Column("project", Integer, nullable=False),
    Column("kind", Text, nullable=False),
    Column("record", Text, nullable=False),  # id of the record, or of the finding
    Column("space", Text, nullable=False),  # id of the room, empty for the whole house
    Column("use", Text, nullable=False),  # what that room is: kitchen, ...
    Column("state", Text, nullable=False),  # verdict of a finding, status of a decision, kind of an answer; or empty
    Column("rule", Text, nullable=False),  # of a finding or an answer; or empty
    Column("text", Text, nullable=False),
    Column("since", Integer, nullable=False),  # first version in which it stands
    Column("until", Integer),  # last one; none: it stands in the newest
)  # fmt: skip
"""What can be searched. It is written anew from the versions, never the other way round.

Here and below the rows are many and follow from others of the same transaction: a foreign key, which the database looks
up for each of them, would cost PostgreSQL a tenth of the time of keeping and tell nothing new.
"""
Index("notes_project", notes.c.project, notes.c.until)

figures = Table(
    "figures", metadata,
    Column("id", Integer, primary_key=True),
    _released(),
    Column("project", Integer, nullable=False),
    Column("space", Text, nullable=False),
    Column("use", Text, nullable=False),
    Column("record", Text, nullable=False),
    Column("what", Text, nullable=False),  # kind of thing, `room`, `finding`, `decision`, `product`, `finish`
    Column("name", Text, nullable=False),  # of the figure: length, width, seats, area, cost ...
    Column("value", Float, nullable=False),  # mm, mm2, pieces, or the project's money
    Column("state", Text, nullable=False),  # of a finding: its verdict
    Column("rule", Text, nullable=False),
    Column("since", Integer, nullable=False),
    Column("until", Integer),
)  # fmt: skip
"""What can be found by number; written anew from the versions too."""
# By `id`, so that the newest are met first and new rows stand together; `value` so that the rest are passed over.
Index("figures_what", figures.c.what, figures.c.name, figures.c.id, figures.c.value)
Index("figures_project", figures.c.project, figures.c.space, figures.c.what, figures.c.record)

words = Table(
    "words", metadata,
    _released(),
    Column("word", Text, nullable=False),
    PrimaryKeyConstraint("released", "word"),
    sqlite_with_rowid=False,
)  # fmt: skip
"""The archive's vocabulary, against which typing errors are forgiven."""

answers = Table(
    "answers", metadata,
    Column("id", Integer, primary_key=True),
    _released(),
    Column("project", ForeignKey("projects.id"), nullable=False),  # that was reminded
    Column("lesson", Text, nullable=False),  # `PROJECT/DECISION` that it was learnt from
    Column("about", Text, nullable=False),  # record of the reminded project
    Column("kind", Text, nullable=False),  # accepted, dismissed, house rule
    Column("reason", Text, nullable=False),
    Column("who", Text, nullable=False),
    Column("on", Text, nullable=False),
    UniqueConstraint("project", "lesson", "about"),
)  # fmt: skip
"""What was said to a lesson."""

lessons = Table(
    "lessons", metadata,
    Column("id", Integer, primary_key=True),
    _released(),
    Column("project", ForeignKey("projects.id"), nullable=False),
    Column("record", Text, nullable=False),  # id of the decision with which it was kept
    Column("content", Text, nullable=False),  # the lesson and where it was learnt, as JSON: see `lessons.lesson`
    Column("since", Integer, nullable=False),
    Column("until", Integer),
)  # fmt: skip
"""What hindsight taught; written anew from the versions, as what can be searched is."""
Index("lessons_project", lessons.c.project, lessons.c.until)

lesson_facets = Table(
    "lesson_facets", metadata,
    _released(),
    Column("facet", Text, nullable=False),  # `thing island@kitchen`, `rule K6`, `word soapstone`
    Column("lesson", Integer, nullable=False),
    PrimaryKeyConstraint("released", "facet", "lesson"),
    sqlite_with_rowid=False,
)  # fmt: skip
"""By what a lesson is looked up, for as long as it stands."""
Index("lesson_facets_lesson", lesson_facets.c.lesson)
