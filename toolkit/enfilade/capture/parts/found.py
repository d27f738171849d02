"""All that was kept, looked through by words and by number: what was found, where it stands, and how it was read."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from enfilade.capture.archives import opened, plain_seen, seen
from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight, text_of
from enfilade.errors import EnfiladeError, Refused
from enfilade.listing import capital
from enfilade.times import day_words

if TYPE_CHECKING:
    from enfilade.archive.finding import Answers, Hit
    from enfilade.archive.store import Store

__all__ = ["HANDLERS", "NAME", "QUIET", "shown"]

NAME: Final = "found"
_KEPT: Final = "found"
_LONGEST: Final = 2000
_LONG: Final = 420
_AT_ONCE: Final = 20
_MOST: Final = 200
_PLANS_AT_ONCE: Final = 6
_NAMED: Final = 10
_FACETS: Final = {"kind": "What", "use": "Room", "project": "House", "state": "State"}
"""What an answer can be narrowed by, as the finding calls it, and as it is headed."""


@dataclass(frozen=True)
class _Asked:
    """What was looked for."""

    words: str
    kind: str = ""
    use: str = ""
    project: str = ""
    state: str = ""
    past: bool = False
    limit: int = _AT_ONCE


@dataclass(frozen=True)
class _Found:
    asked: _Asked
    answers: Answers
    days: dict[tuple[str, int], dt.date]
    names: dict[str, str]
    number: int


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return what was looked for and what was found."""
    found = sight.kept.get(_KEPT)
    archive = seen(sight)
    state = {**plain_seen(sight), "houses": _houses(len(archive.projects)) if archive else "", "found": None}
    return state | {"found": _plain(desk, found)} if isinstance(found, _Found) else state


def _houses(count: int) -> str:
    return f"{count:,} house{'' if count == 1 else 's'}"


def _plain(desk: Desk, found: _Found) -> dict[str, Any]:
    answers, asked = found.answers, found.asked
    return {
        "number": found.number,
        "words": asked.words,
        "past": asked.past,
        "count": _count(answers),
        "read_as": [*answers.read_as, *([answers.understood] if answers.understood else [])],
        "facets": [_facet(found, name, title) for name, title in _FACETS.items() if _narrows(found, name)],
        "narrowed": any((asked.kind, asked.use, asked.project, asked.state)),
        "hits": [_hit(desk, found, one) for one in answers.hits],
        "more": len(answers.hits) < answers.total and asked.limit < _MOST,
        "ended": len(answers.hits) < answers.total and asked.limit >= _MOST,
    }


def _count(answers: Answers) -> str:
    if not answers.total:
        return "Nothing was found."
    about = "About " if answers.about else ""
    shown = f", the best {len(answers.hits):,} first" if len(answers.hits) < answers.total else ""
    return f"{about}{answers.total:,} found{shown}."


def _narrows(found: _Found, name: str) -> bool:
    """Tell whether there is anything to choose: two values, or one by which it was narrowed."""
    counted = found.answers.facets.get(name, ())
    return bool(getattr(found.asked, name)) or (len(counted) > 1 and any(value for value, _ in counted))


def _facet(found: _Found, name: str, title: str) -> dict[str, Any]:
    chosen = getattr(found.asked, name)
    options = [
        {"value": value, "label": _label(found, name, value), "count": f"{count:,}", "on": value == chosen}
        for value, count in found.answers.facets[name]
        if value
    ]
    return {"name": name, "title": title, "first": options[:_NAMED], "more": options[_NAMED:]}


def _label(found: _Found, name: str, value: str) -> str:
    from enfilade.archive.finding import state_words

    if name == "state":
        return state_words(value)
    return found.names.get(value, value) if name == "project" else value.replace("_", " ")


