"""The archives of `tests/archive/conftest.py`, for the hard tests as well."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from postgres import started


@pytest.fixture(params=["sqlite", "postgresql"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of a new archive, once as a file and once in a PostgreSQL of the test's own."""
    if request.param == "sqlite":
        yield str(tmp_path / "archive.sqlite")
        return
    with started() as server:
        yield server.address(server.new_database())
