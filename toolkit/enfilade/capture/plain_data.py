"""What a page sends, checked before any part reads it."""

from __future__ import annotations

import math
import re
from typing import Any, Final

from enfilade.errors import Refused

__all__ = ["plain_data"]

_DEEPEST: Final = 16
"""Deeper than any sheet or form; a part shows what it keeps, and a widget sends it level by level."""
_HALF: Final = re.compile("[\ud800-\udfff]")


def plain_data(value: Any, deepest: int = _DEEPEST) -> Any:
    """Return plain data as it can be kept and sent again: halves of a sign are replaced, as in any text that is sent.

    Raises:
        Refused: It is nested too deep, or holds what JSON has no word for.
    """
    if isinstance(value, str):
        return value if value.isascii() else _HALF.sub("\ufffd", value)
    if isinstance(value, float) and not math.isfinite(value):
        raise Refused("the page sent a number that is none", do="load the page again")
    if value is None or isinstance(value, bool | int | float | bytes):
        return value
    if not isinstance(value, dict | list | tuple) or not deepest:
        raise Refused("the page sent what cannot be read", do="load the page again")
    if isinstance(value, dict):
        return {plain_data(key, 0): plain_data(inner, deepest - 1) for key, inner in value.items()}
    return [plain_data(inner, deepest - 1) for inner in value]
