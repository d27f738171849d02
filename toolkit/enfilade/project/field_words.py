"""Names of fields as people say them."""

from __future__ import annotations

from typing import Final

__all__ = ["UNIT_ENDINGS", "field_words"]

UNIT_ENDINGS: Final = ("_mm", "_m3h", "_m2", "_l", "_deg", "_days")
"""How the name of a field ends that holds a number with a unit."""


def field_words(field: str) -> str:
    """Write the name of a field as words, without its unit.

    >>> field_words("bowl_depth_mm")
    'bowl depth'
    """
    for unit in UNIT_ENDINGS:
        field = field.removesuffix(unit)
    return field.replace("_", " ")
