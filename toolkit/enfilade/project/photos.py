"""Photographs on disk: named by content, looked at only after their size is known."""

from __future__ import annotations

import io
import warnings
from pathlib import Path
from typing import Final

from enfilade.errors import BadRecord, EnfiladeError, Fault, Refused
from enfilade.files import fingerprint, locked, read_bytes, write_bytes
from enfilade.project.pictures.seeming import seeming
from enfilade.project.project import Project

__all__ = ["FOLDER", "LARGEST_BYTES", "check_photographs", "copy_photographs", "keep_photograph", "picture_form"]

FOLDER: Final = "photos"
LARGEST_BYTES: Final = 40 * 1024 * 1024
LARGEST_PIXELS: Final = 60_000_000
_PIXELS: Final = f"at most {LARGEST_PIXELS // 1_000_000} million pixels"
_ENDINGS: Final = {"PNG": "png", "JPEG": "jpg", "WEBP": "webp"}
_FORMS: Final = {"PNG": "PNG", "JPEG": "JPEG", "MPO": "JPEG", "WEBP": "WEBP"}
"""Formats by their library's name; MPO is the JPEG of a telephone that carries a second view behind the first."""
_READ_FORMATS: Final = ("PNG", "JPEG", "WEBP")


def keep_photograph(folder: Path, data: bytes) -> str:
    """Write a photograph into the project's folder and return its file name.

    Raises:
        Refused: It is no PNG, JPEG or WebP picture, or is larger than a camera makes.
    """
    form, _, _ = picture_form(data, "the photograph")
    name = f"{fingerprint(data)}.{_ENDINGS[form]}"
    _refuse_link(folder)
    if not (folder / FOLDER / name).exists():
        with locked(folder):
            write_bytes(folder / FOLDER / name, data)
    return name


def check_photographs(project: Project, folder: Path, file: str) -> None:
    """Refuse recorded photographs that are missing, links, damaged, oversize, or not what their name says."""
    faults: list[Fault] = []
    for photograph in project.photographs:
        try:
            _refuse_link(folder)
            data = read_bytes(folder / FOLDER / photograph.file, largest=LARGEST_BYTES)
            form, _, _ = picture_form(data, photograph.file)
            if photograph.file != f"{fingerprint(data)}.{_ENDINGS[form]}":
                raise Refused(f"{photograph.file} holds another picture", expected="the name of its content")
        except EnfiladeError as error:
            expected = error.expected or "a picture in photos/"
            faults.append(Fault(f"photographs/{photograph.id}/file", error.what, expected))
    if faults:
        raise BadRecord(file, faults)


def copy_photographs(project: Project, source: Path, target: Path) -> None:
    """Bring the recorded photographs along to another folder.

    Raises:
        NotFound, Refused: One is missing or cannot be read, or the folder cannot be written.
    """
    _refuse_link(source)
    _refuse_link(target)
    for photograph in project.photographs:
        there = target / FOLDER / photograph.file
        if not there.exists():
            write_bytes(there, read_bytes(source / FOLDER / photograph.file, largest=LARGEST_BYTES))


def _refuse_link(folder: Path) -> None:
    if (folder / FOLDER).is_symlink():
        raise Refused(f"the photos folder {folder / FOLDER} is a link", expected="a folder inside the project")


def picture_form(data: bytes, name: str) -> tuple[str, int, int]:
    """Return a picture's format (PNG, JPEG or WEBP), width and height [pixels], from its header alone.

    A bomb is never unpacked for it.

    Args:
        data: The whole file.
        name: What to call it in a refusal.
    Raises:
        Refused: It is no picture of these formats, or is larger than a camera makes.
    """
    from PIL import Image

    if len(data) > LARGEST_BYTES:
        raise Refused(f"{name} has {len(data)} bytes", expected=f"at most {LARGEST_BYTES}")
    try:
        with warnings.catch_warnings():
            # A size of our own is refused below; what the camera's data says is not for us to judge.
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(data), formats=_READ_FORMATS) as picture:
                (width, height), form = picture.size, picture.format or ""
    except Image.DecompressionBombError as error:
        raise Refused(f"{name} has more pixels than can be shown", expected=_PIXELS) from error
    except Exception as error:  # A decoder can fail in any way on bytes that were made to break it.
        kind = seeming(data)
        what = f"{name} is no picture that can be shown" + (f"; it seems to be {kind}" if kind else "")
        raise Refused(what, expected="PNG, JPEG or WebP", do="save it as JPEG and add that") from error
    if width * height > LARGEST_PIXELS:
        raise Refused(f"{name} is {width} x {height} pixels", expected=_PIXELS)
    return _FORMS[form], width, height
