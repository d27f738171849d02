"""What is said in each room: lines for it, and things, products and finishes that are really there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Final

from enfilade.checks.kept import Kept
from enfilade.checks.registry import EVERYTHING, check
from enfilade.checks.script_sight import finish_seen_from, product_seen_from, seen_from
from enfilade.checks.script_told import ToldLine, told_lines
from enfilade.checks.view import View
from enfilade.checks.where_bought import where_bought
from enfilade.findings import Finding
from enfilade.project.choices import Finish, Product
from enfilade.project.project import Project
from enfilade.project.speaking import FIELD
from enfilade.quantities import Quantity
from enfilade.script.figures import Bound
from enfilade.script.index import bare
from enfilade.script.mentions import names_in
from enfilade.script.resolve import fields_in
from enfilade.standards.yardsticks import Yardstick

__all__ = ["lines_in_every_room", "what_is_told_in_its_room"]

# What a line names, and where that is bought, does not change while things are moved about.
_NAMED: Final[Kept[tuple[Product | Finish, ...]]] = Kept(2048)
_WHERE: Final[Kept[dict[str, tuple[str, ...]]]] = Kept(4)


@check(reads=EVERYTHING, scope="house")
def what_is_told_in_its_room(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Count, for each line, the things that it shows and the products and finishes that it names which are not there.

    What stands in another room, or is borne there, and is seen from this one through doorways may be told, and the
    working says so. A product or finish is known by its whole name, or by its name up to a comma; by a single word
    only where it is no word of anything else in the room. One that a decision told by the line weighs may be told
    anywhere.
    """
    if not rules.has("T3"):
        return
    row = rules.row("T3")
    where = _WHERE.get((view.figures,), lambda: _where(view.house.project))
    for told in told_lines(view):
        looked = list(dict.fromkeys([*_things(view, told), *_bought(view, told, _names_told(view, told), where)]))
        if not looked:
            continue
        away = [words for there, words in looked if not there]
        yield row.finding(
            space=told.room,
            subjects=(told.subject,),
            measured=Quantity(len(away), "count"),
            # What is not there comes first.
            working=(told.quoted, *away, *(words for there, words in looked if there)),
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


def _where(project: Project) -> dict[str, tuple[str, ...]]:
    rooms, _ = where_bought(project)
    return {id: spaces for one in rooms.values() for id, spaces in one.items()}


def _names_told(view: View, told: ToldLine) -> tuple[Product | Finish, ...]:
    return _NAMED.get((view.figures, told.line, told.room), lambda: _named_records(view, told))


def _named_records(view: View, told: ToldLine) -> tuple[Product | Finish, ...]:
    """Return the products and finishes that a line names, in words or by its fields."""
    if told.room is None:
        return ()
    bought: tuple[Product | Finish, ...] = (*view.products.values(), *view.finishes.values())
    names = _names(tuple((one.id, one.name) for one in bought))
    ids = {
        names[words]
        for words in names_in(FIELD.sub(" ", told.line.text), names)
        if " " in words or words not in _other_words(view, told.room, names[words])
    }
    for field in fields_in(told.line.text):
        bound = view.figures.bound(field)
        if isinstance(bound, Bound) and bound.subject is not None and bound.subject.sort in ("product", "finish"):
            ids.add(bound.subject.record.id)
    return tuple(one for one in bought if one.id in ids)


def _bought(
    view: View, told: ToldLine, named: tuple[Product | Finish, ...], where: Mapping[str, tuple[str, ...]]
) -> Iterator[tuple[bool, str]]:
    """Yield the same of each product and finish that a line names."""
    if told.room is None or not named:
        return
    weighed = {
        id
        for decision in view.decisions
        if decision.id in told.line.decisions
        for option in decision.options
        for id in (*option.products, *option.finishes)
    }
    here, house = view.house.rooms[told.room], view.house
    for one in named:
        seen_from_here = product_seen_from if isinstance(one, Product) else finish_seen_from
        spaces = where.get(one.id, ())
        if here & set(spaces):
            yield True, f"{one.name} is in the room"
        elif one.id in weighed:
            yield True, f"{one.name} is weighed in a decision that the line tells"
        elif seen := [space for space in spaces if seen_from_here(house, told.room, one.id, space)]:
            yield True, f"{one.name} is in {house.spaces[seen[0]].name}, seen through a doorway"
        elif spaces:
            others = ", ".join(house.spaces[space].name for space in spaces)
            yield False, f"{one.name} is in {others}, which is not seen from here"
        else:
            yield False, f"{one.name} is in no room yet"


def _other_words(view: View, room: str, id: str) -> frozenset[str]:
    """Return the words of all that stands in a room or opens on it, and of what that is made of, but for one record."""
    house = view.house
    finishes, products = view.finishes, view.products
    said: list[str] = []
    for space in sorted(house.rooms[room]):
        record = house.spaces[space]
        borne = {record.floor_finish, record.ceiling_finish, *(wall.finish for wall in record.walls)}
        for stand in house.by_space[space]:
            thing = stand.thing
            borne |= {thing.finish, thing.product}
            if id not in (thing.finish, thing.product):
                said += [thing.name, thing.kind, getattr(thing, "what", "")]
        said += [finish.material + " " + finish.name for finish in finishes.values() if finish.id in borne - {id}]
        said += [product.name for product in products.values() if product.id in borne - {id}]
        said += [door.opening.name for door in house.doorways[space] if door.opening is not None]
        said += [record.name, record.use]
    return frozenset(bare(" ".join(said)).split())


@lru_cache(maxsize=8)
def _names(records: tuple[tuple[str, str], ...]) -> dict[str, str]:
    """Return the words by which each product and finish is known, the longest first; not a word that two have."""
    found: dict[str, str] = {}
    several: set[str] = set()
    for id, name in records:
        for words in {bare(part) for part in (name, name.partition(",")[0])}:
            if " " not in words and found.get(words, id) != id:
                several.add(words)
            if len(words) > 2:
                found.setdefault(words, id)
    longest_first = sorted(found, key=len, reverse=True)
    return {words: found[words] for words in longest_first if words not in several}


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
