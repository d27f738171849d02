"""A line with its bound figures put in, for the eye and for the ear."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from enfilade.errors import Fault
from enfilade.listing import capital
from enfilade.project.speaking import FIELD
from enfilade.script.figures import Bound, Figures, Unbound
from enfilade.script.speakable import speakable

__all__ = ["FoundField", "Resolved", "fields_in", "resolved", "said", "shown"]

_STRAY: Final = re.compile(r"[{}]")
_EXPLAINED: Final = 10
"""So many faults of one text say which names come near; the rest say what is wrong."""
_LISTED: Final = 100


@dataclass(frozen=True, slots=True)
class FoundField:
    """A bound field of a line.

    Attributes:
        text: What stands between its braces.
        start, end: Where it stands in the line, braces included.
        bound: What it stands for.
    """

    text: str
    start: int
    end: int
    bound: Bound


@dataclass(frozen=True, slots=True)
class Resolved:
    """A line with its figures put in.

    Attributes:
        shown: For the eye.
        said: For the ear: figures in words, those that were typed by hand too.
        fields: The fields that are bound, in the order of the line.
        faults: What stands for nothing, each with its place; the line has it as it was typed. At most a hundred.
    """

    shown: str
    said: str
    fields: tuple[FoundField, ...]
    faults: tuple[Fault, ...]


def fields_in(text: str) -> list[str]:
    """Return what stands between each pair of braces of a text."""
    return FIELD.findall(text)


def resolved(text: str, figures: Figures) -> Resolved:
    """Return a line with its figures put in; nothing is raised, whatever the text holds."""
    fields, faults = _fields(text, figures)
    return Resolved(_for_the_eye(text, fields), _for_the_ear(text, fields), fields, faults)


def shown(text: str, figures: Figures) -> str:
    """Return a line for the eye."""
    return _for_the_eye(text, _fields(text, figures, explain=False)[0])


def said(text: str, figures: Figures) -> str:
    """Return a line for the ear: every figure in words, as a mouth says it."""
    return _for_the_ear(text, _fields(text, figures, explain=False)[0])


def _for_the_eye(text: str, fields: Iterable[FoundField]) -> str:
    parts, at = [], 0
    for field in fields:
        words = field.bound.shown
        if _in_words(field) and _begins(text, field.start):
            words = capital(words)
        parts += [text[at : field.start], words]
        at = field.end
    return "".join([*parts, text[at:]])


def _for_the_ear(text: str, fields: Iterable[FoundField]) -> str:
    parts, at = [], 0
    for field in fields:
        parts += [text[at : field.start], field.bound.said]
        at = field.end
    return speakable("".join([*parts, text[at:]]))


def _in_words(field: FoundField) -> bool:
    value = field.bound.value
    return value is not None and value.kind != "words" and field.bound.shown == field.bound.said


def _begins(text: str, at: int) -> bool:
    before = text[max(0, at - 10) : at].rstrip()
    return before == "" or before.endswith((".", "!", "?"))


def _fields(text: str, figures: Figures, *, explain: bool = True) -> tuple[tuple[FoundField, ...], tuple[Fault, ...]]:
    found: list[FoundField] = []
    faults: list[Fault] = []
    ends = 0
    for match in FIELD.finditer(text):
        if explain:
            faults += _strays(text, ends, match.start(), faults)
        ends = match.end()
        bound = figures.bound(match[1])
        if isinstance(bound, Bound):
            found.append(FoundField(match[1], *match.span(), bound))
        elif explain and len(faults) < _LISTED:
            faults.append(_fault(match, bound, figures, nearest=len(faults) < _EXPLAINED))
    if explain:
        faults += _strays(text, ends, len(text), faults)
    return tuple(found), tuple(faults[:_LISTED])


def _fault(match: re.Match[str], bound: Unbound, figures: Figures, *, nearest: bool) -> Fault:
    expected = bound.expected
    if bound.near is not None:
        near = figures.index.nearest(*bound.near) if nearest else []
        expected = " or ".join(f"`{name}`" for name in near) or "an id or a name of the record"
    return Fault(_place(match.start(), match[0]), bound.what[:300], expected)


def _strays(text: str, start: int, end: int, known: list[Fault]) -> list[Fault]:
    stray = _STRAY.search(text, start, end)
    if stray is None or len(known) >= _LISTED:
        return []
    return [Fault(_place(stray.start(), stray[0]), "a brace stands alone", "a field between { and }")]


def _place(start: int, text: str) -> str:
    return f"sign {start + 1}, {text if len(text) <= 60 else f'{text[:60]}…'}"
