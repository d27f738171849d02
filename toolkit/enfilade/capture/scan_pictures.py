"""Scanned plans as a page shows them: upright, without what was written about them, and of a size that travels."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Final

from enfilade.files import read_bytes
from enfilade.project.photos import FOLDER, LARGEST_BYTES, picture_form
from enfilade.project.stripping import stripped_small

__all__ = ["ScanPicture", "scan_picture"]

_LONGEST_PX: Final = 2400
_QUALITY: Final = 82


@dataclass(frozen=True, slots=True)
class ScanPicture:
    """A picture with its size as it stands upright; points on it are counted in these pixels.

    Attributes:
        width_px, height_px: Of the whole picture, not of the smaller one that is shown.
        source: The smaller one, as a data address.
    """

    width_px: int
    height_px: int
    source: str


@lru_cache(maxsize=4)
def scan_picture(folder: Path, file: str) -> ScanPicture:
    """Return a scanned plan of a project's folder. Files are named by their content, so that none is read twice.

    Raises:
        NotFound, Refused: It is not there, or cannot be shown.
    """
    from PIL import Image

    data = read_bytes(folder / FOLDER / file, largest=LARGEST_BYTES)
    _, width, height = picture_form(data, "the plan")
    small = stripped_small(data, longest_px=_LONGEST_PX, quality=_QUALITY)
    with Image.open(io.BytesIO(small)) as picture:
        on_its_side = (picture.width > picture.height) != (width > height) and picture.width != picture.height
    if on_its_side:
        width, height = height, width
    return ScanPicture(width, height, "data:image/jpeg;base64," + base64.b64encode(small).decode("ascii"))
