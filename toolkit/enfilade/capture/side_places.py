"""Where work is kept that the project's file cannot take: beside it, else in the user's own folders."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path
from typing import Final

from enfilade.errors import Refused
from enfilade.files import fingerprint
from enfilade.project.store import DRAFTS
from enfilade.resources import user_folder

__all__ = ["ready", "side_places"]

_OURS: Final = "enfilade"


def side_places(folder: Path) -> tuple[Path, ...]:
    """Return the folders for what a project's file cannot take, the best first; none of them need exist.

    Its own `drafts`; a folder of its name among the user's data; one among the temporary files.
    """
    whole = os.path.abspath(folder)
    name = f"{Path(whole).name or 'project'}-{fingerprint(os.path.realpath(whole).encode())[:12]}"
    user = getattr(os, "getuid", lambda: "user")()
    places = [folder / DRAFTS, Path(tempfile.gettempdir()) / f"{_OURS}-{user}" / name]
    with contextlib.suppress(RuntimeError):  # who has no home
        places.insert(1, user_folder() / "unsaved" / name)
    return tuple(places)


def ready(place: Path, folder: Path) -> None:
    """Make a side place of a project, closed to other users unless it is in the project's own folder.

    Raises:
        Refused: It cannot be made, is a link, or belongs to somebody else; or the project's folder is not there.
    """
    own = place.parent == folder
    try:
        if own:
            if not folder.is_dir():
                raise Refused(f"{folder} is not there")
            place.mkdir(exist_ok=True)
        else:
            for part in (place.parent, place):
                part.mkdir(mode=0o700, parents=True, exist_ok=True)
                _refuse_strange(part)
                _refuse_others(part)
        _refuse_strange(place)
    except (OSError, ValueError) as error:
        raise Refused(f"{place} cannot be made ({error})") from error


def _refuse_strange(place: Path) -> None:
    if place.is_symlink() or not place.is_dir():
        raise Refused(f"{place} is a link, or no folder", expected="a plain folder")


def _refuse_others(place: Path) -> None:
    """Refuse a folder that is not this user's own: among temporary files anybody may have made it."""
    if hasattr(os, "getuid") and place.lstat().st_uid != os.getuid():
        raise Refused(f"{place} belongs to somebody else", expected="a folder of your own")
