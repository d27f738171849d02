"""A version laid out as a project's folder: whole, or the folder stays as it was."""

from __future__ import annotations

import contextlib
import os
import shutil
from collections.abc import Callable, Iterable
from pathlib import Path

from enfilade.archive.contents import FINDINGS
from enfilade.archive.paths import fault_in
from enfilade.errors import EnfiladeError, Refused
from enfilade.files import write_bytes
from enfilade.project.store import FILE, load

__all__ = ["BESIDE", "is_empty", "lay_out"]

BESIDE = (FILE, FINDINGS)
"""What a version holds that is not simply laid beside its record: the record itself, and what was found of it, which is
found again from the record."""


def lay_out(folder: str | Path, paths: Iterable[str], file: Callable[[str], bytes]) -> Path:
    """Put the files of a version into an empty folder, as `load` takes them.

    Args:
        folder: Where to; made when it does not exist.
        paths: Of the version's files.
        file: Gives the bytes of each.
    Returns:
        The folder.
    Raises:
        BadRecord: It could not be loaded again; the folder is as empty as it was.
        Refused: The folder is not empty, is a link, or cannot be written.
    """
    target = Path(folder)
    names = sorted(paths)
    for name in names:
        if fault := fault_in(name):  # Archives and boxes refuse such paths; this is the last door.
            raise Refused(f"the file {name!r} cannot be laid out: {fault}")
    if not is_empty(target):
        raise Refused(f"{target} is not empty", do="choose an empty folder, or one that is not there yet")
    made = not target.exists()
    try:
        # The record comes last: a folder without it is no project yet.
        for name in [*(one for one in names if one not in BESIDE), FILE]:
            write_bytes(target / name, file(name))
        load(target)
    except BaseException:
        _emptied(target, names, made=made)
        raise
    return target


def is_empty(folder: Path) -> bool:
    """Tell whether a folder is not there yet, or holds nothing.

    Raises:
        Refused: It is a link, or no folder.
    """
    try:
        if folder.is_symlink():
            raise Refused(f"{folder} is a link", expected="a folder")
        if folder.exists() and not folder.is_dir():
            raise Refused(f"{folder} is no folder", expected="an empty folder, or one that is not there yet")
        return not folder.exists() or not any(folder.iterdir())
    except EnfiladeError:
        raise
    except (OSError, ValueError) as error:
        raise Refused(f"{str(folder)!r} cannot be used ({error})", do="choose another folder") from error


def _emptied(target: Path, names: Iterable[str], *, made: bool) -> None:
    """Take away again what was laid out, and nothing else."""
    with contextlib.suppress(OSError):
        for name in names:
            with contextlib.suppress(OSError):
                os.unlink(target / name)
        for step in {name.split("/")[0] for name in names if "/" in name}:
            shutil.rmtree(target / step, ignore_errors=True)
        if made:
            target.rmdir()
