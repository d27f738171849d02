"""Adding to a room: what, where, and how wide; what is added is selected."""

from __future__ import annotations

from collections.abc import Callable, Container
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.parts.moving import words_of
from enfilade.capture.sight import Sight
from enfilade.editing.forms.refusals import plain_words
from enfilade.editing.quoting import quoted, told_back
from enfilade.editing.things.counter_places import HOSTS
from enfilade.editing.things.default_sizes import (
    OPENING_KINDS,
    default_opening,
    default_size,
    stands_at_first,
    variants,
)
from enfilade.editing.things.house import House
from enfilade.editing.things.openings_placed import opening_added
from enfilade.editing.things.placing_things import SEATED_BY_EDGE, thing_added
from enfilade.errors import BadRecord, EnfiladeError, Fault, Refused
from enfilade.lengths import parse_length, show_length, show_size
from enfilade.listing import the
from enfilade.project.project import Project
from enfilade.project.spaces import Space
from enfilade.project.things import KINDS

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "adding"
_DRAFT: Final = ("adding",)
_FIELDS: Final = ("what", "where", "width", "seats", "offset")
_LONGEST: Final = 200

_GROUPS: Final[dict[str, tuple[str, ...]]] = {
    "Storage": (
        "base cabinet", "wall cabinet", "tall cabinet", "open shelf", "furniture piece", "appliance garage", "filler",
        "panel",
    ),
    "Surfaces": ("counter", "island", "peninsula", "table", "desk"),
    "Sinks and appliances": (
        "sink", "cooktop", "range", "oven", "microwave", "refrigerator", "dishwasher", "hood", "waste",
    ),
    "Services": ("receptacle", "switch", "light", "extinguisher"),
    "Furnishings": (
        "seat", "bed", "furniture", "rug", "screen", "fireplace", "window treatment", "fixture", "column",
    ),
}  # fmt: skip
_USUAL_VARIANT: Final = {"seat": "chair", "fixture": "basin"}
_USUALLY: Final = {
    "wall": "along a wall, where there is most room",
    "floor": "on the floor, where there is most room",
    "in a counter": "in a counter or island",
    "on a counter": "on a counter",
    "under a counter": "under a counter, beside a sink",
    "in a tall cabinet": "in a tall cabinet, or on a wall",
    "above cooking": "above what cooks",
    "out from a wall": "out from a wall",
    "at a window": "at a window",
    "ceiling": "under the ceiling",
}
_IN_HOSTS: Final = ("in a counter", "on a counter", "under a counter", "above cooking", "in a tall cabinet")
_COOKING: Final = ("range", "cooktop")


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return what can be added to the room, where each of it can go, and what was chosen and not added yet."""
    if sight.room is None:
        return {"nothing": "Things and openings are added once a room is drawn."}
    project = desk.project
    space = project.space(sight.room)
    house = House(project)
    return {
        "room": space.name,
        "groups": [
            *({"title": title, "kinds": [_kind(project, one) for kind in kinds for one in _each(kind)]}
              for title, kinds in _GROUPS.items()),
            {"title": "Openings", "kinds": [_opening(project, kind) for kind in OPENING_KINDS]},
        ],
        "walls": [[f"wall/{wall.id}", _wall(space, index)] for index, wall in enumerate(space.walls) if not wall.open],
        "hosts": _hosts(house, space),
        "sheet": _sheet(desk),
        "unit": "inches" if project.show.units == "us" else "mm",
    }  # fmt: skip


def _each(kind: str) -> list[tuple[str, str]]:
    """Return a kind, or each seat or fixture that it may be."""
    usual = _USUAL_VARIANT.get(kind)
    return [(kind, "")] if usual is None else [(kind, usual), *((kind, what) for what in variants(kind))]


def _kind(project: Project, one: tuple[str, str]) -> dict[str, Any]:
    (kind, what), system = one, project.show.units
    size, stands = default_size(kind, system, what=what), stands_at_first(kind)
    return {
        "value": f"things/{kind}/{what}",
        "label": _capital(what or kind),
        "usually": _USUALLY[stands],
        "width": show_size(size.width_mm, system),
        "wheres": [
            *(["walls"] if stands not in ("at a window", "in a counter", "on a counter") else []),
            *(["hosts"] if stands in _IN_HOSTS else []),
            *(["floor"] if stands in ("wall", "under a counter", "in a tall cabinet") else []),
        ],
        "hosts": _host_kinds(stands),
        "way": stands.partition(" ")[0],
        "seats": kind in SEATED_BY_EDGE or kind == "table",
    }


def _host_kinds(stands: str) -> list[str]:
    if stands == "above cooking":
        return list(_COOKING)
    return ["tall cabinet"] if stands == "in a tall cabinet" else list(HOSTS)


def _opening(project: Project, kind: str) -> dict[str, Any]:
    size = default_opening(kind, project.show.units)
    return {
        "value": f"openings/{kind}/",
        "label": _capital(kind),
        "usually": "",
        "width": show_length(size.width_mm, project.show.units),
        "wheres": ["walls"],
        "hosts": [],
        "way": "in",
        "seats": False,
    }


def _hosts(house: House, space: Space) -> list[list[str]]:
    """Return what something can be set in, under or above: its value, what people call it, and its kind."""
    kinds = (*HOSTS, *_COOKING, "tall cabinet")
    here = [one for one in house.things_in(*house.rooms[space.id]) if one.thing.kind in kinds]
    return [[f"in/{one.id}", one.thing.called, one.thing.kind] for one in here]


def _wall(space: Space, index: int) -> str:
    return the(space.walls[index].name) if space.walls[index].name else f"wall {index + 1}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _sheet(desk: Desk) -> dict[str, str]:
    draft = desk.drafts.get(_DRAFT)
    return _fields(draft.typed if draft is not None else {})


def _fields(plain: object) -> dict[str, str]:
    """Return the fields of a sheet that came from outside; what is no short text is left empty."""
    known = plain if isinstance(plain, dict) else {}
    found = {name: known.get(name) for name in _FIELDS}
    return {name: value if isinstance(value, str) and len(value) <= _LONGEST else "" for name, value in found.items()}


def _keep(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    desk.drafts.keep(_DRAFT, _fields(message.get("sheet")))
    return ""


def _add_thing(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sheet, room = _fields(message), _room(sight)
    kind, what = _kind_of(message)
    width_mm = _typed(desk, sheet, "width")
    project, how, id = desk.project, *_where(desk.project, sheet)
    seats = _seats(sheet["seats"])
    if not how:
        how, id = _selected_host(project, sight, kind)

    def added() -> tuple[Project, str]:
        wall, host = id if how == "wall" else None, id if how == "in" else None
        return thing_added(
            project, room, kind, wall=wall, host=host, width_mm=width_mm, what=what, seats=seats, free=how == "floor"
        )

    return _done(desk, sight, "things", what or kind, added, "seats" if seats else "where", width_mm)


def _add_opening(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sheet, (kind, _) = _fields(message), _kind_of(message)
    _room(sight)
    how, wall = _where(desk.project, sheet)
    if how != "wall":
        raise _wrong("where", "no wall is chosen yet", "the wall that it is in")
    width_mm, offset_mm = _typed(desk, sheet, "width"), _typed(desk, sheet, "offset")

    def added() -> tuple[Project, str]:
        return opening_added(desk.project, wall, kind, offset_mm, width_mm=width_mm)

    place = "offset" if offset_mm is not None else "width" if width_mm is not None else "where"
    return _done(desk, sight, "openings", kind, added, place, width_mm)


def _done(
    desk: Desk,
    sight: Sight,
    among: str,
    kind: str,
    added: Callable[[], tuple[Project, str]],
    place: str,
    width_mm: float | None,
) -> str:
    """Add, select what is new, and say where it stands; a refusal is told at the field at which it is most likely."""
    try:
        project, id = added()
    except EnfiladeError as error:
        fault = error.faults[0] if isinstance(error, BadRecord) else Fault("", error.what, error.expected or error.do)
        told = (plain_words(words, desk.project) for words in (fault.what, fault.expected))
        raise _wrong(place, *told) from error
    desk.change(f"added {_article(kind)}", project)
    # What was chosen stays for the next one; its sizes do not.
    desk.drafts.keep(_DRAFT, _sheet(desk) | {"width": "", "offset": "", "seats": ""})
    sight.selected = (among, id)
    sizes = "its other sizes are assumed" if width_mm is not None else "its sizes are assumed"
    return f"{words_of(project, id, 'added')} {_capital(sizes)}."


def _room(sight: Sight) -> str:
    if sight.room is None:
        raise Refused("no room is drawn yet", do="draw a room first")
    return sight.room


def _kind_of(message: dict[str, Any]) -> tuple[str, str]:
    kind, what = message.get("kind"), message.get("what") or ""
    if not isinstance(kind, str) or not isinstance(what, str) or not 0 < len(kind) <= _LONGEST or len(what) > _LONGEST:
        raise _wrong("what", "nothing is chosen yet", "what is to be added")
    return kind, what


def _selected_host(project: Project, sight: Sight, kind: str) -> tuple[str, str]:
    """Return what is selected as the place of a kind that it can carry; else nothing."""
    among, id = sight.selected or ("", "")
    stands = stands_at_first(kind) if kind in KINDS else "floor"
    if among != "things" or stands not in _IN_HOSTS or id not in project.things_by_id:
        return "", ""
    return ("in", id) if project.thing(id).kind in _host_kinds(stands) else ("", "")


def _where(project: Project, sheet: dict[str, str]) -> tuple[str, str]:
    """Return how and where it is wanted: `wall` and a wall, `in` and a thing, `floor`, or nothing."""
    how, _, id = sheet["where"].partition("/")
    known: dict[str, Container[str]] = {"wall": project.walls_by_id, "in": project.things_by_id}
    if id not in known.get(how, ("",)) or how not in ("", "floor", *known):
        raise _wrong("where", "this place is not there any more", "one of the places that are offered")
    return how, id


def _seats(typed: str) -> int:
    plain = typed.strip()
    if not plain:
        return 0
    if not (plain.isascii() and plain.isdigit() and len(plain) <= 3):
        raise _wrong("seats", f"{quoted(plain, 20)} is no number of people", "a whole number such as 4")
    return int(plain)


def _typed(desk: Desk, sheet: dict[str, str], name: str) -> float | None:
    if not sheet[name].strip():
        return None
    try:
        length = parse_length(sheet[name], bare="in" if desk.project.show.units == "us" else "mm")
    except EnfiladeError as error:
        raise _wrong(name, told_back(error.what, sheet[name]), error.expected) from error
    if length < 0:
        raise _wrong(name, f"{quoted(sheet[name])} is below 0", "a length of 0 or more")
    return length


def _wrong(place: str, what: str, expected: str) -> BadRecord:
    return BadRecord("adding", [Fault(place, what, expected)])


def _article(words: str) -> str:
    return f"an {words}" if words[:1] in "aeiou" else f"a {words}"


HANDLERS: Final = {"adding": _keep, "add thing": _add_thing, "add opening": _add_opening}
