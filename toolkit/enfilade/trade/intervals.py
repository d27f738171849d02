"""Days that come back every so many months.

A day that a shorter month lacks is held on that month's last day: counted from 31 January, monthly, it is 28 or 29
February and then 31 March again. Common practice, no source; RFC 5545 (section 3.3.10) would leave such months out, so
that a calendar must ask for the last day in words of its own.
"""

from __future__ import annotations

import calendar
import datetime as dt

from enfilade.errors import OutOfRange

__all__ = ["months_after", "next_on"]


def months_after(day: dt.date, months: int) -> dt.date:
    """Return the day so many months later, or the last day of that month where it is shorter.

    Args:
        day: The day that is counted from.
        months: 0 or more.
    Raises:
        OutOfRange: It lies beyond the year 9999, or `months` is below 0.

    >>> months_after(dt.date(2026, 8, 31), 6)
    datetime.date(2027, 2, 28)
    """
    if months < 0:
        raise OutOfRange(f"{months} months", expected="0 or more")
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    if year > dt.MAXYEAR:
        raise OutOfRange(f"{months} months after {day} is in the year {year}", expected=f"up to {dt.MAXYEAR}")
    return dt.date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


def next_on(day: dt.date, every_months: int, not_before: dt.date, *, skip: int = 0) -> dt.date:
    """Return the first of the days `day`, `day` and so many months, ... that is not before another day.

    Args:
        day: The day that is counted from.
        every_months: Months from one to the next, 1 or more.
        not_before: The day that is asked about.
        skip: So many of the days, from the first, are left out.
    Raises:
        OutOfRange: It lies beyond the year 9999, or the interval is below 1.

    >>> next_on(dt.date(2026, 1, 31), 1, dt.date(2026, 2, 10))
    datetime.date(2026, 2, 28)
    """
    if every_months < 1:
        raise OutOfRange(f"every {every_months} months", expected="1 or more")
    between = (not_before.year - day.year) * 12 + not_before.month - day.month
    turn = max(skip, between // every_months)
    found = months_after(day, turn * every_months)
    return found if found >= not_before else months_after(day, (turn + 1) * every_months)
