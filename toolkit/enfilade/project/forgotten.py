"""A record without its client: names, address and photographs gone, what was decided and measured still there."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any, Final, get_args

from pydantic import StringConstraints

from enfilade.project.audience import NAMELESS_HOUSE, held_in
from enfilade.project.fields import Record
from enfilade.project.names import Names
from enfilade.project.people import Client, Person, Show
from enfilade.project.project import Project
from enfilade.project.showing import Photograph
from enfilade.project.speaking import Drafted, SpokenLine

__all__ = ["forgotten"]

_LEFT_OUT: Final[dict[type[Record], dict[str, Any]]] = {
    Client: {name: field.get_default(call_default_factory=True) for name, field in Client.model_fields.items()},
    Person: {"name": ""},
    SpokenLine: {"photographs": ()},
    Project: {"photographs": ()},
}
_FIXED: Final = {(Project, "yardstick"), (Show, "currency")}
"""Texts that name nobody by their kind."""


def forgotten(project: Project, names_of: Names | Sequence[Project] = ()) -> Project:
    """Return the same record without its client.

    The client's names, address and contact, the studio's notes on the client, the household's names and all photographs
    are left out; known names and addresses are replaced in every text and id. Decisions, measures, costs, answers and
    what was learnt stay, and so does who built it. Unlike a copy for an audience, the record can be saved.

    Args:
        project: The whole record.
        names_of: States of the project whose names are to be forgotten, such as all its versions; or their names, as
            `Names.to_forget` gathers them. None: those of the project alone.
    Raises:
        BadRecord: The records would not fit together.
    """
    names = names_of if isinstance(names_of, Names) else Names.to_forget([*names_of, project])
    without = _without(project, names)
    assert isinstance(without, Project)
    if without.name != project.name:
        without = without.model_copy(update={"name": NAMELESS_HOUSE})  # half a name would read as a riddle
    without._loaded = project._loaded
    without._photos_from = None
    return without.verified()


def _without(value: Any, names: Names, record: type[Record] | None = None, field: str = "") -> Any:
    if isinstance(value, Record):
        left_out = next((out for kind, out in _LEFT_OUT.items() if isinstance(value, kind)), {})
        kind = type(value)
        changed = {
            name: left_out[name] if name in left_out else _without(getattr(value, name), names, kind, name)
            for name in kind.model_fields
        }
        return value.model_copy(update=changed)
    if isinstance(value, tuple):
        return tuple(_without(item, names, record, field) for item in value if not isinstance(item, Photograph))
    if isinstance(value, str) and record is not None and (record, field) not in _FIXED:
        holds = held_in(record)[field]
        if (record, field) == (Drafted, "about"):
            return _cut(names.out_of(value), record, field)
        if "text" in holds:
            return _cut(names.out_of_text(names.out_of_fields(value)), record, field)
        if "id" in holds:
            return names.out_of_ids(value)
    return value


def _cut(text: str, record: type[Record], field: str) -> str:
    """Return a text that its field can hold: what stands for a name may be longer than the name."""
    longest = _longest(record, field)
    return text if longest is None or len(text) <= longest else text[: longest - 1] + "\u2026"


@cache
def _longest(record: type[Record], field: str) -> int | None:
    declared = record.model_fields[field]
    return min(_limits((declared.annotation, *declared.metadata)), default=None)


def _limits(parts: Any) -> list[int]:
    found: list[int] = []
    for part in parts:
        if isinstance(part, StringConstraints) and part.max_length is not None:
            found.append(part.max_length)
        elif part is not None and not isinstance(part, str):
            found += _limits((*get_args(part), *getattr(part, "__metadata__", ())))
    return found
