"""Projects kept in an archive's file by processes that are killed at random instants."""

from __future__ import annotations

from pathlib import Path

import pytest

from enfilade.archive.store import FILE, Store
from enfilade.errors import NotFound
from enfilade.files import fingerprint
from enfilade.project.store import load, project_bytes
from kept_whole import assert_whole, keep_another
from killing import Kills, Say, fork_only, how_many
from project_folders import good_project, put

pytestmark = fork_only
KILLS = how_many("ENFILADE_KILLS", 100)
AT_ONCE = 3
A_FILE = 50
"""So many kills hit one archive, then another is begun: the first opening, the making of it, is killed too."""


def keep_some(address: str, home: Path, names: list[str], say: Say) -> None:
    with Store(address) as store:
        for name in names:
            keep_another(store, home, name, say)
    say("end")


def test_keeps_killed_at_any_instant(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home = tmp_path / "house"
    put(home, project_bytes(good_project()))
    load(home)
    id = good_project().id
    kills = Kills(7)
    kills.measured(lambda say: keep_some(str(tmp_path / "first.sqlite"), home, ["a", "b", "c"], say))
    kept: dict[int, str] = {}
    versions = 0
    for attempt in range(KILLS):
        address = str(tmp_path / f"archive-{attempt // A_FILE}.sqlite")
        if attempt % A_FILE == 0:
            kept, seen = {}, 0
        names = [f"{attempt}.{turn}" for turn in range(AT_ONCE)]
        said = kills.kill(lambda say, address=address, names=names: keep_some(address, home, names, say))
        done = [line.split()[1:3] for line in said if line.startswith("done")]
        kept |= {int(number): mark for number, mark in done}
        with Store(address) as store:
            try:
                newest = store.version(id).number
            except NotFound:
                assert not kept
                continue
            # What was acknowledged is there byte for byte; of the one that was being kept all is there, or nothing.
            assert set(kept) <= set(range(1, newest + 1))
            assert newest <= max([seen, *kept]) + 1
            for number, _ in done:
                assert fingerprint(store.file(id, FILE, int(number))) == kept[int(number)]
            assert_whole(store, id, since=1 if attempt % A_FILE == A_FILE - 1 else seen + 1)
            if attempt % A_FILE == A_FILE - 1:
                assert all(fingerprint(store.file(id, FILE, number)) == mark for number, mark in kept.items())
            versions += newest - seen
            seen = newest
    with capsys.disabled():
        print(f"\n{kills.told('keeps in a file')}; {versions} versions came to be")
    assert kills.fell["writing"] >= KILLS / 10
