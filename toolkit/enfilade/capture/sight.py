"""What a page looks at: which room, what is selected on it, how wide its plan is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from enfilade.errors import Refused
from enfilade.project.project import Project

__all__ = ["Sight", "number_of", "text_of"]


@dataclass
class Sight:
    """What a page looks at.

    Attributes:
        act: Which of the five acts the page belongs to.
        room: Id of the room whose page it is.
        selected: List and id of what is selected: `("things", "island")`.
        plan_px: Width for which the plan is drawn [px].
        kept: What parts keep between messages for this page alone.
        progress: Says on the page, in a few words, what takes a while.
    """

    act: str = "measure"
    room: str | None = None
    selected: tuple[str, str] | None = None
    plan_px: float = 900.0
    kept: dict[str, Any] = field(default_factory=dict)
    progress: Callable[[str], None] = field(default=lambda words: None, repr=False)

    def settle(self, project: Project) -> None:
        """Look at a room that is there, and at nothing that has gone."""
        rooms = [space.id for space in project.spaces]
        if self.room not in rooms:
            self.room, self.selected = (rooms[0] if rooms else None), None
        if self.selected is not None and not _there(project, *self.selected):
            self.selected = None


def _there(project: Project, records: str, id: str) -> bool:
    if records == "walls":
        return id in project.walls_by_id
    if records == "things":
        return id in project.things_by_id
    return any(record.id == id for record in getattr(project, records))


def text_of(message: dict[str, Any], name: str, *, longest: int = 200_000) -> str:
    """Return a text of a message.

    Raises:
        Refused: It is no text, or too long.
    """
    value = message.get(name)
    if not isinstance(value, str) or len(value) > longest:
        raise Refused(f"the page sent no {name}", do="load the page again")
    return value


def number_of(message: dict[str, Any], name: str) -> float:
    """Return a number of a message, likewise."""
    value = message.get(name)
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e9:
        raise Refused(f"the page sent no {name}", do="load the page again")
    return float(value)
