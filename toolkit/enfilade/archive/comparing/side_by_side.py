"""Projects and versions held side by side: rooms, counts, verdicts, finishes, costs, and what was chosen."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from enfilade.archive.changing import told_between
from enfilade.archive.comparing.choices import choice_tables
from enfilade.archive.comparing.columns import Column, columns_of
from enfilade.archive.comparing.comparison import Comparison
from enfilade.archive.comparing.costs import cost_table
from enfilade.archive.comparing.counted import count_tables
from enfilade.archive.comparing.finishes import finish_table
from enfilade.archive.comparing.rooms import room_table
from enfilade.archive.comparing.verdicts import verdict_tables
from enfilade.errors import Refused
from enfilade.listing import joined
from enfilade.project.project import Project
from enfilade.walkthrough.pages import Table

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["FEWEST", "MOST", "compare"]

FEWEST: Final = 2
MOST: Final = 6
_UNITS: Final = {"us": "feet and inches, square feet", "metric": "millimetres, square metres"}


def compare(
    texts: Sequence[str | Path | Project],
    store: Store | None = None,
    progress: Callable[[str], None] = lambda _: None,
) -> Comparison:
    """Return two to six projects or versions side by side, in the units that the first of them shows.

    Args:
        texts: Each a project's folder or its `project.json`, `ID` (its newest version in the archive), `ID@3` (that
            version), the path of a project box, or a project at hand.
        store: The archive in which ids are looked up.
        progress: Hears what is being done.
    Raises:
        Refused: Fewer than two or more than six, or an id without an archive.
        NotFound: There is no such project or version.
        BadRecord: What one of them holds cannot be read.
    """
    texts = [texts] if isinstance(texts, str | Path | Project) else list(texts)
    if not FEWEST <= len(texts) <= MOST:
        raise Refused(f"{len(texts)} to compare", expected=f"{FEWEST} to {MOST} projects or versions")
    columns = columns_of(texts, store, progress)
    progress("comparing")
    tables: list[Table] = [
        room_table(columns), *count_tables(columns), *verdict_tables(columns), finish_table(columns),
        cost_table(columns), *choice_tables(columns),
    ]  # fmt: skip
    heads = tuple(column.head for column in columns)
    shown = tuple(table for table in tables if table.rows)
    between, changes = _changes(columns)
    return Comparison(heads, shown, tuple(_notes(columns)), changes, between)


def _changes(columns: Sequence[Column]) -> tuple[str, tuple[str, ...]]:
    """Return what changed from the oldest to the newest column, where all are states of one house, and its heading."""
    if len({column.project.id for column in columns}) > 1:
        return "", ()
    in_order = sorted(columns, key=lambda one: math.inf if one.number is None else one.number)
    first, last = in_order[0], in_order[-1]
    changes = told_between(first.state, last.state)
    return (f"What changed from {first.head} to {last.head}", changes) if changes else ("", ())


def _notes(columns: Sequence[Column]) -> Iterator[str]:
    first = columns[0]
    yield f"Sizes are told in the units of the first column: {_UNITS[first.project.show.units]}."
    rules = [column.state.rules for column in columns]
    if len({one.name for one in rules}) > 1:
        each = "; ".join(f"{column.head}: {column.state.rules.title}" for column in columns)
        yield f"They are held against different sets of rules, so that verdicts do not compare one to one. {each}."
    if len({one.house_rules for one in rules}) > 1:
        own = joined([column.head for column in columns if column.state.rules.house_rules])
        yield f"The studio's house rules differ among them, or stand with some alone: {own}."
    currencies = list(dict.fromkeys(column.project.show.currency for column in columns))
    if len(currencies) > 1:
        named = joined([one or "no currency named" for one in currencies])
        yield f"Costs are in different currencies ({named}); none is converted."
    if stages := _differing([column.project.show.stage for column in columns], columns):
        yield f"They are at different stages: {stages}."
    kept = [column.head for column in columns if column.kept]
    if kept and len(kept) < len(columns):
        yield f"Verdicts are those that were kept with {joined(kept)}; of the others, those of today's rules."


def _differing(values: Sequence[str], columns: Sequence[Column]) -> str:
    if len(set(values)) < 2:
        return ""
    return joined([f"{column.head}: {value}" for column, value in zip(columns, values, strict=True)])
