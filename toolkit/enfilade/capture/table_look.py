"""A stranger's table that a page looks at before anything of it is taken."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.editing.tables.grids import Grid
from enfilade.editing.tables.importing import Preview, RowPreview, preview, taken
from enfilade.editing.tables.schedules import schedule_named
from enfilade.errors import Refused
from enfilade.project.project import Project

__all__ = ["Look", "begin_look", "end_look", "plain_look", "put_look", "take_look"]

ON_A_PAGE: Final = 100
_KEPT: Final = "schedule look"
_WORDS: Final = {"new": "New", "changed": "Changed", "refused": "Not taken"}


@dataclass(frozen=True)
class Look:
    """A table, what it would do to the house as it was then, and how it is looked at."""

    source: str
    schedule: str
    grid: Grid
    clear: bool
    project: Project
    preview: Preview
    page: int = 0


def begin_look(desk: Desk, sight: Sight, source: str, schedule: str, grid: Grid) -> Preview:
    """Look at a table; `source` is where it comes from."""
    found = preview(desk.project, schedule_named(schedule), grid)
    sight.kept[_KEPT] = Look(source, schedule, grid, False, desk.project, found)
    return found


def end_look(sight: Sight) -> None:
    """Leave the table."""
    sight.kept.pop(_KEPT, None)


def put_look(desk: Desk, sight: Sight, **changes: Any) -> Look:
    """Look at another page of it, or at what empty cells would clear.

    Raises:
        Refused: No table is looked at.
    """
    sight.kept[_KEPT] = look = replace(_look(desk, sight), **changes)
    if changes.get("clear") is not None:
        found = preview(desk.project, schedule_named(look.schedule), look.grid, clear=look.clear)
        sight.kept[_KEPT] = look = replace(look, project=desk.project, preview=found, page=0)
    return look


def take_look(desk: Desk, sight: Sight, without: Collection[int]) -> tuple[Project, str]:
    """Return the house with the rows of the table, but for some, and what was done in words."""
    look = _look(desk, sight)
    rows = {row.number for row in _shown(look.preview) if row.what != "refused"} - set(without)
    if not rows:
        raise Refused("no row is chosen", do="choose some, or leave the table")
    project = taken(desk.project, look.preview, rows)
    count = f"{len(rows)} {'row' if len(rows) == 1 else 'rows'}"
    return project, f"took {count} into {schedule_named(look.schedule).title.lower()}"


def _look(desk: Desk, sight: Sight) -> Look:
    """Return the table that is looked at, against the house as it is now."""
    look = sight.kept.get(_KEPT)
    if not isinstance(look, Look):
        raise Refused("no table is looked at any more", do="paste it, or choose the file, again")
    if look.project is not desk.project:
        found = preview(desk.project, schedule_named(look.schedule), look.grid, clear=look.clear)
        sight.kept[_KEPT] = look = replace(look, project=desk.project, preview=found)
    return look


def _shown(found: Preview) -> list[RowPreview]:
    return [row for row in found.rows if row.what != "unchanged"]


def plain_look(desk: Desk, sight: Sight) -> dict[str, Any] | None:
    """Return the table that is looked at as plain data; None when none is."""
    if not isinstance(sight.kept.get(_KEPT), Look):
        return None
    look = _look(desk, sight)
    rows = _shown(look.preview)
    pages = max(1, -(-len(rows) // ON_A_PAGE))
    page = min(max(look.page, 0), pages - 1)
    return {
        "source": look.source,
        "schedule": look.schedule,
        "title": schedule_named(look.schedule).title,
        "words": counted(look.preview),
        "read": list(look.preview.read),
        "unread": [list(one) for one in look.preview.unread if one[1] != "worked out, and not read"],
        "notes": list(look.preview.notes),
        "clear": look.clear,
        "rows": [_row(row) for row in rows[page * ON_A_PAGE : (page + 1) * ON_A_PAGE]],
        "takes": sum(row.what != "refused" for row in rows),
        "page": page,
        "pages": pages,
    }


def counted(found: Preview) -> str:
    """Return in words what a table would do: `2 new, 1 changed, 1 not taken`."""
    words = {"new": "new", "changed": "changed", "unchanged": "as they are", "refused": "not taken"}
    counts = [f"{count} {said}" for what, said in words.items() if (count := found.counted(what))]  # type: ignore[arg-type]
    return ", ".join(counts) or "no rows"


def _row(row: RowPreview) -> dict[str, Any]:
    return {
        "number": row.number,
        "what": row.what,
        "words": _WORDS[row.what],
        "name": row.name,
        "changes": [[one.heading, one.before, one.after] for one in row.changes],
        "refusals": [[one.heading, one.typed, one.what, one.expected] for one in row.refusals],
    }
