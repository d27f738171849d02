"""Small phrases of which the words about a shot are made."""

from __future__ import annotations

import math
import re
from typing import Final

from enfilade.lengths import System, show_length

__all__ = [
    "degrees_words", "height_words", "lens_words", "long_words", "opening_words", "percent", "wall_words",
]  # fmt: skip

_SIDES: Final = re.compile(r"\b(?:wall|side|gable|partition|corner|end|front|back|screen)s?\b", re.IGNORECASE)


def lens_words(focal_mm: float) -> str:
    """Write a focal length.

    >>> lens_words(24.0), lens_words(13.5)
    ('24 mm', '13.5 mm')
    """
    return f"{focal_mm:g} mm"


def percent(share: float) -> str:
    """Write a share as whole parts in a hundred, rounded down: what falls short never reads as enough.

    >>> percent(0.949), percent(1.0)
    ('94%', '100%')
    """
    return f"{math.floor(100 * share + 1e-9)}%"


def height_words(value_mm: float, system: System) -> str:
    """Write a height above the floor: to the millimetre, or to the inch."""
    return show_length(value_mm if system == "metric" else round(value_mm / 25.4) * 25.4, system)


def long_words(value_mm: float, system: System) -> str:
    """Write a distance as it is stepped off: metres with one decimal when it is long and metric, to the inch in feet.

    >>> long_words(2934.0, "metric"), long_words(734.0, "metric"), long_words(2934.0, "us")
    ('2.9 m', '730 mm', '9\\' 8"')
    """
    if system == "metric":
        return f"{value_mm / 1000:.1f} m" if value_mm >= 1000 else f"{round(value_mm / 10) * 10:.0f} mm"
    return show_length(round(value_mm / 25.4) * 25.4, "us")


def degrees_words(angle_deg: float) -> str:
    """Write an angle: whole degrees, below one degree with one decimal.

    >>> degrees_words(12.4), degrees_words(0.3), degrees_words(0.97)
    ('12°', '0.3°', '1°')
    """
    return f"{angle_deg:.0f}°" if angle_deg >= 0.95 else f"{angle_deg:.1f}°"


def opening_words(name: str, kind: str) -> str:
    """Write what an opening is called; one that is named for what it joins is called by its kind besides.

    >>> opening_words("entry to washroom", "door"), opening_words("front door", "door"), opening_words("", "window")
    ('door from entry to washroom', 'front door', 'window')
    """
    joins = re.search(r"\S to \S", name) and kind.rsplit(" ", 1)[-1] not in name.casefold()
    return f"{kind} from {name}" if joins else name or kind


def wall_words(name: str) -> str:
    """Write what a wall is called, so that it can be told from a point of the compass.

    >>> wall_words("east"), wall_words("east gable"), wall_words("river wall, east of the bay")
    ('east wall', 'east gable', 'river wall, east of the bay')
    """
    return name if _SIDES.search(name) else f"{name} wall"
