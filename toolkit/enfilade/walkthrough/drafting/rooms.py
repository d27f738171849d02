"""What is told of a room itself: what it is for, what one sees first, its size and its floor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from enfilade.checks.view import House
from enfilade.geometry.outlines import area_m2
from enfilade.project.spaces import Space
from enfilade.walkthrough.drafting.binding import Binding
from enfilade.walkthrough.drafting.items import Item, about, shot_of
from enfilade.walkthrough.drafting.sights import sights
from enfilade.walkthrough.drafting.voice import Voice
from enfilade.walkthrough.drafting.wording import Wording, sentences
from enfilade.walkthrough.walking import HouseWalks

__all__ = ["RoomDraft"]

_LARGE_OF: Final = 12
"""The size of the largest room is told, and of one more for each so many rooms (our own choice)."""


class RoomDraft:
    """Tells of one room after the other, in the order in which they are walked.

    Args:
        house: The house, worked out.
        voice, wording, binding: How it is said.
    """

    def __init__(self, house: House, voice: Voice, wording: Wording, binding: Binding) -> None:
        self._house, self._voice, self._wording, self._binding = house, voice, wording, binding
        self._project = project = house.project
        self._walks = HouseWalks(house)
        large = sorted(project.spaces, key=lambda one: -area_m2(one.outline))[: 1 + len(project.spaces) // _LARGE_OF]
        self._large = frozenset(one.id for one in large)
        self._before: str | None = None
        self._floor: str | None = None
        self._floors: set[str] = set()

    def of(self, space: Space, told_finishes: Sequence[str]) -> Iterator[Item]:
        """Yield what is told of a room; `told_finishes` are told by the decisions that follow."""
        yield self._what_for(space)
        yield from self._sight(space)
        yield from self._size(space)
        yield from self._underfoot(space, told_finishes)
        self._before = space.id

    def _what_for(self, space: Space) -> Item:
        photographs = tuple(
            one.id
            for one in self._project.photographs
            if one.space == space.id and not one.decisions and not one.things and one.scan is None
        )
        kind = "first" if self._before is None else "later"
        text = self._voice.say("room", kind, space.id, room=self._wording.the(space.name), story=sentences(space.story))
        return Item(about("room", space.id), text, photographs=photographs[:20], shot=shot_of(self._project, ()))

    def _sight(self, space: Space) -> Iterator[Item]:
        seen = sights(self._house, self._walks, space.id, self._before)
        if not seen:
            return
        first = seen[0]
        beside = next((one for one in seen[1:] if one.where != first.where and one.large > first.large / 8), None)
        kind = "ahead" if first.where == "ahead" else "side"
        if beside is not None:
            kind = f"{kind}_and_more" if "ahead" in (first.where, beside.where) else "both_sides"
        the = self._wording.the
        text = self._voice.say(
            "sight",
            kind,
            space.id,
            a=the(first.name),
            b=the(beside.name) if beside is not None else "",
            where=first.where,
            side=beside.where if beside is not None else "",
        )
        ids = [one.id for one in (first, beside) if one is not None]
        things = tuple(id for id in ids if id in self._project.things_by_id)
        shot = shot_of(self._project, things).model_copy(update={"size": "wide", "subjects": tuple(ids)})
        yield Item(about("sight", space.id), text, things=things, shot=shot)

    def _size(self, space: Space) -> Iterator[Item]:
        if space.id not in self._large:
            return
        area = self._binding.field("area", "room", space)
        ceiling = self._binding.field("ceiling", "room", space)
        if area:
            kind = "area_and_ceiling" if ceiling else "area"
            text = self._voice.say("size", kind, space.id, area=area, ceiling=ceiling)
            yield Item(about("size", space.id), text, shot=shot_of(self._project, ()))

    def _underfoot(self, space: Space, told_finishes: Sequence[str]) -> Iterator[Item]:
        finish = next((one for one in self._project.finishes if one.id == space.floor_finish), None)
        changed = finish is not None and finish.id != self._floor
        if finish is None:
            self._floor = None
            return
        again, self._floor = finish.id in self._floors, finish.id
        self._floors.add(finish.id)
        if changed and finish.id not in told_finishes:
            words = self._wording.clause(finish.material or finish.name)
            if again:
                words = words.partition(",")[0]
            text = self._voice.say("floor", "again" if again else "new", space.id, x=words)
            yield Item(about("floor", space.id), text, shot=shot_of(self._project, ()))
