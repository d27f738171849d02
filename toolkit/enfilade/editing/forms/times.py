"""Lengths of time and walking paces, as people type and read them; kept in seconds, and in millimetres a second."""

from __future__ import annotations

import re
from typing import Final

from enfilade.editing.quoting import quoted
from enfilade.errors import Refused
from enfilade.lengths import FOOT_MM, System

__all__ = ["duration", "duration_words", "is_pace", "is_time", "pace", "pace_unit", "pace_words", "told_length"]

_CLOCK: Final = re.compile(r"(?:(\d{1,2}):)?(\d{1,3}):(\d{2})")
_PART: Final = re.compile(r"(\d+(?:\.\d+)?)\s*([a-z]*)\.?,?\s*")
_IN_SECONDS: Final = {
    **dict.fromkeys(("s", "sec", "secs", "second", "seconds"), 1.0),
    **dict.fromkeys(("m", "min", "mins", "minute", "minutes"), 60.0),
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), 3600.0),
}
_SAID: Final = "a time such as 8 min, 1 min 30 s or 1:30"
_SHORTEST_S: Final = 10.0
"""Nobody tells a house in less: it was meant in another unit (own choice)."""
_PACES: Final[dict[System, tuple[float, str]]] = {"us": (FOOT_MM, "feet a second"), "metric": (1000.0, "m a second")}


def is_time(field: str) -> bool:
    """Tell whether a field holds a length of time in seconds, as its name ends."""
    return field.endswith("_s") and not is_pace(field)


def is_pace(field: str) -> bool:
    """Tell whether a field holds a speed in millimetres a second, as its name ends."""
    return field.endswith("_mm_s")


def duration(text: str, bare_s: float = 1.0) -> float:
    """Return a length of time [s].

    Args:
        text: As it was typed.
        bare_s: What a number without a unit counts, such as 60 for minutes [s].
    Raises:
        Refused: It cannot be read.

    >>> duration("8 min"), duration("1 min 30 s"), duration("1:30"), duration("90")
    (480.0, 90.0, 90.0, 90.0)
    >>> duration("6", bare_s=60.0)
    360.0
    """
    plain = " ".join(text.lower().split())
    if clock := _CLOCK.fullmatch(plain):
        if int(clock[3]) < 60 and (clock[1] is None or int(clock[2]) < 60):
            return 3600.0 * int(clock[1] or 0) + 60.0 * int(clock[2]) + int(clock[3])
        raise Refused(f"{quoted(text)} is not a time", expected=_SAID)
    seconds, at, last = 0.0, 0, float("inf")
    while match := _PART.match(plain, at):
        times = _IN_SECONDS.get(match[2]) if match[2] else bare_s
        # Hours before minutes before seconds, each once; a bare number stands alone.
        if times is None or times >= last or (not match[2] and len(match[0]) != len(plain)) or len(match[1]) > 12:
            break
        seconds, at, last = seconds + float(match[1]) * times, match.end(), times
        if at == len(plain):
            return seconds
    raise Refused(f"{quoted(text)} is not a time", expected=_SAID)


def told_length(text: str) -> float:
    """Return how long a telling should take [s]; a bare number is in minutes.

    Raises:
        Refused: It cannot be read, or is too short to tell anything in.

    >>> told_length("6"), told_length("7 min 30 s")
    (360.0, 450.0)
    """
    seconds = duration(text, bare_s=60.0)
    if seconds < _SHORTEST_S:
        raise Refused(
            f"{quoted(text)} is too short to tell a house in", expected="at least 10 s; a bare number is in minutes"
        )
    return seconds


def duration_words(seconds: float) -> str:
    """Write a length of time as it is typed.

    >>> duration_words(480.0), duration_words(90.5), duration_words(0.0), duration_words(3661.0)
    ('8 min', '1 min 30.5 s', '0 s', '1 h 1 min 1 s')
    """
    hundredths = round(seconds * 100)
    hours, rest = divmod(hundredths, 360_000)
    minutes, rest = divmod(rest, 6000)
    parts = [f"{hours} h"] if hours else []
    parts += [f"{minutes} min"] if minutes else []
    parts += [f"{rest / 100:.2f}".rstrip("0").rstrip(".") + " s"] if rest or not parts else []
    return " ".join(parts)


def pace(number: float, unit: str, system: System) -> float | None:
    """Return a speed [mm/s] from a number and the unit after it; None when it is no unit of speed."""
    known = {"": _PACES[system][0], "m/s": 1000.0, "m a second": 1000.0, "mm/s": 1.0, "ft/s": FOOT_MM,
             "feet a second": FOOT_MM, "km/h": 1000 / 3.6, "mph": 5280 * FOOT_MM / 3600}  # fmt: skip
    factor = known.get(unit)
    return None if factor is None else number * factor


def pace_unit(system: System) -> str:
    """Return the unit in which a speed is typed without one."""
    return _PACES[system][1]


def pace_words(value_mm_s: float, system: System) -> str:
    """Write a speed without its unit.

    >>> pace_words(1000.0, "metric"), pace_words(1000.0, "us")
    ('1', '3.28')
    """
    return f"{value_mm_s / _PACES[system][0]:.2f}".rstrip("0").rstrip(".")
