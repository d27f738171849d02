"""Times as they are printed."""

from __future__ import annotations

__all__ = ["clock", "length_words"]


def clock(seconds: float) -> str:
    """Return a moment as minutes and seconds, `2:05`, or with hours, `1:02:05`; half a second counts as a whole one.

    >>> clock(65.4), clock(64.5), clock(3600)
    ('1:05', '1:05', '1:00:00')
    """
    whole = int(seconds + 0.5)
    minutes, rest = divmod(whole, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{rest:02}" if hours else f"{minutes}:{rest:02}"


def length_words(seconds: float) -> str:
    """Return a length of time in words: `12 min 5 s`."""
    minutes, rest = divmod(int(seconds + 0.5), 60)
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"
