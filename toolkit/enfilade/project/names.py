"""The names and addresses that a record knows, and how they are left out of what others read."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

from enfilade.project.choices import Finish, Product
from enfilade.project.fields import Audience, Record
from enfilade.project.project import Project

__all__ = ["Names"]

_CLIENT, _ADDRESS, _SOMEONE, _MAKER, _DESIGNER = "the client", "the address", "someone", "the maker", "the designer"
_TRADE = "the trade"

# Parts of a name that name nobody.
_TITLES = """
mr mrs ms miss mx dr prof sir lady the family families house household and of von van der den de la le du da dos
del al bin jr sr ii iii iv estate trust residence
"""
# Surnames and towns that are also words of the trade or of the calendar: in small letters they stay.
_ORDINARY = """
april august baker banks bath bay bell bench bishop black blue board bridge brook brown bush butler carpenter
cook cooper cope court day drawer field fields flint ford forest foster fountain fox frost gardener gates glass
gold gray green grey hall hand heath hill holly hood house iron ivy jack jade july june key king lake lamb lane
leaf little long march marble marsh mason may mill miller moss new north oak olive page paige painter palmer
park parish piper plumber pond pool porter post potter price ray reed rich ridge ring rivers rock rose ruby rug
sand sage shore short silver slate small smith snow south spring square steel still stone street summer sun
table tanner taylor tiler tower turner wall walls ward waters weaver wells west white will window winter wood
woods yard young
"""
_NAMES_NOBODY: Final = frozenset(_TITLES.split())
_ALSO_A_WORD: Final = frozenset(_ORDINARY.split())
_EDGE_LEFT, _EDGE_RIGHT = r"(?<![^\W_])", r"(?![^\W_])"


class Names:
    """What one audience may not read in any text or id of a project.

    Text is compared whole word by whole word, in small or capital letters; a name that is also an
    ordinary word is replaced only where it is written as a name.
    """

    def __init__(self, project: Project, audience: Audience) -> None:
        hidden = dict(_hidden_words(project, audience))
        self._text = [(_pattern(word), hidden[word]) for word in sorted(hidden, key=lambda word: (-len(word), word))]
        self._ids = _new_ids(project, hidden)
        self._any_id = _any_of(self._ids)
        self._credit = [(pattern, instead) for pattern, instead in self._text if instead not in (_MAKER, _TRADE)]

    def out_of_text(self, text: str) -> str:
        """Return text in which each known name or address is replaced by what it stands for."""
        return _replaced(text, self._text)

    def out_of_credit(self, name: str) -> str:
        """Return whom a record may credit: a maker or trade who may be named here and not elsewhere keeps the name."""
        return _replaced(name, self._credit)

    def out_of_fields(self, text: str) -> str:
        """Return text in which the bound fields, such as `{width of ID}`, hold the ids that are told."""
        if "{" not in text or not self._ids:
            return text
        return re.sub(r"\{[^{}]*\}", lambda match: self.out_of_ids(match.group()), text)

    def out_of(self, text: str) -> str:
        """Return a text, in which ids may stand too, without any known name or address."""
        return self.out_of_text(self.out_of_ids(text))

    def out_of_ids(self, text: str) -> str:
        """Return an id, or a text of ids such as a finding's, in which no id holds a known name."""
        if self._any_id is None:
            return text
        return self._any_id.sub(lambda match: self._ids[match.group()], text)


def _hidden_words(project: Project, audience: Audience) -> Iterator[tuple[str, str]]:
    """Yield what is to be replaced and by what; where a word comes twice, the last one stands."""
    bought: tuple[Product | Finish, ...] = (*project.products, *project.finishes)
    for record in bought:
        if record.maker and not record.may_be_credited:
            yield _tidy(record.maker), _MAKER
    for trade in project.show.trades:
        if trade.name and not trade.may_be_credited:
            yield _tidy(trade.name), _TRADE
    if audience == "public" and project.show.studio.designer:
        for word in _parts_of_name(project.show.studio.designer):
            yield word, _DESIGNER
    for by in _people_who_do(project):
        words = by.split()
        if len(words) > 1 and all(word[0].isupper() for word in words):  # a name, and not `the client`
            yield _tidy(by), _SOMEONE
    for part in _parts_of_address(project.client.address):
        yield part, _ADDRESS
    for part in _parts_of_contact(project.client.contact):
        yield part, _ADDRESS
    for name in (*project.client.names, *(person.name for person in project.household.people)):
        for word in _parts_of_name(name):
            yield word, _CLIENT


