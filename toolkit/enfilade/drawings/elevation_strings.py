"""Dimension strings of an elevation: widths below and above, heights at both ends."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from enfilade.drawings.fronts import Shown
from enfilade.drawings.items import Dimension, Item
from enfilade.drawings.measures import breaks
from enfilade.drawings.part import is_upper
from enfilade.geometry.boxes import Segment
from enfilade.project.spaces import Opening

__all__ = ["BEFORE_CEILING_MM", "PlacedOpening", "elevation_strings"]

PlacedOpening = tuple[Opening, float, float, float, float]
"""An opening on its wall: left and right from the wall's left end, sill and height [mm]."""

BEFORE_CEILING_MM: Final = 300.0
"""Drawn above what stands at a wall when the height of its ceiling is not recorded (own choice)."""

_TELLING_MM: Final = 100.0


def elevation_strings(
    line: Segment, shown: list[Shown], openings: list[PlacedOpening], ceiling: float | None
) -> Iterator[Item]:
    """Yield widths under and over the wall and heights at both ends; `ceiling` is None when it is not known."""
    length = line.length_mm
    skip = ("receptacle", "switch", "light", "extinguisher", "window treatment", "panel")
    solid = [s for s in shown if s.stand.thing.kind not in skip and s.shape.distance_mm < 100.0]
    rows: list[tuple[bool, list[tuple[float, float]]]] = [(False, []), (True, [])]
    for one in solid:
        if one.stand.thing.kind in ("sink", "cooktop", "counter", "peninsula"):
            continue
        rows[is_upper(one.stand.thing)][1].append((one.shape.left_mm, one.shape.right_mm))
    doors = [(left, right) for _, left, right, low, _ in openings if low < 300.0]
    panes = [(left, right) for _, left, right, low, _ in openings if low >= 300.0]
    rows[0][1].extend(doors)
    rows[1][1].extend(panes)
    for upper, spans in rows:
        tier = 1
        y, out = (ceiling or 0.0, (0.0, 1.0)) if upper else (0.0, (0.0, -1.0))
        if upper and not spans:
            continue
        if upper and ceiling is None:
            y = max([2000.0, *(s.shape.top_mm for s in shown)]) + BEFORE_CEILING_MM
        parts = breaks(spans, length)
        for each in ([parts] if len(parts) > 1 else []) + ([] if upper else [(length,)]):
            yield Dimension(
                role="dimension",
                weight="dimension",
                start=(0.0, y),
                direction=(1.0, 0.0),
                outward=out,
                parts_mm=each,
                tier=tier,
            )
            tier += 1
    top = ceiling if ceiling is not None else max([s.shape.top_mm for s in solid], default=0.0)
    if top <= 0:
        return
    half = length / 2
    left_side = [s for s in solid if min(s.shape.right_mm, half) - max(s.shape.left_mm, 0.0) > _TELLING_MM]
    right_side = [s for s in solid if min(s.shape.right_mm, length) - max(s.shape.left_mm, half) > _TELLING_MM]
    strings = [(0.0, (-1.0, 0.0), _heights(left_side, openings, 0, half, top))]
    strings.append((length, (1.0, 0.0), _heights(right_side, openings, half, length, top)))
    for x, out, parts in strings:
        rows_here = ([parts] if len(parts) > 1 else []) + ([(top,)] if x == 0.0 else [])
        for number, each in enumerate(rows_here, 1):
            yield Dimension(
                role="dimension",
                weight="dimension",
                start=(x, 0.0),
                direction=(0.0, 1.0),
                outward=out,
                parts_mm=each,
                tier=number,
            )


def _heights(
    shown: list[Shown], openings: list[PlacedOpening], left: float, right: float, top: float
) -> tuple[float, ...]:
    """Return the parts of the height at which tops and undersides lie on one side of the wall."""
    spans = [
        (s.shape.bottom_mm, s.shape.top_mm)
        for s in shown
        if s.stand.thing.kind not in ("sink", "cooktop", "dishwasher")
    ]
    spans += [(low, low + high) for _, a, b, low, high in openings if left <= (a + b) / 2 <= right]
    return breaks(spans, top)
