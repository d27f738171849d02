"""What pydantic refuses, told as faults: the place by record id, what stands there, and what was expected."""

from __future__ import annotations

import difflib
import json
from typing import Any, Final, get_args

from pydantic import ValidationError

from enfilade.errors import Fault
from enfilade.project.fields import Record
from enfilade.project.kinds_meant import kinds_meant
from enfilade.project.readable import readable
from enfilade.project.shapes import called, records_of, required, shapes_at

__all__ = ["PATTERNS", "faults_of"]

PATTERNS: Final = {
    r"^[a-z0-9][a-z0-9-]{0,63}$": "small letters, digits and hyphens, at most 64, such as `sink-1`",
    r"^[0-9a-f]{64}\.(png|jpg|webp)$": "the SHA-256 of the picture (64 signs of 0-9 and a-f), then .png, .jpg or "
    ".webp; `keep_photograph` of enfilade.project.photos puts a picture there and returns it",
    r"^#[0-9a-f]{6}$": "`#` and six signs of 0-9 and a-f (red, green, blue), such as `#b08850`",
}
"""Patterns of the records' fields, in words."""

_SHOWN: Final = 100
_BRANCH_OF_NONE: Final = "literal['none']"
_ALL_LISTED: Final = 12
_NEAREST: Final = 5
_SCHEMA: Final = "`enfilade schema`"

_Loc = tuple[int | str, ...]
_Detail = dict[str, Any]


def faults_of(error: ValidationError, plain: Any, model: type[Record]) -> list[Fault]:
    """Return the faults that a validation found in `plain`, the first hundred at most.

    Args:
        error: What the validation raised.
        plain: The data that was validated.
        model: The record that it was validated as.
    """
    details: list[_Detail] = [dict(detail) for detail in error.errors(include_url=False)[:_SHOWN]]
    # A value that is neither what a field takes nor the word `none` has one fault, and not one for each.
    real = [detail["loc"] for detail in details if detail["loc"][-1:] != (_BRANCH_OF_NONE,)]
    echoes = {detail["loc"][:-1] for detail in details if detail["loc"][-1:] == (_BRANCH_OF_NONE,)}
    merged = {above for above in echoes if any(loc[: len(above)] == above for loc in real)}
    return [
        _fault(plain, detail, model, or_none=detail["loc"][:-1] in merged)
        for detail in details
        if detail["loc"][-1:] != (_BRANCH_OF_NONE,) or detail["loc"][:-1] not in merged
    ]


def _fault(plain: Any, detail: _Detail, model: type[Record], *, or_none: bool) -> Fault:
    kind, value = detail["type"], detail.get("input")
    what, _, expected = str(detail["msg"]).partition("; expected ")
    if not expected:
        what, expected = _words(detail, what, model)
    if or_none and expected:
        expected += ", or `none`"
    # A length's own message begins with what was typed.
    if isinstance(value, str | int | float | bool) and kind not in ("extra_forbidden", "length"):
        what = f"{readable(repr(value[:80] if isinstance(value, str) else value))}: {what}"
    return Fault(_place(plain, detail["loc"], missing=kind == "missing"), what, expected)


def _words(detail: _Detail, what: str, model: type[Record]) -> tuple[str, str]:
    kind, loc = detail["type"], detail["loc"]
    if kind == "missing":
        return "is missing", "this field"
    if kind == "extra_forbidden":
        return _unknown_field(str(loc[-1]), records_of(shapes_at(model, loc[:-1])))
    if kind == "string_unicode":
        return "holds half a surrogate pair", "signs that a document can carry"
    if kind == "string_pattern_mismatch":
        pattern = str(detail.get("ctx", {}).get("pattern", ""))
        return "does not read as it should", PATTERNS.get(pattern, pattern)
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        return _wrong_tag(detail)
    if kind in ("model_type", "model_attributes_type"):
        return "is no record", _a_record(records_of(shapes_at(model, loc)))
    if kind == "tuple_type":
        return "is no list", _a_list(shapes_at(model, loc), shapes_at(model, (*loc, 0)), detail.get("input"))
    if what.startswith("Input should be "):
        return "does not fit", what.removeprefix("Input should be ")
    return what[:1].lower() + what[1:], ""


