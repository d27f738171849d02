"""Perspectives on a room's page."""

from __future__ import annotations

from enfilade.walkthrough.pages import Drawing
from enfilade.walkthrough.telling import Telling

__all__ = ["views"]


def views(telling: Telling, space_id: str) -> tuple[Drawing, ...]:
    """Return the perspectives that are recorded for a room."""
    return ()
