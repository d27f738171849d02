"""Text on slides: measured, made smaller or carried over to a further slide, so that none runs over its frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from enfilade.drawings.writing import folded, text_width
from enfilade.export.office.text import plain, shortened

__all__ = ["Block", "columns_on_slides", "title_fit"]

_WIDER: Final = 1.06
"""What stands in for the face on another machine may be wider than what text is measured by."""
_PITCH: Final = 1.25
_SCALES: Final = (1.0, 0.9, 0.8)
_LEAST_PT: Final = 10.5
_MOST_SIGNS: Final = 1500
_CUT: Final = " \u2026 (the rest stands in the document)"
_TITLE_SIZES: Final = (28.0, 24.0, 20.0, 17.0, 14.0)
_INDENT_PT: Final = 14.0


@dataclass(frozen=True)
class Block:
    """One paragraph of a slide; sizes in points.

    Attributes:
        text: What it says.
        size: Size of the text.
        bold: It is set in the heavier weight.
        tone: `ink`, `accent` or `grey`.
        before: Space over it.
        bullet: It is an item of a list.
        with_next: It does not stand alone at the foot of a slide.
    """

    text: str
    size: float = 18.0
    bold: bool = False
    tone: str = "ink"
    before: float = 0.0
    bullet: bool = False
    with_next: bool = False

    @property
    def pitch(self) -> float:
        """Return the distance of its lines."""
        return self.size * _PITCH

    def lines(self, width: float) -> list[str]:
        """Return its lines in a frame of a width."""
        room = width - (_INDENT_PT if self.bullet else 0.0)
        return folded(self.text, room / _WIDER / (1.03 if self.bold else 1.0), self.size) or [""]

    def height(self, width: float) -> float:
        """Return how high it stands, the space over it included."""
        return self.before + self.pitch * len(self.lines(width))


def _clean(blocks: Sequence[Block]) -> list[Block]:
    cleaned = (replace(one, text=shortened(plain(one.text).strip(), _MOST_SIGNS, _CUT)) for one in blocks)
    return [one for one in cleaned if one.text]


def columns_on_slides(
    columns: Sequence[Sequence[Block]], widths: Sequence[float], height: float
) -> list[list[list[Block]]]:
    """Return what stands in each column on each of as many slides as it takes.

    Args:
        columns: What is to be told, column by column.
        widths: Width of each column [pt].
        height: Height of all of them [pt].
    Returns:
        Slides of columns of blocks; one slide of empty columns when there is nothing to tell.
    """
    cleaned = [_clean(column) for column in columns]
    for scale in _SCALES:
        scaled = [[_scaled(one, scale) for one in column] for column in cleaned]
        if all(_height(column, width) <= height for column, width in zip(scaled, widths, strict=True)):
            return [scaled]
    scaled = [[_scaled(one, _SCALES[1]) for one in column] for column in cleaned]
    split = [_split(column, width, height) for column, width in zip(scaled, widths, strict=True)]
    longest = max(map(len, split))
    return [[parts[n] if n < len(parts) else [] for parts in split] for n in range(longest)]


def _scaled(block: Block, scale: float) -> Block:
    size = max(min(block.size, _LEAST_PT), round(block.size * scale * 2) / 2)
    return replace(block, size=size, before=block.before * scale)


def _height(column: Sequence[Block], width: float) -> float:
    return sum(one.height(width) for one in column)


def _split(column: Sequence[Block], width: float, height: float) -> list[list[Block]]:
    """Split a column into frames; a paragraph that is too long goes on in the next frame."""
    frames: list[list[Block]] = [[]]
    left = height
    waiting = list(column)
    while waiting:
        block = waiting.pop(0)
        if not frames[-1]:
            block = replace(block, before=0.0)
        needs = block.height(width)
        if block.with_next and waiting:
            needs += min(waiting[0].height(width), waiting[0].before + 2 * waiting[0].pitch)
        if needs <= left:
            frames[-1].append(block)
            left -= block.height(width)
            continue
        if frames[-1] and (block.with_next or block.height(width) <= height / 2):
            frames.append([])
            left = height
            waiting.insert(0, block)
            continue
        lines = block.lines(width)
        fit = int((left - block.before) // block.pitch)
        if fit < 1 and frames[-1]:
            frames.append([])
            left = height
            waiting.insert(0, block)
            continue
        fit = max(fit, 1)
        frames[-1].append(replace(block, text=" ".join(lines[:fit]), with_next=False))
        if lines[fit:]:
            waiting.insert(0, replace(block, text=" ".join(lines[fit:]), before=0.0))
        frames.append([])
        left = height
    return [frame for frame in frames if frame] or [[]]


def title_fit(text: str, width: float, height: float) -> tuple[str, float]:
    """Return a title as it fits into its frame, and its size [pt]; the longest are cut.

    Args:
        text: The title.
        width: Of the frame [pt].
        height: Of the frame [pt].
    """
    text = shortened(plain(text).strip(), 600)
    for size in _TITLE_SIZES:
        lines = folded(text, width / _WIDER / 1.09, size)
        if len(lines) * size * 1.1 <= height:
            return text, size
    size = _TITLE_SIZES[-1]
    most = max(1, int(height // (size * 1.1)))
    kept = " ".join(folded(text, width / _WIDER / 1.09, size)[:most])
    while text_width(kept + "\u2026", size, True) > most * width / _WIDER and len(kept) > 1:
        kept = kept[: -max(1, len(kept) // 20)]
    return kept.rstrip() + "\u2026", size