def _people_who_do(project: Project) -> Iterator[str]:
    """Yield who decides, answers, puts right and looks after."""
    yield from (decision.by for decision in project.decisions)
    yield from (answer.by for answer in project.answers)
    yield from (point.by for space in project.spaces for point in space.points)
    yield from (service.by for record in (*project.products, *project.finishes) for service in record.services)


def _replaced(text: str, patterns: Sequence[tuple[re.Pattern[str], str]]) -> str:
    if patterns:
        text = unicodedata.normalize("NFC", text)
        for pattern, instead in patterns:
            text = pattern.sub(instead, text)
    return text


def _tidy(text: str) -> str:
    return " ".join(unicodedata.normalize("NFC", text).split())


def _parts_of_name(name: str) -> Iterator[str]:
    """Yield a name and the parts by which people are called."""
    whole = _tidy(name)
    words = [whole] if len(whole) > 1 else []
    for part in re.split(r"[\s,/&-]+", whole):
        word = part.strip(".'\u2019\"()")
        if len(word) > 1 and not word[0].islower() and word.lower() not in _NAMES_NOBODY:
            words.append(word)
    for word in words:
        yield word
        yield _unaccented(word)


def _parts_of_address(address: str) -> Iterator[str]:
    for piece in (*re.split(r"[,;\n]+", address), address):
        part = _tidy(piece)
        if len(part) > 3:
            yield part
            street = re.sub(r"^\d+\w?\s+", "", part)
            if " " in street:
                yield street
    yield from re.findall(r"\d{5,}", address)


def _parts_of_contact(contact: str) -> Iterator[str]:
    yield from re.findall(r"[^\s,;|<>()]+@[^\s,;|<>()]+", contact)
    for piece in re.split(r"[,;|\n]+", re.sub(r"\S+@\S+", ",", contact)):
        part = _tidy(piece)
        if len(part) > 3:
            yield part
        digits = re.sub(r"\D", "", part)
        if len(digits) >= 7:
            yield digits[-10:]


def _unaccented(word: str) -> str:
    return "".join(sign for sign in unicodedata.normalize("NFD", word) if not unicodedata.combining(sign))


def _pattern(word: str) -> re.Pattern[str]:
    if word.isdigit() and len(word) >= 7:  # a telephone number, however it is spaced
        return re.compile(r"(?<!\d)(?:\+?\d{1,3}[\s().-]*)?\(?" + r"[\s().-]*".join(word) + r"(?!\d)")
    as_written = len(word) == 2 or word.lower() in _ALSO_A_WORD
    forms = (word, word.upper()) if as_written else (word,)
    either = "|".join(r"\s+".join(map(re.escape, form.split())) for form in forms)
    flags = re.NOFLAG if as_written else re.IGNORECASE
    return re.compile(rf"{_EDGE_LEFT}(?:{either})(?:e?s)?{_EDGE_RIGHT}", flags)


def _new_ids(project: Project, words: Iterable[str]) -> dict[str, str]:
    """Return another id for each id of the project that holds a known name."""
    slugs = {re.sub(r"[^a-z0-9]+", "-", _unaccented(word).lower()).strip("-") for word in words}
    told = sorted((slug for slug in slugs if len(slug) > 2 and slug not in _ALSO_A_WORD), key=len, reverse=True)
    if not told:
        return {}
    known = re.compile(rf"(?<![a-z0-9])(?:{'|'.join(map(re.escape, told))})(?:e?s)?(?![a-z0-9])")
    taken = set(_ids_in(project))
    new: dict[str, str] = {}
    for old in sorted(taken):
        if known.search(old):
            base, number = known.sub("private", old)[:56], 1
            while (other := f"{base}-{number}") in taken:
                number += 1
            new[old] = other
            taken.add(other)
    return new


def _any_of(ids: Iterable[str]) -> re.Pattern[str] | None:
    """Return what finds each of some ids, also where it is a part of a longer word, as in a finding's id."""
    longest_first = sorted(ids, key=lambda id: (-len(id), id))
    if not longest_first:
        return None
    return re.compile(rf"(?<![a-z0-9])(?:{'|'.join(map(re.escape, longest_first))})(?![a-z0-9])")


def _ids_in(value: Any) -> Iterator[str]:
    if isinstance(value, Record):
        for name in type(value).model_fields:
            inner = getattr(value, name)
            if name == "id":
                yield inner
            elif isinstance(inner, Record | tuple):
                yield from _ids_in(inner)
    elif isinstance(value, tuple):
        for item in value:
            yield from _ids_in(item)
