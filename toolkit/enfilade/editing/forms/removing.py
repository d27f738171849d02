"""A row taken out of the house, with what leads to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from enfilade.editing.forms.field_shape import field_shapes
from enfilade.editing.forms.left_out import with_left_out
from enfilade.editing.forms.paths import Path, row_key, spot_of, with_fields, with_parts
from enfilade.editing.forms.refers import OWN, TARGETS, Reference, references_to
from enfilade.editing.forms.refusals import Placed, at_the_field, refused_at
from enfilade.editing.forms.rows import FIXED, row_at
from enfilade.editing.forms.titles import row_words
from enfilade.errors import BadRecord, Fault, Refused
from enfilade.listing import joined
from enfilade.project.choices import Decision
from enfilade.project.fields import Record
from enfilade.project.project import Project
from enfilade.project.spaces import Space

__all__ = ["Leads", "what_leads_to", "with_row_removed"]


@dataclass(frozen=True, slots=True)
class Leads:
    """A record in which a row is named.

    Attributes:
        path: Steps to the row that it is, or stands in.
        words: What people call it.
        goes: It cannot stand without the row, and goes along with it.
    """

    path: Path
    words: str
    goes: bool


def what_leads_to(project: Project, path: Sequence[str]) -> tuple[Leads, ...]:
    """Return the records in which a row, or a record that must go along with it, is named; each once.

    Raises:
        NotFound: There is no such row.
    """
    return _Removal(project, row_at(project, path).path).leads


def with_row_removed(project: Project, path: Sequence[str], *, along: bool = False) -> Project:
    """Return the project without a row. What the draft told in a stop or line that goes is not drafted again.

    Args:
        project: The house.
        path: Steps to the row.
        along: What names it is cleared of it, and a record that cannot stand without it goes along. Otherwise a row
            that is still named is refused: who takes a finish off a list does not see the nine rooms that lose it.
    Raises:
        BadRecord: Something still names it; or the house cannot stand without it.
        NotFound: There is no such row.
    """
    told, spot = tuple(path), row_at(project, path)
    if spot.field in FIXED:
        raise refused_at(told, Refused("walls stand one to a side of the outline", do="change the outline of the room"))
    removal = _Removal(project, spot.path)
    if removal.leads and not along:
        words = joined([one.words for one in removal.leads], 6)
        fault = Fault(
            "/".join(told), f"{row_words(project, spot.path)} is still named by {words}", "none that names it"
        )
        raise Placed("project", [fault])
    try:
        changed = with_parts(project, removal.updates(project, ()))
    except BadRecord as refusal:
        raise at_the_field(project, told, refusal) from refusal
    return with_left_out(project, changed) if spot.path[0] == "script" else changed


class _Removal:
    """What goes and what is cleared when one row goes."""

    def __init__(self, project: Project, path: Path) -> None:
        self._project = project
        self._gone: dict[Path, None] = {path: None}
        self._cleared: dict[Path, set[str]] = {}
        waiting = [path]
        while waiting:
            for reference, id in _named(project, waiting.pop()):
                row = _row_of(reference.path)
                if any(row[: len(gone)] == gone for gone in self._gone):
                    continue
                if reference.must:
                    self._gone[row] = None
                    waiting.append(row)
                else:
                    self._cleared.setdefault(reference.path, set()).add(id)
        rows = {_row_of(field): False for field in self._cleared} | dict.fromkeys(list(self._gone)[1:], True)
        inside = [row for row in rows if any(row[: len(gone)] == gone and row != gone for gone in self._gone)]
        self.leads = tuple(Leads(row, row_words(project, row), rows[row]) for row in rows if row not in inside)

    def updates(self, record: Record, path: Path) -> dict[str, Any]:
        """Return the fields of a record that change; what does not change stays the same object."""
        found: dict[str, Any] = {}
        for name in field_shapes(type(record)):
            value, here = getattr(record, name), (*path, name)
            if here in self._cleared:
                found[name] = _without(value, self._cleared[here])
                if isinstance(record, Decision) and name == "choice":
                    found["status"] = "undecided"
            elif isinstance(value, Record):
                found[name] = with_fields(value, self.updates(value, here))
            elif isinstance(value, tuple) and value and isinstance(value[0], Record):
                keyed = ((row, (*here, row_key(row, index))) for index, row in enumerate(value))
                found[name] = tuple(
                    with_fields(row, self.updates(row, key)) for row, key in keyed if key not in self._gone
                )
        return found


def _named(project: Project, path: Path) -> Iterator[tuple[Reference, str]]:
    """Yield every field in which a row stands, or a wall of a room that it is."""
    spot = spot_of(project, path)
    row, target = spot.value, spot.field
    if target == OWN and isinstance(spot.record, Decision):
        # Ids of options are their decision's own.
        if spot.record.choice == row.id:
            yield Reference((*path[:-2], "choice"), many=False, must=False), row.id
    elif target in TARGETS:
        yield from ((reference, row.id) for reference in references_to(project, target, row.id))
    if isinstance(row, Space):
        for wall in row.walls:
            yield from ((reference, wall.id) for reference in references_to(project, "walls", wall.id))


def _without(value: Any, ids: set[str]) -> Any:
    return tuple(id for id in value if id not in ids) if isinstance(value, tuple) else None


def _row_of(field: Path) -> Path:
    """Return the steps to the record of the house that a field belongs to."""
    if field[:3] == ("show", "speaking", "parts"):
        return field[:4]
    return field[:3] if field[:2] == ("brief", "needs") else field[:2]
