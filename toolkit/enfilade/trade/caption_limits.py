"""What a caption may be, by published limits.

Sources, as far as they were seen: a rule sheet for volunteer translators (42 characters a line, 2 lines, 1 to 7 s,
at most 25 characters a second, 8 to 16 for children); a broadcaster's subtitle guidelines (a caption stays at most
1.5 s after the speech; 37 characters a line come down from teletext).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from enfilade.errors import OutOfRange

__all__ = ["USUAL", "Limits"]


@dataclass(frozen=True, slots=True)
class Limits:
    """What a caption may be.

    Attributes:
        line_chars: Longest line [characters].
        lines: Most lines.
        least_s, most_s: Shortest and longest time on the screen [s].
        most_cps: Fastest reading [characters a second].
        most_after_s: Longest stay after the speech has ended [s].
    """

    line_chars: int = 42
    lines: int = 2
    least_s: float = 1.0
    most_s: float = 7.0
    most_cps: float = 25.0
    most_after_s: float = 1.5

    def __post_init__(self) -> None:
        if not (1 <= self.line_chars <= 1000 and 1 <= self.lines <= 3):
            raise OutOfRange(
                f"{self.lines} lines of {self.line_chars} characters", expected="1 to 3 lines of 1 to 1000"
            )
        if not (0 < self.least_s <= self.most_s < math.inf and self.most_cps > 0 and self.most_after_s >= 0):
            raise OutOfRange(
                f"{self.least_s} to {self.most_s} s", expected="a shortest time above 0, not over the longest"
            )


USUAL: Final = Limits()
"""For grown-up readers on a wide screen. For children 16 characters a second are the most, on teletext 37 a line."""
