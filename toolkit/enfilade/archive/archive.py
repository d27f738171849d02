"""The archive as notebooks use it: one object for keeping, finding, comparing and learning."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from enfilade.archive.adding import Kept
from enfilade.archive.keeping import keep
from enfilade.archive.store import Store
from enfilade.errors import Refused
from enfilade.project.project import Project
from enfilade.project.store import load

if TYPE_CHECKING:
    from enfilade.archive.comparing import Comparison
    from enfilade.archive.finding import Answers
    from enfilade.archive.lessons import Reminder

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
            Refused: It has no folder yet, or is not as it stands there.
        """
        folder = Path(project._loaded[0]) if isinstance(project, Project) and project._loaded else project
        if isinstance(folder, Project):
            raise Refused("the project has no folder yet", do="save it first")
        if isinstance(project, Project) and load(folder) != project:
            raise Refused("the project has changes that are not saved, or its folder has moved on", do="save it first")
        return keep(self, folder, why=why, who=who, onto=onto, progress=progress)

    def changed(self, project: str, before: int, after: int) -> tuple[str, ...]:
        """Return what changed from one version to another, in sentences."""
        from enfilade.archive.changing import changed

        return changed(self, project, before, after)

    def find(
        self,
        words: str,
        *,
        kinds: Sequence[str] = (),
        use: str = "",
        project: str = "",
        state: str = "",
        past: bool = False,
        limit: int = 20,
    ) -> Answers:
        """Look through all that was kept; see `finding.find`."""
        from enfilade.archive.finding import find

        return find(self, words, kinds=kinds, use=use, project=project, state=state, past=past, limit=limit)

    def compare(self, *what: str) -> Comparison:
        """Set projects or versions side by side: folders, boxes, `ID` or `ID@VERSION`; see `comparing.compare`."""
        from enfilade.archive.comparing import compare

        return compare(what, self)

    def lessons(self, project: Project) -> tuple[Reminder, ...]:
        """Return what was learnt elsewhere and bears on a project; see `lessons.reminders`."""
        from enfilade.archive.lessons import reminders

        return reminders(self, project)
