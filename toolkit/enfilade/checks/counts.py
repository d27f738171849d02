"""The counts that a presentation of a kitchen shows: islands, appliances and storage."""

from __future__ import annotations

from typing import Final

from enfilade.checks.appliance_counts import appliance_counts
from enfilade.checks.count_records import Counts
from enfilade.checks.island_counts import island_counts
from enfilade.checks.registry import PARTS
from enfilade.checks.run import project_yardstick
from enfilade.checks.storage_counts import storage_count
from enfilade.checks.view import House, View
from enfilade.project.project import Project
from enfilade.project.things import KINDS
from enfilade.standards.yardsticks import Yardstick

__all__ = ["Counts", "counts"]

_READS: Final = frozenset({*KINDS, *PARTS})
_COOKING: Final = ("kitchen",)


def counts(project: Project | House, space_id: str, yardstick: str | Yardstick | None = None) -> Counts:
    """Return the counts of one room.

    Args:
        project: The declared house, or the same worked out already.
        space_id: The room. Appliances and dining places are counted over the house, for kitchens only.
        yardstick: Name of a set of rules, or one with house rules; None takes the project's own.
    Raises:
        NotFound: The room or the yardstick does not exist.
    """
    house = project if isinstance(project, House) else House(project)
    rules = yardstick if isinstance(yardstick, Yardstick) else project_yardstick(house.project, yardstick)
    space = house.project.space(space_id)
    room, whole = View(house, _READS, space), View(house, _READS, space, scope="house")
    return Counts(
        space=space_id,
        islands=island_counts(room, rules),
        appliances=appliance_counts(whole, rules) if space.use in _COOKING else (),
        storage=storage_count(room, rules),
    )
