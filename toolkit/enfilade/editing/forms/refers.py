"""Which list the ids of a field lead to, and what still leads to a record."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Final

from enfilade.editing.forms.field_shape import field_shapes
from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["AMONG", "OWN", "TARGETS", "Reference", "references_to", "target_of"]

TARGETS: Final = (
    "spaces", "walls", "openings", "things", "products", "finishes", "decisions", "needs", "photographs", "parts",
    "subjects", "findings",
)  # fmt: skip
"""What ids lead to. Walls stand in their spaces, needs in the brief, parts in how the house is told; findings are
worked out."""

AMONG: Final[dict[str, tuple[str, ...]]] = {"subjects": ("things", "openings", "walls")}
"""What a camera may look at stands in several lists."""

OWN: Final = "options"
"""What a choice is among: the options of its own decision."""

# A field is named after what it leads to, in one or many; these say what a record is to the other instead.
_OTHERWISE: Final = {
    "beyond": "walls", "host": "things", "at": "things", "controls": "things", "choice": OWN,
    "first": "spaces", "last": "spaces",
}  # fmt: skip


@cache
def target_of(field: str) -> str:
    """Return the list that the ids of a field lead to; empty when its name does not tell.

    >>> target_of("ceiling_finish"), target_of("needs"), target_of("host")
    ('finishes', 'needs', 'things')
    """
    if field in _OTHERWISE:
        return _OTHERWISE[field]
    last = field.rpartition("_")[2]
    return next((name for name in TARGETS if last in (name, name.removesuffix("s"), name.removesuffix("es"))), "")


@dataclass(frozen=True, slots=True)
class Reference:
    """A field in which the id of a record stands.

    Attributes:
        path: Steps to the field from the project.
        many: The field holds several ids.
        must: The record cannot stand without it.
    """

    path: tuple[str, ...]
    many: bool
    must: bool


def references_to(project: Project, target: str, id: str) -> list[Reference]:
    """Return every field in which the id of a record of one list stands, in the order of the project.

    Args:
        project: The house.
        target: One of `TARGETS`.
        id: Id of the record.
    """
    return list(_within(project, (), target, id))


def _within(record: Record, path: tuple[str, ...], target: str, id: str) -> Iterator[Reference]:
    ids, inner = _fields(type(record), target)
    for name, many, must in ids:
        value = getattr(record, name)
        if (id in value) if isinstance(value, tuple) else value == id:
            yield Reference((*path, name), many, must)
    for name in inner:
        value = getattr(record, name)
        if isinstance(value, Record):
            yield from _within(value, (*path, name), target, id)
        elif isinstance(value, tuple):
            for index, row in enumerate(value):
                yield from _within(row, (*path, name, getattr(row, "id", str(index))), target, id)


def _may_lead(field: str, target: str) -> bool:
    there = target_of(field)
    return target == there or target in AMONG.get(there, ())


@cache
def _fields(record: type[Record], target: str) -> tuple[tuple[tuple[str, bool, bool], ...], tuple[str, ...]]:
    """Return the fields that lead to a list (name, many, must), and those in which other records stand."""
    shapes = field_shapes(record).items()
    ids = tuple(
        (name, shape.kind == "refs", shape.kind == "ref" and not shape.unknown)
        for name, shape in shapes
        if name != "id" and shape.kind in ("ref", "refs") and _may_lead(name, target)
    )
    inner = tuple(name for name, shape in shapes if shape.kind in ("record", "one-of", "records"))
    return ids, inner
