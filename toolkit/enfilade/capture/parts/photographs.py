"""The room's photographs: added, described, linked to what they show, and taken out again."""

from __future__ import annotations

import base64
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from typing import Any, Final, get_args

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight, text_of
from enfilade.capture.uploads import PIECE_BYTES, Uploads
from enfilade.editing.forms.forms import Field, Forms
from enfilade.editing.forms.offers import Offers, Option
from enfilade.editing.photographs import (
    Links,
    photograph_linked,
    photograph_of,
    photograph_removed,
    photograph_taken_in,
    photographs_of,
)
from enfilade.errors import EnfiladeError, Refused
from enfilade.files import read_bytes
from enfilade.project.photos import FOLDER, LARGEST_BYTES
from enfilade.project.project import Project
from enfilade.project.showing import Photograph
from enfilade.project.stripping import stripped_small

NAME = "photographs"

ON_A_PAGE: Final = 12
_PICTURES_AT_ONCE: Final = 4
_LONGEST_PX: Final = 480
_QUALITY: Final = 72
_MEDIA: Final = ("image/jpeg", "image/png", "image/webp")
_ALWAYS: Final = ("caption", "alternative")
_APART: Final = frozenset({"things", "decisions", "scan"})
"""Fields that are ticked in lists of the room's own, or belong to scanned plans alone."""
_ASKED: Final = {
    "caption": "Caption",
    "alternative": "What it shows, for someone who cannot see it",
    "taken_on": "Day it was taken",
    "space": "Room",
}


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the photographs of one page of the list, without the pictures: those are asked for (`pictures`)."""
    project, room = desk.project, sight.room
    if room is None:
        return {"nothing": "Photographs belong to a room, and no room is drawn yet."}
    every = photographs_of(project, room)
    first = _first(sight, len(every))
    page = every[first : first + ON_A_PAGE]
    offers = Offers(project)
    forms = Forms(project, offers, desk.drafts)
    things = [one for one in offers.all("things") if one.get("room") == room]
    decisions = _decisions(project, offers, room)
    return {
        "room": room,
        "words": _count(len(every)),
        "page": {
            "words": f"{first + 1} to {first + len(page)} of {len(every)}",
            "before": first > 0,
            "after": first + len(page) < len(every),
        },
        "photographs": [
            _photograph(one, number, forms, things, decisions) for number, one in enumerate(page, first + 1)
        ],
        "things": _plain(things),
        "decisions": _plain(decisions),
        "accept": ",".join(_MEDIA),
        "largest": LARGEST_BYTES,
        "largest_words": f"{LARGEST_BYTES // 1_048_576} MB",
        "piece": PIECE_BYTES,
        "at_once": _PICTURES_AT_ONCE,
    }


def _photograph(
    photograph: Photograph, number: int, forms: Forms, things: list[Option], decisions: list[Option]
) -> dict[str, Any]:
    fields = [_asked(one, forms.offers) for one in forms.form(("photographs", photograph.id))]
    links = {
        "things": _linked(photograph.things, things, forms.offers, "things"),
        "decisions": _linked(photograph.decisions, decisions, forms.offers, "decisions"),
    }
    return {
        "id": photograph.id,
        "file": photograph.file,
        "title": f"Photograph {number}",
        "name": photograph.caption or f"photograph {number}",
        "described": photograph.alternative or photograph.caption or f"Photograph {number}, not described yet",
        "fields": [one for one in fields if one["name"] in _ALWAYS],
        "more": [one for one in fields if one["name"] not in _ALWAYS and one["name"] not in _APART],
        "linked": {name: [one["value"] for one in options] for name, options in links.items()},
        "elsewhere": {
            "things": [one for one in links["things"] if one["value"] not in {each["value"] for each in things}],
            "decisions": [one for one in links["decisions"] if one["value"] not in {d["value"] for d in decisions}],
        },
        "links": _link_words(links),
    }


def _asked(field: Field, offers: Offers) -> Field:
    """Return a field as it is asked for here, with its choices beside it."""
    asked = {**field, "label": _ASKED.get(field["name"], field["label"])}
    if field["name"] in _ALWAYS:
        asked["help"] = ""
    if isinstance(field.get("options"), str):
        asked["options"] = offers.told.get(field["options"], [])
    return asked


def _linked(ids: Iterable[str], near: list[Option], offers: Offers, target: str) -> list[Option]:
    """Return what a photograph is linked to, by name; what stands in another room with that room's name."""
    labels = {one["value"]: one["label"] for one in near}
    others = {one["value"]: one for one in offers.all(target)}
    found = []
    for id in ids:
        far = others.get(id, {"value": id, "label": id})
        label = labels.get(id) or (f"{far['label']}, {far['group']}" if "group" in far else far["label"])
        found.append({"value": id, "label": label})
    return found


