"""The storyboard: the plans with the numbered positions, then each shot with its picture, lens, move, line and time."""

from __future__ import annotations

from typing import Any, Final

from enfilade.export.document import Document
from enfilade.export.gallery import Gallery
from enfilade.export.issue import issue_data, running_words, setting_of
from enfilade.export.signs import in_short
from enfilade.export.typesetting import set_pdf
from enfilade.walkthrough.film import ShotPart
from enfilade.walkthrough.pages import SpokenPart

__all__ = ["write"]

# As `storyboard.typ` has them [mm].
_PICTURE_WIDE: Final = 76.0
_PICTURE_HIGH: Final = 43.0
_PLAN_WIDE: Final = 118.0
_PLAN_HIGH: Final = 138.0


def write(document: Document) -> dict[str, bytes]:
    """Return `storyboard.pdf`."""
    setting = setting_of(document, "storyboard.pdf", "storyboard", "storyboard")
    film, lines = document.film, {line.id: line for line in document.pages.spoken.lines}
    data = {
        **issue_data(document),
        "length": running_words(document.pages.spoken),
        "plans": [
            setting.gallery.drawing(one, widest_mm=_PLAN_WIDE, highest_mm=_PLAN_HIGH, largest=1.6) for one in film.plans
        ],
        "shots": [_shot(one, lines.get(one.line), setting.gallery) for one in film.shots],
    }
    return {setting.file: set_pdf(setting, data)}


def _shot(shot: ShotPart, line: SpokenPart | None, gallery: Gallery) -> dict[str, Any]:
    picture = None
    if shot.picture is not None:
        picture = gallery.drawing(shot.picture, widest_mm=_PICTURE_WIDE, highest_mm=_PICTURE_HIGH, largest=4.0)
    return {
        "number": str(shot.number),
        "room": in_short(shot.room, 40),
        "subject": in_short(shot.subject, 60),
        "camera": [word for word in (shot.size, shot.lens, shot.move) if word],
        "where": in_short(f"Position {shot.position}: {shot.where}" if shot.position else shot.where, 150),
        "also": in_short(", ".join(shot.also[:4]), 110),
        "blocked": in_short(", ".join(shot.blocked_by[:4]), 110),
        "trouble": in_short(shot.trouble, 220),
        "note": in_short(shot.note, 140),
        "picture": picture,
        "line": in_short(line.shown, 190) if line else "",
        "seconds": f"{line.seconds + line.pause_s:.0f} s" if line else "",
    }
