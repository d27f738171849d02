"""Photographs of a room, carried inside the page."""

from __future__ import annotations

import base64
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from enfilade.errors import Refused
from enfilade.files import read_bytes
from enfilade.project.photos import FOLDER, LARGEST_BYTES
from enfilade.project.project import Project
from enfilade.project.showing import Photograph
from enfilade.project.stripping import shown
from enfilade.walkthrough.pages import Picture

__all__ = ["pictures"]

_LONGEST_PX: Final = 1200
_QUALITY: Final = 80
_AS_IT_IS_BYTES: Final = 300_000
"""A picture that is no heavier, and no longer than a page shows, keeps its own coding (own choice)."""


def pictures(project: Project, space: str) -> Iterator[Picture]:
    """Yield a room's photographs, made small enough for a page; what the camera wrote stays behind, whoever is told.

    A project that was not loaded from a folder has none to show; a scanned plan is no photograph of the room.

    Raises:
        Refused: A photograph is damaged.
    """
    folder = project.folder
    for photograph in project.photographs:
        if photograph.space == space and photograph.scan is None and photograph.file and folder is not None:
            caption = photograph.caption
            yield Picture(_address(photograph, folder), caption, photograph.alternative or caption)


def _address(photograph: Photograph, folder: Path) -> str:
    data = read_bytes(folder / FOLDER / photograph.file, largest=LARGEST_BYTES)
    try:
        picture = shown(data, longest_px=_LONGEST_PX, quality=_QUALITY, most_bytes=_AS_IT_IS_BYTES)
    except Refused as error:
        what = f"photograph {photograph.caption or photograph.id!r}: {error.what}"
        raise Refused(
            what, expected=error.expected, do="take it out of the room's photographs, or add it anew"
        ) from error
    return f"data:{picture.media};base64,{base64.b64encode(picture.data).decode('ascii')}"
