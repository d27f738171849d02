"""The pages of all rooms, each made when it is first read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import overload

from enfilade.walkthrough.pages import RoomPage
from enfilade.walkthrough.room_page import room_page
from enfilade.walkthrough.telling import Telling

__all__ = ["RoomPages"]


class RoomPages(Sequence[RoomPage]):
    """The pages of the rooms in the order in which they are told.

    Their drawings take most of the time of a telling, and captions, cards, the script and the calendar show none.

    Args:
        telling: What they are made from.
        progress: Called with a few words before each is made.
    """

    def __init__(self, telling: Telling, progress: Callable[[str], None]) -> None:
        self._telling, self._progress = telling, progress
        self._made: dict[int, RoomPage] = {}

    def __len__(self) -> int:
        return len(self._telling.order)

    @overload
    def __getitem__(self, at: int) -> RoomPage: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[RoomPage]: ...
    def __getitem__(self, at: int | slice) -> RoomPage | Sequence[RoomPage]:
        places = range(len(self))[at]
        return self._page(places) if isinstance(places, int) else tuple(self._page(place) for place in places)

    def _page(self, place: int) -> RoomPage:
        if place not in self._made:
            space = self._telling.order[place]
            name = self._telling.project.space(space).name
            self._progress(f"room {place + 1} of {len(self)}: {name}")
            self._made[place] = room_page(self._telling, space, place + 1)
        return self._made[place]
