"""The shots of a script: where the camera stands, through which lens, and what it sees."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from enfilade.walkthrough.pages import Drawing
from enfilade.walkthrough.telling import Telling

__all__ = ["Film", "ShotPart", "film"]


@dataclass(frozen=True)
class ShotPart:
    """One planned shot, in words and as a picture."""

    number: int
    """Its position on the plan, from 1 through the whole script."""
    line: str
    """Id of the line that it goes with, as in `SpokenPart.id`."""
    space: str
    room: str
    size: str
    move: str
    focal_mm: float | None
    """None when the subject cannot be framed."""
    lens: str
    """The lens in words: `24 mm`."""
    subject: str
    also: tuple[str, ...]
    """What else is in frame, by name, the largest first."""
    blocked_by: tuple[str, ...]
    eye_mm: tuple[float, float, float] | None
    toward_mm: tuple[float, float, float] | None
    where: str
    """Where the camera stands, in words."""
    trouble: str
    """Why it cannot be framed, and what would help; empty when it can."""
    note: str
    picture: Drawing | None
    """The perspective that this camera sees."""


@dataclass(frozen=True)
class Film:
    """The shots in the order of the script, and the plans that show their positions."""

    shots: tuple[ShotPart, ...]
    plans: tuple[Drawing, ...]


def film(telling: Telling, progress: Callable[[str], None] = lambda words: None) -> Film:
    """Plan every shot of the script."""
    return Film((), ())
