"""In which order one walks through the rooms."""

from __future__ import annotations

from collections import deque

from enfilade.checks.view import House

__all__ = ["room_order"]


def room_order(house: House) -> list[str]:
    """Return the ids of all spaces in the order in which they are told: the script's, then walking order.

    One walks from the last room of the script, or from the way in, always on to the nearest room
    not yet seen. Near means through few doors; a house without a recorded entry starts at its
    first space.
    """
    scripted = list(dict.fromkeys(stop.space for stop in house.project.script if stop.space in house.spaces))
    doors = {
        id: [door.beyond for door in house.doorways[id] if door.passage and door.beyond is not None]
        for id in house.spaces
    }
    start = next(
        (id for id in house.spaces for door in house.doorways[id] if door.opening is not None and door.opening.entry),
        next(iter(house.spaces), None),
    )
    order: list[str] = scripted
    here = _next(order[-1], doors, set(order)) if order else start
    while here is not None:
        order.append(here)
        here = _next(here, doors, set(order))
    return order


def _next(here: str, doors: dict[str, list[str]], seen: set[str]) -> str | None:
    return _nearest_unseen(here, doors, seen) or next((id for id in doors if id not in seen), None)


def _nearest_unseen(start: str, doors: dict[str, list[str]], seen: set[str]) -> str | None:
    met, queue = {start}, deque([start])
    while queue:
        here = queue.popleft()
        if here not in seen:
            return here
        for there in doors[here]:
            if there not in met:
                met.add(there)
                queue.append(there)
    return None