def _unknown_field(name: str, records: list[type[Record]]) -> tuple[str, str]:
    """Say which fields a record has, and which of them was probably meant."""
    if len(records) != 1:
        return "is not a field that this record has", f"a field named in the schema ({_SCHEMA})"
    fields = list(records[0].model_fields)
    what = f"is not a field of {called(records[0])}"
    plain = name[:60].lower()
    likely = [field for field in fields if plain and field.rpartition("_")[0] == plain]  # `width` for `width_mm`
    likely += difflib.get_close_matches(plain, fields, n=1, cutoff=0.6)
    if likely:
        what += f"; did you mean `{likely[0]}`?"
    if len(fields) <= _ALL_LISTED:
        return f"{what}{'' if likely else ';'} {'It' if likely else 'it'} has {', '.join(fields)}", ""
    near = difflib.get_close_matches(plain, fields, n=_NEAREST, cutoff=0.0)
    few = f"the nearest of its {len(fields)} fields are {', '.join(near)} ({_SCHEMA} lists them all)"
    return f"{what} {few[:1].upper()}{few[1:]}" if likely else f"{what}; {few}", ""


def _wrong_tag(detail: _Detail) -> tuple[str, str]:
    """Say which words tell the records of a union apart, and which of them was probably meant."""
    context = detail["ctx"]
    tag = str(context["discriminator"]).strip("'")
    if detail["type"] == "union_tag_not_found":
        such = ', such as "base cabinet"' if tag == "kind" else ': "free", "wall" or "set in"'
        return f"does not say its {tag}", f"the field `{tag}`{such} ({_SCHEMA})"
    word = str(context["tag"])
    what = f"{readable(repr(word[:80]))} is no such {tag}"
    if tag == "kind" and (meant := kinds_meant(word)):
        return what, f"`{'` or `'.join(meant)}`, or another of the kinds in {_SCHEMA}"
    return what, str(context["expected_tags"])


def _a_record(records: list[type[Record]]) -> str:
    if not records:
        return "an object with its fields"
    fields = list(records[0].model_fields)
    if len(records) == 1 and len(fields) <= _ALL_LISTED:
        return f"an object in {{ }} with its fields: {', '.join(fields)}"
    must = required(records)
    if not must:
        return f"an object in {{ }} with its fields, which {_SCHEMA} lists"
    return f"an object in {{ }} with at least {', '.join(must)} ({_SCHEMA} lists all its fields)"


def _a_list(shapes: tuple[Any, ...], entries: tuple[Any, ...], value: Any) -> str:
    """Say what the list would look like, with the value that stands in its place when it may be an entry."""
    fixed = next((args for shape in shapes if (args := get_args(shape)) and args[-1] is not Ellipsis), None)
    if fixed is not None:
        return f"a list of {len(fixed)}, such as [{', '.join('0' for _ in fixed)}]"
    if records := records_of(entries):
        return f'a list of records, such as [{{"{next(iter(records[0].model_fields))}": ...}}]'
    if isinstance(value, str) and 0 < len(value) <= 40 and value.isprintable():
        return f"a list, such as [{json.dumps(value, ensure_ascii=False)}]"
    return "a list, such as [0]" if float in entries else 'a list, such as ["..."]'


def _place(plain: Any, loc: _Loc, *, missing: bool) -> str:
    """Return `list/record id/field`; steps of `loc` that name a branch of a union stand nowhere in the data."""
    parts: list[str] = []
    here, tag = plain, None
    for i, step in enumerate(loc):
        if isinstance(here, list | tuple) and isinstance(step, int) and step < len(here):
            here = here[step]
            name = here.get("id") if isinstance(here, dict) else None
            parts.append(readable(name) if isinstance(name, str) and name else str(step))
            tag = here.get("kind") if isinstance(here, dict) and i == 1 and loc[0] == "things" else None
        elif tag is not None and step == tag:
            tag = None  # The branch that the record's kind chose; a field of the same name would come after it.
        elif isinstance(here, dict) and step in here:
            here = here[step]
            parts.append(readable(str(step)))
            tag = here.get("how") if isinstance(here, dict) else None
        elif missing and i == len(loc) - 1:
            parts.append(readable(str(step)))
    return "/".join(parts) or "top"
