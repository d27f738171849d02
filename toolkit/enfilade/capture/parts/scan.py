"""A room drawn over a scanned plan: the picture is set to scale by two points, then its corners are marked in order."""

from __future__ import annotations

from itertools import pairwise
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.scan_pictures import ScanPicture, scan_picture
from enfilade.capture.sheets import begun_and_sheet, is_open, keep, put_away, room_words, take_out
from enfilade.capture.sight import Sight, text_of
from enfilade.capture.uploads import PIECE_BYTES, Uploads
from enfilade.editing.forms.refusals import plain_words
from enfilade.editing.photographs import photograph_of
from enfilade.editing.rooms.rooms import outline_by_points
from enfilade.editing.rooms.scans import laid_picture, room_over_scan, scan_added, scan_scaled, scans_of
from enfilade.editing.rooms.survey_sheet import USES, typed_length
from enfilade.errors import BadRecord, EnfiladeError, Fault, NotFound, Refused
from enfilade.geometry.outlines import area_m2, walls
from enfilade.geometry.points import Point, distance
from enfilade.lengths import inches, show_length, show_size
from enfilade.project.photos import LARGEST_BYTES
from enfilade.project.project import Project
from enfilade.project.showing import Photograph
from enfilade.quantities import Quantity, show_quantity

__all__ = ["DRAFT", "HANDLERS", "NAME", "shown"]

NAME: Final = "scan"
DRAFT: Final = ("scan",)
"""Where an unfinished drawing over a plan is kept."""

_MOST_CORNERS: Final = 500
_MOST_ROOMS: Final = 200
_BLANK: Final[dict[str, Any]] = {
    "plan": "", "again": False, "marks": [], "distance": "", "level": True, "corners": [], "square": True,
    "name": "", "use": "kitchen", "ceiling": "",
}  # fmt: skip


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the plan, what was marked on it so far, and what that means; nothing while none is drawn over."""
    if not is_open(desk, DRAFT):
        return {}
    project, system = desk.project, desk.project.show.units
    try:
        opened, typed = begun_and_sheet(desk, DRAFT)
        sheet = _sheet(typed)
    except Refused:
        opened, sheet = "", dict(_BLANK)
    told: dict[str, Any] = {
        "opened": opened,
        "sheet": sheet,
        "plans": [{"id": one.id, "name": one.caption or "Scanned plan"} for one in scans_of(project)],
        "uses": list(USES),
        "unit": "inches" if system == "us" else "mm",
        "piece": PIECE_BYTES,
        "plan": None,
        "scaled": False,
        "scale": "",
        "walls": [],
        "area": "",
        "trouble": "",
    }
    try:
        photograph = _plan_of(project, sheet)
        picture = _picture(desk, photograph) if photograph else None
    except EnfiladeError as error:
        return told | {"trouble": plain_words(str(error), project)}
    if photograph is None or picture is None:
        return told
    told["plan"] = {"id": photograph.id, "width": picture.width_px, "height": picture.height_px}
    scan = photograph.scan
    if scan is None or scan.mm_per_px is None or sheet["again"]:
        return told
    told |= {
        "scaled": True,
        "scale": _scale_words(photograph, picture, project),
        "drawn": _drawn(photograph, picture, project),
    }
    return told | _marked(photograph, picture, sheet, project)


def _marked(photograph: Photograph, picture: ScanPicture, sheet: dict[str, Any], project: Project) -> dict[str, Any]:
    """Return in words the walls between the corners that are marked, and the area once there are three."""
    system = project.show.units
    laid = laid_picture(photograph, picture.height_px)
    points = [laid.to_house(corner) for corner in sheet["corners"]]
    if len(points) < 3:
        return {"walls": [show_length(distance(a, b), system) for a, b in pairwise(points)]}
    try:
        outline = outline_by_points(project, points, square=sheet["square"])
    except EnfiladeError as error:
        return {"trouble": plain_words(str(error), project)}
    return {
        "walls": [show_length(wall.length_mm, system) for wall in walls(outline)],
        "area": show_quantity(Quantity(area_m2(outline), "m2"), system),
        "outline": [list(laid.to_picture(point)) for point in outline],
    }


def _drawn(photograph: Photograph, picture: ScanPicture, project: Project) -> list[list[Point]]:
    """Return the rooms that stand on the plan already, in its pixels."""
    laid = laid_picture(photograph, picture.height_px)
    rooms = [[laid.to_picture(corner) for corner in space.outline] for space in project.spaces[:_MOST_ROOMS]]
    return [
        [(round(x, 1), round(y, 1)) for x, y in room]
        for room in rooms
        if any(0 <= x <= picture.width_px and 0 <= y <= picture.height_px for x, y in room)
    ]


def _scale_words(photograph: Photograph, picture: ScanPicture, project: Project) -> str:
    system = project.show.units
    scan = photograph.scan
    assert scan is not None
    assert scan.mm_per_px is not None
    wide, deep = (show_length(side * scan.mm_per_px, system) for side in (picture.width_px, picture.height_px))
    pixel = f"{scan.mm_per_px:.3g} mm" if system == "metric" else f'{scan.mm_per_px / inches(1):.3g}"'
    return f"Set to scale: a pixel is {pixel}, the whole picture {wide} by {deep}."


def _plan_of(project: Project, sheet: dict[str, Any]) -> Photograph | None:
    if not sheet["plan"]:
        return None
    return next((one for one in scans_of(project) if one.id == sheet["plan"]), None)


def _picture(desk: Desk, photograph: Photograph) -> ScanPicture:
    return scan_picture(desk.folder, photograph.file)


def _sheet(plain: object) -> dict[str, Any]:
    """Return what was marked and typed, checked as input from a stranger."""
    if not isinstance(plain, dict):
        raise _unreadable()
    sheet = dict(_BLANK)
    for name, usual in _BLANK.items():
        value = plain.get(name, usual)
        if isinstance(usual, list):
            sheet[name] = _points(value)
        elif type(value) is not type(usual) or (isinstance(value, str) and len(value) > 400):
            raise _unreadable()
        else:
            sheet[name] = value
    if sheet["use"] not in USES:
        raise _unreadable()
    return sheet


def _points(value: object) -> list[Point]:
    if not isinstance(value, list | tuple) or len(value) > _MOST_CORNERS:
        raise _unreadable()
    points = []
    for point in value:
        if not isinstance(point, list | tuple) or len(point) != 2:
            raise _unreadable()
        if any(isinstance(n, bool) or not isinstance(n, int | float) or not abs(n) < 1e6 for n in point):
            raise _unreadable()
        points.append((float(point[0]), float(point[1])))
    return points


def _unreadable() -> Refused:
    return Refused("the page sent no plan that can be read", do="load the page again")


def _open(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    first = next(iter(scans_of(desk.project)), None)
    take_out(desk, DRAFT, _BLANK | {"plan": first.id if first else ""})
    return "Draw over a scanned plan"


def _set(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    keep(desk, DRAFT, message, _sheet(message.get("sheet")))
    return ""


def _leave(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    put_away(desk, DRAFT)
    return "The plan is put away, with what was marked on it"


def _add(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Take a piece of a picture file; the last one takes in the plan."""
    sheet, called = _sheet(message.get("sheet")), text_of(message, "called", longest=4000)
    data = sight.kept.setdefault("plan arriving", Uploads(LARGEST_BYTES)).taken(message)
    if data is None:
        return ""
    project, id = scan_added(desk.project, desk.folder, data, called)
    keep(desk, DRAFT, message, sheet | {"plan": id, "marks": [], "corners": [], "again": False})
    desk.change("took in a scanned plan", project)
    return "The plan is there. Mark two points on it whose distance you know."


