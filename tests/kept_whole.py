"""Whether all that an archive holds is whole: bytes, digests, seals, and what can be searched."""

from __future__ import annotations

import random
from collections import Counter
from pathlib import Path

from sqlalchemy import select, text

from enfilade.archive import tables as t
from enfilade.archive.adding import Kept
from enfilade.archive.contents import FINDINGS
from enfilade.archive.cutting import digest
from enfilade.archive.figures import Figure, figures_of
from enfilade.archive.keeping import keep
from enfilade.archive.notes import Note, notes_of
from enfilade.archive.stated import findings_from
from enfilade.archive.store import FILE, Store
from enfilade.archive.versions import seal_of
from enfilade.files import fingerprint
from enfilade.project.project import Project
from enfilade.project.store import load, save
from killing import Say

__all__ = ["assert_whole", "keep_another", "keep_as_it_is", "reworded"]


def assert_whole(store: Store, project: str, *, since: int = 1) -> None:
    """Hold versions from `since` on against their digests and seals, and the search against the newest."""
    versions = store.versions(project)
    assert [one.number for one in versions] == list(range(1, len(versions) + 1))
    for number, version in enumerate(versions, 1):
        if number < since:
            continue
        paths = store.paths(project, number)
        files = {path: store.file(project, path, number) for path in paths}
        assert {FILE, FINDINGS} <= set(files)
        assert {path: len(data) for path, data in files.items()} == paths
        before = versions[number - 2].seal if number > 1 else b""
        assert seal_of(version, before, {path: digest(data) for path, data in files.items()}) == version.seal
    assert_search_fits(store, project, len(versions))
    if not store.address.shared:
        assert_file_whole(store)


def assert_search_fits(store: Store, project: str, newest: int) -> None:
    house = store.project(project)
    findings = findings_from(store.file(project, FINDINGS))
    for table, kind, told in (
        (t.notes, Note, notes_of(house, findings)), (t.figures, Figure, figures_of(house, findings)),
    ):  # fmt: skip
        columns = [table.c[name] for name in kind._fields]
        query = (
            select(table.c.since, table.c.until, *columns)
            .join(t.projects, t.projects.c.id == table.c.project)
            .where(t.projects.c.project == project)
        )
        with store.reading() as connection:
            rows = connection.execute(query).all()
        assert all(1 <= row.since <= newest and (row.until is None or row.since <= row.until < newest) for row in rows)
        # A finding that was read back has no marks; nothing that can be searched is made from them.
        assert Counter(tuple(row[2:]) for row in rows if row.until is None) == Counter(map(tuple, told))


def assert_file_whole(store: Store) -> None:
    """Ask SQLite itself (its documentation: `PRAGMA integrity_check`; FTS5's `integrity-check` with rank 1)."""

    def work(connection):
        assert connection.execute(text("PRAGMA integrity_check")).scalars().all() == ["ok"]
        assert connection.execute(text("PRAGMA foreign_key_check")).all() == []
        for rows, of in (("notes", "project"), ("figures", "project"), ("lesson_facets", "lesson")):
            loose = f"SELECT count(*) FROM {rows} WHERE {of} NOT IN (SELECT id FROM {of}s)"
            assert connection.execute(text(loose)).scalar() == 0
        search = "SELECT name FROM sqlite_schema WHERE sql LIKE 'CREATE VIRTUAL TABLE%fts5(%'"
        for name in connection.execute(text(search)).scalars().all():
            connection.execute(text(f"INSERT INTO {name}({name}, rank) VALUES ('integrity-check', 1)"))

    store.writing(work)


def keep_another(store: Store, home: Path, name: str, say: Say) -> Kept:
    """Save another state of a folder, with a scan beside it that cannot be made smaller, and keep it."""
    save(reworded(load(home), name), home)
    (home / "light").mkdir(exist_ok=True)
    (home / "light" / "scan.csv").write_bytes(random.Random(name).randbytes(400_000))
    return keep_as_it_is(store, home, name, say)


def keep_as_it_is(store: Store, home: Path, name: str, say: Say) -> Kept:
    """Keep a folder, and say when it is begun, when the archive is written to, and when it was acknowledged."""
    say(f"begin {name}")
    kept = keep(
        store, home, who="the designer", why=name,
        progress=lambda words: say(f"write {name}") if words.startswith("keeping") else None,
    )  # fmt: skip
    say(f"done {kept.version.number} {fingerprint((home / FILE).read_bytes())} {'new' if kept.new else 'there'}")
    return kept


def reworded(project: Project, name: str) -> Project:
    """Return a project in which the words of a decision, a need and a name are others."""
    need = project.brief.needs[0].model_copy(update={"text": f"Wash a kettle of {name} litres."})
    decision = project.decisions[0].model_copy(update={"title": f"Size of the sink, {name}"})
    brief = project.brief.model_copy(update={"needs": (need,)})
    new = project.model_copy(update={"name": name, "brief": brief, "decisions": (decision,)})
    new._loaded = project._loaded
    return new


def records_of(store: Store, project: str) -> set[str]:
    """Return the ids of the newest version's finishes, which writers add in the tests."""
    return {one.id for one in store.project(project).finishes}
