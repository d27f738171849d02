"""What to do with what is left over in a run, or with what is too much: ways in words, and the text each comes to."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.editing.runs.reading_runs import RunItem, typed_item
from enfilade.editing.runs.run_stretches import End
from enfilade.editing.runs.run_words import Row, run_widths, run_word, run_words
from enfilade.editing.things.steps import STEPS_MM
from enfilade.editing.things.stretches import Stretch
from enfilade.lengths import TOLERANCE_MM, System, show_size

__all__ = ["Proposal", "left_over_words", "proposals", "run_left_over"]

_MOST: Final = 3
_CABINETS: Final = {"base cabinet", "wall cabinet", "tall cabinet"}


@dataclass(frozen=True, slots=True)
class Proposal:
    """One way: what it does in words, the text that it comes to, and what is then left over [mm]."""

    words: str
    text: str
    left_over_mm: float


def run_left_over(stretch: Stretch, items: Sequence[RunItem]) -> float:
    """Return what a run leaves of its stretch [mm]; below 0 when it is too long."""
    return round(stretch.length_mm - math.fsum(item.width_mm for item in items), 6)


def left_over_words(left_mm: float, system: System) -> str:
    """Return in words what is left over, or too much.

    >>> left_over_words(76.2, "us"), left_over_words(0.0, "us"), left_over_words(-25.4, "us")
    ('3" is left over', 'nothing is left over', '1" too long')
    """
    if abs(left_mm) <= TOLERANCE_MM:
        return "nothing is left over"
    if left_mm < 0:
        return f"{show_size(-left_mm, system)} too long"
    return f"{show_size(left_mm, system)} is left over"


def proposals(
    text: str, items: Sequence[RunItem], stretch: Stretch, system: System, from_end: End = "left", row: Row = "lower"
) -> tuple[Proposal, ...]:
    """Return ways to use what is left over, or to make a run fit that is too long; none when it fits.

    Fillers make it fit exactly. Another width or one more cabinet may leave something for a filler.

    Args:
        text: What was typed, and `items` what was read of it.
        stretch: Where the run goes.
        from_end: The end of the wall at which the first item stands.
    Source: widths and steps are common practice, without a source, in `data/runs.toml`.
    """
    left_mm = run_left_over(stretch, items)
    if not items or abs(left_mm) <= TOLERANCE_MM:
        return ()
    run = _Run(text, items, stretch, system, from_end, row, left_mm)
    return tuple(run.to_fill() if left_mm > 0 else run.to_fit())


@dataclass(frozen=True)
class _Run:
    text: str
    items: Sequence[RunItem]
    stretch: Stretch
    system: System
    from_end: End
    row: Row
    left_mm: float

    def to_fill(self) -> Iterator[Proposal]:
        widths = run_widths(self.system)
        if self.left_mm <= widths.most_filler_mm + TOLERANCE_MM and self.left_mm >= widths.least_filler_mm:
            for end in self._ends():
                yield self._filled(end)
        if 2 * widths.least_filler_mm <= self.left_mm <= 2 * widths.most_filler_mm + TOLERANCE_MM:
            yield self._split()
        by_mm = (self.left_mm + TOLERANCE_MM) // widths.step_mm * widths.step_mm
        if 0 < by_mm <= widths.most_change_mm + TOLERANCE_MM:
            for item in self._cabinets()[:_MOST]:
                if item.width_mm + by_mm <= widths.stock_mm[-1] + TOLERANCE_MM:
                    yield self._resized(item, item.width_mm + by_mm)
        fitting = [width for width in widths.stock_mm if width <= self.left_mm + TOLERANCE_MM]
        if fitting:
            usual = typed_item(fitting[-1], run_words(self.row)[0], self.system)
            words = f"One more cabinet, {self._size(fitting[-1])} wide, at the {self._far} end"
            yield self._proposal(words, self._added(usual, self._far), self.left_mm - fitting[-1])

    def to_fit(self) -> Iterator[Proposal]:
        widths, over_mm = run_widths(self.system), -self.left_mm
        fillers = [item for item in self.items if item.word.kind == "filler"]
        for item in fillers:
            rest_mm = item.width_mm - over_mm
            if rest_mm >= widths.least_filler_mm:
                yield self._resized(item, rest_mm)
            elif rest_mm >= -TOLERANCE_MM:
                yield self._left_out(item)
        by_mm = math.ceil((over_mm - TOLERANCE_MM) / widths.step_mm) * widths.step_mm
        least_mm = widths.stock_mm[0] if by_mm <= widths.most_change_mm + TOLERANCE_MM else math.inf
        narrower = [item for item in self._cabinets() if item.width_mm - by_mm >= least_mm - TOLERANCE_MM]
        for item in narrower[::-1][:_MOST]:
            yield self._resized(item, item.width_mm - by_mm)
        enough = [item for item in self._cabinets() if item.width_mm >= over_mm - TOLERANCE_MM]
        if enough:
            yield self._left_out(min(enough, key=lambda item: item.width_mm))

    @property
    def _far(self) -> End:
        return "right" if self.from_end == "left" else "left"

    def _ends(self) -> tuple[End, End]:
        """Return both ends, the one by a corner first: a filler there keeps doors and drawers clear of it."""
        in_corner = {"left": self.stretch.left_what, "right": self.stretch.right_what}
        ends: tuple[End, End] = (self._far, self.from_end)
        return ends if in_corner[ends[0]] in ("corner", "other") else (ends[1], ends[0])

    def _cabinets(self) -> list[RunItem]:
        """Return the cabinets, the narrowest first; those for a sink or a corner come last."""
        found = [item for item in self.items if item.word.kind in _CABINETS]
        return sorted(found, key=lambda item: (bool(item.word.set_in or item.word.fields), item.width_mm, item.number))

    def _filled(self, end: End) -> Proposal:
        words = f"A filler of {self._size(self.left_mm)} at the {end} end, {self._beside(end)}"
        return self._proposal(words, self._added(self._filler(self.left_mm), end), 0.0)

    def _split(self) -> Proposal:
        step_mm = STEPS_MM[self.system]["fine"]
        half_mm = round((self.left_mm / 2 + 1e-6) // step_mm * step_mm, 6)
        other_mm = round(self.left_mm - half_mm, 6)
        near, far = (self._filler(width) for width in (half_mm, other_mm))
        sizes = dict.fromkeys((self._size(half_mm), self._size(other_mm)))
        words = f"A filler at each end, {' and '.join(sizes)}"
        return self._proposal(words, f"{near}, {self._kept()}, {far}", 0.0)

    def _resized(self, item: RunItem, width_mm: float) -> Proposal:
        width_mm = round(width_mm, 6)
        way = "wider" if width_mm > item.width_mm else "narrower"
        words = f"{self._called(item)} {way}: {self._size(width_mm)}"
        said = typed_item(width_mm, item.word, self.system)
        return self._proposal(words, self._changed(item, said), self.left_mm + item.width_mm - width_mm)

    def _left_out(self, item: RunItem) -> Proposal:
        before, after = self.text[: item.start], self.text[item.end :]
        text = f"{before.rstrip(' ,;')}, {after.lstrip(' ,;')}".strip(" ,;\n")
        return self._proposal(f"{self._called(item)} left out", text, self.left_mm + item.width_mm)

    def _proposal(self, words: str, text: str, left_mm: float) -> Proposal:
        left_mm = round(left_mm, 6)
        rest = f"; {left_over_words(left_mm, self.system)}" if left_mm > TOLERANCE_MM else ""
        return Proposal(words + rest, text, left_mm if abs(left_mm) > TOLERANCE_MM else 0.0)

    def _changed(self, item: RunItem, said: str) -> str:
        return f"{self.text[: item.start]}{said}{self.text[item.end :]}"

    def _kept(self) -> str:
        return self.text.strip(" ,;\n")

    def _added(self, said: str, end: End) -> str:
        return f"{said}, {self._kept()}" if end == self.from_end else f"{self._kept()}, {said}"

    def _filler(self, width_mm: float) -> str:
        word = run_word("filler", self.row)
        assert word is not None
        return typed_item(width_mm, word, self.system)

    def _beside(self, end: End) -> str:
        name = self.stretch.left if end == "left" else self.stretch.right
        return "in the corner" if name == "corner" else f"beside the {name}" if name else "where the stretch ends"

    def _called(self, item: RunItem) -> str:
        return f"No. {item.number}, the {self._size(item.width_mm)} {item.word.word},"

    def _size(self, width_mm: float) -> str:
        return show_size(width_mm, self.system)
