"""The one file of a studio, `studio.toml`, beside a project: which other files it names."""

from __future__ import annotations

import tomllib
from pathlib import Path, PurePosixPath
from typing import Any, Final

from enfilade.errors import EnfiladeError
from enfilade.files import read_bytes

__all__ = ["STUDIO_FILE", "inside", "named_files"]

STUDIO_FILE: Final = "studio.toml"
"""Holds the studio's stricter values, its name and its look."""
LARGEST_BYTES: Final = 1_000_000
_MOST_FILES: Final = 40


def named_files(folder: Path) -> tuple[PurePosixPath, ...]:
    """Return the logo and the fonts that a studio's file names, as paths in the folder; none where it cannot be read.

    What is wrong with the file is for its readers to say.
    """
    try:
        data = tomllib.loads(read_bytes(folder / STUDIO_FILE, largest=LARGEST_BYTES).decode("utf-8-sig"))
    except (EnfiladeError, UnicodeDecodeError, tomllib.TOMLDecodeError, RecursionError):
        return ()
    fonts = _table(data, "look").get("fonts", [])
    names = [_table(data, "studio").get("logo"), *(fonts if isinstance(fonts, list) else [])]
    paths = (inside(name) for name in names[:_MOST_FILES] if isinstance(name, str))
    return tuple(dict.fromkeys(path for path in paths if path is not None))


def inside(name: str) -> PurePosixPath | None:
    """Return a name as a path that stays in its folder, None when it leads out, is hidden or is none.

    >>> inside("fonts/Lath.ttf"), inside("../Lath.ttf"), inside("/Lath.ttf"), inside("c:/Lath.ttf")
    (PurePosixPath('fonts/Lath.ttf'), None, None, None)
    """
    path = PurePosixPath(name.replace("\\", "/"))
    steps = path.parts
    odd = path.is_absolute() or any(
        step == ".." or step.startswith(".") or ":" in step or "\x00" in step for step in steps
    )
    return None if not steps or odd or len(name) > 400 else path


def _table(data: dict[str, Any], name: str) -> dict[str, Any]:
    found = data.get(name)
    return found if isinstance(found, dict) else {}
