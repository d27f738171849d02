"""Who works where: one work triangle for each cook."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

from enfilade.checks.beside import CENTRES
from enfilade.checks.layout import Centre, CentreKind, Layout
from enfilade.project.appliances import Refrigerator

__all__ = ["SIDES", "Cook", "cooks", "holds_food", "missing_centres"]

SIDES: Final[tuple[CentreKind, ...]] = ("cooking", "sink", "cold")


@dataclass(frozen=True)
class Cook:
    """One cook, counted from 1, and the three centres at which this cook works.

    Attributes:
        number: From 1.
        centres: Cooking, sink, cold.
        shares: Kinds of centres that another cook uses too.
    """

    number: int
    centres: tuple[Centre, Centre, Centre]
    shares: tuple[CentreKind, ...] = ()

    @property
    def points(self) -> tuple[tuple[float, float], ...]:
        """Return the centre fronts: cooking, sink, cold."""
        return tuple(centre.point for centre in self.centres)

    @property
    def sum_mm(self) -> float:
        """Return the three straight distances together [mm]."""
        return _sum(self.centres)


def missing_centres(found: Layout, space: str) -> tuple[str, ...]:
    """Return the centres that a space lacks, such as `kitchen: a refrigerator`."""
    return tuple(f"{space}: {CENTRES[kind]}" for kind in SIDES if not _fit(found, kind))


def _fit(found: Layout, kind: CentreKind) -> list[Centre]:
    return [centre for centre in found.centres_of(kind) if holds_food(centre)]


def holds_food(centre: Centre) -> bool:
    """Tell whether one cooks at a centre; a wine cooler holds no food."""
    thing = centre.stand.thing
    return not (isinstance(thing, Refrigerator) and thing.holds == "wine")


def cooks(found: Layout, together: int) -> list[Cook]:
    """Return the cooks of a space, each with a triangle; none when a kind of centre is missing.

    The first cook has the primary centres. Each further one takes centres that nobody has yet, of every kind
    of which there are some left, and shares the rest; among them those that make the shortest triangle.
    """
    of_kind = {kind: _fit(found, kind) for kind in SIDES}
    if not all(of_kind.values()):
        return []
    taken: dict[CentreKind, set[str]] = {kind: set() for kind in SIDES}
    result: list[Cook] = []
    for number in range(1, max(1, together) + 1):
        choices: list[Sequence[Centre]] = []
        shares: list[CentreKind] = []
        for kind in SIDES:
            free = [centre for centre in of_kind[kind] if centre.stand.id not in taken[kind]]
            if number == 1:
                free = free[:1]
            elif not free:
                shares.append(kind)
            choices.append(free or of_kind[kind])
        cooking, sink, cold = min(product(*choices), key=_sum)
        for kind, centre in zip(SIDES, (cooking, sink, cold), strict=True):
            taken[kind].add(centre.stand.id)
        result.append(Cook(number, (cooking, sink, cold), tuple(shares)))
    return result


def _sum(centres: Sequence[Centre]) -> float:
    a, b, c = (centre.point for centre in centres)
    # Rounded, so that a tie is settled by the order of the record wherever the house stands.
    return round(math.dist(a, b) + math.dist(b, c) + math.dist(c, a), 3)