def _hit(desk: Desk, found: _Found, one: Hit) -> dict[str, Any]:
    from enfilade.archive.finding import state_words

    day = found.days.get((one.project, one.version))
    text = one.text if len(one.text) <= _LONG else f"{one.text[:_LONG]}…"
    here = one.project == desk.project.id and any(space.id == one.space for space in desk.project.spaces)
    version = f"version {one.version}" + (f" of {day_words(day)}" if day else "")
    return {
        "key": f"{one.project}/{one.kind}/{one.id}/{one.space}/{one.version}",
        "kind": capital(one.kind),
        "state": state_words(one.state).replace("_", " "),
        "text": text,
        "name": one.name,
        "room": one.room,
        "space": one.space if here else "",
        "version": version,
        "past": one.until is not None,
        "planned": bool(one.space),
    }


def _find(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Look for words that were typed, in all that was kept."""
    words = text_of(message, "words", longest=_LONGEST).strip()
    if not words:
        raise Refused("no words are typed", do="type what is looked for")
    return _count(_look(sight, _Asked(words, past=message.get("past") is True)).answers)


def _narrow(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Narrow what was found to one kind, room, house or state; the same again widens it."""
    asked = _last(sight).asked
    name, value = text_of(message, "facet", longest=20), text_of(message, "value", longest=_LONGEST)
    if name not in _FACETS:
        raise Refused("the page sent no facet", do="load the page again")
    now = "" if getattr(asked, name) == value else value
    narrowed: dict[str, Any] = {name: now, "limit": _AT_ONCE}
    return _count(_look(sight, replace(asked, **narrowed)).answers)


def _widen(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    asked = _last(sight).asked
    return _count(_look(sight, _Asked(asked.words, past=asked.past)).answers)


def _more(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    asked = _last(sight).asked
    found = _look(sight, replace(asked, limit=min(_MOST, asked.limit * 2 + _AT_ONCE)))
    return f"{len(found.answers.hits)} are shown"


def _clear(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sight.kept.pop(_KEPT, None)
    return "Nothing is looked for"


def _last(sight: Sight) -> _Found:
    found = sight.kept.get(_KEPT)
    if not isinstance(found, _Found):
        raise Refused("nothing is looked for any more", do="type what is looked for")
    return found


def _look(sight: Sight, asked: _Asked) -> _Found:
    from enfilade.archive.finding import find

    sight.progress("looking through what was kept")
    with opened(sight) as store:
        answers = find(
            store, asked.words, kinds=(asked.kind,) if asked.kind else (), use=asked.use, project=asked.project,
            state=asked.state, past=asked.past, limit=asked.limit,
        )  # fmt: skip
        days = dict(_days(store, {one.project for one in answers.hits}))
        names = {one.id: one.name for one in store.projects()}
    before = sight.kept.get(_KEPT)
    number = before.number + 1 if isinstance(before, _Found) else 1
    found = sight.kept[_KEPT] = _Found(asked, answers, days, names, number)
    return found


def _days(store: Store, projects: Iterable[str]) -> Iterable[tuple[tuple[str, int], dt.date]]:
    for project in projects:
        for version in store.versions(project):
            yield (project, version.number), version.on.astimezone().date()


def _plans(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return the plans of some of what was found; asked for a few at a time, so that the page goes on meanwhile."""
    from enfilade.archive.finding import plan_of

    found, keys = _last(sight), message.get("keys")
    if not isinstance(keys, list):
        raise Refused("the page sent no results", do="load the page again")
    wanted = {key for key in keys[:_PLANS_AT_ONCE] if isinstance(key, str)}
    plans = dict.fromkeys(wanted, "")
    with opened(sight) as store:
        for one in found.answers.hits:
            key = _hit(desk, found, one)["key"]
            if key in wanted:
                try:
                    plans[key] = plan_of(store, one)
                except EnfiladeError:
                    continue  # What is damaged has no plan; the sentence still stands.
    return {"say": "", "plans": plans}


HANDLERS: Final = {
    "find": _find,
    "narrow found": _narrow,
    "widen found": _widen,
    "more found": _more,
    "clear found": _clear,
    "plans of found": _plans,
}
QUIET: Final = ("plans of found",)
