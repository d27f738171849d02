"""A house that fills every field of the schema, and a secret word of its own in every field that takes text.

Which audience may see a field is read here off the published schema, apart from the code under test.
"""

from __future__ import annotations

import datetime as dt
import io
import itertools
import re
from collections.abc import Iterator
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from PIL import Image, PngImagePlugin
from pydantic import ValidationError

import enfilade as ef
from building import door, free, house, on_wall, room, set_in, thing, window
from enfilade.checks.run import check
from enfilade.files import fingerprint
from enfilade.lengths import inches
from enfilade.project.fields import AUDIENCES, Audience, Holds, Record
from enfilade.project.project import Project
from enfilade.project.things import KINDS

__all__ = [
    "KEPT_BACK",
    "WORD",
    "Place",
    "field_of",
    "filled",
    "full_house",
    "otherwise",
    "plant",
    "private_fields",
    "saved",
    "text_fields",
    "visible",
    "words",
]  # fmt: skip

Place = tuple[str | int, ...]

# Letters alone, so that no speaking aloud, no figure and no hyphenation changes a word; none is a part of another.
WORD = re.compile("qz[bdfghjklmnprstvw]{3}zq")

KEPT_BACK: dict[str, str] = {
    "Project.yardstick": "names a published set of rules; another word is refused",
}
"""Fields that take text and cannot hold a secret."""


def words() -> Iterator[str]:
    """Yield secret words."""
    return (f"qz{''.join(letters)}zq" for letters in itertools.product("bdfghjklmnprstvw", repeat=3))


# The house


def photograph(colour: str = "teal") -> bytes:
    """Return a photograph that says more than it shows."""
    stream = io.BytesIO()
    said = PngImagePlugin.PngInfo()
    said.add_text("Comment", "qqcamera comment")
    said.add_itxt("Author", "qqcamera author", zip=True)
    exif = Image.Exif()
    exif[0x010F] = "qqcamera maker"
    Image.new("RGB", (48, 32), colour).save(stream, format="PNG", pnginfo=said, exif=exif)
    return stream.getvalue()


_ALL_PHOTOGRAPHS = {colour: photograph(colour) for colour in ("teal", "olive")}
_NAMES = {colour: f"{fingerprint(data)}.png" for colour, data in _ALL_PHOTOGRAPHS.items()}


def saved(project: Project, folder: Path) -> Project:
    """Return a project as it lies in a folder, its photographs with it."""
    (folder / "photos").mkdir(parents=True, exist_ok=True)
    for colour, data in _ALL_PHOTOGRAPHS.items():
        (folder / "photos" / _NAMES[colour]).write_bytes(data)
    from enfilade.project.writing import project_text

    (folder / "project.json").write_text(project_text(project), "utf-8")
    return ef.load(folder)


_PURCHASE = {"allowance": "7431.17", "quote": "8642.29", "ordered_price": "9753.41", "quantity": 4871.0,
             "quantity_unit": "rolls", "lead_time_days": 237, "needed_on_site": "2087-03-19"}  # fmt: skip


def _bought(id: str, **more: Any) -> dict[str, Any]:
    return {
        "id": id, "name": id, "maker": f"maker of {id}", "purchase": _PURCHASE, "care": "oil it", "note": "n",
        "warranty_until": "2088-05-23",
        "services": [{"id": "oiled", "what": "oil it", "every_months": 7, "first_on": "2086-07-29", "by": "joiner"}],
        **more,
    }  # fmt: skip


def _line(id: str, **more: Any) -> dict[str, Any]:
    return {"id": id, "text": "Here it is.", **more}


def _lines_of_the_kitchen() -> list[dict[str, Any]]:
    shot = {"size": "medium", "subjects": ["island"], "move": "pan", "focal_mm": 35.0, "note": "wait for the light"}
    return [
        _line("opens", things=["island"], decisions=["taken"], photographs=["before"], shot=shot, pause_s=2.0,
              drafted={"about": "island", "text": "Here it was."}, findings=["K1:door:way"]),
        *(_line(f"for-{audience}", hear=[audience]) for audience in AUDIENCES),
    ]  # fmt: skip


def _decision(id: str, number: int, **more: Any) -> dict[str, Any]:
    return {
        "id": id, "number": number, "title": id, "spaces": ["kitchen"], "needs": ["wash"], "things": ["island"],
        "options": [{"id": "one", "text": "one", "cost": "6317.53", "products": ["lamp"], "finishes": ["oak"]},
                    {"id": "two", "text": "two", "why_not": "too low", "cost": "5209.61"}],
        "choice": "one", "reason": "since", "status": "built", "by": "somebody", "on": "2085-01-13",
        "due": "2085-02-17", "approved_on": "2085-04-11", "hindsight": "wider", "findings": ["K1:door:way"], **more,
    }  # fmt: skip


