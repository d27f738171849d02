"""A first draft of the script, composed from the record."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from enfilade.checks.view import House
from enfilade.editing.ids import new_id
from enfilade.editing.parts import stops_by_part
from enfilade.findings import Finding
from enfilade.project.choices import Decision
from enfilade.project.project import Project
from enfilade.project.speaking import Part, Stop
from enfilade.script.figures import Figures
from enfilade.trade.speech import word_count
from enfilade.walkthrough.cutting import weights_of
from enfilade.walkthrough.drafting.binding import Binding
from enfilade.walkthrough.drafting.decided import DecisionDraft
from enfilade.walkthrough.drafting.items import Item, about
from enfilade.walkthrough.drafting.joining import Joins, joins
from enfilade.walkthrough.drafting.merging import Redraft
from enfilade.walkthrough.drafting.rooms import RoomDraft
from enfilade.walkthrough.drafting.shortfalls import shortfalls
from enfilade.walkthrough.drafting.voice import Voice
from enfilade.walkthrough.drafting.wording import Wording
from enfilade.walkthrough.order import room_order

__all__ = ["drafted"]


def drafted(project: Project, findings: Iterable[Finding]) -> Project:
    """Return the project with a draft of its script, told as a person would who stands in each room.

    Each room tells what it is for, what one sees first, what was chosen over what and why, what was changed on site,
    what fell short and was accepted with its reason, and what is still open and with whom; parts are joined by a
    recap and a lead-in. Free text of the record is quoted as sentences; numbers are bound fields. The same record
    gives the same draft. Rooms without a stop get one, in the order in which they are told.

    What a person wrote, changed or took out stays so (see `Redraft`); drafting again changes nothing. A stop that was
    taken out as a whole, or emptied, stays so: the line that every room begins with was left out then, and nothing else
    is put there, new decisions neither.

    Args:
        project: The whole record.
        findings: What `check` found on it.
    """
    found = tuple(findings)
    house = House(project)
    weights, wording = weights_of(project, found), Wording(project)
    told = _told(house, found, weights, wording)
    stops = _stops(project, told)
    joined = _joined(project, stops, list(told), weights, wording)
    redraft = Redraft(
        project,
        [
            *(item for items in told.values() for item in items),
            *(item for one in joined.values() for item in (*one.recap, *one.lead_in)),
        ],
    )
    first: set[str] = set()
    script = []
    for stop in stops:
        script.append(redraft.stop(stop, told[stop.space] if stop.space not in first and not _emptied(stop) else ()))
        first.add(stop.space)
    parts = tuple(redraft.part(part, joined[part.id]) for part in project.show.speaking.parts)
    return _changed(project, tuple(script), parts)


def _changed(project: Project, script: tuple[Stop, ...], parts: tuple[Part, ...]) -> Project:
    speaking = project.show.speaking
    if parts != speaking.parts:
        show = project.show.model_copy(update={"speaking": speaking.model_copy(update={"parts": parts})})
        project = project.model_copy(update={"show": show})
        return project.with_records(script=script)
    return project if script == project.script else project.with_records(script=script)


def _told(
    house: House, findings: Sequence[Finding], weights: Mapping[str, float], wording: Wording
) -> dict[str, list[Item]]:
    """Return what is told in each room, rooms in the order in which they are told."""
    project = house.project
    order = room_order(house)
    here: dict[str | None, list[Finding]] = defaultdict(list)
    for finding in findings:
        here[finding.space].append(finding)
    homes: dict[str, list[Decision]] = defaultdict(list)
    for decision in sorted(project.decisions, key=lambda one: (one.status == "undecided", one.number)):
        homes[_home(decision, order)].append(decision)
    voice, binding = Voice(), Binding(Figures(project, findings))
    rooms = RoomDraft(house, voice, wording, binding)
    decisions = DecisionDraft(project, weights, voice, wording, binding)
    told: dict[str, list[Item]] = {}
    for id in order:
        settled = [one for one in homes[id] if one.status != "undecided"]
        chosen = [finish for one in settled if one.chosen is not None for finish in one.chosen.finishes]
        items = list(rooms.of(house.spaces[id], chosen))
        items += [item for one in settled for item in decisions.of(one, id)]
        items += shortfalls(project, here[id], id, voice, wording, binding)
        items += [item for one in homes[id] if one.status == "undecided" for item in decisions.of(one, id)]
        told[id] = items
    return told


def _home(decision: Decision, order: Sequence[str]) -> str:
    """Return the room in which a decision is told: the first that it is about, or where the walk begins."""
    return next((id for id in decision.spaces if id in order), order[0] if order else "")


def _stops(project: Project, told: Mapping[str, Sequence[Item]]) -> list[Stop]:
    """Return the stops with one for each room that has none; a house without any is dealt out over its parts."""
    stops = list(project.script)
    taken, stopped = {stop.id for stop in stops}, {stop.space for stop in stops}
    left_out = {one for stop in stops for one in stop.left_out}
    parts = iter(()) if stops else _dealt(project, told)
    for space in told:
        if space not in stopped and about("room", space) not in left_out:
            id = new_id(f"stop {space}", taken)
            taken.add(id)
            stops.append(Stop(id=id, space=space, part=next(parts, None)))
    return stops


def _emptied(stop: Stop) -> bool:
    return not stop.lines and about("room", stop.space) in stop.left_out


def _dealt(project: Project, told: Mapping[str, Sequence[Item]]) -> Iterator[str | None]:
    """Yield for each room in turn the part that begins with it, so that parts take about equally long; else None."""
    parts = project.show.speaking.parts
    words = [sum(word_count(item.text) for item in items) for items in told.values()]
    begun, said = 0, 0
    for count in words:
        here = min(len(parts) - 1, int(len(parts) * (said + count / 2) / max(sum(words), 1))) if parts else -1
        # No part stays without a room while there are rooms.
        here = min(here, begun)
        yield parts[here].id if here == begun and parts else None
        begun = max(begun, here + 1)
        said += count


def _joined(
    project: Project, stops: Sequence[Stop], order: Sequence[str], weights: Mapping[str, float], wording: Wording
) -> dict[str, Joins]:
    talks = stops_by_part(project.model_copy(update={"script": tuple(stops)}))
    rooms = [(talk.part, list(dict.fromkeys(stop.space for stop in talk.stops))) for talk in talks if talk.part]
    weightiest = {}
    for part, spaces in rooms:
        # What is still open is nothing to keep in mind as decided.
        told = [one for one in project.decisions if one.status != "undecided" and _home(one, order) in spaces]
        if told:
            weightiest[part.id] = max(told, key=lambda one: (weights[one.id], -one.number))
    return joins(project, rooms, weightiest, Voice(), wording)
