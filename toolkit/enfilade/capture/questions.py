"""What is asked when two windows changed the same: plain words, and both values of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from enfilade.editing.merging.sides import Sides, sides_of
from enfilade.editing.merging.three_ways import Clash
from enfilade.files import fingerprint
from enfilade.project.project import Project

__all__ = ["Line", "Question", "about_clashes", "about_unreadable", "key_of", "lines_about"]


@dataclass(frozen=True)
class Line:
    """One value that both windows changed.

    Attributes:
        key: Names the clash and both its values: an answer to values that are no more is not taken.
        about: What it is, such as `Island: width`.
        mine, theirs: What it is here, and in the other window.
        why: What is wrong with having both, where that is not plain.
        clash: What is asked about.
    """

    key: str
    about: str
    mine: str
    theirs: str
    why: str
    clash: Clash


@dataclass(frozen=True)
class Question:
    """What a person has to choose before the house can be saved.

    Attributes:
        kind: `clash`, or `unreadable`: the file holds no project any more.
        key: Names the question with all its values.
        words: What happened, in a sentence.
        lines: What was changed in both windows.
    """

    kind: Literal["clash", "unreadable"]
    key: str
    words: str
    lines: tuple[Line, ...] = ()


def about_clashes(base: Project, mine: Project, theirs: Project, clashes: Sequence[Clash]) -> Question:
    """Return the question that two windows' work puts."""
    lines = lines_about(base, mine, theirs, clashes)
    many = "the same" if len(lines) == 1 else f"{len(lines)} things that you changed too, each differently"
    told = f"Another window changed {many}. Nothing was written over it: choose which to keep."
    return Question("clash", _key(*(line.key for line in lines)), told, lines)


def lines_about(base: Project, mine: Project, theirs: Project, clashes: Sequence[Clash]) -> tuple[Line, ...]:
    """Return clashes in words, in their order."""
    return tuple(map(_line, sides_of(base, mine, theirs, clashes), clashes))


def about_unreadable(words: str, data_key: str) -> Question:
    """Return the question that a file puts which holds no project any more."""
    return Question("unreadable", _key(data_key), words)


def _line(sides: Sides, clash: Clash) -> Line:
    about = sides.about or "Both windows' changes do not fit together"
    return Line(key_of(clash), about, sides.mine, sides.theirs, sides.why, clash)


def key_of(clash: Clash) -> str:
    """Return the key of a clash: of its place and of both its values."""
    return _key(*(repr(one) for one in (clash.place, clash.mine, clash.theirs)))


def _key(*parts: str) -> str:
    return fingerprint("\0".join(parts).encode("utf-8", "surrogatepass"))[:16]