def _every_kind() -> Iterator[dict[str, Any]]:
    """Yield a thing of every kind that does not stand in the kitchen already, in rows on the floor of the store."""
    special: dict[str, dict[str, Any]] = {
        "peninsula": {"joined": "left"}, "fixture": {"what": "basin"}, "furniture": {"what": "a chest"},
        "window treatment": {"opening": "look-out"}, "switch": {"controls": ["lamp"]}, "seat": {"at": "table-1"},
    }  # fmt: skip
    for n, kind in enumerate(KINDS):
        more = special.get(kind, {}) | {"remark": "r", "note": "n", "name": kind, "product": "lamp", "finish": "oak"}
        x, y = 320 + 44 * (n % 8), 30 + 40 * (n // 8)
        id = "table-1" if kind == "table" else f"kind-{kind.replace(' ', '-')}"
        yield thing(kind, id, 24, 20, free(x, y), space="store", **more)


def full_house() -> Project:
    """Return a house in which no field that somebody may not see is left at what it is without being told."""
    note = {"note": "n"}
    every = {"remark": "r", "note": "n", "product": "lamp", "finish": "oak"}
    kitchen = room(260, 180) | {"story": "for cooking", "note": "n", "floor_finish": "oak", "views": [
        {"id": "seen", "title": "From the door", "eye": {"x_mm": inches(130), "y_mm": inches(20), "height_mm": 1600},
         "toward": [inches(130), inches(150)]}],
        "points": [{"id": "nick", "what": "a nick", "things": ["island"], "trade": "joiner", "by": "somebody",
                    "found_on": "2084-06-07", "due": "2084-08-09"},
                   {"id": "done", "what": "a gap", "trade": "joiner", "by": "somebody", "closed_on": "2084-09-11"}],
    }  # fmt: skip
    for number, wall in enumerate(kitchen["walls"]):
        wall["name"] = f"side {number}"
    project = house(
        [
            thing("base cabinet", "base", 36, 24, on_wall("kitchen-north", 0), opens=[{"kind": "drawer"}], **every),
            thing("counter", "top", 120, 25, on_wall("kitchen-north", 0), **every),
            thing("sink", "bowl", 30, 20, set_in("top", 40), **every),
            thing("range", "stove", 36, 26, on_wall("kitchen-north", 120), **every),
            thing("island", "island", 72, 40, free(130, 90), seating=[{"id": "row", "count": 3}], **every),
            thing("refrigerator", "cold", 36, 30, on_wall("kitchen-north", 180), **every),
            thing("receptacle", "power", 3, 2, on_wall("kitchen-east", 40), basis="assumed", **every),
            thing("light", "lamp", 10, 10, free(130, 90), **every),
            *_every_kind(),
        ],
        spaces=[kitchen, room(400, 260, id="store", use="other", at=(300, 0)) | {"story": "kept here", "note": "n"}],
        openings=[
            door("way", "kitchen-east", 20, beyond="store-west", swing={"hinge": "left", "into": "this side"},
                 name="way", remark="r", **note),
            window("look-out", "kitchen-west", 50, name="look-out", remark="r", glazing={"area_m2": 0.9}, **note),
        ],
        client={"names": ["Somebody"], "address": "somewhere", "contact": "by word", "notes": "n"},
        household={
            "people": [{"id": "one", "name": "Somebody", "cooks": True, "shoulder_height_mm": 1437.0,
                        "uses_wheelchair": True}],
            "size": 3, "bedrooms": 2, "cooks_together": 2, "entertains": "often",
            "gatherings": [{"people": 17, "what": "supper"}],
        },
        brief={"text": "a brief", "needs": [{"id": "wash", "number": 1, "text": "wash", "spaces": ["kitchen"]}]},
        products=[_bought("lamp"), _bought("credited", may_be_credited=True), _bought("weighed")],
        finishes=[_bought("oak", material="wood", colour="#b08850"),
                  _bought("lime", material="lime", colour="#ddddcc", may_be_credited=True)],
        decisions=[
            _decision("taken", 1), _decision("open", 2, status="undecided", choice=None),
            _decision("changed", 3, status="changed on site", changed="moved"), _decision("whole", 4, spaces=[]),
            *(_decision(f"for-{audience}", 5 + n, hear=[audience]) for n, audience in enumerate(AUDIENCES)),
        ],
        photographs=[
            {"id": "before", "file": _NAMES["teal"], "caption": "before", "alternative": "a wall", "space": "kitchen",
             "things": ["island"], "decisions": ["taken"], "taken_on": "2083-10-21"},
            {"id": "plan", "file": _NAMES["olive"], "caption": "plan", "alternative": "lines", "space": "kitchen",
             "scan": {"mm_per_px": 7.0, "x_mm": 11.0, "y_mm": 12.0, "turn_deg": 13.0}},
        ],
        show={
            "currency": "USD", "version": "7", "date": "2082-11-15", "units": "us",
            "studio": {"name": "Studio", "designer": "Designer"},
            "trades": [{"id": "joiner", "trade": "joiner", "name": "Somebody", "did": "the doors"},
                       {"id": "mason", "trade": "mason", "name": "Somebody Else", "did": "walls",
                        "may_be_credited": True}],
            "speaking": {"parts": [
                {"id": "first", "title": "First", "recap": [_line("back", hear=["client"]), _line("again")],
                 "lead_in": [_line("on"), _line("on-studio", hear=["studio"])]},
                {"id": "second", "title": "Second"}]},
        },
        script=[{"id": "in-kitchen", "space": "kitchen", "part": "first", "lines": _lines_of_the_kitchen(),
                 "left_out": ["what was told"]},
                {"id": "in-store", "space": "store", "part": "second", "lines": [_line("kept")]}],
    )  # fmt: skip
    things = [
        one.model_copy(update={"finish": "lime", "product": "credited"}) if one.id == "kind-bed" else one
        for one in project.things
    ]
    project = project.with_records(things=things)
    return project.with_records(answers=list(_answers(project)))


def _answers(project: Project) -> Iterator[dict[str, Any]]:
    """Yield an answer to each of two findings that fall short, one to be mended."""
    short = [one for one in check(project) if one.verdict == "falls short" and one.measured is not None and one.space]
    for kind, finding in zip(("to mend", "accepted"), short, strict=False):
        assert finding.measured is not None
        yield {
            "id": kind.replace(" ", "-"), "finding": finding.id, "kind": kind, "reason": "it may stay",
            "by": "somebody", "on": "2081-12-05", "measured": finding.measured.value, "unit": finding.measured.unit,
        }  # fmt: skip


# What the schema declares, read apart from the code under test


def _leaves(annotation: Any) -> Iterator[Any]:
    """Yield the plain types of an annotation, each with the markers it bears."""
    origin = get_origin(annotation)
    if origin is Annotated:
        inner, *markers = get_args(annotation)
        yield from ((leaf, (*found, *markers)) for leaf, found in _leaves(inner))
    elif origin in (Union, UnionType, tuple):
        for part in get_args(annotation):
            if part not in (type(None), ...):
                yield from _leaves(part)
    elif origin is not Literal:
        yield annotation, ()


def field_of(record: type[Record], name: str) -> str:
    """Return what a field is called in tables: a thing's by the record in which it was declared."""
    owner = next(one for one in reversed(record.__mro__) if name in getattr(one, "model_fields", {}))
    return f"{owner.__name__}.{name}"


def _records(model: type[Record], seen: dict[type[Record], None]) -> dict[type[Record], None]:
    if model not in seen:
        seen[model] = None
        for field in model.model_fields.values():
            for leaf, _ in _leaves(field.annotation):
                if isinstance(leaf, type) and issubclass(leaf, Record):
                    _records(leaf, seen)
    return seen


@cache
def _takes_text(record: type[Record], name: str) -> bool:
    field = record.model_fields[name]
    for leaf, markers in _leaves(Annotated[field.annotation, *field.metadata, None]):
        held = {one.what for one in markers if isinstance(one, Holds)}
        patterned = any("pattern='" in repr(one) for one in markers if not isinstance(one, Holds))
        if leaf is str and "id" not in held and not patterned and name != "kind":
            return True
    return False


def text_fields() -> set[str]:
    """Return every field of the schema that takes words, except those that are kept back."""
    found = {
        field_of(one, name) for one in _records(Project, {}) for name in one.model_fields if _takes_text(one, name)
    }
    return found - KEPT_BACK.keys()


@cache
def _declared(record: type[Record]) -> dict[str, tuple[str, ...]]:
    """Return who may be told each field of a record, as its published schema says."""
    fields = record.model_json_schema()["properties"]
    return {name: tuple(field.get("audiences", AUDIENCES)) for name, field in fields.items()}


def private_fields() -> dict[str, tuple[str, ...]]:
    """Return every field that somebody may not see, with who may."""
    return {
        field_of(one, name): audiences
        for one in _records(Project, {})
        for name in one.model_fields
        if (audiences := _declared(one)[name]) and set(audiences) != set(AUDIENCES)
    }


def _may(record: Record, name: str, audience: Audience) -> bool:
    credited = {"Trade": "name", "Product": "maker", "Finish": "maker"}.get(type(record).__name__)
    return audience in _declared(type(record))[name] or (name == credited and record.may_be_credited)


def _heard(record: Record, audience: Audience) -> bool:
    """Tell whether a record of a list reaches an audience at all."""
    if audience == "studio":
        return True
    if audience not in getattr(record, "hear", AUDIENCES) or getattr(record, "scan", None) is not None:
        return False
    required = [name for name, field in type(record).model_fields.items() if field.is_required()]
    return all(_may(record, name, audience) for name in required)


def visible(record: Record, audience: Audience, place: Place = ()) -> Iterator[Place]:
    """Yield the place of every field that an audience may see."""
    for name in type(record).model_fields:
        if not _may(record, name, audience):
            continue
        value = getattr(record, name)
        here = (*place, name)
        if isinstance(value, Record):
            yield from visible(value, audience, here)
        elif isinstance(value, tuple) and value and isinstance(value[0], Record):
            for number, item in enumerate(value):
                if _heard(item, audience):
                    yield from visible(item, audience, (*here, number))
        else:
            yield here


def filled(record: Record) -> Iterator[str]:
    """Yield every field, by its name in tables, that holds another value than the one it has without being told."""
    for name, field in type(record).model_fields.items():
        value = getattr(record, name)
        if field.is_required() or value != field.get_default(call_default_factory=True):
            yield field_of(type(record), name)
        for inner in value if isinstance(value, tuple) else (value,):
            if isinstance(inner, Record):
                yield from filled(inner)


# Secrets


def plant(project: Project) -> tuple[Project, dict[str, Place]]:
    """Return a copy with a word of its own in every field that takes words, and where each word stands."""
    at: dict[str, Place] = {}
    fresh = words()

    def into(record: Record, place: Place) -> Record:
        changed: dict[str, Any] = {}
        for name in type(record).model_fields:
            value, here = getattr(record, name), (*place, name)
            if isinstance(value, Record):
                changed[name] = into(value, here)
            elif isinstance(value, tuple) and value and isinstance(value[0], Record):
                changed[name] = tuple(into(item, (*here, number)) for number, item in enumerate(value))
            elif _takes_text(type(record), name) and field_of(type(record), name) not in KEPT_BACK:
                word = next(fresh)
                at[word] = here
                changed[name] = (word,) if isinstance(value, tuple) else word
        return record.model_copy(update=changed)

    sown = into(project, ())
    assert isinstance(sown, Project)
    return Project.model_validate(sown.model_dump()).verified(), at


def otherwise(project: Project, audience: Audience) -> Project:
    """Return a house that differs in every field that an audience may not see, and in no other."""
    fresh = itertools.islice(words(), 3000, None)

    def other(record: Record) -> Record:
        changed: dict[str, Any] = {}
        for name in type(record).model_fields:
            value = getattr(record, name)
            if not _may(record, name, audience):
                if name not in ("hear", "may_be_credited"):
                    changed[name] = _another(record, name, value, fresh)
            elif isinstance(value, Record):
                changed[name] = other(value)
            elif isinstance(value, tuple) and value and isinstance(value[0], Record):
                changed[name] = tuple(
                    other(item) if _heard(item, audience) else _all_else(item, fresh) for item in value
                )
        return record.model_copy(update=changed)

    return Project.model_validate(other(project).model_dump()).verified()


def _all_else(record: Record, fresh: Iterator[str]) -> Record:
    """Return a record that differs in all that it says."""
    changed = {
        name: _another(record, name, getattr(record, name), fresh)
        for name in type(record).model_fields
        if name not in ("id", "hear", "kind", "number", "file", "scan", "space", "choice", "status")
    }
    return record.model_copy(update=changed)


def _another(record: Record, name: str, value: Any, fresh: Iterator[str]) -> Any:
    """Return another value of the same kind; ids and records of a hidden list stay, what they say does not."""
    if isinstance(value, Record):
        return _all_else(value, fresh)
    if isinstance(value, tuple) and value and isinstance(value[0], Record):
        return tuple(_all_else(item, fresh) for item in value)
    for candidate in _candidates(record, name, value, fresh):
        try:
            type(record).model_validate({**record.model_dump(), name: candidate})
        except ValidationError:
            continue
        return candidate
    return value


def _candidates(record: Record, name: str, value: Any, fresh: Iterator[str]) -> Iterator[Any]:
    if isinstance(value, bool):
        yield not value
    elif isinstance(value, dt.date):
        yield value + dt.timedelta(days=401)
    elif isinstance(value, Decimal):
        yield value + Decimal("113.19")
    elif isinstance(value, int):
        yield value + 1
    elif isinstance(value, float):
        yield value + 13.0
    elif _takes_text(type(record), name):
        yield (next(fresh),) if isinstance(value, tuple) else next(fresh)
