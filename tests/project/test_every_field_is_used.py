"""Nothing is recorded in vain: a check, a drawing or a page reads each field, or it is listed with its reason."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import enfilade
from enfilade.project.fields import Record
from enfilade.project.project import Project

PACKAGE = Path(enfilade.__file__).parent
READERS = ("script", "checks", "drawings", "walkthrough", "export")
# Places, audiences, names, photographs and prices are worked out beside the records themselves.
BESIDE = (
    "standing", "doorways", "audience", "names*", "photos", "store", "choices", "migrations", "joints", "people",
)  # fmt: skip

KEPT = {
    "format": "read by the migrations alone",
    "note": "the studio's own, told to nobody",
    "notes": "the studio's own, told to nobody",
    "mm_per_px": "how a scanned plan lies under the house; read where a room is drawn over it",
    "taken_on": "told to nobody: when and where a picture was taken stays with the studio",
}


def records(model: type[Record], seen: set[type[Record]]) -> Iterator[type[Record]]:
    if model in seen:
        return
    seen.add(model)
    yield model
    for field in model.model_fields.values():
        for inner in inside(field.annotation):
            yield from records(inner, seen)


def inside(annotation: Any) -> Iterator[type[Record]]:
    if isinstance(annotation, type) and issubclass(annotation, Record):
        yield annotation
    for argument in get_args(annotation):
        yield from inside(argument)


def test_every_field_is_read_somewhere_or_listed() -> None:
    paths = [path for folder in READERS for path in (PACKAGE / folder).rglob("*.py")]
    paths += [path for name in BESIDE for path in (PACKAGE / "project").glob(f"{name}.py")]
    text = "\n".join(path.read_text("utf-8") for path in paths)
    read = set(re.findall(r"\.(\w+)", text)) | set(re.findall(r"\"(\w+)\"", text))
    fields = {name for model in records(Project, set()) for name in model.model_fields}
    assert len(fields) > 150
    assert sorted(fields - read - KEPT.keys()) == []
    assert fields >= KEPT.keys()
    # Nothing stands in the list that is read; these three are also the names of something else.
    assert KEPT.keys() & read <= {"format", "note", "notes"}