def _link_words(links: dict[str, list[Option]]) -> str:
    shows, decided = (", ".join(one["label"] for one in links[name]) for name in ("things", "decisions"))
    parts = (f"Shows {shows}." if shows else "", f"Belongs to {decided}." if decided else "")
    return " ".join(part for part in parts if part)


def _decisions(project: Project, offers: Offers, room: str) -> list[Option]:
    """Return the decisions of a room and of the whole house."""
    here = {one.id for one in project.decisions if room in one.spaces or not one.spaces}
    return [one for one in offers.all("decisions") if one["value"] in here]


def _plain(options: Iterable[Option]) -> list[Option]:
    return [{"value": one["value"], "label": one["label"]} for one in options]


def _count(count: int) -> str:
    return {0: "No photographs yet.", 1: "1 photograph."}.get(count, f"{count} photographs.")


def _first(sight: Sight, count: int) -> int:
    """Return where the page of the list begins that this window looks at."""
    room, first = sight.kept.get("photographs from", (None, 0))
    first = min(first, max(0, count - 1)) if room == sight.room else 0
    return int(first) - int(first) % ON_A_PAGE


def _turn(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    later = message.get("later") is True
    count = len(photographs_of(desk.project, sight.room or ""))
    first = max(0, min(_first(sight, count) + (ON_A_PAGE if later else -ON_A_PAGE), max(0, count - 1)))
    sight.kept["photographs from"] = (sight.room, first)
    first = _first(sight, count)
    return f"Photographs {first + 1} to {min(count, first + ON_A_PAGE)} of {count}"


def _pictures(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return small pictures as data addresses, by file; empty where one cannot be shown."""
    asked = message.get("files")
    if not isinstance(asked, list) or not 0 < len(asked) <= _PICTURES_AT_ONCE:
        raise Refused("the page asked for no pictures", do="load the page again")
    known = {one.file for one in desk.project.photographs}
    folder = desk.project.folder or desk.folder
    return {"say": "", "pictures": {one: _small(folder, one) for one in asked if isinstance(one, str) and one in known}}


def _small(folder: Path, file: str) -> str:
    try:
        return _made_small(str(folder), file)
    except EnfiladeError:
        return ""


@lru_cache(maxsize=400)
def _made_small(folder: str, file: str) -> str:
    data = read_bytes(Path(folder) / FOLDER / file, largest=LARGEST_BYTES)
    small = stripped_small(data, longest_px=_LONGEST_PX, quality=_QUALITY)
    return f"data:image/jpeg;base64,{base64.b64encode(small).decode('ascii')}"


def _piece(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Take a piece of a file; the last one puts the photograph into the room that it was added to."""
    uploads = sight.kept.setdefault("photographs arriving", Uploads(LARGEST_BYTES))
    data = uploads.taken(message)
    if data is None:
        return {"say": ""}
    room = text_of(message, "room", longest=64)
    space = next((one for one in desk.project.spaces if one.id == room), None)
    if space is None:
        raise Refused(
            "the room that this photograph was added to is no longer there", do="choose a room and add it again"
        )
    project, id = photograph_taken_in(desk.project, desk.folder, data, space.id)
    batch = text_of(message, "batch", longest=80)
    desk.change(f"added photographs to {space.name}", project, joins=f"photographs {batch}")
    if space.id == sight.room:  # What was added is looked at.
        sight.kept["photographs from"] = (space.id, len(photographs_of(project, space.id)) - 1)
    return {"say": f"Photograph added to {space.name}", "taken": id}


def _link(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    links, to = text_of(message, "links", longest=20), text_of(message, "to", longest=64)
    if links not in get_args(Links):
        raise Refused("a photograph cannot be linked to this", do="load the page again")
    linked = message.get("linked") is True
    id = text_of(message, "id", longest=64)
    project = photograph_linked(desk.project, id, "things" if links == "things" else "decisions", to, linked)
    label = Offers(project).label(links, to)
    words = f"linked to {label}" if linked else f"no longer linked to {label}"
    desk.change(f"photograph {words}", project)
    return f"Photograph {words}"


def _remove(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    photograph = photograph_of(desk.project, text_of(message, "id", longest=64))
    typed = Forms(desk.project, Offers(desk.project)).form(("photographs", photograph.id))
    words = f"removed a photograph{f', {photograph.caption}' if photograph.caption else ''}"
    desk.change(words, photograph_removed(desk.project, photograph.id))
    for field in typed:
        desk.drafts.drop(tuple(field["path"]))
    return "Photograph removed; undo brings it back"


HANDLERS: Final = {
    "photograph chunk": _piece,
    "photograph pictures": _pictures,
    "photograph linked": _link,
    "photograph removed": _remove,
    "photograph page": _turn,
}
QUIET: Final = frozenset({"photograph chunk", "photograph pictures"})
"""What changes nothing that is shown unless it says something."""
