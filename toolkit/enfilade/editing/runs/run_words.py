"""The words and the widths of runs: what may be typed, and in which widths cabinets are made."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from importlib import resources
from typing import Any, Final, Literal

from enfilade.errors import BadRecord, Fault
from enfilade.lengths import INCH_MM, System
from enfilade.project.kinds_meant import OTHER_WORDS, kinds_meant
from enfilade.project.things import KINDS

__all__ = ["Row", "RunWidths", "RunWord", "read_run_data", "run_widths", "run_word", "run_words", "words_meant"]

Row = Literal["lower", "upper"]
"""A run on the floor, or one hung on the wall."""

_KEYS: Final = {"word", "row", "kind", "set_in", "fields", "also"}
_UNIT_MM: Final = {"in": INCH_MM, "mm": 1.0}
_NUMBERS: Final = ("step", "least_filler", "most_filler", "most_change", "margin")


@dataclass(frozen=True, slots=True)
class RunWord:
    """What a word in a run means.

    Attributes:
        word: The trade's word for it.
        row: `lower` or `upper`.
        kind: What is laid; empty for a space that is left open.
        set_in: What is set in it, or in the counter over it; empty for nothing.
        fields: Further fields of the record.
        also: Other words for it.
    """

    word: str
    row: Row
    kind: str
    set_in: str = ""
    fields: Mapping[str, Any] = field(default_factory=dict)
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RunWidths:
    """Widths of cabinets [mm].

    Attributes:
        stock_mm: Those that cabinets are made in, in order.
        step_mm: By which a cabinet is made wider or narrower to fit.
        least_filler_mm, most_filler_mm: Between which a filler is cut.
        most_change_mm: By no more than this is one cabinet changed to make a run fit.
        margin_mm: What the cabinet of a sink is wider than the sink.
    """

    stock_mm: tuple[float, ...]
    step_mm: float
    least_filler_mm: float
    most_filler_mm: float
    most_change_mm: float
    margin_mm: float


def run_words(row: Row) -> tuple[RunWord, ...]:
    """Return the words of a row, in the order of the table."""
    return tuple(word for word in _data()[0] if word.row == row)


def run_word(said: str, row: Row) -> RunWord | None:
    """Return what a word means in a row; None when it means nothing, or several things.

    >>> run_word("Sink base", "lower").set_in
    'sink'
    """
    plain = _plain(said)
    words = run_words(row)
    for word in words:
        if plain == word.word or plain in word.also:
            return word
    # A plain word that can only mean one kind means it, whatever stands before it: `gas range`.
    if not {plain, plain.rpartition(" ")[2]} & (KINDS.keys() | OTHER_WORDS.keys()):
        return None
    kinds = kinds_meant(plain)
    plainly = (word for word in words if kinds == (word.kind,) and not (word.set_in or word.fields))
    return next(plainly, None)


def words_meant(said: str, row: Row) -> tuple[str, ...]:
    """Return the words that a word may have meant, the likeliest first; none when no word is near.

    >>> words_meant("dishwaser", "lower"), words_meant("stove", "lower")
    (('dishwasher',), ('range', 'cooktop cabinet'))
    """
    words = run_words(row)
    by_kind = [word for kind in kinds_meant(said) for word in words if kind in (word.kind, word.set_in)]
    first = [word for word in by_kind if word.set_in in kinds_meant(said) or not (word.set_in or word.fields)]
    if first:
        return tuple(dict.fromkeys(word.word for word in first))
    if _plain(said) in KINDS:
        return ()
    known = {name: word.word for word in words for name in (word.word, *word.also)}
    near = difflib.get_close_matches(_plain(said), known, n=3, cutoff=0.65)
    return tuple(dict.fromkeys(known[name] for name in near))


def run_widths(system: System) -> RunWidths:
    """Return the widths of one system of measures."""
    return _data()[1][system]


def _plain(said: str) -> str:
    return " ".join(said[:60].lower().replace("_", " ").split())


_Data = tuple[tuple[RunWord, ...], Mapping[System, RunWidths]]


@lru_cache(maxsize=1)
def _data() -> _Data:
    return read_run_data((resources.files(__package__) / "data" / "runs.toml").read_text("utf-8"))


def read_run_data(text: str) -> _Data:
    """Read the table of words and widths.

    Raises:
        BadRecord: Every fault: an unknown kind, a word twice in a row, widths that are not above 0 and in order.
    """
    file = "runs.toml"
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadRecord(file, [Fault("text", str(error), "TOML")]) from error
    faults = [*_word_faults(data), *_width_faults(data)]
    if faults:
        raise BadRecord(file, faults)
    words = tuple(RunWord(**{**row, "also": tuple(row.get("also", ()))}) for row in data["word"])
    widths: dict[System, RunWidths] = {}
    for system in ("us", "metric"):
        row = data["widths"][system]
        unit_mm = _UNIT_MM[row["unit"]]
        numbers = (round(row[name] * unit_mm, 6) for name in _NUMBERS)
        widths[system] = RunWidths(tuple(round(one * unit_mm, 6) for one in row["stock"]), *numbers)
    return words, widths


def _word_faults(data: Mapping[str, Any]) -> Iterator[Fault]:
    seen: set[tuple[str, str]] = set()
    for number, row in enumerate(data.get("word", []), 1):
        place = f"word {number} ({row.get('word', '?')})"
        if wrong := (set(row) - _KEYS) | ({"word", "row", "kind"} - set(row)):
            yield Fault(place, f"has or lacks {', '.join(sorted(wrong))}", ", ".join(sorted(_KEYS)))
            continue
        if row["row"] not in ("lower", "upper"):
            yield Fault(place, f"row is {row['row']!r}", "lower or upper")
        for kind in (row["kind"], row.get("set_in", "")):
            if kind and kind not in KINDS:
                yield Fault(place, f"{kind!r} is no kind", ", ".join(KINDS))
        for said in (row["word"], *row.get("also", ())):
            if (row["row"], said) in seen:
                yield Fault(place, f"{said!r} is there already", "each word once in a row")
            seen.add((row["row"], said))
    if not seen:
        yield Fault("word", "has no words", "at least one")


def _width_faults(data: Mapping[str, Any]) -> Iterator[Fault]:
    for system in ("us", "metric"):
        row = data.get("widths", {}).get(system, {})
        stock = row.get("stock", [])
        if row.get("unit") not in _UNIT_MM or not stock or sorted(set(stock)) != stock or stock[0] <= 0:
            yield Fault(f"widths {system}", "has no unit, or widths out of order", "widths above 0, in order")
        if not all(isinstance(row.get(name), int | float) and row[name] > 0 for name in _NUMBERS):
            yield Fault(f"widths {system}", "lacks a number", ", ".join(_NUMBERS))
