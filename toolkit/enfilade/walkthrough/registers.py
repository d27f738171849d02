"""The registers of a finished house: each product and finish, where it is, how it is kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final

from enfilade.checks.where_bought import where_bought
from enfilade.project.choices import Finish, Product
from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.walkthrough.pages import Row, Table
from enfilade.walkthrough.services import every_words
from enfilade.walkthrough.tables import each_once

__all__ = ["registers"]

_NAMED: Final = 6
_KNOW_PRODUCTS: Final = ("client", "studio")
_Where = dict[str, dict[str, list[str]]]
"""By product or finish and room, the names of the things and surfaces that bear it."""


def registers(project: Project, audience: Audience) -> tuple[Table, ...]:
    """Return the register of products and that of finishes, without those that hold nothing.

    What was weighed and not chosen, or stood on removed things alone, is no part of the house. A column that is empty
    throughout is left out: an audience that may not know makers sees no column for them. One that may not know
    which product a thing is cannot tell what was bought from what was weighed, and gets no register of products.
    """
    rooms, _ = where_bought(project)
    products, finishes = _places(project)
    worn = _worn(project)
    knows = audience in _KNOW_PRODUCTS
    bought = [one for one in project.products if knows and one.id in rooms["products"]]
    made_of = [one for one in project.finishes if one.id in rooms["finishes"]]
    names = {space.id: space.name for space in project.spaces}

    def where(record: Product | Finish, places: _Where, known: dict[str, tuple[str, ...]]) -> str:
        borne = places.get(record.id, {})
        return _where(borne, names) or each_once([names[id] for id in known[record.id]], _NAMED) or "no room yet"

    tables = (
        _table(
            "Products",
            ("What", "Maker", "Finish", "Where", *_KEEPING),
            [
                (one.name, one.maker, each_once(worn.get(one.id, ()), _NAMED),
                 where(one, products, rooms["products"]), *_kept(one))
                for one in bought
            ],
        ),
        _table(
            "Finishes",
            ("What", "Material", "Maker", "Where", *_KEEPING),
            [
                (one.name, one.material, one.maker, where(one, finishes, rooms["finishes"]), *_kept(one))
                for one in made_of
            ],
        ),
    )  # fmt: skip
    return tuple(table for table in tables if table.rows)


_KEEPING: Final = ("Care", "Warranty until", "Service")


def _kept(record: Product | Finish) -> Row:
    services = "; ".join(f"{one.what}, {every_words(one.every_months)}" for one in record.services)
    return record.care, record.warranty_until.isoformat() if record.warranty_until else "", services


def _table(title: str, head: Row, rows: Sequence[Row]) -> Table:
    stays = [place for place, name in enumerate(head) if name == "What" or any(row[place] for row in rows)]
    kept = tuple(tuple(row[place] for place in stays) for row in rows)
    note = "An empty place says that nothing is recorded." if any("" in row for row in kept) else ""
    return Table(title, tuple(head[place] for place in stays), kept, note=note)


def _places(project: Project) -> tuple[_Where, _Where]:
    products: _Where = {}
    finishes: _Where = {}

    def add(places: _Where, id: str | None, space: str, what: str) -> None:
        if id is not None:
            places.setdefault(id, {}).setdefault(space, []).append(what)

    for space in project.spaces:
        add(finishes, space.floor_finish, space.id, "floor")
        add(finishes, space.ceiling_finish, space.id, "ceiling")
        for wall in space.walls:
            if wall.state != "removed":
                add(finishes, wall.finish, space.id, wall.name or "wall")
    for thing in project.things:
        if thing.state != "removed":
            add(products, thing.product, thing.space, thing.called)
            add(finishes, thing.finish, thing.space, thing.called)
    return products, finishes


def _worn(project: Project) -> dict[str, list[str]]:
    """Return by product the finishes of the things that it stands for, by name."""
    names = {finish.id: finish.name for finish in project.finishes}
    worn: dict[str, list[str]] = {}
    for thing in project.things:
        if thing.product is not None and thing.finish in names and thing.state != "removed":
            worn.setdefault(thing.product, []).append(names[thing.finish])
    return worn


def _where(borne: dict[str, list[str]], names: dict[str, str]) -> str:
    rooms = [room for room in names if room in borne]
    # Names hold commas of their own, so what is listed is parted by semicolons, and rooms by full stops.
    words = [f"{names[room]}: {_things(borne[room])}." for room in rooms[:_NAMED]]
    left = len(rooms) - _NAMED
    more = [f"And {left} more {'room' if left == 1 else 'rooms'}."] if left > 0 else []
    return " ".join(words + more)


def _things(names: Iterable[str]) -> str:
    counted = [f"{name} ({count} of them)" if count > 1 else name for name, count in Counter(names).items()]
    more = [f"and {len(counted) - _NAMED} more"] if len(counted) > _NAMED else []
    return "; ".join(counted[:_NAMED] + more)
