"""A run of cabinets and appliances as it is typed: widths and words, in order along the wall."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from enfilade.editing.runs.run_words import Row, RunWord, run_word, run_words, words_meant
from enfilade.editing.things.default_sizes import default_size
from enfilade.errors import EnfiladeError, Refused
from enfilade.lengths import System, parse_length, show_size

__all__ = ["ReadRun", "RunFault", "RunItem", "parse_run", "read_run", "typed_item"]

_LONGEST: Final = 4000
_MOST_ITEMS: Final = 100
_WIDEST_MM: Final = 20_000.0
_PARTS: Final = re.compile(r"[^,;\n]+")
_UNITS: Final = {
    "inches": "in", "inch": "in", "feet": "ft", "foot": "ft", "millimetres": "mm", "millimeters": "mm",
    "centimetres": "cm", "centimeters": "cm", "metres": "m", "meters": "m",
}  # fmt: skip
_LEADS: Final = re.compile(r"[-\u2212]?[\d.]")
# A word that follows a figure or its mark at once: `36sink`, `24"base`.
_STUCK: Final = re.compile(r"(?<=[\d\"'\u2032\u2033\u2019\u201d])(?=[a-z])", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class RunItem:
    """One cabinet or appliance of a run.

    Attributes:
        number: Its place in what was typed, from 1.
        word: What it is.
        width_mm: Along the wall.
        start, end: Where it stands in the typed text.
    """

    number: int
    word: RunWord
    width_mm: float
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class RunFault:
    """Something in a typed run that cannot be read: which item, where in the text, what, and what was expected."""

    number: int
    start: int
    end: int
    what: str
    expected: str = ""

    def __str__(self) -> str:
        return f"{self.what}; expected {self.expected}" if self.expected else self.what


@dataclass(frozen=True, slots=True)
class ReadRun:
    """What was read of a typed run, in order, and what could not be."""

    items: tuple[RunItem, ...]
    faults: tuple[RunFault, ...] = ()


def parse_run(text: str, system: System, row: Row = "lower") -> tuple[RunItem, ...]:
    """Read a typed run: widths and words between commas, such as `36 base, 24 dishwasher, 36 sink, 30 range, 18`.

    Args:
        text: Items in order, parted by commas, semicolons or new lines; in each a width and, before or after it, what
            it is. A width alone is a cabinet.
        system: Units of bare numbers: inches or millimetres.
        row: `lower`, on the floor, or `upper`, hung on the wall.
    Raises:
        Refused: The first thing that cannot be read, with its place and what was expected; or nothing was typed.

    >>> [(item.word.word, item.width_mm) for item in parse_run("sink 36, 24", "us")]
    [('sink cabinet', 914.4), ('base cabinet', 609.6)]
    """
    read = read_run(text, system, row)
    if read.faults:
        fault = read.faults[0]
        raise Refused(fault.what, expected=fault.expected)
    if not read.items:
        raise Refused("no width was typed", expected=_example(system))
    return read.items


def read_run(text: str, system: System, row: Row = "lower") -> ReadRun:
    """Read as much of a typed run as can be read, as `parse_run` does; nothing is raised for what cannot."""
    if len(text) > _LONGEST:
        return ReadRun((), (RunFault(1, _LONGEST, len(text), "this is too long for a run", _example(system)),))
    items: list[RunItem] = []
    faults: list[RunFault] = []
    number = 0
    for match in _PARTS.finditer(text):
        said = match.group().strip()
        if not said:
            continue
        number += 1
        start = match.start() + len(match.group()) - len(match.group().lstrip())
        end = start + len(said)
        if number > _MOST_ITEMS:
            faults.append(RunFault(number, start, end, f"more than {_MOST_ITEMS} in one run", "several runs"))
            break
        try:
            word, width_mm = _item(said, system, row)
            items.append(RunItem(number, word, width_mm, start, end))
        except EnfiladeError as error:
            faults.append(RunFault(number, start, end, f"no. {number}, “{_cut(said)}”: {error.what}", error.expected))
    return ReadRun(tuple(items), tuple(faults))


def typed_item(width_mm: float, word: RunWord, system: System) -> str:
    """Return an item as it is typed, so that it reads back as the same: `36 sink cabinet`.

    >>> typed_item(914.4, run_words("lower")[0], "us")
    '36'
    """
    width = _bare(width_mm, system)
    usual = run_words(word.row)[0]
    return width if word == usual else f"{width} {word.word}"


def _bare(width_mm: float, system: System) -> str:
    if system == "metric":
        return f"{round(width_mm, 6):.12g}"
    shown = show_size(width_mm, "us")
    read = shown.removesuffix('"')
    return read if abs(parse_length(read, bare="in") - width_mm) < 1e-6 else f"{round(width_mm, 6):.12g} mm"


def _item(said: str, system: System, row: Row) -> tuple[RunWord, float]:
    tokens = [_UNITS.get(token.lower(), token) for token in _STUCK.sub(" ", said).split()]
    for width, rest in _splits(tokens):
        width_mm = _length(width, system)
        if width_mm is not None:
            return _word(rest, row), _plausible(width_mm)
    if any(_LEADS.match(token) for token in tokens):
        raise Refused("its width cannot be read", expected=_example(system))
    word = _word(" ".join(tokens), row)
    kind = word.kind or "base cabinet"
    usual = _bare(default_size(kind, system).width_mm, system)
    raise Refused("it has no width", expected=f"a width too, such as {usual} {word.word}")


def _splits(tokens: list[str]) -> Iterator[tuple[str, str]]:
    """Yield ways to part an item into its width and its words, the longest width first, before or after the words."""
    for count in range(len(tokens), 0, -1):
        head, tail = tokens[:count], tokens[count:]
        if _LEADS.match(head[0]):
            yield " ".join(head), " ".join(tail)
        if tail and _LEADS.match(tail[0]):
            yield " ".join(tail), " ".join(head)


def _length(text: str, system: System) -> float | None:
    try:
        return parse_length(text, bare="in" if system == "us" else "mm")
    except EnfiladeError:
        return None


def _plausible(width_mm: float) -> float:
    if not 0 < width_mm <= _WIDEST_MM:
        raise Refused("nothing in a run has this width", expected="a width above 0")
    return width_mm


def _word(said: str, row: Row) -> RunWord:
    if not said:
        return run_words(row)[0]
    if any(_LEADS.match(token) for token in said.split()):
        raise Refused("there are two widths in it", expected="one width, and a comma before the next")
    word = run_word(said, row)
    if word is not None:
        return word
    meant = words_meant(said, row)
    if len(meant) > 1:
        raise Refused(f"“{_cut(said)}” may mean several things", expected=" or ".join(meant))
    if meant:
        raise Refused(f"“{_cut(said)}” is not known here", expected=f"{meant[0]}, if that was meant")
    other: Row = "upper" if row == "lower" else "lower"
    if run_word(said, other) is not None:
        where = "on the wall" if other == "upper" else "on the floor"
        raise Refused(f"“{_cut(said)}” belongs to the run {where}", expected=_known(row))
    raise Refused(f"“{_cut(said)}” is not known here", expected=_known(row))


def _known(row: Row) -> str:
    return ", ".join(word.word for word in run_words(row))


def _example(system: System) -> str:
    return "widths such as 36, 24 dishwasher, 36 sink" if system == "us" else "widths such as 900, 600 dishwasher"


def _cut(said: str) -> str:
    return said if len(said) <= 30 else f"{said[:30]}…"
