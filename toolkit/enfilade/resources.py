"""The one place that finds the shipped folders: templates, assets, notebooks."""

from __future__ import annotations

from pathlib import Path

from enfilade.errors import NotFound

__all__ = ["FOLDERS", "shipped"]

FOLDERS = ("templates", "assets", "notebooks")


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
