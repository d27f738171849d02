"""An archive for tests: a file, and a real PostgreSQL, which this machine starts for itself where it has one."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from postgres import Server, started


@pytest.fixture(scope="session")
def postgres() -> Iterator[Server]:
    """A server of this run's own; skips, and says why, where the machine has none."""
    with started() as server:
        yield server


@pytest.fixture(params=["sqlite", "postgresql"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of a new archive, once as a file and once in PostgreSQL."""
    if request.param == "sqlite":
        yield str(tmp_path / "store" / "archive.sqlite")
        return
    server: Server = request.getfixturevalue("postgres")
    name = server.new_database()
    yield server.address(name)
    server.drop(name)
