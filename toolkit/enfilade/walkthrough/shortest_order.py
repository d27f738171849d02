"""The order of visits with the least walking: from a first place through all others, open at the end."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt

__all__ = ["EXACT_UP_TO", "shortest_order"]

EXACT_UP_TO: Final = 11
"""Up to so many places every order is weighed; beyond, a good one is looked for."""

Table = npt.NDArray[np.float64]

_NOISE_MM: Final = 1e-6


def shortest_order(table: Sequence[Sequence[float]], *, last: int | None = None) -> list[int]:
    """Return the places in the order with the least walking, beginning with place 0.

    Args:
        table: Distance from each place (row) to each other (column), finite [mm].
        last: A place that is kept for the end.
    Returns:
        Exact up to `EXACT_UP_TO` places (dynamic programming over sets of places, Held and Karp 1962, recalled);
        beyond, the best of several nearest-first orders, improved until neither turning a stretch round nor moving
        one elsewhere shortens it. Of orders that are equally long, always the same one.
    """
    count = len(table)
    if count < 3:
        return list(range(count))
    walked = np.array(table, dtype=np.float64)
    return _exact(walked, last) if count <= EXACT_UP_TO else _good(walked, last)


def _exact(walked: Table, last: int | None) -> list[int]:
    """Weigh every order: the least walk through a set of places that ends at one of them, for growing sets."""
    count = len(walked) - 1  # place 0 is always first, and left out of the sets
    inner = walked[1:, 1:]
    best = np.full((1 << count, count), np.inf)
    for end in range(count):
        best[1 << end, end] = walked[0, end + 1]
    every = (1 << count) - 1
    members = [np.flatnonzero(visited >> np.arange(count) & 1) for visited in range(every + 1)]
    for visited in range(1, every):
        ends, left = members[visited], members[every ^ visited]
        best[visited | 1 << left, left] = (best[visited, ends][:, None] + inner[np.ix_(ends, left)]).min(axis=0)
    visited = every
    end = last - 1 if last else int(np.argmin(best[visited] > best[visited].min() + _NOISE_MM))
    order = [end]
    while visited != 1 << end:
        before = visited ^ (1 << end)
        lengths = best[before] + inner[:, end]
        visited, end = before, int(np.argmin(lengths > lengths.min() + _NOISE_MM))
        order.append(end)
    return [0, *(end + 1 for end in reversed(order))]


def _good(walked: Table, last: int | None) -> list[int]:
    starts = [one for one in range(1, len(walked)) if one != last]
    # From a few second places; all of them would take long in a large house and rarely find better.
    nearest = sorted(starts, key=lambda one: (walked[0, one], one))[:4]
    tours = [_improved(walked, _nearest_first(walked, second, last), last) for second in nearest]
    return min(tours, key=lambda order: _length(walked, order))


def _nearest_first(walked: Table, second: int, last: int | None) -> list[int]:
    order = [0, second]
    left = [one for one in range(1, len(walked)) if one not in (second, last)]
    while left:
        here = order[-1]
        nearest = min(left, key=lambda one: (walked[here, one], one))
        order.append(nearest)
        left.remove(nearest)
    return order if last is None else [*order, last]


def _improved(walked: Table, order: list[int], last: int | None) -> list[int]:
    """Turn the stretch round, or move the one, that gains most, until nothing is gained."""
    end = len(order) - (last is not None)  # what is kept for the end stays there
    while True:
        found = [_turned_round(walked, order, end), *(_moved(walked, order, end, size) for size in (1, 2, 3))]
        gain, better = max(found, key=lambda one: one[0])
        if gain <= _NOISE_MM:
            return order
        order = better


def _edges(walked: Table, order: list[int]) -> tuple[Table, Table]:
    """Return the distances between all places in their order, and each step; after the last there is none to take."""
    open_end = np.pad(walked[np.ix_(order, order)], (0, 1))
    return open_end, np.array([open_end[k, k + 1] for k in range(len(order))])


def _turned_round(walked: Table, order: list[int], end: int) -> tuple[float, list[int]]:
    """Return what is gained by turning one stretch round, and the order then; distances are the same both ways."""
    if end < 3:
        return 0.0, order
    between, step = _edges(walked, order)
    i, j = np.triu_indices(end + 1, 2)  # the stretch goes from i up to but without j
    i, j = i[i > 0], j[i > 0]
    gains = step[i - 1] + step[j - 1] - between[i - 1, j - 1] - between[i, j]
    at = int(np.argmax(gains))
    a, b = int(i[at]), int(j[at])
    return float(gains[at]), order[:a] + order[a:b][::-1] + order[b:]


def _moved(walked: Table, order: list[int], end: int, size: int) -> tuple[float, list[int]]:
    """Return what is gained by moving one stretch of so many places elsewhere, and the order then."""
    if end - 1 <= size:
        return 0.0, order
    between, step = _edges(walked, order)
    i, k = (grid.ravel() for grid in np.meshgrid(np.arange(1, end - size + 1), np.arange(end), indexing="ij"))
    apart = (k < i - 1) | (k >= i + size)  # it goes in between place k and the one after
    i, k = i[apart], k[apart]
    j = i + size
    taken_out = step[i - 1] + step[j - 1] - between[i - 1, j]
    put_in = between[k, i] + between[j - 1, k + 1] - step[k]
    at = int(np.argmax(taken_out - put_in))
    a, to = int(i[at]), int(k[at])
    stretch, rest = order[a : a + size], order[:a] + order[a + size :]
    place = to + 1 if to < a else to + 1 - size
    return float((taken_out - put_in)[at]), rest[:place] + stretch + rest[place:]


def _length(walked: Table, order: list[int]) -> float:
    return float(sum(walked[a, b] for a, b in pairwise(order)))
