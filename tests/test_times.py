"""Moments as they are told: by the clock where they are read, whatever the season."""

from __future__ import annotations

import datetime as dt
import time
from collections.abc import Iterator

import pytest

from enfilade.archive.versions import Version
from enfilade.cli.options import numbered
from enfilade.times import day_here, moment_here, when_words

SUMMER = dt.datetime(2025, 7, 1, 22, 30, tzinfo=dt.UTC)
WINTER = dt.datetime(2025, 1, 1, 22, 30, tzinfo=dt.UTC)


@pytest.fixture
def berlin(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A machine in Berlin: UTC+1 in winter, UTC+2 in summer (IANA time zone database; as POSIX writes the rule)."""
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.usefixtures("berlin")
def test_each_moment_is_told_by_the_clock_of_its_own_season() -> None:
    assert (moment_here(WINTER), moment_here(SUMMER)) == ("1 January 2025, 23:30", "2 July 2025, 00:30")
    assert (day_here(WINTER), day_here(SUMMER)) == ("1 January 2025", "2 July 2025")
    # Told today, whichever season that is.
    assert (when_words(WINTER), when_words(SUMMER)) == (moment_here(WINTER), moment_here(SUMMER))


@pytest.mark.usefixtures("berlin")
def test_a_version_is_listed_by_the_same_clock_as_on_the_page() -> None:
    version = Version("house", 3, SUMMER, "the designer", "", 1, "", "", b"")
    assert numbered(version) == f"version 3, {when_words(SUMMER)}, the designer"
