"""New ids: made from what people call a record, and never twice."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container
from typing import Final

__all__ = ["new_id"]

_LONGEST: Final = 48
_NOT_YET: Final = "new"


def new_id(words: str, taken: Container[str]) -> str:
    """Return an id made from `words` that is not among `taken`.

    It is never `new`: a path names by that word what is not there yet.

    >>> new_id("River wall", {"river-wall"}), new_id("New", ())
    ('river-wall-2', 'new-2')
    """
    plain = "".join(sign for sign in unicodedata.normalize("NFKD", words) if not unicodedata.combining(sign))
    base = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:_LONGEST].strip("-") or "record"
    number, name = 1, base
    while name in taken or name == _NOT_YET:
        number += 1
        name = f"{base}-{number}"
    return name
