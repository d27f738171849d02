"""Counts that were typed into a line: seats, people, stools, windows."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final, Literal

from enfilade.project.surfaces import Surface
from enfilade.script.counting import count_in, noun, plural, seats_at
from enfilade.script.figures import Figures
from enfilade.script.index import Subject, plain
from enfilade.script.mentions import named_in
from enfilade.script.typed import Typed
from enfilade.script.typed_numbers import Token

__all__ = ["counted_claim"]

Found = tuple[str, Literal["agrees", "contradicts", "not compared"], str]

_PEOPLE: Final = frozenset({"people", "persons", "guests", "diners"})
_LIVE: Final = re.compile(
    r"\b(lives? here|household|family of|live in (?:it|this|the) house|people live)\b", re.IGNORECASE
)
_COOK: Final = re.compile(r"\bcooks?\b", re.IGNORECASE)
_EAT: Final = re.compile(
    r"\b(sits?|sit down|seats?|seated|seating|eats?|dines?|dinner|dinners|supper|gathers?|gathering|sundays?)\b",
    re.IGNORECASE,
)
_ALL: Final = frozenset({"the", "all", "these", "those", "our", "its", "their"})
_OF_A_THING: Final = {"burner": "burners", "bowl": "bowls", "drawer": "drawers", "shelf": "shelves", "bin": "bins"}
_JOINING = "and or in on at of to for with from by the a if when who that , . : ;"
_JOINTS: Final = frozenset(_JOINING.split())


def counted_claim(
    typed: Typed, tokens: Sequence[Token], sentence: str, figures: Figures, room: str | None, shown: Sequence[Subject]
) -> Found | None:
    """Hold a bare number against the record, when what follows it can be counted; else None, as for `three friends`.

    A number below the record's may mean some of them, and is not called wrong unless the line says `the` or `all`.
    """
    number = typed.value
    if number != int(number) or number < 0:
        return None
    before = tokens[typed.first - 1].word if typed.first else ""
    if before in ("seats", "seating"):
        return _seats(typed, sentence, figures, room, shown, f"{before} {sentence[typed.start : typed.end]}")
    what, end = _what(tokens, typed.last + 1)
    if what is None:
        return None
    text = sentence[typed.start : tokens[end - 1].end]
    if what == "person":
        return _people(int(number), text, sentence, figures, room, shown)
    if what in ("seat", "place"):
        return _seats(typed, sentence, figures, room, shown, text)
    if what in _OF_A_THING:
        return _part_count(int(number), what, text, sentence, figures, room, shown)
    return _kinds(int(number), what, text, before, figures, room, shown)


def _what(tokens: Sequence[Token], at: int) -> tuple[str | None, int]:
    """Return what is counted by the words after a number, past two adjectives at most, and where it ends."""
    for start in range(at, min(at + 3, len(tokens))):
        for length in (2, 1):
            words = tokens[start : start + length]
            if len(words) < length or any(not token.text[0].isalpha() for token in words):
                continue
            said = " ".join(token.word for token in words)
            if said in _PEOPLE:
                return "person", start + length
            if said in ("places", "place settings"):
                return "place", start + length
            single = next((one for one in _OF_A_THING if said in (one, plural(one))), None) or noun(said)
            if single is not None:
                return single, start + length
        if tokens[start].word in _JOINTS or not tokens[start].text[0].isalpha():
            break
    return None, at


def _people(
    number: int, text: str, sentence: str, figures: Figures, room: str | None, shown: Sequence[Subject]
) -> Found | None:
    household = figures.project.household
    known: dict[str, int | None] = {}
    if _LIVE.search(sentence):
        known["people in the household"] = household.count
    if _COOK.search(sentence):
        known["people who cook together"] = household.cooks_together
        known["people who cook"] = sum(person.cooks for person in household.people) or None
    if _EAT.search(sentence):
        known |= {f"people at {gathering.what or 'a meal'}": gathering.people for gathering in household.gatherings}
        known |= _places(figures, sentence, room, shown)
    held = {what: count for what, count in known.items() if count}
    if not held:
        return text, "not compared", "the line does not say which people, or the record does not count them"
    return _verdict(number, text, held)


def _places(figures: Figures, sentence: str, room: str | None, shown: Sequence[Subject]) -> dict[str, int | None]:
    tops = [*named_in(figures, sentence, room), *shown]
    return {
        f"seats at {one.record.called}": seats_at(figures.index, one.record)
        for one in tops
        if one.sort == "thing" and isinstance(one.record, Surface)
    }


def _seats(
    typed: Typed, sentence: str, figures: Figures, room: str | None, shown: Sequence[Subject], text: str
) -> Found:
    held = {what: count for what, count in _places(figures, sentence, room, shown).items() if count}
    if not held and room is not None:
        tops = [one.record for one in figures.index.things if one.record.space == room]
        counts = {f"seats at {top.called}": seats_at(figures.index, top) for top in tops if isinstance(top, Surface)}
        held = {what: count for what, count in counts.items() if count}
        if len(held) > 1:
            held["seats in the room"] = sum(held.values())
    if not held:
        return text, "not compared", "the record holds no seats of what the line names or shows"
    return _verdict(int(typed.value), text, held)


def _part_count(
    number: int, what: str, text: str, sentence: str, figures: Figures, room: str | None, shown: Sequence[Subject]
) -> Found:
    subjects = named_in(figures, sentence, room) or shown
    counts = ((one, getattr(one.record, _OF_A_THING[what], None)) for one in subjects if one.sort == "thing")
    held = {f"{plural(what)} of {one.record.called}": count for one, count in counts if count}
    if not held:
        return text, "not compared", f"the record holds no {plural(what)} of what the line names or shows"
    return _verdict(number, text, held)


def _verdict(number: int, text: str, held: dict[str, int]) -> Found:
    agreeing = next((what for what, count in held.items() if count == number), None)
    if agreeing is not None:
        return text, "agrees", f"the record has {number} {agreeing}"
    return text, "contradicts", "the record has " + " and ".join(f"{n} {what}" for what, n in list(held.items())[:3])


def _in_room(figures: Figures, what: str, room: str | None) -> int:
    count = count_in(figures.index, what, room)
    return 0 if count is None else int(float(count.amount))  # type: ignore[arg-type]


def _named(what: str, number: int) -> str:
    return what if number == 1 else plural(what)


def _kinds(
    number: int, what: str, text: str, before: str, figures: Figures, room: str | None, shown: Sequence[Subject]
) -> Found:
    index, name = figures.index, plural(what)
    house = _in_room(figures, what, None)
    here = 0 if room is None or what == "room" else _in_room(figures, what, room)  # a room is in no room
    seen = sum(1 for one in shown if noun(plain(getattr(one.record, "kind", ""))) == what)
    joined = [_in_room(figures, what, other) for other in sorted(index.joined(room))] if room and what != "room" else []
    counts = {"in the room": here, "in the open room": sum(joined), "in the house": house, "shown": seen}
    agreeing = next((where for where, count in counts.items() if count == number), None)
    if number and (agreeing is not None or number in joined):
        return text, "agrees", f"the record has {number} {_named(what, number)} {agreeing or 'beside the room'}"
    here = max(here, sum(joined))
    if not here and not seen and what != "room":
        return text, "not compared", f"no {what} stands in the room"
    if number > max(here, seen, house if what == "room" else 0) or before in _ALL:
        where = f"{here} {_named(what, here)} in the room and " if here else ""
        return text, "contradicts", f"the record has {where}{house} in the house"
    return text, "not compared", f"the record has {here or house} {name}, and some of them may be meant"
