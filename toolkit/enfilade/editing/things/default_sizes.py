"""Generic sizes that a thing or an opening has until somebody measures it; whatever has them is marked as assumed."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Any, Final, Literal, get_args

from enfilade.editing.quoting import quoted
from enfilade.errors import BadRecord, Fault, NotFound, OutOfRange
from enfilade.lengths import INCH_MM, System
from enfilade.project.spaces import Opening
from enfilade.project.things import KINDS

__all__ = [
    "COMMON_PRACTICE",
    "OPENING_KINDS",
    "OpeningSize",
    "Size",
    "Stands",
    "default_opening",
    "default_size",
    "read_default_sizes",
    "seats_sized",
    "stands_at_first",
    "variants",
]

Stands = Literal[
    "wall", "floor", "in a counter", "on a counter", "under a counter", "in a tall cabinet", "above cooking",
    "out from a wall", "at a window", "ceiling",
]  # fmt: skip
"""Where a new thing of a kind is put."""

COMMON_PRACTICE: Final = "common practice, no source"
OPENING_KINDS: Final[tuple[str, ...]] = get_args(Opening.model_fields["kind"].annotation)

_UNIT_MM: Final[dict[System, float]] = {"us": INCH_MM, "metric": 1.0}
_KEYS: Final = {"kind", "what", "seats", "stands", "us", "metric", "us_source", "metric_source"}


@dataclass(frozen=True, slots=True)
class Size:
    """Width, depth and heights above the finished floor [mm], and where they come from."""

    width_mm: float
    depth_mm: float
    bottom_mm: float
    top_mm: float
    source: str = COMMON_PRACTICE


@dataclass(frozen=True, slots=True)
class OpeningSize:
    """Width, height, and finished floor to the lower edge [mm], and where they come from."""

    width_mm: float
    height_mm: float
    sill_mm: float
    source: str = COMMON_PRACTICE


@dataclass(frozen=True, slots=True)
class _Table:
    things: Mapping[tuple[str, str, int, System], Size]
    openings: Mapping[tuple[str, System], OpeningSize]
    stands: Mapping[str, Stands]


def default_size(kind: str, system: System, *, what: str = "", seats: int = 0) -> Size:
    """Return what a thing of a kind measures by default.

    Args:
        kind: As the records name it.
        system: `us` or `metric`: each has round sizes of its own.
        what: Which seat or fixture (`stool`, `tub` ...); empty, or one without sizes of its own, for the usual one.
        seats: People at a table; the next larger size is taken. 0 for the usual one.
    Raises:
        NotFound: No such kind.
        OutOfRange: More seats than the largest table has, or fewer than none.

    >>> default_size("counter", "us").top_mm
    914.4
    """
    table = _sizes()
    if kind not in KINDS:
        raise NotFound(f"{quoted(kind)} is no kind of thing", expected=", ".join(KINDS))
    if seats:
        sized = seats_sized(kind)
        fits = [number for number in sized if number >= seats > 0]
        if not fits:
            takes = f"1 to {sized[-1]}" if sized else "a kind with seats"
            raise OutOfRange(f"{seats} people at one {kind}", expected=takes)
        return table.things[kind, "", fits[0], system]
    return table.things.get((kind, what, 0, system)) or table.things[kind, "", 0, system]


def seats_sized(kind: str) -> tuple[int, ...]:
    """Return for how many people there are sizes of a kind, in order."""
    return tuple(sorted({seats for named, _, seats, _ in _sizes().things if named == kind and seats}))


def variants(kind: str) -> tuple[str, ...]:
    """Return what of a kind has sizes of its own, such as `stool`, in the order of the table."""
    return tuple(dict.fromkeys(what for named, what, _, _ in _sizes().things if named == kind and what))


def default_opening(kind: str, system: System) -> OpeningSize:
    """Return what an opening of a kind measures by default.

    Raises:
        NotFound: No such kind.
    """
    found = _sizes().openings.get((kind, system))
    if found is None:
        raise NotFound(f"{quoted(kind)} is no kind of opening", expected=", ".join(OPENING_KINDS))
    return found


def stands_at_first(kind: str) -> Stands:
    """Return where a new thing of a kind is put.

    Raises:
        NotFound: No such kind.
    """
    found = _sizes().stands.get(kind)
    if found is None:
        raise NotFound(f"{quoted(kind)} is no kind of thing", expected=", ".join(KINDS))
    return found


@lru_cache(maxsize=1)
def _sizes() -> _Table:
    text = (resources.files(__package__) / "data" / "default_sizes.toml").read_text("utf-8")
    return read_default_sizes(text)


def read_default_sizes(text: str) -> _Table:
    """Read the table of default sizes.

    Raises:
        BadRecord: Every fault: a kind that is missing or unknown, a size twice, numbers that cannot be.
    """
    file = "default_sizes.toml"
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadRecord(file, [Fault("text", str(error), "TOML")]) from error
    faults: list[Fault] = []
    things: dict[tuple[str, str, int, System], Size] = {}
    openings: dict[tuple[str, System], OpeningSize] = {}
    stands: dict[str, Stands] = {}
    for group, known, count in (("thing", tuple(KINDS), 4), ("opening", OPENING_KINDS, 3)):
        for number, row in enumerate(data.get(group, []), 1):
            place = f"{group} {number} ({row.get('kind', '?')})"
            wrong = list(_faults(row, known, count, group == "thing"))
            faults += [Fault(place, what, expected) for what, expected in wrong]
            if wrong:
                continue
            kind, key = row["kind"], (row["kind"], row.get("what", ""), row.get("seats", 0))
            for system, unit_mm in _UNIT_MM.items():
                source = row.get(f"{system}_source", COMMON_PRACTICE)
                sizes: list[float] = [round(value * unit_mm, 6) for value in row[system]]
                if (*key, system) in things or (kind, system) in openings:
                    faults.append(Fault(place, "is there already", "each size once"))
                elif group == "thing":
                    things[(*key, system)] = Size(sizes[0], sizes[1], sizes[2], sizes[3], source)
                else:
                    openings[kind, system] = OpeningSize(sizes[0], sizes[1], sizes[2], source)
            if "stands" in row:
                stands[kind] = row["stands"]
    faults += [Fault(kind, "has no size", "a row of its own") for kind in KINDS if (kind, "", 0, "us") not in things]
    faults += [Fault(kind, "has no size", "a row of its own") for kind in OPENING_KINDS if (kind, "us") not in openings]
    faults += [Fault(kind, "does not say where it stands", "`stands`") for kind in KINDS if kind not in stands]
    if faults:
        raise BadRecord(file, faults)
    return _Table(things, openings, stands)


def _faults(row: Mapping[str, Any], known: tuple[str, ...], count: int, thing: bool) -> Iterator[tuple[str, str]]:
    if unknown := set(row) - _KEYS:
        yield f"has {', '.join(sorted(unknown))}", ", ".join(sorted(_KEYS))
    if row.get("kind") not in known:
        yield f"kind is {row.get('kind')!r}", ", ".join(known)
    if "stands" in row and row["stands"] not in get_args(Stands):
        yield f"stands is {row['stands']!r}", ", ".join(get_args(Stands))
    for system in _UNIT_MM:
        sizes = row.get(system)
        if not (isinstance(sizes, list) and len(sizes) == count and all(map(_is_number, sizes))):
            yield f"{system} is {sizes!r}", f"{count} numbers, 0 or more"
        elif not (sizes[0] > 0 and sizes[1] > 0 and (not thing or sizes[3] > sizes[2])):
            yield f"{system} is {sizes!r}", "sizes above 0, and a top above the bottom"


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value) and value >= 0
