"""Photographs on disk: named by content, looked at only after their size is known."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Final

from enfilade.errors import BadRecord, EnfiladeError, Fault, Refused
from enfilade.files import fingerprint, read_bytes, write_bytes
from enfilade.project.project import Project

__all__ = ["FOLDER", "check_photographs", "copy_photographs", "keep_photograph"]

FOLDER: Final = "photos"
LARGEST_BYTES: Final = 40 * 1024 * 1024
LARGEST_PIXELS: Final = 60_000_000
_ENDINGS: Final = {"PNG": "png", "JPEG": "jpg", "WEBP": "webp"}


def keep_photograph(folder: Path, data: bytes) -> str:
    """Write a photograph into the project's folder and return its file name.

    Raises:
        Refused: It is no PNG, JPEG or WebP picture, or is larger than a camera makes.
    """
    name = f"{fingerprint(data)}.{_ending(data, 'photograph')}"
    if not (folder / FOLDER / name).exists():
        write_bytes(folder / FOLDER / name, data)
    return name


def check_photographs(project: Project, folder: Path, file: str) -> None:
    """Refuse recorded photographs that are missing, links, damaged, oversize, or not what their name says."""
    faults: list[Fault] = []
    if project.photographs and (folder / FOLDER).is_symlink():
        faults.append(Fault("photographs", "the photos folder is a link", "a folder inside the project"))
    for photograph in project.photographs if not faults else ():
        try:
            data = read_bytes(folder / FOLDER / photograph.file, largest=LARGEST_BYTES)
            ending = _ending(data, photograph.file)
            if photograph.file != f"{fingerprint(data)}.{ending}":
                raise Refused(f"{photograph.file} holds another picture", expected="the name of its content")
        except EnfiladeError as error:
            faults.append(Fault(f"photographs/{photograph.id}/file", error.what, error.expected or "a picture in photos/"))
    if faults:
        raise BadRecord(file, faults)


def copy_photographs(project: Project, source: Path, target: Path) -> None:
    """Bring the recorded photographs along to another folder."""
    for photograph in project.photographs:
        there = target / FOLDER / photograph.file
        if not there.exists():
            write_bytes(there, read_bytes(source / FOLDER / photograph.file, largest=LARGEST_BYTES))


def _ending(data: bytes, name: str) -> str:
    """Return the ending for a picture, from its header alone, so that a bomb is never unpacked."""
    from PIL import Image, UnidentifiedImageError

    try:
        with Image.open(io.BytesIO(data), formats=list(_ENDINGS)) as picture:
            width, height = picture.size
            kind = picture.format or ""
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        raise Refused(f"{name} is no picture that can be shown", expected="PNG, JPEG or WebP") from error
    if width * height > LARGEST_PIXELS:
        raise Refused(f"{name} is {width} x {height} pixels", expected=f"at most {LARGEST_PIXELS // 1_000_000} million")
    return _ENDINGS[kind]
