"""Which records of an earlier telling are which of today's, where their ids were changed to hide a name."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["is_changed", "same_records"]

_CHANGED: Final = re.compile(r"((?:[a-z0-9-]*-)?private(?:-[a-z0-9-]+)?)-\d+")
_LISTS: Final = ("spaces", "openings", "things", "products", "finishes", "decisions", "answers", "photographs")
_MOST: Final = 200
"""Of so many records whose changed ids differ in their number alone, the likest are looked for."""


def is_changed(id: str) -> bool:
    """Tell whether an id may have been changed to hide a name."""
    return _CHANGED.fullmatch(id) is not None


def same_records(earlier: Project, told: Project) -> dict[str, str]:
    """Return for each changed id of an earlier telling the one by which the same record goes now.

    Changed ids are numbered, and the numbers move when a record comes or goes. Records that read alike are the same; of
    those that do not, the ones that share most fields. Those in lists of the project are compared.
    """
    same: dict[str, str] = {}
    for name in _LISTS:
        before, now = (_by_base(getattr(project, name)) for project in (earlier, told))
        for base, records in before.items():
            same.update(_paired(records, now.get(base, [])))
    return same


def _by_base(records: tuple[Record, ...]) -> dict[str, list[Record]]:
    found: dict[str, list[Record]] = {}
    for record in records:
        if changed := _CHANGED.fullmatch(_id(record)):
            found.setdefault(changed[1], []).append(record)
    return found


def _paired(before: list[Record], now: list[Record]) -> Iterator[tuple[str, str]]:
    if len(before) * len(now) > _MOST**2:
        return
    left = list(now)
    likest = sorted(
        ((-_alike(a, b), i, j) for i, a in enumerate(before) for j, b in enumerate(left)), key=lambda one: one
    )
    done: set[tuple[str, int]] = set()
    for _, i, j in likest:
        if ("before", i) not in done and ("now", j) not in done:
            done |= {("before", i), ("now", j)}
            yield _id(before[i]), _id(left[j])
    for i, record in enumerate(before):
        if ("before", i) not in done:  # it is gone, and must not be taken for another
            yield _id(record), f"{_id(record)}-gone"[-64:]


def _alike(a: Record, b: Record) -> int:
    """Return how many fields of two records are the same; a name counts most."""
    names = type(a).model_fields.keys() - {"id"}
    return sum(5 if name in ("name", "title") else 1 for name in names if getattr(a, name) == getattr(b, name))


def _id(record: Record) -> str:
    return str(getattr(record, "id", ""))