def _show(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    photograph = photograph_of(desk.project, text_of(message, "plan", longest=64))
    if photograph.scan is None:
        raise NotFound("this is no scanned plan")
    picture = _picture(desk, photograph)
    return {"say": "", "picture": picture.source, "width": picture.width_px, "height": picture.height_px}


def _scale(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sheet = _sheet(message.get("sheet"))
    keep(desk, DRAFT, message, sheet)
    if len(sheet["marks"]) != 2:
        raise _at("marks", "two points are needed", "two points that are far from each other")
    try:
        length = typed_length(sheet["distance"], desk.project.show.units)
        first, second = sheet["marks"]
        project, scale = scan_scaled(desk.project, sheet["plan"], first, second, length, level=sheet["level"])
    except BadRecord as error:
        words = "that makes a pixel larger than any plan shows it"
        raise _at("distance", words, "the distance of the two points") from error
    except EnfiladeError as error:
        raise _at("distance", plain_words(error.what, desk.project), error.expected) from error
    desk.change("set a scanned plan to scale", project)
    keep(desk, DRAFT, message, sheet | {"again": False})
    system = project.show.units
    over = 3000.0 if system == "metric" else inches(120)
    slip = show_size(scale.slip_mm(over), system) if scale.slip_mm(over) >= 1.0 else "less than can be seen"
    tail = f"Had a point slipped by a pixel, {show_length(over, system)} would be {slip} out."
    if scale.turn_deg:
        tail += f" The picture is turned by {abs(scale.turn_deg):.1f} degrees."
    return f"Set to scale. {tail} Now mark the corners of the room in order."


def _make(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sheet = _sheet(message.get("sheet"))
    keep(desk, DRAFT, message, sheet)
    project, system = desk.project, desk.project.show.units
    if not sheet["name"].strip():
        raise _at("name", "the room has no name yet", "a name such as Kitchen")
    try:
        ceiling = typed_length(sheet["ceiling"], system) if sheet["ceiling"].strip() else None
    except EnfiladeError as error:
        raise _at("ceiling", plain_words(error.what, project), error.expected) from error
    picture = _picture(desk, photograph_of(project, sheet["plan"]))
    try:
        new, id = room_over_scan(
            project, sheet["plan"], picture.height_px, sheet["corners"], sheet["name"], sheet["use"], ceiling,
            square=sheet["square"],
        )  # fmt: skip
    except EnfiladeError as error:
        raise Refused(plain_words(str(error), project)) from error
    desk.change(f"drew {new.space(id).name} over the plan", new)
    # The plan stays for the next room.
    keep(desk, DRAFT, message, sheet | {"corners": [], "name": "", "ceiling": ""})
    sight.room, sight.selected = id, None
    return f"{room_words(new, id)}. Its sizes are assumed until they are taped."


def _at(place: str, what: str, expected: str) -> BadRecord:
    return BadRecord("scan", [Fault(place, what, expected)])


HANDLERS: Final = {
    "draw over plan": _open,
    "plan marks": _set,
    "leave plan": _leave,
    "add plan": _add,
    "plan picture": _show,
    "scale plan": _scale,
    "room over plan": _make,
}
QUIET: Final = frozenset({"plan picture"})
"""What changes nothing that is shown."""
