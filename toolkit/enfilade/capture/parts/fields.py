"""What is typed into any field, and rows that are added, removed and put in order. It has no view of its own."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.parts import lines
from enfilade.capture.plain_words import without_marks
from enfilade.capture.sight import Sight, number_of, text_of
from enfilade.editing.forms.called import choice_words, label_of
from enfilade.editing.forms.field_shape import field_shapes
from enfilade.editing.forms.forms import NEW, Field, Forms
from enfilade.editing.forms.offers import Offers
from enfilade.editing.forms.paths import Path, Spot, row_key, rows_at, spot_of
from enfilade.editing.forms.reading_typed import no_value
from enfilade.editing.forms.refusals import Placed
from enfilade.editing.forms.removing import what_leads_to, with_row_removed
from enfilade.editing.forms.rows import list_at, row_at, with_row_added, with_row_moved
from enfilade.editing.forms.titles import field_title, row_words
from enfilade.editing.forms.typed import with_typed
from enfilade.errors import BadRecord, EnfiladeError, Refused
from enfilade.listing import joined
from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["HANDLERS", "NAME", "path_of", "set_field", "shown"]

NAME: Final = "fields"
_DEEPEST: Final = 12
_LONGEST: Final = 2000


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return nothing: fields are shown by the parts that they stand in."""
    return {}


def path_of(message: dict[str, Any]) -> Path:
    """Return the path of a message.

    Raises:
        Refused: It has none, or none that could lead anywhere.
    """
    path = message.get("path")
    good = isinstance(path, list) and 0 < len(path) <= _DEEPEST
    if not good or not all(isinstance(step, str) and len(step) <= _LONGEST for step in path or ()):
        raise Refused("the page sent no place", do="load the page again")
    return tuple(path or ())


def set_field(desk: Desk, path: Path, typed: Any) -> dict[str, Any]:
    """Put what was typed in a field, and keep it beside the project while it cannot be taken.

    Returns:
        `shown`: how it was read, as the form shows it now; `say`: what changed beside it.
    Raises:
        BadRecord: It cannot be taken; it is kept, with the reason.
    """
    if NEW in path:
        desk.drafts.keep(path, typed, "")
        return {"say": "", "shown": typed}
    spot = spot_of(desk.project, path)
    try:
        project, waits = _with(desk, spot, path, typed)
    except BadRecord as refusal:
        desk.drafts.keep(path, typed, "; ".join(_words(fault.what, fault.expected) for fault in refusal.faults[:2]))
        raise
    if waits:
        desk.drafts.keep(path, typed, "")
        return {"say": waits, "shown": typed}
    before = desk.project
    # Taken for good before it is forgotten: what is typed is never nowhere.
    desk.change(f"changed {field_title(before, path)}", project, joins="/".join(path))
    desk.drafts.drop(path)
    return {"say": _also(before, project, path), "shown": _shown_now(desk, path)}


def _with(desk: Desk, spot: Spot, path: Path, typed: Any) -> tuple[Project, str]:
    """Return the project with what was typed, or what else a record needs before it can begin."""
    shape = spot.shape
    if not spot.inside or shape is None or shape.kind not in ("record", "one-of") or isinstance(spot.value, Record):
        return with_typed(desk.project, path, typed), ""
    if no_value(typed):
        return desk.project, ""
    above, name = path[:-1], path[-1]
    kept = {field: desk.drafts.get((*above, field)) for field in field_shapes(shape.records[0]) if field != name}
    parts = {field: draft.typed for field, draft in kept.items() if draft is not None}
    try:
        return _begun(desk, above, parts, name, typed), ""
    except BadRecord as refusal:
        lacks = [fault for fault in refusal.faults if fault.place not in ("/".join(path), "/".join(above))]
        others = [fault for fault in refusal.faults if fault not in lacks]
        if others:
            raise Placed("project", others) from refusal
        words = [label_of(fault.place.rpartition("/")[2]).lower() for fault in lacks]
        return desk.project, f"{label_of(spot.field)} begins once it has its {' and '.join(words)} too"


def _begun(desk: Desk, above: Path, parts: dict[str, Any], name: str, typed: Any) -> Project:
    project = with_typed(desk.project, above, {**parts, name: typed})
    for field in parts:
        desk.drafts.drop((*above, field))
    return project


def _words(what: str, expected: str) -> str:
    return without_marks(f"{what}; expected {expected}" if expected else what)


