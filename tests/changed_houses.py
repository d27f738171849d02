"""A small kitchen with an aisle, a need and decisions, for what changes and what is learnt. Invented."""

from __future__ import annotations

from typing import Any

import enfilade as ef
from building import free, house, on_wall, room, set_in, thing
from enfilade.archive.adding import add_version
from enfilade.archive.gathering import findings_bytes
from enfilade.archive.store import Store
from enfilade.project.project import Project
from enfilade.project.writing import project_text

__all__ = ["FINDING", "LESSON", "NEED", "decision", "kept", "kitchen", "option", "taught"]

AISLE_IN = 48.0
LESSON = "Draw the aisle before the top."
FINDING = "K6:one-cook:island+north-counter"
NEED = {"id": "hot", "number": 3, "text": "A top that takes a hot pan straight from the oven."}
TAUGHT: dict[str, Any] = {"hindsight": LESSON, "needs": ["hot"], "findings": [FINDING], "status": "built"}


def option(id: str, text: str, **more: Any) -> dict[str, Any]:
    return {"id": id, "text": text, **more}


def decision(**more: Any) -> dict[str, Any]:
    """Return decision 14, taken for a stone top over one of oak."""
    return {
        "id": "top", "number": 14, "title": "What the island is topped with", "spaces": ["kitchen"],
        "options": [option("stone", "A top of soapstone."), option("oak", "A top of oak.")],
        "choice": "stone", "status": "planned", "reason": "It takes a hot pan.", "things": ["island"], **more,
    }  # fmt: skip


def kitchen(aisle: float = AISLE_IN, *, length: float = 72, units: str = "us", **more: Any) -> Project:
    """Return a kitchen of 16 by 14 ft for one cook: a counter along the north wall, an island `aisle` inches before it.

    The counter is 25 in deep, so its front stands 168 - 25 = 143 in up the plan; the island is 36 in deep.
    """
    middle = 168 - 25 - aisle - 18
    things = [
        thing("counter", "north-counter", 120, 25, on_wall("kitchen-north", 36)),
        thing("sink", "sink", 30, 20, set_in("north-counter", 10)),
        thing("cooktop", "cooktop", 30, 20, set_in("north-counter", 60)),
        thing("island", "island", length, 36, free(96, middle, 180)),
    ]
    plain: dict[str, Any] = {
        "spaces": [room(192, 168)], "household": {"cooks_together": 1}, "show": {"units": units}, **more,
    }  # fmt: skip
    return house(things, **plain)


def taught(id: str = "old-house", **more: Any) -> Project:
    """Return a house whose decision 14 taught something: of its island, need `hot`, and an aisle of 40 in."""
    return kitchen(40, id=id, name="Old house", brief={"needs": [NEED]}, decisions=[decision(**{**TAUGHT, **more})])


def kept(store: Store, project: Project, base: int | None = None, *, released: bool = False) -> int:
    files = {"project.json": project_text(project).encode(), "findings.json": findings_bytes(ef.check(project))}
    return add_version(store, project, files, who="", why="", base=base, released=released).version.number
