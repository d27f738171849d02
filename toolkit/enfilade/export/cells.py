"""Text that is put into the cell of a table, for a program that might take it for a formula."""

from __future__ import annotations

import re
from typing import Final

__all__ = ["plain_cell"]

_FORMULA_SIGNS: Final = ("=", "+", "-", "@", "\t", "\r")
_NOT_IN_XML: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")


def plain_cell(text: str) -> str:
    """Return the text of a cell as a table program shows it, and never as one that it works out.

    A text that begins with a sign by which such programs know a formula gets an apostrophe before it. Characters that
    no XML 1.0 file may hold, and that a file in UTF-8 cannot, are left out.

    >>> plain_cell("=1+1"), plain_cell("sink, 30 in")
    ("'=1+1", 'sink, 30 in')
    """
    kept = _NOT_IN_XML.sub("", text)
    return f"'{kept}" if kept.startswith(_FORMULA_SIGNS) else kept
