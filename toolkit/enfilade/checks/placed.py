"""Where everything stands, worked out on from where it stood before."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from enfilade.geometry.boxes import Segment
from enfilade.project.placing import SetIn
from enfilade.project.project import Project
from enfilade.project.standing import Stand, stands
from enfilade.project.thing import Thing

__all__ = ["placed"]


def placed(
    project: Project, lines: Mapping[str, Segment], known: Mapping[str, Stand] | None = None
) -> dict[str, Stand]:
    """Return every thing with its footprint, by id; what has not moved is the same object as before.

    Args:
        project: The house.
        lines: Its walls, by id.
        known: What stood among the same walls; None when nothing is known.
    Raises:
        NotFound: A place names a wall or host that is not there.
        OutOfRange: Things are set in one another in a ring.
    """
    if known is None:
        return stands(project.things, lines)
    by_id = project.things_by_id
    moved = _moved(by_id, known)
    anew = stands(_with_hosts((by_id[name] for name in moved if name in by_id), by_id), lines)
    return {name: anew[name] if name in moved else known[name] for name in by_id}


def _moved(by_id: Mapping[str, Thing], known: Mapping[str, Stand]) -> set[str]:
    """Return the ids of what is new, changed or gone, and of all that is set in it: that moves with it."""
    moved = {name for name, thing in by_id.items() if name not in known or known[name].thing is not thing}
    moved |= known.keys() - by_id.keys()
    guests: dict[str, list[str]] = {}
    for thing in by_id.values():
        if isinstance(thing.place, SetIn):
            guests.setdefault(thing.place.host, []).append(thing.id)
    queue = list(moved)
    while queue:
        new = [name for name in guests.get(queue.pop(), ()) if name not in moved]
        moved.update(new)
        queue += new
    return moved


def _with_hosts(things: Iterable[Thing], by_id: Mapping[str, Thing]) -> Iterable[Thing]:
    """Return things and those in which they are set, from which their places are measured."""
    found: dict[str, Thing] = {}
    for thing in things:
        link: Thing | None = thing
        while link is not None and link.id not in found:
            found[link.id] = link
            link = by_id.get(link.place.host) if isinstance(link.place, SetIn) else None
    return found.values()
