"""One thing that the draft tells, and how it is filmed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.project import Project
from enfilade.project.speaking import Drafted, Shot, ShotSize, SpokenLine
from enfilade.project.thing import Thing

__all__ = ["MOST_SHOWN", "Item", "about", "heard_by", "line_of", "shot_of"]

MOST_SHOWN: Final = 200
"""Things, decisions and pictures that one line may name."""
_LONGEST_ABOUT: Final = 200
_WHOLE_MM: Final = 2400.0
_SMALL_MM: Final = 900.0
"""A thing wider or taller than the first is shown from farther away, one below the second from nearer (own choice)."""


@dataclass(frozen=True)
class Item:
    """One thing that is told in a room, or that joins two parts.

    Attributes:
        about: What it tells, once in the whole draft; a redraft finds the line by it.
        text: The sentences.
        shot: How it is filmed; None is left to be found.
        hear: Who may hear it.
    """

    about: str
    text: str
    things: tuple[str, ...] = ()
    decisions: tuple[str, ...] = ()
    findings: tuple[str, ...] = ()
    photographs: tuple[str, ...] = ()
    shot: Shot | None = None
    hear: tuple[Audience, ...] = AUDIENCES


def about(*steps: str) -> str:
    """Return what a line is about, short enough to be kept: `decision:island-size:chosen`."""
    whole = ":".join(steps)
    if len(whole) <= _LONGEST_ABOUT:
        return whole
    return f"{whole[: _LONGEST_ABOUT - 17]}~{hashlib.sha256(whole.encode()).hexdigest()[:16]}"


def heard_by(*audiences: Sequence[Audience]) -> tuple[Audience, ...]:
    """Return who is among all of them; the studio hears what nobody else may."""
    common = tuple(one for one in AUDIENCES if all(one in some for some in audiences))
    return common or ("studio",)


def shot_of(project: Project, things: Iterable[str], *, nearer: bool = False) -> Shot:
    """Return a shot in standard terms: wide for a room, nearer for single things by their size.

    Args:
        project: The house.
        things: Ids of what is shown; none: the room.
        nearer: One step nearer, to look at one part of it.
    """
    found = [project.things_by_id[id] for id in things if id in project.things_by_id]
    sizes: tuple[ShotSize, ...] = ("wide", "medium wide", "medium", "medium close-up", "close-up")
    if not found:
        return Shot(size="wide")
    largest = _largest(found)
    at = 1 if len(found) > 3 or largest > _WHOLE_MM else 3 if largest < _SMALL_MM else 2
    return Shot(size=sizes[min(at + nearer, len(sizes) - 1)])


def _largest(things: Sequence[Thing]) -> float:
    return max(max(thing.width_mm, thing.depth_mm, thing.top_mm - thing.bottom_mm) for thing in things)


def line_of(item: Item, id: str) -> SpokenLine:
    """Return the line that says it."""
    return SpokenLine(
        id=id,
        text=item.text,
        things=item.things,
        decisions=item.decisions,
        findings=item.findings,
        photographs=item.photographs,
        shot=item.shot,
        hear=item.hear,
        drafted=Drafted(about=item.about, text=item.text),
    )
