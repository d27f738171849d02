"""Whoever may read what is released reads that and nothing else, by every way that the database offers."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

import enfilade as ef
from documents.planting import WORD, full_house, plant, saved, visible
from enfilade.archive import tables as t
from enfilade.archive.adding import add_version
from enfilade.archive.archive import Archive
from enfilade.archive.releasing import grant, release
from enfilade.archive.store import Store
from enfilade.errors import EnfiladeError, NotFound, Refused
from postgres import Server

ROLE = "student"
ODD = 'st"udent:of %s 2026'
"""Names of roles are anything at all."""


@pytest.fixture(scope="module")
def shared(postgres: Server, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Server, str, set[str]]]:
    """A database that holds a house full of secrets and its copy, a role that may read; and the secrets."""
    name = postgres.new_database()
    for role in (ROLE, "stranger"):
        postgres.run(f"CREATE ROLE {role} LOGIN")
    project, at = plant(full_house())
    project = saved(project, tmp_path_factory.mktemp("house"))
    may = set(visible(project, "student"))
    assert project.folder is not None
    with Archive(postgres.address(name)) as archive:
        archive.keep(project.folder, who="somebody", why="since")
        release(archive, project.id)
        grant(archive, ROLE)
        grant(archive, ROLE)  # again, and nothing changes
    yield postgres, name, {word for word, place in at.items() if place not in may}
    postgres.drop(name)
    for role in (ROLE, "stranger"):
        postgres.run(f"DROP ROLE {role}")


def connected(shared: tuple[Server, str, set[str]], role: str = ROLE) -> psycopg.Connection:
    server, name, _ = shared
    return psycopg.connect(server.address(name, role), autocommit=True)


def test_every_table_shows_released_rows_alone(shared: tuple[Server, str, set[str]]) -> None:
    _, _, secrets = shared
    assert len(secrets) > 100
    with connected(shared) as connection:
        tables = {row[0] for row in connection.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public'")}
        assert tables == {table.name for table in t.metadata.sorted_tables}
        for table in sorted(tables):
            rows = connection.execute(f"SELECT * FROM {table}").fetchall()  # type: ignore[call-overload]
            assert secrets.isdisjoint(WORD.findall(repr(rows).lower())), table
            if "released" in t.metadata.tables[table].c:
                unreleased = f"SELECT count(*) FROM {table} WHERE NOT released"
                assert connection.execute(unreleased).fetchone() == (0,), table  # type: ignore[call-overload]
        assert connection.execute("SELECT count(*) FROM projects").fetchone() == (1,)
        keys = {row[0] for row in connection.execute("SELECT key FROM info")}
        assert keys == {"format", "id", "holds"}


def test_every_table_has_its_rule(shared: tuple[Server, str, set[str]]) -> None:
    # A table that is added later and has no rule would show everything to whoever was granted it.
    server, name, _ = shared
    with psycopg.connect(server.address(name)) as connection:
        query = "SELECT relname FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'r'"
        assert connection.execute(f"{query} AND NOT relrowsecurity").fetchall() == []


def test_ids_can_be_guessed_and_give_nothing(shared: tuple[Server, str, set[str]]) -> None:
    server, name, _ = shared
    with psycopg.connect(server.address(name)) as owner:
        hidden = [row[0] for row in owner.execute("SELECT id FROM pieces WHERE NOT released")]
        digests = [row[0] for row in owner.execute("SELECT digest FROM pieces WHERE NOT released")]
    assert len(hidden) > 50
    with connected(shared) as connection:
        found = connection.execute("SELECT * FROM pieces WHERE id = ANY(%s) OR digest = ANY(%s)", (hidden, digests))
        assert [row for row in found if row[0] in hidden] == []


def test_what_the_database_gathered_about_values_is_hidden_too(shared: tuple[Server, str, set[str]]) -> None:
    server, name, secrets = shared
    with psycopg.connect(server.address(name), autocommit=True) as owner:
        owner.execute("ANALYZE")
    with connected(shared) as connection:
        seen = connection.execute("SELECT * FROM pg_stats WHERE schemaname = 'public'").fetchall()
        assert seen == []
        words = connection.execute("SELECT word FROM ts_stat('SELECT search FROM notes')").fetchall()
        assert secrets.isdisjoint(word for (word,) in words)
        leaking = "SELECT count(*) FROM notes WHERE NOT released AND 1 / (length(text) - length(text)) = 1"
        assert connection.execute(leaking).fetchone() == (0,)  # no row is looked at, so that nothing is divided


@pytest.mark.parametrize("statement", [
    "DELETE FROM notes", "UPDATE versions SET who = 'x'", "UPDATE projects SET released = true",
    "INSERT INTO words (released, word) VALUES (true, 'x')", "INSERT INTO words (released, word) VALUES (false, 'x')",
    "TRUNCATE pieces", "DROP TABLE answers", "ALTER TABLE notes DISABLE ROW LEVEL SECURITY",
    "DROP POLICY released ON notes", "SET row_security = off; SELECT * FROM notes", "SELECT * FROM notes FOR UPDATE",
    "SET ROLE studio", "COPY notes TO PROGRAM 'cat'",
])  # fmt: skip
def test_nothing_can_be_written_or_undone(shared: tuple[Server, str, set[str]], statement: str) -> None:
    *before, last = statement.split("; ")
    with connected(shared) as connection:
        for one in before:
            connection.execute(one)  # type: ignore[call-overload]
        with pytest.raises(psycopg.Error):
            connection.execute(last)  # type: ignore[call-overload]


def test_who_was_granted_nothing_reads_nothing(shared: tuple[Server, str, set[str]]) -> None:
    with connected(shared, "stranger") as connection, pytest.raises(psycopg.Error):
        connection.execute("SELECT * FROM notes")


def test_the_toolkit_sees_the_same_through_that_role(shared: tuple[Server, str, set[str]], tmp_path: Path) -> None:
    server, name, secrets = shared
    with Store(server.address(name, ROLE), create=False) as store:
        assert store.released
        (project,) = store.projects()
        assert secrets.isdisjoint(WORD.findall(store.file(project.id).decode()))
        assert store.project(project.id).client.names == ()
        with pytest.raises(Refused):
            release(store, project.id, str(tmp_path / "students.sqlite"))
        with pytest.raises(EnfiladeError):
            add_version(
                store,
                store.project(project.id),
                {"project.json": b"{}"},
                who="",
                why="",
                base=project.latest,
                released=True,
            )
    ef.save(ef.demo(), tmp_path / "house")
    with Archive(server.address(name, ROLE), create=False) as archive, pytest.raises(Refused):
        archive.keep(tmp_path / "house")


def test_only_who_sees_no_more_anyway_is_granted(shared: tuple[Server, str, set[str]]) -> None:
    server, name, _ = shared
    quoted = '"' + ODD.replace('"', '""') + '"'
    server.run(f"CREATE ROLE {quoted}")
    server.run("CREATE ROLE partner IN ROLE studio")
    try:
        with Archive(server.address(name)) as archive:
            grant(archive, ODD)
            for role in ("studio", "partner"):
                with pytest.raises(Refused, match="sees everything"):
                    grant(archive, role)
            for role in ("nobody at all", 'x"; DROP TABLE notes; --', "", "a\x00b"):
                with pytest.raises(NotFound) as refused:
                    grant(archive, role)
                assert "DROP" not in str(refused.value)
            archive.projects()
    finally:
        with psycopg.connect(server.address(name), autocommit=True) as connection:
            connection.execute(f"DROP OWNED BY {quoted}")  # type: ignore[call-overload]
        server.run(f"DROP ROLE {quoted}")
        server.run("DROP ROLE partner")
