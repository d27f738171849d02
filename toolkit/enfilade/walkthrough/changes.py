"""What changed since the last issue."""

from __future__ import annotations

from enfilade.walkthrough.pages import Changes
from enfilade.walkthrough.telling import Telling

__all__ = ["changes"]


def changes(telling: Telling) -> Changes:
    """Return what changed since this audience was last told."""
    return Changes("", ())
