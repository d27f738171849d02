"""In which order one walks through the rooms."""

from __future__ import annotations

from collections import deque

from enfilade.checks.view import House
from enfilade.editing.parts import stops_by_part
from enfilade.walkthrough.route import best_route

__all__ = ["room_order"]


def room_order(house: House) -> list[str]:
    """Return the ids of all spaces in the order in which they are told.

    That is the script's order, part after part; without a script the route with the least walking. Rooms in which
    nothing is said yet follow the last room of the script: always on to the nearest not yet seen, near meaning
    through few doors.
    """
    told = (stop.space for part in stops_by_part(house.project) for stop in part.stops)
    order = list(dict.fromkeys(space for space in told if space in house.spaces))
    if not order:
        return list(best_route(house).order)
    doors = {
        id: [door.beyond for door in house.doorways[id] if door.passage and door.beyond is not None]
        for id in house.spaces
    }
    here = _next(order[-1], doors, set(order))
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
