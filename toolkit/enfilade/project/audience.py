"""What one audience may be told: the rest is left out before a document is made."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any, Final, TypeVar

from enfilade.project.fields import Audience, Record
from enfilade.project.project import Project

__all__ = ["for_audience", "without_names"]

_UNNAMED: Final = {"name": "the client", "address": "the address"}
_NAMELESS_AUDIENCES: Final = ("public", "student")


def for_audience(project: Project, audience: Audience) -> Project:
    """Return a copy that holds only what `audience` may be told.

    Each field declares its audiences; what is not declared for one goes back to its default.
    For the public and for students, names and addresses that the record knows are replaced
    inside free text too. The copy is for telling, not for saving.
    """
    if audience == "studio":
        return project
    decisions = tuple(decision for decision in project.decisions if audience in decision.hear)
    heard = project.model_copy(update={"decisions": decisions})
    words = _known_words(project) if audience in _NAMELESS_AUDIENCES else ()
    told = _kept(heard, audience, words)
    assert isinstance(told, Project)
    told._loaded = project._loaded
    return told


_Told = TypeVar("_Told")


def without_names(value: _Told, project: Project, audience: Audience) -> _Told:
    """Return a dataclass of strings in which known names and addresses are replaced, for audiences who may not know them."""
    words = _known_words(project) if audience in _NAMELESS_AUDIENCES else ()
    replaced: _Told = _renamed(value, words) if words else value
    return replaced


def _renamed(value: Any, words: tuple[tuple[re.Pattern[str], str], ...]) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{f.name: _renamed(getattr(value, f.name), words) for f in fields(value) if f.init})
    if isinstance(value, tuple):
        return tuple(_renamed(item, words) for item in value)
    if isinstance(value, str):
        for pattern, instead in words:
            value = pattern.sub(instead, value)
    return value


def _kept(value: Any, audience: Audience, words: tuple[tuple[re.Pattern[str], str], ...]) -> Any:
    if isinstance(value, Record):
        hidden = _hidden(type(value), audience)
        update = {
            name: hidden[name] if name in hidden else _kept(getattr(value, name), audience, words)
            for name in type(value).model_fields
        }
        return type(value).model_construct(**update)
    if isinstance(value, tuple):
        return tuple(_kept(item, audience, words) for item in value)
    return _renamed(value, words)


@cache
def _hidden(record: type[Record], audience: Audience) -> dict[str, Any]:
    """Return the fields of a record that an audience may not be told, with what stands in their place."""
    hidden: dict[str, Any] = {}
    for name, field in record.model_fields.items():
        extra = field.json_schema_extra
        if isinstance(extra, dict) and audience not in (extra.get("audiences") or ()):
            hidden[name] = "" if field.is_required() else field.get_default(call_default_factory=True)
    return hidden


def _known_words(project: Project) -> tuple[tuple[re.Pattern[str], str], ...]:
    """Return patterns for the names and addresses that the record knows, longest first."""
    words = {word: _UNNAMED["name"] for name in project.client.names for word in (name, *name.split()) if len(word) > 2}
    words |= {person.name: _UNNAMED["name"] for person in project.household.people if person.name}
    words |= {part: _UNNAMED["address"] for part in (project.client.address, project.client.contact) if part}
    return tuple(
        (re.compile(rf"(?<!\w){re.escape(word)}(?!\w)", re.IGNORECASE), words[word])
        for word in sorted(words, key=len, reverse=True)
    )
