"""The script with its times."""

from __future__ import annotations

from enfilade.walkthrough.pages import Spoken
from enfilade.walkthrough.telling import Telling

__all__ = ["spoken"]


def spoken(telling: Telling) -> Spoken:
    """Return the script, part by part and stop by stop."""
    speaking = telling.project.show.speaking
    return Spoken((), speaking.rate_wpm, 0.0, speaking.target_s, ())
