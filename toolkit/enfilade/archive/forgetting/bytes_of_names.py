"""Names in files of any encoding: as text where a file is one, else as bytes that read like it."""

from __future__ import annotations

import codecs
import html
import re
from collections.abc import Iterable
from typing import Final
from urllib.parse import unquote

from enfilade.archive.indexing import folded
from enfilade.project.names import Names

__all__ = ["encoding_of", "hidden_in", "stands_in_bytes"]

_MARKED: Final = (
    (codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF32_LE, "utf-32"), (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"),
)  # fmt: skip
"""Marks by which a text says how it is written (Unicode Standard, 23.8): the longer before what it begins with."""
_NO_TEXT: Final = re.compile(rb"[\x00-\x08\x0e-\x1a\x1c-\x1f]")
_ESCAPED: Final = re.compile(r"\\u\{?([0-9a-fA-F]{4,6})\}?|\\x([0-9a-fA-F]{2})")
_SHORTEST_IN_BYTES: Final = 4
"""A shorter word stands by chance in any picture or font (own choice)."""
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
        return None
    return next((one for one in ("utf-8", "cp1252", "latin-1") if _reads(data, one)), None)


def _reads(data: bytes, encoding: str) -> bool:
    try:
        data.decode(encoding).encode(encoding)
    except UnicodeError:
        return False
    return True


def hidden_in(text: str, names: Names) -> bool:
    """Tell whether a text holds a name in another writing: `&#252;`, `\\u00fc`, `%C3%BC`."""
    ways = (html.unescape(text), unquote(text), _ESCAPED.sub(_sign, text))
    return any(way != text and names.out_of_text(way) != way for way in ways)


def _sign(found: re.Match[str]) -> str:
    code = int(found[1] or found[2], 16)
    return chr(code) if code < 0x110000 and not 0xD800 <= code < 0xE000 else found[0]


def stands_in_bytes(data: bytes, words: Iterable[str]) -> bool:
    """Tell whether a word stands in bytes that are no text, whichever way it may be written there.

    Args:
        words: In small letters without accents.
    """
    views = [data.decode("latin-1"), data.decode("utf-8", "replace")]
    views += [data[start:].decode(encoding, "replace") for encoding in ("utf-16-le", "utf-16-be") for start in (0, 1)]
    low = [folded(view) for view in views]
    for word in words:
        if len(word) >= _SURELY:
            if any(word in view for view in low):
                return True
        elif len(word) >= _SHORTEST_IN_BYTES:
            alone = re.compile(rf"(?<![^\W_]){re.escape(word)}(?![^\W_])")
            if any(alone.search(view) for view in low):
                return True
    return False
