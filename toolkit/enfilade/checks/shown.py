"""How lengths are written in the working of a finding: as printed in inches, and in millimetres."""

from __future__ import annotations

from enfilade.lengths import show_inches, show_length

__all__ = ["both"]


def both(value_mm: float) -> str:
    """Write a length in inches and in millimetres.

    >>> both(1066.8)
    '42" (1067 mm)'
    """
    return f"{show_inches(value_mm)} ({show_length(value_mm, 'metric')})"
