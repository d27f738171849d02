"""Words of errors and findings as they stand on a page."""

from __future__ import annotations

import re
from typing import Final

__all__ = ["without_marks"]

_MARKED: Final = re.compile(r"`([^`]*)`")


def without_marks(words: str) -> str:
    """Return words in which what stood between backticks is quoted as people quote.

    >>> without_marks("`iland` is no record; expected `island`")
    '“iland” is no record; expected “island”'
    """
    return _MARKED.sub(r"“\1”", words)
