"""What the records refuse, told at the field that was typed, in the words and units of who typed it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from enfilade.editing.forms.called import choice_words, label_of
from enfilade.editing.forms.offers import names_of_records
from enfilade.editing.forms.paths import Path
from enfilade.errors import BadRecord, EnfiladeError, Fault
from enfilade.lengths import show_length
from enfilade.project.field_words import UNIT_ENDINGS, field_words
from enfilade.project.project import Project

__all__ = ["Placed", "at_the_field", "lacking", "plain_words", "refused_at"]

_MM = re.compile(r"(-?\d+(?:\.\d+)?)(?: to (-?\d+(?:\.\d+)?))? mm\b")
_FIELD = re.compile(rf"\b[a-z]+(?:_[a-z0-9]+)*(?:{'|'.join(UNIT_ENDINGS)})\b|\b[a-z]+(?:_[a-z]+)+\b")
_QUOTED = re.compile(r"'([a-z0-9][a-z0-9-]{0,63})'")
_AN_ID = re.compile(r"\ban id of the (\w+)")
_COUNTED = re.compile(r"^(?:tuple|list) should have at (least|most) (\d+) items? after validation(?:, not (\d+))?")
_MARKED = re.compile(r"`([^`]*)`")


class Placed(BadRecord):
    """A refusal whose faults stand at the fields that were typed, in words for who typed them."""


def refused_at(path: Path, error: EnfiladeError) -> Placed:
    """Return the refusal of what was typed at one path."""
    return Placed("project", [Fault("/".join(path), error.what, error.expected or error.do)])


def lacking(path: Path, record: str, fields: Iterable[str]) -> Placed:
    """Return the refusal of a record that lacks some of what it must have, one fault a field."""
    faults = [Fault("/".join((*path, name)), f"{label_of(name)} is missing", f"{record} needs it") for name in fields]
    return Placed("project", faults)


def at_the_field(project: Project, path: Path, refusal: BadRecord) -> Placed:
    """Return a refusal of the records as faults at the path that was typed, in plain words.

    A fault of another record, which the change would break, begins with the name of that record.
    """
    names = names_of_records(project)
    faults = []
    for fault in refusal.faults:
        there = fault.place.split("/")
        other = names.get(there[1]) if len(there) > 1 and there[0] != "walls" and there[1] not in path else None
        what = plain_words(fault.what, project, names)
        what = f"{other}: {what}" if other else what
        faults.append(Fault("/".join(path), what, plain_words(fault.expected, project, names)))
    return Placed("project", list(dict.fromkeys(faults)))


def plain_words(text: str, project: Project, names: dict[str, str] | None = None) -> str:
    """Return a refusal with names in place of ids, words in place of fields, lengths in the project's units."""
    system = project.show.units
    known = names_of_records(project) if names is None else names

    def length(found: re.Match[str]) -> str:
        ends = [show_length(float(end), system) for end in found.groups() if end is not None]
        return " to ".join(ends)

    text = _COUNTED.sub(lambda found: f"{found[3] or 'so many'} where at {found[1]} {found[2]} are wanted", text)
    text = _QUOTED.sub(lambda found: f"“{known.get(found[1], found[1])}”", text)
    text = _MM.sub(length, text)
    text = _AN_ID.sub(r"one of the \1", text)
    text = _MARKED.sub(lambda found: f"“{choice_words(found[1])}”", text)
    return _FIELD.sub(lambda found: field_words(found.group()), text)
