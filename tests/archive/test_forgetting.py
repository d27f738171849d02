"""A client forgotten: after it no planted name is found in any byte, and what the studio learnt is still there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest
from sqlalchemy import select

import enfilade as ef
from enfilade.archive import tables as t
from enfilade.archive.archive import Archive
from enfilade.archive.forgetting import Forgotten, finish, forget
from enfilade.archive.store import FILE
from enfilade.archive.versions import seal_of
from enfilade.errors import NotFound, Refused
from forgetting import NAMES, STAY, holding, planted_archive
from postgres import Server


@pytest.fixture
def archive(address: str) -> Iterator[Archive]:
    with Archive(address) as archive:
        yield archive


def of_another(archive: Archive, project: str) -> tuple[object, ...]:
    paths = archive.paths(project)
    return archive.versions(project), {path: archive.file(project, path) for path in paths}, _notes_of(archive, project)


def _notes_of(archive: Archive, project: str) -> list[object]:
    query = (
        select(t.notes).join(t.projects, t.projects.c.id == t.notes.c.project).where(t.projects.c.project == project)
    )
    with archive.reading() as connection:
        return list(connection.execute(query.order_by(t.notes.c.id)).all())


def rows_of(archive: Archive) -> str:
    """Return every row of every table as text, versions and files unpacked."""
    said = []
    with archive.reading() as connection:
        for table in t.metadata.sorted_tables:
            said += [repr(tuple(row)) for row in connection.execute(select(table))]
    for project in archive.projects():
        for version in archive.versions(project.id):
            for path in archive.paths(project.id, version.number):
                said += [path, archive.file(project.id, path, version.number).decode("utf-8", "replace")]
    return "\n".join(said)


def test_it_is_first_said_what_would_be_erased(archive: Archive, tmp_path: Path) -> None:
    planted = planted_archive(archive, tmp_path)
    before = rows_of(archive)
    told = forget(archive, planted.project, folder=planted.folder)
    assert not told.erased
    assert told.names == {
        "names of the client": 2, "names in the household": 1, "addresses": 1, "ways to reach the client": 1,
        "notes on the client": 1,
    }  # fmt: skip
    copies = 2 if archive.address.shared else 0
    assert told.versions == 3 + copies
    assert (told.photographs, told.issues) == (3, 1)
    assert told.notes > 50
    assert holding(repr(told).encode()) == []
    assert rows_of(archive) == before
    assert (planted.folder / "history").is_dir()
    assert set(NAMES) - set(holding(before.encode())) <= {"5550142", "555 0142"}  # the test looks for what is there


def test_no_name_is_left_in_the_archive_or_the_folder_and_the_rest_is_as_it_was(
    archive: Archive, tmp_path: Path
) -> None:
    planted = planted_archive(archive, tmp_path)
    old = [archive.project(planted.project, n) for n in (1, 2, 3)]
    other = of_another(archive, planted.other)
    done = forget(archive, planted.project, folder=planted.folder, erase=True, who="the studio, for Zorvka")
    assert done.erased
    assert holding(repr(done).encode()) == []
    assert holding(rows_of(archive).encode()) == []
    left = {path.name: holding(path.read_bytes()) for path in planted.folder.rglob("*") if path.is_file()}
    assert set(map(tuple, left.values())) == {()}
    assert {path.name for path in planted.folder.iterdir()} <= {
        "project.json", ".kept.json", ".lock", "studio.toml", "told"
    }  # fmt: skip
    assert of_another(archive, planted.other) == other
    # What stays, and stands on its feet.
    versions = archive.versions(done.project)
    assert [version.number for version in versions] == [1, 2, 3]
    seal = b""
    for version, before in zip(versions, old, strict=True):
        now = archive.project(done.project, version.number).verified()
        assert now.client == type(now.client)()
        assert now.photographs == ()
        assert [space.outline for space in now.spaces] == [space.outline for space in before.spaces]
        assert [one.status for one in now.decisions] == [one.status for one in before.decisions]
        assert [one.purchase.quote for one in now.products] == [one.purchase.quote for one in before.products]
        assert [trade.name for trade in now.show.trades] == [trade.name for trade in before.show.trades]
        assert len(ef.check(now)) > 100
        seal = seal_of(version, seal, archive.file_digests(done.project, version.number))
        assert version.seal == seal
    kept = archive.file(done.project, FILE).decode().lower()
    assert [name for name in STAY if name not in kept] == []
    assert archive.file(done.project) == (planted.folder / FILE).read_bytes()
    ef.load(planted.folder)
    assert archive.keep(planted.folder).version.number in (3, 4)
    # The record of it, and the answers.
    with archive.reading() as connection:
        info = {row.key: row.value for row in connection.execute(select(t.info))}
        answers = [tuple(row) for row in connection.execute(select(t.answers.c.lesson, t.answers.c.about))]
    assert f'"project": "{done.project}"' in info["forgotten 0001"]
    assert "to be cleaned" not in info
    taken = next(one.id for one in now.decisions if one.number == 1)
    assert (f"{done.project}/{taken}", "pastry") in answers
    assert (f"{planted.other}/sink", taken) in answers


def test_no_byte_of_the_file_its_journals_and_its_copy_holds_a_name(tmp_path: Path) -> None:
    home = tmp_path / "store"
    with Archive(str(home / "archive.sqlite")) as archive:
        planted = planted_archive(archive, tmp_path)
        whole = b"".join(path.read_bytes() for path in home.iterdir())
        assert {"zorvka", "quillbeam"} <= set(holding(whole))  # words of the index stand there unpacked
        forget(archive, planted.project, erase=True)
        for path in sorted(home.iterdir()):  # while it is open, then closed
            assert (path.name, holding(path.read_bytes())) == (path.name, [])
    for path in sorted(home.iterdir()):
        assert (path.name, holding(path.read_bytes())) == (path.name, [])


def test_no_byte_of_the_databases_folder_holds_a_name(postgres: Server, tmp_path: Path) -> None:
    name = postgres.new_database()
    with Archive(postgres.address(name)) as archive:
        planted = planted_archive(archive, tmp_path)
        with archive.reading() as connection:
            oid = connection.exec_driver_sql(f"SELECT oid FROM pg_database WHERE datname = '{name}'").scalar_one()
        place = postgres.data / "base" / str(oid)
        postgres.run("CHECKPOINT")
        assert {"zorvka", "quillbeam"} <= {one for path in place.iterdir() for one in holding(path.read_bytes())}
        done = forget(archive, planted.project, erase=True)
        assert any("recycled" in sentence for sentence in done.remains)
        postgres.run("CHECKPOINT")
        for path in sorted(place.iterdir()):
            assert (path.name, holding(path.read_bytes())) == (path.name, [])
        with psycopg.connect(postgres.address(name)) as connection:
            tables = connection.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public'").fetchall()
            for (table,) in tables:
                with connection.cursor().copy(f"COPY {table} TO STDOUT") as copying:  # type: ignore[call-overload]
                    assert (table, holding(b"".join(bytes(block) for block in copying))) == (table, [])
    postgres.drop(name)


def test_no_word_of_it_is_found_any_more_and_the_rest_is(archive: Archive, tmp_path: Path) -> None:
    planted = planted_archive(archive, tmp_path)
    done = forget(archive, planted.project, erase=True)
    with archive.reading() as connection:
        words = set(connection.execute(select(t.words.c.word)).scalars())
        texts = connection.execute(select(t.notes.c.text)).scalars().all()
        if archive.address.shared:
            index = "SELECT count(*) FROM notes WHERE search @@ plainto_tsquery('english', '{}')"
        else:
            index = "SELECT count(*) FROM notes_text WHERE notes_text MATCH '{}'"
        counts = {word: connection.exec_driver_sql(index.format(word)).scalar_one() for word in ("quillbeam", "client")}
    assert words.isdisjoint(NAMES)
    assert "client" in words
    assert counts["quillbeam"] == 0
    assert counts["client"] > 0
    assert holding("\n".join(texts).encode()) == []
    assert done.project.startswith("private")


def test_a_release_after_it_goes_on_from_the_copy(archive: Archive, tmp_path: Path) -> None:
    if not archive.address.shared:
        pytest.skip("a file holds no copies beside the rest")
    from enfilade.archive.releasing import as_released, release

    planted = planted_archive(archive, tmp_path)
    assert [one.latest for one in as_released(archive).projects()] == [2]
    done = forget(archive, planted.project, erase=True)
    assert [(one.id, one.latest) for one in as_released(archive).projects()] == [(done.project, 2)]
    assert release(archive, done.project).project == done.project


def test_forgetting_twice_and_what_a_dead_process_left(archive: Archive, tmp_path: Path) -> None:
    planted = planted_archive(archive, tmp_path)
    done = forget(archive, planted.project, erase=True)
    assert finish(archive) == ()
    again = forget(archive, done.project, folder=planted.folder, erase=True)  # the folder only now
    assert again.project == done.project
    assert again.notes == 0
    for path in planted.folder.rglob("*"):
        assert not path.is_file() or holding(path.read_bytes()) == []
    assert ef.load(planted.folder).id == done.project


def test_two_clients_of_one_name_stay_two_projects(archive: Archive, tmp_path: Path) -> None:
    ids = []
    for n in (1, 2):
        project = ef.demo().model_copy(update={"id": f"long-shed-merrowby{'-two' * (n - 1)}"})
        ef.save(project, tmp_path / str(n))
        archive.keep(tmp_path / str(n))
        ids.append(forget(archive, project.id, erase=True).project)
    assert len(set(ids)) == 2
    assert {one.id for one in archive.projects()} == set(ids)


def test_what_cannot_be_forgotten_is_refused(archive: Archive, tmp_path: Path) -> None:
    planted = planted_archive(archive, tmp_path)
    with pytest.raises(NotFound):
        forget(archive, "nowhere", erase=True)
    with pytest.raises(Refused, match="holds the project 'long-shed'"):
        forget(archive, planted.project, folder=tmp_path / "other", erase=True)
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "precious.txt").write_text("Quillbeam")
    (planted.folder / "drafts" / "one.json").unlink()
    (planted.folder / "drafts").rmdir()
    (planted.folder / "drafts").symlink_to(outside)
    with pytest.raises(Refused, match="is a link"):
        forget(archive, planted.project, folder=planted.folder, erase=True)
    assert (outside / "precious.txt").is_file()
    assert archive.project(planted.project).client.names  # nothing was erased


def test_forgotten_says_nothing_private() -> None:
    # Counts and sentences alone: a field that could hold a record's text would be printed and logged.
    assert {name: str(kind) for name, kind in Forgotten.__annotations__.items()} == {
        "project": "str", "renamed": "bool", "erased": "bool", "names": "Mapping[str, int]", "versions": "int",
        "photographs": "int", "issues": "int", "notes": "int", "copies": "int", "remains": "tuple[str, ...]",
    }  # fmt: skip
