"""PostgreSQL's server killed while projects are kept in it: what was acknowledged is there whole, and none half."""

from __future__ import annotations

import os
import random
import signal
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

from enfilade.archive.store import FILE, Store
from enfilade.errors import NotFound, Refused
from enfilade.files import fingerprint
from enfilade.project.store import project_bytes
from kept_whole import assert_whole, keep_another, keep_as_it_is
from killing import Child, Say, fork_only, how_many
from postgres import Server, started
from project_folders import good_project, put

pytestmark = fork_only
KILLS = how_many("ENFILADE_SERVER_KILLS", 5)
CHANCE = random.Random(11)
LONGEST_S = 0.6
"""The server is killed at an instant within this time after the client's first version of a turn was acknowledged."""


@pytest.fixture
def server() -> Iterator[Server]:
    """A server of this test's own; what runs at the same time in others is not killed."""
    with started() as server:
        yield server


def keep_until_told(address: str, home: Path, turn: int, say: Say) -> None:
    """Keep again and again until the server is gone; then keep what was refused, until it is taken."""
    with Store(address) as store:
        try:
            for number in range(10_000):
                keep_another(store, home, f"{turn}.{number}", say)
        except Refused as error:
            say(f"told {error}".replace("\n", " "))
        for _ in range(300):
            time.sleep(0.05)
            try:
                keep_as_it_is(store, home, f"{turn} again", say)
            except Refused as error:
                say(f"told {error}".replace("\n", " "))
            else:
                say("end")
                return
    say("failed: it did not recover")


def stop_at_once(server: Server, how: str) -> None:
    """Stop a server as if the power were cut, or kill the process that serves the client: then it starts anew."""
    if how == "power":
        server.stop("immediate")
        return
    with psycopg.connect(server.address("postgres"), autocommit=True) as connection:
        pids = connection.execute(
            "SELECT pid FROM pg_stat_activity WHERE datname LIKE 'archive%' AND backend_type = 'client backend'"
        ).fetchall()
    assert pids
    for (pid,) in pids:
        os.kill(pid, signal.SIGKILL)


def start_again(server: Server, how: str) -> None:
    if how == "power":
        server.start()
        return
    deadline = time.monotonic() + 30
    while time.monotonic() < deadline:  # It recovers by itself.
        try:
            server.run("SELECT 1")
        except psycopg.Error:
            time.sleep(0.05)
        else:
            return
    raise AssertionError("the server did not recover")


def where(said: list[tuple[float, str]], killed_s: float) -> str:
    """Tell where a kill fell: the client hears of it only when it next asks the server something."""
    last = [line for moment_s, line in said if moment_s < killed_s][-1]
    if not last.startswith("write"):
        return "before writing"
    return "writing, after the commit" if said[-2][1].endswith("there") else "writing, before the commit"


def test_the_server_killed_at_any_instant(server: Server, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home = tmp_path / "house"
    put(home, project_bytes(good_project()))
    id, address = good_project().id, server.address(server.new_database())
    kept: dict[int, str] = {}
    fell: Counter[str] = Counter()
    seen, began_s = 0, time.monotonic()
    for turn in range(KILLS):
        how = CHANCE.choice(["power", "power", "process"])
        child = Child(lambda say, turn=turn: keep_until_told(address, home, turn, say))
        child.wait_for("done", 1)
        time.sleep(CHANCE.uniform(0, LONGEST_S))
        killed_s = time.monotonic()
        stop_at_once(server, how)
        start_again(server, how)
        said = child.ended()
        told = [line for line in said if line.startswith("told")]
        done = [line.split()[1:] for line in said if line.startswith("done")]
        assert said[-1] == "end", said[-5:]
        assert told
        kept |= {int(number): mark for number, mark, _ in done}
        fell[where(child.said, killed_s)] += 1
        for words in told:
            assert "the database cannot be reached" in words, words
            assert "password" not in words
        with Store(address, create=False) as store:
            newest = store.version(id).number
            # All that was acknowledged is there; beside it at most the version whose answer was cut off, which the
            # client's second try found to be there.
            assert set(kept) == set(range(1, newest + 1))
            for number, _, _ in done:
                assert fingerprint(store.file(id, FILE, int(number))) == kept[int(number)]
            assert_whole(store, id, since=seen + 1)
        seen = newest
    with Store(address) as store:
        assert all(fingerprint(store.file(id, FILE, number)) == mark for number, mark in kept.items())
    took_s = time.monotonic() - began_s
    with capsys.disabled():
        places = ", ".join(f"{many} {place}" for place, many in sorted(fell.items()))
        print(f"\nserver: {KILLS} kills fell {places}; {seen} versions; {took_s / KILLS:.1f} s a kill")


def test_a_server_that_is_away_is_said_in_words(server: Server, tmp_path: Path) -> None:
    address = server.address(server.new_database())
    Store(address).close()
    server.stop()
    with pytest.raises(Refused, match="the database cannot be reached") as told:
        Store(address)
    assert "Traceback" not in str(told.value)
    server.start()
    with Store(address) as store, pytest.raises(NotFound):
        store.version("none")
