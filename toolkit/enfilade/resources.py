"""The one place that finds folders: the shipped ones (templates, assets, notebooks), and the user's own."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from enfilade.errors import NotFound

__all__ = ["DATA", "FOLDERS", "shipped", "user_folder"]

FOLDERS = ("templates", "assets", "notebooks")
DATA: Final = "ENFILADE_DATA"
"""The variable that names a folder for what is kept for a user, in place of the system's own."""


def shipped(*parts: str) -> Path:
    """Return the path of a shipped file or folder.

    The wheel carries the folders beside the package's modules (`enfilade/shipped`); in a
    checkout, where an editable install runs from, they stand at the top.

    Args:
        parts: `templates`, `assets` or `notebooks`, then names below it.
    Raises:
        NotFound: It is in neither place.
    """
    package = Path(__file__).resolve().parent
    if parts and parts[0] in FOLDERS and ".." not in Path(*parts).parts:
        for base in (package / "shipped", package.parents[1]):
            path = base.joinpath(*parts)
            if path.exists():
                return path
    raise NotFound(
        f"shipped file {'/'.join(parts)} was not found",
        expected=f"a file below {', '.join(FOLDERS)}",
        do="install the package again",
    )


def user_folder() -> Path:
    """Return the folder for this tool's data of the user: the one that is named for it, or the system's own.

    Raises:
        RuntimeError: The user has no home.
    """
    if os.environ.get(DATA):
        return Path(os.environ[DATA]).absolute()
    import platformdirs

    return platformdirs.user_data_path("enfilade", appauthor=False)
