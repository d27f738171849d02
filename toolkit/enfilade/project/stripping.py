"""Pictures as they may leave the studio: without place, device, time and comments.

A photograph in a project's folder stays as it came; whatever is exported goes through here.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Final

from enfilade.project.photos import picture_form
from enfilade.project.pictures.cut import Cut
from enfilade.project.pictures.drawing import small, upright
from enfilade.project.pictures.jpeg import cut_jpeg
from enfilade.project.pictures.png import cut_png
from enfilade.project.pictures.webp import cut_webp

__all__ = ["Shown", "day_taken", "shown", "stripped", "stripped_small", "tried"]

_CUTTERS: Final = {"PNG": cut_png, "JPEG": cut_jpeg, "WEBP": cut_webp}
_TRIAL_PX, _TRIAL_QUALITY = 64, 50
_MEDIA: Final = {"PNG": "image/png", "JPEG": "image/jpeg", "WEBP": "image/webp"}


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture that may be shown to anybody, with its media type (RFC 2046)."""

    data: bytes
    media: str


def stripped(data: bytes) -> bytes:
    """Return a picture without anything that was written about it: place, device, time, comments, small copies.

    What stands behind the picture, such as a telephone's second view, goes too. The picture's coded data is
    kept byte for byte, unless it must be turned upright or is one of several that move; the colour
    profile is kept without names and numbers of the device.

    Args:
        data: A whole PNG, JPEG or WebP file.
    Raises:
        Refused: It is none, is damaged, or is larger than a camera makes.
    """
    form, cut = _cut(data)
    must_be_drawn = cut.exif.orientation != 1 or (cut.moves and form == "WEBP")
    return _CUTTERS[form](upright(cut, form)).data if must_be_drawn else cut.data


def stripped_small(data: bytes, *, longest_px: int, quality: int) -> bytes:
    """Return the same as an upright JPEG in sRGB with no side longer than `longest_px`.

    Args:
        data: A whole PNG, JPEG or WebP file.
        longest_px: Longest side [pixels]; a smaller picture keeps its size.
        quality: 1 (small) to 95 (fine), as JPEG encoders count it.
    Raises:
        Refused: As `stripped`; a picture that cannot be decoded too.
    """
    _, cut = _cut(data)
    return small(cut, longest_px=longest_px, quality=quality)


def shown(data: bytes, *, longest_px: int, quality: int, most_bytes: int) -> Shown:
    """Return a picture for a page: stripped and otherwise as it is where it is small enough, else made small.

    Args:
        data: A whole PNG, JPEG or WebP file.
        longest_px, quality: As for `stripped_small`.
        most_bytes: What a picture that stays as it is may weigh [bytes].
    Raises:
        Refused: As `stripped_small`.
    """
    form, width, height = picture_form(data, "the picture")
    if max(width, height) <= longest_px and len(whole := stripped(data)) <= most_bytes:
        tried(whole)
        return Shown(whole, _MEDIA[form])
    return Shown(stripped_small(data, longest_px=longest_px, quality=quality), _MEDIA["JPEG"])


def tried(data: bytes) -> None:
    """Refuse a picture that could not be shown later.

    Raises:
        Refused: As `stripped_small`.
    """
    stripped_small(data, longest_px=_TRIAL_PX, quality=_TRIAL_QUALITY)


def day_taken(data: bytes) -> dt.date | None:
    """Return the day on which the camera says that a picture was taken, None where it says none.

    Raises:
        Refused: As `stripped`.
    """
    return _cut(data)[1].exif.taken_on


def _cut(data: bytes) -> tuple[str, Cut]:
    form, _, _ = picture_form(data, "the picture")
    return form, _CUTTERS[form](data)
