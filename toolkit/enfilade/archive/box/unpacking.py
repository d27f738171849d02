"""A version out of a box, as a project's folder."""

from __future__ import annotations

from pathlib import Path

from enfilade.archive.box.reading import read_box
from enfilade.archive.laying_out import lay_out

__all__ = ["unpack"]


def unpack(path: str | Path, folder: str | Path, number: int | None = None) -> Path:
    """Put a version of a box into an empty folder, as `ef.load` takes it.

    Args:
        path: The box; it is verified whole first.
        folder: Where to; made when it does not exist.
        number: Which version; none: the newest.
    Returns:
        The folder.
    Raises:
        NotFound: There is no box, or no such version.
        BadRecord: The box is no box, or damaged.
        Refused: The folder is not empty, is a link, or cannot be written.
    """
    box = read_box(path)
    version = box.version(number)
    return lay_out(folder, box.paths(version.number), lambda name: box.file(name, version.number))
