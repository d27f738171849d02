"""What a field may stand for, and the fields to which a line in one room can be bound."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from enfilade.script.attributes import ATTRIBUTES
from enfilade.script.counting import COUNTED, count_in, plural
from enfilade.script.index import Index, Subject
from enfilade.script.phrases import PHRASES
from enfilade.script.value import Value

if TYPE_CHECKING:
    from enfilade.script.figures import Figures

__all__ = ["Bindable", "Bound", "Unbound", "bindable"]


@dataclass(frozen=True, slots=True)
class Bound:
    """A field with what it stands for.

    Attributes:
        value: The figure; None when it is checked for its form alone, since nothing was measured yet.
        shown: For the eye.
        said: For the ear.
        subject: The record that it is of, None when it is of the household or the house.
    """

    value: Value | None
    shown: str
    said: str
    subject: Subject | None = None


@dataclass(frozen=True, slots=True)
class Unbound:
    """A field that stands for nothing: why, and where names that come near are to be found."""

    what: str
    expected: str = ""
    near: tuple[str, frozenset[str]] | None = None


@dataclass(frozen=True, slots=True)
class Bindable:
    """A field that can be put into a line, with what it says now."""

    field: str
    label: str
    shown: str


_SPARSE: Final = frozenset({
    "name", "room", "area", "maker", "price", "allowance", "quote", "quantity", "lead time", "order day", "site day",
    "warranty",
})  # fmt: skip
"""Not offered for each thing: it is said of the room, or of the product and finish that the thing bears."""


def bindable(figures: Figures, space: str) -> tuple[Bindable, ...]:
    """Return the fields of a room, of what stands in it and opens on it, of its decisions, and of the household."""
    room = figures.project.space(space)
    found: dict[str, Bindable] = {}

    def offer(words: str, label: str) -> None:
        bound = figures.bound(words)
        if isinstance(bound, Bound) and bound.value is not None and f"{{{words}}}" not in found:
            found[f"{{{words}}}"] = Bindable(f"{{{words}}}", label, bound.shown)

    for subject in _subjects(figures.index, space):
        called = _shortest(figures.index, subject)
        for attribute in ATTRIBUTES:
            get = attribute.of.get(subject.sort)
            if get is None or (subject.sort == "thing" and _spared(attribute.words, subject)):
                continue
            if (value := get(figures.index, subject)) is not None and _says(value):
                offer(f"{attribute.words} of {called}", f"{attribute.words} of {subject.called}")
    for one in COUNTED:
        count = count_in(figures.index, one, space)
        if count is not None and count.amount and one != "room":
            words = f"number of {plural(one)} in {_shortest(figures.index, Subject('room', room))}"
            offer(words, f"number of {plural(one)}")
    for finding in figures.findings:
        if finding.space == space and finding.measured is not None:
            offer(f"measured of {finding.id}", f"{finding.title}: measured")
            offer(f"asked of {finding.id}", f"{finding.title}: asked")
    for phrase, (_, says) in PHRASES.items():
        offer(phrase, says)
    return tuple(found.values())


def _subjects(index: Index, space: str) -> Iterator[Subject]:
    yield from (one for one in index.rooms if one.record.id == space)
    yield from (one for one in index.things if one.record.space == space)
    yield from (one for one in index.openings if space in index.rooms_of(one))
    yield from (Subject("decision", one) for one in index.project.decisions if space in one.spaces)
    here = [one.record for one in index.things if one.record.space == space]
    room = index.project.space(space)
    borne = {*(thing.product for thing in here), *(thing.finish for thing in here), room.floor_finish,
             room.ceiling_finish, *(wall.finish for wall in room.walls)}  # fmt: skip
    yield from (Subject("product", one) for one in index.project.products if one.id in borne)
    yield from (Subject("finish", one) for one in index.project.finishes if one.id in borne)


def _spared(words: str, subject: Subject) -> bool:
    """Tell whether a field of a thing is not offered, such as one of which another says the same."""
    thing = subject.record
    again = (words == "length" and thing.width_mm >= thing.depth_mm) or (words == "top" and thing.bottom_mm == 0)
    return again or words in _SPARSE


def _says(value: Value) -> bool:
    return bool(value.amount) or value.kind != "length"


def _shortest(index: Index, subject: Subject) -> str:
    """Return the shortest words that mean this record and no other: its name, else its id, else its sort and id."""
    record, every = subject.record, frozenset({"thing", "opening", "wall", "room", "product", "finish"})
    if subject.sort == "decision":
        return f"decision {record.number}"
    name = getattr(record, "name", "")
    for words in (name, record.id, f"{subject.sort} {record.id}"):
        if words and "{" not in words and "}" not in words and "," not in words and len(words) < 80:
            met = index.find(words, every)
            if len(met) == 1 and met[0] == subject:
                return str(words)
    return f"{subject.sort} {record.id}"
