"""Where names stand in a text: each with the words that belong to it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from enfilade.project.names_known import Instead, Known, Phrase
from enfilade.project.names_text import Token, begins_sentence
from enfilade.project.names_words import CALENDAR, FUNCTION, NAMES_NOBODY, PERSONAL, TITLES, as_words

__all__ = ["Found", "found_in"]

_NEAR: Final = re.compile(r"[\s_]{0,3}|\s?[-\u2010-\u2013/&+'\u2019]\s?")
_DOTTED: Final = re.compile(r"\.\s{0,2}")
_IN_PHRASE: Final = re.compile(r"[\s\-\u2010-\u2013'\u2019/&+_,;]{0,4}|\.\s?")
_AND: Final = re.compile(r"(?:['\u2019]s)?\s?(?:&|\+|/|,?\s(?:and|or))\s", re.IGNORECASE)
_LISTED: Final = re.compile(r"(?:['\u2019]s)?,\s")
_PLACED: Final = re.compile(
    r",?\s(?:in|at|on|near|of|by|off)\s|,?\s(?:in|at|on|near|of|by|off)\sthe\s|,?\s{1,2}|,\sthe\s"
)
_AFTER: Final = as_words("jr sr ii iii iv")
_DATED: Final = as_words("in during since until till early late mid last next this every each through")
_PART_OF_MONTH: Final = as_words("end beginning start middle first last half week weeks days month months")


@dataclass(slots=True)
class Found:
    """A name, from one word of a text to another (not included), and what stands for it."""

    first: int
    end: int
    instead: Instead
    many: bool = False


def found_in(text: str, tokens: list[Token], known: Known) -> list[Found]:
    """Return the names in a text from its beginning to its end; those in a row that stand for the same are one."""
    found, place = [], 0
    while place < len(tokens):
        phrase = _phrase(text, tokens, place, known)
        if phrase is not None:
            end = place + len(phrase.words)
            if phrase.instead is not None:
                found.append(Found(place, end, phrase.instead))
            place = end
            continue
        if (one := _word(text, tokens, place, known)) is not None:
            found.append(one)
        place += 1
    taken = {one.first for one in found}
    found = [_with_loose(text, tokens, one, known, taken) for one in found]
    return _joined(text, tokens, found)


def _phrase(text: str, tokens: list[Token], place: int, known: Known) -> Phrase | None:
    for phrase in known.phrases.get(tokens[place].key, ()):
        here = tokens[place : place + len(phrase.words)]
        if len(here) == len(phrase.words) and all(map(_same, here, phrase.words)):
            gaps = (text[a.end : b.start] for a, b in pairwise(here))
            if all(_IN_PHRASE.fullmatch(gap) for gap in gaps) and not (
                phrase.capital and any(t.raw[0].islower() and t.key not in FUNCTION | NAMES_NOBODY for t in here)
            ):
                return phrase
    return None


def _same(here: Token, known: Token) -> bool:
    # A single letter, as in `maker A`, is a name only as it is written.
    return here.key == known.key and (len(known.raw) > 1 or here.raw == known.raw)


def _word(text: str, tokens: list[Token], place: int, known: Known) -> Found | None:
    token = tokens[place]
    key, many = token.key, False
    if key not in known.words:
        many = key.endswith("s")
        key = key[:-1] if key[:-1] in known.words else key[:-2] if key.endswith("es") else key
    word = known.words.get(key)
    if word is None or (word.how != "any" and not token.capital):
        return None
    found = Found(place, place + 1, word.instead, many and word.instead.person)
    if word.how in ("any", "capital") or _beside(text, tokens, found, known):
        return found
    if word.how == "beside" or _is_date(text, tokens, place, key):
        return None
    if begins_sentence(text, token.start):
        after = tokens[place + 1].key if place + 1 < len(tokens) else ""
        return found if after in PERSONAL else None
    return None if _in_capitals(tokens, place) else found


def _beside(text: str, tokens: list[Token], found: Found, known: Known) -> bool:
    """Tell whether another part of the name, or a title, stands next to a word."""
    loose = known.loose.get(found.instead, set())
    for place in (found.first - 1, found.end):
        if not 0 <= place < len(tokens):
            continue
        token, pair = tokens[place], (place, place + 1) if place < found.first else (place - 1, place)
        known_here = token.key in loose or (place < found.first and _title(token))
        if token.capital and known_here and _near(text, *(tokens[one] for one in pair)):
            return True
    return any(_with_another(text, tokens, found, known, step) for step in (-1, 1))


def _with_another(text: str, tokens: list[Token], found: Found, known: Known, step: int) -> bool:
    """Tell whether `and` and a name that stands for the same come before or after a word."""
    other = found.first - 2 if step < 0 else found.end + 1
    if not 0 <= other < len(tokens):
        return False
    word = known.words.get(tokens[other].key)
    first, second = sorted((other, found.first))
    gap = text[tokens[first].end : tokens[second].start]
    return word is not None and word.instead == found.instead and word.how == "any" and bool(_AND.fullmatch(gap))


def _near(text: str, first: Token, second: Token) -> bool:
    """Tell whether two words stand together as words of a name do: a full stop is an initial's or a title's."""
    gap = text[first.end : second.start]
    if len(first.key) == 1 or _title(first):
        article = first.key in ("a", "i") and gap[:1] not in (".", "'", "\u2019")
        return not article and bool(_DOTTED.fullmatch(gap) or _NEAR.fullmatch(gap))
    return bool(_NEAR.fullmatch(gap))


def _title(token: Token) -> bool:
    return token.key in TITLES and token.raw[0].isupper()


def _is_date(text: str, tokens: list[Token], place: int, key: str) -> bool:
    if key not in CALENDAR:
        return False
    before = [token.key for token in tokens[max(0, place - 3) : place]]
    after = [token.key for token in tokens[place + 1 : place + 3]]
    near = (*before[-1:], *after[:1])
    if any(word[0].isdigit() or word in CALENDAR for word in near) or (before and before[-1] in _DATED):
        return True
    joined = before[-1:] in (["and"], ["to"], ["or"]) and before[-2:-1] and before[-2] in CALENDAR
    listed = after[:1] in (["and"], ["to"], ["or"]) and after[1:] and after[1] in CALENDAR
    of = before[-1:] == ["of"] and bool(set(before[:-1]) & _PART_OF_MONTH or any(w[0].isdigit() for w in before))
    return bool(joined or listed or of)


def _in_capitals(tokens: list[Token], place: int) -> bool:
    """Tell whether a word stands in a heading that is all in capitals."""
    token = tokens[place]
    near = tokens[max(0, place - 1) : place] + tokens[place + 1 : place + 2]
    return len(token.raw) > 1 and token.raw.isupper() and any(len(t.raw) > 1 and t.raw.isupper() for t in near)


def _with_loose(text: str, tokens: list[Token], found: Found, known: Known, taken: set[int]) -> Found:
    """Take in the initials, and the other words of the same name, that stand beside a part of it."""
    loose = known.loose.get(found.instead, set())
    while found.first and (token := tokens[found.first - 1]).key in loose and found.first - 1 not in taken:
        if not token.capital or not _near(text, token, tokens[found.first]):
            break
        found.first -= 1
    while (end := found.end) < len(tokens) and end not in taken:
        also = tokens[end].key == "and" and end + 1 < len(tokens) and end + 1 not in taken  # `and Daughter`
        token = tokens[end + also]
        plain = token.key in NAMES_NOBODY
        if len(token.key) == 1 or not (token.key in loose or (found.instead.person and token.key in _AFTER)):
            break
        if not (token.capital or plain) or (also and not plain) or not _near(text, tokens[end - 1], tokens[end]):
            break
        found.end += 1 + also
    return found


def _joined(text: str, tokens: list[Token], found: list[Found]) -> list[Found]:
    """Bring names in a row together: `Odalys and Bram Merrowby`, and an address with its town."""
    joined: list[Found] = []
    for one in found:
        if joined and (last := joined[-1]).end > one.first:  # both took in the same words
            last.end, last.many = max(last.end, one.end), last.many or one.many
            continue
        joined.append(one)
        while len(joined) > 1 and _join(text, tokens, joined):
            pass
    return joined


def _join(text: str, tokens: list[Token], joined: list[Found]) -> bool:
    """Join the last two when they belong together, and names in a list before them."""
    a, b = joined[-2:]
    gap = text[tokens[a.end - 1].end : tokens[b.first].start]
    if not a.instead.person and not b.instead.person:
        together, several = bool(_PLACED.fullmatch(gap) or _NEAR.fullmatch(gap)), False
    elif a.instead != b.instead:
        return False
    else:
        several = bool(_AND.fullmatch(gap))
        together = several or _near(text, tokens[a.end - 1], tokens[b.first])
        several = several and "or" not in gap.lower().split()
    if not together:
        return False
    joined[-2:] = [Found(a.first, b.end, a.instead, a.many or b.many or several)]
    while several and len(joined) > 1 and joined[-2].instead == a.instead:
        before = text[tokens[joined[-2].end - 1].end : tokens[joined[-1].first].start]
        if not _LISTED.fullmatch(before):
            break
        joined[-2:] = [Found(joined[-2].first, joined[-1].end, a.instead, True)]
    return True
