"""What a line is about: what it names, what it shows, and the figures that the record holds of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from enfilade.project.speaking import SpokenLine
from enfilade.project.surfaces import Surface
from enfilade.script.attributes import ATTRIBUTES
from enfilade.script.counting import plural
from enfilade.script.figures import Figures
from enfilade.script.index import Index, Subject, bare, plain
from enfilade.script.value import Kind, Value

__all__ = ["Held", "figures_of", "named_in", "names_in", "shown_by"]


@dataclass(frozen=True, slots=True)
class Held:
    """A figure that the record holds of something."""

    subject: Subject
    attribute: str
    value: Value


def figures_of(figures: Figures, subjects: Iterable[Subject], kind: Kind) -> list[Held]:
    """Return every figure of one kind that the record holds of some records."""
    found = []
    for subject in subjects:
        for attribute in ATTRIBUTES:
            get = attribute.of.get(subject.sort)
            value = None if get is None else get(figures.index, subject)
            if value is not None and value.kind == kind:
                found.append(Held(subject, attribute.words, value))
        found += _more(figures, subject, kind)
    return found


def _more(figures: Figures, subject: Subject, kind: Kind) -> Iterator[Held]:
    """Yield what has no attribute of its own: a thing's sizes seen another way, walls, leaves, options."""
    record = subject.record
    if kind == "length" and subject.sort == "thing":
        yield Held(subject, "height", Value("length", record.top_mm - record.bottom_mm))
        for row in getattr(record, "seating", ()):
            if row.length_mm is not None:
                yield Held(subject, "length", Value("length", row.length_mm))
        for side in ("front", "back", "left", "right") if isinstance(record, Surface) else ():
            if record.overhang.on(side) > 0:
                yield Held(subject, "overhang", Value("length", record.overhang.on(side)))
    elif kind == "length" and subject.sort == "room":
        for wall in record.walls:
            yield from figures_of(figures, [Subject("wall", wall)], "length")
    elif kind == "money" and subject.sort == "decision":
        for option in record.options:
            if option.cost is not None:
                yield Held(subject, "cost", Value("money", option.cost, currency=figures.project.show.currency))


def shown_by(figures: Figures, line: SpokenLine, room: str | None) -> list[Subject]:
    """Return what a line shows and tells of: its things, its decisions, and what its shot is of."""
    index = figures.index
    ids = {*line.things, *(line.shot.subjects if line.shot else ())}
    found = [one for one in (*index.things, *index.openings) if one.record.id in ids]
    wanted = set(line.decisions)
    return found + [Subject("decision", one) for one in index.project.decisions if one.id in wanted]


def named_in(figures: Figures, text: str, room: str | None) -> list[Subject]:
    """Return what a sentence names: things and openings of its room by their names or by what they are, and rooms."""
    called: dict[str, list[Subject]] = {}
    for subject in _nameable(figures.index, room):
        for word in _words(subject):
            called.setdefault(word, []).append(subject)
    found: list[Subject] = []
    for word in names_in(text, sorted(called, key=len, reverse=True)):
        found += [one for one in called[word] if one not in found]
    return found


def names_in(text: str, names: Iterable[str]) -> Iterator[str]:
    """Yield the names that a text says, each as `plain` gives it.

    A longer name is looked for before a shorter one: a `sink window` is no sink, a `river counter` not every counter.

    Args:
        text: The text, without its fields.
        names: What is looked for, the longest first.
    """
    said = f" {bare(text)} "
    for name in names:
        if f" {name} " in said:
            said = said.replace(f" {name} ", " | ")
            yield name


def _nameable(index: Index, room: str | None) -> Iterator[Subject]:
    yield from (one for one in index.things if room is None or one.record.space == room)
    yield from (one for one in index.openings if room is None or room in index.rooms_of(one))
    yield from index.rooms


def _words(subject: Subject) -> tuple[str, ...]:
    record: Any = subject.record
    if subject.sort == "room":
        return (plain(record.name),) if record.name else ()
    kinds = [word for word in (record.kind, getattr(record, "what", "")) if word]
    if subject.sort == "opening" or record.kind.endswith((" cabinet", " shelf")):
        kinds.append(record.kind.split()[-1])
    words = [record.name, *kinds, *(plural(kind) for kind in kinds)]
    return tuple(plain(word) for word in words if word)
