"""Names as they are known: the whole, the parts by which people and firms are called, and what stands for them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Final, Literal

from enfilade.project.names_text import Token, folded, tokens_of
from enfilade.project.names_words import CALENDAR, FUNCTION, NAMES_NOBODY, ORDINARY, PARTICLES, ROLES, as_words

__all__ = ["Instead", "Known", "Phrase", "Word", "key_of", "names_in", "parts_of"]

How = Literal["any", "capital", "ordinary", "beside"]
_JOINERS: Final = as_words("and the a an of on at in by for from with after before to our my their his her your")


@dataclass(frozen=True, slots=True)
class Instead:
    """What stands for a name: in a sentence, after another word such as `our`, and for several."""

    one: str
    bare: str
    many: str
    person: bool = True


@dataclass(frozen=True, slots=True)
class Word:
    """A part of a name.

    Attributes:
        how: Where it is the name: written anyhow, with a capital, as an ordinary word that is also a name, or only
            beside another part of the name.
    """

    instead: Instead
    how: How


@dataclass(frozen=True, slots=True)
class Phrase:
    """Several words in a row. Without `instead` they stay as they are written."""

    words: tuple[Token, ...]
    instead: Instead | None
    capital: bool


@dataclass
class Known:
    """Every name that is left out. What is added first stands.

    Attributes:
        loose: For each replacement, words that belong to the name where they stand beside another part of it.
        surnames: By which people are called after another name.
    """

    words: dict[str, Word] = field(default_factory=dict)
    phrases: dict[str, list[Phrase]] = field(default_factory=dict)
    loose: dict[Instead, set[str]] = field(default_factory=dict)
    surnames: set[str] = field(default_factory=set)

    def add_name(self, name: str, instead: Instead, *, initials: bool = True) -> None:
        """Add the name of a person or a firm, and its parts; people are called by initials and another part too."""
        tokens = tokens_of(name)
        parts = parts_of(name)
        loose = self.loose.setdefault(instead, set())
        loose.update(token.key for token in tokens if token.key not in _JOINERS and len(token.key) > 1)
        if initials:
            loose.update(token.key[0] for token in tokens if token.capital)
        for token in parts:
            self.add_word(token.key, instead)
        people = [token for token in parts if len(token.key) > 1]
        if instead.person and len(tokens) > 1 and people:
            self.surnames.add(people[-1].key)
        if parts or any(token.raw[0].isupper() or not token.raw[0].isalpha() or token.unspaced for token in tokens):
            self.add_phrase(tokens, instead)

    def add_word(self, key: str, instead: Instead, how: How | None = None) -> None:
        """Add a word by which someone or something is called."""
        self.words.setdefault(key, Word(instead, how or _how(key)))

    def add_phrase(self, tokens: Iterable[Token], instead: Instead | None, *, capital: bool | None = None) -> None:
        """Add words in a row; those that are all ordinary words count only when they are written as a name."""
        words = tuple(tokens)
        if len(words) < 2:
            return
        if capital is None:
            telling = [word for word in words if word.key not in NAMES_NOBODY and len(word.key) > 1]
            capital = all(word.key in ORDINARY or word.key in FUNCTION for word in telling)
        there = self.phrases.setdefault(words[0].key, [])
        if all([word.key for word in one.words] != [word.key for word in words] for one in there):
            there.append(Phrase(words, instead, capital))
            there.sort(key=lambda one: -len(one.words))


def _how(key: str) -> How:
    if key in FUNCTION and key not in CALENDAR:
        return "beside"
    if key in ORDINARY:
        return "ordinary"
    return "capital" if len(key) == 2 else "any"


def parts_of(name: str) -> list[Token]:
    """Return the words of a name that tell who it is: no titles, no initials, no `and Sons`."""
    tokens = [token for token in tokens_of(name) if len(token.key) > 1 and not token.key.isdigit()]
    if len(tokens) == 1 and tokens[0].key in PARTICLES and tokens[0].capital:
        return tokens  # Al, who is not `al dente`
    nobody = (
        NAMES_NOBODY if any(token.raw[0].isupper() for token in tokens) else NAMES_NOBODY | ROLES | FUNCTION | ORDINARY
    )
    written = nobody is NAMES_NOBODY
    return [token for token in tokens if token.key not in nobody and not (written and token.raw[0].islower())]


def names_in(by: str, roles: frozenset[str]) -> Iterator[str]:
    """Yield the names of people in words on who does something, such as `the joiner and P. Stone, on site`.

    Args:
        roles: Words by which the record calls its trades; they name nobody.
    """
    run: list[Token] = []
    tokens = tokens_of(by)
    for place, token in enumerate(tokens):
        near = bool(run) and by[run[-1].end : token.start].strip() in ("", ".", "-", "'", "\u2019")
        if run and not near:
            yield from _named(by, run)
            run = []
        last = place + 1 == len(tokens)
        particle = near and not last and token.key in PARTICLES and tokens[place + 1].capital
        particle |= near and not last and token.key == "and" and tokens[place + 1].key in NAMES_NOBODY  # `and Sons`
        if particle or (token.capital and _may_name(token, tokens[place + 1 :], started=bool(run), roles=roles)):
            run.append(token)
        elif run:
            yield from _named(by, run)
            run = []
    if run:
        yield from _named(by, run)


def _may_name(token: Token, after: list[Token], *, started: bool, roles: frozenset[str]) -> bool:
    if token.raw.isdigit() or token.key in _JOINERS:
        return False
    if started:
        return True
    if token.key in ROLES or token.key in roles:
        return False
    if token.key in FUNCTION and token.key not in CALENDAR:
        return bool(after) and after[0].capital and after[0].key not in ROLES | roles | FUNCTION
    return True


def _named(by: str, run: list[Token]) -> Iterator[str]:
    short = all(token.raw.isupper() and len(token.raw) <= 3 for token in run)  # initials, or a trade's own short word
    spaced = len(run) > 1 and any(len(token.key) > 1 for token in run)
    if not short or spaced or not run[0].raw.isascii():
        yield by[run[0].start : run[-1].end]


def key_of(name: str) -> str:
    """Return a name as two that are written otherwise are told to be the same."""
    return " ".join(folded(name).split())
