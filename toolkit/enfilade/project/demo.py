"""The demo house: a whole project that travels with the package. Invented, and nobody's."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from enfilade.files import read_bytes
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.store import FILE

__all__ = ["demo", "demo_folder"]


def demo() -> Project:
    """Return the demo house as if it had never been saved, so that it can be saved into any empty folder.

    Its photographs come along from the package when it is saved.

    >>> demo().name
    'The Long Shed'
    """
    return _shipped().model_copy()


def demo_folder() -> Path:
    """Return the folder in which the package carries the demo house; it is read, never written."""
    return Path(__file__).resolve().parent / "demo_house"


@cache
def _shipped() -> Project:
    # Records are frozen, so copies may share them: checks then remember what they found for one copy.
    path = demo_folder() / FILE
    project = project_from(read_bytes(path), str(path))
    project._photos_from = path.parent
    return project
