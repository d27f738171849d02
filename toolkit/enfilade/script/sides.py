"""Sizes that are said together, `12 by 14 feet`, and the sides of a room or thing that they are."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations
from typing import Final

from enfilade.script.figures import Figures
from enfilade.script.index import Subject
from enfilade.script.mentions import Held, figures_of
from enfilade.script.typed import Typed, with_unit_of
from enfilade.script.typed_numbers import Token

__all__ = ["grouped", "sides_that_fit"]

_BY: Final = frozenset({"by", "x", "×"})
_MOST: Final = 3
_SIDES: Final[dict[str, frozenset[str]]] = {
    "room": frozenset({"width", "length", "ceiling"}), "thing": frozenset({"width", "depth", "height"}),
    "opening": frozenset({"width", "height"}),
}  # fmt: skip


def grouped(typed: Sequence[Typed], tokens: Sequence[Token]) -> tuple[tuple[Typed, ...], ...]:
    """Return figures with those that are joined to them by `by`; a number without a unit takes that of the next."""
    groups: list[list[Typed]] = []
    for one in typed:
        joined = groups and len(groups[-1]) < _MOST and _joined(groups[-1][-1], one, tokens)
        groups[-1].append(one) if joined else groups.append([one])
    return tuple(part for group in groups for part in _with_units(group))


def _joined(before: Typed, after: Typed, tokens: Sequence[Token]) -> bool:
    return after.first == before.last + 2 and tokens[before.last + 1].word in _BY


def _with_units(group: list[Typed]) -> list[tuple[Typed, ...]]:
    """Return a group as sides when its last figure is a length and all before it can be; else each by itself."""
    last = group[-1]
    if last.kind != "length" or any(one.kind not in ("number", "length") for one in group):
        return [(one,) for one in group]
    return [tuple(one if one.kind == "length" else with_unit_of(one, last) for one in group)]


def sides_that_fit(
    figures: Figures, subjects: Sequence[Subject], ranges: Sequence[tuple[float, float]]
) -> tuple[list[Held | None], list[Held]]:
    """Return for each range [mm] the side that lies in it, each another side of one record, and that record's sides.

    Of several records it is the one of which most sides fit; the first of them when as many do.
    """
    best: tuple[list[Held | None], list[Held]] = ([None] * len(ranges), [])
    for subject in subjects:
        sides = _sides(figures, subject)
        if not sides:
            continue
        fitting = max(_ways(sides, ranges), key=_count)
        if not best[1] or _count(fitting) > _count(best[0]):
            best = fitting, sides
    return best


def _count(fitting: Sequence[Held | None]) -> int:
    return sum(one is not None for one in fitting)


def _ways(sides: Sequence[Held], ranges: Sequence[tuple[float, float]]) -> list[list[Held | None]]:
    padded: list[Held | None] = [*sides, *[None] * len(ranges)]
    return [
        [side if side is not None and low <= float(side.value.amount) <= high else None  # type: ignore[arg-type]
         for side, (low, high) in zip(way, ranges, strict=True)]
        for way in permutations(padded, len(ranges))
    ]  # fmt: skip


def _sides(figures: Figures, subject: Subject) -> list[Held]:
    wanted = _SIDES.get(subject.sort, frozenset())
    found = [one for one in figures_of(figures, [subject], "length") if one.attribute in wanted]
    kept = {(id(one.subject.record), one.attribute): one for one in reversed(found)}
    walls = [one for one in found if one.subject.sort == "wall" and one.attribute == "length"]
    own = [one for one in kept.values() if one.subject.sort != "wall"]
    angled = subject.sort == "room" and len(subject.record.outline) > 4  # it has more sides than its longest two
    return [*reversed(own), *(walls[:6] if angled else [])]
