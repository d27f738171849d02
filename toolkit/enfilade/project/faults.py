"""What pydantic refuses, told as faults: the place by record id, what stands there, and what was expected."""

from __future__ import annotations

from typing import Any, Final

from pydantic import ValidationError

from enfilade.errors import Fault

__all__ = ["faults_of", "readable"]

_SHOWN: Final = 100
_BRANCH_OF_NONE: Final = "literal['none']"


def faults_of(error: ValidationError, plain: Any) -> list[Fault]:
    """Return the faults that a validation found in `plain`, the first hundred at most."""
    details = error.errors(include_url=False)[:_SHOWN]
    return [_fault(plain, dict(detail)) for detail in details if not _is_echo(detail["loc"], detail.get("input"))]


def _is_echo(loc: tuple[int | str, ...], value: Any) -> bool:
    """Tell whether a fault says only that a record is not the word `none`, which stands beside its real faults."""
    return bool(loc) and loc[-1] == _BRANCH_OF_NONE and isinstance(value, dict | list | tuple)


def readable(text: str, longest: int = 60) -> str:
    """Return a text that a terminal shows as it is, on one line and cut short."""
    shown = "".join(sign if sign.isprintable() else repr(sign)[1:-1] for sign in text[: longest + 1])
    return shown if len(shown) <= longest else shown[: longest - 3] + "..."


def _fault(plain: Any, detail: dict[str, Any]) -> Fault:
    what, _, expected = str(detail["msg"]).partition("; expected ")
    value = detail.get("input")
    if not expected:
        what, expected = _words(detail, what)
    if isinstance(value, str | int | float | bool) and detail["type"] != "extra_forbidden":
        what = f"{readable(repr(value[:80] if isinstance(value, str) else value))}: {what}"
    return Fault(_place(plain, detail["loc"], missing=detail["type"] == "missing"), what, expected)


def _words(detail: dict[str, Any], what: str) -> tuple[str, str]:
    kind = detail["type"]
    if kind == "missing":
        return "is missing", "this field"
    if kind == "extra_forbidden":
        return "is not a field that this record has", "a field named in the schema (`enfilade schema`)"
    if kind == "string_unicode":
        return "holds half a surrogate pair", "signs that a document can carry"
    if kind == "string_pattern_mismatch":
        return "does not read as it should", str(detail.get("ctx", {}).get("pattern", ""))
    if kind == "union_tag_invalid":
        return "is no such kind", str(detail["ctx"]["expected_tags"])
    if kind == "union_tag_not_found":
        return f"does not say its {str(detail['ctx']['discriminator']).strip(chr(39))}", "that field"
    if kind in ("model_type", "model_attributes_type"):
        return "is no record", "an object with its fields"
    if what.startswith("Input should be "):
        return "does not fit", what.removeprefix("Input should be ")
    return what[:1].lower() + what[1:], ""


def _place(plain: Any, loc: tuple[int | str, ...], *, missing: bool) -> str:
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
