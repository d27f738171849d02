"""Bytes to plain data to records, refusing what cannot be read with the place where it stands."""

from __future__ import annotations

import json
import re
from typing import Any, Final

from pydantic import ValidationError

from enfilade.errors import BadRecord, Fault
from enfilade.project.migrations import migrated
from enfilade.project.project import Project

__all__ = ["parsed", "project_from"]

DEEPEST: Final = 40
_SHOWN_FAULTS: Final = 100
_BRACKETS_OUTSIDE_TEXT: Final = re.compile(r'"[^"\\]*(?:\\.[^"\\]*)*"|[\[\]{}]', re.DOTALL)


def project_from(data: bytes, file: str) -> Project:
    """Return the project that the bytes of a `project.json` hold.

    Raises:
        BadRecord: It is no such file; each fault names its record and field.
    """
    plain = migrated(parsed(data, file), file)
    try:
        project = Project.model_validate(plain)
    except ValidationError as error:
        faults = [_fault(plain, dict(detail)) for detail in error.errors(include_url=False)[:_SHOWN_FAULTS]]
        raise BadRecord(file, faults) from error
    return project.verified(file)


def parsed(data: bytes, file: str) -> dict[str, Any]:
    """Return the JSON object in `data`.

    Raises:
        BadRecord: Not UTF-8, not JSON, nested too deep, a repeated key, NaN or Infinity, or no object.
    """
    text = _decoded(data, file)
    _refuse_depth(text, file)
    try:
        plain = json.loads(text, object_pairs_hook=_once, parse_constant=_no_constant, parse_int=_whole)
    except json.JSONDecodeError as error:
        place = f"line {error.lineno} column {error.colno}"
        raise BadRecord(file, [Fault(place, error.msg[:1].lower() + error.msg[1:], "JSON")]) from error
    except _Odd as error:
        raise BadRecord(file, [Fault(str(error.args[0]), str(error.args[1]), str(error.args[2]))]) from error
    if not isinstance(plain, dict):
        raise BadRecord(file, [Fault("top", f"a {type(plain).__name__} stands there", "an object with the project's keys")])
    return plain


def _decoded(data: bytes, file: str) -> str:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadRecord(file, [Fault(f"byte {error.start}", "is not UTF-8", "a file saved as UTF-8")]) from error
    if not text.strip():
        raise BadRecord(file, [Fault("top", "the file is empty", "an object with the project's keys")])
    return text


def _refuse_depth(text: str, file: str) -> None:
    """Refuse brackets nested too deep before the parser recurses into them."""
    depth = 0
    for match in _BRACKETS_OUTSIDE_TEXT.finditer(text):
        sign = match.group()
        if sign in "[{":
            depth += 1
            if depth > DEEPEST:
                place = f"line {text.count(chr(10), 0, match.start()) + 1}"
                raise BadRecord(file, [Fault(place, f"brackets nest over {DEEPEST} deep", f"at most {DEEPEST}")])
        elif sign in "]}":
            depth -= 1


class _Odd(Exception):
    """Something that JSON allows, or Python's reader does, and a project file does not."""


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    plain = dict(pairs)
    if len(plain) != len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        where = plain.get("id")
        raise _Odd(f"record {where!r}" if isinstance(where, str) else "object", f"key {twice!r} stands twice", "each key once")
    return plain


def _no_constant(name: str) -> float:
    raise _Odd("number", f"{name} stands where a number is expected", "a finite number")


def _whole(digits: str) -> int:
    if len(digits) > 18:
        raise _Odd("number", f"{digits[:12]}... has {len(digits)} digits", "a number of at most 18 digits")
    return int(digits)


def _fault(plain: Any, detail: dict[str, Any]) -> Fault:
    """Turn pydantic's detail into a place by record id and a sentence of what was expected."""
    what, _, expected = str(detail["msg"]).partition("; expected ")
    value = detail.get("input")
    if not expected:
        what, expected = _words(detail, what)
    if isinstance(value, str | int | float | bool) and detail["type"] != "extra_forbidden":
        shown = repr(value)
        what = f"{shown if len(shown) <= 60 else shown[:57] + '...'}: {what}"
    return Fault(_place(plain, detail["loc"]), what, expected)


def _words(detail: dict[str, Any], what: str) -> tuple[str, str]:
    kind = detail["type"]
    if kind == "missing":
        return "is missing", "this field"
    if kind == "extra_forbidden":
        return "is not a field that this record has", "a field named in the schema (`enfilade schema`)"
    if kind == "string_pattern_mismatch":
        return "does not read as it should", str(detail.get("ctx", {}).get("pattern", ""))
    if kind == "union_tag_invalid":
        return "is no such kind", str(detail["ctx"]["expected_tags"])
    if kind == "union_tag_not_found":
        return f"does not say its {str(detail['ctx']['discriminator']).strip(chr(39))}", "that field"
    if what.startswith("Input should be "):
        return "does not fit", what.removeprefix("Input should be ")
    return what[:1].lower() + what[1:], ""


def _place(plain: Any, loc: tuple[int | str, ...]) -> str:
    parts: list[str] = []
    here = plain
    for step in loc:
        if isinstance(here, list) and isinstance(step, int) and step < len(here):
            here = here[step]
            name = here.get("id") if isinstance(here, dict) else None
            parts.append(name if isinstance(name, str) and len(name) <= 64 else str(step))
        elif isinstance(here, dict) and step in here:
            here = here[step]
            parts.append(str(step)[:64])
        elif step == loc[-1] and isinstance(step, str) and isinstance(here, dict):
            parts.append(step[:64])  # a missing field; other steps name the branch of a union
    return "/".join(parts) or "top"
