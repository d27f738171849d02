"""What is said in each room: lines for it, and things, products and finishes that are really there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Final

from enfilade.checks.registry import EVERYTHING, check
from enfilade.checks.script_sight import seen_from
from enfilade.checks.script_told import ToldLine, told_lines
from enfilade.checks.view import View
from enfilade.checks.where_bought import where_bought
from enfilade.findings import Finding
from enfilade.project.choices import Finish, Product
from enfilade.quantities import Quantity
from enfilade.script.figures import Bound
from enfilade.script.index import plain
from enfilade.script.resolve import fields_in
from enfilade.standards.yardsticks import Yardstick

__all__ = ["lines_in_every_room", "what_is_told_in_its_room"]

_NO_WORD: Final = re.compile(r"[^\w-]+")


@check(reads=EVERYTHING, scope="house")
def what_is_told_in_its_room(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count, for each line, the things that it shows and the products and finishes that it names which are not there.

    What stands in another room and is seen from this one through doorways may be told, and the working says so. A
    product or finish is known by its whole name, or by its name up to a comma, when that has two words or more; one
    that a decision told by the line weighs may be told anywhere.
    """
    if not rules.has("T3"):
        return
    row = rules.row("T3")
    bought: tuple[Product | Finish, ...] = (*view.products.values(), *view.finishes.values())
    names = _names(tuple((one.id, one.name) for one in bought))
    for told in told_lines(view):
        looked = [*_things(view, told), *_bought(view, told, bought, names)]
        if not looked:
            continue
        away = [words for there, words in looked if not there]
        yield row.finding(
            space=told.room,
            subjects=(told.subject,),
            measured=Quantity(len(away), "count"),
            # What is not there comes first.
            working=(told.quoted, *dict.fromkeys((*away, *(words for _, words in looked)))),
        )


def _things(view: View, told: ToldLine) -> Iterator[tuple[bool, str]]:
    """Yield of each thing that a line shows whether it is there, or is seen from there, and words that say it."""
    if told.room is None:
        return
    house = view.house
    here = house.rooms[told.room]
    for id in told.line.things:
        stand = house.standing.get(id)
        if stand is None:
            yield True, f"{house.project.thing(id).called} is removed: it is told of as it was"
        elif stand.thing.space in here:
            yield True, f"{stand.thing.called} stands in the room"
        else:
            room = house.spaces[stand.thing.space].name
            if seen_from(house, told.room, stand.box, stand.thing.space):
                yield True, f"{stand.thing.called} stands in {room}, seen through a doorway"
            else:
                yield False, f"{stand.thing.called} stands in {room}, which is not seen from here"


def _bought(
    view: View, told: ToldLine, bought: Iterable[Product | Finish], names: Mapping[str, str]
) -> Iterator[tuple[bool, str]]:
    """Yield the same of each product and finish that a line names."""
    if told.room is None:
        return
    named = set(_named(told.line.text, tuple(names.items())))
    for field in fields_in(told.line.text):
        bound = view.figures.bound(field)
        if isinstance(bound, Bound) and bound.subject is not None and bound.subject.sort in ("product", "finish"):
            named.add(bound.subject.record.id)
    if not named:
        return
    rooms, _ = where_bought(view.house.project)
    where = {id: spaces for one in rooms.values() for id, spaces in one.items()}
    weighed = {
        id
        for decision in view.decisions
        if decision.id in told.line.decisions
        for option in decision.options
        for id in (*option.products, *option.finishes)
    }
    here = view.house.rooms[told.room]
    for one in (one for one in bought if one.id in named):
        spaces = where.get(one.id, ())
        if here & set(spaces):
            yield True, f"{one.name} is in the room"
        elif one.id in weighed:
            yield True, f"{one.name} is weighed in a decision that the line tells"
        elif any(_opens_on(view, told.room, space) for space in spaces):
            yield True, f"{one.name} is in the next room, seen through a doorway"
        else:
            others = ", ".join(view.house.spaces[space].name for space in spaces) or "no room yet"
            yield False, f"{one.name} is in {others}"


def _opens_on(view: View, room: str, other: str) -> bool:
    return any(door.passage and door.beyond == other for door in view.house.doorways[room])


@lru_cache(maxsize=8)
def _names(records: tuple[tuple[str, str], ...]) -> dict[str, str]:
    """Return the words by which each product and finish is known, with its id; names of one word say too little."""
    found: dict[str, str] = {}
    for id, name in records:
        for words in (name, name.partition(",")[0]):
            known = plain(_NO_WORD.sub(" ", words))
            if " " in known:
                found.setdefault(known, id)
    return found


@lru_cache(maxsize=4096)
def _named(text: str, names: tuple[tuple[str, str], ...]) -> tuple[str, ...]:
    said = f" {plain(_NO_WORD.sub(' ', text))} "
    return tuple(id for words, id in names if f" {words} " in said)


@check(reads={"script", "show"}, scope="house")
def lines_in_every_room(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count the lines that are said in each room; what lies outside needs none."""
    if not rules.has("T7") or not told_lines(view):
        return
    row = rules.row("T7")
    for space in view.spaces:
        if space.use == "outside":
            yield row.not_assessed(space=space.id, subjects=(space.id,), because="does not apply")
            continue
        lines = sum(len(stop.lines) for stop in view.script if stop.space == space.id)
        yield row.finding(
            space=space.id,
            subjects=(space.id,),
            measured=Quantity(lines, "count"),
            working=(f"{lines or 'no'} {'line' if lines == 1 else 'lines'} in {space.name}",),
        )
