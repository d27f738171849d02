"""Photographs of a room, carried inside the page."""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from enfilade.files import read_bytes
from enfilade.project.photos import FOLDER, LARGEST_BYTES
from enfilade.project.project import Project
from enfilade.walkthrough.pages import Picture

__all__ = ["pictures"]

_WIDEST_PX: Final = 1200
_QUALITY: Final = 80


def pictures(project: Project, space: str) -> Iterator[Picture]:
    """Yield a room's photographs, made small enough for a page; position and device data stay behind.

    A project that was not loaded from a folder has none to show.
    """
    folder = project.folder
    for photograph in project.photographs:
        if photograph.space == space and photograph.file and folder is not None:
            caption = photograph.caption
            yield Picture(_small(folder / FOLDER / photograph.file), caption, photograph.alternative or caption)


def _small(path: Path) -> str:
    from PIL import Image, ImageOps

    with Image.open(io.BytesIO(read_bytes(path, largest=LARGEST_BYTES))) as original:
        # A fresh picture of the pixels alone carries none of the camera's data.
        picture = ImageOps.exif_transpose(original).convert("RGB")
    picture.thumbnail((_WIDEST_PX, _WIDEST_PX))
    buffer = io.BytesIO()
    picture.save(buffer, "JPEG", quality=_QUALITY)
    return "data:image/jpeg;base64," + base64.b64encode(buffer.getvalue()).decode("ascii")
