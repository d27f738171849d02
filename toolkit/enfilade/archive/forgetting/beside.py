"""What lies beside a record, without names: the studio's file, what was found, and other files."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import asdict
from functools import cache
from typing import Any, Final, get_args

from enfilade.archive.forgetting.bytes_of_names import encoding_of, hidden_in, stands_in_bytes
from enfilade.project.issues import FOLDER as ISSUED
from enfilade.project.names import Names
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.sources import Known
from enfilade.standards.rows import cautions, rows

__all__ = ["file_without", "findings_without", "gone"]

_IDS: Final = frozenset({"id", "space", "subjects"})
_FACTS: Final = frozenset({"needs", "assumed"})
"""Fields of a finding that name facts: `ID.make_up_air`, or a few words."""
_FIXED: Final = frozenset({"rule", "level", "because", "unit", "how", "verdict"})
"""Fields of a finding that hold ids, or words of a fixed list."""
_OF_RULES: Final = frozenset({"title", "caution", "document", "body", "edition", "section", "known", "label"})
"""Fields of a finding whose text the rules themselves give, by which projects are compared: a Ms Landing who is
forgotten must not take the landings along."""
_CLOSED: Final = (b"PK\x03\x04", b"%PDF", b"\x1f\x8b", b"7z\xbc\xaf", b"Rar!", b"BZh", b"\xfd7zXZ", b"\xd0\xcf\x11\xe0")
"""How files begin in which text is packed and cannot be looked through (the formats' own descriptions; recalled)."""


def gone(path: str) -> bool:
    """Tell whether a file goes as a whole: photographs, and what was told to somebody."""
    return path.split("/", 1)[0] in (PHOTOS, ISSUED)


def findings_without(data: bytes, names: Names) -> bytes | None:
    """Return findings, as a version keeps them, without names; None when they cannot be read."""
    try:
        plain = json.loads(data)
    except (ValueError, RecursionError):
        return None
    if not isinstance(plain, list):
        return None
    lines = [json.dumps(_without(one, names, ""), ensure_ascii=False) for one in plain]
    return ("[\n" + ",\n".join(lines) + "\n]\n").encode()


def _without(value: Any, names: Names, field: str) -> Any:
    if isinstance(value, dict):
        return {key: value[key] if key in _FIXED else _without(value[key], names, key) for key in value}
    if isinstance(value, list):
        return [_without(one, names, field) for one in value]
    if isinstance(value, str):
        if field in _OF_RULES and _is_of_rules(value):
            return value
        if field in _FACTS and " " not in value:
            # No id holds such a sign as the names of fields do, and these stay.
            return re.sub(r"[^./]+", lambda step: step[0] if "_" in step[0] else names.out_of_ids(step[0]), value)
        return names.out_of_ids(value) if field in _IDS else names.out_of(value)
    return value


def _is_of_rules(text: str) -> bool:
    """Tell whether a text is one of the toolkit's own rules', or several of its cautions."""
    if text in _texts_of_rules():
        return True
    for caution in cautions().values():
        text = text.replace(caution, "")
    return not text.strip()


@cache
def _texts_of_rules() -> frozenset[str]:
    """Return what findings say in the words of the toolkit's own rules."""
    found = {"House rules", *get_args(Known)}
    for row in rows():
        found |= {row.title, row.name, f"House rule (stricter than {row.source.label})"}
        found |= {str(words) for words in asdict(row.source).values()}
    return frozenset(found)


def file_without(path: str, data: bytes, names: Names) -> bytes | None:
    """Return another file of a version without names; None when it must go, since names cannot be taken out of it.

    A text stays with other words in their place; a picture or a font in which a name stands goes, and so does whatever
    packs its text.
    """
    if names.out_of_text(path) != path:
        return None
    if data.startswith(_CLOSED):
        return None
    encoding = encoding_of(data)
    if encoding is None:
        return None if stands_in_bytes(data, names.telling) else data
    text = data.decode(encoding)
    told = names.out_of_text(text)
    if hidden_in(told, names) or (path.endswith(".toml") and _names_in_toml(told, names)):
        return None
    return data if told == text else told.encode(encoding, "replace")


def _names_in_toml(text: str, names: Names) -> bool:
    """Tell whether a table cannot be read any more, or holds a name that is written with escapes."""
    try:
        plain = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError):
        return True
    return any(names.out_of_text(one) != one for one in _strings(plain))


def _strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from _strings(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _strings(inner)
