"""The cabinets and appliances of a run with their sizes, each where it stands along its wall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from enfilade.editing.runs.reading_runs import RunItem
from enfilade.editing.runs.run_stretches import End
from enfilade.editing.runs.run_words import Row
from enfilade.editing.things.default_sizes import Size, default_size
from enfilade.editing.things.house import House
from enfilade.editing.things.stretches import Stretch
from enfilade.lengths import System
from enfilade.project.project import Project

__all__ = ["STRIPS", "Unit", "run_units"]

STRIPS: Final = {"filler", "panel"}
"""Kinds that hold nothing, and are as high and as deep as what is beside them."""


@dataclass(frozen=True, slots=True)
class Unit:
    """An item of a run with its size, and where it stands from the wall's left end [mm]."""

    item: RunItem
    kind: str
    left_mm: float
    size: Size

    @property
    def right_mm(self) -> float:
        return round(self.left_mm + self.size.width_mm, 6)


def run_units(
    project: Project, stretch: Stretch, items: Sequence[RunItem], from_end: End = "left", row: Row = "lower"
) -> Iterator[Unit]:
    """Yield each item of a run with its size and place, in the order in which it was typed; spaces are left out."""
    system = project.show.units
    at_mm = stretch.start_mm if from_end == "left" else stretch.end_mm
    ceiling_mm = House(project).owner(stretch.wall).ceiling_mm
    for index, item in enumerate(items):
        left_mm = at_mm if from_end == "left" else at_mm - item.width_mm
        at_mm = at_mm + item.width_mm if from_end == "left" else left_mm
        if item.word.kind:
            size = _size(items, index, system, row, ceiling_mm)
            yield Unit(item, item.word.kind, round(left_mm, 6), size)


def _size(items: Sequence[RunItem], index: int, system: System, row: Row, ceiling_mm: float | None) -> Size:
    item = items[index]
    size = default_size(item.word.kind, system)
    like = _like(items, index, row) if item.word.kind in STRIPS else None
    if like is not None:
        other = default_size(like, system)
        size = replace(size, depth_mm=other.depth_mm, bottom_mm=other.bottom_mm, top_mm=other.top_mm)
    elif row == "upper" and item.word.kind == "microwave":
        # It hangs level with the cabinets beside it.
        low_mm = default_size("wall cabinet", system).bottom_mm
        size = replace(size, bottom_mm=low_mm, top_mm=low_mm + size.top_mm - size.bottom_mm)
    top_mm = size.top_mm if ceiling_mm is None else max(min(size.top_mm, ceiling_mm), size.bottom_mm + 1.0)
    return replace(size, width_mm=item.width_mm, top_mm=top_mm)


def _like(items: Sequence[RunItem], index: int, row: Row) -> str:
    """Return the kind whose height and depth a filler or panel shares: a tall neighbour's, else those of its row.

    A panel is as high as the higher of its neighbours; a filler only between, or beyond, what is tall.
    """
    if row == "upper":
        return "wall cabinet"
    beside = [items[i].word.kind for i in (index - 1, index + 1) if 0 <= i < len(items)]
    tall = [kind == "tall cabinet" or (kind == "refrigerator" and items[index].word.kind == "panel") for kind in beside]
    if items[index].word.kind == "panel":
        return "tall cabinet" if any(tall) else "base cabinet"
    return "tall cabinet" if tall and all(tall) else "base cabinet"
