"""A project whose every free text tries to be something else than text."""

from __future__ import annotations

from functools import cache
from typing import Any

from pydantic import ValidationError

from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = [
    "COMPUTED", "EVERYTHING", "FORMULAS", "MARKER", "PAYLOAD", "SINGLE", "with_hostile_text", "with_text",
    "without_pictures",
]  # fmt: skip

MARKER = "zzhostile"
PAYLOAD = (
    f"{MARKER}</title></style></script><script>window.hacked=1</script><img src=x onerror='window.hacked=2'>"
    "<svg onload=window.hacked=3>{{7*7}}{% raw %}&lt;&#60;]]>--><!--\"'`$(x)\u202e"
)

EVERYTHING = (
    f"{MARKER}</title></script><script>window.hacked=1</script><img src=x onerror='window.hacked=2'>"
    "{{7*7}}{% raw %}"
    '#eval("1+1") #read("/etc/passwd") \\input{/etc/passwd} $x^2$ *b* _i_ `c` =HYPERLINK("http://a.invalid") @SUM(1) '
    "+cmd|'/C calc'!A0 ]]>--><!-- &lt;&#60; \"q' 100%s \\n\tT\nN \u202eR\u202c\u2066I\u2069 \u200bZ\u200d \U0001f600 "
    "\u6f22\u5b57 \u05e9\u05dc\u05d5\u05dd {a} %d"
)
"""Everything at once, short enough for any text."""

COMPUTED = tuple(f"{start}{MARKER}" for start in (
    '=HYPERLINK("http://a.invalid","x")&', "=1+1+", "@SUM(1)", "+cmd|'/C calc'!A0", "-2+3+cmd|' /C calc'!A0", "\t=1+1",
    "\r=1+1", "\n=1+1", " =1+1", "\uff1d1+1", "'=1+1", "=DDE(", "{=1+1}",
))  # fmt: skip
"""What a program of tables might work out."""

FORMULAS = ("=1+1", '=HYPERLINK("http://x.example","y")', "+1", "-1", "@SUM(A1)", "\t=1", " =1", "'=1", "\uff1d1")
"""Short ones, as they might be typed by mistake."""

SINGLE = (
    *COMPUTED,
    EVERYTHING, f"{MARKER} --> {MARKER}", f"1\n00:00:01,000 --> 00:00:02,000\n{MARKER}",
    f"NOTE {MARKER}\n\nSTYLE",
    f"{MARKER}\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:{MARKER}", f"{MARKER};{MARKER},{MARKER}\\;", f'"{MARKER}""\n"',
    "\u202e" + MARKER, "\u200b" * 40 + MARKER, MARKER * 44, " " * 300 + MARKER, "\u05d0" * 100 + MARKER,
    "\U0001f469\u200d\U0001f373" * 30 + MARKER,
    f"{{width of {MARKER}}} {{}} {{{{}}}} {{", "e" + "\u0301" * 200 + MARKER,
    f"\u2028{MARKER}\u2029{MARKER}\x85{MARKER}\xa0\xad", MARKER,
)  # fmt: skip
"""What is put into one field at a time."""


def with_text(project: Project, text: str, *, long: str = "", only: str = "") -> tuple[Project, int]:
    """Return a copy with a text in every field that takes free text, and how many fields that are.

    Args:
        project: Its fields that hold nothing are filled too.
        text: Cut to what the field holds.
        long: Instead, in fields that hold more than a few hundred signs.
        only: The name of the one field to put it into.
    """
    counter = [0]
    return Project.model_validate(_with_text(project, text, long or text, only, counter).model_dump()), counter[0]


def _with_text(record: Record, text: str, long: str, only: str, counter: list[int]) -> Record:
    changed: dict[str, Any] = {}
    for name in type(record).model_fields:
        value = getattr(record, name)
        if isinstance(value, Record):
            changed[name] = _with_text(value, text, long, only, counter)
        elif isinstance(value, tuple) and value and isinstance(value[0], Record):
            changed[name] = tuple(_with_text(item, text, long, only, counter) for item in value)
        elif (most := _holds(type(record), name)) and (not only or name == only):
            counter[0] += 1
            put = (long if most > 400 else text)[:most]
            changed[name] = (put,) if isinstance(value, tuple) else put
    return record.model_copy(update=changed)


@cache
def _holds(record: type[Record], name: str) -> int:
    """Return how many signs of free text a field holds; 0 when it holds none."""
    if name in _REFERENCES:
        return 0
    schema = record.model_json_schema()["properties"][name]
    inner = schema.get("items", schema)
    if inner.get("type") != "string" or {"enum", "const", "pattern", "format", "minLength"} & inner.keys():
        return 0
    return int(inner.get("maxLength", 0))


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
