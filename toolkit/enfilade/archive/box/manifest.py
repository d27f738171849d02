"""The list of what a box holds: written as plain JSON, read strictly, with the place of each fault."""

from __future__ import annotations

import datetime as dt
import json
from typing import Annotated, Any, Final, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from enfilade.archive.box.layout import FORMAT, MANIFEST
from enfilade.archive.paths import fault_in, twins
from enfilade.archive.versions import Version, moment_words
from enfilade.errors import BadRecord, Fault
from enfilade.project.readable import readable
from enfilade.project.reading import parsed
from enfilade.project.store import FILE

__all__ = ["BoxProject", "BoxVersion", "Manifest", "manifest_bytes", "manifest_from", "version_of"]

_SHOWN: Final = 50
_WORDS: Final = {
    "missing": "is missing",
    "extra_forbidden": "is nothing that a manifest has",
    "string_unicode": "holds half a surrogate pair",
    "string_pattern_mismatch": "does not read as it should",
    "too_short": "is empty",
}


class _Part(BaseModel):
    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)


class BoxProject(_Part):
    """Whose versions they are; `holds` is `released` for a copy for students."""

    id: Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9-]{0,63}$")]
    name: str
    holds: Literal["all", "released"]


class BoxVersion(_Part):
    """A version, with the member of the box that holds each of its paths."""

    number: Annotated[int, Field(ge=1, le=9999)]
    on: Annotated[str, Field(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$")]
    who: str
    why: str
    format: Annotated[int, Field(ge=1, le=10**6)]
    yardstick: str
    house_rules: str
    seal: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    files: Annotated[dict[str, str], Field(min_length=1)]


class Manifest(_Part):
    """What a box holds."""

    box: int
    made_by: str
    project: BoxProject
    versions: Annotated[list[BoxVersion], Field(min_length=1)]


def version_of(entry: BoxVersion, project: str) -> Version:
    """Return an entry as the version that it tells of."""
    return Version(
        project, entry.number, dt.datetime.fromisoformat(entry.on), entry.who, entry.why, entry.format,
        entry.yardstick, entry.house_rules, bytes.fromhex(entry.seal),
    )  # fmt: skip


def manifest_bytes(manifest: Manifest) -> bytes:
    """Return the manifest as a file, for people to read too."""
    return (json.dumps(manifest.model_dump(), ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


def manifest_from(data: bytes, box: str) -> Manifest:
    """Read a manifest.

    Args:
        data: The file.
        box: What to call the box in an error.
    Raises:
        BadRecord: It is no manifest, is of a newer format, or what it says does not fit together.
    """
    try:
        plain = parsed(data, MANIFEST)
    except BadRecord as error:
        raise BadRecord(box, [_at(fault.place, fault.what, fault.expected) for fault in error.faults]) from error
    _refuse_format(plain, box)
    try:
        manifest = Manifest.model_validate(plain)
    except ValidationError as error:
        details = error.errors(include_url=False)[:_SHOWN]
        raise BadRecord(box, [_fault(detail) for detail in details]) from error
    if faults := [*_faults_of(manifest)]:
        raise BadRecord(box, faults[:_SHOWN])
    return manifest


def _refuse_format(plain: dict[str, Any], box: str) -> None:
    number = plain.get("box")
    if type(number) is not int or number < 1:
        raise BadRecord(box, [_at("box", "this is no project box: it bears no format", f'`"box": {FORMAT}`')])
    if number > FORMAT:
        what = f"format {number} is newer than this version reads"
        raise BadRecord(box, [_at("box", what, f"at most {FORMAT}; update enfilade")])


def _fault(detail: Any) -> Fault:
    steps = list(detail["loc"])
    if steps[:1] == ["versions"] and len(steps) > 1 and isinstance(steps[1], int):
        steps[1] += 1  # Versions are counted from 1.
    place = "/".join(readable(str(step)) for step in steps if step != "[key]")
    message = str(detail["msg"])
    what = _WORDS.get(detail["type"], message[:1].lower() + message[1:])
    expected = str(detail.get("ctx", {}).get("pattern", "")) if detail["type"] == "string_pattern_mismatch" else ""
    return _at(place, what, expected)


def _faults_of(manifest: Manifest) -> list[Fault]:
    fault = _fault_in_text(manifest.project.name)
    faults = [_at("project/name", fault, "plain text")] if fault else []
    for index, entry in enumerate(manifest.versions):
        place = f"versions/{index + 1}"
        if entry.number != index + 1:
            faults.append(_at(f"{place}/number", f"{entry.number} stands there", f"{index + 1}, without a gap"))
        if not _is_moment(entry.on):
            faults.append(_at(f"{place}/on", f"{entry.on!r} is no moment", "such as 2026-03-24T10:42:00Z"))
        if FILE not in entry.files:
            faults.append(_at(f"{place}/files", f"{FILE} is missing", "the record of the version"))
        faults += [
            _at(f"{place}/{field}", fault, "plain text")
            for field in ("who", "why", "yardstick", "house_rules")
            if (fault := _fault_in_text(getattr(entry, field)))
        ]
        faults += [
            _at(f"{place}/files", f"the path {readable(repr(path), 200)}: {fault}", "a plain path")
            for path in entry.files
            if (fault := fault_in(path))
        ]
        if (pair := twins(entry.files)) is not None:
            shown = " and ".join(readable(repr(path), 200) for path in pair)
            faults.append(_at(f"{place}/files", f"{shown} are one file on some machines", "names of their own"))
    return faults


def _fault_in_text(text: str) -> str:
    if "\x00" in text:
        return "a zero byte stands in it, which the seal has between its words"
    return "holds half a surrogate pair" if any("\ud800" <= sign <= "\udfff" for sign in text) else ""


def _is_moment(text: str) -> bool:
    try:
        return moment_words(dt.datetime.fromisoformat(text)) == text
    except ValueError:
        return False


def _at(place: str, what: str, expected: str = "") -> Fault:
    return Fault(f"{MANIFEST}/{place}", what, expected)
