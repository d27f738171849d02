"""What was typed, told back in a sentence to who typed it."""

from __future__ import annotations

from typing import Final

__all__ = ["quoted", "told_back"]

_LONGEST: Final = 40
_NO_SHAPE: Final = "\ufffd"
_CUT: Final = 20
"""So many signs of a long text are told back by what reads lengths."""


def quoted(text: str, longest: int = _LONGEST) -> str:
    """Return typed text in quotation marks, on one line, cut, with a sign in place of each that has no shape.

    >>> quoted('5\\\\6  in"'), quoted("a\\x00b"), quoted("x" * 99, 3)
    ('“5\\\\6 in"”', '“a�b”', '“xx…”')
    """
    line = "".join(sign if sign.isprintable() else _NO_SHAPE for sign in " ".join(text.split()))
    return f"“{line if len(line) <= longest else f'{line[: longest - 1]}…'}”"


def told_back(words: str, typed: object) -> str:
    """Return the words of a refusal in which typed text stands as a program writes it, with the text as people do."""
    if not isinstance(typed, str):
        return words
    return words.replace(repr(typed), quoted(typed)).replace(f"{typed[:_CUT]!r}...", quoted(typed, _CUT + 1))
