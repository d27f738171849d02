"""Bytes to plain data to records, refusing what cannot be read with the place where it stands."""

from __future__ import annotations

import json
from typing import Any, Final

from pydantic import ValidationError

from enfilade.errors import BadRecord, Fault
from enfilade.project.faults import faults_of
from enfilade.project.json_faults import OUTSIDE_TEXT, json_fault
from enfilade.project.migrations import migrated
from enfilade.project.project import Project
from enfilade.project.readable import readable

__all__ = ["parsed", "project_from"]

DEEPEST: Final = 40
MOST_VALUES: Final = 500_000
_FEWEST_SIGNS: Final = 8
"""A larger file may hold more, where each value takes so many signs: a record of a house takes some 16 (measured on the
demo house), and a file of nothing but brackets 2 (own choice)."""
"""So many values a project may hold: a large house has some ten thousand, and each that is wrong costs a kilobyte."""


def project_from(data: bytes, file: str) -> Project:
    """Return the project that the bytes of a `project.json` hold.

    Raises:
        BadRecord: It is no such file; each fault names its record and field.
    """
    plain = migrated(parsed(data, file), file)
    try:
        project = Project.model_validate(plain)
    except ValidationError as error:
        raise BadRecord(file, faults_of(error, plain, Project)) from error
    return project.verified(file)


def parsed(data: bytes, file: str) -> dict[str, Any]:
    """Return the JSON object in `data`.

    Raises:
        BadRecord: Not UTF-8, not JSON, nested too deep, too many values, a repeated key, NaN or Infinity, or no object.
    """
    text = _decoded(data, file)
    _refuse_depth(text, file)
    try:
        plain = json.loads(text, object_pairs_hook=_once, parse_constant=_no_constant, parse_int=_whole)
    except json.JSONDecodeError as error:
        raise BadRecord(file, [json_fault(text, error)]) from error
    except _Odd as error:
        raise BadRecord(file, [Fault(str(error.args[0]), str(error.args[1]), str(error.args[2]))]) from error
    if not isinstance(plain, dict):
        what = f"a {type(plain).__name__} stands there"
        raise BadRecord(file, [Fault("top", what, "an object with the project's keys")])
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
    """Refuse brackets nested too deep before the parser recurses into them, and more values than fit into memory."""
    depth = opened = 0
    most = max(MOST_VALUES, len(text) // _FEWEST_SIGNS)
    if text.count(",") > most:
        raise _too_many(file, most)
    for match in OUTSIDE_TEXT.finditer(text):
        sign = match.group()
        if sign in "[{":
            depth += 1
            opened += 1
            if opened > most:
                raise _too_many(file, most)
            if depth > DEEPEST:
                place = f"line {text.count(chr(10), 0, match.start()) + 1}"
                raise BadRecord(file, [Fault(place, f"brackets nest over {DEEPEST} deep", f"at most {DEEPEST}")])
        elif sign in "]}":
            depth -= 1


def _too_many(file: str, most: int) -> BadRecord:
    return BadRecord(file, [Fault("top", f"the file holds over {most} values", "the record of one house")])


class _Odd(Exception):  # noqa: N818 - it never leaves this module
    """Something that JSON allows, or Python's reader does, and a project file does not."""


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    plain = dict(pairs)
    if len(plain) != len(pairs):
        seen: set[str] = set()
        twice = next(key for key, _ in pairs if key in seen or seen.add(key))  # type: ignore[func-returns-value]
        where = plain.get("id")
        place = f"record {readable(where)!r}" if isinstance(where, str) else "object"
        raise _Odd(f"{place}/{readable(twice)}", "key stands twice", "each key once")
    return plain


def _no_constant(name: str) -> float:
    raise _Odd("number", f"{name} stands where a number is expected", "a finite number")


def _whole(digits: str) -> int:
    if len(digits) > 18:
        raise _Odd("number", f"{digits[:12]}... has {len(digits)} digits", "a number of at most 18 digits")
    return int(digits)
