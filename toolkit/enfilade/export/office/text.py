"""Text of a record as an office file may hold it."""

from __future__ import annotations

import re
from typing import Final

__all__ = ["paragraphs", "plain", "shortened"]

# What XML 1.0 (section 2.2) allows in no document, and the marks that would turn the direction of the rest.
_ILLEGAL: Final = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff\u202a-\u202e\u2066-\u2069]"
)
_BREAKS: Final = re.compile("\r\n|[\n\r\x0b\x0c\x85\u2028\u2029]")


def plain(text: str) -> str:
    """Return a text on one line; what no office file may hold is shown as a replacement sign.

    >>> plain("larch,\\nbrushed\\x00")
    'larch, brushed\ufffd'
    """
    return _ILLEGAL.sub("\ufffd", _BREAKS.sub(" ", text).replace("\t", " "))


def paragraphs(text: str) -> tuple[str, ...]:
    """Return the paragraphs of a text, each on one line; those that hold nothing are left out."""
    return tuple(part for part in (plain(line).strip() for line in _BREAKS.split(text)) if part)


def shortened(text: str, most: int, tail: str = "\u2026") -> str:
    """Return a text of at most `most` signs, cut after a word where there is one, with a tail that says so."""
    if len(text) <= most:
        return text
    kept = text[: max(1, most - len(tail))]
    return (kept.rsplit(" ", 1)[0] if " " in kept[most // 2 :] else kept).rstrip() + tail
