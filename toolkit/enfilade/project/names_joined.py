"""Names inside longer words: `orrery2`, `OrreryHouse`, `janeorrery`. Only what is to be forgotten is sought there."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from enfilade.project.names_known import Known, Word
from enfilade.project.names_words import FUNCTION, NAMES_NOBODY, ORDINARY, ROLES

__all__ = ["out_of_longer_words"]

_SHORTEST: Final = 4
_ANYWHERE: Final = 7
"""A name of so many letters is found inside any word; a shorter one where figures, signs or capitals set it off (own
choice: shorter ones stand inside ordinary words, as Mara does in marathon; common practice, no source)."""
_WORDS: Final = ORDINARY | FUNCTION | NAMES_NOBODY | ROLES


def out_of_longer_words(known: Known) -> Callable[[str, bool], str] | None:
    """Return what leaves known names out of longer words, in a text or (True) in an id; None: there are none."""
    words = {key: word for key, word in known.words.items() if word.how == "any" and len(key) >= _SHORTEST}
    whole = _joined_names(known)
    found = [*(_anyhow(key) for key in whole), *(_set_off(key) for key in sorted(words, key=lambda one: -len(one)))]
    if not found:
        return None
    pattern = re.compile("|".join(found))

    def out_of(text: str, is_id: bool) -> str:
        return pattern.sub(lambda match: "private" if is_id else _instead(match.group(), words), text)

    return out_of


def _joined_names(known: Known) -> list[str]:
    """Return the names of people and firms written as one word, longest first."""
    joined = {
        "".join(word.key for word in one.words)
        for phrases in known.phrases.values()
        for one in phrases
        if one.instead is not None and not one.capital
    }
    return sorted((one for one in joined if len(one) >= _ANYWHERE), key=lambda one: (-len(one), one))


def _instead(found: str, words: dict[str, Word]) -> str:
    word = words.get(found.lower())
    return word.instead.bare if word else "client"


def _set_off(key: str) -> str:
    if len(key) >= _ANYWHERE and not any(key in word for word in _WORDS):
        return _anyhow(key)
    name = _anyhow(key)
    # The letter before, or after, is none; or a capital begins a word there.
    return rf"(?:(?<![^\W\d_])|(?<=[a-z])(?=[A-Z])){name}(?:(?![^\W\d_])|(?<=[a-z])(?=[A-Z]))"


def _anyhow(key: str) -> str:
    return f"(?i:{re.escape(key)})"