def _also(before: Project, after: Project, path: Path) -> str:
    """Return what else of the same record changed with a field, in words."""
    try:
        old, new = spot_of(before, path).record, spot_of(after, path).record
    except EnfiladeError:
        return ""
    if type(old) is not type(new) or isinstance(old, Project):
        return ""
    said = []
    for name, shape in field_shapes(type(new)).items():
        if name != path[-1] and shape.kind == "choice" and getattr(old, name) != getattr(new, name):
            said.append(f"{label_of(name)} is now {choice_words(str(getattr(new, name)))}")
    return "; ".join(said)


def _shown_now(desk: Desk, path: Path) -> Any:
    try:
        return Forms(desk.project, Offers(desk.project)).field(path)["shown"]
    except EnfiladeError:
        return None


def _set(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    path, typed = path_of(message), message.get("typed")
    if len(path) == 2 and path[0] == lines.NAME:
        return lines.say_lines(desk, path[1], typed)
    return set_field(desk, path, typed)


def _add(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    path = path_of(message)
    values = message.get("values") or {}
    if not isinstance(values, dict) or not all(isinstance(name, str) for name in values):
        raise Refused("the page sent no fields", do="load the page again")
    return add_row(desk, path, values)


def add_row(desk: Desk, path: Path, values: dict[str, Any]) -> dict[str, Any]:
    """Add a row of what was typed for it, here or before; what cannot be taken is kept with the reason.

    Returns:
        `key`: how the row is named in a path; `path` to it.
    Raises:
        BadRecord: Something is missing or cannot be taken.
    """
    asked = [field["name"] for field in Forms(desk.project, Offers(desk.project)).new(path)]
    drafts = {name: desk.drafts.get((*path, NEW, name)) for name in asked}
    typed = {name: draft.typed for name, draft in drafts.items() if draft is not None} | values
    try:
        project, key = with_row_added(desk.project, path, typed)
    except BadRecord as refusal:
        for fault in refusal.faults:
            name = fault.place.rpartition("/")[2]
            if name in asked:
                desk.drafts.keep((*path, NEW, name), typed.get(name, ""), _words(fault.what, fault.expected))
        raise
    here = (*path, key)
    words = row_words(project, here)
    desk.change(f"added {words}", project)
    for name in asked:
        desk.drafts.drop((*path, NEW, name))
    return {"say": f"{words[:1].upper()}{words[1:]} added", "key": key, "path": list(here)}


def _remove(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    path = path_of(message)
    words = row_words(desk.project, path)
    leads = what_leads_to(desk.project, path)
    if leads and message.get("along") is not True:
        goes = [one.words for one in leads if one.goes]
        named = [one.words for one in leads if not one.goes]
        ask = f"{words[:1].upper()}{words[1:]} is named by {joined(named, 6)}. " if named else ""
        ask += f"{joined(goes, 6).capitalize()} would go with it. " if goes else ""
        return {"say": ask.strip(), "ask": ask.strip()}
    project = with_row_removed(desk.project, path, along=bool(leads))
    _forget(desk, path)
    desk.change(f"removed {words}", project)
    return {"say": f"{words[:1].upper()}{words[1:]} removed"}


def _move(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    path, by = path_of(message), int(number_of(message, "by"))
    at = row_at(desk.project, path).steps[-1].row or 0
    project = with_row_moved(desk.project, path, at + by)
    if project is desk.project:
        return "It stands there already"
    _forget(desk, path)
    desk.change(f"put {row_words(desk.project, path)} in another place", project)
    rows = rows_at(list_at(project, path[:-1]))
    return f"Now {min(max(at + by, 0), len(rows) - 1) + 1} of {len(rows)}"


def _forget(desk: Desk, path: Path) -> None:
    """Drop drafts of a row, or of all rows where these have no ids: they would stand at another row."""
    rows = rows_at(list_at(desk.project, path[:-1]))
    keyed = bool(rows) and "id" in type(rows[0]).model_fields
    forms = Forms(desk.project, Offers(desk.project), desk.drafts)
    for index, row in enumerate(rows):
        if not keyed or row_key(row, index) == path[-1]:
            for field in forms.form((*path[:-1], row_key(row, index))):
                _drop(desk, field)


def _drop(desk: Desk, field: Field) -> None:
    if "error" in field:
        desk.drafts.drop(tuple(field["path"]))
    for inner in (*field.get("fields", ()), *field.get("add", ()), *_of_rows(field)):
        _drop(desk, inner)


def _of_rows(field: Field) -> list[Field]:
    return [inner for row in field.get("rows", ()) for inner in row["fields"]]


def _forget_typed(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Put a field back to what the house says."""
    desk.drafts.drop(path_of(message))
    return f"{text_of(message, 'label', longest=200)}: what was typed is dropped"


HANDLERS: Final = {
    "set": _set,
    "add row": _add,
    "remove row": _remove,
    "move row": _move,
    "forget typed": _forget_typed,
}
