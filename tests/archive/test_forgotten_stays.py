"""What was forgotten does not come back with a folder that still knows it."""

from __future__ import annotations

import datetime as dt
import json
import os
import shutil
import tempfile
from pathlib import Path

import pytest

import enfilade as ef
from enfilade.archive.forgetting import forget
from enfilade.archive.forgetting.cleaning import cleaned, unclean
from enfilade.archive.forgetting.folder import forget_folder, working_record
from enfilade.archive.gathering import gathered
from enfilade.archive.keeping import keep
from enfilade.archive.merging import keep_merged
from enfilade.archive.store import Store
from enfilade.archive.verifying import verify
from enfilade.errors import Conflict, EnfiladeError, Refused
from enfilade.files import fingerprint
from enfilade.project.names import Names
from postgres import Server
from project_folders import as_nobody

# An id without any name of the client's, so that the project goes by it afterwards too.
PLAIN = "house-seven"


@pytest.fixture
def folders(tmp_path: Path) -> tuple[Path, Path]:
    """A folder of the studio, and a colleague's copy of it."""
    house = ef.demo().model_copy(update={"id": PLAIN})
    ef.save(house, tmp_path / "ours")
    return tmp_path / "ours", tmp_path / "theirs"


def renamed(folder: Path, name: str) -> None:
    before = ef.load(folder)
    after = before.model_copy(update={"name": name})
    after._loaded = before._loaded
    ef.save(after, folder)


def test_a_colleagues_older_folder_is_refused(address: str, folders: tuple[Path, Path]) -> None:
    ours, theirs = folders
    with Store(address) as store:
        keep(store, ours)
        shutil.copytree(ours, theirs)
        done = forget(store, PLAIN, folder=ours, erase=True)
        assert done.project == PLAIN
        renamed(theirs, "Another name")
        for again in (keep, keep_merged):
            with pytest.raises(Conflict, match="rewritten"):
                again(store, theirs)
        assert store.version(PLAIN).number == 1
        assert store.project(PLAIN).client.names == ()
        # The folder that was forgotten too goes on.
        renamed(ours, "Goes on")
        assert keep(store, ours).version.number == 2
        assert verify(store) == ()


def test_a_folder_that_remembers_nothing_is_not_taken_for_a_version_of_it(
    address: str, folders: tuple[Path, Path]
) -> None:
    ours, theirs = folders
    with Store(address) as store:
        keep(store, ours)
        shutil.copytree(ours, theirs)
        (theirs / ".kept.json").unlink()
        forget(store, PLAIN, erase=True)
        with pytest.raises(Conflict, match="not made from it"):
            keep(store, theirs)


def test_no_part_of_a_copy_is_left(tmp_path: Path, folders: tuple[Path, Path]) -> None:
    ours, _ = folders
    place = tmp_path / "store" / "archive.sqlite"
    with Store(str(place)) as store:
        keep(store, ours)
        name = ef.demo().client.names[0]
        for left in (".archive.sqlite.copy.0123456789ab.part", ".archive.sqlite.copy.0123456789ab.part-journal"):
            (place.parent / left).write_text(name, "utf-8")
        forget(store, PLAIN, folder=ours, erase=True)
    assert not [path for path in place.parent.iterdir() if name.encode() in path.read_bytes()]


def test_odd_signs_in_who_and_why_are_kept_as_a_mark(address: str, folders: tuple[Path, Path]) -> None:
    ours, _ = folders
    with Store(address) as store:
        keep(store, ours, who="A\x00B", why="for \udcff")
        assert store.version(PLAIN).who == "A\ufffdB"
        assert store.version(PLAIN).why == "for \ufffd"
        assert verify(store) == ()


def test_why_bytes_could_not_be_cleaned_is_told_as_it_is(tmp_path: Path, folders: tuple[Path, Path]) -> None:
    import sqlite3

    from enfilade.archive.forgetting import cleaning

    ours, _ = folders
    with Store(str(tmp_path / "archive.sqlite")) as store:
        keep(store, ours)
        with pytest.MonkeyPatch.context() as patch:

            def full(store: Store, statement: str) -> None:
                raise cleaning.DBAPIError(statement, None, sqlite3.OperationalError("database or disk is full"))

            patch.setattr(cleaning, "_plainly", full)
            said = " ".join(forget(store, PLAIN, folder=ours, erase=True).remains)
        assert "database or disk is full" in said
        assert "Somebody reads" not in said
        # It is still to be done, and done when it can be.
        assert cleaning.cleaned(store) == ()


