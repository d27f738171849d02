"""Keeps a ledger of the verdicts that the fixtures of this folder reach, row by row; see test_zz_every_row.py."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import Any

import pytest

from enfilade.findings import Finding
from enfilade.standards.row import Row

LEDGER: dict[str, set[str]] = defaultdict(set)
"""Name of a row, such as `K6/two cooks`, to the verdicts that were reached with it."""

_finding = Row.finding


@pytest.fixture(autouse=True, scope="session")
def _ledger() -> Iterator[None]:
    def recorded(self: Row, **more: Any) -> Finding:
        found = _finding(self, **more)
        LEDGER[self.name].add(found.verdict)
        return found

    patch = pytest.MonkeyPatch()
    patch.setattr(Row, "finding", recorded)
    yield
    patch.undo()


@pytest.fixture
def ledger() -> dict[str, set[str]]:
    """The verdicts reached so far in this run."""
    return LEDGER
