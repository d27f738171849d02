"""What is asked when two windows changed the same: plain words, and both values of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from enfilade.editing.merging.merging import differences
from enfilade.editing.merging.saying import Words
from enfilade.editing.merging.three_ways import GONE, Clash
from enfilade.files import fingerprint
from enfilade.listing import capital, listed
from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["Line", "Question", "about_clashes", "about_unreadable"]

_LONG = 600
_NAMED = 8


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
    words = Words(mine, theirs, base)
    lines = tuple(_line(words, base, mine, theirs, clash) for clash in clashes)
    many = "the same" if len(lines) == 1 else f"{len(lines)} things that you changed too, each differently"
    told = f"Another window changed {many}. Nothing was written over it: choose which to keep."
    return Question("clash", _key(*(line.key for line in lines)), told, lines)


def about_unreadable(words: str, data_key: str) -> Question:
    """Return the question that a file puts which holds no project any more."""
    return Question("unreadable", _key(data_key), words)


def _line(words: Words, base: Project, mine: Project, theirs: Project, clash: Clash) -> Line:
    if not clash.place:
        sides = [_changed(words, base, side) for side in (mine, theirs)]
        about = "Both windows' changes do not fit together"
    else:
        field = words.field(clash.place)
        about = capital(words.record(clash.place)) + (f": {field}" if field else "")
        sides = [_side(words, clash, side) for side in (clash.mine, clash.theirs)]
    key = _key(*(repr(one) for one in (clash.place, clash.mine, clash.theirs)))
    return Line(key, about, sides[0], sides[1], clash.why, clash)


def _side(words: Words, clash: Clash, value: Any) -> str:
    if value is GONE:
        return "taken away"
    if isinstance(value, Record) and clash.place[-1:] == (getattr(value, "id", None),):
        changed = [
            words.field((*clash.place, name))
            for name in type(value).model_fields
            if isinstance(clash.base, type(value)) and getattr(value, name) != getattr(clash.base, name)
        ]
        return f"kept, with another {', '.join(changed[:_NAMED])}" if changed else "kept"
    return words.value(clash.place, value, longest=_LONG)


def _changed(words: Words, base: Project, side: Project) -> str:
    told = words.records(differences(base, side))
    return listed(told, _NAMED)


def _key(*parts: str) -> str:
    return fingerprint("\0".join(parts).encode("utf-8", "surrogatepass"))[:16]
