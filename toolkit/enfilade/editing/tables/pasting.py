"""A block that is pasted into a schedule: with headings of its own, or from one cell to the right and down."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from enfilade.editing.tables.cells import plain_text
from enfilade.editing.tables.grids import Cell, Grid, gridded, rows_of_text
from enfilade.editing.tables.headings import matched
from enfilade.editing.tables.schedules import Schedule
from enfilade.editing.tables.table_files import unguarded
from enfilade.project.project import Project

__all__ = ["grid_of_block"]

_ID: Final = "Id"


def grid_of_block(
    project: Project, schedule: Schedule, text: str, keys: Sequence[str] = (), ids: Sequence[str] = ()
) -> Grid:
    """Return the grid of a pasted block.

    A first row is taken for headings when at least half of its cells are understood. Otherwise, where a cell is said,
    the block fills that cell and those to its right and below.

    Args:
        project: The house.
        schedule: The table that is read into.
        text: The block.
        keys: Keys of the columns from that cell to the right, in their order.
        ids: Ids of the records from that cell down, in their order; rows beyond them are new.
    Raises:
        Refused: It is too large, or empty.
    """
    rows = [(number, [_plain(cell) for cell in cells]) for number, cells in rows_of_text(text)]
    first = next((cells for _, cells in rows if any(plain_text(cell).strip() for cell in cells)), [])
    if not keys or _are_headings(project, schedule, first):
        return gridded(rows)
    while rows and not any(plain_text(cell).strip() for cell in rows[-1][1]):
        rows.pop()
    columns = [schedule.column(key).heading for key in keys]
    width = min(max((len(cells) for _, cells in rows), default=0), len(columns))
    wider = any(plain_text(cell).strip() for _, cells in rows for cell in cells[width:])
    head: list[Cell] = [*columns[:width], _ID]
    placed: list[tuple[int, list[Cell]]] = [(0, head)]
    for place, (_, cells) in enumerate(rows):
        here = [*cells[:width], *[None] * (width - len(cells))]
        if any(plain_text(cell).strip() for cell in here):
            placed.append((place + 1, [*here, ids[place] if place < len(ids) else None]))
    notes = [f"What stands to the right of \u201c{columns[-1]}\u201d is left."] if wider else []
    return gridded(placed, notes)


def _are_headings(project: Project, schedule: Schedule, cells: Sequence[Cell]) -> bool:
    said = [text for cell in cells if (text := plain_text(cell).strip())]
    found = matched(schedule, said, project.show.currency)
    return 2 * sum(one.column is not None for one in found) >= len(said) > 0


def _plain(cell: Cell) -> Cell:
    return unguarded(cell) if isinstance(cell, str) else cell
