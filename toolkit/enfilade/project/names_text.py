"""Text as words with their places, as names are looked for in it."""

from __future__ import annotations

import re
import unicodedata
from typing import Final, NamedTuple

from enfilade.project.names_words import as_words

__all__ = ["WORD", "Token", "begins_sentence", "folded", "tokens_of"]

# Scripts that are written without spaces: each sign is a word of its own there, and a name is several in a row.
_UNSPACED: Final = "\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u2e80-\u9fff\uac00-\ud7af\uf900-\ufaff\U00020000-\U0003ffff"
_ALONE: Final = re.compile(f"[{_UNSPACED}]")
# Accents that stand apart from their letter, soft hyphens, and signs that take no room.
_UNSEEN: Final = "\u0300-\u036f\u00ad\u200b-\u200d\u2060\ufeff"
WORD: Final = re.compile(rf"[{_UNSPACED}]|(?:[^\W_{_UNSPACED}][{_UNSEEN}]*)+")
_ABBREVIATIONS: Final = as_words("mr mrs ms dr st no nos vs ca approx fig pp tel inc ltd prof rev")
_ENDS, _OPENERS, _CLOSERS, _LINE_ENDS = ".!?\u2026", '"\u201c\u00ab', "\"'\u201d\u2019)]\u00bb", "\n\r\u2028\u2029\x85"


class Token(NamedTuple):
    """A word of a text: its key without case and accents, as it is written, and where it stands."""

    key: str
    raw: str
    start: int
    end: int

    @property
    def capital(self) -> bool:
        """Tell whether it begins with a capital, or in a script that has none."""
        return not self.raw[0].islower()

    @property
    def unspaced(self) -> bool:
        """Tell whether it is a sign of a script that is written without spaces."""
        return _ALONE.fullmatch(self.raw) is not None

    @property
    def titled(self) -> bool:
        """Tell whether a capital is followed by small letters."""
        return self.raw[0].isupper() and self.raw[1:].islower()


def folded(text: str) -> str:
    """Return text in small letters, without accents and signs that take no room."""
    if text.isascii():
        return text.lower()
    apart = unicodedata.normalize("NFD", text.casefold())
    return "".join(sign for sign in apart if not unicodedata.combining(sign) and unicodedata.category(sign) != "Cf")


def tokens_of(text: str) -> list[Token]:
    """Return the words of a text, in order."""
    return [Token(folded(m.group()), m.group(), m.start(), m.end()) for m in WORD.finditer(text)]


def begins_sentence(text: str, place: int) -> bool:
    """Tell whether what stands at a place begins a sentence, a line or a quotation."""
    at = place
    while at and text[at - 1] in " \t\xa0([*\u2022-\u2013\u2018'" and place - at < 40:
        at -= 1
    if at == 0 or text[at - 1] in _LINE_ENDS:
        return True
    at = place
    while at and text[at - 1] in "([\u2018'":
        at -= 1
    if at and text[at - 1] in _OPENERS:
        return True
    spaced = at
    while at and text[at - 1] in " \t\xa0":
        at -= 1
    while at and text[at - 1] in _CLOSERS:
        at -= 1
    if at == spaced or at == 0 or text[at - 1] not in _ENDS:
        return False
    before = re.search(r"([^\W\d_]+)\.$", text[max(0, at - 12) : at])
    return before is None or (len(before[1]) > 1 and before[1].lower() not in _ABBREVIATIONS)
