"""What is handed over with the finished house: what is left to put right, care and service, and who built it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.forms.forms import Field, Forms
from enfilade.editing.forms.offers import Offers
from enfilade.editing.forms.paths import spot_of
from enfilade.errors import NotFound
from enfilade.project.choices import Finish, Product
from enfilade.project.spaces import Space

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "aftercare"
_OPEN: Final = "open care"
_NOTHING: Final = "nothing noted"
_CARE: Final = ("care", "services", "warranty_until")
_HELP: Final = {
    "services": "what must be done so that it lasts, and how often; the calendar of the documents is made from it",
    "points": "found on a walk through the finished room; a point is closed by the day on which it was put right",
    "trades": "each is named to the public only where it may be",
}


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return each room, product and finish with what is recorded of it in a few words; its form while it is open."""
    project = desk.project
    offers = Offers(project)
    forms = Forms(project, offers, desk.drafts)
    opened: set[str] = sight.kept.setdefault(_OPEN, set())
    today = dt.date.today()
    drafts = desk.drafts.paths()

    def told(path: tuple[str, str], name: str, words: str, fields: Iterable[str]) -> dict[str, Any]:
        key = "/".join(path)
        is_open = key in opened or any(draft[:2] == path and draft[2:3] and draft[2] in fields for draft in drafts)
        form = [_helped(forms.field((*path, field))) for field in fields] if is_open else []
        return {
            "key": key,
            "name": name,
            "words": words or _NOTHING,
            "noted": bool(words),
            "open": is_open,
            "fields": form,
        }

    bought: tuple[Product | Finish, ...] = (*project.products, *project.finishes)
    lists = {id(one): "products" for one in project.products}
    return {
        "points": [
            told(("spaces", one.id), one.name, _points_words(one, today), ("points",)) for one in project.spaces
        ],
        "care": [
            told((lists.get(id(one), "finishes"), one.id), one.name, _care_words(one), _CARE)
            for one in sorted(bought, key=lambda one: not (one.services or one.warranty_until))
        ],
        "trades": _helped(forms.field(("show", "trades"))),
        "lists": offers.told,
    }


def _helped(field: Field) -> Field:
    return field | ({"help": _HELP[field["name"]]} if field["name"] in _HELP else {})


def _points_words(space: Space, today: dt.date) -> str:
    left = [point for point in space.points if point.closed_on is None]
    late = sum(point.due is not None and point.due < today for point in left)
    if not space.points:
        return ""
    if not left:
        return f"{_many(len(space.points), 'point')}, all closed"
    return f"{_many(len(left), 'point')} open of {len(space.points)}" + (f", {late} past the day" if late else "")


def _care_words(one: Product | Finish) -> str:
    words = [_many(len(one.services), "service")] if one.services else []
    words += [f"warranty until {one.warranty_until.isoformat()}"] if one.warranty_until else []
    words += ["care is written down"] if one.care else []
    return ", ".join(words)


def _many(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _open(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    key = text_of(message, "key", longest=200)
    lists, _, id = key.partition("/")
    if lists not in ("spaces", "products", "finishes"):
        raise NotFound("this is not there any more", do="load the page again")
    spot_of(desk.project, (lists, id))
    opened: set[str] = sight.kept.setdefault(_OPEN, set())
    if message.get("open") is True:
        opened.add(key)
        return "Open"
    opened.discard(key)
    return "Closed"


HANDLERS: Final = {"open care": _open}
