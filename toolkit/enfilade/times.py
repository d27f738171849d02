"""When something was, as people say it: by the clock where it is read. Files say UTC."""

from __future__ import annotations

import datetime as dt
from typing import Final

__all__ = ["MONTHS", "day_here", "day_words", "moment_here", "when_words"]

MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
"""By their place in the year, from 0."""


def day_words(day: dt.date) -> str:
    """Write a day for the eye: `24 March 2025`."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def day_here(moment: dt.datetime) -> str:
    """Write the day that a moment fell on, here: `24 March 2025`. The moment has its time zone."""
    return day_words(moment.astimezone().date())


def moment_here(moment: dt.datetime) -> str:
    """Write a moment as the clock here had it: `24 March 2025, 10:42`. The moment has its time zone."""
    return f"{day_here(moment)}, {moment.astimezone():%H:%M}"


def when_words(moment: dt.datetime, now: dt.datetime | None = None, *, seconds: bool = False) -> str:
    """Write a moment for reading: `today 10:42`, `yesterday 10:42`, `24 March 2025, 10:42`.

    Args:
        moment: With its time zone.
        now: What today is counted from, in the zone that the reader lives in; absent: now, here.
        seconds: Tell the second too.
    """
    # Not by today's distance from UTC, where it is none that was asked for: summer and winter have their own.
    local = moment.astimezone(now.tzinfo if now else None)
    time = f"{local:%H:%M:%S}" if seconds else f"{local:%H:%M}"
    days = ((now or dt.datetime.now()).date() - local.date()).days
    if days in (0, 1):
        return f"{('today', 'yesterday')[days]} {time}"
    return f"{day_words(local.date())}, {time}"
