"""The names and addresses that a record knows, and how they are left out of what others read."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from copy import copy
from typing import Any, Final

from enfilade.project.fields import Audience, Record
from enfilade.project.names_gathered import CLIENT, Hidden, forgotten_in, hidden_from
from enfilade.project.names_joined import out_of_longer_words
from enfilade.project.names_known import Known, key_of
from enfilade.project.names_said import said_otherwise
from enfilade.project.names_text import WORD, folded
from enfilade.project.project import Project

__all__ = ["Names"]

_MOST_TIMES: Final = 3
_MOST_REMEMBERED: Final = 5000
"""The versions of a project say most things again."""


class Names:
    """What one audience may not read in any text or id of a project.

    People, firms, the address, telephone numbers and addresses for mail are left out, whole or in parts: `Jane Orrery`
    hides Jane, Ms Orrery and the Orrerys. A name that is also an ordinary word is replaced only where it is written as
    a name, and not as the first word of a sentence, which may be either. Other words stand for each, so that the
    sentence still reads.
    """

    def __init__(self, project: Project, audience: Audience) -> None:
        self._learn(hidden_from(project, audience), [project], ())

    @classmethod
    def to_forget(cls, projects: Sequence[Project], taken: Iterable[str] = ()) -> Names:
        """Return what must be forgotten of a client: all that several states of a project know of names and addresses.

        Whoever built it, made or designed it stays named. A name is found inside longer words too.

        Args:
            projects: Versions of one project, and its working state.
            taken: Ids that no record may be given.
        """
        names = cls.__new__(cls)
        hidden = forgotten_in(projects)
        names._joined = out_of_longer_words(hidden.known)
        names._learn(hidden, projects, taken)
        return names

    _joined: Callable[[str, bool], str] | None = None

    def _learn(self, hidden: Hidden, projects: Sequence[Project], taken: Iterable[str]) -> None:
        self._known, self._reach, self._credited = hidden.known, hidden.reach, hidden.credited
        self._first = _first_words(hidden.known)
        self._slugs = _slugs(hidden.known)
        ids = dict.fromkeys(id for project in projects for id in _ids_in(project))
        self._ids = self._new_ids(ids, {*ids, *taken})
        self._any_id = _any_of(self._ids)
        self._told: dict[str, str] = {}

    @property
    def ordinary(self) -> tuple[str, ...]:
        """Return the names that are ordinary words too, and are found only where they are written as names."""
        return tuple(sorted(key for key, word in self._known.words.items() if word.how == "ordinary"))

    @property
    def telling(self) -> tuple[str, ...]:
        """Return the words of names and addresses, in small letters, by which someone is known wherever they stand."""
        return tuple(sorted(key for key, word in self._known.words.items() if word.how in ("any", "capital")))

    def out_of_text(self, text: str) -> str:
        """Return text in which other words stand for each known name and address."""
        if (told := self._told.get(text)) is None:
            told = self._out_of_text(text)
            if len(self._told) < _MOST_REMEMBERED:
                self._told[text] = told
        return told

    def _out_of_text(self, text: str) -> str:
        for _ in range(_MOST_TIMES):  # what stands beside a name may read otherwise without it
            before, text = text, self._once(text)
            if text == before:
                break
        return text if self._joined is None else self._joined(text, False)

    def _once(self, text: str) -> str:
        text = self._reach.out_of(text, lambda bare: said_otherwise(bare, self._known) != bare)
        return said_otherwise(text, self._known) if self._names_someone(text) else text

    def _names_someone(self, text: str) -> bool:
        """Tell whether a text may hold a known name: a quick look, since most hold none."""
        return not self._first.isdisjoint(WORD.findall(folded(text)))

    def out_of_credit(self, name: str) -> str:
        """Return whom a record credits: the name where it may be told; of a client who made it, that; else nothing."""
        said = self.out_of_text(name)
        if said == name or key_of(name) in self._credited:
            return name
        return CLIENT.one if said.lower() == CLIENT.one else ""

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

    def with_ids_of(self, earlier: Project, same: Mapping[str, str]) -> Names:
        """Return names that know the ids of another state of the project too.

        Args:
            earlier: As it was told earlier.
            same: Its ids that were changed then, to what the same records are called now.
        """
        ids = dict.fromkeys(id for id in _ids_in(earlier) if id not in self._ids)
        both = copy(self)
        both._ids = self._new_ids(ids, {*ids, *self._ids, *self._ids.values()}) | self._ids | dict(same)
        both._any_id = _any_of(both._ids)
        return both

    def _new_ids(self, ids: Iterable[str], taken: set[str]) -> dict[str, str]:
        """Return another id for each that holds a known name, numbered in the order of the record."""
        if self._slugs is None:
            return {}
        new: dict[str, str] = {}
        for old in ids:
            told = self._slugs.sub("private", old)
            if self._joined is not None:
                told = self._joined(told, True)
            if told != old:
                base, number = told[:56].rstrip("-"), 1
                while (other := f"{base}-{number}") in taken:
                    number += 1
                new[old] = other
                taken.add(other)
        return new


def _first_words(known: Known) -> frozenset[str]:
    """Return words of which at least one stands in each text that holds a name."""
    words = {form for word in known.words for form in (word, f"{word}s", f"{word}es")}
    for phrases in known.phrases.values():
        words.update(max((word.key for word in one.words), key=len) for one in phrases if one.instead is not None)
    return frozenset(words)


def _slugs(known: Known) -> re.Pattern[str] | None:
    """Return what finds a name in an id."""
    names = [key for key, word in known.words.items() if word.how in ("any", "capital")]
    names += [
        "-".join(word.key for word in one.words)
        for phrases in known.phrases.values() for one in phrases if one.instead is not None
    ]  # fmt: skip
    slugs = {re.sub(r"[^a-z0-9]+", "-", name).strip("-") for name in names}
    told = sorted((slug for slug in slugs if len(slug) > 2), key=lambda slug: (-len(slug), slug))
    return re.compile(rf"(?<![a-z0-9])(?:{'|'.join(told)})(?:e?s)?(?![a-z0-9])") if told else None


def _any_of(ids: Iterable[str]) -> re.Pattern[str] | None:
    """Return what finds each of some ids, also where it is a part of a longer word, as in a finding's id."""
    longest_first = sorted(ids, key=lambda one: (-len(one), one))
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
