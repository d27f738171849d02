"""What one audience may be told: the rest is left out before a document is made."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any, Final, TypeVar, get_args

from enfilade.project.choices import Finish, Product
from enfilade.project.fields import Audience, Holds, Record
from enfilade.project.names import Names
from enfilade.project.names_before import same_records
from enfilade.project.people import Show
from enfilade.project.project import Project
from enfilade.project.spaces import Opening
from enfilade.project.speaking import Part, Stop
from enfilade.project.thing import Thing

__all__ = ["NAMELESS_HOUSE", "for_audience", "held_in", "told_before", "without_names"]

_NAMELESS_AUDIENCES: Final = ("public", "student")
_Told = TypeVar("_Told")
_Said = TypeVar("_Said", Stop, Part)
_Change = Callable[[str], str]


def for_audience(project: Project, audience: Audience) -> Project:
    """Return a copy that holds only what `audience` may be told.

    Each field declares its audiences; what is not declared for one goes back to its default, and
    a record that cannot be told without such a field is left out of its list. Scanned plans, which
    tend to carry names and addresses, are left out with the rest of what is the studio's own. For the public and
    for students, names and addresses that the record knows are replaced inside free text and
    inside ids too. The copy is for telling: `save` refuses it.
    """
    if audience == "studio":
        return project
    decisions = tuple(decision for decision in project.decisions if audience in decision.hear)
    photographs = tuple(photograph for photograph in project.photographs if photograph.scan is None)
    heard = project.model_copy(
        update={
            "decisions": decisions,
            "photographs": photographs,
            "script": tuple(_heard(stop, ("lines",), audience) for stop in project.script),
            "show": _parts_heard(project.show, audience),
        }
    )
    told = _kept(heard, audience, _names(project, audience))
    assert isinstance(told, Project)
    told = _called(told, project)
    told._loaded = project._loaded
    told._photos_from = project._photos_from
    told._told_to = audience
    return told


def told_before(earlier: Project, project: Project, told: Project, audience: Audience) -> Project:
    """Return what an audience was told earlier, without the names that the record has learnt since.

    Args:
        earlier: As it was told, read back.
        project: The whole record of today.
        told: What `for_audience` makes of it.
        audience: Who was told. Records whose ids were changed go by the ids that `told` gives them.
    """
    names = _names(project, audience)
    if names is None:
        return earlier
    names = names.with_ids_of(earlier, same_records(earlier, told))
    return _called(_kept(earlier, audience, names, retold=True), earlier)


def _called(told: Project, project: Project) -> Project:
    """Return a copy in which the house is called as it was, or as any: half a name would read as a riddle."""
    return told if told.name == project.name else told.model_copy(update={"name": NAMELESS_HOUSE})


def _heard(said: _Said, fields: tuple[str, ...], audience: Audience) -> _Said:
    """Return a stop or a part with the lines that an audience may hear."""
    lines = {name: tuple(line for line in getattr(said, name) if audience in line.hear) for name in fields}
    return said.model_copy(update=lines)


def _parts_heard(show: Show, audience: Audience) -> Show:
    parts = tuple(_heard(part, ("recap", "lead_in"), audience) for part in show.speaking.parts)
    return show.model_copy(update={"speaking": show.speaking.model_copy(update={"parts": parts})})


def without_names(value: _Told, project: Project, audience: Audience) -> _Told:
    """Return a dataclass, such as a finding, without the names and addresses that an audience may not know.

    Ids in it are changed as `for_audience` changes them, so that both still fit together.
    """
    names = _names(project, audience)
    renamed: _Told = value if names is None else _renamed(value, names, names.out_of)
    return renamed


NAMELESS_HOUSE: Final = "A house"
_CREDITED: Final = {"Trade": "name"}
"""The field by which a record names whom it may credit in public; a maker everywhere else."""
_NAMED_INSIDE: Final = (Thing, Opening, Product, Finish)
"""Records whose names stand inside sentences."""
_last: list[tuple[Project, Audience, Names]] = []


def _names(project: Project, audience: Audience) -> Names | None:
    """Return the names that an audience may not know, kept for the project that was asked about last."""
    if audience not in _NAMELESS_AUDIENCES:
        return None
    for known, told_to, names in _last:
        if known is project and told_to == audience:
            return names
    names = Names(project, audience)
    _last[:] = [(project, audience, names)]
    return names


# Fields of a finding that hold ids, or words of a fixed list, and no sentences.
_IDS: Final = frozenset({"id", "space", "subjects", "assumed", "plane"})
_FIXED: Final = frozenset({"rule", "level", "because", "house_rules", "unit", "how", "role", "source"})


def _renamed(value: Any, names: Names, change: _Change) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        changed = {
            field.name: _renamed(
                getattr(value, field.name), names, names.out_of_ids if field.name in _IDS else names.out_of
            )
            for field in fields(value)
            if field.init and field.name not in _FIXED
        }
        return replace(value, **changed)
    if isinstance(value, tuple):
        return tuple(_renamed(item, names, change) for item in value)
    return change(value) if isinstance(value, str) else value


def _kept(
    value: Any, audience: Audience, names: Names | None, holds: frozenset[str] = frozenset(), *, retold: bool = False
) -> Any:
    """Return a value as an audience may know it; in what was told before, whoever is named was credited then."""
    if isinstance(value, Record):
        hidden, kinds = _hidden(type(value), audience), held_in(type(value))
        credited = _CREDITED.get(type(value).__name__, "maker") if _credits(value, retold) else ""
        told = {
            name: hidden[name]
            if name in hidden and name != credited
            else _kept(getattr(value, name), audience, names, kinds[name], retold=retold)
            for name in type(value).model_fields
        }
        if credited and names is not None:
            told[credited] = names.out_of_credit(getattr(value, credited))
        if isinstance(value, _NAMED_INSIDE):
            told["name"] = _inside(told["name"], value.name)
        return type(value).model_construct(**told)
    if isinstance(value, tuple):
        kept = (item for item in value if not isinstance(item, Record) or _tellable(type(item), audience))
        return tuple(_kept(item, audience, names, holds, retold=retold) for item in kept)
    if isinstance(value, str) and names is not None:
        if "text" in holds:
            return names.out_of_text(names.out_of_fields(value))
        if "id" in holds:
            return names.out_of_ids(value)
    return value


def _inside(told: str, name: str) -> str:
    """Return a name from which another was left out, in small letters where the other was: `the client's table`."""
    return told if not told or told.split()[0] in name.split() else told[0].lower() + told[1:]


def _credits(record: Record, retold: bool) -> bool:
    return hasattr(record, "may_be_credited") and (retold or bool(record.may_be_credited))


@cache
def _hidden(record: type[Record], audience: Audience) -> dict[str, Any]:
    """Return the fields of a record that an audience may not be told, with what stands in their place."""
    return {
        name: "" if field.is_required() else field.get_default(call_default_factory=True)
        for name, field in record.model_fields.items()
        if isinstance(extra := field.json_schema_extra, dict) and audience not in _audiences(extra)
    }


def _audiences(extra: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(extra.get("audiences", ()))


@cache
def _tellable(record: type[Record], audience: Audience) -> bool:
    """Tell whether a record says anything to an audience who may not be told some of its fields."""
    return not any(record.model_fields[name].is_required() for name in _hidden(record, audience))


@cache
def held_in(record: type[Record]) -> dict[str, frozenset[str]]:
    """Return for each field whether sentences, ids or neither stand in it, as its type declares."""
    return {
        name: frozenset(marker.what for marker in _markers((field.annotation, *field.metadata)))
        for name, field in record.model_fields.items()
    }


def _markers(parts: Any) -> list[Holds]:
    found = []
    for part in parts:
        if isinstance(part, Holds):
            found.append(part)
        elif part is not None and not isinstance(part, str):
            found += _markers((*get_args(part), *getattr(part, "__metadata__", ())))
    return found
