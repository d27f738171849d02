"""The archive as notebooks use it: one object for keeping, finding, comparing and learning."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from enfilade.archive.keeping import Kept, keep
from enfilade.archive.store import Store
from enfilade.errors import Refused
from enfilade.project.project import Project

__all__ = ["Archive"]


class Archive(Store):
    """The studio's archive.

    >>> with Archive("studio.sqlite") as archive:                   # doctest: +SKIP
    ...     archive.keep(project, why="before the tender")
    ...     archive.find("soapstone island")
    """

    def keep(
        self,
        project: Project | str | Path,
        *,
        why: str = "",
        who: str = "",
        onto: int | None = None,
        progress: Callable[[str], None] = lambda _: None,
    ) -> Kept:
        """Keep a project as it was saved; see `keeping.keep`.

        Raises:
            Refused: It has no folder yet.
        """
        folder = Path(project._loaded[0]) if isinstance(project, Project) and project._loaded else project
        if isinstance(folder, Project):
            raise Refused("the project has no folder yet", do="save it first")
        return keep(self, folder, why=why, who=who, onto=onto, progress=progress)
