"""A client is forgotten while another process keeps, reads, looks through and copies the same archive."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from pathlib import Path

from sqlalchemy import select, text

from enfilade.archive import tables as t
from enfilade.archive.archive import Archive
from enfilade.archive.copies import renew_copy
from enfilade.archive.cutting import unpacked
from enfilade.archive.forgetting import finish, forget
from enfilade.archive.keeping import keep
from enfilade.archive.verifying import verify
from enfilade.errors import Conflict, EnfiladeError, NotFound
from enfilade.project.store import project_bytes
from forgetting import holding, planted_archive
from kept_whole import reworded
from killing import Child, Say, fork_only
from project_folders import good_project, put

pytestmark = fork_only
HOUSE = good_project()


def busy(address: str, home: Path, planted: str, until: Path) -> Callable[[Say], None]:
    """Return work for another process: all that a studio does with an archive, again and again."""

    def work(say: Say) -> None:
        turn = 0
        while not until.exists() or turn < 3:
            turn += 1
            with Archive(address, create=False) as archive:
                house = reworded(HOUSE, f"turn {turn}")
                put(home, project_bytes(house))
                with contextlib.suppress(Conflict):  # told, and tried again in the next turn
                    say(f"kept {keep(archive, home, onto=turn - 1 or None).version.number}")
                with contextlib.suppress(NotFound):
                    archive.project(planted)
                with contextlib.suppress(EnfiladeError):
                    archive.find("window seat")
                assert verify(archive) == ()
                with contextlib.suppress(EnfiladeError):
                    renew_copy(archive)
        say("end")

    return work


def test_nothing_of_it_is_left_and_nothing_else_is_lost(address: str, tmp_path: Path) -> None:
    with Archive(address) as archive:
        planted = planted_archive(archive, tmp_path)
    home, until = tmp_path / "another", tmp_path / "enough"
    child = Child(busy(address, home, planted.project, until))
    child.wait_for("kept", 2)
    with Archive(address, create=False) as archive:
        done = forget(archive, planted.project, folder=planted.folder, erase=True)
        assert done.erased
    until.touch()
    said = child.ended()
    assert said[-1] == "end", said
    kept = [int(line.split()[1]) for line in said if line.startswith("kept")]
    with Archive(address, create=False) as archive:
        finish(archive)  # what somebody who read it kept from being cleaned then
        assert [version.number for version in archive.versions(HOUSE.id)] == sorted(set(kept))
        assert archive.project(HOUSE.id, kept[-1]).name.startswith("turn ")
        assert verify(archive) == ()
        assert len(archive.versions(done.project)) == 3
        with archive.reading() as connection:
            for table in ("notes", "words", "figures", "lessons", "projects", "versions", "answers"):
                rows = connection.execute(text(f"SELECT * FROM {table}")).all()
                assert (table, holding(repr(rows).encode())) == (table, [])
            for column in (t.pieces.c.data, t.files.c.manifest):
                for kept_as in connection.execute(select(column)).scalars():
                    assert holding(unpacked(bytes(kept_as))) == []
        place = archive.address.path
    for path in place.parent.glob("*archive.sqlite*") if place else ():
        assert (path.name, holding(path.read_bytes())) == (path.name, [])
