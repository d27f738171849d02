"""Drawings at the standard scales of drawing practice, chosen by the room that there is on the paper."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.drawings.items import Scene
from enfilade.drawings.laid import extent
from enfilade.drawings.svg import SCALES, scale_words, svg_and_names
from enfilade.lengths import INCH_MM, System
from enfilade.listing import tag_order

__all__ = ["Scaled", "drawn", "fits", "in_order", "largest_scale", "scales_of", "trimmed"]

_PX_PER_MM: Final = 96 / INCH_MM
_MARGIN_MM: Final = 24.0 / _PX_PER_MM
"""Round a drawing, as `svg` leaves it on every side."""
_TRIM_MM: Final = _MARGIN_MM - 0.25
"""Cut off on every side of a drawing that is to stand level with text."""
_ROOT: Final = re.compile(
    r'<svg\b([^>]*?) width="([\d.]+)(mm)?" height="([\d.]+)(?:mm)?" viewBox="0 0 ([\d.]+) ([\d.]+)"'
)
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


def fits(
    scene: Scene, scale: str, widest_mm: float, highest_mm: float, *, trim: bool = False
) -> tuple[float, float] | None:
    """Return the width and height of a drawing at a scale [mm], with its margin or trimmed; None if it is too large."""
    x0, y0, x1, y1 = extent(scene, _PX_PER_MM / SCALES[scale], scene.system)
    margins = 2 * (_MARGIN_MM - _TRIM_MM if trim else _MARGIN_MM)
    wide, high = (x1 - x0) / _PX_PER_MM + margins, (y1 - y0) / _PX_PER_MM + margins
    return (wide, high) if wide <= widest_mm and high <= highest_mm else None


def largest_scale(
    scenes: Sequence[Scene], names: Sequence[str], widest_mm: float, highest_mm: float, *, trim: bool = False
) -> str | None:
    """Return the first of some scales at which each of the drawings fits; None when there is none."""

    def all_fit(name: str) -> bool:
        return all(fits(one, name, widest_mm, highest_mm, trim=trim) for one in scenes)

    return next((name for name in names if all_fit(name)), None)


def trimmed(svg: str) -> str:
    """Return a drawing without the blank margin round it, its lines as large as they were."""

    def cut(root: re.Match[str]) -> str:
        unit, edge = root[3] or "", _TRIM_MM * _PX_PER_MM
        wide, high = (float(root[n]) - 2 * (_TRIM_MM if unit else edge) for n in (2, 4))
        across, down = (float(root[n]) - 2 * edge for n in (5, 6))
        box = f"{edge:.2f} {edge:.2f} {across:.2f} {down:.2f}"
        return f'<svg{root[1]} width="{wide:.2f}{unit}" height="{high:.2f}{unit}" viewBox="{box}"'

    return _ROOT.sub(cut, svg, count=1)


def drawn(scene: Scene, scale: str | None, widest_mm: float) -> Scaled:
    """Return a drawing at a scale; without one, fitted to a width."""
    if scale is None:
        svg, names = svg_and_names(scene, widest_mm * _PX_PER_MM)
        return Scaled(svg, names, "drawn to fit")
    svg, names = svg_and_names(scene, scale=scale)
    return Scaled(svg, names, scale_words(scale))


def in_order(names: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """Return what numbers and letters stand for, `K-2` before `K-10`, and single letters after."""
    return sorted(names, key=tag_order)
