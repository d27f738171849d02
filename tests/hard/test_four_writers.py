"""Four writers on one folder and on one archive at once: what was accepted is there, and who was refused was told."""

from __future__ import annotations

import os
import shutil
import time
from collections import Counter
from pathlib import Path

import pytest

from enfilade.archive.keeping import keep
from enfilade.archive.merging import keep_merged
from enfilade.archive.store import Store
from enfilade.editing.merging.merging import merged
from enfilade.errors import Conflict
from enfilade.project.choices import Finish
from enfilade.project.project import Project
from enfilade.project.store import load, project_bytes, save
from kept_whole import assert_whole
from killing import Child, Say, fork_only
from project_folders import good_project, put

pytestmark = fork_only
FOR_S = float(os.environ.get("ENFILADE_WRITERS_S", "") or 6)
WRITERS = 4
AT_ONCE = 40
"""So many records of its own a writer has in the house; then it changes them in turn, so that the house stays small."""


def with_own(project: Project, writer: int, turn: int) -> Project:
    """Return a house in which a writer's own record says `turn`."""
    id = f"w{writer}-{turn % AT_ONCE}"
    own = Finish(id=id, name=f"Finish {turn}")
    # In its place: two who put the list in another order each would have to be asked.
    known = any(one.id == id for one in project.finishes)
    finishes = tuple(own if one.id == id else one for one in project.finishes)
    new = project.model_copy(update={"finishes": finishes if known else (*finishes, own)})
    new._loaded = project._loaded
    return new


def refused(error: Conflict) -> str:
    return f"refused {error}".replace("\n", " ")


def said_by(lines: list[str], word: str) -> list[str]:
    return [line.partition(" ")[2] for line in lines if line.startswith(word)]


def assert_all_there(project: Project, heard: list[list[str]]) -> None:
    """Hold each writer's records against the last turn of each that was accepted; nobody else touches them."""
    names = {one.id: one.name for one in project.finishes}
    for writer, lines in enumerate(heard):
        for turn in map(int, said_by(lines, "accepted")[-AT_ONCE:]):
            assert names[f"w{writer}-{turn % AT_ONCE}"] == f"Finish {turn}"


def report(what: str, heard: list[list[str]], capsys: pytest.CaptureFixture[str], more: str = "") -> None:
    for lines in heard:
        assert not said_by(lines, "failed"), lines[-3:]
        assert lines[-1] == "end"
        for words in said_by(lines, "refused"):
            assert "nothing was written" in words or "try again" in words
    accepted, refused = (sum(len(said_by(lines, word)) for lines in heard) for word in ("accepted", "refused"))
    assert all(said_by(lines, "accepted") for lines in heard)  # nobody was left out
    with capsys.disabled():
        print(f"\n{what}: {WRITERS} writers, {FOR_S:g} s: {accepted} accepted ({accepted / FOR_S:.1f} a second), "
              f"{refused} refused and told{more}")  # fmt: skip


def save_for_a_while(home: Path, writer: int, say: Say) -> None:
    deadline, turn = time.monotonic() + FOR_S, 0
    while time.monotonic() < deadline:
        base = load(home)
        mine = with_own(base, writer, turn)
        while True:
            try:
                save(mine, home)
            except Conflict as error:
                say(refused(error))
                theirs = load(home)
                met = merged(base, mine, theirs)
                assert not met.clashes
                base, mine = theirs, met.project
                mine._loaded = theirs._loaded
            else:
                say(f"accepted {turn}")
                break
        turn += 1
    say("end")


def test_four_writers_on_one_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home = tmp_path / "house"
    put(home, project_bytes(good_project()))
    children = [Child(lambda say, n=n: save_for_a_while(home, n, say)) for n in range(WRITERS)]
    looks, deadline = 0, time.monotonic() + FOR_S
    while time.monotonic() < deadline:  # Whoever reads meanwhile never meets half a house.
        load(home)
        looks += 1
        time.sleep(0.05)
    heard = [child.ended() for child in children]
    report("one folder", heard, capsys, f"; read {looks} times meanwhile, always whole")
    assert_all_there(load(home), heard)


def keep_for_a_while(address: str, home: Path, writer: int, say: Say) -> None:
    deadline, turn = time.monotonic() + FOR_S, 0
    with Store(address) as store:
        while time.monotonic() < deadline:
            save(with_own(load(home), writer, turn), home)
            try:
                kept = keep(store, home, who=f"writer {writer}")
            except Conflict as error:
                say(refused(error))
                kept = None
            while kept is None:
                try:
                    kept = keep_merged(store, home, who=f"writer {writer}").kept
                except Conflict as error:  # The others were quicker again and again.
                    say(refused(error))
            say(f"accepted {turn}")
            say(f"version {kept.version.number}")
            turn += 1
    say("end")


def test_four_writers_on_one_archive(address: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    first = tmp_path / "0"
    put(first, project_bytes(good_project()))
    id = good_project().id
    with Store(address) as store:
        keep(store, first)
    for writer in range(1, WRITERS):
        shutil.copytree(first, tmp_path / f"{writer}")
    children = [Child(lambda say, n=n: keep_for_a_while(address, tmp_path / f"{n}", n, say)) for n in range(WRITERS)]
    looks, deadline = 0, time.monotonic() + FOR_S
    with Store(address) as store:
        while time.monotonic() < deadline:
            store.project(id)
            looks += 1
            time.sleep(0.1)
    heard = [child.ended() for child in children]
    kind = "PostgreSQL" if address.startswith("postgresql") else "a file"
    report(f"one archive in {kind}", heard, capsys, f"; read {looks} times meanwhile, always whole")
    with Store(address) as store:
        assert_all_there(store.project(id), heard)
        assert_whole(store, id)
        # Each acknowledged version is one of the archive's, and no two writers were given the same one.
        given = Counter(number for lines in heard for number in said_by(lines, "version"))
        assert set(map(int, given)) <= {one.number for one in store.versions(id)}
        assert max(given.values()) == 1
