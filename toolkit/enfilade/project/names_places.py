"""Addresses, telephone numbers and addresses for mail, as a record knows them and as they are found in text."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from enfilade.project.names_known import Instead, Known
from enfilade.project.names_text import Token, begins_sentence, folded, tokens_of
from enfilade.project.names_words import NAMES_NOBODY, ORDINARY, PLACES, STREETS

__all__ = ["ADDRESS", "HOUSE", "POSTCODE", "Reach", "add_address", "reach_of"]

HOUSE: Final = Instead("the house", "house", "the house", person=False)
ADDRESS: Final = Instead("the address", "address", "the address", person=False)
POSTCODE: Final = Instead("the postcode", "postcode", "the postcode", person=False)

_MAIL: Final = re.compile(r"[^\s,;|<>()\[\]\"\u201c\u201d@]{1,64}@[^\s,;|<>()\[\]\"\u201c\u201d@]*[^\W_]")
_PAGE: Final = re.compile(r"(?:https?://|www\.)[^\s,;|<>()\"\u201c\u201d]*[^\W_]", re.IGNORECASE)
_HANDLE: Final = re.compile(r"(?<!\S)@[\w.]*\w")
# Codes of the postal services of Britain and of Canada; those in figures are at least five long.
_CODE: Final = re.compile(r"\b(?:[A-Z]{1,2}\d[A-Z\d]? ?\d[A-Z]{2}|[A-Z]\d[A-Z] ?\d[A-Z]\d|\d{5,})\b", re.IGNORECASE)


def add_address(known: Known, address: str) -> None:
    """Add an address: its house's own name, its streets, towns and codes, and all of it."""
    pieces = [piece for piece in re.split(r"[,;\n]+", address) if piece.strip()]
    at = _place_of_house(pieces)
    known.add_phrase(tokens_of(address), HOUSE if at is not None else ADDRESS, capital=False)
    for place, piece in enumerate(pieces):
        for code in _CODE.findall(piece):
            _add(known, tokens_of(code), POSTCODE)
        tokens = tokens_of(_CODE.sub(" ", piece))
        if 0 < sum(len(token.key) for token in tokens) <= 3 and _CODE.search(piece):
            _add(known, tokens_of(piece), POSTCODE)  # a state and its code
        if place == at:
            _add(known, tokens, HOUSE)
            called = [token for token in tokens if token.key != "the"]
            known.add_phrase(called, HOUSE)
            if len(called) == 1 and called[0].key not in ORDINARY:  # `The Mill` is known by its article alone
                _add(known, called, HOUSE)
        elif sum(len(token.key) for token in tokens) > 3:
            _add_street(known, tokens)


def _place_of_house(pieces: list[str]) -> int | None:
    """Return which piece of an address is the house's own name."""
    for place, piece in enumerate(pieces):
        tokens = tokens_of(piece)
        keys = [token.key for token in tokens]
        if not keys or keys[0] in PLACES or keys == ["the"]:
            continue
        alone = len(pieces) == place + 1 and keys[0] != "the"
        plain = not any(sign.isdigit() for sign in piece) and keys[-1] not in STREETS - {"house", "gardens", "court"}
        return place if plain and not alone else None
    return None


def _add_street(known: Known, tokens: list[Token]) -> None:
    _add(known, tokens, ADDRESS)
    named = tokens
    if re.fullmatch(r"\d+\w?", tokens[0].raw) and len(tokens) > 1:
        named = tokens[1:]
        _add(known, named, ADDRESS)
    if named[-1].key in STREETS and len(named) > 1:
        for token in named[:-1]:
            if len(token.key) > 3 and token.key not in ORDINARY | NAMES_NOBODY | PLACES and not token.raw[0].isdigit():
                known.add_word(token.key, ADDRESS, "capital")


def _add(known: Known, tokens: list[Token], instead: Instead) -> None:
    if len(tokens) != 1:
        known.add_phrase(tokens, instead, capital=sum(token.key != "the" for token in tokens) < 2)
    elif len(tokens[0].key) > 3 and tokens[0].key not in NAMES_NOBODY:
        known.add_word(tokens[0].key, instead)


@dataclass(frozen=True)
class Reach:
    """By what someone is reached: addresses for mail and pages, and telephone numbers."""

    written: frozenset[str]
    numbers: re.Pattern[str] | None

    def out_of(self, text: str, named: Callable[[str], bool]) -> str:
        """Return text without them, and without any address for mail that holds a known name.

        Args:
            named: Tells whether a text holds a known name.
        """
        if "@" in text:
            for pattern in (_MAIL, _HANDLE):
                text = pattern.sub(lambda match: self._said(match, "an e-mail address", named), text)
        if "www." in text.lower() or "://" in text:
            text = _PAGE.sub(lambda match: self._said(match, "a page", named), text)
        if self.numbers is not None:
            text = self.numbers.sub(lambda match: _begun(match, "a telephone number"), text)
        return text

    def _said(self, match: re.Match[str], instead: str, named: Callable[[str], bool]) -> str:
        written = match.group()
        bare = re.sub(r"[._/:@]+", " ", written)
        return _begun(match, instead) if folded(written) in self.written or named(bare) else written


def _begun(match: re.Match[str], instead: str) -> str:
    return instead[0].upper() + instead[1:] if begins_sentence(match.string, match.start()) else instead


def reach_of(contacts: Iterable[str]) -> Reach:
    """Return by what a record's contacts reach someone; other words in them are no names."""
    written: set[str] = set()
    numbers: list[str] = []
    for contact in contacts:
        for pattern in (_MAIL, _PAGE, _HANDLE):
            written.update(folded(one) for one in pattern.findall(contact))
        for piece in re.split(r"[,;|\n]+|[^\W\d_]+", _MAIL.sub(",", _PAGE.sub(",", contact))):
            digits = re.sub(r"\D", "", piece)
            if len(digits) >= 7:
                numbers.append(digits[-10:])
    return Reach(frozenset(written), _numbers(numbers))


def _numbers(known: Iterable[str]) -> re.Pattern[str] | None:
    """Return what finds telephone numbers, however they are spaced, with what is dialled before them."""
    between, found = r"[\s().\-\u2010-\u2013]{0,3}", []
    for digits in sorted(set(known), key=len, reverse=True):
        before = r"(?:\+?\d{1,3}[\s().-]{0,3})?\(?"
        found.append(before + between.join(digits))
        if len(digits) > 7:  # as it is dialled nearby
            nearby = between.join(digits[-7:])
            found.append(r"(?:\+\d{1,3}[\s().-]{0,3})?(?:\(\d{2,4}\)[\s.-]{0,3})?" + nearby)
    return re.compile(rf"(?<![\d+])(?:{'|'.join(found)})(?!\d)") if found else None
