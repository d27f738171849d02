"""Finishes side by side: where each project uses which."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from enfilade.archive.comparing.columns import Column
from enfilade.archive.comparing.rooms import NOTHING
from enfilade.checks.where_bought import where_bought
from enfilade.listing import listed
from enfilade.project.choices import Finish
from enfilade.project.project import Project
from enfilade.walkthrough.pages import Table

__all__ = ["finish_table", "used_where"]

_MOST: Final = 6


def finish_table(columns: Sequence[Column]) -> Table:
    """Return where each finish is used, those that several projects share first."""
    each: list[dict[tuple[str, str], list[str]]] = []
    shown: dict[tuple[str, str], str] = {}
    for column in columns:
        found: dict[tuple[str, str], list[str]] = {}
        where = used_where(column.project)
        left_out = {one.id: one.why for one in where_bought(column.project)[1] if one.list == "finishes"}
        for finish in column.project.finishes:
            key = _key(finish)
            shown.setdefault(key, f"{finish.name}, {finish.material}" if finish.material else finish.name)
            words = where.get(finish.id) or [left_out.get(finish.id, "on record, not placed yet")]
            found.setdefault(key, []).extend(words)
        each.append(found)
    order = sorted(shown, key=lambda key: (-sum(key in found for found in each), key))
    rows = tuple((shown[key], *("; ".join(found[key]) if key in found else NOTHING for found in each)) for key in order)
    note = "Finishes of the same name and material are one. Those that several share stand first."
    return Table("Finishes", ("Finish", *(column.head for column in columns)), rows, note=note)


def used_where(project: Project) -> dict[str, list[str]]:
    """Return by finish the places where it is used, room by room: `Kitchen: floor, island`."""
    found: dict[str, list[str]] = {}
    for space in project.spaces:
        inside: dict[str, dict[str, None]] = {}
        for finish, what in _in_room(project, space.id):
            inside.setdefault(finish, {})[what] = None
        for finish, names in inside.items():
            found.setdefault(finish, []).append(f"{space.name or space.use}: {listed(list(names), _MOST)}")
    return found


def _in_room(project: Project, room: str) -> Iterator[tuple[str, str]]:
    space = project.space(room)
    if space.floor_finish:
        yield space.floor_finish, "floor"
    if space.ceiling_finish:
        yield space.ceiling_finish, "ceiling"
    for wall in space.walls:
        if wall.finish and wall.state != "removed":
            yield wall.finish, wall.name or "walls"
    for thing in project.things:
        if thing.space == room and thing.finish and thing.state != "removed":
            yield thing.finish, thing.called


def _key(finish: Finish) -> tuple[str, str]:
    return " ".join(finish.name.casefold().split()), " ".join(finish.material.casefold().split())
