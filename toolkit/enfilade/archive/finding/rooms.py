"""Versions read for the names of their rooms and for plans; those that were read last stay at hand."""

from __future__ import annotations

from collections import OrderedDict
from typing import TYPE_CHECKING, Final
from weakref import WeakKeyDictionary

from enfilade.errors import EnfiladeError
from enfilade.lengths import System
from enfilade.project.project import Project

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["project_of", "rooms_of", "units_of"]

_MOST: Final = 40
_READ: WeakKeyDictionary[Store, OrderedDict[tuple[str, int], Project]] = WeakKeyDictionary()


def project_of(store: Store, project: str, version: int) -> Project:
    """Return a version as a project.

    Raises:
        NotFound: There is none, or no longer.
        BadRecord: What the archive holds of it is damaged.
    """
    kept = _READ.setdefault(store, OrderedDict())
    key = project, version
    if key not in kept:
        kept[key] = store.project(project, version)
        while len(kept) > _MOST:
            kept.popitem(last=False)
    kept.move_to_end(key)
    return kept[key]


def rooms_of(store: Store, project: str, version: int) -> dict[str, str]:
    """Return the names of a version's rooms by their ids; none where it cannot be read."""
    try:
        return {space.id: space.name for space in project_of(store, project, version).spaces}
    except EnfiladeError:
        return {}


def units_of(store: Store, project: str, version: int) -> System | None:
    """Return the units that a version shows; None where it cannot be read."""
    try:
        return project_of(store, project, version).show.units
    except EnfiladeError:
        return None
