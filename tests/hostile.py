"""A project whose every free text tries to be something else than text."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["MARKER", "PAYLOAD", "with_hostile_text", "without_pictures"]

MARKER = "zzhostile"
PAYLOAD = (
    f"{MARKER}</title></style></script><script>window.hacked=1</script><img src=x onerror='window.hacked=2'>"
    "<svg onload=window.hacked=3>{{7*7}}{% raw %}&lt;&#60;]]>--><!--\"'`$(x)\u202e"
)


def with_hostile_text(project: Project) -> tuple[Project, int]:
    """Return a copy with the payload in every field that takes free text, and how many fields that are."""
    counter = [0]
    return Project.model_validate(_poisoned(project, counter).model_dump()), counter[0]


def _poisoned(record: Record, counter: list[int]) -> Record:
    changed: dict[str, Any] = {}
    for name in type(record).model_fields:
        value = getattr(record, name)
        if isinstance(value, Record):
            changed[name] = _poisoned(value, counter)
        elif isinstance(value, tuple) and value and isinstance(value[0], Record):
            changed[name] = tuple(_poisoned(item, counter) for item in value)
        elif isinstance(value, str) and _takes(record, name, PAYLOAD):
            changed[name] = PAYLOAD
            counter[0] += 1
        elif isinstance(value, tuple) and value and isinstance(value[0], str) and _takes(record, name, (PAYLOAD,)):
            changed[name] = (PAYLOAD,) * len(value)
            counter[0] += len(value)
    return record.model_copy(update=changed)


# Names that lead to other records or rules; a payload there is a loose end, which reading refuses.
_REFERENCES = {
    "product", "finish", "floor_finish", "ceiling_finish", "space", "spaces", "things", "decisions", "needs", "finding",
    "findings", "yardstick", "wall", "walls", "controls", "at", "file",
}  # fmt: skip


def _takes(record: Record, name: str, value: Any) -> bool:
    if name in _REFERENCES:
        return False
    try:
        type(record).model_validate({**record.model_dump(), name: value})
    except ValidationError:
        return False
    return True


def without_pictures(project: Project) -> Project:
    """Return a project without its photographs: their files do not move along."""
    script = [
        stop.model_copy(update={"lines": tuple(line.model_copy(update={"photographs": ()}) for line in stop.lines)})
        for stop in project.script
    ]
    return project.with_records(photographs=[], script=script)
