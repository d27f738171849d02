"""The order in which the rooms are told, the walks between them, and the order with the least walking back."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight, number_of, text_of
from enfilade.capture.telling import far_words, time_words, told_now
from enfilade.checks.view import House
from enfilade.editing.forms.called import row_title
from enfilade.editing.forms.script_lines import with_stop_in_part, with_stop_moved
from enfilade.editing.parts import part_of_each, stops_by_part, with_parts_named, without_needless
from enfilade.errors import NotFound, Refused
from enfilade.listing import joined
from enfilade.project.project import Project
from enfilade.walkthrough.pages import StopPart, TalkPart
from enfilade.walkthrough.route import Leg, Route, best_route, legs_of, with_route
from enfilade.walkthrough.walking import HouseWalks

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "route"
_KEPT: Final = "route"
_LEAST_MM: Final = 300.0
"""Less walking than this saved is no reason to tell a house in another order (own choice)."""


@dataclass(frozen=True)
class _Walked:
    """A told order: what is walked, and the rooms that are walked through again."""

    length_mm: float
    again: tuple[str, ...]
    order: tuple[str, ...]


@dataclass(frozen=True)
class _Known:
    """The best route of a house, and what it was worked out from; with what is walked in the order of the script."""

    key: tuple[Any, ...]
    route: Route
    told: tuple[Any, ...] = ()
    now: _Walked = _Walked(0.0, (), ())
    then: _Walked = _Walked(0.0, (), ())


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the rooms in told order with the walks between them, and the proposed order where it is shorter."""
    project = desk.project
    if not project.spaces:
        return {"nothing": "The order of the rooms stands here once rooms are drawn."}
    told = told_now(desk, sight)
    names = {space.id: space.name for space in project.spaces}
    known = _known(sight, told.telling.house)
    now, route = known.now, known.route
    stops = [(part, stop) for part in told.spoken.parts for stop in part.stops]
    parts = dict(zip((stop.id for stop in project.script), part_of_each(project), strict=True))
    return {
        "stops": [
            _stop(project, part, stop, parts[stop.id], first=not at, last=at == len(stops) - 1)
            for at, (part, stop) in enumerate(stops)
        ],
        "parts": [{"value": one.id, "label": row_title(one, at)} for at, one in enumerate(project.show.speaking.parts)],
        "words": _in_words(now, names, project) if stops else "",
        "untold": [names[id] for id in told.telling.order if id not in {stop.space for stop in project.script}],
        "proposal": _proposal(project, known, names) if stops else None,
        "begin": "" if stops else f"One would walk {_listed([names[id] for id in route.order])}.",
        "notes": list(route.words),
    }


def _stop(
    project: Project, part: TalkPart, stop: StopPart, own: str | None, *, first: bool, last: bool
) -> dict[str, Any]:
    walk = f"{far_words(stop.walk_mm, project.show.units)}, {time_words(stop.walk_s)}" if stop.walk_mm else ""
    return {
        "id": stop.id,
        "name": stop.name,
        "part": own or "",
        "way": stop.way,
        "walk": walk,
        "time": time_words(stop.seconds),
        "first": first,
        "last": last,
    }


def _walked(walks: HouseWalks, project: Project) -> _Walked:
    """Return what is walked when the stops are told in their order, part after part."""
    order = [stop.space for talk in stops_by_part(project) for stop in talk.stops]
    order = [space for at, space in enumerate(order) if at == 0 or space != order[at - 1]]
    legs = legs_of(walks, order)
    return _Walked(sum(leg.length_mm or 0.0 for leg in legs), _again(order, legs), tuple(order))


def _again(order: list[str], legs: tuple[Leg, ...]) -> tuple[str, ...]:
    """Return the rooms that one walks through after they were told, once for each time."""
    seen: set[str] = set(order[:1])
    found = []
    for leg in legs:
        found += [id for id in leg.through if id in seen]
        found += [leg.end] if leg.end in seen else []
        seen.add(leg.end)
    return tuple(found)


