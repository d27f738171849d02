"""How quick the archive is with generated projects: find, keep, and the room that a project takes.

`ENFILADE_ARCHIVE_PROJECTS` and `ENFILADE_ARCHIVE_DECISIONS` make it larger. As a script it fills an archive and prints
a table: `python tests/benchmarks/test_archive.py --projects 10000 --decisions 100 --address FILE`. Nothing is asserted
about time.
"""

from __future__ import annotations

import argparse
import os
import random
import statistics
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text

sys.path.insert(0, str(Path(__file__).parents[1]))

from archives import filled, keep_made, made, vocabulary
from enfilade.archive.finding import find
from enfilade.archive.store import Store
from postgres import started

PROJECTS = int(os.environ.get("ENFILADE_ARCHIVE_PROJECTS", "1000"))
DECISIONS = int(os.environ.get("ENFILADE_ARCHIVE_DECISIONS", "6"))
"""A few in CI, where filling both databases is to take no longer than the rest."""
ROUNDS = 40
NUMBERS = (
    "islands between 2.4 and 3.0 m with four seats whose aisle fell short", "rooms under 12 m2",
    "kitchens over 200 sq ft",
    "counters at least 8 ft", "decisions over 5,000", "islands 96 in", "tables with six seats", "island over 2 m oak",
)  # fmt: skip


def questions(seed: int = 3) -> dict[str, list[str]]:
    """Return questions of each kind, the same for the same seed."""
    drawn = random.Random(seed)
    words = vocabulary()
    common, middle, rare = words[40:120], words[120:1500], words[6000:]

    def misspelt(word: str) -> str:
        at = drawn.randrange(1, len(word) - 1)
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :]

    return {
        "rare": [drawn.choice(rare) for _ in range(ROUNDS)],
        "common": [drawn.choice(common) for _ in range(ROUNDS)],
        "two words": [f"{drawn.choice(common)} {drawn.choice(middle)}" for _ in range(ROUNDS)],
        "two common": [" ".join(drawn.sample(common, 2)) for _ in range(ROUNDS)],
        "misspelt": [misspelt(drawn.choice([word for word in middle if len(word) > 5])) for _ in range(ROUNDS)],
        "by number": [NUMBERS[n % len(NUMBERS)] for n in range(ROUNDS)],
    }


def asked(store: Store, several: list[str]) -> list[float]:
    """Ask questions and return how long each took [ms], the quickest first."""
    times = []
    for question in several:
        start = time.perf_counter()
        find(store, question)
        times.append(1e3 * (time.perf_counter() - start))
    return sorted(times)


def at_most(times: list[float], share: int) -> float:
    """Return how long that share of a hundred took at most [ms]."""
    return round(times[min(len(times) - 1, len(times) * share // 100)], 1)


def ready(store: Store) -> None:
    """Bring the database's statistics up to date, as its own housekeeping does after a while."""
    if store.address.shared:
        store.writing(lambda connection: connection.execute(text("ANALYZE")) and None)


def bytes_of(store: Store) -> int:
    """Return the size of an archive [bytes]."""
    if store.address.path is not None:
        files = store.address.path.parent.glob(store.address.path.name + "*")
        return sum(file.stat().st_size for file in files)
    with store.reading() as connection:
        return int(connection.execute(text("SELECT pg_database_size(current_database())")).scalar() or 0)


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def archive(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    if request.param == "sqlite":
        address = str(tmp_path_factory.mktemp("archive") / "archive.sqlite")
        filled(address, PROJECTS, DECISIONS, things=12)
        with Store(address) as store:
            yield store
        return
    with started() as server:
        address = server.address(server.new_database())
        filled(address, PROJECTS, DECISIONS, things=12)
        with Store(address) as store:
            ready(store)
            yield store


@pytest.mark.parametrize("kind", questions())
def test_find(benchmark: Any, archive: Store, capsys: pytest.CaptureFixture[str], kind: str) -> None:
    benchmark.group = f"find, {kind}"
    several = questions()[kind]
    find(archive, several[0])
    benchmark.pedantic(lambda: asked(archive, several[:5]), rounds=2)
    times = asked(archive, several)
    figures = {f"p{share}_ms": at_most(times, share) for share in (50, 95, 99)}
    benchmark.extra_info.update(figures, projects=PROJECTS, decisions=PROJECTS * DECISIONS)
    with capsys.disabled():
        print(f"\n{'shared' if archive.address.shared else 'file'}, {kind}: {figures}")


def test_keep(benchmark: Any, archive: Store) -> None:
    benchmark.group = "keep a project of 100 decisions and 60 things"
    several = iter(list(made(12, 100, first=PROJECTS)))
    benchmark.pedantic(lambda: keep_made(archive, next(several)), rounds=10, warmup_rounds=1)
    benchmark.extra_info["bytes_a_project"] = bytes_of(archive) // (PROJECTS + 11)


def main(arguments: list[str]) -> None:
    """Fill an archive and print how quick it is."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--projects", type=int, default=1000)
    parser.add_argument("--decisions", type=int, default=100)
    parser.add_argument("--address", required=True, help="a new archive, or one that was filled before")
    given = parser.parse_args(arguments)
    with Store(given.address) as store:
        there = len(store.projects())
        several: Any = made(given.projects - there, given.decisions, first=there)
        spent, kept = 0.0, 0
        for one in several:
            files, start = one.files, time.perf_counter()
            keep_made(store, one, files)
            spent, kept = spent + time.perf_counter() - start, kept + 1
            if kept % 500 == 0:
                print(f"  {kept} kept, {kept / spent:.1f} a second", flush=True)
        ready(store)
        if kept:
            print(f"keep: {kept / spent:.1f} a second")
        print(f"{bytes_of(store) / given.projects / 1024:.0f} KiB a project; {bytes_of(store) / 1e9:.2f} GB in all")
        for kind, questions_of in questions().items():
            asked(store, questions_of[:3])
            times = asked(store, questions_of)
            print(f"find, {kind:11} median {statistics.median(times):7.1f} ms   p95 {at_most(times, 95):7.1f} ms   "
                  f"max {times[-1]:7.1f} ms", flush=True)  # fmt: skip


if __name__ == "__main__":
    main(sys.argv[1:])