def test_what_only_another_role_can_clean_is_told(postgres: Server, folders: tuple[Path, Path]) -> None:
    """PostgreSQL passes over what one may not clean, and only warns (its documentation: VACUUM)."""
    ours, _ = folders
    name = postgres.new_database()
    postgres.run("CREATE ROLE tenant LOGIN")
    try:
        postgres.run("GRANT ALL ON SCHEMA public TO tenant", name)
        with Store(postgres.address(name, "tenant")) as store:
            keep(store, ours)
            postgres.run("ALTER TABLE words OWNER TO studio; GRANT ALL ON words TO tenant", name)
            postgres.run("ALTER TABLE words DISABLE ROW LEVEL SECURITY", name)
            said = forget(store, PLAIN, folder=ours, erase=True).remains
            assert any("Only the owner of the archive's tables" in one for one in said), said
            assert any("What the database gathered about values may hold some" in one for one in said)
            # It stays marked, and is done when it can be.
            postgres.run("ALTER TABLE words OWNER TO tenant", name)
            assert not any("Only the owner" in one for one in cleaned(store))
            with store.reading() as connection:
                assert unclean(connection)
        with Store(postgres.address(name)) as store:
            assert not any("may hold" in one for one in cleaned(store))
            with store.reading() as connection:
                assert not unclean(connection)
    finally:
        postgres.drop(name)
        postgres.run("DROP ROLE tenant")


def test_a_document_that_was_edited_stays_known_as_that(tmp_path: Path, folders: tuple[Path, Path]) -> None:
    ours, _ = folders
    told = {name: f"{name} of the house".encode() for name in ("slides.html", "walkthrough.html")}
    for name, data in told.items():
        (ours / name).write_bytes(data)
    marks = {name: fingerprint(data) for name, data in told.items()}
    (ours / ".told.json").write_text(json.dumps({"html": marks}))
    (ours / "slides.html").write_bytes(b"edited by hand")
    with Store(str(tmp_path / "archive.sqlite")) as store:
        keep(store, ours)
        forget(store, PLAIN, folder=ours, erase=True)
    assert not (ours / "walkthrough.html").exists()
    assert (ours / "slides.html").read_bytes() == b"edited by hand"
    assert json.loads((ours / ".told.json").read_text()) == {"html": {"slides.html": marks["slides.html"]}}


@pytest.mark.parametrize("closed", ["light", "light/lamp.csv", "photos", "project.json", "studio.toml", "issued", "."])
def test_a_folder_that_cannot_be_looked_at_is_refused_in_words(folders: tuple[Path, Path], closed: str) -> None:
    with tempfile.TemporaryDirectory() as place:  # pytest's own is root's alone
        ours = shutil.copytree(folders[0], Path(place) / "ours")
        for name in ("light", "issued"):
            (ours / name).mkdir(exist_ok=True)
        (ours / "light" / "lamp.csv").touch()
        (ours / "studio.toml").touch()
        for path in (Path(place), *ours.rglob("*"), ours):
            path.chmod(0o755)
        assert "light/lamp.csv" in gathered(ours).files  # and what Python loads late is loaded
        (ours / closed).chmod(0o700)

        def looked() -> str:
            try:
                return f"nothing was said: {sorted(gathered(ours).files)}"
            except EnfiladeError as error:
                return f"refused: {error}"

        said = as_nobody(looked)
        assert said.startswith("refused: "), said
        assert str(ours / closed) in said


def test_what_cannot_be_looked_at_in_the_folder_is_told(folders: tuple[Path, Path]) -> None:
    client = ef.load(folders[0]).client.names[0]
    with tempfile.TemporaryDirectory() as place:  # pytest's own is root's alone
        ours = shutil.copytree(folders[0], Path(place) / "ours")
        (ours / "light").mkdir(exist_ok=True)
        (ours / "minutes").mkdir()
        for path in (Path(place), *ours.rglob("*"), ours):
            os.chown(path, 65534, 65534)
        for path in (ours / "light" / "lamp.csv", ours / "minutes" / "1.txt"):
            path.write_text(client)
            path.chmod(0o600)
        (ours / "minutes").chmod(0o700)
        os.chown(ours / "minutes", 0, 0)

        def told() -> str:
            working = working_record(ours, PLAIN)
            return " ".join(forget_folder(working, Names.to_forget([working]), PLAIN, "an archive"))

        said = as_nobody(told)
        assert "2 of the files and folders there could not be looked at" in said, said
        assert not ef.load(ours).client.names


@pytest.mark.parametrize("name", ["history", "photos", "drafts"])
def test_what_cannot_be_removed_from_the_folder_is_refused_in_words(folders: tuple[Path, Path], name: str) -> None:
    renamed(folders[0], "Twice")
    with tempfile.TemporaryDirectory() as place:
        ours = shutil.copytree(folders[0], Path(place) / "ours")
        (ours / name).mkdir(exist_ok=True)
        (ours / name / "one.json").touch()
        for path in (Path(place), *ours.rglob("*"), ours):
            os.chown(path, 65534, 65534)
        (ours / name).chmod(0o755)
        os.chown(ours / name, 0, 0)
        dt.datetime.strptime("2026", "%Y")  # what Python loads late, nobody may read there

        def told() -> str:
            try:
                working = working_record(ours, PLAIN)
                forget_folder(working, Names.to_forget([working]), PLAIN, "an archive")
            except Refused as error:
                return str(error)
            return "nothing was said"

        assert str(ours / name) in as_nobody(told)
