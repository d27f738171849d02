"""What joins the parts of a telling: what the part before told, and what the next one tells."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from enfilade.listing import joined
from enfilade.project.choices import Decision
from enfilade.project.project import Project
from enfilade.project.speaking import Part
from enfilade.walkthrough.drafting.items import Item, about, heard_by, shot_of
from enfilade.walkthrough.drafting.voice import Voice
from enfilade.walkthrough.drafting.wording import Wording

__all__ = ["Joins", "joins"]

_ROOMS_NAMED = 6


@dataclass(frozen=True)
class Joins:
    """What is said first and last in one part."""

    recap: tuple[Item, ...]
    lead_in: tuple[Item, ...]


def joins(
    project: Project,
    rooms: Sequence[tuple[Part, Sequence[str]]],
    weightiest: Mapping[str, Decision],
    voice: Voice,
    wording: Wording,
) -> dict[str, Joins]:
    """Return what joins each part to its neighbours, by the id of the part; a part alone is joined to nothing.

    Args:
        project: The house.
        rooms: Each part with the ids of its rooms, in the order in which they are told.
        weightiest: By id of a part, the decision told in it that matters most.
        voice, wording: How it is said.
    """
    found = {}
    for at, (part, here) in enumerate(rooms):
        before = rooms[at - 1] if at else None
        after = rooms[at + 1] if at + 1 < len(rooms) else None
        found[part.id] = Joins(
            tuple(_recap(project, part, before, weightiest, voice, wording)) if before and here else (),
            tuple(_lead_in(project, part, after, voice, wording)) if after and here else (),
        )
    return found


def _recap(
    project: Project,
    part: Part,
    before: tuple[Part, Sequence[str]],
    weightiest: Mapping[str, Decision],
    voice: Voice,
    wording: Wording,
) -> list[Item]:
    earlier, spaces = before
    items = []
    if spaces:
        text = voice.say("recap", "rooms", part.id, rooms=_named(project, spaces, wording))
        items.append(Item(about("recap", part.id, "rooms"), text, shot=shot_of(project, ())))
    decision = weightiest.get(earlier.id)
    if decision is not None and decision.title.strip():
        text = voice.say("recap", "decision", part.id, x=wording.clause(decision.title))
        things = tuple(id for id in decision.things if id in project.things_by_id)[:20]
        items.append(
            Item(
                about("recap", part.id, "decision"),
                text,
                things=things,
                decisions=(decision.id,),
                shot=shot_of(project, things),
                hear=heard_by(decision.hear),
            )
        )
    return items


def _lead_in(
    project: Project, part: Part, after: tuple[Part, Sequence[str]], voice: Voice, wording: Wording
) -> list[Item]:
    if not after[1]:
        return []
    text = voice.say("lead_in", "rooms", part.id, rooms=_named(project, after[1], wording))
    return [Item(about("lead-in", part.id, "rooms"), text, shot=shot_of(project, ()))]


def _named(project: Project, spaces: Sequence[str], wording: Wording) -> str:
    names = [wording.the(project.space(id).name) for id in spaces]
    if len(names) > _ROOMS_NAMED:
        return f"{', '.join(names[:_ROOMS_NAMED])}, and more"
    return joined(names)
