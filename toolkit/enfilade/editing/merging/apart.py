"""New records of two windows that were given one id or one number by chance: this window's get others."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from enfilade.editing.forms.field_shape import field_shapes
from enfilade.editing.forms.refers import target_of
from enfilade.editing.merging.three_ways import by_id
from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["NewNames", "new_names", "renamed"]

_LISTS: Final = ("spaces", "openings", "things", "products", "finishes", "decisions", "photographs", "needs", "people")
"""Lists to which two windows may add different records at once. Answers and lines are about one finding or one room:
two of them are not told apart but asked about."""
_LONGEST: Final = 56
_NUMBERED: Final = ("decisions", "needs")


@dataclass(frozen=True)
class NewNames:
    """What this window's new records are called from now on.

    Attributes:
        ids: By list and old id, the new id; walls have a list of their own.
        numbers: By list and new id, the new number.
    """

    ids: Mapping[tuple[str, str], str] = field(default_factory=dict)
    numbers: Mapping[tuple[str, str], int] = field(default_factory=dict)

    def __bool__(self) -> bool:
        return bool(self.ids or self.numbers)


def new_names(base: Project, mine: Project, theirs: Project) -> NewNames:
    """Return other ids and numbers for records that are new here, where another new one has them there."""
    ids: dict[tuple[str, str], str] = {}
    numbers: dict[tuple[str, str], int] = {}
    for name in (*_LISTS, "walls"):
        old, here, there = (_records(one, name) for one in (base, mine, theirs))
        taken = {*here, *there}
        for id in here:
            if id not in old and id in there and here[id] != there[id]:
                ids[name, id] = _next(id, taken)
                taken.add(ids[name, id])
    for name in _NUMBERED:
        numbers |= _numbers(name, ids, *(_records(one, name) for one in (base, mine, theirs)))
    return NewNames(ids, numbers)


def _next(id: str, taken: Container[str]) -> str:
    """Return the next id that is free: `island-2` after `island`, `need-3` after `need-2`."""
    base, _, last = id.rpartition("-")
    base, number = (base, int(last)) if base and last.isdecimal() and len(last) < 6 else (id, 1)
    base = base[:_LONGEST]
    while True:
        number += 1
        if (new := f"{base}-{number}") not in taken:
            return new


def renamed(project: Project, names: NewNames) -> Project:
    """Return a project with new names in all places where the old ones stand; other records stay the same objects."""
    changed = {}
    for name in Project.model_fields:
        value = getattr(project, name)
        new = _renamed(value, name, names)
        if new is not value:
            changed[name] = new
    return project.model_copy(update=changed) if changed else project


def _records(project: Project, name: str) -> dict[str, Any]:
    if name == "needs":
        return by_id(project.brief.needs)
    if name == "people":
        return by_id(project.household.people)
    if name == "walls":
        return {id: wall for id, (_, _, wall) in project.walls_by_id.items()}
    return by_id(getattr(project, name))


def _numbers(
    name: str, ids: Mapping[tuple[str, str], str], old: dict[str, Any], here: dict[str, Any], there: dict[str, Any]
) -> Iterator[tuple[tuple[str, str], int]]:
    # A record that was here before keeps its number; so does one that the other window made as well.
    mine = {id: one for id, one in here.items() if id not in old and (id not in there or (name, id) in ids)}
    taken = {one.number for one in there.values()}
    last = max([*taken, *(one.number for one in here.values())], default=0)
    for id, one in mine.items():
        if one.number in taken:
            last += 1
            yield (name, ids.get((name, id), id)), last


def _renamed(value: Any, name: str, names: NewNames) -> Any:
    if isinstance(value, tuple):
        if value and isinstance(value[0], Record):
            return _same_or(value, tuple(_record(one, name, names) for one in value))
        return value
    return _record(value, name, names) if isinstance(value, Record) else value


def _record(record: Record, name: str, names: NewNames) -> Record:
    changed: dict[str, Any] = {}
    for field_name, shape in field_shapes(type(record)).items():
        value = getattr(record, field_name)
        target = name if field_name == "id" else target_of(field_name)
        if shape.kind in ("ref", "refs"):
            new = _ids(value, target, names)
        elif shape.kind in ("record", "one-of", "records"):
            new = _renamed(value, field_name, names)
        else:
            continue
        if new is not value:
            changed[field_name] = new
    if (number := names.numbers.get((name, changed.get("id", getattr(record, "id", ""))))) is not None:
        changed["number"] = number
    return record.model_copy(update=changed) if changed else record


def _ids(value: Any, target: str, names: NewNames) -> Any:
    if isinstance(value, tuple):
        return _same_or(value, tuple(_ids(one, target, names) for one in value))
    if not isinstance(value, str):
        return value
    if target in ("findings", "finding"):
        return _in_finding(value, names)
    return names.ids.get((target, value), value)


def _in_finding(finding: str, names: NewNames) -> str:
    """Return a finding's id with the new names of what it is about."""
    about = {old: new for (name, old), new in names.ids.items() if name in ("spaces", "walls", "openings", "things")}
    new = re.sub(r"[a-z0-9][a-z0-9-]*", lambda found: about.get(found.group(), found.group()), finding)
    return finding if new == finding else new


def _same_or(old: tuple[Any, ...], new: Iterable[Any]) -> tuple[Any, ...]:
    new = tuple(new)
    return old if all(one is other for one, other in zip(old, new, strict=True)) else new
