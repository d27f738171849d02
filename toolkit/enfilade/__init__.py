"""enfilade: from measured rooms to finished ones, and the words to explain them.

The front door is lazy: importing it brings neither pydantic, shapely nor pandas.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from enfilade.archive.archive import Archive
    from enfilade.checks.run import check
    from enfilade.export.tell import tell
    from enfilade.findings import Finding
    from enfilade.project.demo import demo
    from enfilade.project.project import Project
    from enfilade.project.store import load, save

__version__ = "0.1.0"

__all__ = ["Archive", "Finding", "Project", "__version__", "check", "demo", "load", "save", "tell"]

_HOME = {
    "Archive": "enfilade.archive.archive",
    "Finding": "enfilade.findings",
    "Project": "enfilade.project.project",
    "check": "enfilade.checks.run",
    "demo": "enfilade.project.demo",
    "load": "enfilade.project.store",
    "save": "enfilade.project.store",
    "tell": "enfilade.export.tell",
}


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module 'enfilade' has no attribute {name!r}")
    from importlib import import_module

    value = getattr(import_module(_HOME[name]), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted(__all__)
