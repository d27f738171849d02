"""Before there is a house: those that were open before, the demo house, and the three questions of a new one."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

from enfilade.capture.desk import Desk
from enfilade.capture.houses import choose, given_folder, opened_before, remember
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.starting import folder_name, new_project
from enfilade.errors import BadRecord, Conflict, EnfiladeError, Fault, NotFound, Refused
from enfilade.project.demo import demo
from enfilade.project.project import Project
from enfilade.project.store import FILE, save

if TYPE_CHECKING:
    from enfilade.capture.page import Page

NAME = "start"
_DEMO = "Demo house"


def shown(desk: Desk | None, sight: Sight) -> dict[str, Any]:
    """Return what may be opened, and what is asked."""
    given = given_folder()
    return {
        "before": [{"name": one.name, "folder": one.folder, "on": one.on} for one in opened_before()],
        "given": str(given.absolute()) if given else "",
        "documents": str(_documents()),
        "units": [
            {"value": "us", "label": "Feet and inches"},
            {"value": "metric", "label": "Millimetres"},
        ],
    }


def suggest_place(page: Page, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return the folder in which a house of this name would be kept."""
    name = text_of(message, "name", longest=1000)
    return {"say": "", "folder": str(_free_folder(name)) if name.strip() else ""}


def start_project(page: Page, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Make a new house of the three answers, and show its page."""
    _refuse_a_second(page)
    name, units = text_of(message, "name", longest=1000), text_of(message, "units", longest=20)
    project = new_project(name, units)
    typed = text_of(message, "folder", longest=4000).strip()
    folder = _folder(typed) if typed else _free_folder(project.name)
    if os.path.exists(folder / FILE):
        raise _at_folder(f"a house is kept in {folder} already", "another folder, or open that house below")
    _keep(page, project, folder)
    return {"say": f"{project.name} is kept in {folder}. Measure the first room.", "house": project.name}


def open_project(page: Page, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Show the page of a house that is there."""
    _refuse_a_second(page)
    folder = _folder(text_of(message, "folder", longest=4000).strip(), "open")
    folder = folder.parent if folder.name == FILE else folder
    try:
        desk = Desk.open(folder)
    except NotFound as error:
        raise BadRecord(
            "house", [Fault("open", f"no house is kept in {folder}", "a folder that a house was kept in")]
        ) from error
    except EnfiladeError as error:
        raise BadRecord("house", [Fault("open", str(error), "")]) from error
    _show(page, desk)
    return {"say": f"{desk.project.name} is open", "house": desk.project.name}


def open_demo(page: Page, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Copy the demo house into a folder of its own, and show its page."""
    _refuse_a_second(page)
    folder = _free_folder(_DEMO)
    house = demo()
    _keep(page, house, folder)
    return {"say": f"The demo house is open; your copy is kept in {folder}", "house": house.name}


HANDLERS = {
    "suggest place": suggest_place,
    "start project": start_project,
    "open project": open_project,
    "open demo": open_demo,
}


def _keep(page: Page, project: Project, folder: Path) -> None:
    try:
        save(project, folder)
    except Conflict as error:
        raise _at_folder(f"{folder} holds something else", "a new folder, or an empty one") from error
    except EnfiladeError as error:
        raise _at_folder(error.what, error.expected or error.do) from error
    _show(page, Desk.open(folder))


def _show(page: Page, desk: Desk) -> None:
    choose(desk.folder)
    remember(desk.folder, desk.project.name)
    page.attach(desk)


def _refuse_a_second(page: Page | Desk) -> None:
    if isinstance(page, Desk):
        raise Refused("a house is open on this page already", do="load the page again")


def _folder(typed: str, place: str = "folder") -> Path:
    if not typed:
        raise _at_folder("no folder is named", "a folder on this machine", place)
    if "\0" in typed:
        raise _at_folder("no folder has such a name", "a folder on this machine", place)
    try:
        folder = Path(typed).expanduser()
        return folder if folder.is_absolute() else _documents() / folder
    except (RuntimeError, ValueError) as error:
        raise _at_folder(f"“{typed}” is no folder ({error})", "a folder on this machine", place) from error


def _free_folder(name: str) -> Path:
    """Return the folder that was given to start in, otherwise one of the house's name that is not there yet."""
    given = given_folder()
    if given is not None and not (given / FILE).exists():
        return given.absolute()
    documents = _documents()
    try:
        taken = {entry.name for entry in documents.iterdir()}
    except OSError:
        taken = set()
    return documents / folder_name(name, taken)


def _documents() -> Path:
    import platformdirs

    return platformdirs.user_documents_path()


def _at_folder(what: str, expected: str, place: str = "folder") -> BadRecord:
    return BadRecord("house", [Fault(place, what, expected)])
