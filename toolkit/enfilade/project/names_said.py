"""How a text reads in which other words stand for names."""

from __future__ import annotations

import re
from typing import Final

from enfilade.project.names_found import Found, found_in
from enfilade.project.names_known import Known
from enfilade.project.names_places import ADDRESS, POSTCODE
from enfilade.project.names_text import Token, begins_sentence, tokens_of
from enfilade.project.names_words import FUNCTION, NAMES_NOBODY, OPENING, ORDINARY, PERSONAL, TITLES, as_words

__all__ = ["said_otherwise"]

_OTHER_THAN_THE: Final = as_words("our my your their his her its this every each dear another")
_NO_NOUN: Final = (
    FUNCTION | PERSONAL | as_words("stands stood lies lay looks looked runs ran comes came makes made says says")
)
_OF_CODES: Final = as_words("the zip post code postcode")
_HYPHENS: Final = "-\u2010\u2011"
_SPACE: Final = re.compile(r"[\s]{1,2}")
_TITLED: Final = re.compile(r"\.?\s{1,2}")
_SHORTENED: Final = re.compile(r"\.(?=,|\s+[^\W_A-Z])")
_OWNED: Final = re.compile(r"(['\u2019])[sS](?![^\W_])")
_OWNED_BY_MANY: Final = re.compile(r"(['\u2019])(?![^\W_])")


def said_otherwise(text: str, known: Known) -> str:
    """Return text in which other words stand for each name that is found in it."""
    tokens = tokens_of(text)
    pieces, done, used = [], 0, 0
    for found in found_in(text, tokens, known):
        if found.first < used:
            continue
        said = _Said(text, tokens, found, known, used)
        pieces += [text[done : said.start], said.words]
        done, used = said.end, found.end
    return "".join((*pieces, text[done:]))


