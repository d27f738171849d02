"""This house beside others, or beside its own earlier versions."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, Final

from enfilade.capture.archives import Seen, opened, plain_seen, seen
from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight, text_of
from enfilade.errors import Refused
from enfilade.times import when_words

if TYPE_CHECKING:
    from enfilade.archive.versions import KeptProject

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "comparison"
MOST_OTHERS: Final = 5
_KEPT: Final = "comparison"
_NAMED: Final = "houses named"
_AT_ONCE: Final = 8
_VERSIONS: Final = 12
_LONG: Final = 600
_KEY: Final = re.compile(r"[a-z0-9][a-z0-9-]{0,63}@[0-9]{1,9}")


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return what the house of now can be held beside, and how they compared when that was asked last."""
    archive = seen(sight)
    state = {**plain_seen(sight), "most": MOST_OTHERS, "name": desk.project.name, "versions": [], "houses": []}
    if archive is None:
        return state | {"compared": None}
    named = str(sight.kept.get(_NAMED, ""))
    others = [one for one in archive.projects if one.id != desk.project.id]
    met = [one for one in others if named.casefold() in one.name.casefold()]
    kept = sight.kept.get(_KEPT)
    return {
        **state,
        "versions": [
            {
                "key": f"{one.project}@{one.number}",
                "words": f"Version {one.number}, {when_words(one.on)}",
                "why": one.why,
            }
            for one in reversed(archive.versions)
        ][:_VERSIONS],
        "houses": [_house(one) for one in met[:_AT_ONCE]],
        "named": named,
        "many": len(others) > _AT_ONCE,
        "counted": _counted(min(len(met), _AT_ONCE), len(met), named),
        "compared": None if kept is None else {**kept[1], "stale": kept[0] is not desk.project},
    }


def _counted(shown: int, met: int, named: str) -> str:
    """Return how many houses stand there of how many; empty where it is all of them."""
    called = " that are called so" if named else ""
    if shown < met:
        return f"The first {shown} of {met:,} houses{called} are listed by name; type more of the name to find others."
    if named:
        return f"{met:,} house{' is' if met == 1 else 's are'} called so." if met else "No house is called so."
    return ""


def _house(one: KeptProject) -> dict[str, Any]:
    numbers = range(one.latest, max(0, one.latest - _VERSIONS), -1)
    return {
        "id": one.id,
        "name": one.name,
        "versions": [
            {"key": f"{one.id}@{number}", "words": f"{one.name}, version {number}", "short": f"version {number}"}
            for number in numbers
        ],
    }


def _compare(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Hold the house of now beside what was chosen."""
    from enfilade.archive.comparing import compare

    keys = message.get("others")
    if not isinstance(keys, list) or not all(isinstance(one, str) and _KEY.fullmatch(one) for one in keys):
        raise Refused("the page sent no houses to compare", do="load the page again")
    keys = list(dict.fromkeys(keys))
    if not 1 <= len(keys) <= MOST_OTHERS:
        raise Refused(f"{len(keys) or 'nothing'} is chosen to compare with", expected=f"1 to {MOST_OTHERS}")
    house = desk.project
    with opened(sight) as store:
        compared = compare([house, *keys], store, sight.progress)
    sight.kept[_KEPT] = house, _short(compared.as_json())
    return f"Compared with {len(keys)}"


def _short(plain: dict[str, Any]) -> dict[str, Any]:
    """Return a comparison whose cells are short enough to be read on a page."""
    for table in plain["tables"]:
        table["rows"] = [[one if len(one) <= _LONG else f"{one[:_LONG]}…" for one in row] for row in table["rows"]]
    return plain


def _name(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sight.kept[_NAMED] = text_of(message, "named", longest=200).strip()
    archive = seen(sight)
    return _met(desk, archive, str(sight.kept[_NAMED])) if archive else ""


def _met(desk: Desk, archive: Seen, named: str) -> str:
    count = sum(named.casefold() in one.name.casefold() for one in archive.projects if one.id != desk.project.id)
    return f"{count:,} house{' is' if count == 1 else 's are'} called so"


def _leave(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sight.kept.pop(_KEPT, None)
    return "The comparison is put away"


HANDLERS: Final = {"compare houses": _compare, "name houses": _name, "leave comparison": _leave}
