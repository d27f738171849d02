"""The same need, or the same subject, found again in other projects."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

__all__ = ["LIKE", "LIKE_NUMBERED", "Matched", "matched"]

LIKE: Final = 75.0
"""So alike are two texts that speak of the same, of 100 (token sort ratio; own choice)."""
LIKE_NUMBERED: Final = 60.0
"""So alike are two texts of the same number."""
_MOST: Final = 2000
_LONGEST: Final = 400


@dataclass(frozen=True)
class Matched:
    """A record that may be found again elsewhere."""

    project: str
    id: str
    number: int
    text: str


def matched(each: Sequence[Sequence[Matched]]) -> list[list[Matched | None]]:
    """Return the records of several projects in rows of what is the same, in the order in which they first stand.

    Versions of one project are matched by id alone; others by their texts, more easily where their numbers agree.

    Args:
        each: The records of each column; of over 2,000, the first so many.
    """
    rows: list[list[Matched | None]] = []
    for place, column in enumerate(each):
        taken, found = set[int](), set[int]()
        for _, row, one in sorted(_scores(rows, column[:_MOST]), key=lambda score: (-score[0], score[1], score[2])):
            if row not in taken and one not in found:
                taken.add(row)
                found.add(one)
                rows[row][place] = column[one]
        for n, one_left in enumerate(column[:_MOST]):
            if n not in found:
                rows.append([one_left if at == place else None for at in range(len(each))])
    return rows


def _scores(rows: Sequence[Sequence[Matched | None]], column: Sequence[Matched]) -> list[tuple[float, int, int]]:
    """Return how alike a row and a record are, for those that are alike enough."""
    if not rows or not column:
        return []
    import numpy as np
    from rapidfuzz import fuzz, process, utils

    standing = [(row, one) for row, cells in enumerate(rows) for one in cells if one is not None]
    shown = [
        [utils.default_process(one.text[:_LONGEST]) for one in side] for side in ([s for _, s in standing], column)
    ]
    ratios = process.cdist(shown[0], shown[1], scorer=fuzz.token_sort_ratio, score_cutoff=LIKE_NUMBERED, workers=1)
    found = []
    places = {(one.project, one.id): at for at, (_, one) in enumerate(standing)}
    for n, one in enumerate(column):
        if (at := places.get((one.project, one.id))) is not None:
            found.append((200.0, standing[at][0], n))
    for at, n in np.argwhere(ratios >= LIKE_NUMBERED):
        row, other = standing[at]
        one, score = column[n], float(ratios[at, n])
        if other.project == one.project or not shown[1][n]:
            continue
        same_number = other.number == one.number
        if score >= (LIKE_NUMBERED if same_number else LIKE):
            found.append((score + (10.0 if same_number else 0.0), row, int(n)))
    return found
