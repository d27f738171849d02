"""The form of what is selected on the plan: the few fields that matter, then the rest."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.editing.forms.forms import Forms, grouped
from enfilade.editing.forms.offers import Offers
from enfilade.editing.forms.titles import row_words
from enfilade.editing.things.placing_things import thing_copied, things_removed
from enfilade.errors import Refused
from enfilade.project.project import Project

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "selected"
_FIRST: Final = (
    "name", "kind", "what", "use", "place", "wall", "from_end", "offset_mm", "width_mm", "depth_mm", "bottom_mm",
    "top_mm", "height_mm", "sill_mm", "ceiling_mm", "open", "state", "basis",
)  # fmt: skip
_NAMED: Final = {"things": "thing", "openings": "opening", "walls": "wall", "spaces": "room"}
_NOTHING: Final = "Select a thing, an opening or a wall on the plan, and its sizes are written here."


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the fields of what is selected, and what may be done with it."""
    if sight.selected is None:
        return {"nothing": _NOTHING}
    project, path = desk.project, sight.selected
    offers = Offers(project)
    groups = grouped(Forms(project, offers, desk.drafts).form(path), {"First": _FIRST})
    first = [field for group in groups if group["title"] == "First" for field in group["fields"]]
    rest = [field for group in groups if group["title"] != "First" for field in group["fields"]]
    title = _title(project, path)
    return {
        "key": "/".join(path),
        "title": f"{title[:1].upper()}{title[1:]}",
        "what": _what(project, path),
        "first": first,
        "rest": rest,
        # A draft that is folded away would be a mistake that nobody sees.
        "open": any("error" in field for field in rest),
        "copy": path[0] == "things",
        "remove": path[0] in ("things", "openings"),
        "lists": offers.told,
    }


def _title(project: Project, path: tuple[str, str]) -> str:
    records, id = path
    if records == "walls":
        space, index, wall = project.walls_by_id[id]
        return f"{wall.name or f'side {index + 1}'} of {space.name}"
    if records == "spaces":
        return project.space(id).name
    if records == "openings":
        opening = next(one for one in project.openings if one.id == id)
        return opening.name or opening.kind
    return project.thing(id).called


def _what(project: Project, path: tuple[str, str]) -> str:
    """Return what kind of thing it is, where its name does not say so."""
    records, id = path
    if records == "things" and project.thing(id).kind not in project.thing(id).called.lower():
        return project.thing(id).kind
    return "" if records in ("things", "openings") else _NAMED[records]


def _chosen(sight: Sight, *lists: str) -> tuple[str, str]:
    if sight.selected is None or sight.selected[0] not in lists:
        raise Refused("nothing that can be taken out or copied is selected", do="select a thing on the plan")
    return sight.selected


def _remove(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    path = _chosen(sight, "things", "openings")
    words = row_words(desk.project, path)
    project, said = things_removed(desk.project, [path[1]])
    sight.selected = None
    desk.change(f"took out {words}", project)
    return said


def _copy(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    path = _chosen(sight, "things")
    words = row_words(desk.project, path)
    project, id = thing_copied(desk.project, path[1])
    sight.selected = ("things", id)
    desk.change(f"copied {words}", project)
    return f"{words[:1].upper()}{words[1:]} copied; the copy is selected"


HANDLERS: Final = {"remove selected": _remove, "copy selected": _copy}
