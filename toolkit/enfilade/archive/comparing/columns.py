"""What stands side by side: a project in its folder, in the archive, or in a box, by what is typed for it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from enfilade.archive.stated import Stated, kept_state, state_of, stated
from enfilade.editing.forms.called import shortened
from enfilade.errors import EnfiladeError, NotFound, Refused
from enfilade.project.project import Project
from enfilade.project.readable import readable
from enfilade.project.store import FILE, load

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["Column", "columns_of"]

_ID: Final = re.compile(r"(?P<id>[a-z0-9][a-z0-9-]{0,63})(?:@(?P<number>[0-9]{1,9}))?")
_LONGEST: Final = 60


@dataclass(frozen=True)
class Column:
    """One project or version.

    Attributes:
        head: What it is called, unlike any other beside it.
        state: The project with its findings.
        kept: They are the findings that were kept with the version.
        number: Of the version; None for a state that is not kept, which is taken for the newest.
    """

    head: str
    state: Stated
    kept: bool = False
    number: int | None = None

    @property
    def project(self) -> Project:
        """The project."""
        return self.state.project


def columns_of(
    texts: Sequence[str | Path | Project], store: Store | None, progress: Callable[[str], None]
) -> tuple[Column, ...]:
    """Return what is meant by each text, with names that are apart."""
    columns = []
    for text in texts:
        if not isinstance(text, Project):
            progress(f"reading {readable(str(text))}")
        columns.append(_column(text, store))
    alike = Counter(column.head for column in columns)
    seen: Counter[str] = Counter()
    apart = []
    for column in columns:
        seen[column.head] += 1
        head = f"{column.head} ({seen[column.head]})" if alike[column.head] > 1 else column.head
        apart.append(replace(column, head=head))
    return tuple(apart)


def _column(text: str | Path | Project, store: Store | None) -> Column:
    if isinstance(text, Project):
        return Column(_head(text), stated(text))
    path = Path(text)
    if _is_folder(path) or path.name == FILE:
        project = load(path)
        return Column(_head(project, "as saved"), stated(project))
    if _is_file(path):
        return _from_box(path)
    match = _ID.fullmatch(str(text))
    if match is None:
        raise NotFound(
            f"{readable(str(text))!r} is no project",
            expected="a project's folder, an id of the archive such as `river-house` or `river-house@3`, or a box",
        )
    if store is None:
        raise Refused(f"{text} is looked up in an archive, and none is open", do="name the archive, or a folder")
    version = store.version(match["id"], int(match["number"]) if match["number"] else None)
    state = kept_state(store, version.project, version.number)
    return Column(_head(state.project, f"version {version.number}"), state, kept=True, number=version.number)


def _from_box(path: Path) -> Column:
    from enfilade.archive.box import read_box

    box = read_box(path)
    number = box.version().number
    state = state_of(box.record(number), box.paths(number), lambda name: box.file(name, number))
    return Column(_head(state.project, f"version {number}, from its box"), state, kept=True, number=number)


def _head(project: Project, which: str = "") -> str:
    name = shortened(project.name, _LONGEST) or project.id
    return f"{name}, {which}" if which else name


def _is_folder(path: Path) -> bool:
    # A text that is no path at all, such as one with a null in it, is no folder either.
    try:
        return path.is_dir() and (path / FILE).exists()
    except (OSError, ValueError):
        return False


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError, EnfiladeError):
        return False
