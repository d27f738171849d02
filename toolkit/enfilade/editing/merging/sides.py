"""A clash said in words: what it is about, and what it is on each side."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final

from enfilade.editing.merging.merging import differences
from enfilade.editing.merging.saying import Words
from enfilade.editing.merging.three_ways import GONE, Clash
from enfilade.listing import capital, listed
from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["Sides", "sides_of"]

_LONG: Final = 600
_NAMED: Final = 8


@dataclass(frozen=True)
class Sides:
    """Both values of a clash, for reading.

    Attributes:
        about: What it is, such as `Island: width`; empty when all of both does not fit together.
        mine, theirs: What it is on this side, and on the other.
        why: What is wrong with having both, where that is not plain.
    """

    about: str
    mine: str
    theirs: str
    why: str


def sides_of(base: Project, mine: Project, theirs: Project, clashes: Iterable[Clash]) -> tuple[Sides, ...]:
    """Return clashes in words, with records named as they are on this side where it has them."""
    words = Words(mine, theirs, base)
    return tuple(_sides(words, base, mine, theirs, clash) for clash in clashes)


def _sides(words: Words, base: Project, mine: Project, theirs: Project, clash: Clash) -> Sides:
    if not clash.place:
        return Sides("", _changed(words, base, mine), _changed(words, base, theirs), clash.why)
    field = words.field(clash.place)
    about = capital(words.record(clash.place)) + (f": {field}" if field else "")
    here, there = (_side(words, clash, side) for side in (clash.mine, clash.theirs))
    return Sides(about, here, there, clash.why)


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
    return listed(words.records(differences(base, side)), _NAMED)
