"""Free text of a record, made fit to stand in a spoken sentence."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final, Literal

from enfilade.listing import capital, the
from enfilade.project.project import Project
from enfilade.times import MONTHS
from enfilade.walkthrough.drafting.voice import word_list

__all__ = ["LONGEST", "Form", "Wording", "sentences", "tidy"]

Form = Literal["thing", "list", "act", "place", "other"]
TitleForm = Literal["question", "name", "statement", "act"]

LONGEST: Final = 900
"""Signs that are quoted of one text; a longer one is cut at the end of a sentence (our own choice)."""

# Where a sentence ends; the full stop of a single letter is that of a name.
_END: Final = re.compile(r"(?:(?<=\w\w[.!?\u2026])|(?<=[.!?\u2026][\"'\u201d\u2019)]))\s+")
_DAYS: Final = frozenset({
    "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday", *map(str.lower, MONTHS),
})  # fmt: skip
_SMALL: Final = frozenset({"the", "a", "an", "and", "of", "de", "van", "von", "la", "le"})


def tidy(text: str, longest: int = LONGEST) -> str:
    """Return a text on one line, cut at the end of a sentence when it is very long; braces read as they stand."""
    plain = " ".join(text.split())
    if len(plain) > longest:
        head = plain[:longest]
        ends = [match.start() for match in _END.finditer(head)]
        plain = head[: ends[-1]] if ends else head.rpartition(" ")[0] or head
    return plain.replace("{", "(").replace("}", ")")


def sentences(text: str, longest: int = LONGEST) -> str:
    """Return a text as sentences: it begins with a capital and ends with a mark."""
    plain = tidy(text, longest)
    if not plain:
        return ""
    end = "" if plain.rstrip("\"'\u201d\u2019)")[-1:] in tuple(".!?\u2026") else "."
    return capital(plain.rstrip(",;:\u2013- ")) + end


class Wording:
    """Puts the texts of one project into sentences; it knows which words are names and keep their capital.

    Words of the names of people and trades do, where every word of the name begins with a capital: `Tile setter` is
    what somebody does. The name of the project does as a whole, at the head of a longer text, when it is a proper
    name and not what its rooms are called: `Slip House` keeps its capital, `Small kitchen` does not.
    """

    def __init__(self, project: Project) -> None:
        known: Iterable[str] = (
            *(person.name for person in project.household.people),
            *project.client.names,
            *(trade.name for trade in project.show.trades),
        )
        self._proper = {word.casefold() for name in known if _is_proper(name) for word in name.split()} - _SMALL
        rooms = {word for space in project.spaces for word in f"{space.name} {space.use}".casefold().split()}
        house = " ".join(project.name.split())
        plain = _is_proper(house) and not {*house.casefold().split()} - _SMALL <= rooms
        self._house = f"{house} " if house and plain else ""

    def clause(self, text: str) -> str:
        """Return a text as part of a sentence: without its last mark, and begun small unless it begins with a name."""
        plain = tidy(text).rstrip(" .!;:,\u2026")
        return self._begun_small(plain)

    def _begun_small(self, plain: str) -> str:
        first = re.match(r"[^\W_]+", plain)
        if first is None:
            return plain
        word = first.group()
        small = word.casefold()
        if self._house and plain.startswith(self._house):
            return plain
        keeps = small == "i" or small in self._proper or small in _DAYS or (len(word) > 1 and not word[1:].islower())
        # A single capital letter may be a shape: an L, a U.
        lone = len(word) == 1 and small != "a"
        return plain if keeps or lone else plain[:1].lower() + plain[1:]

    def the(self, name: str) -> str:
        """Return a name with its article: `the island`, `Hesper's room`."""
        return the(self.clause(name))

    def option(self, text: str) -> tuple[Form, str, str]:
        """Return what kind of text an option is, its first sentence as a part of one, and the rest as sentences."""
        plain = tidy(text)
        first, *rest = _END.split(plain, maxsplit=1)
        return _form(first), self.clause(first), sentences("".join(rest))

    def title(self, text: str) -> tuple[TitleForm, str]:
        """Return what kind of title a decision has, and the title as a part of a sentence."""
        plain = tidy(text)
        words = re.findall(r"[^\W_]+", plain.casefold())
        if words and words[0] in word_list("questions"):
            return "question", self.clause(plain)
        if any(word in word_list("verbs") for word in words[2:4]) and words[0] in ("the", "this", "our"):
            return "statement", self.clause(plain)
        if _form(plain) == "act":
            return "act", self.clause(plain)
        return "name", self.clause(plain)


def _is_proper(name: str) -> bool:
    """Tell whether every word of a name begins with a capital, but for small words in it."""
    words = [word for word in name.split() if word.casefold() not in _SMALL]
    return bool(words) and all(word[:1].isupper() for word in words)


def _form(text: str) -> Form:
    words = re.findall(r"[^\W_]+", text.casefold())
    if not words or words[0] in word_list("clauses"):
        return "other"
    second = words[1] if len(words) > 1 else ""
    if words[0] in word_list("acts") and (second in word_list("acts_before") or words[0] in ("keep", "make", "cook")):
        return "act"
    if words[0] in word_list("places") and second in word_list("places_before"):
        return "place"
    # `Sink under the window, range on the wall, island between them` has no article that would let it follow a verb.
    pieces = text.split(",")
    listed = len(pieces) > 2 and all(len(piece.split()) > 2 for piece in pieces)
    return "list" if listed and words[0] not in word_list("articles") else "thing"
