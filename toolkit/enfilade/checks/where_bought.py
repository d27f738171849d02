"""Which rooms each product and finish is bought for, and which are not bought at all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from enfilade.project.project import Project

__all__ = ["Kind", "LeftOut", "where_bought"]

Kind = Literal["products", "finishes"]
_Rooms = dict[Kind, dict[str, tuple[str, ...]]]
_Found = dict[Kind, dict[str, set[str]]]


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A product or finish that the budget does not count, and why."""

    list: Kind
    id: str
    name: str
    why: str


def where_bought(project: Project) -> tuple[_Rooms, tuple[LeftOut, ...]]:
    """Return the rooms of all that is bought, and what is left out.

    A record is for the rooms where things and surfaces bear it; where none does, for those of the decisions
    that chose it. One that stands on removed things alone, or only in options that were not taken, is not
    bought. One that nothing names is bought for no room yet.

    Returns:
        By list and id, the ids of the spaces in the order of the project, empty for no room yet; and the rest.
    """
    used, removed = _used(project)
    chosen, weighed = _decided(project)
    order = [space.id for space in project.spaces]
    rooms: _Rooms = {"products": {}, "finishes": {}}
    left_out: list[LeftOut] = []
    lists: tuple[tuple[Kind, tuple[tuple[str, str], ...]], ...] = (
        ("products", tuple((one.id, one.name) for one in project.products)),
        ("finishes", tuple((one.id, one.name) for one in project.finishes)),
    )
    for kind, records in lists:
        for id, name in records:
            where = used[kind].get(id, chosen[kind].get(id))
            if where is None and id in removed[kind]:
                left_out.append(LeftOut(kind, id, name, "what it stood for is removed"))
            elif where is None and id in weighed[kind]:
                left_out.append(LeftOut(kind, id, name, "weighed in a decision, not chosen"))
            else:
                rooms[kind][id] = tuple(space for space in order if space in (where or ()))
    return rooms, tuple(left_out)


def _used(project: Project) -> tuple[_Found, dict[Kind, set[str]]]:
    """Return the rooms where things and surfaces bear each record, and the records that removed things bear."""
    used: _Found = {"products": {}, "finishes": {}}
    removed: dict[Kind, set[str]] = {"products": set(), "finishes": set()}
    for thing in project.things:
        borne: tuple[tuple[Kind, str | None], ...] = (("products", thing.product), ("finishes", thing.finish))
        for kind, id in borne:
            if id is None:
                continue
            if thing.state == "removed":
                removed[kind].add(id)
            else:
                used[kind].setdefault(id, set()).add(thing.space)
    for space in project.spaces:
        walls = (wall.finish for wall in space.walls if wall.state != "removed")
        for finish in (space.floor_finish, space.ceiling_finish, *walls):
            if finish is not None:
                used["finishes"].setdefault(finish, set()).add(space.id)
    return used, removed


def _decided(project: Project) -> tuple[_Found, dict[Kind, set[str]]]:
    """Return the rooms of the decisions that chose each record, and the records that any option names."""
    chosen: _Found = {"products": {}, "finishes": {}}
    weighed: dict[Kind, set[str]] = {"products": set(), "finishes": set()}
    for decision in project.decisions:
        for option in decision.options:
            named: tuple[tuple[Kind, tuple[str, ...]], ...] = (
                ("products", option.products), ("finishes", option.finishes),
            )  # fmt: skip
            for kind, ids in named:
                for id in ids:
                    weighed[kind].add(id)
                    if option.id == decision.choice:
                        chosen[kind].setdefault(id, set()).update(decision.spaces)
    return chosen, weighed