class _Said:
    """The words that stand for one name, and from where to where they stand."""

    def __init__(self, text: str, tokens: list[Token], found: Found, known: Known, used: int) -> None:
        self._text, self._tokens, self._found, self._used = text, tokens, found, used
        self._bare = self._called = False
        self.start, self.end = tokens[found.first].start, tokens[found.end - 1].end
        owned = self._whole_word()
        self.end += tokens[found.end - 1].key in ("jr", "sr") and bool(_SHORTENED.match(text, self.end))
        self._take_titles(known)
        self._take_called()
        self.words = self._worded(owned)

    def _before(self) -> Token | None:
        """Return the word before, when it is not another name's."""
        return self._tokens[self._found.first - 1] if self._found.first > self._used else None

    def _gap(self, token: Token) -> str:
        return self._text[token.end : self.start]

    def _take(self, token: Token) -> None:
        self._found.first -= 1
        self.start = token.start

    def _whole_word(self) -> str:
        """Take in the rest of a name with hyphens, and return the sign of what is owned."""
        found, text = self._found, self._text
        hyphened = False
        while (token := self._before()) is not None and self._gap(token) in tuple(_HYPHENS):
            if not token.titled:
                self._bare = True
                break
            self._take(token)
        while found.end < len(self._tokens) and text[self.end : self._tokens[found.end].start] in tuple(_HYPHENS):
            if not self._tokens[found.end].titled:
                self._bare = hyphened = True
                break
            self.end = self._tokens[found.end].end
            found.end += 1
        if hyphened:
            return ""
        if owned := _OWNED.match(text, self.end):
            self.end = owned.end()
            found.end += found.end < len(self._tokens) and self._tokens[found.end].start < self.end
            return owned[1]
        quoted = self.start > 0 and text[self.start - 1] in "'\u2018"
        if text[self.end - 1] in "sS" and not quoted and (owned := _OWNED_BY_MANY.match(text, self.end)):
            self.end = owned.end()
            return owned[1]
        return ""

    def _take_titles(self, known: Known) -> None:
        if not self._found.instead.person:
            return
        token = self._before()
        surname = self._tokens[self._found.first].key in known.surnames
        if surname and token is not None and token.titled and _SPACE.fullmatch(self._gap(token)):
            begins = begins_sentence(self._text, token.start)
            if token.key not in (FUNCTION | NAMES_NOBODY | OPENING | ORDINARY if begins else FUNCTION | NAMES_NOBODY):
                self._take(token)  # another one of the same surname
        while (token := self._before()) is not None and token.key in TITLES and token.raw[0].isupper():
            if not _TITLED.fullmatch(self._gap(token)):
                break
            self._take(token)
            several = self._before()
            if several is not None and several.key == "and" and self._found.first - 1 > self._used:
                other = self._tokens[self._found.first - 2]
                if other.key in TITLES and other.raw[0].isupper():
                    self._take(several)
                    self._found.many = True

    def _take_called(self) -> None:
        """Take in what the words would say twice: `the joiner Thole` is no `the joiner the joiner`."""
        bare = self._found.instead.bare.split()
        here = self._found.first
        called = self._tokens[max(self._used, here - len(bare)) : here]
        if [token.key for token in called] != bare:
            return
        between = self._text[self.end : self.end + 1] == "," and self._gap(called[-1]) == ", "
        if between or _SPACE.fullmatch(self._gap(called[-1])):
            for token in reversed(called):
                self._take(token)
            self.end += between
            self._called = True

    def _worded(self, owned: str) -> str:
        found, instead, token = self._found, self._found.instead, self._before()
        near = token is not None and _SPACE.fullmatch(self._gap(token)) is not None
        key = token.key if token is not None and near else ""
        noun = self._noun_follows() and not owned and not found.many and not self._called
        if key in ("the", "a", "an", *_OTHER_THAN_THE) and noun and instead == ADDRESS and not self._bare:
            self.end = self._tokens[found.end].start  # `the Tidewater house` is the house
            return ""
        if not self._bare and (key == "the" or (key in ("a", "an") and noun)):
            assert token is not None
            self._take(token)
        elif key in ("in", "on") and instead == ADDRESS and token is not None:
            self._take(token)
            return self._begun(f"at {instead.one}")
        bare = (
            self._bare
            or key in _OTHER_THAN_THE
            or (key in ("a", "an") and not noun)
            or (noun and self._after_article())
        )
        words = instead.bare if bare else instead.many if found.many else instead.one
        if (key and noun and not self._bare and instead.person and key in ("the", "a", "an", *_OTHER_THAN_THE)) or (
            noun and self._tokens[found.end].key in ("family", "household")
        ):
            owned = "'" if "'" in self._text else "\u2019"
        if owned:
            words += owned if found.many and words.endswith("s") else f"{owned}s"
        while instead == POSTCODE and (token := self._before()) is not None and token.key in _OF_CODES:
            self._take(token)  # `the zip code 04530` is the postcode
        return self._begun(words)

    def _noun_follows(self) -> bool:
        """Tell whether a word in small letters comes next that may be what the name belongs to."""
        if self._found.end >= len(self._tokens):
            return False
        token = self._tokens[self._found.end]
        return (
            bool(_SPACE.fullmatch(self._text[self.end : token.start]))
            and token.raw[0].islower()
            and token.key not in _NO_NOUN
        )

    def _after_article(self) -> bool:
        """Tell whether an article and one other word come before, as in `the long Brindle sofa`."""
        first, tokens = self._found.first, self._tokens
        if first - 2 < self._used or tokens[self._found.end].key.endswith("ed"):
            return False
        article, word = tokens[first - 2 : first]
        if article.key not in _OTHER_THAN_THE | {"the", "a", "an"} or not word.raw[0].islower() or word.key in _NO_NOUN:
            return False
        gaps = (self._text[article.end : word.start], self._gap(word))
        return all(map(_SPACE.fullmatch, gaps))

    def _begun(self, words: str) -> str:
        capital = not self._text[self.start].islower() and begins_sentence(self._text, self.start)
        return words[0].upper() + words[1:] if capital else words
