"""Names in files of any encoding: as text where a file is one, else as bytes that read like it."""

from __future__ import annotations

import codecs
import html
import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Final
from urllib.parse import unquote

from enfilade.archive.indexing import folded
from enfilade.project.names import Names

__all__ = ["SHORTEST_IN_BYTES", "encoding_of", "hidden_in", "stands_in_bytes"]

_MARKED: Final = (
    (codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF32_LE, "utf-32"), (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"),
)  # fmt: skip
"""Marks by which a text says how it is written (Unicode Standard, 23.8): the longer before what it begins with."""
_WIDE: Final = ("utf-32-le", "utf-32-be", "utf-16-le", "utf-16-be")
"""How a text may be written whose every sign takes several bytes, and that bears no mark."""
_WESTERN: Final = 0x250
"""Below this stand the letters of western languages (Unicode: Basic Latin to Latin Extended-B)."""
_NO_TEXT: Final = re.compile(rb"[\x00-\x08\x0e-\x1a\x1c-\x1f]")
_ESCAPED: Final = re.compile(
    r"\\{1,4}(?:u\{([0-9a-fA-F]{1,6})\}|u([0-9a-fA-F]{4})|U([0-9a-fA-F]{8})|x([0-9a-fA-F]{2}))"
)
SHORTEST_IN_BYTES: Final = 4
"""A shorter word stands by chance in any picture or font (own choice)."""
_SHORTEST_WIDE: Final = 2
"""Where each letter takes two bytes, shorter ones do not stand by chance (own choice)."""
_MOST_TIMES: Final = 2
"""So many ways of writing one within the other are looked through, such as `%26%23252%3B` (own choice)."""
_SURELY: Final = 5
"""A word of so many letters counts in bytes also with letters around it (own choice)."""


def encoding_of(data: bytes) -> str | None:
    """Return how a text is written; None: it is none.

    What is no UTF-8 and has no signs that a text has not is read as Windows writes western languages, where every byte
    is a sign: names are found there as well as anywhere.
    """
    for mark, encoding in _MARKED:
        if data.startswith(mark):
            return encoding if _reads(data, encoding) else None
    if _NO_TEXT.search(data):
        return next((one for one in _WIDE if _reads(data, one) and _is_western(data.decode(one))), None)
    return next((one for one in ("utf-8", "cp1252", "latin-1") if _reads(data, one)), None)


def _reads(data: bytes, encoding: str) -> bool:
    try:
        data.decode(encoding).encode(encoding)
    except UnicodeError:
        return False
    return True


def _is_western(text: str) -> bool:
    """Tell whether most signs are of western languages, and none is one that no text holds."""
    return not _NO_TEXT.search(text.encode()) and sum(ord(sign) < _WESTERN for sign in text) * 2 > len(text)


def hidden_in(text: str, names: Names) -> bool:
    """Tell whether a text holds a name in another writing: `&#252;`, `\\u00fc`, `%C3%BC`, `%FC`, or one in another."""
    ways = {text}
    for _ in range(_MOST_TIMES):
        ways |= {read(way) for way in ways for read in _READINGS}
    return any(way != text and names.out_of_text(way) != way for way in ways)


def _sign(found: re.Match[str]) -> str:
    code = int(next(filter(None, found.groups())), 16)
    return chr(code) if code < 0x110000 and not 0xD800 <= code < 0xE000 else found[0]


_READINGS: Final[tuple[Callable[[str], str], ...]] = (
    html.unescape, unquote, partial(unquote, encoding="cp1252"), partial(_ESCAPED.sub, _sign)
)  # fmt: skip


def stands_in_bytes(data: bytes, words: Sequence[str]) -> bool:
    """Tell whether a word stands in bytes that are no text, whichever way it may be written there.

    Args:
        words: In small letters without accents.
    """
    return any(_stands(word, view) for view, shortest in _views(data) for word in words if len(word) >= shortest)


def _views(data: bytes) -> Iterator[tuple[str, int]]:
    """Yield bytes as text in one way after the other, since each takes room, with the shortest word to look for."""
    for encoding in ("latin-1", "utf-8"):
        yield folded(data.decode(encoding, "replace")), SHORTEST_IN_BYTES
    for encoding in ("utf-16-le", "utf-16-be"):
        for start in (0, 1):
            yield folded(data[start:].decode(encoding, "replace")), _SHORTEST_WIDE


def _stands(word: str, view: str) -> bool:
    if len(word) >= _SURELY:
        return word in view
    return re.search(rf"(?<![^\W_]){re.escape(word)}(?![^\W_])", view) is not None
