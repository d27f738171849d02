"""What was learnt on other houses and comes back on this one: taken up, dismissed with a reason, or made a rule."""

from __future__ import annotations

import datetime as dt
import re
from typing import TYPE_CHECKING, Any, Final

from enfilade.capture.archives import Seen, look, opened, plain_seen, seen, turn
from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.quoting import quoted
from enfilade.errors import BadRecord, EnfiladeError, Fault, NotFound, Refused
from enfilade.listing import capital
from enfilade.times import day_here

if TYPE_CHECKING:
    from enfilade.archive.lessons import Answered, Proposal, Reminder

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "lessons"
_KEPT: Final = "lessons"
_LEFT: Final = "rule left"
_WHO: Final = "who keeps"
_LONGEST: Final = 20_000
_LONG: Final = 1500
_REASONS: Final = 3
_SAID: Final = {"accepted": "Accepted", "dismissed": "Dismissed", "house rule": "Made a house rule"}
_RANGE: Final = re.compile(r"\s*(?P<low>\S.*?)\s*(?:,|\bto\b)\s*(?P<high>\S.*?)\s*")


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the lessons that wait for an answer, and those that have one; on another act's page how many wait."""
    archive = seen(sight)
    state = {**plain_seen(sight), "short": sight.act != "keep", "asked": False, "waiting": [], "answered": []}
    told = sight.kept.get(_KEPT)
    if archive is None or told is None or told[0] != (turn(sight), archive.id):
        return state
    reminders: tuple[Reminder, ...] = told[1]
    waiting = [one for one in reminders if one.open]
    if sight.act != "keep":
        return state | {"asked": True, "count": len(waiting)}
    return {
        **state,
        "asked": True,
        "count": len(waiting),
        "kept": bool(archive.versions),
        "waiting": [_plain(one) for one in waiting],
        "answered": [_plain(one) for one in reminders if not one.open],
        "stale": told[2] is not desk.project,
        "left": str(sight.kept.get(_LEFT, "")),
    }


def _plain(one: Reminder) -> dict[str, Any]:
    number = f"decision {one.lesson.number}, " if one.lesson.number else ""
    return {
        "id": one.id,
        "text": _cut(one.lesson.text),
        "where": f"{one.name}: {number}{one.lesson.title}; kept in version {one.version} of {day_here(one.on)}",
        "choice": _cut(one.lesson.choice),
        "reasons": [_cut(reason.why) for reason in one.reasons[:_REASONS]],
        "answered": _answered(one.answered),
        "offers": [_offer(each) for each in one.offers],
    }


def _cut(text: str) -> str:
    return text if len(text) <= _LONG else f"{text[:_LONG]}…"


def _answered(one: Answered | None) -> str:
    if one is None:
        return ""
    on = day_here(dt.datetime.fromisoformat(one.on))
    words = [_SAID.get(one.kind, one.kind), f"by {one.who}" if one.who else "", on]
    return ", ".join(part for part in words if part) + (f": {_cut(one.reason)}" if one.reason else "")


def _offer(one: Proposal) -> dict[str, str]:
    measured = f"; where the lesson was learnt: {one.measured}" if one.measured else ""
    return {
        "row": one.row,
        "label": f"{one.title} ({one.row})",
        "published": f"Published: {one.published}{measured}",
        "unit": one.unit,
    }


def _find(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Look for lessons that bear on the house as it is now."""
    archive = _archive(sight)
    again = message.get("again") is True
    told = sight.kept.get(_KEPT)
    if told is not None and told[0] == (turn(sight), archive.id) and not again:
        return ""
    _remind(desk, sight, archive)
    return "Looked for lessons again" if again else ""


def _archive(sight: Sight) -> Seen:
    archive = seen(sight)
    if archive is None or archive.trouble:
        raise Refused("the archive is not open", do="look at it again")
    return archive


def _remind(desk: Desk, sight: Sight, archive: Seen) -> None:
    from enfilade.archive.lessons import reminders
    from enfilade.archive.stated import stated

    told: tuple[Reminder, ...] = ()
    if archive.there:
        sight.progress("looking for lessons")
        with opened(sight) as store:
            told = reminders(store, stated(desk.project, desk.findings()))
    sight.kept[_KEPT] = ((turn(sight), archive.id), told, desk.project)


def _look_again(desk: Desk, sight: Sight) -> None:
    # An answer stands in the archive: so that the page need not ask, both are looked at at once.
    _remind(desk, sight, look(desk, sight))


def _answer(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Accept a lesson, or dismiss it with a reason."""
    from enfilade.archive.lessons import answer, rule_left

    id, kind = text_of(message, "id", longest=_LONGEST), text_of(message, "kind", longest=20)
    reason = text_of(message, "reason", longest=_LONGEST)
    _reminder(sight, id)
    if kind not in ("accepted", "dismissed"):
        raise Refused("the page sent no answer", do="load the page again")
    if kind == "dismissed" and not reason.strip():
        raise _at("reason", "a lesson is not dismissed without a reason", "why it does not hold here")
    with opened(sight) as store:
        left = rule_left(store, desk.folder.resolve(), desk.project.id, id)
        answer(store, desk.project.id, id, kind, reason, _who(desk, sight))
    _look_again(desk, sight)
    sight.kept[_LEFT] = left
    return f"{_SAID[kind]}. It is kept with this house in the archive{f'. {left}' if left else ''}"


def _rule(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Make a lesson a house rule, stricter than what is published."""
    from enfilade.archive.lessons import make_rule

    id, row = text_of(message, "id", longest=_LONGEST), text_of(message, "row", longest=200)
    typed = text_of(message, "value", longest=200).strip()
    if row not in {one.row for one in _reminder(sight, id).offers}:
        raise NotFound("this rule is not offered any more", do="load the page again")
    with opened(sight) as store:
        try:
            make_rule(store, desk.folder, id, row, _value(typed), _who(desk, sight))
        except BadRecord as error:
            fault = error.faults[0]
            raise _at("value", fault.what, fault.expected) from error
        except EnfiladeError as error:
            raise _at("value", error.what, error.expected or error.do) from error
    desk.judge_again()
    _look_again(desk, sight)
    return f"{row} is a house rule now. It stands in the studio's file of this house, and its findings are made by it"


def _value(typed: str) -> Any:
    """Return a value as a rule takes it: a number, a length, or two of them."""
    both = _RANGE.fullmatch(typed)
    if both is not None:
        return _one(both["low"]), _one(both["high"])
    return _one(typed)


def _one(typed: str) -> float | str:
    if not typed:
        raise _at("value", "no value is typed", "a number in the unit of the published one, or a length")
    try:
        number = float(typed)
    except ValueError:
        return typed
    return int(number) if number.is_integer() and abs(number) < 1e9 else number


def _reminder(sight: Sight, id: str) -> Reminder:
    told = sight.kept.get(_KEPT)
    for one in told[1] if told is not None else ():
        if one.id == id:
            found: Reminder = one
            return found
    raise NotFound(f"the lesson {quoted(id, 60)} is not told any more", do="look again")


def _who(desk: Desk, sight: Sight) -> str:
    return str(sight.kept.get(_WHO, "") or desk.project.show.studio.designer or "")[:400]


def _at(place: str, what: str, expected: str) -> BadRecord:
    return BadRecord("lesson", [Fault(place, capital(what), expected)])


HANDLERS: Final = {"look for lessons": _find, "answer lesson": _answer, "make rule": _rule}
