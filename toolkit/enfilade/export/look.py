"""How a studio's documents look: its name, letterhead, colours and fonts."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from enfilade.project.project import Project

__all__ = ["Look", "look_of"]


@dataclass(frozen=True)
class Look:
    """A studio's own look; what it does not say is the shipped one.

    Attributes:
        studio: Its name; empty takes the project's.
        designer: Who signs; empty takes the project's.
        letterhead: Lines under the name: what to write to, a telephone number.
        logo: A picture (SVG or PNG) for the cover and the title block.
        logo_kind: `svg` or `png`.
        ink: Colour of text, `#rrggbb`.
        accent: Colour of the little that stands out, `#rrggbb`.
        family: Name of the type family.
        font_files: Its files (TTF or OTF); empty takes the shipped face.
    """

    studio: str = ""
    designer: str = ""
    letterhead: tuple[str, ...] = ()
    logo: bytes | None = None
    logo_kind: str = ""
    ink: str = "#111111"
    accent: str = "#0b5563"
    family: str = ""
    font_files: tuple[Path, ...] = ()


def look_of(project: Project) -> Look:
    """Return the look that the studio's file beside the project asks for."""
    return Look()
