"""Shot sizes: how much of the picture a subject fills.

The terms are those of film and television; there they tell how much of a person is seen. What they mean for a thing or
a room has no published source: the figures are common practice, chosen to be told apart, and the planner only aims at
them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from enfilade.project.speaking import Shot
from enfilade.sources import Source

__all__ = ["SIZES", "SIZE_SOURCE", "Size", "size_for"]


@dataclass(frozen=True, slots=True)
class Size:
    """One size.

    Attributes:
        name: The term.
        fills: Share of the picture's width or height, whichever it reaches first, that the framed part fills [-].
        part: Share of the subject's width and height that is framed: below 1 the middle of the side that it shows [-].
        of_room: When the subject is a room: the least share of its floor that lies in view of the lens, seen from above
            at the height of the lens [-].
    """

    name: str
    fills: float
    part: float
    of_room: float


SIZE_SOURCE: Final = Source(
    document="shot sizes of film and television, applied to things and rooms",
    body="",
    edition="",
    section="",
    known="common practice",
)

SIZES: Final[dict[str, Size]] = {
    size.name: size
    for size in (
        Size("extreme wide", 0.20, 1.0, 0.85),
        Size("wide", 0.40, 1.0, 0.70),
        Size("medium wide", 0.60, 1.0, 0.50),
        Size("medium", 0.85, 1.0, 0.35),
        Size("medium close-up", 0.92, 2 / 3, 0.20),
        Size("close-up", 0.92, 1 / 3, 0.12),
        Size("extreme close-up", 0.92, 1 / 8, 0.05),
    )
}
"""Every size, the widest first."""

_OF_A_ROOM: Final = "wide"
_OF_THINGS: Final = "medium wide"


def size_for(shot: Shot | None, *, room: bool) -> Size:
    """Return the size that a shot asks; where it asks none, rooms are shown wide and things medium wide."""
    return SIZES[(shot.size if shot else None) or (_OF_A_ROOM if room else _OF_THINGS)]
