"""A guard against slips of unit and of typing: sizes that no such thing has."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import permutations
from math import log
from typing import Final

from enfilade.checks.beside import counted
from enfilade.checks.kept import Kept
from enfilade.checks.registry import check
from enfilade.checks.rooms import least_side
from enfilade.checks.shown import names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.outlines import polygon_of
from enfilade.lengths import FOOT_MM, INCH_MM
from enfilade.project.spaces import Space
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["Reading", "plausible_sizes", "readings"]

_THINGS: Final = (
    "counter", "island", "peninsula", "base cabinet", "wall cabinet", "tall cabinet", "sink", "cooktop", "range",
    "oven", "microwave", "refrigerator", "dishwasher", "hood", "table", "seat",
)  # fmt: skip
_OPENINGS: Final = {
    "door": "door", "cased opening": "door", "sliding door": "door", "pocket door": "door",
    "window": "window", "skylight": "window", "pass-through": "window",
}  # fmt: skip
_UNIT_MM: Final = {"mm": 1.0, "in": INCH_MM, "ft": FOOT_MM, "m": 1000.0}
_WORDS: Final = {"mm": "millimetres", "in": "inches", "ft": "feet", "m": "metres"}
_TYPED_DIGITS: Final = 4
"""Digits of a number that is typed, noughts at either end left out (our own choice)."""
_MANY: Final = 3
"""From so many sizes of one room that fit in one other unit, the record as a whole is in question (our own choice)."""


@dataclass(frozen=True)
class _Size:
    """One recorded size: of what, and the row that bounds it."""

    id: str
    row: Row
    what: str
    value_mm: float
    marks: tuple[Mark, ...]
    assumed: tuple[str, ...] = ()

    @cached_property
    def likely(self) -> bool:
        return self.row.requirement.met_by(Quantity(self.value_mm, "mm"))


_SIZES: Final = Kept[tuple[_Size, ...]](512)
_SIDES: Final = Kept[float](256)


@dataclass(frozen=True)
class Reading:
    """A number as it may have been typed, and the unit that was meant.

    Attributes:
        number: The number that was typed, in unit `typed`.
        meant: The unit in which it is a usual size.
        value_mm: That size [mm].
    """

    number: float
    typed: str
    meant: str
    value_mm: float


@check(reads={*_THINGS, "openings"})
def plausible_sizes(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold width, depth and height of things, openings and the room against bounds that no such thing passes.

    One finding tells that all sizes of a room are likely; else each that is not is told by itself, with the
    unit in which its number would be. What has an unusual size on purpose is told too: nobody can know.
    """
    if not rules.has("R7"):
        return
    sizes = [*_of_things(view, rules), *_of_openings(view, rules), *_of_room(view, rules)]
    odd = [size for size in sizes if not size.likely]
    if not odd:
        yield rules.row("R7").finding(
            space=view.space.id,
            subjects=(view.space.id,),
            measured=Quantity(0, "count"),
            working=(f"{counted(len(sizes), 'size')} looked at, each one that such a thing has",),
        )
        return
    found = [(size, readings(size.row, size.value_mm)) for size in odd]
    together = _together([likely for _, likely in found])
    for size, likely in found:
        yield size.row.finding(
            space=view.space.id,
            subjects=(size.id,),
            measured=Quantity(size.value_mm, "mm"),
            working=(f"{_called(view, size.id)}: {_question(size, likely)}", *together),
            marks=size.marks,
            assumed=size.assumed,
        )


def _called(view: View, id: str) -> str:
    return view.space.name if id == view.space.id else names(view).one(id)


