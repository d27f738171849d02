"""Drawings at the standard scales of drawing practice, chosen by the room that there is on the paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.drawings.items import Scene
from enfilade.drawings.laid import extent
from enfilade.drawings.svg import SCALES, scale_words, svg_and_names
from enfilade.lengths import INCH_MM, System

__all__ = ["Scaled", "drawn", "fits", "in_order", "largest_scale", "scales_of"]

_PX_PER_MM: Final = 96 / INCH_MM
_MARGIN_MM: Final = 24.0 / _PX_PER_MM
"""Round a drawing, as `svg` leaves it on every side."""
_LARGEST: Final = 20.0
"""Rooms are drawn no larger than 1:20 or 1/2 in to the foot (common practice, no source)."""


@dataclass(frozen=True)
class Scaled:
    """A drawing as it is printed.

    Attributes:
        svg: The drawing.
        names: What its numbers and letters stand for.
        words: Its scale in words.
    """

    svg: str
    names: tuple[tuple[str, str], ...]
    words: str


def scales_of(system: System, largest: float = _LARGEST) -> tuple[str, ...]:
    """Return the scales of a system of units, the largest first."""
    return tuple(name for name, times in SCALES.items() if (":" in name) == (system == "metric") and times >= largest)


def fits(scene: Scene, scale: str, widest_mm: float, highest_mm: float) -> tuple[float, float] | None:
    """Return the width and height of a drawing at a scale, with its margin [mm]; None when it is too large."""
    x0, y0, x1, y1 = extent(scene, _PX_PER_MM / SCALES[scale], scene.system)
    wide, high = (x1 - x0) / _PX_PER_MM + 2 * _MARGIN_MM, (y1 - y0) / _PX_PER_MM + 2 * _MARGIN_MM
    return (wide, high) if wide <= widest_mm and high <= highest_mm else None


def largest_scale(scenes: Sequence[Scene], names: Sequence[str], widest_mm: float, highest_mm: float) -> str | None:
    """Return the first of some scales at which each of the drawings fits; None when there is none."""
    return next((name for name in names if all(fits(one, name, widest_mm, highest_mm) for one in scenes)), None)


def drawn(scene: Scene, scale: str | None, widest_mm: float) -> Scaled:
    """Return a drawing at a scale; without one, fitted to a width."""
    if scale is None:
        svg, names = svg_and_names(scene, widest_mm * _PX_PER_MM)
        return Scaled(svg, names, "drawn to fit")
    svg, names = svg_and_names(scene, scale=scale)
    return Scaled(svg, names, scale_words(scale))


def in_order(names: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """Return what numbers and letters stand for, `K-2` before `K-10`, and single letters after."""
    return sorted(names, key=_natural)


def _natural(entry: tuple[str, str]) -> tuple[str, int, str]:
    head, _, tail = entry[0].rpartition("-")
    return (head or "\uffff", int(tail), "") if tail.isdigit() else ("\uffff", len(tail), tail)