def _known(sight: Sight, house: House) -> _Known:
    """Return the route with the least walking, and what is walked now; worked out again only when those change."""
    project, speaking = house.project, house.project.show.speaking
    key = (project.spaces, project.openings, project.things, speaking.first, speaking.last)
    known = sight.kept.get(_KEPT)
    if not isinstance(known, _Known) or any(a is not b for a, b in zip(known.key, key, strict=True)):
        known = _Known(key, best_route(house))
    told = (tuple(part.id for part in speaking.parts), tuple((s.id, s.space, s.part) for s in project.script))
    if known.told != told:
        walks = HouseWalks(house)
        then = _walked(walks, with_route(project, known.route))
        known = replace(known, told=told, now=_walked(walks, project), then=then)
    sight.kept[_KEPT] = known
    return known


def _proposal(project: Project, known: _Known, names: dict[str, str]) -> dict[str, Any] | None:
    saved_mm = known.now.length_mm - known.then.length_mm
    if saved_mm < _LEAST_MM:
        return None
    saved = far_words(saved_mm, project.show.units)
    return {
        "words": f"Proposed: {_listed([names[id] for id in known.then.order])}. It saves {saved} of walking back.",
        "then": _in_words(known.then, names, project),
        "within": bool(project.show.speaking.parts),
    }


def _in_words(walked: _Walked, names: dict[str, str], project: Project) -> str:
    far = far_words(walked.length_mm, project.show.units)
    if not walked.again:
        return f"{far} are walked in all; no room is passed again."
    again = [names[id] for id in dict.fromkeys(walked.again)]
    passed = f"{joined(again)} {'are' if again[1:] else 'is'} passed again"
    times = f", {len(walked.again)} times in all" if len(walked.again) > len(again) else ""
    return f"{far} are walked in all. {passed}{times}."


def _listed(words: list[str]) -> str:
    return f"{', '.join(words[:-1])}, then {words[-1]}" if len(words) > 1 else "".join(words)


def _move(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Move a stop up or down in the order in which the house is told."""
    id, by = text_of(message, "stop", longest=64), int(number_of(message, "by"))
    project = _in_told_order(desk.project)
    at = next((at for at, stop in enumerate(project.script) if stop.id == id), None)
    if at is None:
        raise NotFound("this stop is not there any more", do="load the page again")
    to = min(max(at + by, 0), len(project.script) - 1)
    name = _name(desk.project, id)
    if to == at:
        return f"{name} stands there already"
    desk.change(f"told {name} in another place", with_stop_moved(project, id, to))
    return f"{name} is told as number {to + 1} of {len(project.script)}"


def _in_told_order(project: Project) -> Project:
    """Return the project with its stops in the order in which they are told, so that a place is a place of that."""
    told = [stop.id for talk in stops_by_part(project) for stop in talk.stops]
    if told == [stop.id for stop in project.script]:
        return project
    named = {stop.id: stop for stop in with_parts_named(project)}
    return project.with_records(script=without_needless([named[id] for id in told]))


def _part(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    id, part = text_of(message, "stop", longest=64), text_of(message, "part", longest=64)
    project = with_stop_in_part(desk.project, id, part)
    at, found = next((at, one) for at, one in enumerate(project.show.speaking.parts) if one.id == part)
    desk.change(f"told {_name(project, id)} in another part", project)
    return f"{_name(project, id)} is told in {row_title(found, at)}"


def _take(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Take the proposed route."""
    project = desk.project
    changed = with_route(project, _known(sight, told_now(desk, sight).telling.house).route)
    if changed is project:
        raise Refused("the rooms are told in this order already")
    desk.change("took the proposed route", changed)
    return "The rooms are told in the proposed order"


def _name(project: Project, id: str) -> str:
    stop = next((one for one in project.script if one.id == id), None)
    if stop is None:
        raise NotFound("this stop is not there any more", do="load the page again")
    return project.space(stop.space).name


HANDLERS: Final = {"move stop": _move, "stop in part": _part, "take route": _take}
