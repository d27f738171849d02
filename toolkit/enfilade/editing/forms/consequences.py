"""What a change of one field brings along in its record, so that the record still tells one story."""

from __future__ import annotations

from typing import Any

from enfilade.editing.forms.paths import Spot
from enfilade.editing.forms.places import turned_round
from enfilade.project.choices import Decision
from enfilade.project.placing import AgainstWall
from enfilade.project.project import Project
from enfilade.project.spaces import Opening
from enfilade.project.standing import wall_segments
from enfilade.project.thing import Thing

__all__ = ["with_consequences"]


def with_consequences(project: Project, spot: Spot, value: Any) -> dict[str, Any]:
    """Return the fields that change when a value is put at a spot, that field among them.

    An option that is chosen makes an undecided decision planned, and one that is taken back makes it undecided
    again. What is measured from the other end of its wall stays where it stands.
    """
    record, field = spot.record, spot.field
    updates: dict[str, Any] = {field: value}
    if isinstance(record, Decision) and field == "choice":
        if value is not None and record.status == "undecided":
            updates["status"] = "planned"
        elif value is None and record.choice is not None:
            updates["status"] = "undecided"
    if field == "from_end" and value != getattr(record, field):
        if isinstance(record, AgainstWall):
            thing = spot.steps[-2].record
            assert isinstance(thing, Thing)
            updates["offset_mm"] = _from_the_other_end(project, record.wall, record.offset_mm, thing.width_mm)
        elif isinstance(record, Opening):
            updates["offset_mm"] = _from_the_other_end(project, record.wall, record.offset_mm, record.width_mm)
    return updates


def _from_the_other_end(project: Project, wall: str, offset_mm: float, width_mm: float) -> float:
    space, _, _ = project.walls_by_id[wall]
    return turned_round(offset_mm, width_mm, wall_segments([space])[wall].length_mm)
