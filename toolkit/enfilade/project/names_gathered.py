"""The names that one audience may not read, gathered from a project."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.project.choices import Finish, Product
from enfilade.project.fields import Audience
from enfilade.project.names_found import found_in
from enfilade.project.names_known import Instead, Known, key_of, names_in, parts_of
from enfilade.project.names_places import Reach, add_address, reach_of
from enfilade.project.names_text import tokens_of
from enfilade.project.names_words import ORDINARY
from enfilade.project.people import Trade
from enfilade.project.project import Project

__all__ = ["CLIENT", "Hidden", "forgotten_in", "hidden_from"]

CLIENT: Final = Instead("the client", "client", "the clients")
_DESIGNER: Final = Instead("the designer", "designer", "the designers")
_SOMEONE: Final = Instead("someone", "person", "some people")
_MAKER: Final = Instead("the maker", "maker", "the makers")
_TRADE: Final = Instead("the trade", "trade", "the trades")
_LONGEST_NAME: Final = 80
_MOST_WORDS: Final = 4
"""A trade is called by so many words at most, such as gas fitter."""
_PIECES: Final = re.compile(r"[,;|\n<>()]+")


@dataclass(frozen=True)
class Hidden:
    """What is left out for one audience.

    Attributes:
        credited: Names of firms and trades that may stand where they are credited, as `key_of` writes them.
    """

    known: Known
    reach: Reach
    credited: frozenset[str]


def hidden_from(project: Project, audience: Audience) -> Hidden:
    """Return what an audience may not read of names and addresses.

    A name that may be credited and also holds a name or address that may not be told is not credited: the private one
    wins. An ordinary word that is a surname too, such as Stone, takes the credit from nobody.
    """
    private, others = _private(project, audience, designer=True), _private(project, audience, designer=False)
    lost = {name for name in _credited(project) if _holds(name, private)}
    kept = [name for name in _credited(project) if name not in lost]
    known = Known()
    _add_people(known, project, audience, designer=True)
    for trade in project.show.trades:
        if trade.name and (not trade.may_be_credited or trade.name in lost):
            known.add_name(trade.name, _instead_of(trade, private))
    for record in _bought(project):
        if record.maker and (not record.may_be_credited or record.maker in lost):
            known.add_name(record.maker, _MAKER, initials=False)
    _add_others(known, project, audience)
    studio = project.show.studio.name
    for name in (*kept, studio if len(studio) <= _LONGEST_NAME and not _holds(studio, others) else ""):
        known.add_phrase(tokens_of(name), None, capital=False)
    return Hidden(known, reach_of((project.client.contact,)), frozenset(map(key_of, kept)))


def forgotten_in(projects: Sequence[Project]) -> Hidden:
    """Return the names and addresses of a client in several states of a project.

    Who decides or answers and is known as neither studio, trade nor maker is taken for the client's. A firm's name
    that holds a client's is left out too.
    """
    known = Known()
    for project in projects:
        _add_people(known, project, "student", designer=False)
        add_address(known, project.client.address)
    named = [name for name in dict.fromkeys(_at_work(projects)) if name.strip() and not _holds(name, known)]
    may_be_named = [_keys(name) for name in named]
    for project in projects:
        deciding = (*(one.by for one in project.decisions), *(one.by for one in project.answers))
        for by in dict.fromkeys((*deciding, *_PIECES.split(project.client.contact))):
            for name in names_in(by, _roles(project)):
                keys = _keys(name)
                if not (keys <= known.words.keys() or any(keys <= those for those in may_be_named)):
                    known.add_name(name, _SOMEONE)
    for name in named:
        known.add_phrase(tokens_of(name), None, capital=False)
    return Hidden(known, reach_of(project.client.contact for project in projects), frozenset())


def _at_work(projects: Sequence[Project]) -> Iterator[str]:
    for project in projects:
        studio = project.show.studio
        yield from (name for name in (studio.name, studio.designer) if len(name) <= _LONGEST_NAME)
        yield from (trade.name for trade in project.show.trades)
        yield from (record.maker for record in _bought(project))


def _private(project: Project, audience: Audience, *, designer: bool) -> Known:
    known = Known()
    _add_people(known, project, audience, designer=designer)
    _add_others(known, project, audience)
    return known


def _add_people(known: Known, project: Project, audience: Audience, *, designer: bool) -> None:
    for name in (*project.client.names, *(person.name for person in project.household.people)):
        known.add_name(name, CLIENT)
    if designer and audience == "public":
        known.add_name(project.show.studio.designer, _DESIGNER)


def _add_others(known: Known, project: Project, audience: Audience) -> None:
    """Add who decides, answers, puts right and looks after, without those who may be named; and the address."""
    may_be_named = [_keys(name) for name in (*_credited(project), project.show.studio.designer)]
    roles = _roles(project)
    for by in dict.fromkeys((*_doing(project), *_PIECES.split(project.client.contact))):
        for name in names_in(by, roles):
            keys = _keys(name)
            if not (keys <= known.words.keys() or any(keys <= named for named in may_be_named)):
                known.add_name(name, _SOMEONE)
    add_address(known, project.client.address)


def _roles(project: Project) -> frozenset[str]:
    trades = [tokens_of(trade.trade) for trade in project.show.trades]
    return frozenset(token.key for words in trades if len(words) <= _MOST_WORDS for token in words)


def _doing(project: Project) -> Iterator[str]:
    yield from (decision.by for decision in project.decisions)
    yield from (answer.by for answer in project.answers)
    yield from (point.by for space in project.spaces for point in space.points)
    yield from (service.by for record in _bought(project) for service in record.services)


def _bought(project: Project) -> tuple[Product | Finish, ...]:
    return (*project.products, *project.finishes)


def _credited(project: Project) -> list[str]:
    """Return the names of trades and makers that may be named in public, each once."""
    names = [trade.name for trade in project.show.trades if trade.may_be_credited]
    names += [record.maker for record in _bought(project) if record.may_be_credited]
    return [name for name in dict.fromkeys(names) if name.strip()]


def _holds(name: str, known: Known) -> bool:
    """Tell whether a name holds another that is no ordinary word."""
    tokens = tokens_of(name)
    return any(
        found.end - found.first > 1 or tokens[found.first].key not in ORDINARY
        for found in found_in(name, tokens, known)
    )


def _keys(name: str) -> frozenset[str]:
    return frozenset(token.key for token in parts_of(name))


def _instead_of(trade: Trade, private: Known) -> Instead:
    """Return the trade's own word, such as `the joiner`, when it is one."""
    word = key_of(trade.trade)
    if not re.fullmatch(r"[a-z][a-z -]{1,40}[a-z]", word) or found_in(word, tokens_of(word), private):
        return _TRADE
    return Instead(f"the {word}", word, f"the {word}" if word.endswith("s") else f"the {word}s")