def readings(row: Row, value_mm: float) -> tuple[Reading, ...]:
    """Return the other units in which a number would lie within a row's bounds, the likeliest first.

    Likeliest is the shortest number, then the one nearest to the middle of the bounds. Nobody types 0.328084 ft:
    what has more than four digits is left out, but for millimetres where nothing else is left.

    Args:
        row: With a low and a high value.
        value_mm: The size as it was read [mm].
    """
    found = []
    middle = (row.low_mm * row.high_mm) ** 0.5
    for typed, meant in permutations(_UNIT_MM, 2):
        number = round(value_mm / _UNIT_MM[typed], 6)
        other_mm = number * _UNIT_MM[meant]
        if row.low_mm <= other_mm <= row.high_mm:
            found.append(Reading(number, typed, meant, other_mm))
    short = [one for one in found if _digits(one.number) <= _TYPED_DIGITS]
    found = short or [one for one in found if one.typed == "mm"]
    return tuple(sorted(found, key=lambda one: (_digits(one.number), abs(log(one.value_mm / middle)), one.meant)))


def _digits(number: float) -> int:
    return len(f"{number:f}".replace(".", "").strip("0"))


def _number(value: float) -> str:
    return f"{value:,.10g}"


def _question(size: _Size, likely: Sequence[Reading]) -> str:
    if not likely:
        return f"{size.what} {_number(size.value_mm)} mm; in no unit is this a size that such a thing has"
    first = likely[0]
    read = f"{_number(first.number)} {first.typed}" + (
        "" if first.typed == "mm" else f" ({_number(round(size.value_mm))} mm)"
    )
    meant = [one for one in likely if one.typed == first.typed and one.number == first.number]
    return f"{size.what} {read}; did you mean {' or '.join(map(_shown, meant))}?"


def _shown(one: Reading) -> str:
    return f"{_number(one.number)} {one.meant}" + ("" if one.meant == "mm" else f" ({_number(round(one.value_mm))} mm)")


def _together(found: Sequence[Sequence[Reading]]) -> tuple[str, ...]:
    """Return what several slips of one kind say of the whole record."""
    kinds = Counter((likely[0].typed, likely[0].meant) for likely in found if likely)
    return tuple(
        f"{many} sizes of this room fit when read as {_WORDS[meant]}, not as {_WORDS[typed]}: "
        f"the whole record may be in {_WORDS[meant]}"
        for (typed, meant), many in kinds.most_common(1)
        if many >= _MANY
    )


def _of_things(view: View, rules: Yardstick) -> Iterator[_Size]:
    for stand in view.things(*_THINGS):
        yield from _SIZES.get((stand, rules), partial(_of_thing, stand, rules))


def _of_thing(stand: Stand, rules: Yardstick) -> tuple[_Size, ...]:
    thing = stand.thing
    marks = (Mark("point", ((stand.box.x, stand.box.y),)),)
    return tuple(
        _Size(
            stand.id, rules.row("R7", f"{thing.kind} {what}"), what, getattr(thing, field), marks, thing.assumed(field)
        )
        for what, field in (("width", "width_mm"), ("depth", "depth_mm"), ("top", "top_mm"))
        if rules.has("R7", f"{thing.kind} {what}")
    )


def _of_openings(view: View, rules: Yardstick) -> Iterator[_Size]:
    for door in view.doorways():
        opening = door.opening
        if opening is None:
            continue
        marks = (Mark("measure", (door.segment.a, door.segment.b)),)
        for what, value in (("width", opening.width_mm), ("height", opening.height_mm)):
            part = f"{_OPENINGS[opening.kind]} {what}"
            if rules.has("R7", part):
                assumed = (f"{door.id}.{what}_mm",) if opening.basis == "assumed" else ()
                yield _Size(door.id, rules.row("R7", part), what, value, marks, assumed)


def _of_room(view: View, rules: Yardstick) -> Iterator[_Size]:
    space = view.space
    side_mm = _SIDES.get((space,), partial(_least_side_mm, space))
    for what, value in (("least side", round(side_mm, 3)), ("ceiling height", space.ceiling_mm)):
        if value is not None and rules.has("R7", f"room {what}"):
            yield _Size(space.id, rules.row("R7", f"room {what}"), what, value, ())


def _least_side_mm(space: Space) -> float:
    return least_side(polygon_of(space.outline).buffer(0.5, join_style="mitre"))[0]
