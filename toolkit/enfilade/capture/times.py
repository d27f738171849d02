"""When something was, as people say it."""

from __future__ import annotations

import datetime as dt

from enfilade.script.number_words import day_words

__all__ = ["when_words"]


def when_words(moment: dt.datetime, now: dt.datetime | None = None, *, seconds: bool = False) -> str:
    """Write a moment for reading: `today 10:42`, `yesterday 10:42`, `24 March 2025, 10:42`.

    Args:
        moment: With its time zone.
        now: What today is counted from, in the zone that the reader lives in; absent: now, here.
        seconds: Tell the second too.
    """
    now = now or dt.datetime.now().astimezone()
    local = moment.astimezone(now.tzinfo)
    time = f"{local:%H:%M:%S}" if seconds else f"{local:%H:%M}"
    days = (now.date() - local.date()).days
    if days in (0, 1):
        return f"{('today', 'yesterday')[days]} {time}"
    return f"{day_words(local.date())}, {time}"
