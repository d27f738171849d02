"""What a field that leads to another record is chosen among, by the names that people use."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from enfilade.editing.forms.called import choice_words, named, row_title, shortened
from enfilade.editing.forms.field_shape import Shape
from enfilade.editing.forms.refers import AMONG, OWN, TARGETS, target_of
from enfilade.geometry.points import distance
from enfilade.lengths import show_length, show_size
from enfilade.project.choices import Decision
from enfilade.project.fields import Record
from enfilade.project.project import Project
from enfilade.project.spaces import Opening, Space
from enfilade.project.speaking import Stop
from enfilade.project.thing import Thing
from enfilade.standards.yardsticks import yardstick, yardstick_names

__all__ = ["Offers", "Option", "names_of_records"]

Option = dict[str, str]
"""`value`, `label`, and `group` where the list is long: the room."""

_OF_A_ROOM: Final = ("walls", "openings", "things")
_SEEN: Final = ("things", "openings", "walls", "subjects")
"""What a line may show: that of its own room stands first."""


class Offers:
    """The lists of one project that fields choose from; each is made once, when it is asked for.

    Args:
        project: The house.
        more: Other lists, and labels worked out elsewhere: by the name of the list, its options.
    """

    def __init__(self, project: Project, more: Mapping[str, Sequence[Option]] | None = None) -> None:
        self.project = project
        self.told: dict[str, list[Option]] = {name: list(options) for name, options in (more or {}).items()}
        self._made: dict[str, list[Option]] = {}

    def key(self, field: str, owners: Sequence[Record]) -> str:
        """Return the name of the list that a field chooses from, and see that `told` has it; empty when unknown.

        Args:
            field: Name of the field.
            owners: The record that it is of, and those that this stands in, the nearest first.
        """
        target = target_of(field)
        if target == OWN:
            return self._own(next((one for one in owners if isinstance(one, Decision)), None))
        if target == "findings" or not target:
            return self._have(target, [])
        room = self._room(owners) if target in _OF_A_ROOM and field != "beyond" else None
        stop = next((one for one in owners if isinstance(one, Stop)), None)
        if stop is not None and target in _SEEN:
            name = f"{target} from {stop.space}"
            if name not in self.told:
                self._have(name, sorted(self._options(target, None), key=lambda one: one.get("room") != stop.space))
            return name
        name = f"{target} in {room}" if room else target
        return name if name in self.told else self._have(name, self._options(target, room))

    def inline(self, field: str, shape: Shape) -> list[Option]:
        """Return the options of a field that is chosen among fixed words; none when it is not."""
        if field == "yardstick" and shape.kind == "text":
            return [{"value": name, "label": yardstick(name).title} for name in yardstick_names()]
        return [{"value": word, "label": choice_words(word)} for word in shape.words]

    def all(self, target: str) -> list[Option]:
        """Return every record of a list; none when there is no such list."""
        return self._options(target, None) if target in TARGETS and target != "findings" else []

    def label(self, target: str, id: str) -> str:
        """Return what people call a record of a list; the id where nothing else is known."""
        return next((one["label"] for one in self.all(target) if one["value"] == id), id)

    def _have(self, name: str, options: list[Option]) -> str:
        if name:
            self.told.setdefault(name, options)
        return name

    def _own(self, decision: Decision | None) -> str:
        if decision is None:
            return ""
        options = [{"value": one.id, "label": shortened(one.text) or "an option"} for one in decision.options]
        return self._have(f"options of {decision.id}", options)

    def _room(self, owners: Iterable[Record]) -> str | None:
        """Return the room that a thing or opening stands in, whose own walls and things it can stand at."""
        for one in owners:
            if isinstance(one, Thing):
                return one.space
            if isinstance(one, Opening) and one.wall in self.project.walls_by_id:
                return self.project.walls_by_id[one.wall][0].id
        return None

    def _options(self, target: str, room: str | None) -> list[Option]:
        name = f"all {target}"
        if name not in self._made:
            self._made[name] = _options(self.project, target)
        return [one for one in self._made[name] if room is None or one.get("room") == room]


def names_of_records(project: Project) -> dict[str, str]:
    """Return what people call every record that has an id."""
    names: dict[str, str] = {}
    for target in TARGETS:
        for option in _options(project, target) if target != "findings" else []:
            names.setdefault(option["value"], option["label"])
    return names


def _options(project: Project, target: str) -> list[Option]:
    if target == "walls":
        return _apart(
            [_of_room(space, wall.id, wall.name or f"side {index + 1}, {_side(project, space, index)}")
             for space in project.spaces for index, wall in enumerate(space.walls)]
        )  # fmt: skip
    if target == "openings":
        found = ((one, project.walls_by_id.get(one.wall)) for one in project.openings)
        return _apart([_of_room(at[0] if at else None, one.id, one.name or one.kind) for one, at in found])
    if target == "things":
        rooms = {space.id: space for space in project.spaces}
        units = project.show.units
        order = {id: index for index, id in enumerate(rooms)}
        things = sorted(project.things, key=lambda thing: order.get(thing.space, len(order)))
        return _apart(
            [_of_room(rooms.get(one.space), one.id, one.called, show_size(one.width_mm, units)) for one in things]
        )
    if target in AMONG:
        order = {space.id: index for index, space in enumerate(project.spaces)}
        among = [option for one in AMONG[target] for option in _options(project, one)]
        return _apart(sorted(among, key=lambda option: order.get(option.get("room", ""), len(order))))
    records: Iterable[Any] = _records(project, target)
    return _apart([{"value": one.id, "label": _record_label(one, index)} for index, one in enumerate(records)])


def _records(project: Project, target: str) -> Iterable[Any]:
    if target == "needs":
        return project.brief.needs
    return project.show.speaking.parts if target == "parts" else getattr(project, target)


def _record_label(record: Record, index: int) -> str:
    label = row_title(record, index)
    maker = getattr(record, "maker", "")
    return f"{label} ({maker})" if maker and named(record) else label


def _side(project: Project, space: Space, index: int) -> str:
    corners = space.outline
    return show_length(distance(corners[index], corners[(index + 1) % len(corners)]), project.show.units)


def _of_room(space: Space | None, id: str, name: str, size: str = "") -> Option:
    room = {"room": space.id, "group": space.name} if space else {}
    return {"value": id, "label": name, "size": size, **room}


def _apart(options: list[Option]) -> list[Option]:
    """Return options of which no two in one room read alike: with the size, then with a number."""
    for tell in ("size", "number"):
        seen: dict[tuple[str, str], list[Option]] = {}
        for option in options:
            seen.setdefault((option.get("group", ""), option["label"]), []).append(option)
        for alike in seen.values():
            for number, option in enumerate(alike if len(alike) > 1 else [], 1):
                added = option.get("size", "") if tell == "size" else str(number)
                option["label"] += f" {added}" if added else ""
    return [{key: value for key, value in option.items() if key != "size"} for option in options]
